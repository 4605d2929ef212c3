/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "plan/track.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/tolerances.h"

/* Largest turn of the axis within one piece. */
#define MOST_TURN (LW_PI / 180)

/* Halvings near the pole, where the heading turns without end: 1° / 2²⁴ is 1e-9 rad. */
#define MOST_HALVINGS 24

typedef enum {
  ITEM_STAND, /* the record's place alone */
  ITEM_DRILL,
  ITEM_HELD, /* the move to the record, one axis */
  ITEM_TURN, /* a place on the move to the record, the axis as it is there */
} ItemKind;

typedef struct LwTrackItem {
  uint32_t record;
  uint32_t kind;
  double at;    /* share of the move from the record before */
  double share; /* of the move's length that the place stands for */
} Item;

typedef struct {
  GArray *items;
  const LwProgram *program;
  const LwHead *head;
  bool plain;
  LwMat3 turn;
} Build;

static void
add (Build *build, guint record, ItemKind kind, double at)
{
  Item item = { record, kind, at, 1 };

  g_array_append_val (build->items, item);
}

/* ------------------------------------------------------------------------------------------------
 * Cutting */

static LwVec3
get_axis_at (const LwProgram *program, guint record, double share)
{
  return lw_vec3_between (program->records[record - 1].axis, program->records[record].axis, share);
}

/* From the C axis to the spindle axis, where the head's offsets bring it. */
static LwVec3
get_offset (const LwHead *head, LwBranch branch)
{
  return lw_head_get_swing (head, -head->pivot_length, branch.c, branch.t);
}

/* Whether the head's offsets bring the pivot no further over a piece, by either branch. */
static bool
turns_little (const Build *build, guint record, double from, double to)
{
  LwBranches a = lw_head_solve (
      build->head, lw_mat3_apply (build->turn, get_axis_at (build->program, record, from)));
  LwBranches b = lw_head_solve (
      build->head, lw_mat3_apply (build->turn, get_axis_at (build->program, record, to)));

  for (int i = 0; i < MIN (a.n, b.n); i++)
    if (lw_vec3_length (lw_vec3_sub (get_offset (build->head, a.branch[i]),
                                     get_offset (build->head, b.branch[i])))
        > LW_TRACK_STRAY)
      return false;
  return true;
}

/* Adds the end of a piece of the move, and places within it while it turns too much. */
static void
add_turning (Build *build, guint record, double from, double to, int halvings)
{
  if (!build->plain && halvings < MOST_HALVINGS && !turns_little (build, record, from, to)) {
    double middle = (from + to) / 2;

    add_turning (build, record, from, middle, halvings + 1);
    add_turning (build, record, middle, to, halvings + 1);
  } else {
    add (build, record, ITEM_TURN, to);
  }
}

/* Each place stands for half of the pieces on either side. */
static void
share_out (Build *build, guint first)
{
  Item *items = (Item *)(void *)build->items->data + first;
  guint n = build->items->len - first;

  for (guint i = 0; i < n; i++)
    items[i].share = (items[MIN (i + 1, n - 1)].at - items[i > 0 ? i - 1 : 0].at) / 2;
}

/* False where there is no one way for the axis to turn. */
static bool
add_move (Build *build, guint record)
{
  double angle = lw_vec3_angle (build->program->records[record - 1].axis,
                                build->program->records[record].axis);
  int n = (int)ceil (angle / MOST_TURN - LW_AXIS_SAME);
  guint first = build->items->len;

  if (angle > LW_PI - LW_AXIS_OPPOSITE)
    return false;
  if (angle <= LW_AXIS_SAME) {
    add (build, record, ITEM_HELD, 1);
    return true;
  }
  add (build, record, ITEM_TURN, 0);
  for (int i = 0; i < n; i++)
    add_turning (build, record, (double)i / n, (double)(i + 1) / n, 0);
  share_out (build, first);
  return true;
}

static bool
has_tool (const LwProgram *program, int tool)
{
  for (guint i = 0; i < program->n_tools; i++)
    if (program->tools[i].number == tool)
      return true;
  return program->n_tools == 0;
}

/* Without its full stop, to stand within another sentence; new string. */
static char *
dup_clause (const char *sentence)
{
  char *clause = g_strdup (sentence);

  if (g_str_has_suffix (clause, "."))
    clause[strlen (clause) - 1] = '\0';
  return clause;
}

static char *
build_items (Build *build, int tool)
{
  const LwProgram *program = build->program;

  for (guint i = 0; i < program->n_records; i++) {
    const LwProgramRecord *record = &program->records[i];
    bool comes = i > 0 && record->kind != LW_RECORD_FROM && record[-1].tool == record->tool;

    if (record->tool >= 0 && record->tool != tool)
      continue;
    if (!comes)
      add (build, i, ITEM_STAND, 1);
    else if (!add_move (build, i))
      return g_strdup_printf (
          _ ("line %d of the program: the tool axis turns half round, and which "
             "way is not said"),
          record->line);
    if (record->kind == LW_RECORD_DRILL)
      add (build, i, ITEM_DRILL, 1);
    if (build->items->len > LW_TRACK_MOST_ITEMS)
      return g_strdup (_ ("the program is too long to be judged"));
  }
  return build->items->len > 0 ? NULL : g_strdup (_ ("the program has no motion with this tool"));
}

char *
lw_track_init (LwTrack *track, const LwProgram *program, int tool, const LwHead *head, LwMat3 turn)
{
  Build build = { NULL, program, head, lw_head_is_plain (head), turn };
  char *reason;

  *track = (LwTrack){ .program = program };
  if (program->lost != NULL) {
    g_autofree char *clause = dup_clause (program->lost);

    return g_strdup_printf (_ ("the program's path is not known. %s"), clause);
  }
  if (!has_tool (program, tool))
    return g_strdup_printf (_ ("the program does not load tool %d"), tool);
  build.items = g_array_new (FALSE, FALSE, sizeof (Item));
  reason = build_items (&build, tool);
  track->n_items = reason == NULL ? build.items->len : 0;
  track->items = (Item *)(void *)g_array_free (build.items, FALSE);
  return reason;
}

char *
lw_track_dup_open (const LwTrack *track)
{
  g_autofree char *clause = NULL;

  if (track->program == NULL || track->program->open == NULL)
    return NULL;
  clause = dup_clause (track->program->open);
  return g_strdup_printf (_ ("not all of the program is followed (%s)"), clause);
}

void
lw_track_clear (LwTrack *track)
{
  g_clear_pointer (&track->items, g_free);
  *track = (LwTrack){ 0 };
}

/* ------------------------------------------------------------------------------------------------
 * Pieces */

static void
set_move (const LwProgram *program, const Item *item, LwTrackPiece *piece)
{
  const LwProgramRecord *before = &program->records[item->record - 1];
  const LwProgramRecord *record = &program->records[item->record];
  LwVec3 begin = lw_program_record_get_stand (before), end = lw_program_record_get_stand (record);
  LwVec3 way = lw_vec3_sub (end, begin);

  piece->weight = lw_vec3_length (way) * item->share;
  if (item->kind == ITEM_TURN) {
    piece->tips[0] = item->at < 1 ? lw_vec3_add_scaled (begin, way, item->at) : end;
    piece->axis = get_axis_at (program, item->record, item->at);
    return;
  }
  piece->n = 2;
  piece->tips[0] = begin;
  piece->tips[1] = end;
  if (before->kind == LW_RECORD_DRILL && record->kind != LW_RECORD_DRILL)
    piece->tips[piece->n++] = before->tip; /* an arc begins at the place, not above it */
}

LwTrackPiece
lw_track_get (const LwTrack *track, uint32_t item)
{
  const Item *of = &track->items[item];
  const LwProgramRecord *record = &track->program->records[of->record];
  LwTrackPiece piece = { .n = 1, .axis = record->axis };

  piece.tips[0] = lw_program_record_get_stand (record);
  if (of->kind == ITEM_DRILL) {
    piece.n = 2;
    piece.tips[1] = lw_vec3_add_scaled (record->tip, record->axis, -record->depth);
    piece.weight = record->clear + record->depth;
  } else if (of->kind != ITEM_STAND) {
    set_move (track->program, of, &piece);
  }
  return piece;
}
