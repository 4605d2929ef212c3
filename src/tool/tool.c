/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "tool/tool.h"

#include <glib/gi18n.h>

#include "base/text.h"
#include "base/tolerances.h"

#define MAX_TOOL_MM 10000
#define MAX_NUMBER  99999999

static const char *const tip_words[] = { "flat", "ball", "corner", "drill", NULL };
static const char *const segment_words[] = { "holder", "shank", "cutting", NULL };

/* Index of the last segment of a kind, -1 when there is none. */
static int
find_last (const LwTool *tool, LwSegmentKind kind)
{
  for (int i = tool->n_segments - 1; i >= 0; i--)
    if (tool->segments[i].kind == kind)
      return i;
  return -1;
}

static bool
is_near (double a, double b)
{
  return fabs (a - b) <= LW_TOOL_LENGTH_TOL;
}

static char *
mm (double value)
{
  char text[LW_NUMBER_SIZE];

  return g_strdup (lw_number_to_text (value, text));
}

static double
read_length_or_nan (LwIn *in, const char *key)
{
  return lw_in_number_or (in, key, lw_above (0), MAX_TOOL_MM, NAN);
}

static void
read_segment (LwTool *tool, int index, LwIn *in)
{
  LwSegment *segment = &tool->segments[index];
  double begins = index > 0 ? tool->segments[index - 1].to : 0;
  LwSegmentKind before = index > 0 ? tool->segments[index - 1].kind : LW_SEGMENT_HOLDER;

  segment->kind = (LwSegmentKind)lw_in_word (in, "is", segment_words, -1);
  segment->from = lw_in_number (in, "from_mm", 0, MAX_TOOL_MM);
  segment->to = lw_in_number (in, "to_mm", 0, MAX_TOOL_MM);
  segment->d_from = lw_in_number (in, "d_from_mm", 0, MAX_TOOL_MM);
  segment->d_to = lw_in_number (in, "d_to_mm", 0, MAX_TOOL_MM);
  if (lw_in_failed (in))
    return;
  if (segment->kind == LW_SEGMENT_HOLDER && before != LW_SEGMENT_HOLDER) {
    lw_in_fail (in, "is", _ ("must not be a holder below shank or cutting segments"));
  } else if (!is_near (segment->from, begins)) {
    g_autofree char *want = mm (begins);

    lw_in_fail (in, "from_mm", _ ("must be %s, where the segment before ends"), want);
  } else if (!(segment->to > segment->from + LW_POINT_TOL)) {
    lw_in_fail (in, "to_mm", _ ("must be above from_mm"));
  } else if (!(segment->d_from > 0 || segment->d_to > 0)) {
    lw_in_fail (in, "d_to_mm", _ ("must be above 0 where d_from_mm is 0"));
  }
}

static void
read_segments (LwTool *tool, LwIn *in)
{
  int n = lw_in_array (in, "segments", false);

  tool->segments = g_new0 (LwSegment, n);
  tool->n_segments = n;
  for (int i = 0; i < n; i++) {
    lw_in_element (in, "segments", i);
    read_segment (tool, i, in);
    lw_in_leave (in);
  }
}

/* The lengths must tell one story: segments' sum = tip length, stick-out = what is below the last
 * holder segment. */
static void
check_lengths (LwTool *tool, LwIn *in)
{
  double sum, below;
  int holder = find_last (tool, LW_SEGMENT_HOLDER);

  if (lw_in_failed (in) || tool->n_segments == 0)
    return;
  sum = tool->segments[tool->n_segments - 1].to;
  if (isnan (tool->tip_length))
    tool->tip_length = sum;
  below = sum - (holder >= 0 ? tool->segments[holder].to : 0);
  if (!is_near (tool->tip_length, sum)) {
    g_autofree char *want = mm (sum);

    lw_in_fail (in, "tip_length_mm", _ ("must be %s, where the last segment ends"), want);
  } else if (!isnan (tool->stick_out) && !is_near (tool->stick_out, below)) {
    g_autofree char *want = mm (below);

    lw_in_fail (in, "stick_out_mm",
                _ ("must be %s, from the end of the last holder segment to the tip"), want);
  }
}

static void
check_corner (LwTool *tool, LwIn *in)
{
  double radius = lw_tool_get_cutter_radius (tool);
  bool given = !isnan (tool->corner_radius);

  if (lw_in_failed (in))
    return;
  switch (tool->tip) {
  case LW_TIP_FLAT:
  case LW_TIP_DRILL:
    if (given && tool->corner_radius > 0)
      lw_in_fail (in, "corner_radius_mm", _ ("must be 0 or absent for this form of tip"));
    tool->corner_radius = 0;
    break;
  case LW_TIP_BALL:
    if (given && !isnan (radius) && !is_near (tool->corner_radius, radius)) {
      g_autofree char *want = mm (radius);

      lw_in_fail (in, "corner_radius_mm",
                  _ ("must be %s, half the cutting end's diameter, for a "
                     "ball"),
                  want);
    }
    if (!given)
      tool->corner_radius = radius;
    break;
  case LW_TIP_CORNER:
    if (given && !(tool->corner_radius > 0))
      lw_in_fail (in, "corner_radius_mm", _ ("must be above 0 for a corner"));
    else if (given && tool->corner_radius > radius + LW_TOOL_LENGTH_TOL)
      lw_in_fail (in, "corner_radius_mm", _ ("must not be above half the cutting end's diameter"));
    break;
  case LW_TIP_UNKNOWN:
    break;
  }
}

static void
read_point (LwTool *tool, LwIn *in)
{
  if (tool->tip != LW_TIP_DRILL) {
    if (lw_in_has (in, "point_deg"))
      lw_in_fail (in, "point_deg", _ ("belongs to a drill only"));
    return;
  }
  tool->point_angle = lw_radians (lw_in_number_or (in, "point_deg", lw_above (0), 180, NAN));
}

void
lw_tool_read (LwTool *tool, LwIn *in)
{
  int tip;

  *tool = (LwTool){ .tip_length = NAN };
  tool->number = lw_in_int (in, "number", 0, MAX_NUMBER);
  tool->name =
      lw_in_has (in, "name") ? lw_in_string (in, "name") : g_strdup_printf ("T%d", tool->number);
  tool->tip_length = read_length_or_nan (in, "tip_length_mm");
  tool->stored_offset = lw_in_number_or (in, "stored_offset_mm", -MAX_TOOL_MM, MAX_TOOL_MM, NAN);
  tool->measured = read_length_or_nan (in, "measured_mm");
  tool->stick_out = lw_in_number_or (in, "stick_out_mm", 0, MAX_TOOL_MM, NAN);
  tip = lw_in_word (in, "tip", tip_words, LW_TIP_UNKNOWN);
  tool->tip = lw_in_failed (in) ? LW_TIP_UNKNOWN : (LwTipForm)tip;
  tool->corner_radius = lw_in_number_or (in, "corner_radius_mm", 0, MAX_TOOL_MM, NAN);
  read_point (tool, in);
  read_segments (tool, in);
  check_lengths (tool, in);
  check_corner (tool, in);
}

void
lw_tool_clear (LwTool *tool)
{
  g_free (tool->name);
  g_free (tool->segments);
  *tool = (LwTool){ 0 };
}

double
lw_tool_get_length (const LwTool *tool)
{
  return isnan (tool->measured) ? tool->tip_length : tool->measured;
}

double
lw_tool_get_cutter_radius (const LwTool *tool)
{
  int cutting = find_last (tool, LW_SEGMENT_CUTTING);

  if (cutting < 0)
    return NAN;
  if (tool->tip == LW_TIP_DRILL) /* its point may be drawn as a cone */
    return fmax (tool->segments[cutting].d_from, tool->segments[cutting].d_to) / 2;
  return tool->segments[cutting].d_to / 2;
}

double
lw_tool_get_point_length (const LwTool *tool)
{
  if (tool->tip != LW_TIP_DRILL)
    return 0;
  return lw_tool_get_cutter_radius (tool) / tan (tool->point_angle / 2);
}

void
lw_tool_get_length_range (const LwTool *tool, double *low, double *high)
{
  int next = find_last (tool, LW_SEGMENT_HOLDER) + 1;

  *low = *high = tool->tip_length;
  if (next < 1 || next >= tool->n_segments || tool->segments[next].kind != LW_SEGMENT_SHANK)
    return;
  *low = tool->tip_length - (tool->segments[next].to - tool->segments[next].from);
  *high = INFINITY;
}

/* Translated name of a form, in lower case. */
static const char *
tip_name (LwTipForm tip)
{
  switch (tip) {
  case LW_TIP_FLAT:
    return _ ("flat");
  case LW_TIP_BALL:
    return _ ("ball");
  case LW_TIP_CORNER:
    return _ ("corner");
  case LW_TIP_DRILL:
    return _ ("drill");
  case LW_TIP_UNKNOWN:
    return _ ("tip not given");
  }
  g_assert_not_reached ();
}

char *
lw_tool_dup_summary (const LwTool *tool, LwUnit unit)
{
  double radius = lw_tool_get_cutter_radius (tool), length = lw_tool_get_length (tool);
  g_autofree char *diameter =
      isnan (radius) ? g_strdup ("?") : lw_format_length_bare (2 * radius, unit, LW_ROUND_NEAREST);
  g_autofree char *reach =
      isnan (length) ? g_strdup ("?") : lw_format_length (length, unit, LW_ROUND_NEAREST);

  return g_strdup_printf ("%s %s · %s", tip_name (tool->tip), diameter, reach);
}
