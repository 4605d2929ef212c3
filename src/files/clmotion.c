/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "base/text.h"
#include "base/tolerances.h"
#include "files/clreading.h"

static bool
add_record (LwClReading *reading, LwProgramRecord record, GError **error)
{
  LwVec3 deepest = lw_vec3_add_scaled (record.tip, record.axis, -record.depth);

  if (reading->records->len >= LW_CL_MOST_RECORDS)
    return lw_cl_fail (reading, error, _ ("the program is longer than %d places"),
                       LW_CL_MOST_RECORDS);
  if (reading->records->len == 0)
    reading->program->unit_mm = reading->unit_mm;
  record.line = reading->at;
  record.tool = reading->tool;
  record.feed = reading->feed;
  g_array_append_val (reading->records, record);
  reading->program->n_statements += record.ends;
  reading->program->n_drills += record.kind == LW_RECORD_DRILL;
  reading->box = lw_box3_add (reading->box, lw_program_record_get_stand (&record));
  reading->box = lw_box3_add (lw_box3_add (reading->box, record.tip), deepest);
  return true;
}

static bool
read_point (const LwClReading *reading, const GPtrArray *list, LwVec3 *point, GError **error)
{
  for (guint i = 0; i < 3; i++) {
    double value;

    if (!lw_cl_length (reading, list->pdata[i], &value, error))
      return false;
    lw_vec3_set (point, (int)i, value);
  }
  return true;
}

static bool
read_direction (const LwClReading *reading, const GPtrArray *list, guint first, LwVec3 *direction,
                GError **error)
{
  for (guint i = 0; i < 3; i++) {
    double value;

    if (!lw_cl_number (reading, list->pdata[first + i], &value, error))
      return false;
    lw_vec3_set (direction, (int)i, value);
  }
  return true;
}

/* A direction of about unit length, made a unit vector. */
static bool
make_unit (LwClReading *reading, LwVec3 *axis, GError **error)
{
  double length = lw_vec3_length (*axis);
  g_autofree char *text = lw_format_fixed (length, 3, LW_ROUND_NEAREST);

  if (!(length >= LW_AXIS_ODD && length <= 1 / LW_AXIS_ODD))
    return lw_cl_fail (reading, error,
                       _ ("a direction of length %s; expected a unit vector (three cosines)"),
                       text);
  if (fabs (length - 1) > LW_AXIS_OFF_UNIT)
    lw_cl_warn (reading, _ ("a direction of length %s was brought to length 1."), text);
  *axis = lw_vec3_scale (*axis, 1 / length);
  return true;
}

/* x, y, z or x, y, z, i, j, k; without an axis the present one stays. */
static bool
read_place (LwClReading *reading, const LwClStatement *statement, LwVec3 *tip, LwVec3 *axis,
            GError **error)
{
  guint n = statement->list->len;

  if (n != 3 && n != 6)
    return lw_cl_fail (reading, error, _ ("%s takes 3 numbers or 6, here are %u"), statement->word,
                       n);
  if (!read_point (reading, statement->list, tip, error))
    return false;
  *axis = reading->axis;
  if (n == 3)
    return true;
  if (!read_direction (reading, statement->list, 3, axis, error)
      || !make_unit (reading, axis, error))
    return false;
  if (!reading->multax && !reading->said_six) {
    lw_cl_warn (reading, _ ("six numbers without MULTAX/ON: the last three are read as the tool "
                            "axis."));
    reading->said_six = true;
  }
  reading->has_axis = true;
  reading->multax_was_off = false;
  return true;
}

/* A motion that leaves the axis as it was: whether that is what the program means. */
static void
check_kept_axis (LwClReading *reading)
{
  if (!reading->has_axis) {
    reading->has_axis = true;
    if (reading->multax)
      lw_cl_warn (reading, _ ("no tool axis was given yet: read as 0, 0, 1."));
  }
  if (reading->multax_was_off && lw_vec3_angle (reading->axis, lw_vec3 (0, 0, 1)) > LW_AXIS_SAME)
    lw_cl_lose (reading, _ ("a motion after MULTAX/OFF with the axis tilted: whether the head goes "
                            "back to 0, 0, 1 is not said."));
  reading->multax_was_off = false;
}

/* ------------------------------------------------------------------------------------------------
 * Motion */

static bool
add_arc (LwClReading *reading, LwVec3 tip, LwVec3 axis, GError **error)
{
  LwClArc arc;

  if (reading->cycle.on)
    return lw_cl_fail (reading, error, _ ("an arc inside a cycle (CIRCLE on line %d)"),
                       reading->circle_line);
  if (!reading->has_tip)
    return lw_cl_fail (reading, error, _ ("an arc from nowhere: no place came before it"));
  if (lw_vec3_angle (reading->axis, axis) > LW_PI - LW_AXIS_OPPOSITE)
    return lw_cl_fail (reading, error, _ ("the tool axis turns half round within one arc"));
  if (!lw_cl_arc_init (&arc, &reading->circle, reading->tip, tip))
    return lw_cl_fail (reading, error,
                       _ ("the arc's start or end does not lie on its circle (line %d)"),
                       reading->circle_line);
  reading->program->n_arcs++;
  for (int i = 1; i <= arc.n_chords; i++) {
    LwProgramRecord record = {
      .kind = LW_RECORD_ARC,
      .ends = i == arc.n_chords,
      .tip = lw_cl_arc_at (&arc, i),
      .axis = lw_vec3_between (reading->axis, axis, (double)i / arc.n_chords),
    };

    if (!add_record (reading, record, error))
      return false;
  }
  return true;
}

static bool
add_straight (LwClReading *reading, LwVec3 tip, LwVec3 axis, GError **error)
{
  LwProgramRecord record = { .kind = LW_RECORD_GOTO, .ends = true, .tip = tip, .axis = axis };

  if (reading->cycle.on) {
    record.kind = LW_RECORD_DRILL;
    record.depth = reading->cycle.depth;
    record.clear = reading->cycle.clear;
  } else if (reading->rapid_line > 0) {
    record.kind = LW_RECORD_RAPID;
  }
  return add_record (reading, record, error);
}

static bool
move_to (LwClReading *reading, LwVec3 tip, LwVec3 axis, GError **error)
{
  bool added;

  if (fmax (fabs (tip.x), fmax (fabs (tip.y), fabs (tip.z))) > LW_FAR_MM)
    return lw_cl_fail (reading, error, _ ("the place is further out than 1 km"));
  added = reading->circle_line > 0 ? add_arc (reading, tip, axis, error)
                                   : add_straight (reading, tip, axis, error);
  reading->tip = tip;
  reading->axis = axis;
  reading->has_tip = true;
  reading->rapid_line = reading->circle_line = 0;
  return added;
}

bool
lw_cl_goto (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  LwVec3 tip = { 0, 0, 0 }, axis = { 0, 0, 0 };

  if (!read_place (reading, statement, &tip, &axis, error))
    return false;
  if (statement->list->len == 3)
    check_kept_axis (reading);
  return move_to (reading, tip, axis, error);
}

bool
lw_cl_godlta (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  LwVec3 by;

  if (statement->list->len != 3)
    return lw_cl_fail (reading, error, _ ("GODLTA takes 3 numbers, here are %u"),
                       statement->list->len);
  if (!reading->has_tip)
    return lw_cl_fail (reading, error, _ ("GODLTA from nowhere: no place came before it"));
  if (!read_point (reading, statement->list, &by, error))
    return false;
  check_kept_axis (reading);
  return move_to (reading, lw_vec3_add (reading->tip, by), reading->axis, error);
}

bool
lw_cl_from (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  LwProgramRecord record = { .kind = LW_RECORD_FROM, .ends = true };

  if (reading->circle_line > 0)
    return lw_cl_fail (reading, error, _ ("CIRCLE on line %d has no motion"), reading->circle_line);
  if (!read_place (reading, statement, &record.tip, &record.axis, error))
    return false;
  if (reading->has_tip)
    lw_cl_warn (reading, _ ("FROM after motions: the tool is taken to stand there from here on."));
  reading->has_from = reading->has_tip = true;
  reading->tip = reading->from_tip = record.tip;
  reading->axis = reading->from_axis = record.axis;
  return add_record (reading, record, error);
}

bool
lw_cl_gohome (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  if (statement->list->len > 0)
    return lw_cl_goto (reading, statement, error);
  if (reading->circle_line > 0)
    return lw_cl_fail (reading, error, _ ("CIRCLE on line %d has no motion"), reading->circle_line);
  if (!reading->has_from) {
    lw_cl_lose (reading, _ ("GOHOME without a FROM before it: where home is, is not said."));
    reading->rapid_line = 0;
    return true;
  }
  lw_cl_warn (reading, _ ("GOHOME is read as a straight move back to FROM."));
  reading->cycle.on = false;
  return move_to (reading, reading->from_tip, reading->from_axis, error);
}

/* ------------------------------------------------------------------------------------------------
 * What the next motion is */

bool
lw_cl_circle (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  LwClCircle *circle = &reading->circle;

  if (statement->list->len != 7)
    return lw_cl_fail (reading, error,
                       _ ("CIRCLE takes 7 numbers (center, axis, radius), here are %u"),
                       statement->list->len);
  if (!read_point (reading, statement->list, &circle->center, error)
      || !read_direction (reading, statement->list, 3, &circle->normal, error)
      || !make_unit (reading, &circle->normal, error)
      || !lw_cl_length (reading, statement->list->pdata[6], &circle->radius, error))
    return false;
  if (!(circle->radius > 0))
    return lw_cl_fail (reading, error, _ ("the circle's radius must be above 0"));
  reading->circle_line = reading->at;
  return true;
}

bool
lw_cl_rapid (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  if (statement->list->len > 0)
    lw_cl_warn (reading, _ ("what RAPID says beyond the word is not used."));
  reading->rapid_line = reading->at;
  return true;
}

bool
lw_cl_multax (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  const char *how = statement->list->len > 0 ? statement->list->pdata[0] : "ON";

  if (statement->list->len > 1 || (!g_str_equal (how, "ON") && !g_str_equal (how, "OFF")))
    return lw_cl_fail (reading, error, _ ("MULTAX takes ON or OFF, found “%.60s”"), how);
  reading->multax = g_str_equal (how, "ON");
  reading->multax_was_off = !reading->multax;
  return true;
}

bool
lw_cl_tlaxis (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  LwVec3 axis;

  if (statement->list->len != 3)
    return lw_cl_fail (reading, error, _ ("TLAXIS takes 3 numbers, here are %u"),
                       statement->list->len);
  if (!read_direction (reading, statement->list, 0, &axis, error)
      || !make_unit (reading, &axis, error))
    return false;
  reading->axis = axis;
  reading->has_axis = true;
  reading->multax_was_off = false;
  return true;
}
