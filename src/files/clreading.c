/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/clreading.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/text.h"
#include "base/tolerances.h"

/* Longer than any number of sense; what is longer is shown cut off. */
#define MOST_DIGITS 60

bool
lw_cl_fail (const LwClReading *reading, GError **error, const char *format, ...)
{
  va_list args;
  g_autofree char *what = NULL;

  va_start (args, format);
  what = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error (error, LW_ERROR, LW_ERROR_DATA, "%s:%d: %s", reading->name, reading->at, what);
  return false;
}

G_GNUC_PRINTF (2, 0)
static char *
make_sentence (const LwClReading *reading, const char *format, va_list args)
{
  g_autofree char *what = g_strdup_vprintf (format, args);

  return g_strdup_printf (_ ("Line %d: %s"), reading->at, what);
}

void
lw_cl_warn (LwClReading *reading, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  lw_cl_warnings_add (&reading->warnings, make_sentence (reading, format, args));
  va_end (args);
}

void
lw_cl_lose (LwClReading *reading, const char *format, ...)
{
  va_list args;
  char *sentence;

  va_start (args, format);
  sentence = make_sentence (reading, format, args);
  va_end (args);
  if (reading->program->lost == NULL)
    reading->program->lost = g_strdup (sentence);
  lw_cl_warnings_add (&reading->warnings, sentence);
}

void
lw_cl_leave_open (LwClReading *reading, const char *format, ...)
{
  va_list args;
  char *sentence;

  va_start (args, format);
  sentence = make_sentence (reading, format, args);
  va_end (args);
  if (reading->program->open == NULL)
    reading->program->open = g_strdup (sentence);
  lw_cl_warnings_add (&reading->warnings, sentence);
}

bool
lw_cl_is_number (const char *text)
{
  return g_ascii_isdigit (*text) || *text == '+' || *text == '-' || *text == '.';
}

bool
lw_cl_number (const LwClReading *reading, const char *text, double *value, GError **error)
{
  char copy[MOST_DIGITS + 1];
  char *exponent;

  if (strlen (text) < sizeof copy) {
    g_strlcpy (copy, text, sizeof copy);
    exponent = strchr (copy, 'D');
    if (exponent != NULL)
      *exponent = 'E';
    if (lw_number_from_text (copy, '.', value))
      return true;
  }
  return lw_cl_fail (reading, error, _ ("expected a number, found “%.60s”"), text);
}

bool
lw_cl_length (const LwClReading *reading, const char *text, double *mm, GError **error)
{
  double value;

  if (!lw_cl_number (reading, text, &value, error))
    return false;
  if (!(reading->unit_mm > 0))
    return lw_cl_fail (
        reading, error,
        _ ("a length before any UNITS statement: whether the file is in mm or inches "
           "must be told"));
  *mm = value * reading->unit_mm;
  if (fabs (*mm) <= LW_FAR_MM)
    return true;
  return lw_cl_fail (reading, error, _ ("%.60s is further out than 1 km"), text);
}
