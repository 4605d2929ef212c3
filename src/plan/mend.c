/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/parallel.h"
#include "base/tolerances.h"
#include "plan/judge.h"
#include "tool/stretch.h"

/* A mend is found in three steps: a closed form on the attitudes chosen now says about how much is
 * needed; the least tenth of a millimetre (or whole degree) that does is searched by judging anew,
 * all attitudes open; and what is offered is the edit of the job, read and judged again in full. */

#define STEP_MM       0.1
#define LEAN_STEP_DEG 1
#define LEAN_MOST_DEG 60

typedef struct {
  const LwJob *job;
  LwOperationVerdict *verdict;
  LwJudge judge;
  LwProgress *progress;
  GArray *mends; /* LwMend */
} Search;

static bool
keeps (Search *search)
{
  bool answer;

  lw_judge_keeps_reserves (&search->judge, &answer, search->progress);
  return answer;
}

/* Whether another operation that took its travel before no longer does on the mended job. */
static char *
find_broken (Search *search, const LwJob *mended)
{
  for (int i = 0; i < mended->n_setups; i++)
    for (int k = 0; k < mended->setups[i].n_operations; k++) {
      g_autofree char *before = lw_verdict_dup_key (search->job, i, k);
      g_autofree char *after = lw_verdict_dup_key (mended, i, k);
      LwOperationVerdict *old, *new;
      bool broken;

      if ((i == search->verdict->setup && k == search->verdict->operation)
          || strcmp (before, after) == 0)
        continue;
      old = lw_verdict_judge (search->job, i, k, search->progress);
      new = lw_verdict_judge (mended, i, k, search->progress);
      broken = old != NULL && new != NULL &&new->verdict == LW_VERDICT_DOES_NOT_FIT
               && old->verdict != LW_VERDICT_DOES_NOT_FIT;
      lw_operation_verdict_unref (old);
      lw_operation_verdict_unref (new);
      if (broken)
        return g_strdup (mended->setups[i].operations[k].name);
    }
  return NULL;
}

static bool
is_better (const LwOperationVerdict *mended, const LwOperationVerdict *present)
{
  return mended->takes_attitudes
         && (mended->n_unreachable < present->n_unreachable
             || mended->leeway.travel > present->leeway.travel + STEP_MM / 2);
}

/* Judges the operation again on the edited job; keeps the mend when it mends, or betters, it. Takes
 * the mend's path and edit. */
static void
offer (Search *search, LwMend mend)
{
  const LwOperationVerdict *present = search->verdict;
  g_autoptr (LwJob) mended = lw_job_with (search->job, mend.path, json_node_ref (mend.edit), NULL);
  LwOperationVerdict *judged = NULL;

  if (mended != NULL)
    judged = lw_verdict_judge (mended, present->setup, present->operation, search->progress);
  if (judged != NULL && judged->judged
      && (judged->within_reserves || is_better (judged, present))) {
    mend.enough = judged->within_reserves;
    mend.remains = judged->leeway;
    mend.breaks = find_broken (search, mended);
    g_array_append_val (search->mends, mend);
  } else {
    lw_mend_clear (&mend);
  }
  lw_operation_verdict_unref (judged);
}

/* ------------------------------------------------------------------------------------------------
 * Moving the part: with the attitudes as they are, the moves that keep every stroke in travel with
 * its reserve are an axis-aligned box. */

/* The move nearest 0 in [low, high], to whole steps outward where they fit. */
static double
get_least_move (double low, double high)
{
  double move = low > 0 ? low : high < 0 ? high : 0;
  double steps = move > 0 ? ceil (move / STEP_MM - 1e-6) : floor (move / STEP_MM + 1e-6);
  double rounded = steps * STEP_MM;

  return rounded >= low - LW_INSIDE_TOL && rounded <= high + LW_INSIDE_TOL ? rounded : move;
}

static void
set_move (Search *search, LwVec3 by)
{
  search->judge.shift = by;
}

/* Brings one axis of a move that keeps the reserves to the fewest steps that still do. */
static void
shorten_move (Search *search, LwVec3 *by, int axis)
{
  double full = lw_vec3_get (*by, axis);
  double sign = full < 0 ? -1 : 1;
  long none = 0, enough = lround (fabs (full) / STEP_MM);

  if (fabs (fabs (full) - (double)enough * STEP_MM) > 1e-6)
    return;
  while (enough - none > 1) {
    long middle = (none + enough) / 2;
    LwVec3 tried = *by;

    lw_vec3_set (&tried, axis, sign * (double)middle * STEP_MM);
    set_move (search, tried);
    if (keeps (search))
      enough = middle;
    else
      none = middle;
  }
  lw_vec3_set (by, axis, sign * (double)enough * STEP_MM);
}

static void
offer_move (Search *search, LwMendKind kind, LwVec3 by)
{
  const LwPlaced *placed = search->judge.placed;
  const LwOperation *operation = search->judge.operation;
  LwVec3 at = lw_vec3_add (placed->at, by);

  at = lw_vec3 (lw_round (at.x, 4, LW_ROUND_NEAREST), lw_round (at.y, 4, LW_ROUND_NEAREST),
                lw_round (at.z, 4, LW_ROUND_NEAREST));
  offer (search, (LwMend){ .kind = kind,
                           .by = by,
                           .path = g_strdup_printf ("setups[%d].placed[%d].at_mm",
                                                    search->verdict->setup, operation->placed),
                           .edit = lw_json_new_vec3 (at) });
}

static void
find_move (Search *search, const LwJudgement *judgement)
{
  LwBox3 room = lw_judge_get_moves (&search->judge, search->judge.travel, judgement->pivots);
  LwVec3 by = { 0, 0, 0 };

  if (room.low.x <= room.high.x)
    by.x = get_least_move (room.low.x, room.high.x);
  if (room.low.y <= room.high.y)
    by.y = get_least_move (room.low.y, room.high.y);
  if (by.x == 0 && by.y == 0)
    return;

  set_move (search, by);
  if (keeps (search)) {
    for (int axis = 0; axis < 2; axis++)
      if (lw_vec3_get (by, axis) != 0)
        shorten_move (search, &by, axis);
  }
  set_move (search, lw_vec3 (0, 0, 0));
  offer_move (search, LW_MEND_MOVE, by);
}

/* Z is not free: it comes from the riser heights that exist. The nearest one that does is offered.
 */
static void
find_riser (Search *search)
{
  const LwSetup *setup = &search->job->setups[search->verdict->setup];
  double bottom = lw_placed_get_box (search->job, search->judge.placed).low.z, best = INFINITY;

  for (int i = 0; i < setup->n_riser_heights; i++) {
    double by = setup->riser_heights[i] - bottom;

    if (fabs (by) < STEP_MM || fabs (by) >= fabs (best))
      continue;
    set_move (search, lw_vec3 (0, 0, by));
    if (keeps (search))
      best = by;
  }
  set_move (search, lw_vec3 (0, 0, 0));
  if (isfinite (best))
    offer_move (search, LW_MEND_RISER, lw_vec3 (0, 0, best));
}

/* ------------------------------------------------------------------------------------------------
 * Tip length: the pivot moves along the tool axis by as much as the tool grows, so each stroke
 * gives an interval per axis (DESIGN: tip lengths for travel). */

typedef struct {
  double low, high; /* change of the tip length, mm */
} Room;

typedef struct {
  const Search *search;
  Room *chunks;
} RoomRun;

static void
narrow_room (const Search *search, uint32_t item, Room *room)
{
  const LwTravel *travel = search->judge.machine->travel;
  double keep = search->job->reserves.travel + search->judge.placed->tolerance;
  LwVec3 contacts[3];
  int n;
  LwChoice choice = lw_judge_choose (&search->judge, item, contacts, &n);
  LwBox3 pivots;

  if (choice.candidate < 0)
    return;
  pivots = lw_judge_get_pivots (&search->judge, &choice, contacts, n);
  for (int axis = 0; axis < 3; axis++) {
    double u = lw_vec3_get (choice.axis, axis);
    double down = travel[axis].low + keep - lw_vec3_get (pivots.low, axis);
    double up = travel[axis].high - keep - lw_vec3_get (pivots.high, axis);

    if (fabs (u) < LW_STRAIGHT_DOWN)
      continue;
    room->low = fmax (room->low, fmin (down / u, up / u));
    room->high = fmin (room->high, fmax (down / u, up / u));
  }
}

static void
narrow_chunk (size_t chunk, size_t begin, size_t end, void *data)
{
  RoomRun *run = data;
  Room room = { -INFINITY, INFINITY };

  for (uint32_t i = (uint32_t)begin; i < end; i++)
    narrow_room (run->search, i, &room);
  run->chunks[chunk] = room;
}

static Room
get_room_to_grow (Search *search)
{
  size_t n = (search->judge.n_items + LW_CHUNK - 1) / LW_CHUNK;
  g_autofree Room *chunks = g_new0 (Room, MAX (n, 1));
  RoomRun run = { search, chunks };
  Room room = { -INFINITY, INFINITY };

  if (!lw_parallel_for (search->judge.n_items, LW_CHUNK, narrow_chunk, &run, search->progress))
    return (Room){ INFINITY, -INFINITY };
  for (size_t i = 0; i < n; i++) {
    room.low = fmax (room.low, chunks[i].low);
    room.high = fmin (room.high, chunks[i].high);
  }
  return room;
}

static bool
keeps_with_length (Search *search, double length)
{
  double present = search->judge.tip_length;
  bool answer;

  search->judge.tip_length = length;
  answer = keeps (search);
  search->judge.tip_length = present;
  return answer;
}

/* Of lengths on the tenth of a millimetre between the present one and one that keeps the reserves,
 * the nearest to the present that does. */
static double
get_nearest_length (Search *search, double enough)
{
  double present = search->judge.tip_length;
  double sign = enough < present ? -1 : 1;
  long none = lround (sign * present / STEP_MM), does = lround (sign * enough / STEP_MM);

  while (does - none > 1) {
    long middle = (none + does) / 2;

    if (keeps_with_length (search, sign * (double)middle * STEP_MM))
      does = middle;
    else
      none = middle;
  }
  return sign * (double)does * STEP_MM;
}

static void
find_length (Search *search)
{
  int index = search->judge.operation->tool;
  const LwTool *tool = &search->job->tools[index];
  Room room = get_room_to_grow (search);
  double present = search->judge.tip_length, length, low, high;
  g_autofree char *path = g_strdup_printf ("tools[%d]", index);
  JsonNode *edit;

  if (room.low > room.high || (room.low <= 0 && room.high >= 0))
    return;
  lw_tool_get_length_range (tool, &low, &high);
  length = room.high < 0 ? lw_round (present + room.high, 1, LW_ROUND_DOWN)
                         : lw_round (present + room.low, 1, LW_ROUND_UP);
  if (length < low || length > high)
    return;
  if (keeps_with_length (search, length))
    length = lw_round (get_nearest_length (search, length), 1, LW_ROUND_NEAREST);

  edit = lw_tool_stretch (tool, lw_json_get (search->job->node, path), length, NULL);
  if (edit != NULL)
    offer (search, (LwMend){ .kind = length < present ? LW_MEND_LENGTH_MAX : LW_MEND_LENGTH_MIN,
                             .value = length,
                             .path = g_steal_pointer (&path),
                             .edit = edit });
}

/* ---------------------------------------------------------------------------------------------- */

static void
find_lean (Search *search)
{
  const LwAttitude *present = &search->judge.operation->attitude;
  LwAttitude tried = *present;
  double from = floor (lw_degrees (present->lean) / LEAN_STEP_DEG + 1e-9) * LEAN_STEP_DEG;

  if (present->rule != LW_RULE_NORMAL && present->rule != LW_RULE_FLANK)
    return;
  for (double lean = from + LEAN_STEP_DEG; lean <= LEAN_MOST_DEG; lean += LEAN_STEP_DEG) {
    bool answer;

    tried.lean = lw_radians (lean);
    lw_candidate_fan_init (&search->judge.fan, &tried);
    answer = keeps (search);
    lw_candidate_fan_init (&search->judge.fan, present);
    if (lw_progress_is_cancelled (search->progress))
      return;
    if (!answer)
      continue;
    offer (search,
           (LwMend){ .kind = LW_MEND_LEAN,
                     .value = tried.lean,
                     .path = g_strdup_printf ("setups[%d].operations[%d].attitude.lean_deg",
                                              search->verdict->setup, search->verdict->operation),
                     .edit = lw_json_new_number (lean) });
    return;
  }
}

bool
lw_verdict_find_mends (const LwJob *job, LwOperationVerdict *verdict, LwProgress *progress)
{
  Search search = { .job = job, .verdict = verdict, .progress = progress };
  LwJudgement judgement;

  if (!verdict->judged || verdict->within_reserves)
    return true;
  search.mends = g_array_new (FALSE, FALSE, sizeof (LwMend));
  if (lw_judge_init (&search.judge, job, verdict->setup, verdict->operation) == NULL
      && lw_judge_run (&search.judge, &judgement, NULL, progress)) {
    if (verdict->takes_attitudes) {
      find_move (&search, &judgement);
      find_riser (&search);
      find_length (&search);
    }
    find_lean (&search);
  }
  lw_judge_clear (&search.judge);
  verdict->n_mends = (int)search.mends->len;
  verdict->mends = (LwMend *)(void *)g_array_free (search.mends, FALSE);
  return !lw_progress_is_cancelled (progress);
}
