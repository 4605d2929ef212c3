/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "job/reading.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/tolerances.h"

LwVec3
lw_read_direction (LwIn *in, const char *key)
{
  LwVec3 direction = lw_in_vec3 (in, key);
  double largest = fmax (fabs (direction.x), fmax (fabs (direction.y), fabs (direction.z)));

  if (lw_in_failed (in))
    return lw_vec3 (0, 0, 1);
  if (largest < LW_DIRECTION_MIN) {
    lw_in_fail (in, key, _ ("must be a direction, is zero"));
    return lw_vec3 (0, 0, 1);
  }
  /* scaled first, so that no square overflows */
  return lw_vec3_unit (lw_vec3_scale (direction, 1 / largest));
}

LwVec3
lw_read_size (LwIn *in, const char *key)
{
  LwVec3 size = lw_in_vec3 (in, key);

  if (!lw_in_failed (in) && !(size.x > 0 && size.y > 0 && size.z > 0))
    lw_in_fail (in, key, _ ("must be three lengths above 0"));
  return size;
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
