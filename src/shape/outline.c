/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "shape/outline.h"

#include <string.h>

#include "base/parallel.h"
#include "base/tolerances.h"
#include "shape/raster.h"

#define MAX_PIECES 4096 /* of one edge */

/* Lines of one chunk of triangles, visible and hidden, in the order found. */
typedef struct {
  double *points;
  uint32_t n, room;
} Found;

typedef struct {
  LwMesh *mesh;
  LwMat3 place;
  LwVec3 at;
  double least_cosine; /* of the turn at an edge that is not sharp */
  LwVec3 *points;      /* in the viewer's frame */
  float *normals;      /* unit, 3 a triangle */
  uint8_t *facing;
  LwRaster *raster;
  Found *found; /* [2 × chunk]: visible, [2 × chunk + 1]: hidden */
} Outline;

void
lw_lines_clear (LwLines *lines)
{
  g_clear_pointer (&lines->points, g_free);
  lines->n_lines = 0;
}

static void
place_points (size_t chunk, size_t begin, size_t end, void *data)
{
  Outline *work = data;
  const float *points = lw_mesh_get_points (work->mesh);
  double unit = lw_mesh_get_unit_mm (work->mesh);

  for (size_t i = begin; i < end; i++) {
    LwVec3 p = lw_mesh_point_at (points, unit, (uint32_t)i);

    work->points[i] = lw_vec3_add (lw_mat3_apply (work->place, p), work->at);
  }
}

static void
judge_facets (size_t chunk, size_t begin, size_t end, void *data)
{
  Outline *work = data;
  const uint32_t *triangles = lw_mesh_get_triangles (work->mesh);

  for (size_t t = begin; t < end; t++) {
    const uint32_t *numbers = triangles + 3 * t;
    LwVec3 a = work->points[numbers[0]];
    LwVec3 n = lw_vec3_unit (lw_vec3_cross (lw_vec3_sub (work->points[numbers[1]], a),
                                            lw_vec3_sub (work->points[numbers[2]], a)));

    work->normals[3 * t] = (float)n.x;
    work->normals[3 * t + 1] = (float)n.y;
    work->normals[3 * t + 2] = (float)n.z;
    work->facing[t] = n.z > LW_EDGE_ON;
  }
}

/* ------------------------------------------------------------------------------------------------
 * Edges. */

static void
add_line (Found *found, LwVec3 a, LwVec3 b)
{
  double *at;

  if (found->n == found->room) {
    found->room = found->room ? 2 * found->room : 64;
    found->points = g_renew (double, found->points, 4 * (size_t)found->room);
  }
  at = found->points + 4 * (size_t)found->n++;
  at[0] = a.x;
  at[1] = a.y;
  at[2] = b.x;
  at[3] = b.y;
}

static LwVec3
between (LwVec3 a, LwVec3 b, int i, int n)
{
  /* The ends themselves, bit by bit: lines are chained by them. */
  return i == 0 ? a : i == n ? b : lw_vec3_add_scaled (a, lw_vec3_sub (b, a), (double)i / n);
}

/* Cuts an edge into pieces of a pixel and joins those that are alike. */
static void
add_edge (Outline *work, Found *found, uint32_t from, uint32_t to)
{
  LwVec3 a = work->points[from], b = work->points[to], along = lw_vec3_sub (b, a);
  double pixels = fmax (fabs (along.x), fabs (along.y)) * work->raster->per_mm;
  int n = (int)fmax (1, fmin (MAX_PIECES, ceil (pixels))), start = 0;
  bool hidden = false;

  if (a.x == b.x && a.y == b.y)
    return;
  for (int i = 0; i <= n; i++) {
    LwVec3 middle = lw_vec3_add_scaled (a, along, (i + 0.5) / n);
    bool next = i < n ? lw_raster_hides (work->raster, middle) : !hidden;

    if (i > 0 && next != hidden) {
      add_line (&found[hidden], between (a, b, start, n), between (a, b, i, n));
      start = i;
    }
    hidden = next;
  }
}

static bool
is_drawn (const Outline *work, size_t triangle, uint32_t other)
{
  const float *a = work->normals + 3 * triangle, *b = work->normals + 3 * (size_t)other;

  if (other == LW_NO_TRIANGLE)
    return true;
  if (other < triangle)
    return false; /* its turn has been */
  if (work->facing[triangle] != work->facing[other])
    return true;
  return work->facing[triangle]
         && (double)a[0] * b[0] + (double)a[1] * b[1] + (double)a[2] * b[2] < work->least_cosine;
}

static void
find_edges (size_t chunk, size_t begin, size_t end, void *data)
{
  Outline *work = data;
  const uint32_t *triangles = lw_mesh_get_triangles (work->mesh);
  const uint32_t *neighbors = lw_mesh_get_neighbors (work->mesh);

  for (size_t t = begin; t < end; t++) {
    const uint32_t *numbers = triangles + 3 * t;

    for (int i = 0; i < 3; i++) {
      if (is_drawn (work, t, neighbors[3 * t + (size_t)i]))
        add_edge (work, work->found + 2 * chunk, numbers[i], numbers[i == 2 ? 0 : i + 1]);
    }
  }
}

static void
join (const Found *found, size_t n_chunks, LwLines *lines)
{
  size_t n = 0;

  for (size_t i = 0; i < n_chunks; i++)
    n += found[2 * i].n;
  *lines = (LwLines){ g_new (double, MAX (4 * n, 1)), 0 };
  for (size_t i = 0; i < n_chunks; i++) {
    if (found[2 * i].n > 0)
      memcpy (lines->points + 4 * (size_t)lines->n_lines, found[2 * i].points,
              4 * sizeof (double) * found[2 * i].n);
    lines->n_lines += found[2 * i].n;
  }
}

/* ------------------------------------------------------------------------------------------------
 */

/* What faces away can't hide anything of a closed body that what faces the viewer does not. */
static void
draw_raster (Outline *work)
{
  const LwMeshFacts *facts = lw_mesh_get_facts (work->mesh);
  bool facing_only = facts->closed && !facts->inward;

  work->raster = lw_raster_new (work->mesh, work->points, facing_only ? work->facing : NULL);
  lw_raster_erode (work->raster);
}

void
lw_outline_compute (LwMesh *mesh, LwMat3 place, LwVec3 at, double crease_rad, LwLines *visible,
                    LwLines *hidden)
{
  size_t n_points = lw_mesh_get_n_points (mesh), n = lw_mesh_get_n_triangles (mesh);
  size_t n_chunks = n / LW_CHUNK + 1;
  Outline work = { .mesh = mesh,
                   .place = place,
                   .at = at,
                   .least_cosine = cos (crease_rad),
                   .points = g_new (LwVec3, n_points),
                   .normals = g_new (float, 3 * n),
                   .facing = g_new (uint8_t, n),
                   .found = g_new0 (Found, 2 * n_chunks) };

  lw_parallel_for (n_points, LW_CHUNK, place_points, &work, NULL);
  lw_parallel_for (n, LW_CHUNK, judge_facets, &work, NULL);
  draw_raster (&work);
  lw_parallel_for (n, LW_CHUNK, find_edges, &work, NULL);
  join (work.found, n_chunks, visible);
  if (hidden)
    join (work.found + 1, n_chunks, hidden);
  for (size_t i = 0; i < 2 * n_chunks; i++)
    g_free (work.found[i].points);
  g_free (work.found);
  lw_raster_free (work.raster);
  g_free (work.facing);
  g_free (work.normals);
  g_free (work.points);
}
