/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>
#include <string.h>

#include "base/json.h"

/* One step of a path: a key, or an index where key is NULL. */
typedef struct {
  char *key;
  guint index;
} Step;

typedef struct {
  const char *path;
  GArray *steps;
  JsonNode *value; /* owned until it is put in; NULL removes */
  GError **error;
} Edit;

static void
clear_step (void *data)
{
  g_free (((Step *)data)->key);
}

static bool
is_key_char (char c)
{
  return g_ascii_isalnum (c) || c == '_' || c == '-' || c == '\'';
}

/* "[12]" with p at the bracket: behind it, or NULL. */
static const char *
parse_index (const char *p, guint *index)
{
  guint64 value = 0;
  const char *digits = ++p;

  for (; g_ascii_isdigit (*p) && value <= G_MAXINT; p++)
    value = value * 10 + (guint64)g_ascii_digit_value (*p);
  if (p == digits || *p != ']' || value > G_MAXINT)
    return NULL;
  *index = (guint)value;
  return p + 1;
}

/* NULL when path is no path. */
static GArray *
parse_path (const char *path)
{
  g_autoptr (GArray) steps = g_array_new (FALSE, FALSE, sizeof (Step));

  g_array_set_clear_func (steps, clear_step);
  for (const char *p = path; *p != '\0';) {
    Step step = { NULL, 0 };
    if (*p == '[') {
      p = parse_index (p, &step.index);
      if (p == NULL)
        return NULL;
    } else {
      if (p != path && *p++ != '.')
        return NULL;
      const char *start = p;
      while (is_key_char (*p))
        p++;
      if (p == start)
        return NULL;
      step.key = g_strndup (start, (gsize)(p - start));
    }
    g_array_append_val (steps, step);
  }
  return g_steal_pointer (&steps);
}

JsonNode *
lw_json_get (JsonNode *root, const char *path)
{
  g_autoptr (GArray) steps = parse_path (path);
  JsonNode *node = root;

  for (guint i = 0; steps != NULL && i < steps->len && node != NULL; i++) {
    const Step *step = &g_array_index (steps, Step, i);
    if (step->key != NULL && JSON_NODE_HOLDS_OBJECT (node)) {
      node = json_object_get_member (json_node_get_object (node), step->key);
    } else if (step->key == NULL && JSON_NODE_HOLDS_ARRAY (node)) {
      JsonArray *array = json_node_get_array (node);
      bool is_there = step->index < json_array_get_length (array);
      node = is_there ? json_array_get_element (array, step->index) : NULL;
    } else {
      node = NULL;
    }
  }
  return steps != NULL ? node : NULL;
}

/* ------------------------------------------------------------------------------------------------
 */

static JsonNode *
take_object (JsonObject *object)
{
  JsonNode *node = json_node_init_object (json_node_alloc (), object);

  json_object_unref (object);
  return node;
}

static JsonNode *
take_array (JsonArray *array)
{
  JsonNode *node = json_node_init_array (json_node_alloc (), array);

  json_array_unref (array);
  return node;
}

static JsonNode *edit_node (Edit *edit, JsonNode *node, guint depth);

/* node is NULL where there is nothing yet. */
static JsonNode *
edit_object (Edit *edit, JsonNode *node, const char *wanted, guint depth)
{
  JsonObject *object = json_object_new ();
  g_autoptr (JsonNode) result = take_object (object);
  bool is_removal = edit->value == NULL, was_there = false;
  JsonObjectIter iter;
  const char *key;
  JsonNode *value;

  if (node != NULL) {
    json_object_iter_init_ordered (&iter, json_node_get_object (node));
    while (json_object_iter_next_ordered (&iter, &key, &value)) {
      bool is_it = strcmp (key, wanted) == 0;
      was_there |= is_it;
      if (is_it && is_removal && depth + 1 == edit->steps->len)
        continue;
      JsonNode *new_value = is_it ? edit_node (edit, value, depth + 1) : json_node_ref (value);
      if (new_value == NULL)
        return NULL;
      json_object_set_member (object, key, new_value);
    }
  }
  if (!was_there && !is_removal) {
    JsonNode *new_value = edit_node (edit, NULL, depth + 1);
    if (new_value == NULL)
      return NULL;
    json_object_set_member (object, wanted, new_value);
  }
  return g_steal_pointer (&result);
}

static JsonNode *
edit_array (Edit *edit, JsonNode *node, guint index, guint depth)
{
  JsonArray *old = node != NULL ? json_node_get_array (node) : NULL;
  guint length = old != NULL ? json_array_get_length (old) : 0;
  JsonArray *array = json_array_sized_new (length + 1);
  g_autoptr (JsonNode) result = take_array (array);
  bool is_removal = edit->value == NULL;

  if (index > length || (is_removal && index == length)) {
    g_set_error (edit->error, LW_ERROR, LW_ERROR_DATA,
                 _ ("%s: there are only %u elements, no [%u]"), edit->path, length, index);
    return NULL;
  }
  for (guint i = 0; i < MAX (length, index + 1); i++) {
    JsonNode *value = i < length ? json_array_get_element (old, i) : NULL;
    if (i == index && is_removal && depth + 1 == edit->steps->len)
      continue;
    JsonNode *new_value = i == index ? edit_node (edit, value, depth + 1) : json_node_ref (value);
    if (new_value == NULL)
      return NULL;
    json_array_add_element (array, new_value);
  }
  return g_steal_pointer (&result);
}

/* A copy of node with the edit made from step depth on; NULL and the error set where it can't be.
 */
static JsonNode *
edit_node (Edit *edit, JsonNode *node, guint depth)
{
  if (depth == edit->steps->len)
    return g_steal_pointer (&edit->value);

  const Step *step = &g_array_index (edit->steps, Step, depth);

  if (step->key != NULL && (node == NULL || JSON_NODE_HOLDS_OBJECT (node)))
    return edit_object (edit, node, step->key, depth);
  if (step->key == NULL && (node == NULL || JSON_NODE_HOLDS_ARRAY (node)))
    return edit_array (edit, node, step->index, depth);
  if (step->key != NULL)
    g_set_error (edit->error, LW_ERROR, LW_ERROR_DATA,
                 _ ("%s: what should hold “%s” is not an object"), edit->path, step->key);
  else
    g_set_error (edit->error, LW_ERROR, LW_ERROR_DATA,
                 _ ("%s: what should hold [%u] is not an array"), edit->path, step->index);
  return NULL;
}

JsonNode *
lw_json_with (JsonNode *root, const char *path, JsonNode *value, GError **error)
{
  g_autoptr (GArray) steps = parse_path (path);
  Edit edit = { path, steps, value, error };
  JsonNode *result = NULL;

  if (steps == NULL || (steps->len == 0 && value == NULL))
    g_set_error (error, LW_ERROR, LW_ERROR_DATA, _ ("“%s” is not a path to a value"), path);
  else
    result = edit_node (&edit, root, 0);
  if (result != NULL)
    json_node_seal (result); /* what trees share can't be changed through one of them */
  g_clear_pointer (&edit.value, json_node_unref);
  return result;
}

JsonNode *
lw_json_new_object (const char *first, ...)
{
  JsonObject *object = json_object_new ();
  JsonNode *node = json_node_init_object (json_node_alloc (), object);
  va_list pairs;

  va_start (pairs, first);
  for (const char *name = first; name != NULL; name = va_arg (pairs, const char *))
    json_object_set_member (object, name, va_arg (pairs, JsonNode *));
  va_end (pairs);
  json_object_unref (object);
  return node;
}
