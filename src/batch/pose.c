/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "base/tolerances.h"
#include "batch/answer.h"
#include "batch/verbs.h"

static const LwOptionSpec specs[] = { { "--length", 1, true },
                                      { "--at", 5, false },
                                      { "--at-display", 5, false },
                                      { "--table", 1, false },
                                      { NULL } };

typedef struct {
  const LwMachine *machine;
  const LwTable *table;
  LwPose pose;
  double length;
  LwVec3 tip, axis;
  LwLeeway leeway;
} Answer;

/* --at takes the pivot, --at-display what the displays show. */
static bool
read_pose (Answer *answer, const LwOptions *options, GError **error)
{
  bool shown = lw_options_has (options, "--at-display");
  const char *name = shown ? "--at-display" : "--at";
  double at[5];

  if (shown == lw_options_has (options, "--at")) {
    g_set_error (error, LW_ERROR, LW_ERROR_USAGE,
                 _ ("pose needs --at or --at-display, one of them"));
    return false;
  }
  for (int i = 0; i < 5; i++) {
    bool read =
        i < 3 ? lw_options_get_length (options, name, i, -LW_FAR_MM, LW_FAR_MM, &at[i], error)
              : lw_options_get_number (options, name, i, -LW_FAR_DEG, LW_FAR_DEG, &at[i], error);

    if (!read)
      return false;
  }
  answer->pose = (LwPose){ { at[0], at[1], at[2] }, lw_radians (at[3]), lw_radians (at[4]) };
  if (shown)
    answer->pose.pivot = lw_vec3_add (answer->pose.pivot, answer->machine->stated_to_pivot);
  return true;
}

static bool
find_answer (Answer *answer, const LwOptions *options, GError **error)
{
  const LwMachine *machine = answer->machine;

  answer->table = lw_answer_find_table (machine, options, error);
  if (!answer->table || !read_pose (answer, options, error)
      || !lw_options_get_length (options, "--length", 0, 0, LW_FAR_MM, &answer->length, error))
    return false;
  answer->tip = lw_pose_get_tip (machine, answer->table, &answer->pose, answer->length);
  answer->axis = lw_head_get_tool_axis (&machine->head, answer->pose.c, answer->pose.t);
  answer->leeway = lw_travel_get_leeway (machine, &answer->pose, NULL);
  return true;
}

static void
print_json (const Answer *answer)
{
  JsonBuilder *builder = json_builder_new ();
  const LwLeeway *leeway = &answer->leeway;
  g_autofree char *limit = lw_limit_to_text (answer->machine, leeway->travel_limit, true);
  g_autofree char *rotary = lw_limit_to_text (answer->machine, leeway->rotary_limit, true);

  json_builder_begin_object (builder);
  lw_answer_add_vec3 (builder, "tip_mm", answer->tip);
  lw_answer_add_vec3 (builder, "axis", answer->axis);
  json_builder_set_member_name (builder, "leeway");
  json_builder_begin_object (builder);
  lw_answer_add_number (builder, "mm", leeway->travel);
  lw_answer_add_string (builder, "limit", limit);
  lw_answer_add_number (builder, "deg", lw_degrees (leeway->rotary));
  lw_answer_add_string (builder, "rotary_limit", rotary);
  json_builder_end_object (builder);
  lw_answer_add_pose (builder, answer->machine, &answer->pose);
  lw_answer_add_string (builder, "table", answer->table->name);
  lw_answer_add_vec3 (builder, "tip_machine_mm", lw_vec3_add (answer->tip, answer->table->origin));
  json_builder_end_object (builder);
  lw_answer_print (builder);
}

static void
print_words (const Answer *answer, LwUnit unit)
{
  g_autofree char *tip = lw_answer_point_to_text (answer->tip, unit);
  g_autofree char *leeway = lw_answer_leeway_to_text (answer->machine, &answer->leeway, unit);
  g_autofree char *i = lw_format_fixed (answer->axis.x, 6, LW_ROUND_NEAREST);
  g_autofree char *j = lw_format_fixed (answer->axis.y, 6, LW_ROUND_NEAREST);
  g_autofree char *k = lw_format_fixed (answer->axis.z, 6, LW_ROUND_NEAREST);

  g_print (_ ("tip, frame of table \"%s\": %s\n"), answer->table->name, tip);
  g_print (_ ("tool axis, tip to spindle: %s, %s, %s\n"), i, j, k);
  g_print (_ ("leeway: %s\n"), leeway);
  lw_answer_print_notes (answer->machine);
}

int
lw_batch_pose (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (LwOptions) options = lw_options_parse (argc, argv, specs, 1, &error);
  g_autoptr (LwMachine) machine =
      options ? lw_machine_load (lw_options_get_operand (options, 0), &error) : NULL;
  Answer answer = { .machine = machine };

  if (!machine || !find_answer (&answer, options, &error))
    return lw_batch_fail (error);
  if (lw_options_get_json (options))
    print_json (&answer);
  else
    print_words (&answer, lw_options_get_unit (options));
  return answer.leeway.travel >= -LW_INSIDE_TOL && answer.leeway.rotary >= -LW_INSIDE_TOL
             ? LW_EXIT_FITS
             : LW_EXIT_DOES_NOT_FIT;
}
