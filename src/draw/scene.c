/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/scene.h"

const LwSetup *
lw_scene_get_setup (const LwScene *scene)
{
  return scene->setup >= 0 && scene->setup < scene->job->n_setups
             ? &scene->job->setups[scene->setup]
             : NULL;
}

const LwTable *
lw_scene_get_table (const LwScene *scene)
{
  const LwSetup *setup = lw_scene_get_setup (scene);

  return &scene->job->machine->tables[setup != NULL ? setup->table : 0];
}

const LwPlaced *
lw_scene_get_placed (const LwScene *scene)
{
  const LwSetup *setup = lw_scene_get_setup (scene);

  if (setup == NULL)
    return NULL;
  if (scene->placed >= 0 && scene->placed < setup->n_placed)
    return &setup->placed[scene->placed];
  return setup->n_placed == 1 ? &setup->placed[0] : NULL;
}

const LwTool *
lw_scene_get_tool (const LwScene *scene)
{
  return scene->tool >= 0 && scene->tool < scene->job->n_tools ? &scene->job->tools[scene->tool]
                                                               : NULL;
}

double
lw_scene_get_tip_length (const LwScene *scene)
{
  const LwTool *tool = lw_scene_get_tool (scene);

  return tool != NULL ? lw_tool_get_length (tool) : 0;
}

const LwOperationVerdict *
lw_scene_get_verdict (const LwScene *scene)
{
  const LwJobVerdict *verdict = scene->verdict;

  if (verdict == NULL || scene->operation < 0)
    return NULL;
  for (int i = 0; i < verdict->n_operations; i++) {
    const LwOperationVerdict *one = verdict->operations[i];

    if (one != NULL && one->setup == scene->setup && one->operation == scene->operation)
      return one;
  }
  return NULL;
}

LwPose
lw_scene_get_pose (const LwScene *scene, double c, double t)
{
  LwVec3 w = lw_head_get_swing (&scene->job->machine->head, lw_scene_get_tip_length (scene), c, t);
  LwVec3 tip = lw_vec3_add (scene->tip, lw_scene_get_table (scene)->origin);

  return (LwPose){ lw_vec3_sub (tip, w), c, t };
}

LwBox3
lw_scene_get_travel (const LwScene *scene)
{
  const LwTravel *travel = scene->job->machine->travel;
  LwBox3 box = { { travel[LW_AXIS_X].low, travel[LW_AXIS_Y].low, travel[LW_AXIS_Z].low },
                 { travel[LW_AXIS_X].high, travel[LW_AXIS_Y].high, travel[LW_AXIS_Z].high } };

  return lw_box3_move (box, lw_vec3_negate (lw_scene_get_table (scene)->origin));
}

void
lw_scene_place_body (const LwScene *scene, const LwBody *body, const LwPose *pose, LwMat3 *turn,
                     LwVec3 *at)
{
  const LwMachine *machine = scene->job->machine;
  LwVec3 origin = lw_scene_get_table (scene)->origin;
  LwMat3 heading = lw_mat3_turn_z (pose->c);

  *turn = lw_mat3_identity ();
  *at = body->shift;
  if (body->carrier == LW_CARRIER_WORK) {
    *at = lw_vec3_add (*at, lw_vec3_sub (machine->tables[body->table].origin, origin));
    return;
  }
  if (body->carrier == LW_AXIS_TILT || body->carrier == LW_CARRIER_TOOL)
    *turn = lw_mat3_multiply (heading, lw_mat3_turn (machine->head.n, pose->t));
  else if (body->carrier == LW_AXIS_C)
    *turn = heading;
  *at = lw_mat3_apply (*turn, body->shift);
  if (body->carrier == LW_AXIS_TILT || body->carrier == LW_CARRIER_TOOL)
    *at = lw_vec3_add (*at, lw_mat3_apply (heading, machine->head.e));
  for (LwAxis axis = LW_AXIS_X; axis <= LW_AXIS_Z; axis++)
    if (lw_structure_moves (&machine->structure, body->carrier, axis))
      lw_vec3_set (at, axis, lw_vec3_get (*at, axis) + lw_vec3_get (pose->pivot, axis));
  *at = lw_vec3_sub (*at, origin);
}

void
lw_scene_place_tool (const LwScene *scene, const LwPose *pose, LwVec3 *gauge, LwVec3 *down)
{
  const LwHead *head = &scene->job->machine->head;
  LwVec3 w = lw_head_get_swing (head, 0, pose->c, pose->t);

  *gauge = lw_vec3_sub (lw_vec3_add (pose->pivot, w), lw_scene_get_table (scene)->origin);
  *down = lw_vec3_negate (lw_head_get_tool_axis (head, pose->c, pose->t));
}

LwBox3
lw_scene_get_box (const LwScene *scene)
{
  const LwTable *table = lw_scene_get_table (scene);
  const LwSetup *setup = lw_scene_get_setup (scene);
  double thickness = isnan (table->thickness) ? 0 : table->thickness;
  LwBox3 box = { { 0, 0, -thickness }, { table->size[0], table->size[1], 0 } };

  for (int i = 0; setup != NULL && i < setup->n_placed; i++) {
    LwBox3 placed = lw_placed_get_box (scene->job, &setup->placed[i]);

    if (!lw_box3_is_empty (placed))
      box = lw_box3_unite (box, placed);
  }
  for (int i = 0; setup != NULL && i < setup->n_fixtures; i++) {
    LwBox3 fixture = lw_solid_get_box (&setup->fixtures[i].solid);

    if (!lw_box3_is_empty (fixture))
      box = lw_box3_unite (box, fixture);
  }
  return box;
}
