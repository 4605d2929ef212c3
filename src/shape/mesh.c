/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "shape/mesh.h"

#include <pthread.h>

#include "base/pages.h"
#include "shape/edges.h"
#include "shape/measure.h"
#include "shape/tree.h"

struct _LwMesh {
  atomic_int ref_count;
  double unit_mm;
  LwMeshFacts facts;

  float *points;       /* lw_pages */
  uint32_t *triangles; /* lw_pages of 3 × facts.read */
  uint32_t *neighbors; /* lw_pages of 3 × n_triangles */
  uint32_t n_points, n_triangles;
  LwMeshPiece *pieces;
  uint32_t n_pieces;

  pthread_mutex_t lock; /* while the tree is built */
  _Atomic (LwTree *) tree;
};

#define BYTES(n) (3 * sizeof (uint32_t) * (size_t)(n))

static void
pieces_free (LwMeshPiece *pieces, uint32_t n_pieces)
{
  for (uint32_t i = 0; i < n_pieces; i++)
    g_free (pieces[i].name);
  g_free (pieces);
}

/* Pieces count triangles before some were left out; both are in rising order. */
static void
pieces_renumber (LwMeshPiece *pieces, uint32_t n_pieces, const uint8_t *why)
{
  uint32_t at = 0, kept = 0;

  for (uint32_t i = 0; i < n_pieces; i++) {
    uint32_t end = pieces[i].first + pieces[i].count;

    g_assert (pieces[i].first >= at);
    for (; at < pieces[i].first; at++)
      kept += why[at] == LW_KEPT;
    pieces[i].first = kept;
    for (; at < end; at++)
      kept += why[at] == LW_KEPT;
    pieces[i].count = kept - pieces[i].first;
  }
}

/* ------------------------------------------------------------------------------------------------
 * Making. */

static bool
pair_edges (LwMesh *mesh, LwEdgeFacts *edges, LwProgress *progress)
{
  mesh->neighbors = lw_pages_new (BYTES (mesh->n_triangles));
  return lw_edges_pair (mesh->triangles, mesh->n_triangles, mesh->n_points, mesh->neighbors, edges,
                        progress);
}

static bool
leave_out_duplicates (LwMesh *mesh, LwEdgeFacts *edges, LwProgress *progress)
{
  uint8_t *why = lw_pages_new (mesh->n_triangles);
  uint32_t before = mesh->n_triangles;
  bool done = true;

  mesh->facts.duplicates = lw_edges_mark_duplicates (mesh->triangles, before, mesh->n_points, why);
  if (mesh->facts.duplicates > 0) {
    lw_pages_free (mesh->neighbors, BYTES (before));
    mesh->n_triangles = lw_weld_compact (mesh->triangles, why, before);
    pieces_renumber (mesh->pieces, mesh->n_pieces, why);
    done = pair_edges (mesh, edges, progress);
  }
  lw_pages_free (why, before);
  return done;
}

static bool
know_edges (LwMesh *mesh, LwProgress *progress)
{
  LwEdgeFacts edges;

  if (!pair_edges (mesh, &edges, progress))
    return false;
  if (edges.repeated && !leave_out_duplicates (mesh, &edges, NULL))
    return false;
  mesh->facts.open_edges = edges.open;
  mesh->facts.many_sided = edges.many_sided;
  mesh->facts.closed = edges.open == 0 && mesh->n_triangles > 0;
  return true;
}

LwMesh *
lw_mesh_new_from_corners (LwCorners corners, double unit_mm, LwMeshPiece *pieces, uint32_t n_pieces,
                          LwProgress *progress)
{
  LwMesh *mesh = g_new0 (LwMesh, 1);
  LwWeld weld;

  g_assert (unit_mm > 0 && isfinite (unit_mm));
  mesh->ref_count = 1;
  mesh->unit_mm = unit_mm;
  mesh->pieces = pieces;
  mesh->n_pieces = n_pieces;
  pthread_mutex_init (&mesh->lock, NULL);
  mesh->facts.read = corners.n;
  if (!lw_weld (&weld, corners, progress)) {
    mesh->facts.read = 0;
    lw_mesh_unref (mesh);
    return NULL;
  }
  mesh->points = weld.points;
  mesh->n_points = weld.n_points;
  mesh->triangles = weld.triangles;
  mesh->n_triangles = weld.n_triangles;
  mesh->facts.not_finite = weld.not_finite;
  mesh->facts.zero_area = weld.zero_area;
  pieces_renumber (pieces, n_pieces, weld.why);
  lw_pages_free (weld.why, corners.n);
  if (!know_edges (mesh, progress) || !lw_mesh_measure (mesh, &mesh->facts, progress)) {
    lw_mesh_unref (mesh);
    return NULL;
  }
  return mesh;
}

LwMesh *
lw_mesh_new (float *corners, uint32_t n_triangles, double unit_mm, LwMeshPiece *pieces,
             uint32_t n_pieces)
{
  LwCorners lie = { (const char *)corners, 9 * sizeof (float), n_triangles };
  LwMesh *mesh = lw_mesh_new_from_corners (lie, unit_mm, pieces, n_pieces, NULL);

  g_free (corners);
  return mesh;
}

LwMesh *
lw_mesh_new_block (LwVec3 size_mm)
{
  /* Corner i of the block: bit 0 of i is x, bit 1 y, bit 2 z. */
  static const uint8_t faces[12][3] = { { 0, 2, 3 }, { 0, 3, 1 }, { 4, 5, 7 }, { 4, 7, 6 },
                                        { 0, 1, 5 }, { 0, 5, 4 }, { 1, 3, 7 }, { 1, 7, 5 },
                                        { 3, 2, 6 }, { 3, 6, 7 }, { 2, 0, 4 }, { 2, 4, 6 } };
  float *corners = g_new (float, 12 * 9);

  for (int i = 0; i < 36; i++) {
    int corner = faces[i / 3][i % 3];

    for (int axis = 0; axis < 3; axis++)
      corners[3 * i + axis] = corner >> axis & 1 ? (float)lw_vec3_get (size_mm, axis) : 0;
  }
  return lw_mesh_new (corners, 12, 1, NULL, 0);
}

LwMesh *
lw_mesh_ref (LwMesh *mesh)
{
  mesh->ref_count++;
  return mesh;
}

void
lw_mesh_unref (LwMesh *mesh)
{
  if (--mesh->ref_count > 0)
    return;
  lw_tree_free (mesh->tree);
  lw_pages_free (mesh->points, BYTES (mesh->n_points));
  lw_pages_free (mesh->triangles, BYTES (mesh->facts.read));
  lw_pages_free (mesh->neighbors, BYTES (mesh->n_triangles));
  pieces_free (mesh->pieces, mesh->n_pieces);
  pthread_mutex_destroy (&mesh->lock);
  g_free (mesh);
}

/* ------------------------------------------------------------------------------------------------
 * Asking. */

const LwMeshFacts *
lw_mesh_get_facts (const LwMesh *mesh)
{
  return &mesh->facts;
}

uint32_t
lw_mesh_get_n_points (const LwMesh *mesh)
{
  return mesh->n_points;
}

uint32_t
lw_mesh_get_n_triangles (const LwMesh *mesh)
{
  return mesh->n_triangles;
}

double
lw_mesh_get_unit_mm (const LwMesh *mesh)
{
  return mesh->unit_mm;
}

uint32_t
lw_mesh_get_n_pieces (const LwMesh *mesh)
{
  return mesh->n_pieces;
}

const LwMeshPiece *
lw_mesh_get_piece (const LwMesh *mesh, uint32_t piece)
{
  g_assert (piece < mesh->n_pieces);
  return &mesh->pieces[piece];
}

const float *
lw_mesh_get_points (const LwMesh *mesh)
{
  return mesh->points;
}

const uint32_t *
lw_mesh_get_triangles (const LwMesh *mesh)
{
  return mesh->triangles;
}

void
lw_mesh_get_corners (const LwMesh *mesh, uint32_t triangle, LwVec3 corners[3])
{
  const uint32_t *numbers = mesh->triangles + 3 * (size_t)triangle;

  for (int i = 0; i < 3; i++)
    corners[i] = lw_mesh_point_at (mesh->points, mesh->unit_mm, numbers[i]);
}

LwVec3
lw_mesh_get_normal (const LwMesh *mesh, uint32_t triangle, double *area)
{
  LwVec3 n = lw_mesh_get_file_normal (mesh, triangle);
  double length = lw_vec3_length (n);

  if (area)
    *area = length / 2 * mesh->unit_mm * mesh->unit_mm;
  return lw_vec3_scale (n, 1 / length);
}

const uint32_t *
lw_mesh_get_neighbors (LwMesh *mesh)
{
  return mesh->neighbors;
}

const LwTree *
lw_mesh_get_tree (LwMesh *mesh)
{
  LwTree *tree = mesh->tree;

  if (tree)
    return tree;
  pthread_mutex_lock (&mesh->lock);
  if (!mesh->tree)
    mesh->tree = lw_tree_new (mesh);
  tree = mesh->tree;
  pthread_mutex_unlock (&mesh->lock);
  return tree;
}
