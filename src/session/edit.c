/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "session/edit.h"

#include <glib/gi18n.h>

void
lw_edit_begin (LwEdit *edit, LwDocument *document)
{
  LwJob *job = lw_document_get_job (document);

  g_assert (job != NULL);
  *edit = (LwEdit){ .document = document, .root = json_node_ref (job->node) };
}

static void
set (LwEdit *edit, JsonNode *value, const char *path)
{
  JsonNode *changed;

  if (edit->error != NULL) {
    g_clear_pointer (&value, json_node_unref);
    return;
  }
  changed = lw_json_with (edit->root, path, value, &edit->error);
  if (changed == NULL)
    return;
  json_node_unref (edit->root);
  edit->root = changed;
}

void
lw_edit_set (LwEdit *edit, JsonNode *value, const char *path_format, ...)
{
  g_autofree char *path = NULL;
  va_list args;

  va_start (args, path_format);
  path = g_strdup_vprintf (path_format, args);
  va_end (args);
  set (edit, value, path);
}

JsonNode *
lw_edit_get (LwEdit *edit, const char *path_format, ...)
{
  g_autofree char *path = NULL;
  va_list args;

  va_start (args, path_format);
  path = g_strdup_vprintf (path_format, args);
  va_end (args);
  return lw_json_get (edit->root, path);
}

int
lw_edit_count (LwEdit *edit, const char *path_format, ...)
{
  g_autofree char *path = NULL;
  JsonNode *node;
  va_list args;

  va_start (args, path_format);
  path = g_strdup_vprintf (path_format, args);
  va_end (args);
  node = lw_json_get (edit->root, path);
  return node != NULL && JSON_NODE_HOLDS_ARRAY (node)
             ? (int)json_array_get_length (json_node_get_array (node))
             : 0;
}

const char *
lw_edit_get_string (LwEdit *edit, const char *path_format, ...)
{
  g_autofree char *path = NULL;
  JsonNode *node;
  const char *text = NULL;
  va_list args;

  va_start (args, path_format);
  path = g_strdup_vprintf (path_format, args);
  va_end (args);
  node = lw_json_get (edit->root, path);
  if (node != NULL && JSON_NODE_HOLDS_VALUE (node))
    text = json_node_get_string (node);
  return text != NULL ? text : "";
}

bool
lw_edit_commit (LwEdit *edit, const char *name, const char *coalesce, GError **error)
{
  g_autoptr (LwJob) job = NULL;

  if (edit->error == NULL)
    job = lw_job_with_node (lw_document_get_job (edit->document), edit->root, &edit->error);
  g_clear_pointer (&edit->root, json_node_unref);
  if (edit->error != NULL) {
    g_propagate_error (error, g_steal_pointer (&edit->error));
    return false;
  }
  lw_document_replace (edit->document, job, name, coalesce);
  return true;
}

/* ------------------------------------------------------------------------------------------------
 * Order */

void
lw_edit_move (LwEdit *edit, const char *array, int index, int by)
{
  int other = index + by;
  JsonNode *here = lw_edit_get (edit, "%s[%d]", array, index);
  JsonNode *there = lw_edit_get (edit, "%s[%d]", array, other);

  if (here == NULL || there == NULL || by == 0)
    return;
  json_node_ref (here);
  json_node_ref (there);
  lw_edit_set (edit, there, "%s[%d]", array, index);
  lw_edit_set (edit, here, "%s[%d]", array, other);
}
