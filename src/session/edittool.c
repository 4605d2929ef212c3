/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/text.h"
#include "session/edit.h"

/* A tool's lengths along its axis. Sums are brought to 1e-6 mm, so that 42 + 68.1 stays 110.1. */
#define SUM_STEP_MM 1e-6

static double
get_number (LwEdit *edit, int tool, int segment, const char *key)
{
  JsonNode *node = lw_edit_get (edit, "tools[%d].segments[%d].%s", tool, segment, key);

  return node != NULL && JSON_NODE_HOLDS_VALUE (node) ? json_node_get_double (node) : 0;
}

static void
set_number (LwEdit *edit, int tool, int segment, const char *key, double value)
{
  lw_edit_set (edit, lw_json_new_number (value), "tools[%d].segments[%d].%s", tool, segment, key);
}

static double
clean (double sum)
{
  return lw_round (sum, 6, LW_ROUND_NEAREST);
}

static bool
is_holder (LwEdit *edit, int tool, int segment)
{
  return g_strcmp0 (lw_edit_get_string (edit, "tools[%d].segments[%d].is", tool, segment), "holder")
         == 0;
}

static void
set_if_there (LwEdit *edit, int tool, const char *key, double value)
{
  if (lw_edit_get (edit, "tools[%d].%s", tool, key) != NULL)
    lw_edit_set (edit, value > 0 ? lw_json_new_number (value) : NULL, "tools[%d].%s", tool, key);
}

/* Lines the segments up from lengths and brings along what hangs on them. */
static void
line_up (LwEdit *edit, int tool, const double *lengths)
{
  int n = lw_edit_count (edit, "tools[%d].segments", tool);
  double at = 0, nose = 0;

  for (int i = 0; i < n; i++) {
    set_number (edit, tool, i, "from_mm", at);
    at = clean (at + lengths[i]);
    set_number (edit, tool, i, "to_mm", at);
    if (is_holder (edit, tool, i))
      nose = at;
  }
  set_if_there (edit, tool, "tip_length_mm", at);
  set_if_there (edit, tool, "stick_out_mm", clean (at - nose));
  set_if_there (edit, tool, "measured_mm", -1);
}

static double *
dup_lengths (LwEdit *edit, int tool, int room)
{
  int n = lw_edit_count (edit, "tools[%d].segments", tool);
  double *lengths = g_new0 (double, n + room);

  for (int i = 0; i < n; i++)
    lengths[i] =
        clean (get_number (edit, tool, i, "to_mm") - get_number (edit, tool, i, "from_mm"));
  return lengths;
}

void
lw_edit_set_segment_length (LwEdit *edit, int tool, int segment, double length_mm)
{
  g_autofree double *lengths = dup_lengths (edit, tool, 0);

  g_assert (segment < lw_edit_count (edit, "tools[%d].segments", tool));
  lengths[segment] = length_mm;
  line_up (edit, tool, lengths);
}

void
lw_edit_set_segment_kind (LwEdit *edit, int tool, int segment, const char *kind)
{
  double nose = 0, tip = 0;
  int n = lw_edit_count (edit, "tools[%d].segments", tool);

  lw_edit_set (edit, lw_json_new_string (kind), "tools[%d].segments[%d].is", tool, segment);
  for (int i = 0; i < n; i++) {
    tip = get_number (edit, tool, i, "to_mm");
    if (is_holder (edit, tool, i))
      nose = tip;
  }
  set_if_there (edit, tool, "stick_out_mm", clean (tip - nose));
}

/* A first segment, as long as the tool. */
static void
begin_segments (LwEdit *edit, int tool)
{
  JsonNode *tip = lw_edit_get (edit, "tools[%d].tip_length_mm", tool);
  double length = tip != NULL ? json_node_get_double (tip) : 100;
  JsonArray *array = json_array_new ();
  JsonObject *object = json_object_new ();

  json_object_set_member (object, "is", lw_json_new_string ("cutting"));
  json_object_set_member (object, "from_mm", lw_json_new_number (0));
  json_object_set_member (object, "to_mm", lw_json_new_number (length));
  json_object_set_member (object, "d_from_mm", lw_json_new_number (10));
  json_object_set_member (object, "d_to_mm", lw_json_new_number (10));
  json_array_add_object_element (array, object);
  lw_edit_set (edit, json_node_init_array (json_node_alloc (), array), "tools[%d].segments", tool);
  json_array_unref (array);
}

void
lw_edit_add_segment (LwEdit *edit, int tool, int before)
{
  int n = lw_edit_count (edit, "tools[%d].segments", tool);
  g_autofree double *lengths = dup_lengths (edit, tool, 1);
  g_autofree char *array = g_strdup_printf ("tools[%d].segments", tool);
  int from = before < n ? before : n - 1;
  JsonNode *node = lw_edit_get (edit, "%s[%d]", array, from);

  if (node == NULL) {
    begin_segments (edit, tool);
    return;
  }
  lw_edit_set (edit, json_node_ref (node), "%s[%d]", array, n);
  for (int i = n; i > before; i--) {
    lw_edit_move (edit, array, i, -1);
    lengths[i] = lengths[i - 1];
  }
  lengths[before] = 10;
  line_up (edit, tool, lengths);
}

void
lw_edit_remove_segment (LwEdit *edit, int tool, int segment)
{
  int n = lw_edit_count (edit, "tools[%d].segments", tool);
  g_autofree double *lengths = dup_lengths (edit, tool, 0);

  lw_edit_set (edit, NULL, "tools[%d].segments[%d]", tool, segment);
  for (int i = segment; i + 1 < n; i++)
    lengths[i] = lengths[i + 1];
  line_up (edit, tool, lengths);
}
