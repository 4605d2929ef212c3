/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "machine/machinefile.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/tolerances.h"

#define MAX_RAPID    1e7
#define TILT_FAR_DEG 360

static bool
is_rotary (LwAxis axis)
{
  return axis >= LW_AXIS_C;
}

/* Key of an axis in `axes`: its letter, or for one that moves the work also its word ("X'"). */
static const char *
find_axis_key (LwMachine *machine, LwAxis axis, LwIn *in)
{
  const char *letter = lw_machine_get_letter (machine, axis);
  const char *word = lw_structure_get_word (&machine->structure, (int)axis);

  if (strcmp (letter, word) == 0 || !lw_in_has (in, word))
    return letter;
  if (lw_in_has (in, letter))
    lw_in_fail (in, letter, _ ("stands twice, as %s and as %s"), letter, word);
  return word;
}

static void
read_linear (LwTravel *travel, LwIn *in)
{
  travel->low = lw_in_number (in, "low_mm", -LW_FAR_MM, LW_FAR_MM);
  travel->high = lw_in_number (in, "high_mm", -LW_FAR_MM, LW_FAR_MM);
  travel->rapid = lw_in_positive_or_nan (in, "rapid_mm_min", MAX_RAPID) / 60;
  travel->accel = lw_in_positive_or_nan (in, "accel_mm_s2", MAX_RAPID);
  if (!lw_in_failed (in) && !(travel->low < travel->high))
    lw_in_fail (in, "high_mm", _ ("must be above low_mm"));
}

static void
read_rotary (LwTravel *travel, LwAxis axis, LwIn *in)
{
  double far = axis == LW_AXIS_C ? LW_FAR_DEG : TILT_FAR_DEG;
  bool low = lw_in_has (in, "low_deg"), high = lw_in_has (in, "high_deg");

  if (axis == LW_AXIS_C && !low && !high) {
    travel->low = -INFINITY;
    travel->high = INFINITY;
  } else {
    travel->low = lw_radians (lw_in_number (in, "low_deg", -far, far));
    travel->high = lw_radians (lw_in_number (in, "high_deg", -far, far));
    if (!lw_in_failed (in) && !(travel->low < travel->high))
      lw_in_fail (in, "high_deg", _ ("must be above low_deg"));
  }
  travel->rapid = lw_radians (lw_in_positive_or_nan (in, "rapid_deg_s", MAX_RAPID));
  travel->accel = lw_radians (lw_in_positive_or_nan (in, "accel_deg_s2", MAX_RAPID));
}

void
lw_machine_read_axes (LwMachine *machine, LwIn *in)
{
  if (!lw_in_enter (in, "axes", true))
    return;
  for (LwAxis axis = LW_AXIS_X; axis < LW_N_AXES; axis++) {
    if (!lw_in_enter (in, find_axis_key (machine, axis, in), true))
      continue;
    if (is_rotary (axis))
      read_rotary (&machine->travel[axis], axis, in);
    else
      read_linear (&machine->travel[axis], in);
    lw_in_leave (in);
  }
  lw_in_leave (in);
}

/* An axis named by its letter or its word in the structure. */
static LwAxis
read_axis_name (LwMachine *machine, LwIn *in)
{
  g_autofree char *name = lw_in_string (in, "axis");

  for (LwAxis axis = LW_AXIS_X; name && axis < LW_N_AXES; axis++)
    if (strcmp (name, lw_machine_get_letter (machine, axis)) == 0
        || strcmp (name, lw_structure_get_word (&machine->structure, (int)axis)) == 0)
      return axis;
  if (!lw_in_failed (in))
    lw_in_fail (in, "axis", _ ("must be an axis of the structure %s, is \"%s\""),
                machine->structure.code, name);
  return LW_AXIS_X;
}

/* A limit in the unit of its axis; absent when it is not there. */
static double
read_limit (LwIn *in, LwAxis axis, const char *key_mm, const char *key_deg, double absent)
{
  if (!is_rotary (axis))
    return lw_in_number_or (in, key_mm, -LW_FAR_MM, LW_FAR_MM, absent);
  return lw_radians (lw_in_number_or (in, key_deg, -LW_FAR_DEG, LW_FAR_DEG, lw_degrees (absent)));
}

static void
read_when (LwMachine *machine, LwCoupledLimit *rule, LwIn *in)
{
  double above, below;

  if (!lw_in_enter (in, "when", true))
    return;
  rule->when = read_axis_name (machine, in);
  if (!lw_in_failed (in) && rule->when == rule->axis)
    lw_in_fail (in, "axis", _ ("must be another axis than the one that is limited"));
  above = read_limit (in, rule->when, "above_mm", "above_deg", NAN);
  below = read_limit (in, rule->when, "below_mm", "below_deg", NAN);
  if (!lw_in_failed (in) && isnan (above) == isnan (below))
    lw_in_fail (in, is_rotary (rule->when) ? "above_deg" : "above_mm",
                _ ("must be given, or its counterpart below, and not both"));
  rule->above = !isnan (above);
  rule->threshold = rule->above ? above : below;
  lw_in_leave (in);
}

void
lw_machine_read_coupled (LwMachine *machine, LwIn *in)
{
  int n = lw_in_array (in, "limits_when", false);

  machine->coupled = g_new0 (LwCoupledLimit, n);
  machine->n_coupled = n;
  for (int i = 0; i < n; i++) {
    LwCoupledLimit *rule = &machine->coupled[i];

    lw_in_element (in, "limits_when", i);
    rule->axis = read_axis_name (machine, in);
    rule->low = read_limit (in, rule->axis, "low_mm", "low_deg", -INFINITY);
    rule->high = read_limit (in, rule->axis, "high_mm", "high_deg", INFINITY);
    rule->why = lw_in_text_or_null (in, "why");
    if (!lw_in_failed (in) && isinf (rule->low) && isinf (rule->high))
      lw_in_fail (in, is_rotary (rule->axis) ? "low_deg" : "low_mm",
                  _ ("must be given, or high, or both"));
    if (!lw_in_failed (in) && !(rule->low < rule->high))
      lw_in_fail (in, is_rotary (rule->axis) ? "high_deg" : "high_mm",
                  _ ("must be above the low limit"));
    read_when (machine, rule, in);
    lw_in_leave (in);
  }
}
