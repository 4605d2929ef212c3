/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <string.h>

#include "base/json.h"
#include "base/text.h"

#define LINE_LENGTH 100

static void write_node (GString *out, JsonNode *node, int indent);

static void
write_string (GString *out, const char *string)
{
  g_autofree char *valid = g_utf8_make_valid (string != NULL ? string : "", -1);

  g_string_append_c (out, '"');
  for (const char *c = valid; *c != '\0'; c++) {
    static const char meant[] = "\"\\\b\f\n\r\t", escapes[] = "\"\\bfnrt";
    const char *which = strchr (meant, *c);
    if (which != NULL)
      g_string_append_printf (out, "\\%c", escapes[which - meant]);
    else if ((guchar)*c < 0x20)
      g_string_append_printf (out, "\\u%04x", (guchar)*c);
    else
      g_string_append_c (out, *c);
  }
  g_string_append_c (out, '"');
}

static void
write_value (GString *out, JsonNode *node)
{
  GType type = json_node_get_value_type (node);
  char number[LW_NUMBER_SIZE];

  if (type == G_TYPE_STRING)
    write_string (out, json_node_get_string (node));
  else if (type == G_TYPE_BOOLEAN)
    g_string_append (out, json_node_get_boolean (node) ? "true" : "false");
  else if (type == G_TYPE_INT64) /* all digits, also beyond what a double holds */
    g_string_append_printf (out, "%" G_GINT64_FORMAT, json_node_get_int (node));
  else
    g_string_append (out, lw_number_to_text (json_node_get_double (node), number));
}

static bool
is_number (JsonNode *node)
{
  if (!JSON_NODE_HOLDS_VALUE (node))
    return false;

  GType type = json_node_get_value_type (node);

  return type == G_TYPE_DOUBLE || type == G_TYPE_INT64;
}

static bool
holds_only (JsonArray *array, bool (*is_such) (JsonNode *node))
{
  for (guint i = 0; i < json_array_get_length (array); i++)
    if (!is_such (json_array_get_element (array, i)))
      return false;
  return true;
}

static bool
is_number_array (JsonNode *node)
{
  return JSON_NODE_HOLDS_ARRAY (node) && holds_only (json_node_get_array (node), is_number);
}

static void
write_array_on_a_line (GString *out, JsonArray *array)
{
  g_string_append_c (out, '[');
  for (guint i = 0; i < json_array_get_length (array); i++) {
    if (i > 0)
      g_string_append (out, ", ");
    write_node (out, json_array_get_element (array, i), 0);
  }
  g_string_append_c (out, ']');
}

static void
start_line (GString *out, int indent)
{
  g_string_append_printf (out, "\n%*s", indent, "");
}

/* Arrays of numbers stand on one line; arrays of such arrays too where the line holds them. */
static void
write_array (GString *out, JsonArray *array, int indent)
{
  gsize start = out->len;
  const char *line_end = memrchr (out->str, '\n', out->len);
  gsize line = line_end != NULL ? (gsize)(line_end + 1 - out->str) : 0;

  if (holds_only (array, is_number)) {
    write_array_on_a_line (out, array);
    return;
  }
  if (holds_only (array, is_number_array)) {
    write_array_on_a_line (out, array);
    if (out->len - line <= LINE_LENGTH)
      return;
    g_string_truncate (out, start);
  }
  g_string_append_c (out, '[');
  for (guint i = 0; i < json_array_get_length (array); i++) {
    if (i > 0)
      g_string_append_c (out, ',');
    start_line (out, indent + 2);
    write_node (out, json_array_get_element (array, i), indent + 2);
  }
  start_line (out, indent);
  g_string_append_c (out, ']');
}

static void
write_object (GString *out, JsonObject *object, int indent)
{
  JsonObjectIter iter;
  const char *key;
  JsonNode *value;
  bool is_first = true;

  g_string_append_c (out, '{');
  json_object_iter_init_ordered (&iter, object);
  while (json_object_iter_next_ordered (&iter, &key, &value)) {
    if (!is_first)
      g_string_append_c (out, ',');
    is_first = false;
    start_line (out, indent + 2);
    write_string (out, key);
    g_string_append (out, ": ");
    write_node (out, value, indent + 2);
  }
  if (!is_first)
    start_line (out, indent);
  g_string_append_c (out, '}');
}

static void
write_node (GString *out, JsonNode *node, int indent)
{
  switch (json_node_get_node_type (node)) {
  case JSON_NODE_OBJECT:
    write_object (out, json_node_get_object (node), indent);
    break;
  case JSON_NODE_ARRAY:
    write_array (out, json_node_get_array (node), indent);
    break;
  case JSON_NODE_VALUE:
    write_value (out, node);
    break;
  case JSON_NODE_NULL:
    g_string_append (out, "null");
    break;
  default:
    g_assert_not_reached ();
  }
}

char *
lw_json_to_text (JsonNode *node)
{
  GString *out = g_string_new (NULL);

  write_node (out, node, 0);
  g_string_append_c (out, '\n');
  return g_string_free (out, FALSE);
}
