/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "plan/verdict.h"

#include <glib/gi18n.h>

#include "base/tolerances.h"
#include "plan/judge.h"

LwOperationVerdict *
lw_operation_verdict_ref (LwOperationVerdict *verdict)
{
  g_atomic_int_inc (&verdict->ref_count);
  return verdict;
}

void
lw_mend_clear (LwMend *mend)
{
  g_clear_pointer (&mend->breaks, g_free);
  g_clear_pointer (&mend->path, g_free);
  g_clear_pointer (&mend->edit, json_node_unref);
}

void
lw_operation_verdict_unref (LwOperationVerdict *verdict)
{
  if (verdict == NULL || !g_atomic_int_dec_and_test (&verdict->ref_count))
    return;
  for (int i = 0; i < verdict->n_mends; i++)
    lw_mend_clear (&verdict->mends[i]);
  g_free (verdict->mends);
  g_free (verdict->items);
  g_free (verdict->triangles);
  g_free (verdict->missing);
  g_free (verdict->open);
  g_free (verdict);
}

/* The corner and stroke end at which leeway is the least: of travel, or of everything for rotary.
 */
static LwWitness
find_witness (const LwJudge *judge, uint32_t item, LwLimit limit)
{
  LwVec3 contacts[3];
  int n;
  LwChoice choice = lw_judge_choose (judge, item, contacts, &n);
  double ends[2] = { choice.stroke_low, judge->stroke_high }, least = INFINITY;
  LwWitness witness = { .exists = true, .axis = choice.axis };

  for (int i = 0; i < n; i++) {
    for (int k = 0; k < 2; k++) {
      LwVec3 along = lw_vec3_scale (choice.axis, ends[k]);
      LwVec3 pivot = lw_vec3_add (lw_vec3_add (contacts[i], judge->table->origin),
                                  lw_vec3_add (choice.to_pivot, along));
      LwPose pose = { pivot, choice.c, choice.t };
      LwLeeway leeway = lw_travel_get_leeway (judge->machine, &pose, &judge->job->reserves);
      double value = limit.axis <= LW_AXIS_Z ? leeway.travel : leeway.rotary;

      if (value >= least)
        continue;
      least = value;
      witness.pose = pose;
      witness.contact = contacts[i];
      witness.tip = lw_vec3_add (lw_vec3_add (contacts[i], choice.to_tip), along);
    }
  }
  return witness;
}

static void
take_judgement (LwOperationVerdict *verdict, LwJudge *judge, const LwJudgement *judgement)
{
  verdict->judged = true;
  verdict->n_items = judge->n_items;
  verdict->n_unreachable = judgement->n_unreachable;
  verdict->reachable_share = judgement->weight > 0 ? judgement->reachable / judgement->weight
                                                   : judgement->n_unreachable == 0;
  verdict->takes_attitudes = judgement->without == judge->n_items;
  verdict->leeway = judgement->least;
  verdict->within_reserves =
      verdict->takes_attitudes
      && lw_judge_within_reserves (judge, judgement->least.travel, judgement->least.rotary);
  if (isfinite (judgement->least.travel)) {
    verdict->travel_at =
        find_witness (judge, judgement->travel_item, judgement->least.travel_limit);
    verdict->rotary_at =
        find_witness (judge, judgement->rotary_item, judgement->least.rotary_limit);
  } else {
    verdict->leeway.travel = verdict->leeway.rotary = NAN;
  }
  if (!verdict->takes_attitudes) {
    LwVec3 contacts[3];
    int n;

    lw_judge_choose (judge, judgement->without, contacts, &n);
    verdict->without_at = contacts[0];
  }
  /* Gaps are not computed: what travel allows is not checked, never "fits". */
  verdict->verdict =
      judgement->n_unreachable > 0 ? LW_VERDICT_DOES_NOT_FIT : LW_VERDICT_NOT_CHECKED;
  verdict->triangles = g_steal_pointer (&judge->region.triangles);
  verdict->open = lw_track_dup_open (&judge->track);
}

LwOperationVerdict *
lw_verdict_judge (const LwJob *job, int setup, int operation, LwProgress *progress)
{
  LwOperationVerdict *verdict = g_new0 (LwOperationVerdict, 1);
  LwJudgement judgement;
  const char *missing;
  LwJudge judge;

  verdict->ref_count = 1;
  verdict->setup = setup;
  verdict->operation = operation;
  verdict->verdict = LW_VERDICT_NOT_CHECKED;
  verdict->leeway.travel = verdict->leeway.rotary = NAN;

  missing = lw_judge_init (&judge, job, setup, operation);
  if (missing != NULL) {
    verdict->missing = g_strdup (_ (missing));
  } else {
    verdict->items = g_new (LwItem, MAX (judge.n_items, 1));
    if (lw_judge_run (&judge, &judgement, verdict->items, progress))
      take_judgement (verdict, &judge, &judgement);
    else
      g_clear_pointer (&verdict, lw_operation_verdict_unref);
  }
  lw_judge_clear (&judge);
  return verdict;
}

static void G_GNUC_PRINTF (3, 4) add_node (GString *key, JsonNode *root, const char *format, ...)
{
  va_list args;
  g_autofree char *path = NULL;
  g_autofree char *text = NULL;
  JsonNode *node;

  va_start (args, format);
  path = g_strdup_vprintf (format, args);
  va_end (args);
  node = lw_json_get (root, path);
  if (node != NULL)
    text = lw_json_to_text (node);
  g_string_append_printf (key, "%s\n", text != NULL ? text : "-");
}

char *
lw_verdict_dup_key (const LwJob *job, int setup, int operation)
{
  const LwSetup *of = &job->setups[setup];
  const LwOperation *op = &of->operations[operation];
  int part = of->placed[op->placed].part;
  GString *key = g_string_new (NULL);

  add_node (key, job->node, "machine");
  add_node (key, job->node, "reserves");
  add_node (key, job->node, "setups[%d].table", setup);
  add_node (key, job->node, "setups[%d].riser_heights_mm", setup);
  add_node (key, job->node, "setups[%d].fixture", setup);
  add_node (key, job->node, "setups[%d].placed[%d]", setup, op->placed);
  add_node (key, job->node, "setups[%d].operations[%d]", setup, operation);
  add_node (key, job->node, "tools[%d]", op->tool);
  add_node (key, job->node, "parts[%d]", part);
  g_string_append_printf (key, "%d %s", job->parts[part].mesh.state, job->parts[part].mesh.sha256);
  if (op->program.state != LW_PROGRAM_NONE)
    g_string_append_printf (key, "\n%d %s", op->program.state, op->program.sha256);
  return g_string_free (key, FALSE);
}
