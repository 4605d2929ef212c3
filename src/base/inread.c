/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>
#include <limits.h>
#include <string.h>

#include "base/inprivate.h"
#include "base/text.h"
#include "base/tolerances.h"

static void
fail_key (LwIn *in, const char *key, const char *expected, JsonNode *found)
{
  g_autofree char *path = lw_in_dup_path (in, key);

  lw_in_fail_expected (in, path, expected, found);
}

static char *
dup_element_path (LwIn *in, const char *key, int index)
{
  g_autofree char *path = lw_in_dup_path (in, key);

  return g_strdup_printf ("%s[%d]", path, index);
}

/* ------------------------------------------------------------------------------------------------
 * Objects and arrays. */

bool
lw_in_enter (LwIn *in, const char *key, bool need)
{
  JsonNode *node = lw_in_ask (in, key);

  if (lw_in_failed (in) || (node == NULL && !need))
    return false;
  if (node == NULL || !JSON_NODE_HOLDS_OBJECT (node)) {
    fail_key (in, key, _ ("an object"), node);
    return false;
  }
  lw_in_push (in, node, lw_in_dup_path (in, key));
  return true;
}

/* The array at key, or NULL where it is absent or an error was recorded. */
static JsonArray *
get_array (LwIn *in, const char *key, const char *expected, bool need)
{
  JsonNode *node = lw_in_ask (in, key);

  if (lw_in_failed (in) || (node == NULL && !need))
    return NULL;
  if (node != NULL && JSON_NODE_HOLDS_ARRAY (node))
    return json_node_get_array (node);
  fail_key (in, key, expected, node);
  return NULL;
}

int
lw_in_array (LwIn *in, const char *key, bool need)
{
  JsonArray *array = get_array (in, key, _ ("an array"), need);

  return array != NULL ? (int)json_array_get_length (array) : 0;
}

void
lw_in_element (LwIn *in, const char *key, int index)
{
  JsonArray *array = get_array (in, key, _ ("an array"), true);

  if (array == NULL)
    return;
  g_assert (index >= 0 && (guint)index < json_array_get_length (array));

  JsonNode *node = json_array_get_element (array, (guint)index);
  g_autofree char *path = dup_element_path (in, key, index);

  if (JSON_NODE_HOLDS_OBJECT (node))
    lw_in_push (in, node, g_steal_pointer (&path));
  else
    lw_in_fail_expected (in, path, _ ("an object"), node);
}

/* ------------------------------------------------------------------------------------------------
 * Numbers. */

/* A limit that is the neighbor of a shorter number was meant as "beyond that number". */
static bool
is_beyond (double limit, double towards, char text[LW_NUMBER_SIZE])
{
  char beside[LW_NUMBER_SIZE];
  double neighbor = nextafter (limit, towards);

  lw_number_to_text (limit, text);
  if (!isfinite (neighbor))
    return false;
  lw_number_to_text (neighbor, beside);
  if (strlen (beside) + 8 > strlen (text))
    return false;
  memcpy (text, beside, LW_NUMBER_SIZE);
  return true;
}

/* "a number above 0 and not above 180"; new string. */
static char *
describe_range (const char *kind, double low, double high)
{
  char low_text[LW_NUMBER_SIZE], high_text[LW_NUMBER_SIZE];
  bool has_low = isfinite (low), has_high = isfinite (high);
  bool is_above = has_low && is_beyond (low, -INFINITY, low_text);
  bool is_below = has_high && is_beyond (high, INFINITY, high_text);
  GString *out = g_string_new (kind);

  if (has_low && has_high && !is_above && !is_below) {
    g_string_append_printf (out, _ (" from %s to %s"), low_text, high_text);
    return g_string_free (out, FALSE);
  }
  if (has_low)
    g_string_append_printf (out, is_above ? _ (" above %s") : _ (" not below %s"), low_text);
  if (has_low && has_high)
    g_string_append (out, _ (" and"));
  if (has_high)
    g_string_append_printf (out, is_below ? _ (" below %s") : _ (" not above %s"), high_text);
  return g_string_free (out, FALSE);
}

/* The number that node is; false when it is none. */
static bool
to_number (JsonNode *node, double *value)
{
  if (node == NULL || !JSON_NODE_HOLDS_VALUE (node))
    return false;

  GType type = json_node_get_value_type (node);

  if (type != G_TYPE_DOUBLE && type != G_TYPE_INT64)
    return false;
  *value = json_node_get_double (node);
  return true;
}

double
lw_in_number (LwIn *in, const char *key, double low, double high)
{
  JsonNode *node = lw_in_ask (in, key);
  double value;

  if (lw_in_failed (in))
    return 0;
  if (to_number (node, &value) && value >= low && value <= high)
    return value;

  g_autofree char *expected = describe_range (_ ("a number"), low, high);

  fail_key (in, key, expected, node);
  return 0;
}

double
lw_in_number_or (LwIn *in, const char *key, double low, double high, double absent)
{
  return lw_in_has (in, key) ? lw_in_number (in, key, low, high) : absent;
}

int
lw_in_int (LwIn *in, const char *key, int low, int high)
{
  JsonNode *node = lw_in_ask (in, key);
  double value;

  if (lw_in_failed (in))
    return 0;
  if (to_number (node, &value) && value >= low && value <= high && value == floor (value))
    return (int)value;

  g_autofree char *expected = describe_range (
      _ ("a whole number"), low == INT_MIN ? -INFINITY : low, high == INT_MAX ? INFINITY : high);

  fail_key (in, key, expected, node);
  return 0;
}

int
lw_in_int_or (LwIn *in, const char *key, int low, int high, int absent)
{
  return lw_in_has (in, key) ? lw_in_int (in, key, low, high) : absent;
}

bool
lw_in_bool_or (LwIn *in, const char *key, bool absent)
{
  JsonNode *node = lw_in_ask (in, key);

  if (node == NULL)
    return absent;
  if (JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_BOOLEAN)
    return json_node_get_boolean (node);
  fail_key (in, key, _ ("true or false"), node);
  return absent;
}

/* ------------------------------------------------------------------------------------------------
 * Strings. */

static const char *
to_string (JsonNode *node)
{
  bool is_string = node != NULL && JSON_NODE_HOLDS_VALUE (node)
                   && json_node_get_value_type (node) == G_TYPE_STRING;

  return is_string ? json_node_get_string (node) : NULL;
}

char *
lw_in_string (LwIn *in, const char *key)
{
  JsonNode *node = lw_in_ask (in, key);
  const char *string = to_string (node);

  if (string != NULL && string[0] != '\0')
    return g_strdup (string);
  fail_key (in, key, _ ("a text that is not empty"), node);
  return g_strdup ("");
}

char *
lw_in_string_or_null (LwIn *in, const char *key)
{
  JsonNode *node = lw_in_ask (in, key);
  const char *string = to_string (node);

  if (node != NULL && string == NULL)
    fail_key (in, key, _ ("a text"), node);
  return g_strdup (string);
}

int
lw_in_word (LwIn *in, const char *key, const char *const *words, int absent)
{
  JsonNode *node = lw_in_ask (in, key);
  const char *string = to_string (node);

  if (lw_in_failed (in) || (node == NULL && absent >= 0))
    return MAX (absent, 0);
  for (int i = 0; string != NULL && words[i] != NULL; i++)
    if (strcmp (words[i], string) == 0)
      return i;

  g_autofree char *list = g_strjoinv ("\", \"", (char **)words);
  g_autofree char *expected = words[0] != NULL && words[1] != NULL
                                  ? g_strdup_printf (_ ("one of \"%s\""), list)
                                  : g_strdup_printf ("\"%s\"", list);

  fail_key (in, key, expected, node);
  return MAX (absent, 0);
}

char **
lw_in_strings_or_null (LwIn *in, const char *key)
{
  JsonArray *array = get_array (in, key, _ ("an array of texts"), false);
  g_autoptr (GStrvBuilder) strings = g_strv_builder_new ();

  if (array == NULL)
    return NULL;
  for (guint i = 0; i < json_array_get_length (array); i++) {
    JsonNode *node = json_array_get_element (array, i);
    const char *string = to_string (node);
    if (string == NULL) {
      g_autofree char *path = dup_element_path (in, key, (int)i);
      lw_in_fail_expected (in, path, _ ("a text"), node);
      return NULL;
    }
    g_strv_builder_add (strings, string);
  }
  return g_strv_builder_end (strings);
}

/* ------------------------------------------------------------------------------------------------
 * Arrays of numbers. */

/* The n numbers that node is; false when it is none such. */
static bool
to_numbers (JsonNode *node, double *values, int n)
{
  JsonArray *array = JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;

  if (array == NULL || json_array_get_length (array) != (guint)n)
    return false;
  for (int i = 0; i < n; i++)
    if (!to_number (json_array_get_element (array, (guint)i), &values[i]))
      return false;
  return true;
}

/* The same with the error recorded; the array node stands at path. */
static bool
read_numbers (LwIn *in, const char *path, JsonNode *node, double *values, int n)
{
  JsonArray *array =
      node != NULL && JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;

  if (array == NULL || json_array_get_length (array) != (guint)n) {
    g_autofree char *expected = g_strdup_printf (_ ("an array of %d numbers"), n);
    lw_in_fail_expected (in, path, expected, node);
    return false;
  }
  for (int i = 0; i < n; i++) {
    JsonNode *element = json_array_get_element (array, (guint)i);
    if (!to_number (element, &values[i])) {
      g_autofree char *element_path = g_strdup_printf ("%s[%d]", path, i);
      lw_in_fail_expected (in, element_path, _ ("a number"), element);
      return false;
    }
  }
  return true;
}

bool
lw_in_numbers (LwIn *in, const char *key, double *values, int n, bool need)
{
  JsonNode *node = lw_in_ask (in, key);

  memset (values, 0, (size_t)n * sizeof *values);
  if (lw_in_failed (in) || (node == NULL && !need))
    return false;

  g_autofree char *path = lw_in_dup_path (in, key);

  return read_numbers (in, path, node, values, n);
}

LwVec3
lw_in_vec3 (LwIn *in, const char *key)
{
  double v[3];

  lw_in_numbers (in, key, v, 3, true);
  return lw_vec3 (v[0], v[1], v[2]);
}

LwVec3
lw_in_vec3_or (LwIn *in, const char *key, LwVec3 absent)
{
  return lw_in_has (in, key) ? lw_in_vec3 (in, key) : absent;
}

LwVec3 *
lw_in_points (LwIn *in, const char *key, int *n, bool need)
{
  JsonArray *array = get_array (in, key, _ ("an array of points"), need);

  *n = 0;
  if (array == NULL)
    return NULL;

  int length = (int)json_array_get_length (array);
  g_autofree LwVec3 *points = g_new (LwVec3, (gsize)MAX (length, 1));

  for (int i = 0; i < length; i++) {
    JsonNode *node = json_array_get_element (array, (guint)i);
    double v[3];
    if (!to_numbers (node, v, 3)) {
      g_autofree char *path = dup_element_path (in, key, i);
      read_numbers (in, path, node, v, 3);
      return NULL;
    }
    points[i] = lw_vec3 (v[0], v[1], v[2]);
  }
  *n = length;
  return g_steal_pointer (&points);
}

/* Largest error of an entry of MᵀM − 1. */
static double
rotation_error (LwMat3 m)
{
  LwMat3 square = lw_mat3_multiply (lw_mat3_transpose (m), m);
  LwVec3 columns[] = { square.c0, square.c1, square.c2 };
  double error = 0;

  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      error = fmax (error, fabs (lw_vec3_get (columns[i], j) - (i == j)));
  return error;
}

LwMat3
lw_in_rotation_or (LwIn *in, const char *key, LwMat3 absent)
{
  int n;
  g_autofree LwVec3 *rows = lw_in_points (in, key, &n, false);
  JsonNode *node = lw_in_ask (in, key);

  if (rows == NULL)
    return absent;
  if (n != 3) {
    fail_key (in, key, _ ("three rows of three numbers"), node);
    return absent;
  }

  LwMat3 m = lw_mat3_transpose ((LwMat3){ rows[0], rows[1], rows[2] });

  if (!(rotation_error (m) <= LW_ROTATION_TOL)) {
    lw_in_fail (in, key, _ ("must be a rotation: its rows of length 1 and square to each other"));
    return absent;
  }
  if (lw_mat3_determinant (m) < 0) {
    lw_in_fail (in, key, _ ("must be a rotation, is a mirroring (its determinant is -1)"));
    return absent;
  }
  return m;
}
