/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/number.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/error.h"

/* Digits after the point that an entry shows: 1 nm, or 2.5 µm in inches; what is not
 * touched keeps the digits that the file has. */
#define MM_DECIMALS   6
#define INCH_DECIMALS 4
/* What is typed in inches is kept to this many digits of mm. */
#define KEPT_DECIMALS 9

char *
lw_number_for_entry (double value, bool is_length, LwUnit unit)
{
  char text[LW_NUMBER_SIZE];
  bool inch = is_length && unit == LW_UNIT_INCH;

  if (inch)
    value = lw_unit_from_mm (unit, value);
  return g_strdup (lw_number_to_text (
      lw_round (value, inch ? INCH_DECIMALS : MM_DECIMALS, LW_ROUND_NEAREST), text));
}

/* Cuts a unit off the end; answers which, or unit where there is none. */
static LwUnit
cut_unit (char *text, LwUnit unit)
{
  static const struct {
    const char *suffix;
    LwUnit unit;
  } units[] = { { "mm", LW_UNIT_MM }, { "in", LW_UNIT_INCH }, { "\"", LW_UNIT_INCH } };

  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    if (g_str_has_suffix (text, units[i].suffix)) {
      text[strlen (text) - strlen (units[i].suffix)] = '\0';
      g_strchomp (text);
      return units[i].unit;
    }
  return unit;
}

bool
lw_number_from_entry (const char *text, bool is_length, LwUnit unit, double *value, GError **error)
{
  g_autofree char *copy = g_strstrip (g_strdup (text));
  g_auto (GStrv) pieces = g_strsplit (copy, "−", -1); /* the minus of printed numbers */
  g_autofree char *plain = g_strjoinv ("-", pieces);

  if (is_length)
    unit = cut_unit (plain, unit);
  else if (g_str_has_suffix (plain, "°"))
    plain[strlen (plain) - strlen ("°")] = '\0';
  if (!lw_number_from_text (plain, '.', value)) {
    g_set_error (error, LW_ERROR, LW_ERROR_DATA,
                 strchr (plain, ',') != NULL ? _ ("“%s” is not a number: write 12.5 with a point")
                                             : _ ("“%s” is not a number"),
                 copy);
    return false;
  }
  if (is_length && unit == LW_UNIT_INCH)
    *value = lw_round (lw_unit_to_mm (unit, *value), KEPT_DECIMALS, LW_ROUND_NEAREST);
  return true;
}
