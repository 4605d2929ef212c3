/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/snap.h"

static double
to_step (double value, LwUnit unit, bool fine)
{
  double step = unit == LW_UNIT_INCH ? 1.27 : 1;

  if (fine)
    step /= 10;
  return step * round (value / step);
}

/* Index of the nearest hole along one side of the grid. */
static int
get_nearest (const LwHoleGrid *holes, int side, double at)
{
  int i = (int)round ((at - holes->first[side]) / holes->pitch[side]);

  return CLAMP (i, 0, holes->count[side] - 1);
}

/* The bolt that is nearest to a hole leads; the others follow. */
static bool
snap_to_holes (const LwHoleGrid *holes, const LwPart *part, const LwPlaced *placed, LwVec3 *at)
{
  double best = INFINITY;
  LwVec3 by = { 0, 0, 0 };

  for (int i = 0; holes->exists && i < part->n_bolts; i++) {
    LwVec3 bolt = lw_vec3_add (lw_mat3_apply (placed->turn, part->bolts[i].at), *at);
    double dx, dy;

    if (g_strcmp0 (part->bolts[i].thread, holes->thread) != 0)
      continue;
    dx = holes->first[0] + get_nearest (holes, 0, bolt.x) * holes->pitch[0] - bolt.x;
    dy = holes->first[1] + get_nearest (holes, 1, bolt.y) * holes->pitch[1] - bolt.y;
    if (hypot (dx, dy) < best) {
      best = hypot (dx, dy);
      by = lw_vec3 (dx, dy, 0);
    }
  }
  *at = lw_vec3_add (*at, by);
  return isfinite (best);
}

static bool
snap_to_risers (const LwScene *scene, const LwPlaced *placed, LwVec3 *at)
{
  const LwSetup *setup = lw_scene_get_setup (scene);
  LwBox3 box = lw_placed_get_box (scene->job, placed);
  double low = box.low.z + at->z - placed->at.z, by = -low;

  if (lw_box3_is_empty (box) || setup->n_riser_heights == 0)
    return false;
  for (int i = 0; i < setup->n_riser_heights; i++)
    if (fabs (setup->riser_heights[i] - low) < fabs (by))
      by = setup->riser_heights[i] - low;
  at->z += by;
  return true;
}

LwSnap
lw_snap_part (const LwScene *scene, const LwPlaced *placed, LwVec3 at, LwSeen seen, bool free)
{
  const LwPart *part = &scene->job->parts[placed->part];
  LwSnap snap = { .at = at };

  if (!free && seen == LW_SEEN_FROM_ABOVE)
    snap.on_holes = snap_to_holes (&lw_scene_get_table (scene)->holes, part, placed, &snap.at);
  if (!free && seen == LW_SEEN_FROM_FRONT)
    snap.on_risers = snap_to_risers (scene, placed, &snap.at);
  if (!snap.on_holes) {
    if (snap.at.x != placed->at.x)
      snap.at.x = to_step (snap.at.x, scene->unit, free);
    if (snap.at.y != placed->at.y)
      snap.at.y = to_step (snap.at.y, scene->unit, free);
  }
  if (!snap.on_risers && snap.at.z != placed->at.z)
    snap.at.z = to_step (snap.at.z, scene->unit, free);
  return snap;
}
