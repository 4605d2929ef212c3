/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "plan/item.h"

static LwVec3
to_table (const LwJudge *judge, LwVec3 part_point)
{
  return lw_vec3_add (lw_placed_to_table (judge->placed, part_point), judge->shift);
}

static void
get_triangle (const LwJudge *judge, uint32_t item, LwJudgeItem *out)
{
  LwMesh *mesh = judge->part->mesh.mesh;
  uint32_t triangle = judge->region.triangles[item];
  LwVec3 corners[3];

  lw_mesh_get_corners (mesh, triangle, corners);
  out->normal =
      lw_vec3_cross (lw_vec3_sub (corners[1], corners[0]), lw_vec3_sub (corners[2], corners[0]));
  out->weight = lw_vec3_length (out->normal) / 2;
  out->normal = lw_vec3_scale (out->normal, 0.5 / out->weight);
  out->n_contacts = 3;
  for (int i = 0; i < 3; i++)
    out->contacts[i] = to_table (judge, corners[i]);
}

static void
get_point (const LwJudge *judge, uint32_t item, LwJudgeItem *out)
{
  const LwRegionPoint *point = &judge->operation->region.points[item];

  out->normal = out->own = point->axis;
  out->n_contacts = 1;
  out->contacts[0] = to_table (judge, point->at);
  out->weight = 1;
  if (isfinite (point->depth))
    out->stroke_low += judge->operation->stroke.depth - point->depth;
}

/* Each piece of a loop is judged twice, with the attitude of either end held over the whole piece:
 * the turning in between stays between the two. */
static void
get_loop_piece (const LwJudge *judge, uint32_t item, LwJudgeItem *out)
{
  const LwRegion *region = &judge->operation->region;
  uint32_t from = item / 2, to = (from + 1) % (uint32_t)region->n_loop;
  uint32_t end = item % 2 == 0 ? from : to;

  if (region->loop_normals != NULL)
    out->normal = region->loop_normals[end];
  out->n_contacts = 2;
  out->contacts[0] = to_table (judge, region->loop[from]);
  out->contacts[1] = to_table (judge, region->loop[to]);
  out->weight = lw_vec3_length (lw_vec3_sub (region->loop[to], region->loop[from])) / 2;
}

static void
get_track_piece (const LwJudge *judge, uint32_t item, LwJudgeItem *out)
{
  LwTrackPiece piece = lw_track_get (&judge->track, item);

  out->own = piece.axis;
  out->n_contacts = piece.n;
  for (int i = 0; i < piece.n; i++)
    out->contacts[i] = to_table (judge, piece.tips[i]);
  out->weight = piece.weight;
}

void
lw_judge_get_item (const LwJudge *judge, uint32_t item, LwJudgeItem *out)
{
  *out = (LwJudgeItem){ .stroke_low = judge->stroke_low };
  if (judge->track.items != NULL)
    get_track_piece (judge, item, out);
  else if (judge->region.triangles != NULL)
    get_triangle (judge, item, out);
  else if (judge->operation->region.n_points > 0)
    get_point (judge, item, out);
  else
    get_loop_piece (judge, item, out);
}
