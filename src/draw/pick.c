/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/pick.h"

/* A line of sight in a part's frame, and the frame at right angles to it. */
typedef struct {
  LwVec3 from, along, right, up;
} Sight;

static Sight
get_sight (const LwPlaced *placed, LwSeen seen, LwVec3 table_point)
{
  LwVec3 along = seen == LW_SEEN_FROM_ABOVE ? lw_vec3 (0, 0, -1) : lw_vec3 (0, 1, 0);
  LwVec3 up = seen == LW_SEEN_FROM_ABOVE ? lw_vec3 (0, 1, 0) : lw_vec3 (0, 0, 1);

  return (Sight){ lw_placed_to_part (placed, table_point),
                  lw_mat3_apply_transposed (placed->turn, along),
                  lw_mat3_apply_transposed (placed->turn, lw_vec3 (1, 0, 0)),
                  lw_mat3_apply_transposed (placed->turn, up) };
}

/* How far along the sight a triangle is met, from the sight's start; false beside it. */
static bool
meet (const Sight *sight, const LwVec3 corners[3], double *depth)
{
  double x[3], y[3], w[3], sum;

  for (int i = 0; i < 3; i++) {
    LwVec3 d = lw_vec3_sub (corners[i], sight->from);

    x[i] = lw_vec3_dot (d, sight->right);
    y[i] = lw_vec3_dot (d, sight->up);
  }
  if (fmin (x[0], fmin (x[1], x[2])) > 0 || fmax (x[0], fmax (x[1], x[2])) < 0
      || fmin (y[0], fmin (y[1], y[2])) > 0 || fmax (y[0], fmax (y[1], y[2])) < 0)
    return false;
  for (int i = 0; i < 3; i++) {
    int j = (i + 1) % 3, k = (i + 2) % 3;

    w[i] = x[j] * y[k] - x[k] * y[j];
  }
  sum = w[0] + w[1] + w[2];
  if (sum == 0 || w[0] * sum < 0 || w[1] * sum < 0 || w[2] * sum < 0)
    return false;
  *depth = 0;
  for (int i = 0; i < 3; i++)
    *depth += w[i] / sum * lw_vec3_dot (lw_vec3_sub (corners[i], sight->from), sight->along);
  return true;
}

static void
look_at (LwMesh *mesh, const LwPlaced *placed, int index, const Sight *sight, double *nearest,
         LwPick *pick)
{
  uint32_t n = lw_mesh_get_n_triangles (mesh);

  for (uint32_t t = 0; t < n; t++) {
    LwVec3 corners[3];
    double depth;

    lw_mesh_get_corners (mesh, t, corners);
    if (!meet (sight, corners, &depth) || depth >= *nearest)
      continue;
    *nearest = depth;
    pick->placed = index;
    pick->triangle = t;
    pick->part = lw_vec3_add_scaled (sight->from, sight->along, depth);
    pick->table = lw_placed_to_table (placed, pick->part);
  }
}

bool
lw_pick_facet (const LwScene *scene, const LwViewport *v, LwSeen seen, double x, double y,
               LwPick *pick)
{
  const LwSetup *setup = lw_scene_get_setup (scene);
  LwVec3 at = lw_viewport_unproject (v, seen, x, y, 0);
  double nearest = INFINITY;

  for (int i = 0; setup != NULL && i < setup->n_placed; i++) {
    const LwPlaced *placed = &setup->placed[i];
    LwMesh *mesh = scene->job->parts[placed->part].mesh.mesh;
    LwBox3 box = lw_placed_get_box (scene->job, placed);
    double up = seen == LW_SEEN_FROM_ABOVE ? at.y : at.z;
    double low = seen == LW_SEEN_FROM_ABOVE ? box.low.y : box.low.z;
    double high = seen == LW_SEEN_FROM_ABOVE ? box.high.y : box.high.z;
    Sight sight;

    if (mesh == NULL || at.x < box.low.x || at.x > box.high.x || up < low || up > high)
      continue;
    sight = get_sight (placed, seen, at);
    look_at (mesh, placed, i, &sight, &nearest, pick);
  }
  return isfinite (nearest);
}
