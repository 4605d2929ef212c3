/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "plan/judge.h"

/* Makes an operation ready to be judged, or says what is missing. */

static const char *
find_missing_of_part (const LwPart *part)
{
  if (!part->is_block && part->mesh_units == NULL)
    return N_ ("the part's units are not given");
  switch (part->mesh.state) {
  case LW_MESH_READY:
    return NULL;
  case LW_MESH_LOADING:
    return N_ ("the part is still being read");
  case LW_MESH_MISSING:
    return N_ ("the part's file is missing");
  case LW_MESH_ALTERED:
    return N_ ("the part's file is not the one this job was made with");
  case LW_MESH_UNREADABLE:
  default:
    return N_ ("the part's file can't be read");
  }
}

static const char *
find_missing_of_program (const LwJudge *judge)
{
  const LwProgramEntry *program = &judge->operation->program;

  switch (program->state) {
  case LW_PROGRAM_READY:
    return judge->tip_length > 0 ? NULL : N_ ("the tool's tip length is not given");
  case LW_PROGRAM_LOADING:
    return N_ ("the program is still being read");
  case LW_PROGRAM_MISSING:
    return N_ ("the program's file is missing");
  case LW_PROGRAM_ALTERED:
    return N_ ("the program's file is not the one this job was made with");
  case LW_PROGRAM_NONE:
  case LW_PROGRAM_UNREADABLE:
  default:
    return program->message != NULL ? program->message : N_ ("the program's file can't be read");
  }
}

/* Points need the tool's length and a drill's point; a surface the radius, and the form of the end
 * where it is the end that touches. */
static const char *
find_missing_of_tool (const LwJudge *judge, const LwTool *tool)
{
  const LwAttitude *attitude = &judge->operation->attitude;
  bool points = judge->operation->region.n_points > 0;

  if (!(judge->tip_length > 0))
    return N_ ("the tool's tip length is not given");
  if (points && attitude->rule != LW_RULE_PROBE && tool->tip == LW_TIP_UNKNOWN)
    return N_ ("the form of the tool's tip is not given");
  if (points)
    return isnan (judge->stroke_low) ? N_ ("the drill's point angle or diameter is not given")
                                     : NULL;
  if (!(judge->cutter.radius > 0))
    return N_ ("the tool has no cutting segment, so its radius is not known");
  if (attitude->rule == LW_RULE_FLANK)
    return NULL;
  if (tool->tip == LW_TIP_UNKNOWN)
    return N_ ("the form of the tool's tip is not given");
  return isnan (judge->cutter.corner) ? N_ ("the tool's corner radius is not given") : NULL;
}

static const char *
find_missing (const LwJudge *judge, const LwTool *tool)
{
  const LwOperation *operation = judge->operation;
  const LwRegion *region = &operation->region;
  const char *missing = find_missing_of_part (judge->part);

  if (missing == NULL && operation->attitude.rule == LW_RULE_PROGRAM)
    return find_missing_of_program (judge);
  if (missing == NULL && region->n_loop > 0 && region->loop_normals == NULL
      && (operation->attitude.rule == LW_RULE_NORMAL || operation->attitude.rule == LW_RULE_FLANK))
    missing = N_ ("the loop has no normals");
  return missing != NULL ? missing : find_missing_of_tool (judge, tool);
}

static void
set_stroke (LwJudge *judge, const LwTool *tool)
{
  const LwStroke *stroke = &judge->operation->stroke;

  if (judge->operation->attitude.rule == LW_RULE_PROGRAM)
    return; /* a program has its own approach and retreat */
  judge->stroke_high = lw_max (stroke->approach, stroke->retreat);
  judge->stroke_low = -(stroke->depth + stroke->breakthrough);
  if (judge->operation->region.n_points > 0 && tool->tip == LW_TIP_DRILL
      && judge->operation->attitude.rule != LW_RULE_PROBE)
    judge->stroke_low -= lw_tool_get_point_length (tool);
}

static uint32_t
count_items (const LwJudge *judge)
{
  const LwRegion *region = &judge->operation->region;

  if (judge->region.triangles != NULL)
    return judge->region.n_triangles;
  if (region->n_points > 0)
    return (uint32_t)region->n_points;
  return 2 * (uint32_t)(region->loop_closed ? region->n_loop : region->n_loop - 1);
}

const char *
lw_judge_init (LwJudge *judge, const LwJob *job, int setup, int operation)
{
  const LwSetup *of = &job->setups[setup];
  const LwOperation *op = &of->operations[operation];
  const LwTool *tool = &job->tools[op->tool];
  const LwTravel *travel = job->machine->travel;
  const char *missing;

  *judge = (LwJudge){ .job = job,
                      .machine = job->machine,
                      .table = &job->machine->tables[of->table],
                      .placed = &of->placed[op->placed],
                      .part = &job->parts[of->placed[op->placed].part],
                      .operation = op,
                      .cutter = lw_cutter_of_tool (tool),
                      .tip_length = lw_tool_get_length (tool) };
  judge->travel =
      (LwBox3){ { travel[LW_AXIS_X].low, travel[LW_AXIS_Y].low, travel[LW_AXIS_Z].low },
                { travel[LW_AXIS_X].high, travel[LW_AXIS_Y].high, travel[LW_AXIS_Z].high } };
  lw_candidate_fan_init (&judge->fan, &op->attitude);
  set_stroke (judge, tool);

  missing = find_missing (judge, tool);
  if (missing != NULL)
    return missing;
  if (op->attitude.rule == LW_RULE_PROGRAM) {
    judge->reason = lw_track_init (&judge->track, op->program.program, tool->number,
                                   &job->machine->head, judge->placed->turn);
    judge->n_items = judge->track.n_items;
    return judge->reason;
  }
  judge->region = lw_region_resolve (&op->region, judge->part);
  if (judge->region.reason == NULL)
    judge->n_items = count_items (judge);
  return judge->region.reason;
}

void
lw_judge_clear (LwJudge *judge)
{
  lw_region_items_clear (&judge->region);
  lw_track_clear (&judge->track);
  g_clear_pointer (&judge->reason, g_free);
}
