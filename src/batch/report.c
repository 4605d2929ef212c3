/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "batch/report.h"

#include <glib/gi18n.h>

#include "base/text.h"
#include "batch/answer.h"

int
lw_report_get_status (LwVerdictKind verdict)
{
  static const int status[] = { 1, 2, 3, 0 };

  return status[verdict];
}

/* ---------------------------------------------------------------------------------------------- */

/* Words for scripts: with the minus that limits are written with there ("B-"). */
static void
add_words (JsonBuilder *builder, const char *key, const char *words)
{
  g_autoptr (GString) plain = g_string_new (words);

  g_string_replace (plain, "−", "-", 0);
  lw_answer_add_string (builder, key, words != NULL ? plain->str : NULL);
}

/* The limit that binds first: of travel and rotary, the one of less slack. */
static LwLimit
get_binding_limit (const LwJob *job, const LwLeeway *leeway)
{
  return lw_slack_of_rotary (leeway->rotary, &job->reserves)
                 < lw_slack_of_travel (leeway->travel, &job->reserves)
             ? leeway->rotary_limit
             : leeway->travel_limit;
}

static void
add_limits (JsonBuilder *builder, const LwJob *job, const LwOperationVerdict *verdict)
{
  bool known = verdict->judged && isfinite (verdict->leeway.travel);
  g_autofree char *binding = NULL;
  g_autofree char *travel = NULL;
  g_autofree char *rotary = NULL;

  if (known) {
    binding = lw_limit_to_text (job->machine, get_binding_limit (job, &verdict->leeway), true);
    travel = lw_limit_to_text (job->machine, verdict->leeway.travel_limit, true);
    rotary = lw_limit_to_text (job->machine, verdict->leeway.rotary_limit, true);
  }
  lw_answer_add_number (builder, "leeway_mm", known ? verdict->leeway.travel : NAN);
  lw_answer_add_string (builder, "limit", binding);
  lw_answer_add_string (builder, "travel_limit", travel);
  lw_answer_add_number (builder, "rotary_deg", known ? lw_degrees (verdict->leeway.rotary) : NAN);
  lw_answer_add_string (builder, "rotary_limit", rotary);
}

static void
add_place (JsonBuilder *builder, const char *key, const LwMachine *machine,
           const LwWitness *witness)
{
  json_builder_set_member_name (builder, key);
  if (!witness->exists) {
    json_builder_add_null_value (builder);
    return;
  }
  json_builder_begin_object (builder);
  lw_answer_add_pose (builder, machine, &witness->pose);
  lw_answer_add_vec3 (builder, "tip_mm", witness->tip);
  lw_answer_add_vec3 (builder, "contact_mm", witness->contact);
  lw_answer_add_vec3 (builder, "axis", witness->axis);
  json_builder_end_object (builder);
}

static void
add_mend (JsonBuilder *builder, const LwJob *job, const LwMend *mend)
{
  static const char *const kinds[] = { "move", "riser", "tip-length-at-most", "tip-length-at-least",
                                       "lean" };
  g_autofree char *text = lw_mend_to_text (job, mend, LW_UNIT_MM);

  json_builder_begin_object (builder);
  lw_answer_add_string (builder, "kind", kinds[mend->kind]);
  add_words (builder, "text", text);
  json_builder_set_member_name (builder, "enough");
  json_builder_add_boolean_value (builder, mend->enough);
  lw_answer_add_string (builder, "breaks", mend->breaks);
  lw_answer_add_string (builder, "set", mend->path);
  json_builder_set_member_name (builder, "to");
  json_builder_add_value (builder, json_node_ref (mend->edit));
  json_builder_end_object (builder);
}

static void
add_operation (JsonBuilder *builder, const LwJob *job, const LwOperationVerdict *verdict)
{
  const LwSetup *setup = &job->setups[verdict->setup];
  g_autofree char *reason = lw_operation_verdict_dup_reason (job, verdict, LW_UNIT_MM);

  json_builder_begin_object (builder);
  lw_answer_add_string (builder, "name", setup->operations[verdict->operation].name);
  lw_answer_add_string (builder, "setup", setup->name);
  lw_answer_add_string (builder, "verdict", lw_verdict_get_word (verdict->verdict));
  lw_answer_add_number (builder, "reachable_share",
                        verdict->judged ? verdict->reachable_share : NAN);
  add_limits (builder, job, verdict);
  lw_answer_add_number (builder, "gap_mm", NAN);
  lw_answer_add_string (builder, "gap_between", NULL);
  lw_answer_add_string (builder, "not_zoned", NULL);
  add_words (builder, "reason", reason);
  add_place (builder, "travel_at", job->machine, &verdict->travel_at);
  add_place (builder, "rotary_at", job->machine, &verdict->rotary_at);
  json_builder_set_member_name (builder, "mends");
  json_builder_begin_array (builder);
  for (int i = 0; i < verdict->n_mends; i++)
    add_mend (builder, job, &verdict->mends[i]);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

JsonBuilder *
lw_report_check (const LwJob *job, const LwJobVerdict *verdict)
{
  JsonBuilder *builder = json_builder_new ();
  const char *const *proven = lw_verdict_get_proven (verdict);
  g_autofree char *sentence = lw_job_verdict_dup_sentence (job, verdict, LW_UNIT_MM);

  json_builder_begin_object (builder);
  lw_answer_add_string (builder, "verdict", lw_verdict_get_word (verdict->verdict));
  add_words (builder, "sentence", sentence);
  json_builder_set_member_name (builder, "proven");
  json_builder_begin_array (builder);
  for (int i = 0; proven[i] != NULL; i++)
    json_builder_add_string_value (builder, proven[i]);
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "operations");
  json_builder_begin_array (builder);
  for (int i = 0; i < verdict->n_operations; i++)
    add_operation (builder, job, verdict->operations[i]);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  return builder;
}

static void
append_place (GString *text, const LwOperationVerdict *verdict, LwUnit unit)
{
  const LwWitness *at = verdict->leeway.travel < 0 || verdict->leeway.rotary >= 0
                            ? &verdict->travel_at
                            : &verdict->rotary_at;
  double values[6] = { at->tip.x,        at->tip.y,        at->tip.z,
                       at->pose.pivot.x, at->pose.pivot.y, at->pose.pivot.z };
  g_autofree char *c = lw_format_angle (at->pose.c, LW_ROUND_NEAREST);
  g_autofree char *t = lw_format_angle (at->pose.t, LW_ROUND_NEAREST);
  char *numbers[6];

  for (int i = 0; i < 6; i++)
    numbers[i] = lw_format_length_bare (values[i], unit, LW_ROUND_NEAREST);
  g_string_append_printf (text, _ ("    tightest: tip %s, %s, %s (table frame, %s); "), numbers[0],
                          numbers[1], numbers[2], lw_unit_get_symbol (unit));
  g_string_append_printf (text, _ ("pivot %s, %s, %s (machine frame); heading %s, tilt %s\n"),
                          numbers[3], numbers[4], numbers[5], c, t);
  for (int i = 0; i < 6; i++)
    g_free (numbers[i]);
}

static void
append_operation (GString *text, const LwJob *job, const LwOperationVerdict *verdict, LwUnit unit)
{
  const LwSetup *setup = &job->setups[verdict->setup];
  g_autofree char *reason = lw_operation_verdict_dup_reason (job, verdict, unit);
  g_autofree char *share = lw_format_fixed (verdict->reachable_share * 100, 1, LW_ROUND_DOWN);

  g_string_append_printf (text, "\n%s · %s: %s\n", setup->name,
                          setup->operations[verdict->operation].name,
                          lw_verdict_get_label (verdict->verdict));
  g_string_append_printf (text, "    %s\n", reason);
  if (verdict->judged)
    g_string_append_printf (text, _ ("    reachable: %s %% of the region\n"), share);
  if (verdict->travel_at.exists)
    append_place (text, verdict, unit);
  for (int i = 0; i < verdict->n_mends; i++) {
    g_autofree char *mend = lw_mend_to_text (job, &verdict->mends[i], unit);

    g_string_append_printf (text, "    → %s\n", mend);
  }
}

char *
lw_report_check_text (const LwJob *job, const LwJobVerdict *verdict, LwUnit unit)
{
  GString *text = g_string_new (NULL);
  g_autofree char *sentence = lw_job_verdict_dup_sentence (job, verdict, unit);

  g_string_append_printf (text, "%s: %s\n%s\n", job->title, lw_verdict_get_label (verdict->verdict),
                          sentence);
  for (int i = 0; i < verdict->n_operations; i++)
    append_operation (text, job, verdict->operations[i], unit);
  g_string_append (
      text, _ ("\nLeeway plans; it does not guard. Prove the program out dry and slowly, hand "
               "on feed hold,\nand follow the machine's manual.\n"));
  return g_string_free (text, FALSE);
}

/* ---------------------------------------------------------------------------------------------- */

bool
lw_report_reach_is_there (const LwReach *reach, double height)
{
  return reach->exists
         && (!isfinite (height) || (height >= reach->box.low.z && height <= reach->box.high.z));
}

static void
add_reach (JsonBuilder *builder, const char *key, const LwReach *reach, double height)
{
  json_builder_set_member_name (builder, key);
  if (reach == NULL || !lw_report_reach_is_there (reach, height)) {
    json_builder_add_null_value (builder);
    return;
  }
  json_builder_begin_object (builder);
  lw_answer_add_vec3 (builder, "low_mm", reach->box.low);
  lw_answer_add_vec3 (builder, "high_mm", reach->box.high);
  json_builder_end_object (builder);
}

/* Why there is none at that height, from what height it would be; NULL when there is one. */
static char *
describe_none (const LwReach *reach, double height, LwUnit unit)
{
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;

  if (!reach->exists)
    return g_strdup (reach->reason);
  if (lw_report_reach_is_there (reach, height))
    return NULL;
  low = lw_format_length (reach->box.low.z, unit, LW_ROUND_UP);
  high = lw_format_length (reach->box.high.z, unit, LW_ROUND_DOWN);
  return g_strdup_printf (_ ("Z travel reaches tips from %s to %s above the table only"), low,
                          high);
}

JsonBuilder *
lw_report_reach (const LwReach *every, const LwReach *one, double height_mm)
{
  JsonBuilder *builder = json_builder_new ();
  g_autofree char *reason = describe_none (every, height_mm, LW_UNIT_MM);

  json_builder_begin_object (builder);
  add_reach (builder, "every_heading", every, height_mm);
  add_reach (builder, "one_heading", one, height_mm);
  if (reason == NULL && one != NULL)
    reason = describe_none (one, height_mm, LW_UNIT_MM);
  add_words (builder, "reason", reason);
  json_builder_end_object (builder);
  return builder;
}

static void
append_reach (GString *text, const char *title, const LwReach *reach, double height, LwUnit unit)
{
  g_autofree char *none = describe_none (reach, height, unit);

  if (none != NULL) {
    g_string_append_printf (text, _ ("%s: none: %s\n"), title, none);
    return;
  }
  g_string_append_printf (text, "%s (%s, %s):\n", title, _ ("table frame"),
                          lw_unit_get_symbol (unit));
  for (int axis = 0; axis < 3; axis++) {
    double low = lw_vec3_get (reach->box.low, axis), high = lw_vec3_get (reach->box.high, axis);
    g_autofree char *from = lw_format_length_bare (low, unit, LW_ROUND_UP);
    g_autofree char *to = lw_format_length_bare (high, unit, LW_ROUND_DOWN);
    g_autofree char *width = lw_format_length_bare (high - low, unit, LW_ROUND_DOWN);

    g_string_append_printf (text, _ ("    %c %s to %s (%s wide)\n"), "XYZ"[axis], from, to, width);
  }
}

char *
lw_report_reach_text (const LwReach *every, const LwReach *one, double height_mm, LwUnit unit)
{
  GString *text = g_string_new (NULL);

  append_reach (text, _ ("Tip, for every heading"), every, height_mm, unit);
  if (one != NULL)
    append_reach (text, _ ("Tip, at this heading"), one, height_mm, unit);
  return g_string_free (text, FALSE);
}
