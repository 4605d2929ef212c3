/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "session/recent.h"

#include "base/json.h"
#include "session/filestate.h"

#define FORMAT  "leeway-recent"
#define VERSION 1

static void
recent_file_free (gpointer data)
{
  LwRecentFile *file = (LwRecentFile *)data;

  g_free (file->path);
  g_free (file->title);
  g_free (file);
}

static LwRecentFile *
recent_file_new (char *path, char *title)
{
  LwRecentFile *file = g_new0 (LwRecentFile, 1);

  file->path = path;
  file->title = title;
  return file;
}

static GPtrArray *
new_list (void)
{
  return g_ptr_array_new_with_free_func (recent_file_free);
}

static GPtrArray *
read_list (const char *name, JsonNode *node, GError **error)
{
  static const char *const formats[] = { FORMAT, NULL };
  g_autoptr (GPtrArray) list = new_list ();
  LwIn *in = lw_in_new (name, "", node);
  int n;

  lw_in_word (in, "format", formats, -1);
  lw_in_int (in, "version", VERSION, VERSION);
  n = lw_in_array (in, "files", true);
  for (int i = 0; i < n; i++) {
    char *path, *title;

    lw_in_element (in, "files", i);
    path = lw_in_string (in, "path");
    title = lw_in_string (in, "title");
    lw_in_leave (in);
    g_ptr_array_add (list, recent_file_new (path, title));
  }
  return lw_in_finish (in, error) ? g_steal_pointer (&list) : NULL;
}

GPtrArray *
lw_recent_list (GError **error)
{
  g_autofree char *path = lw_dup_state_path ("recent.json");
  g_autoptr (JsonNode) node = NULL;

  if (!g_file_test (path, G_FILE_TEST_EXISTS))
    return new_list ();
  node = lw_json_load (path, error);
  return node != NULL ? read_list (path, node, error) : NULL;
}

static JsonNode *
list_to_node (GPtrArray *list)
{
  JsonObject *object = json_object_new ();
  JsonNode *node = json_node_init_object (json_node_alloc (), object);
  JsonArray *files = json_array_new ();

  for (guint i = 0; i < list->len; i++) {
    const LwRecentFile *file = (const LwRecentFile *)g_ptr_array_index (list, i);
    JsonObject *entry = json_object_new ();

    json_object_set_member (entry, "path", lw_json_new_string (file->path));
    json_object_set_member (entry, "title", lw_json_new_string (file->title));
    json_array_add_object_element (files, entry);
  }
  json_object_set_member (object, "format", lw_json_new_string (FORMAT));
  json_object_set_member (object, "version", lw_json_new_number (VERSION));
  json_object_set_array_member (object, "files", files);
  json_object_unref (object);
  return node;
}

static bool
save_list (GPtrArray *list, GError **error)
{
  g_autofree char *path = lw_dup_state_path ("recent.json");
  g_autoptr (JsonNode) node = list_to_node (list);

  return lw_json_save (node, path, error);
}

static void
take_out (GPtrArray *list, const char *path)
{
  for (guint i = list->len; i > 0; i--)
    if (g_str_equal (((const LwRecentFile *)g_ptr_array_index (list, i - 1))->path, path))
      g_ptr_array_remove_index (list, i - 1);
}

bool
lw_recent_add (const char *path, const char *title, GError **error)
{
  g_autoptr (GPtrArray) list = lw_recent_list (NULL);
  g_autofree char *full = g_canonicalize_filename (path, NULL);

  if (list == NULL)
    list = new_list ();
  take_out (list, full);
  g_ptr_array_insert (list, 0, recent_file_new (g_steal_pointer (&full), g_strdup (title)));
  if (list->len > LW_RECENT_LIMIT)
    g_ptr_array_set_size (list, LW_RECENT_LIMIT);
  return save_list (list, error);
}

bool
lw_recent_remove (const char *path, GError **error)
{
  g_autoptr (GPtrArray) list = lw_recent_list (error);
  g_autofree char *full = g_canonicalize_filename (path, NULL);

  if (list == NULL)
    return false;
  take_out (list, full);
  return save_list (list, error);
}
