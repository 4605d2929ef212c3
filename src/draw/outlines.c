/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/outlines.h"

#include <string.h>

/* How far a line may be moved by leaving out points, px; scales within a factor of √2 share. */
#define SIMPLIFY_PX 0.2
#define MAX_ENTRIES 24
/* Edges between facing facets that are sharper than this are drawn. */
#define CREASE_DEG 25

typedef enum {
  KIND_OUTLINE,
  KIND_SECTION,
  KIND_PATCH,
} Kind;

/* One picture of one mesh: paths as computed and as simplified for a scale. */
typedef struct {
  Kind kind;
  LwMesh *mesh;                /* reference */
  LwOperationVerdict *verdict; /* reference, patches only */
  LwMat3 turn;
  LwSeen seen;
  double value; /* section: y; patch: below */
  double scale; /* the paths in `drawn` are good for; 0: none yet */
  guint64 used;
  LwPath full[3], drawn[3];
  LwOutline outline;
  LwPatch patch;
} Entry;

struct _LwOutlines {
  GPtrArray *entries;
  guint64 clock;
};

static void
entry_free (gpointer data)
{
  Entry *entry = data;

  for (int i = 0; i < 3; i++) {
    lw_path_clear (&entry->full[i]);
    lw_path_clear (&entry->drawn[i]);
  }
  lw_mesh_unref (entry->mesh);
  if (entry->verdict != NULL)
    lw_operation_verdict_unref (entry->verdict);
  g_free (entry);
}

LwOutlines *
lw_outlines_new (void)
{
  LwOutlines *outlines = g_new0 (LwOutlines, 1);

  outlines->entries = g_ptr_array_new_with_free_func (entry_free);
  return outlines;
}

void
lw_outlines_free (LwOutlines *outlines)
{
  if (outlines == NULL)
    return;
  g_ptr_array_unref (outlines->entries);
  g_free (outlines);
}

/* The placed frame's axes turned so that the picture's are x and y and the viewer looks down −z. */
static LwMat3
get_view_turn (LwMat3 turn, LwSeen seen)
{
  LwMat3 front = { { 1, 0, 0 }, { 0, 0, -1 }, { 0, 1, 0 } };

  return seen == LW_SEEN_FROM_ABOVE ? turn : lw_mat3_multiply (front, turn);
}

static void
compute_outline (Entry *entry)
{
  LwLines visible = { 0 }, hidden = { 0 };
  LwPatch all = { 0 };

  lw_patch_compute (entry->mesh, entry->turn, entry->seen, NULL, 0, &all);
  entry->full[0] = all.face;
  lw_path_clear (&all.rim);
  lw_outline_compute (entry->mesh, get_view_turn (entry->turn, entry->seen), lw_vec3 (0, 0, 0),
                      lw_radians (CREASE_DEG), &visible, &hidden);
  entry->full[1] = lw_path_chain_lines (&visible);
  entry->full[2] = lw_path_chain_lines (&hidden);
  lw_lines_clear (&visible);
  lw_lines_clear (&hidden);
}

static void
compute_section (Entry *entry)
{
  LwLines lines = { 0 };

  lw_section_compute (entry->mesh, entry->turn, lw_vec3 (0, 0, 0), lw_vec3 (0, 1, 0), entry->value,
                      lw_vec3 (1, 0, 0), lw_vec3 (0, 0, 1), &lines);
  entry->full[0] = lw_path_chain_lines (&lines);
  entry->full[0].closed = lw_mesh_get_facts (entry->mesh)->closed;
  lw_lines_clear (&lines);
}

static void
compute_patch (Entry *entry)
{
  const LwOperationVerdict *verdict = entry->verdict;
  uint32_t *triangles = g_new (uint32_t, MAX (1, verdict->n_items)), n = 0;
  LwPatch patch = { 0 };

  for (uint32_t i = 0; i < verdict->n_items; i++)
    if (!(verdict->items[i].slack >= entry->value))
      triangles[n++] = verdict->triangles[i];
  lw_patch_compute (entry->mesh, entry->turn, entry->seen, triangles, n, &patch);
  entry->full[0] = patch.face;
  entry->full[1] = patch.rim;
  g_free (triangles);
}

static void
simplify (Entry *entry, double scale)
{
  if (entry->scale > 0 && scale <= entry->scale && scale >= 0.5 * entry->scale)
    return;
  entry->scale = scale * G_SQRT2;
  for (int i = 0; i < 3; i++) {
    lw_path_clear (&entry->drawn[i]);
    entry->drawn[i] = lw_path_simplify (&entry->full[i], SIMPLIFY_PX / entry->scale);
  }
  entry->outline = (LwOutline){ entry->drawn[0], entry->drawn[1], entry->drawn[2] };
  entry->patch = (LwPatch){ entry->drawn[0], entry->drawn[1] };
}

static void
drop_oldest (LwOutlines *outlines)
{
  guint oldest = 0;

  for (guint i = 1; i < outlines->entries->len; i++) {
    const Entry *a = outlines->entries->pdata[i], *b = outlines->entries->pdata[oldest];

    if (a->used < b->used)
      oldest = i;
  }
  g_ptr_array_remove_index_fast (outlines->entries, oldest);
}

static Entry *
get_entry (LwOutlines *outlines, const Entry *key, double scale)
{
  Entry *entry;

  for (guint i = 0; i < outlines->entries->len; i++) {
    entry = outlines->entries->pdata[i];
    if (entry->kind == key->kind && entry->mesh == key->mesh && entry->verdict == key->verdict
        && entry->seen == key->seen && entry->value == key->value
        && memcmp (&entry->turn, &key->turn, sizeof key->turn) == 0) {
      entry->used = ++outlines->clock;
      simplify (entry, scale);
      return entry;
    }
  }
  if (outlines->entries->len >= MAX_ENTRIES)
    drop_oldest (outlines);
  entry = g_new (Entry, 1);
  *entry = *key;
  lw_mesh_ref (entry->mesh);
  if (entry->verdict != NULL)
    lw_operation_verdict_ref (entry->verdict);
  entry->used = ++outlines->clock;
  g_ptr_array_add (outlines->entries, entry);
  if (entry->kind == KIND_OUTLINE)
    compute_outline (entry);
  else if (entry->kind == KIND_SECTION)
    compute_section (entry);
  else
    compute_patch (entry);
  simplify (entry, scale);
  return entry;
}

const LwOutline *
lw_outlines_get (LwOutlines *outlines, LwMesh *mesh, LwMat3 turn, LwSeen seen, double scale)
{
  Entry key = { .kind = KIND_OUTLINE, .mesh = mesh, .turn = turn, .seen = seen };

  return &get_entry (outlines, &key, scale)->outline;
}

const LwPath *
lw_outlines_get_section (LwOutlines *outlines, LwMesh *mesh, LwMat3 turn, double y, double scale)
{
  Entry key = {
    .kind = KIND_SECTION, .mesh = mesh, .turn = turn, .seen = LW_SEEN_FROM_FRONT, .value = y
  };

  return &get_entry (outlines, &key, scale)->drawn[0];
}

const LwPatch *
lw_outlines_get_patch (LwOutlines *outlines, LwOperationVerdict *verdict, LwMesh *mesh, LwMat3 turn,
                       LwSeen seen, double below, double scale)
{
  Entry key = {
    .kind = KIND_PATCH, .mesh = mesh, .verdict = verdict, .turn = turn, .seen = seen, .value = below
  };

  return &get_entry (outlines, &key, scale)->patch;
}
