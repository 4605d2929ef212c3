/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/inprivate.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/text.h"

#define MOST_QUOTED 40 /* characters of a string shown in a message */

/* An object that is being read. */
typedef struct {
  JsonObject *object; /* borrowed from the tree */
  char *path;
  GPtrArray *asked; /* keys, owned */
} Place;

struct _LwIn {
  char *name;
  GPtrArray *places; /* outermost first */
  JsonNode *root;
  GError *error;
};

static void
free_place (void *data)
{
  Place *place = data;

  g_free (place->path);
  g_ptr_array_unref (place->asked);
  g_free (place);
}

void
lw_in_push (LwIn *in, JsonNode *node, char *path)
{
  Place *place = g_new (Place, 1);

  *place = (Place){ json_node_get_object (node), path, g_ptr_array_new_with_free_func (g_free) };
  g_ptr_array_add (in->places, place);
}

static Place *
get_place (LwIn *in)
{
  g_assert (in->places->len > 0);
  return g_ptr_array_index (in->places, in->places->len - 1);
}

static char *
join_path (const char *path, const char *key)
{
  return key == NULL       ? g_strdup (path)
         : path[0] == '\0' ? g_strdup (key)
                           : g_strconcat (path, ".", key, NULL);
}

char *
lw_in_dup_path (LwIn *in, const char *key)
{
  return join_path (in->places->len > 0 ? get_place (in)->path : "", key);
}

static bool
has_asked (const Place *place, const char *key)
{
  return g_ptr_array_find_with_equal_func (place->asked, key, g_str_equal, NULL);
}

JsonNode *
lw_in_ask (LwIn *in, const char *key)
{
  if (in->error != NULL)
    return NULL;

  Place *place = get_place (in);

  if (!has_asked (place, key))
    g_ptr_array_add (place->asked, g_strdup (key));
  return json_object_get_member (place->object, key);
}

/* ------------------------------------------------------------------------------------------------
 * Errors. */

static void
record (LwIn *in, const char *path, const char *what)
{
  if (in->error != NULL)
    return;
  in->error = path[0] == '\0'
                  ? g_error_new (LW_ERROR, LW_ERROR_DATA, "%s: %s", in->name, what)
                  : g_error_new (LW_ERROR, LW_ERROR_DATA, "%s: %s: %s", in->name, path, what);
}

void
lw_in_fail (LwIn *in, const char *key, const char *format, ...)
{
  va_list args;

  if (in->error != NULL)
    return;
  g_autofree char *path = lw_in_dup_path (in, key);

  va_start (args, format);
  g_autofree char *what = g_strdup_vprintf (format, args);
  va_end (args);
  record (in, path, what);
}

static char *
describe_string (const char *string)
{
  bool is_long = g_utf8_strlen (string, -1) > MOST_QUOTED;
  g_autofree char *start = is_long ? g_utf8_substring (string, 0, MOST_QUOTED) : g_strdup (string);

  return g_strdup_printf ("\"%s%s\"", g_strdelimit (start, "\b\f\n\r\t\v", ' '),
                          is_long ? "…" : "");
}

/* "is …" of a message; new string. */
static char *
describe (JsonNode *node)
{
  char number[LW_NUMBER_SIZE];

  if (node == NULL)
    return g_strdup (_ ("is missing"));
  if (JSON_NODE_HOLDS_OBJECT (node))
    return g_strdup (_ ("is an object"));
  if (JSON_NODE_HOLDS_ARRAY (node))
    return g_strdup_printf (_ ("is an array of %u"),
                            json_array_get_length (json_node_get_array (node)));
  if (JSON_NODE_HOLDS_NULL (node))
    return g_strdup (_ ("is null"));

  GType type = json_node_get_value_type (node);

  if (type == G_TYPE_STRING) {
    g_autofree char *quoted = describe_string (json_node_get_string (node));
    return g_strdup_printf (_ ("is %s"), quoted);
  }
  if (type == G_TYPE_BOOLEAN)
    return g_strdup_printf (_ ("is %s"), json_node_get_boolean (node) ? "true" : "false");
  if (type == G_TYPE_INT64) {
    g_snprintf (number, sizeof number, "%" G_GINT64_FORMAT, json_node_get_int (node));
    return g_strdup_printf (_ ("is %s"), number);
  }
  return g_strdup_printf (_ ("is %s"), lw_number_to_text (json_node_get_double (node), number));
}

void
lw_in_fail_expected (LwIn *in, const char *path, const char *expected, JsonNode *found)
{
  g_autofree char *is = describe (found);
  g_autofree char *what = g_strdup_printf (_ ("must be %s, %s"), expected, is);

  record (in, path, what);
}

/* ------------------------------------------------------------------------------------------------
 */

LwIn *
lw_in_new (const char *name, const char *prefix, JsonNode *root)
{
  LwIn *in = g_new0 (LwIn, 1);

  in->name = g_strdup (name);
  in->places = g_ptr_array_new_with_free_func (free_place);
  if (root != NULL && JSON_NODE_HOLDS_OBJECT (root)) {
    in->root = json_node_ref (root);
    lw_in_push (in, root, g_strdup (prefix));
  } else {
    lw_in_fail_expected (in, prefix, _ ("an object"), root);
  }
  return in;
}

bool
lw_in_failed (LwIn *in)
{
  return in->error != NULL;
}

static void
check_unknown (LwIn *in)
{
  Place *place = get_place (in);
  JsonObjectIter iter;
  const char *key;

  json_object_iter_init_ordered (&iter, place->object);
  while (json_object_iter_next_ordered (&iter, &key, NULL)) {
    if (g_str_has_prefix (key, "x-") || has_asked (place, key))
      continue;

    g_ptr_array_add (place->asked, NULL); /* nothing is asked any more */
    g_autofree char *known = g_strjoinv (", ", (char **)place->asked->pdata);
    lw_in_fail (in, key, _ ("is not a key that belongs here; these do: %s"),
                known[0] != '\0' ? known : _ ("none"));
    return;
  }
}

void
lw_in_leave (LwIn *in)
{
  if (in->error == NULL)
    check_unknown (in);
  if (in->error == NULL)
    g_ptr_array_remove_index (in->places, in->places->len - 1);
}

bool
lw_in_finish (LwIn *in, GError **error)
{
  if (in->error == NULL) {
    g_assert (in->places->len == 1); /* each enter has its leave */
    check_unknown (in);
  }

  bool well = in->error == NULL;

  if (!well)
    g_propagate_error (error, in->error);
  g_ptr_array_unref (in->places);
  g_clear_pointer (&in->root, json_node_unref);
  g_free (in->name);
  g_free (in);
  return well;
}

bool
lw_in_has (LwIn *in, const char *key)
{
  return lw_in_ask (in, key) != NULL;
}

JsonNode *
lw_in_skip (LwIn *in, const char *key)
{
  return lw_in_ask (in, key);
}
