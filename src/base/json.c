/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/json.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/jsonscan.h"

JsonNode *
lw_json_parse (const char *name, const char *text, gsize length, GError **error)
{
  g_autoptr (GError) cause = NULL;

  if (!lw_json_scan (name, text, length, error))
    return NULL;

  g_autoptr (JsonParser) parser = json_parser_new_immutable ();

  if (!json_parser_load_from_data (parser, text, (gssize)length, &cause)) {
    g_set_error (error, LW_ERROR, LW_ERROR_DATA, "%s: %s", name, cause->message);
    return NULL;
  }
  return json_parser_steal_root (parser);
}

JsonNode *
lw_json_load (const char *path, GError **error)
{
  g_autofree char *name = g_filename_display_name (path);
  g_autofree char *text = NULL;
  gsize length;

  if (!lw_file_load (path, &text, &length, error))
    return NULL;
  return lw_json_parse (name, text, length, error);
}

bool
lw_json_save (JsonNode *node, const char *path, GError **error)
{
  g_autofree char *text = lw_json_to_text (node);

  return lw_file_save (path, text, strlen (text), error);
}

/* ------------------------------------------------------------------------------------------------
 */

JsonNode *
lw_json_new_number (double value)
{
  g_assert (isfinite (value));
  return json_node_init_double (json_node_alloc (), value);
}

JsonNode *
lw_json_new_string (const char *value)
{
  return json_node_init_string (json_node_alloc (), value);
}

JsonNode *
lw_json_new_bool (bool value)
{
  return json_node_init_boolean (json_node_alloc (), value);
}

JsonNode *
lw_json_new_vec3 (LwVec3 value)
{
  g_autoptr (JsonArray) array = json_array_sized_new (3);

  for (int axis = 0; axis < 3; axis++)
    json_array_add_element (array, lw_json_new_number (lw_vec3_get (value, axis)));
  return json_node_init_array (json_node_alloc (), array);
}
