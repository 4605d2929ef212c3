/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "tool/stretch.h"

#include <glib/gi18n.h>

static JsonNode *
set_number (JsonNode *node, const char *path, double value)
{
  JsonNode *changed = lw_json_with (node, path, lw_json_new_number (value), NULL);

  json_node_unref (node);
  return changed;
}

static int
find_shank (const LwTool *tool)
{
  for (int i = 1; i < tool->n_segments; i++)
    if (tool->segments[i].kind == LW_SEGMENT_SHANK
        && tool->segments[i - 1].kind == LW_SEGMENT_HOLDER)
      return i;
  return -1;
}

JsonNode *
lw_tool_stretch (const LwTool *tool, JsonNode *node, double tip_length, GError **error)
{
  double low, high, by = tip_length - tool->tip_length;
  int shank = find_shank (tool);
  JsonNode *changed;

  lw_tool_get_length_range (tool, &low, &high);
  if (shank < 0 || tip_length < low || tip_length > high) {
    g_autofree char *length = lw_format_fixed (tip_length, 1, LW_ROUND_NEAREST);

    g_set_error (error, LW_ERROR, LW_ERROR_DATA,
                 _ ("tool %d can't be given the tip length %s mm by stretching its shank"),
                 tool->number, length);
    return NULL;
  }

  changed = json_node_ref (node);
  for (int i = shank; i < tool->n_segments; i++) {
    g_autofree char *from = g_strdup_printf ("segments[%d].from_mm", i);
    g_autofree char *to = g_strdup_printf ("segments[%d].to_mm", i);

    if (i > shank)
      changed = set_number (changed, from, tool->segments[i].from + by);
    changed = set_number (changed, to, tool->segments[i].to + by);
  }
  changed = set_number (changed, "tip_length_mm", tip_length);
  if (isfinite (tool->stick_out))
    changed = set_number (changed, "stick_out_mm", tool->stick_out + by);
  if (lw_json_get (changed, "measured_mm") != NULL) {
    JsonNode *without = lw_json_with (changed, "measured_mm", NULL, NULL);

    json_node_unref (changed);
    changed = without;
  }
  return changed;
}
