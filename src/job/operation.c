/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "job/operation.h"

#include <glib/gi18n.h>

#include "base/tolerances.h"
#include "files/meshfile.h"
#include "job/reading.h"

#define DEFAULT_APPROACH_MM 5
#define DEFAULT_RETREAT_MM  50

/* A lean of 90° lays the tool in the surface: no attitude rule goes further. */
#define MOST_LEAN_DEG 90
#define MOST_TILT_DEG 360

struct LwOperationHold {
  int ref_count;
  char *name, *file, *sha256, *units, *key;
  char **after;
};

static void
operation_hold_unref (struct LwOperationHold *hold)
{
  if (!g_atomic_int_dec_and_test (&hold->ref_count))
    return;
  g_free (hold->name);
  g_free (hold->file);
  g_free (hold->sha256);
  g_free (hold->units);
  g_free (hold->key);
  g_strfreev (hold->after);
  g_free (hold);
}

void
lw_operation_clear (LwOperation *operation)
{
  lw_region_clear (&operation->region);
  lw_program_entry_clear (&operation->program);
  g_clear_pointer (&operation->hold, operation_hold_unref);
}

/* ------------------------------------------------------------------------------------------------
 * Attitude */

static void
read_direction_of_rule (LwAttitude *attitude, LwIn *in, bool need)
{
  attitude->has_direction = lw_in_has (in, "direction");
  if (attitude->has_direction || need)
    attitude->direction = lw_read_direction (in, "direction");
}

/* Along and probe take the points' own axes where they have them. */
static void
expect_axis_everywhere (LwIn *in, const LwAttitude *attitude, const LwRegion *region)
{
  if (attitude->has_direction || lw_in_failed (in))
    return;
  if (region->n_points == 0)
    lw_in_fail (in, "direction", _ ("must be given where the region has no points with an “axis”"));
  for (int i = 0; i < region->n_points; i++)
    if (lw_vec3_dot (region->points[i].axis, region->points[i].axis) == 0) {
      lw_in_fail (in, "direction", _ ("must be given, since point %d of the region has no “axis”"),
                  i);
      return;
    }
}

static void
read_lean (LwAttitude *attitude, LwIn *in, bool with_least)
{
  attitude->lean = lw_radians (lw_in_number_or (in, "lean_deg", 0, MOST_LEAN_DEG, 0));
  if (!with_least)
    return;
  attitude->lean_min = lw_radians (lw_in_number_or (in, "lean_min_deg", 0, MOST_LEAN_DEG, 0));
  if (!lw_in_failed (in) && attitude->lean_min > attitude->lean)
    lw_in_fail (in, "lean_min_deg", _ ("must not be above “lean_deg”"));
}

static void
read_program_units (LwAttitude *attitude, LwIn *in)
{
  attitude->units = lw_in_string_or_null (in, "units");
  if (attitude->units != NULL && !(lw_length_unit_to_mm (attitude->units) > 0))
    lw_in_fail (in, "units", _ ("must be a length unit (“mm”, “cm”, “m”, “in”, “ft”), is “%s”"),
                attitude->units);
}

void
lw_attitude_read (LwAttitude *attitude, LwIn *in, const LwRegion *region)
{
  static const char *const rules[] = { "along", "normal", "flank", "probe", "program", NULL };

  *attitude = (LwAttitude){ 0 };
  if (!lw_in_enter (in, "attitude", true))
    return;
  attitude->rule = (LwAttitudeRule)lw_in_word (in, "rule", rules, -1);
  if (lw_in_failed (in)) {
    attitude->rule = LW_RULE_ALONG;
    lw_in_leave (in);
    return;
  }
  switch (attitude->rule) {
  case LW_RULE_ALONG:
  case LW_RULE_PROBE:
    read_direction_of_rule (attitude, in, false);
    expect_axis_everywhere (in, attitude, region);
    break;
  case LW_RULE_NORMAL:
    read_lean (attitude, in, true);
    break;
  case LW_RULE_FLANK:
    read_direction_of_rule (attitude, in, true);
    read_lean (attitude, in, false);
    attitude->below = lw_read_length_or (in, "below_mm", 0);
    break;
  case LW_RULE_PROGRAM:
    attitude->file = lw_in_string (in, "file");
    attitude->sha256 = lw_read_sha256_or_null (in, "sha256");
    read_program_units (attitude, in);
    break;
  }
  attitude->has_heading = lw_read_range_deg (in, "heading_deg", LW_FAR_DEG, &attitude->heading_low,
                                             &attitude->heading_high);
  attitude->has_tilt =
      lw_read_range_deg (in, "tilt_deg", MOST_TILT_DEG, &attitude->tilt_low, &attitude->tilt_high);
  lw_in_leave (in);
}

/* ------------------------------------------------------------------------------------------------
 * Operation */

static void
read_stroke (LwStroke *stroke, LwIn *in)
{
  *stroke = (LwStroke){ .approach = DEFAULT_APPROACH_MM, .retreat = DEFAULT_RETREAT_MM };
  if (!lw_in_enter (in, "stroke", false))
    return;
  stroke->approach = lw_read_length_or (in, "approach_mm", DEFAULT_APPROACH_MM);
  stroke->depth = lw_read_length_or (in, "depth_mm", 0);
  stroke->breakthrough = lw_read_length_or (in, "breakthrough_mm", 0);
  stroke->retreat = lw_read_length_or (in, "retreat_mm", DEFAULT_RETREAT_MM);
  lw_in_leave (in);
}

static int
find_tool (const LwOperationScope *scope, int number)
{
  for (int i = 0; i < scope->n_tools; i++)
    if (scope->tool_numbers[i] == number)
      return i;
  return -1;
}

static void
read_placed (LwOperation *operation, LwIn *in, const LwOperationScope *scope)
{
  g_autofree char *id = lw_in_string (in, "on");

  operation->placed = lw_find_name (scope->placed_ids, scope->n_placed, id);
  if (operation->placed < 0 && !lw_in_failed (in)) {
    g_autofree char *known = lw_list_names (scope->placed_ids, scope->n_placed, _ ("none"));

    lw_in_fail (in, "on", _ ("no placed part “%s” in this set-up (placed are %s)"), id, known);
  }
}

static void
read_tool (LwOperation *operation, LwIn *in, const LwOperationScope *scope)
{
  int number = lw_in_int (in, "tool", 0, G_MAXINT);
  g_autoptr (GString) known = g_string_new (NULL);

  operation->tool = find_tool (scope, number);
  if (operation->tool >= 0 || lw_in_failed (in))
    return;
  for (int i = 0; i < scope->n_tools; i++)
    g_string_append_printf (known, "%s%d", i > 0 ? ", " : "", scope->tool_numbers[i]);
  lw_in_fail (in, "tool", _ ("no tool %d in this job (tools are %s)"), number,
              scope->n_tools > 0 ? known->str : _ ("none"));
}

static char *
make_key (const LwOperation *operation, JsonNode *node)
{
  JsonObject *copy = json_object_new ();
  g_autoptr (JsonNode) keyed = json_node_init_object (json_node_alloc (), copy);
  JsonObjectIter iter;
  const char *name;
  JsonNode *member;

  json_object_iter_init_ordered (&iter, json_node_get_object (node));
  while (json_object_iter_next_ordered (&iter, &name, &member))
    json_object_set_member (copy, name,
                            g_str_equal (name, "region") && operation->region.key != NULL
                                ? lw_json_new_string (operation->region.key)
                                : json_node_ref (member));
  json_object_unref (copy);
  return lw_json_to_text (keyed);
}

static bool
rule_needs_region (JsonNode *node)
{
  JsonNode *rule = lw_json_get (node, "attitude.rule");

  return rule == NULL || !JSON_NODE_HOLDS_VALUE (rule)
         || g_strcmp0 (json_node_get_string (rule), "program") != 0;
}

static void
read_region (LwOperation *operation, LwIn *in, JsonNode *node, const LwOperation *earlier)
{
  JsonNode *region = json_object_get_member (json_node_get_object (node), "region");

  if (region == NULL && !rule_needs_region (node))
    return;
  if (earlier != NULL && region != NULL
      && region == json_object_get_member (json_node_get_object (earlier->node), "region")) {
    lw_in_skip (in, "region");
    lw_region_share (&operation->region, &earlier->region);
  } else {
    lw_region_read (&operation->region, in, region);
  }
}

static void
read_against (LwOperation *operation, LwIn *in)
{
  static const char *const words[] = { "part", NULL };
  bool given = lw_in_has (in, "against");

  operation->after = lw_in_strings_or_null (in, "after");
  lw_in_word (in, "against", words, 0);
  operation->against_part = given && operation->after != NULL && operation->after[0] != NULL;
}

void
lw_operation_read (LwOperation *operation, LwIn *in, JsonNode *node, const LwOperationScope *scope,
                   const LwOperation *earlier)
{
  struct LwOperationHold *hold;

  *operation = (LwOperation){ .node = node, .placed = -1, .tool = -1 };
  operation->name = lw_in_string (in, "name");
  read_placed (operation, in, scope);
  read_tool (operation, in, scope);
  if (!lw_in_failed (in)) {
    read_region (operation, in, node, earlier);
    lw_attitude_read (&operation->attitude, in, &operation->region);
    read_stroke (&operation->stroke, in);
    read_against (operation, in);
  }
  if (!lw_in_failed (in))
    operation->key = make_key (operation, node);

  hold = g_new0 (struct LwOperationHold, 1);
  *hold = (struct LwOperationHold){ 1,
                                    operation->name,
                                    operation->attitude.file,
                                    operation->attitude.sha256,
                                    operation->attitude.units,
                                    operation->key,
                                    operation->after };
  operation->hold = hold;
}

bool
lw_operation_share (LwOperation *operation, const LwOperation *earlier,
                    const LwOperationScope *scope)
{
  JsonNode *on = lw_json_get (earlier->node, "on");
  JsonNode *tool = lw_json_get (earlier->node, "tool");
  int placed = lw_find_name (scope->placed_ids, scope->n_placed, json_node_get_string (on));
  int index = find_tool (scope, (int)json_node_get_int (tool));

  if (placed < 0 || index < 0)
    return false;
  *operation = *earlier;
  operation->placed = placed;
  operation->tool = index;
  lw_region_share (&operation->region, &earlier->region);
  lw_program_entry_copy (&operation->program, &earlier->program);
  g_atomic_int_inc (&operation->hold->ref_count);
  return true;
}

/* ------------------------------------------------------------------------------------------------
 * Program */

static void
get_program (LwProgramEntry *entry, const LwOperation *operation, const LwJobReading *reading)
{
  const LwAttitude *attitude = &operation->attitude;
  g_autofree char *path = g_canonicalize_filename (attitude->file, reading->folder);
  double unit_mm = attitude->units != NULL ? lw_length_unit_to_mm (attitude->units) : 0;

  lw_program_store_get (lw_mesh_store_get_programs (reading->store), path, unit_mm,
                        attitude->sha256, reading->wait, reading->progress, entry);
}

void
lw_operation_attach_program (LwOperation *operation, const LwJobReading *reading)
{
  if (operation->attitude.rule == LW_RULE_PROGRAM)
    get_program (&operation->program, operation, reading);
}

bool
lw_operation_refresh_program (LwOperation *operation, const LwJobReading *reading)
{
  LwProgramEntry now;

  if (operation->attitude.rule != LW_RULE_PROGRAM)
    return false;
  get_program (&now, operation, reading);
  if (now.program == operation->program.program && now.state == operation->program.state
      && g_strcmp0 (now.message, operation->program.message) == 0) {
    lw_program_entry_clear (&now);
    return false;
  }
  lw_program_entry_clear (&operation->program);
  operation->program = now;
  return true;
}
