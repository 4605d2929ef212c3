/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "job/job.h"

LwVec3
lw_placed_to_table (const LwPlaced *placed, LwVec3 part_point)
{
  return lw_vec3_add (lw_mat3_apply (placed->turn, part_point), placed->at);
}

LwVec3
lw_placed_to_part (const LwPlaced *placed, LwVec3 table_point)
{
  return lw_mat3_apply_transposed (placed->turn, lw_vec3_sub (table_point, placed->at));
}

/* Whether every axis of the part lies along one of the table's: then the box of the turned mesh is
 * the turned box. */
static bool
turns_squarely (LwMat3 turn)
{
  const LwVec3 columns[] = { turn.c0, turn.c1, turn.c2 };

  for (int i = 0; i < 3; i++) {
    int zeros = (columns[i].x == 0) + (columns[i].y == 0) + (columns[i].z == 0);

    if (zeros != 2)
      return false;
  }
  return true;
}

static LwBox3
get_box_of_box (const LwPlaced *placed, LwBox3 box)
{
  return lw_box3_add (lw_box3_add (lw_box3_empty (), lw_placed_to_table (placed, box.low)),
                      lw_placed_to_table (placed, box.high));
}

static LwBox3
get_box_of_points (const LwPlaced *placed, const LwMesh *mesh)
{
  const float *points = lw_mesh_get_points (mesh);
  double unit_mm = lw_mesh_get_unit_mm (mesh);
  uint32_t n = lw_mesh_get_n_points (mesh);
  LwBox3 box = lw_box3_empty ();

  for (uint32_t i = 0; i < n; i++)
    box = lw_box3_add (box, lw_placed_to_table (placed, lw_mesh_point_at (points, unit_mm, i)));
  return box;
}

LwBox3
lw_placed_get_box (const LwJob *job, const LwPlaced *placed)
{
  const LwMesh *mesh = job->parts[placed->part].mesh.mesh;

  if (mesh == NULL || lw_mesh_get_n_points (mesh) == 0)
    return lw_box3_empty ();
  if (turns_squarely (placed->turn))
    return get_box_of_box (placed, lw_mesh_get_facts (mesh)->box);
  return get_box_of_points (placed, mesh);
}
