/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "files/clreading.h"

/* What a cycle's statement says. NAN: nothing. */
typedef struct {
  double depth, clear; /* mm */
} Description;

typedef enum {
  VALUE_NONE,
  VALUE_DEPTH,
  VALUE_HEIGHT, /* above the place: the highest counts */
  VALUE_OTHER,  /* a number that moves nothing beyond depth and height */
  VALUE_FEED,
  VALUE_UNKNOWN,
} Value;

static Value
get_value (const char *word)
{
  static const struct {
    const char *word;
    Value value;
  } words[] = {
    { "DEPTH", VALUE_DEPTH },   { "CLEAR", VALUE_HEIGHT }, { "RAPTO", VALUE_HEIGHT },
    { "RTRCTO", VALUE_HEIGHT }, { "DWELL", VALUE_OTHER },  { "STEP", VALUE_OTHER },
    { "INCR", VALUE_OTHER },    { "PITCH", VALUE_OTHER },  { "MMPM", VALUE_FEED },
    { "MMPR", VALUE_FEED },     { "IPM", VALUE_FEED },     { "IPR", VALUE_FEED },
    { "PERMIN", VALUE_FEED },   { "PERREV", VALUE_FEED },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (strcmp (words[i].word, word) == 0)
      return words[i].value;
  return VALUE_UNKNOWN;
}

static bool
take (const LwClReading *reading, Description *found, Value value, const char *text, GError **error)
{
  double number;

  if (value == VALUE_OTHER || value == VALUE_FEED || value == VALUE_UNKNOWN)
    return lw_cl_number (reading, text, &number, error);
  if (!lw_cl_length (reading, text, &number, error))
    return false;
  if (number < 0)
    return lw_cl_fail (reading, error, _ ("a cycle's depth and heights must not be below 0"));
  if (value == VALUE_DEPTH)
    found->depth = number;
  else
    found->clear = isnan (found->clear) ? number : fmax (found->clear, number);
  return true;
}

/* After the kind either words, each with its number, or numbers in the order depth, feed,
 * clearance; a unit of feed may stand on either side of its number. */
static bool
describe (LwClReading *reading, const GPtrArray *list, Description *found, GError **error)
{
  static const Value order[] = { VALUE_DEPTH, VALUE_FEED, VALUE_HEIGHT, VALUE_UNKNOWN };
  Value named = VALUE_NONE;
  guint n_bare = 0;

  for (guint i = 1; i < list->len; i++) {
    const char *text = list->pdata[i];
    Value value;

    if (lw_cl_is_number (text)) {
      value = named != VALUE_NONE ? named : order[MIN (n_bare, 3)];
      n_bare += named == VALUE_NONE;
      named = VALUE_NONE;
      if (value == VALUE_UNKNOWN)
        lw_cl_lose (reading, _ ("the cycle's number %.60s is not understood."), text);
      if (!take (reading, found, value, text, error))
        return false;
      continue;
    }
    named = get_value (text);
    if (named == VALUE_FEED && n_bare == 2)
      named = VALUE_NONE;
    if (named == VALUE_UNKNOWN)
      lw_cl_lose (reading, _ ("the cycle's word %.60s is not understood."), text);
  }
  return true;
}

static bool
start (LwClReading *reading, const LwClStatement *statement, const char *kind, GError **error)
{
  static const char *const kinds[] = { "DRILL", "BORE",  "TAP",   "DEEP",   "REAM",
                                       "FACE",  "CSINK", "CBORE", "BRKCHP", NULL };
  Description found = { NAN, NAN };

  if (!describe (reading, statement->list, &found, error))
    return false;
  if (!g_strv_contains (kinds, kind))
    lw_cl_lose (reading, _ ("a cycle %.60s is not followed."), kind);
  else if (isnan (found.depth))
    lw_cl_lose (reading, _ ("the cycle does not say its depth."));
  else if (isnan (found.clear))
    lw_cl_leave_open (reading, _ ("the cycle does not say how far above the places it comes and "
                                  "goes (CLEAR)."));
  reading->cycle = (LwClCycle){ true, true, isnan (found.depth) ? 0 : found.depth,
                                isnan (found.clear) ? 0 : found.clear };
  return true;
}

bool
lw_cl_cycle (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  const char *kind = statement->list->len > 0 ? statement->list->pdata[0] : "";

  if (reading->circle_line > 0)
    return lw_cl_fail (reading, error, _ ("CIRCLE on line %d has no motion"), reading->circle_line);
  if (lw_cl_is_number (kind) || *kind == '\0')
    return lw_cl_fail (reading, error, _ ("CYCLE takes a kind (DRILL …), ON or OFF, found “%.60s”"),
                       kind);
  if (g_str_equal (kind, "OFF")) {
    reading->cycle.on = false;
    return true;
  }
  if (!g_str_equal (kind, "ON"))
    return start (reading, statement, kind, error);
  if (!reading->cycle.known)
    return lw_cl_fail (reading, error, _ ("CYCLE/ON, but no cycle was described before"));
  reading->cycle.on = true;
  return true;
}
