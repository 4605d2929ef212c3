/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/text.h"

#include <math.h>
#include <string.h>

#include "base/tolerances.h"
#include "base/vec.h"

#define MM_PER_INCH   25.4
#define MINUS         "−" /* U+2212 */
#define MOST_DECIMALS 9

char *
lw_number_to_text (double value, char buffer[LW_NUMBER_SIZE])
{
  static const char *const formats[] = { "%.15g", "%.16g", "%.17g" };

  g_assert (isfinite (value));
  if (value == 0)
    value = 0; /* -0 too */
  for (int i = 0; i < 3; i++) {
    g_ascii_formatd (buffer, LW_NUMBER_SIZE, formats[i], value);
    if (g_ascii_strtod (buffer, NULL) == value)
      break;
  }
  return buffer;
}

static const char *
skip_digits (const char *p, GString *out)
{
  for (; g_ascii_isdigit (*p); p++)
    g_string_append_c (out, *p);
  return p;
}

/* Copies what the grammar takes of p to out, with '.' as decimal sign; NULL when it is no number.
 */
static const char *
take_number (const char *p, char decimal, GString *out)
{
  if (g_str_has_prefix (p, MINUS)) {
    g_string_append_c (out, '-');
    p += strlen (MINUS);
  } else if (*p == '-' || *p == '+') {
    g_string_append_c (out, *p++);
  }

  gsize start = out->len;

  p = skip_digits (p, out);
  gsize n_digits = out->len - start;
  if (*p == decimal) {
    g_string_append_c (out, '.');
    p = skip_digits (p + 1, out);
    n_digits = out->len - start - 1;
  }
  if (n_digits == 0)
    return NULL;
  if (*p == 'e' || *p == 'E') {
    g_string_append_c (out, *p++);
    if (*p == '-' || *p == '+')
      g_string_append_c (out, *p++);
    start = out->len;
    p = skip_digits (p, out);
    if (out->len == start)
      return NULL;
  }
  return p;
}

bool
lw_number_from_text (const char *text, char decimal, double *value)
{
  g_autoptr (GString) plain = g_string_new (NULL);

  g_assert (decimal == '.' || decimal == ',');
  while (g_ascii_isspace (*text))
    text++;
  text = take_number (text, decimal, plain);
  if (text == NULL)
    return false;
  while (g_ascii_isspace (*text))
    text++;
  if (*text != '\0')
    return false;

  double read = g_ascii_strtod (plain->str, NULL);
  if (!isfinite (read))
    return false;
  *value = read;
  return true;
}

double
lw_round (double value, int decimals, LwRound how)
{
  g_assert (decimals >= 0 && decimals <= MOST_DECIMALS);

  double unit = pow (10, decimals);
  double scaled = value * unit;
  double nearest = round (scaled);

  if (!(fabs (scaled) < 0x1p52)) /* no digits after the point left, infinite or not a number */
    return value;

  bool is_step = fabs (scaled - nearest) <= LW_ROUND_STEP;
  if (nearest == 0 && fabs (value) > LW_ROUND_ZERO)
    is_step = false;
  if (how == LW_ROUND_DOWN && !is_step)
    nearest = floor (scaled);
  else if (how == LW_ROUND_UP && !is_step)
    nearest = ceil (scaled);
  return nearest == 0 ? 0 : nearest / unit;
}

char *
lw_format_fixed (double value, int decimals, LwRound how)
{
  char format[] = "%.0f";
  char buffer[G_ASCII_DTOSTR_BUF_SIZE + 320];

  if (isnan (value))
    return g_strdup ("–");
  if (isinf (value))
    return g_strdup (value > 0 ? "∞" : MINUS "∞");
  value = lw_round (value, decimals, how);
  format[2] = (char)('0' + decimals);
  g_ascii_formatd (buffer, sizeof buffer, format, fabs (value));
  return g_strconcat (value < 0 ? MINUS : "", buffer, NULL);
}

char *
lw_format_length_bare (double value_mm, LwUnit unit, LwRound how)
{
  return lw_format_fixed (lw_unit_from_mm (unit, value_mm), unit == LW_UNIT_INCH ? 3 : 1, how);
}

char *
lw_format_length (double value_mm, LwUnit unit, LwRound how)
{
  g_autofree char *bare = lw_format_length_bare (value_mm, unit, how);

  return g_strconcat (bare, " ", lw_unit_get_symbol (unit), NULL);
}

char *
lw_format_angle (double angle_rad, LwRound how)
{
  g_autofree char *bare = lw_format_fixed (lw_degrees (angle_rad), 1, how);

  return g_strconcat (bare, "°", NULL);
}

const char *
lw_unit_get_symbol (LwUnit unit)
{
  return unit == LW_UNIT_INCH ? "in" : "mm";
}

double
lw_unit_from_mm (LwUnit unit, double value_mm)
{
  return unit == LW_UNIT_INCH ? value_mm / MM_PER_INCH : value_mm;
}

double
lw_unit_to_mm (LwUnit unit, double value)
{
  return unit == LW_UNIT_INCH ? value * MM_PER_INCH : value;
}
