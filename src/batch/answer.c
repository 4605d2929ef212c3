/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "batch/answer.h"

#include <glib/gi18n.h>

#define DECIMALS 9

static void
add_value (JsonBuilder *builder, double value)
{
  if (isfinite (value))
    json_builder_add_double_value (builder, lw_round (value, DECIMALS, LW_ROUND_NEAREST));
  else
    json_builder_add_null_value (builder);
}

void
lw_answer_add_number (JsonBuilder *builder, const char *key, double value)
{
  json_builder_set_member_name (builder, key);
  add_value (builder, value);
}

void
lw_answer_add_string (JsonBuilder *builder, const char *key, const char *value)
{
  json_builder_set_member_name (builder, key);
  if (value)
    json_builder_add_string_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

void
lw_answer_add_vec3 (JsonBuilder *builder, const char *key, LwVec3 value)
{
  json_builder_set_member_name (builder, key);
  json_builder_begin_array (builder);
  for (int i = 0; i < 3; i++)
    add_value (builder, lw_vec3_get (value, i));
  json_builder_end_array (builder);
}

static void
add_positions (JsonBuilder *builder, const char *key, LwVec3 linear, const LwPose *pose)
{
  json_builder_set_member_name (builder, key);
  json_builder_begin_array (builder);
  for (int i = 0; i < 3; i++)
    add_value (builder, lw_vec3_get (linear, i));
  add_value (builder, lw_degrees (pose->c));
  add_value (builder, lw_degrees (pose->t));
  json_builder_end_array (builder);
}

void
lw_answer_add_pose (JsonBuilder *builder, const LwMachine *machine, const LwPose *pose)
{
  add_positions (builder, "at", pose->pivot, pose);
  add_positions (builder, "at_display", lw_vec3_sub (pose->pivot, machine->stated_to_pivot), pose);
}

void
lw_answer_print (JsonBuilder *builder)
{
  g_autoptr (JsonNode) node = json_builder_get_root (builder);
  g_autofree char *text = lw_json_to_text (node);

  g_print ("%s", text);
  g_object_unref (builder);
}

const LwTable *
lw_answer_find_table (const LwMachine *machine, const LwOptions *options, GError **error)
{
  const char *name = lw_options_get_text (options, "--table", 0);
  const LwTable *table = name ? lw_machine_find_table (machine, name) : &machine->tables[0];

  if (!table)
    g_set_error (error, LW_ERROR, LW_ERROR_USAGE, _ ("--table: %s has no table \"%s\""),
                 machine->name, name);
  return table;
}

char *
lw_answer_point_to_text (LwVec3 point, LwUnit unit)
{
  g_autofree char *x = lw_format_length_bare (point.x, unit, LW_ROUND_NEAREST);
  g_autofree char *y = lw_format_length_bare (point.y, unit, LW_ROUND_NEAREST);
  g_autofree char *z = lw_format_length (point.z, unit, LW_ROUND_NEAREST);

  return g_strdup_printf ("X %s, Y %s, Z %s", x, y, z);
}

char *
lw_answer_leeway_to_text (const LwMachine *machine, const LwLeeway *leeway, LwUnit unit)
{
  g_autofree char *mm = lw_format_length (leeway->travel, unit, LW_ROUND_DOWN);
  g_autofree char *limit = lw_limit_to_text (machine, leeway->travel_limit, false);
  g_autofree char *degrees = lw_format_angle (leeway->rotary, LW_ROUND_DOWN);
  g_autofree char *rotary_limit = lw_limit_to_text (machine, leeway->rotary_limit, false);

  return g_strdup_printf (_ ("travel %s to %s, rotary %s to %s"), mm, limit, degrees, rotary_limit);
}

void
lw_answer_print_notes (const LwMachine *machine)
{
  for (int i = 0; machine->notes[i]; i++)
    g_print (_ ("note: %s\n"), machine->notes[i]);
}
