/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "shape/patch.h"

/* Squared distance from p to a triangle. Source: C. Ericson, Real-Time Collision Detection (2005),
 * 5.1.5: the Voronoi region of the projection decides between face, edges and corners. */
static double
get_distance2 (LwVec3 p, const LwVec3 corners[3])
{
  LwVec3 ab = lw_vec3_sub (corners[1], corners[0]), ac = lw_vec3_sub (corners[2], corners[0]);
  LwVec3 normal = lw_vec3_cross (ab, ac);
  double best = INFINITY;
  bool inside = true;

  for (int i = 0; i < 3; i++) {
    LwVec3 a = corners[i], edge = lw_vec3_sub (corners[(i + 1) % 3], a);
    LwVec3 to_p = lw_vec3_sub (p, a);
    double share = lw_vec3_dot (to_p, edge) / lw_vec3_dot (edge, edge);
    LwVec3 off = lw_vec3_add_scaled (to_p, edge, -fmax (0, fmin (1, share)));

    best = fmin (best, lw_vec3_dot (off, off));
    inside = inside && lw_vec3_dot (lw_vec3_cross (edge, to_p), normal) >= 0;
  }
  if (inside) {
    double height = lw_vec3_dot (lw_vec3_sub (p, corners[0]), normal);

    return height * height / lw_vec3_dot (normal, normal);
  }
  return best;
}

static uint32_t
find_nearest (const LwMesh *mesh, LwVec3 seed)
{
  uint32_t nearest = 0;
  double best = INFINITY;

  for (uint32_t t = 0; t < lw_mesh_get_n_triangles (mesh); t++) {
    LwVec3 corners[3];
    double distance2;

    lw_mesh_get_corners (mesh, t, corners);
    distance2 = get_distance2 (seed, corners);
    if (distance2 < best) {
      best = distance2;
      nearest = t;
    }
  }
  return nearest;
}

void
lw_patch_grow (LwMesh *mesh, LwVec3 seed_mm, double crease_rad, bool *in_patch)
{
  uint32_t n = lw_mesh_get_n_triangles (mesh), n_open = 0;
  const uint32_t *neighbors = lw_mesh_get_neighbors (mesh);
  double least_cos = cos (crease_rad);
  uint32_t *open;

  if (n == 0)
    return;
  open = g_new (uint32_t, n);
  open[n_open++] = find_nearest (mesh, seed_mm);
  in_patch[open[0]] = true;
  while (n_open > 0) {
    uint32_t from = open[--n_open];
    LwVec3 normal = lw_mesh_get_normal (mesh, from, NULL);

    for (int i = 0; i < 3; i++) {
      uint32_t to = neighbors[3 * (size_t)from + (size_t)i];

      if (to == LW_NO_TRIANGLE || in_patch[to]
          || lw_vec3_dot (normal, lw_mesh_get_normal (mesh, to, NULL)) < least_cos)
        continue;
      in_patch[to] = true;
      open[n_open++] = to;
    }
  }
  g_free (open);
}
