/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "job/reading.h"

char *
lw_path_make_relative (const char *path, const char *folder)
{
  g_autofree char *to = g_canonicalize_filename (path, "/");
  g_autofree char *from = g_canonicalize_filename (folder, "/");
  g_auto (GStrv) to_names = g_strsplit (to + 1, "/", -1);
  g_auto (GStrv) from_names = g_strsplit (from + 1, "/", -1);
  g_autoptr (GString) relative = g_string_new (NULL);
  int shared = 0;

  while (to_names[shared] != NULL && to_names[shared + 1] != NULL && from_names[shared] != NULL
         && g_str_equal (to_names[shared], from_names[shared]))
    shared++;
  if (shared == 0)
    return g_steal_pointer (&to);
  for (int i = shared; from_names[i] != NULL; i++)
    g_string_append (relative, "../");
  for (int i = shared; to_names[i] != NULL; i++)
    g_string_append_printf (relative, "%s%s", to_names[i], to_names[i + 1] != NULL ? "/" : "");
  return g_strdup (relative->str);
}

/* ------------------------------------------------------------------------------------------------
 * A file name stands in a part's "mesh", in a mesh solid's "file" and in an attitude's "file". */

typedef struct {
  JsonNode *root; /* owned; NULL after an error */
  const char *from, *to;
  GError **error;
} Move;

static void
move_value (Move *move, const char *path)
{
  JsonNode *node = move->root != NULL ? lw_json_get (move->root, path) : NULL;
  const char *name =
      node != NULL && JSON_NODE_HOLDS_VALUE (node) ? json_node_get_string (node) : NULL;
  g_autofree char *full = NULL;
  g_autofree char *moved = NULL;
  JsonNode *root;

  if (name == NULL || g_path_is_absolute (name))
    return;
  full = g_canonicalize_filename (name, move->from);
  moved = lw_path_make_relative (full, move->to);
  root = lw_json_with (move->root, path, lw_json_new_string (moved), move->error);
  json_node_unref (move->root);
  move->root = root;
}

static void
move_each (Move *move, const char *list, const char *key)
{
  JsonNode *node = move->root != NULL ? lw_json_get (move->root, list) : NULL;
  int n = node != NULL && JSON_NODE_HOLDS_ARRAY (node)
              ? (int)json_array_get_length (json_node_get_array (node))
              : 0;

  for (int i = 0; i < n; i++) {
    g_autofree char *path = g_strdup_printf ("%s[%d].%s", list, i, key);

    move_value (move, path);
  }
}

static void
move_setup (Move *move, int index)
{
  g_autofree char *fixture = g_strdup_printf ("setups[%d].fixture", index);
  g_autofree char *operations = g_strdup_printf ("setups[%d].operations", index);

  move_each (move, fixture, "solid.file");
  move_each (move, operations, "attitude.file");
}

LwJob *
lw_job_with_file (LwJob *job, const char *path, GError **error)
{
  g_autofree char *name = g_filename_display_basename (path);
  g_autofree char *full = g_canonicalize_filename (path, NULL);
  g_autofree char *folder = g_path_get_dirname (full);
  Move move = { json_node_ref (job->node), job->folder, folder, error };
  LwJobReading reading = { folder, job->store, false, NULL, job };
  LwJob *moved;

  if (!g_str_equal (job->folder, folder)) {
    move_each (&move, "parts", "mesh");
    move_each (&move, "machine.bodies", "solid.file");
    move_each (&move, "machine.zones.shapes", "solid.file");
    for (int i = 0; i < job->n_setups; i++)
      move_setup (&move, i);
  } else if (g_str_equal (job->name, name)) {
    json_node_unref (move.root);
    return lw_job_ref (job);
  }
  if (move.root == NULL)
    return NULL;
  moved = lw_job_read_tree (name, move.root, &reading, error);
  json_node_unref (move.root);
  return moved;
}
