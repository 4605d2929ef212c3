/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "job/reading.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/tolerances.h"

bool
lw_make_direction (LwVec3 value, LwVec3 *unit)
{
  double largest = fmax (fabs (value.x), fmax (fabs (value.y), fabs (value.z)));

  if (!(largest >= LW_DIRECTION_MIN))
    return false;
  /* scaled first, so that no square overflows */
  *unit = lw_vec3_unit (lw_vec3_scale (value, 1 / largest));
  return true;
}

LwVec3
lw_read_direction (LwIn *in, const char *key)
{
  LwVec3 unit = { 0, 0, 1 };
  LwVec3 value = lw_in_vec3 (in, key);

  if (!lw_in_failed (in) && !lw_make_direction (value, &unit))
    lw_in_fail (in, key, _ ("must be a direction, is zero"));
  return unit;
}

LwVec3
lw_read_size (LwIn *in, const char *key)
{
  LwVec3 size = lw_in_place (in, key);

  if (!lw_in_failed (in) && !(size.x > 0 && size.y > 0 && size.z > 0))
    lw_in_fail (in, key, _ ("must be three lengths above 0 mm"));
  return size;
}

char *
lw_read_text_or_null (LwIn *in, const char *key)
{
  return lw_in_has (in, key) ? lw_in_string (in, key) : NULL;
}

double
lw_read_length_or (LwIn *in, const char *key, double absent_mm)
{
  return lw_in_number_or (in, key, 0, LW_FAR_MM, absent_mm);
}

LwVec3 *
lw_read_places (LwIn *in, const char *key, int *n, bool need)
{
  LwVec3 *places = lw_in_points (in, key, n, need);

  for (int i = 0; i < *n && !lw_in_failed (in); i++)
    if (fmax (fabs (places[i].x), fmax (fabs (places[i].y), fabs (places[i].z))) > LW_FAR_MM)
      lw_in_fail (in, key, _ ("point %d must lie within 1000 m of the origin"), i);
  return places;
}

char *
lw_read_sha256_or_null (LwIn *in, const char *key)
{
  char *text = lw_in_string_or_null (in, key);

  if (text == NULL)
    return NULL;
  if (strlen (text) != 64 || strspn (text, "0123456789abcdefABCDEF") != 64)
    lw_in_fail (in, key, _ ("must be 64 hexadecimal digits"));
  for (char *c = text; *c != '\0'; c++)
    *c = g_ascii_tolower (*c);
  return text;
}

bool
lw_read_range_deg (LwIn *in, const char *key, double limit, double *low, double *high)
{
  if (!lw_in_enter (in, key, false))
    return false;
  *low = lw_radians (lw_in_number (in, "low", -limit, limit));
  *high = lw_radians (lw_in_number (in, "high", -limit, limit));
  if (!lw_in_failed (in) && *low > *high)
    lw_in_fail (in, "high", _ ("must not be below “low”"));
  lw_in_leave (in);
  return true;
}

int
lw_find_name (const char *const *names, int n_names, const char *name)
{
  if (name == NULL)
    return -1;
  for (int i = 0; i < n_names; i++)
    if (g_strcmp0 (names[i], name) == 0)
      return i;
  return -1;
}

void
lw_read_expect_new (LwIn *in, const char *key, const char *const *names, int n_names,
                    const char *name)
{
  if (lw_find_name (names, n_names, name) >= 0)
    lw_in_fail (in, key, _ ("“%s” is used twice"), name);
}

char *
lw_list_names (const char *const *names, int n_names, const char *none)
{
  g_autoptr (GString) list = g_string_new (NULL);

  for (int i = 0; i < n_names; i++)
    g_string_append_printf (list, "%s“%s”", i > 0 ? ", " : "", names[i]);
  return g_strdup (n_names > 0 ? list->str : none);
}
