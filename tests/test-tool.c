/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <string.h>

#include "near.h"
#include "tool/tool.h"

#define HOLDER \
  "{\"is\": \"holder\", \"from_mm\": 0, \"to_mm\": 42, \"d_from_mm\": 63, \"d_to_mm\": 63}, "
#define NOSE \
  "{\"is\": \"holder\", \"from_mm\": 42, \"to_mm\": 110, \"d_from_mm\": 53, \"d_to_mm\": 36}, "
#define SHANK \
  "{\"is\": \"shank\", \"from_mm\": 110, \"to_mm\": 140, \"d_from_mm\": 16, \"d_to_mm\": 16}, "
#define FLUTE \
  "{\"is\": \"cutting\", \"from_mm\": 140, \"to_mm\": 180, \"d_from_mm\": 16, \"d_to_mm\": 16}"
#define SEGMENTS "\"segments\": [" HOLDER NOSE SHANK FLUTE "]"
#define BALL                                                                                      \
  "\"number\": 4, \"name\": \"Ball 16\", \"tip_length_mm\": 180, \"stick_out_mm\": 70, \"tip\": " \
  "\"ball\", \"corner_radius_mm\": 8, "

static bool
read_tool (LwTool *tool, const char *members, GError **error)
{
  g_autofree char *text = g_strdup_printf ("{%s}", members);
  g_autoptr (JsonNode) root = lw_json_parse ("tool", text, strlen (text), error);
  LwIn *in;

  g_assert_nonnull (root);
  in = lw_in_new ("job.leeway", "tools[0]", root);
  lw_tool_read (tool, in);
  return lw_in_finish (in, error);
}

static void
test_reads (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *metric = NULL, *inch = NULL;
  double low, high;
  LwTool tool;

  g_assert_true (read_tool (
      &tool, BALL "\"stored_offset_mm\": 180, \"measured_mm\": 180.02, " SEGMENTS, &error));
  g_assert_no_error (error);
  g_assert_cmpint (tool.number, ==, 4);
  g_assert_cmpstr (tool.name, ==, "Ball 16");
  g_assert_cmpint (tool.n_segments, ==, 4);
  g_assert_cmpint (tool.segments[2].kind, ==, LW_SEGMENT_SHANK);
  assert_near (tool.segments[1].d_to, 36, 0);
  assert_near (tool.corner_radius, 8, 0);
  assert_near (lw_tool_get_length (&tool), 180.02, 0);
  assert_near (lw_tool_get_cutter_radius (&tool), 8, 0);
  assert_near (lw_tool_get_point_length (&tool), 0, 0);
  lw_tool_get_length_range (&tool, &low, &high);
  assert_near (low, 150, 1e-12);
  g_assert_true (isinf (high));
  metric = lw_tool_dup_summary (&tool, LW_UNIT_MM);
  inch = lw_tool_dup_summary (&tool, LW_UNIT_INCH);
  g_assert_cmpstr (metric, ==, "ball 16.0 · 180.0 mm");
  g_assert_cmpstr (inch, ==, "ball 0.630 · 7.087 in");
  lw_tool_clear (&tool);
}

/* A 118° drill of 8 mm: the point is 4 / tan 59° = 2.4034 mm (any machinist's table). */
static void
test_drill (void)
{
  g_autoptr (GError) error = NULL;
  LwTool tool;

  g_assert_true (read_tool (
      &tool,
      "\"number\": 7, \"tip\": \"drill\", \"point_deg\": 118, \"segments\": [{\"is\": \"cutting\", "
      "\"from_mm\": 0, \"to_mm\": 60, \"d_from_mm\": 8, \"d_to_mm\": 0}]",
      &error));
  assert_near (lw_tool_get_point_length (&tool), 2.4034, 5e-5);
  assert_near (tool.tip_length, 60, 0);
  g_assert_cmpstr (tool.name, ==, "T7");
  lw_tool_clear (&tool);
}

/* What a file leaves out is not a number, so that nothing can be judged with it by mistake. */
static void
test_absent (void)
{
  LwTool tool;
  double low, high;

  g_assert_true (read_tool (&tool, "\"number\": 1, \"tip\": \"flat\"", NULL));
  g_assert_true (isnan (lw_tool_get_length (&tool)));
  g_assert_true (isnan (lw_tool_get_cutter_radius (&tool)));
  g_assert_true (isnan (tool.measured) && isnan (tool.stick_out) && isnan (tool.stored_offset));
  lw_tool_get_length_range (&tool, &low, &high);
  g_assert_true (isnan (low));
  lw_tool_clear (&tool);
  g_assert_true (read_tool (&tool,
                            "\"number\": 1, \"tip\": \"ball\", \"segments\": [" HOLDER
                            "{\"is\": \"cutting\", \"from_mm\": 42, \"to_mm\": 60, "
                            "\"d_from_mm\": 9, \"d_to_mm\": 9}]",
                            NULL));
  lw_tool_get_length_range (&tool, &low, &high);
  assert_near (low, 60, 0); /* no shank, no other length */
  assert_near (high, 60, 0);
  assert_near (tool.corner_radius, 4.5, 0);
  lw_tool_clear (&tool);
}

static void
test_broken (void)
{
  static const struct {
    const char *members, *at;
  } table[] = {
    { "\"tip\": \"ball\"", "number" },
    { "\"number\": 1.5, \"tip\": \"ball\"", "number" },
    { "\"number\": -1, \"tip\": \"ball\"", "number" },
    { "\"number\": 1, \"tip\": \"bull\"", "tip" },
    { "\"number\": 1, \"tip\": \"flat\", \"flutes\": 2", "flutes" },
    { "\"number\": 1, \"tip\": \"flat\", \"name\": \"\"", "name" },
    { "\"number\": 1, \"tip\": \"flat\", \"tip_length_mm\": 0", "tip_length_mm" },
    { "\"number\": 1, \"tip\": \"flat\", \"measured_mm\": -3", "measured_mm" },
    { "\"number\": 1, \"tip\": \"flat\", \"corner_radius_mm\": 1", "corner_radius_mm" },
    { "\"number\": 1, \"tip\": \"flat\", \"point_deg\": 90", "point_deg" },
    { "\"number\": 1, \"tip\": \"drill\", \"point_deg\": 0", "point_deg" },
    { "\"number\": 1, \"tip\": \"drill\", \"point_deg\": 181", "point_deg" },
    { "\"number\": 1, \"tip\": \"corner\", \"corner_radius_mm\": 9, " SEGMENTS,
      "corner_radius_mm" },
    { "\"number\": 1, \"tip\": \"ball\", \"corner_radius_mm\": 7, " SEGMENTS, "corner_radius_mm" },
    { "\"number\": 1, \"tip\": \"ball\", \"tip_length_mm\": 181, " SEGMENTS, "tip_length_mm" },
    { "\"number\": 1, \"tip\": \"ball\", \"stick_out_mm\": 69, " SEGMENTS, "stick_out_mm" },
    { "\"number\": 1, \"tip\": \"ball\", \"segments\": [" NOSE SHANK FLUTE "]",
      "segments[0].from_mm" },
    { "\"number\": 1, \"tip\": \"ball\", \"segments\": [" HOLDER NOSE FLUTE "]",
      "segments[2].from_mm" },
    { "\"number\": 1, \"tip\": \"ball\", \"segments\": [" HOLDER NOSE SHANK
      "{\"is\": \"holder\", \"from_mm\": 140, \"to_mm\": 180, \"d_from_mm\": 1, \"d_to_mm\": 1}]",
      "segments[3].is" },
    { "\"number\": 1, \"tip\": \"flat\", \"segments\": [{\"is\": \"cutting\", \"from_mm\": 0, "
      "\"to_mm\": 0, \"d_from_mm\": 1, \"d_to_mm\": 1}]",
      "segments[0].to_mm" },
    { "\"number\": 1, \"tip\": \"flat\", \"segments\": [{\"is\": \"cutting\", \"from_mm\": 0, "
      "\"to_mm\": 9, \"d_from_mm\": 0, \"d_to_mm\": 0}]",
      "segments[0].d_to_mm" },
    { "\"number\": 1, \"tip\": \"flat\", \"segments\": [{\"is\": \"cutting\", \"from_mm\": 0, "
      "\"to_mm\": 9, \"d_from_mm\": -2, \"d_to_mm\": 0}]",
      "segments[0].d_from_mm" },
    { "\"number\": 1, \"tip\": \"flat\", \"segments\": [{\"is\": \"neck\", \"from_mm\": 0, "
      "\"to_mm\": 9, \"d_from_mm\": 2, \"d_to_mm\": 2}]",
      "segments[0].is" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    g_autoptr (GError) error = NULL;
    g_autofree char *start = g_strdup_printf ("job.leeway: tools[0].%s: ", table[i].at);
    LwTool tool;

    if (read_tool (&tool, table[i].members, &error))
      g_error ("was read: %s", table[i].members);
    g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
    if (!g_str_has_prefix (error->message, start))
      g_error ("%s: \"%s\" does not name %s", table[i].members, error->message, table[i].at);
    lw_tool_clear (&tool);
  }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/tool/reads", test_reads);
  g_test_add_func ("/tool/drill", test_drill);
  g_test_add_func ("/tool/absent", test_absent);
  g_test_add_func ("/tool/broken", test_broken);
  return g_test_run ();
}
