/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "base/tolerances.h"
#include "batch/answer.h"
#include "batch/verbs.h"

static const LwOptionSpec specs[] = { { "--length", 1, true },
                                      { "--tip", 3, true },
                                      { "--axis", 3, true },
                                      { "--table", 1, false },
                                      { NULL } };

typedef struct {
  const LwMachine *machine;
  const LwTable *table;
  double length;
  LwVec3 tip, axis;
  LwSolution solutions[LW_MAX_SOLUTIONS];
  int n;
} Answer;

static bool
read_vec3 (const LwOptions *options, const char *name, bool lengths, LwVec3 *vec, GError **error)
{
  for (int i = 0; i < 3; i++) {
    double value;
    bool read =
        lengths ? lw_options_get_length (options, name, i, -LW_FAR_MM, LW_FAR_MM, &value, error)
                : lw_options_get_number (options, name, i, -LW_FAR_MM, LW_FAR_MM, &value, error);

    if (!read)
      return false;
    lw_vec3_set (vec, i, value);
  }
  return true;
}

static bool
find_answer (Answer *answer, const LwOptions *options, GError **error)
{
  answer->table = lw_answer_find_table (answer->machine, options, error);
  if (!answer->table
      || !lw_options_get_length (options, "--length", 0, 0, LW_FAR_MM, &answer->length, error)
      || !read_vec3 (options, "--tip", true, &answer->tip, error)
      || !read_vec3 (options, "--axis", false, &answer->axis, error))
    return false;
  if (!(lw_vec3_length (answer->axis) > LW_DIRECTION_MIN)) {
    g_set_error (error, LW_ERROR, LW_ERROR_USAGE, _ ("--axis must be a direction, is zero"));
    return false;
  }
  answer->n = lw_travel_solve (answer->machine, answer->table, answer->length, answer->tip,
                               answer->axis, NULL, answer->solutions);
  return true;
}

/* Why there is no solution, in English; new string. */
static char *
find_reason (const Answer *answer)
{
  const LwHead *head = &answer->machine->head;
  char asked[LW_NUMBER_SIZE], reach[LW_NUMBER_SIZE];
  LwVec3 u = lw_vec3_unit (answer->axis);

  if (lw_head_solve (head, answer->axis).n > 0)
    return g_strdup ("no way to this attitude lies inside the rotary limits");
  lw_number_to_text (lw_round (lw_degrees (atan2 (hypot (u.x, u.y), u.z)), 3, LW_ROUND_NEAREST),
                     asked);
  lw_number_to_text (lw_round (lw_degrees (lw_head_get_reach (head)), 3, LW_ROUND_DOWN), reach);
  return g_strdup_printf ("the head inclines the tool by %s degrees at most, %s are asked", reach,
                          asked);
}

static bool
is_inside (const LwSolution *solution)
{
  return solution->leeway.travel >= -LW_INSIDE_TOL && solution->leeway.rotary >= -LW_INSIDE_TOL;
}

static void
add_solution (JsonBuilder *builder, const LwMachine *machine, const LwSolution *solution)
{
  g_autofree char *limit = lw_limit_to_text (machine, solution->leeway.travel_limit, true);
  g_autofree char *rotary = lw_limit_to_text (machine, solution->leeway.rotary_limit, true);

  json_builder_begin_object (builder);
  lw_answer_add_pose (builder, machine, &solution->pose);
  lw_answer_add_number (builder, "leeway_mm", solution->leeway.travel);
  lw_answer_add_string (builder, "limit", limit);
  lw_answer_add_number (builder, "leeway_deg", lw_degrees (solution->leeway.rotary));
  lw_answer_add_string (builder, "rotary_limit", rotary);
  json_builder_set_member_name (builder, "c_free");
  json_builder_add_boolean_value (builder, solution->c_free);
  json_builder_end_object (builder);
}

static void
print_json (const Answer *answer)
{
  JsonBuilder *builder = json_builder_new ();
  g_autofree char *reason = answer->n == 0 ? find_reason (answer) : NULL;

  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "solutions");
  json_builder_begin_array (builder);
  for (int i = 0; i < answer->n; i++)
    add_solution (builder, answer->machine, &answer->solutions[i]);
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "c_free");
  json_builder_add_boolean_value (builder, answer->n > 0 && answer->solutions[0].c_free);
  lw_answer_add_string (builder, "table", answer->table->name);
  if (reason)
    lw_answer_add_string (builder, "reason", reason);
  json_builder_end_object (builder);
  lw_answer_print (builder);
}

static void
print_words (const Answer *answer, LwUnit unit)
{
  const char *tilt = lw_machine_get_letter (answer->machine, LW_AXIS_TILT);

  for (int i = 0; i < answer->n; i++) {
    const LwSolution *solution = &answer->solutions[i];
    g_autofree char *pivot = lw_answer_point_to_text (solution->pose.pivot, unit);
    g_autofree char *c = lw_format_angle (solution->pose.c, LW_ROUND_NEAREST);
    g_autofree char *t = lw_format_angle (solution->pose.t, LW_ROUND_NEAREST);
    g_autofree char *leeway = lw_answer_leeway_to_text (answer->machine, &solution->leeway, unit);

    g_print (_ ("pivot %s, C %s%s, %s %s: %s\n"), pivot, c,
             solution->c_free ? _ (" (any will do for the direction)") : "", tilt, t, leeway);
  }
  if (answer->n == 0) {
    g_autofree char *reason = find_reason (answer);

    g_print ("%s\n", reason);
  }
  lw_answer_print_notes (answer->machine);
}

int
lw_batch_solve (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (LwOptions) options = lw_options_parse (argc, argv, specs, 1, &error);
  g_autoptr (LwMachine) machine =
      options ? lw_machine_load (lw_options_get_operand (options, 0), &error) : NULL;
  Answer answer = { .machine = machine };
  int inside = 0;

  if (!machine || !find_answer (&answer, options, &error))
    return lw_batch_fail (error);
  for (int i = 0; i < answer.n; i++)
    inside += is_inside (&answer.solutions[i]);
  if (lw_options_get_json (options))
    print_json (&answer);
  else
    print_words (&answer, lw_options_get_unit (options));
  return inside > 0 ? LW_EXIT_FITS : LW_EXIT_DOES_NOT_FIT;
}
