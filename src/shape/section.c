/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <string.h>

#include "base/parallel.h"
#include "shape/edges.h"
#include "shape/outline.h"

/* Points on the plane count as above it: then every triangle that is cut is cut by exactly two
 * edges, one that runs down through the plane and one that runs up. With outward facets, going from
 * the first to the second keeps the material on the left, seen against the normal; the neighbor
 * over the second has that edge as its first. */

typedef struct {
  LwMesh *mesh;
  LwMat3 place;
  LwVec3 at, normal, right, up;
  double d;
  double *heights; /* of the points above the plane */
  uint8_t *cut;    /* triangles still to be walked */
  double *lines;
  uint32_t n, room;
} Section;

static LwVec3
point_in_frame (const Section *work, uint32_t point)
{
  LwVec3 p =
      lw_mesh_point_at (lw_mesh_get_points (work->mesh), lw_mesh_get_unit_mm (work->mesh), point);

  return lw_vec3_add (lw_mat3_apply (work->place, p), work->at);
}

static void
measure_heights (size_t chunk, size_t begin, size_t end, void *data)
{
  Section *work = data;

  for (size_t i = begin; i < end; i++)
    work->heights[i] = lw_vec3_dot (work->normal, point_in_frame (work, (uint32_t)i)) - work->d;
}

static void
mark_cut (size_t chunk, size_t begin, size_t end, void *data)
{
  Section *work = data;
  const uint32_t *triangles = lw_mesh_get_triangles (work->mesh);

  for (size_t t = begin; t < end; t++) {
    const uint32_t *numbers = triangles + 3 * t;
    int above = (work->heights[numbers[0]] >= 0) + (work->heights[numbers[1]] >= 0)
                + (work->heights[numbers[2]] >= 0);

    work->cut[t] = above == 1 || above == 2;
  }
}

/* The half-edge of a cut triangle that runs down (or up) through the plane. */
static uint32_t
crossing_edge (const Section *work, uint32_t triangle, bool down)
{
  const uint32_t *triangles = lw_mesh_get_triangles (work->mesh);

  for (uint32_t edge = 3 * triangle; edge < 3 * triangle + 3; edge++) {
    bool from = work->heights[triangles[edge]] >= 0;
    bool to = work->heights[triangles[lw_edge_end (edge)]] >= 0;

    if (from == down && to == !down)
      return edge;
  }
  g_assert_not_reached ();
}

/* Always from the lower point number, so that both triangles of the edge get the same bits. */
static void
crossing_point (const Section *work, uint32_t edge, double out[2])
{
  const uint32_t *triangles = lw_mesh_get_triangles (work->mesh);
  uint32_t a = triangles[edge], b = triangles[lw_edge_end (edge)];
  uint32_t low = MIN (a, b), high = MAX (a, b);
  double share = work->heights[low] / (work->heights[low] - work->heights[high]);
  LwVec3 from = point_in_frame (work, low);
  LwVec3 p = lw_vec3_add_scaled (from, lw_vec3_sub (point_in_frame (work, high), from), share);

  out[0] = lw_vec3_dot (work->right, p);
  out[1] = lw_vec3_dot (work->up, p);
}

static void
add_line (Section *work, const double from[2], const double to[2])
{
  if (from[0] == to[0] && from[1] == to[1])
    return;
  if (work->n == work->room) {
    work->room = work->room ? 2 * work->room : 256;
    work->lines = g_renew (double, work->lines, 4 * (size_t)work->room);
  }
  memcpy (work->lines + 4 * (size_t)work->n, from, 2 * sizeof (double));
  memcpy (work->lines + 4 * (size_t)work->n + 2, to, 2 * sizeof (double));
  work->n++;
}

static void
walk (Section *work, uint32_t triangle)
{
  const uint32_t *neighbors = lw_mesh_get_neighbors (work->mesh);
  double from[2], to[2];

  crossing_point (work, crossing_edge (work, triangle, true), from);
  while (triangle != LW_NO_TRIANGLE && work->cut[triangle]) {
    uint32_t edge = crossing_edge (work, triangle, false);

    work->cut[triangle] = 0;
    crossing_point (work, edge, to);
    add_line (work, from, to);
    memcpy (from, to, sizeof from);
    triangle = neighbors[edge];
  }
}

/* Open chains from their beginnings, then what is left: loops. */
static void
walk_all (Section *work)
{
  const uint32_t *neighbors = lw_mesh_get_neighbors (work->mesh);
  uint32_t n = lw_mesh_get_n_triangles (work->mesh);

  if (!lw_mesh_get_facts (work->mesh)->closed || lw_mesh_get_facts (work->mesh)->many_sided > 0) {
    for (uint32_t t = 0; t < n; t++) {
      if (work->cut[t] && neighbors[crossing_edge (work, t, true)] == LW_NO_TRIANGLE)
        walk (work, t);
    }
  }
  for (uint32_t t = 0; t < n; t++) {
    if (work->cut[t])
      walk (work, t);
  }
}

void
lw_section_compute (LwMesh *mesh, LwMat3 place, LwVec3 at, LwVec3 normal, double d, LwVec3 right,
                    LwVec3 up, LwLines *lines)
{
  size_t n_points = lw_mesh_get_n_points (mesh), n = lw_mesh_get_n_triangles (mesh);
  Section work = { .mesh = mesh,
                   .place = place,
                   .at = at,
                   .normal = normal,
                   .right = right,
                   .up = up,
                   .d = d,
                   .heights = g_new (double, n_points),
                   .cut = g_new (uint8_t, n) };

  lw_parallel_for (n_points, LW_CHUNK, measure_heights, &work, NULL);
  lw_parallel_for (n, LW_CHUNK, mark_cut, &work, NULL);
  walk_all (&work);
  *lines = (LwLines){ work.lines, work.n };
  g_free (work.heights);
  g_free (work.cut);
}
