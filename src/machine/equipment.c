/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "machine/equipment.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/tolerances.h"

#define MAX_RPM     1e6
#define MAX_KW      1e4
#define MAX_KG      1e6
#define MAX_POCKETS 10000

double
lw_in_positive_or_nan (LwIn *in, const char *key, double high)
{
  return lw_in_number_or (in, key, lw_above (0), high, NAN);
}

char *
lw_in_text_or_null (LwIn *in, const char *key)
{
  return lw_in_has (in, key) ? lw_in_string (in, key) : NULL;
}

/* ------------------------------------------------------------------------------------------------
 */

static void
read_power_point (LwPowerPoint *point, const LwPowerPoint *before, LwIn *in)
{
  point->rpm = lw_in_number (in, "rpm", 0, MAX_RPM);
  point->s1 = lw_in_number (in, "s1_kw", 0, MAX_KW);
  point->s6 = lw_in_number_or (in, "s6_kw", 0, MAX_KW, NAN);
  if (lw_in_failed (in))
    return;
  if (before && !(point->rpm > before->rpm))
    lw_in_fail (in, "rpm", _ ("must be above the rpm of the point before"));
  if (point->s6 < point->s1)
    lw_in_fail (in, "s6_kw",
                _ ("must not be below s1_kw: an S6 load may be higher than a "
                   "continuous one, never lower"));
}

static void
read_curve (LwSpindle *spindle, LwIn *in)
{
  int n = lw_in_array (in, "curve", false);

  if (lw_in_failed (in) || !lw_in_has (in, "curve"))
    return;
  if (n < 2) {
    lw_in_fail (in, "curve", _ ("must hold two points or more"));
    return;
  }
  spindle->curve = g_new0 (LwPowerPoint, n);
  spindle->n_curve = n;
  for (int i = 0; i < n; i++) {
    lw_in_element (in, "curve", i);
    read_power_point (&spindle->curve[i], i > 0 ? &spindle->curve[i - 1] : NULL, in);
    lw_in_leave (in);
  }
}

void
lw_spindle_read (LwSpindle *spindle, LwIn *in)
{
  *spindle = (LwSpindle){ .max_rpm = NAN, .s6_duty = NAN };
  if (!lw_in_enter (in, "spindle", false))
    return;
  spindle->exists = true;
  spindle->interface = lw_in_text_or_null (in, "interface");
  spindle->max_rpm = lw_in_positive_or_nan (in, "max_rpm", MAX_RPM);
  spindle->s6_duty = lw_in_positive_or_nan (in, "s6_duty_percent", 100) / 100;
  read_curve (spindle, in);
  lw_in_leave (in);
}

void
lw_spindle_clear (LwSpindle *spindle)
{
  g_free (spindle->interface);
  g_free (spindle->curve);
  *spindle = (LwSpindle){ 0 };
}

/* ------------------------------------------------------------------------------------------------
 */

static void
read_change_at (LwMagazine *magazine, LwIn *in)
{
  double *at = magazine->change_at;

  magazine->has_change_at = lw_in_numbers (in, "change_at", at, 5, false);
  for (int i = 0; i < 5 && !lw_in_failed (in); i++) {
    double far = i < 3 ? LW_FAR_MM : LW_FAR_DEG;

    if (fabs (at[i]) > far)
      lw_in_fail (in, "change_at", _ ("must be X, Y, Z in mm and C, tilt in degrees of a machine"));
    if (i >= 3)
      at[i] = lw_radians (at[i]);
  }
}

void
lw_magazine_read (LwMagazine *magazine, LwIn *in)
{
  *magazine = (LwMagazine){ .max_length = NAN, .max_diameter = NAN, .max_mass = NAN };
  if (!lw_in_enter (in, "magazine", false))
    return;
  magazine->exists = true;
  magazine->pockets = lw_in_int_or (in, "pockets", 1, MAX_POCKETS, 0);
  magazine->max_length = lw_in_positive_or_nan (in, "max_length_mm", LW_FAR_MM);
  magazine->max_diameter = lw_in_positive_or_nan (in, "max_diameter_mm", LW_FAR_MM);
  magazine->max_mass = lw_in_positive_or_nan (in, "max_mass_kg", MAX_KG);
  read_change_at (magazine, in);
  lw_in_leave (in);
}

/* ------------------------------------------------------------------------------------------------
 */

static void
read_moves (LwZones *zones, LwIn *in)
{
  static const char *const words[] = { "automatic", "jog", "handwheel", "homing", NULL };
  g_auto (GStrv) moves = lw_in_strings_or_null (in, "moves");

  for (int i = 0; moves && moves[i] && !lw_in_failed (in); i++) {
    unsigned bit = 0;

    for (int w = 0; words[w]; w++)
      if (strcmp (moves[i], words[w]) == 0)
        bit = 1u << w;
    if (bit == 0)
      lw_in_fail (in, "moves", _ ("must hold automatic, jog, handwheel or homing, holds \"%s\""),
                  moves[i]);
    else if (zones->moves & bit)
      lw_in_fail (in, "moves", _ ("names \"%s\" twice"), moves[i]);
    zones->moves |= bit;
  }
}

static void
read_shape (LwZones *zones, int index, LwIn *in)
{
  LwZoneShape *shape = &zones->shapes[index];
  bool has_solid = lw_in_has (in, "solid");

  shape->name = lw_in_string (in, "name");
  shape->body = lw_in_text_or_null (in, "body");
  shape->margin = lw_in_number_or (in, "margin_mm", 0, LW_FAR_MM, NAN);
  if (lw_in_failed (in))
    return;
  if ((shape->body != NULL) == has_solid)
    lw_in_fail (in, "body", _ ("must be given, or solid, and not both"));
  if (has_solid)
    lw_solid_read (&shape->solid, in, "solid");
  for (int i = 0; i < index && !lw_in_failed (in); i++)
    if (strcmp (zones->shapes[i].name, shape->name) == 0)
      lw_in_fail (in, "name", _ ("must differ from zones.shapes[%d].name"), i);
}

void
lw_zones_read (LwZones *zones, LwIn *in)
{
  static const char *const words[] = { "axes", "tip", "tool", "head", NULL };
  int n;

  *zones = (LwZones){ .margin = NAN };
  if (!lw_in_enter (in, "zones", false))
    return;
  zones->exists = true;
  if (lw_in_has (in, "act_on"))
    zones->act_on = (LwZonesActOn)(LW_ZONES_ACT_ON_AXES + lw_in_word (in, "act_on", words, 0));
  read_moves (zones, in);
  zones->margin = lw_in_number_or (in, "margin_mm", 0, LW_FAR_MM, NAN);
  n = lw_in_array (in, "shapes", false);
  zones->shapes = g_new0 (LwZoneShape, n);
  zones->n_shapes = n;
  for (int i = 0; i < n; i++) {
    lw_in_element (in, "shapes", i);
    read_shape (zones, i, in);
    lw_in_leave (in);
  }
  lw_in_leave (in);
}

void
lw_zones_clear (LwZones *zones)
{
  for (int i = 0; i < zones->n_shapes; i++) {
    g_free (zones->shapes[i].name);
    g_free (zones->shapes[i].body);
    lw_solid_clear (&zones->shapes[i].solid);
  }
  g_free (zones->shapes);
  *zones = (LwZones){ 0 };
}
