/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "session/leftover.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "session/filestate.h"

#define SUFFIX ".leeway-journal"

static char *
dup_lock_path (const char *file)
{
  return g_strconcat (file, ".lock", NULL);
}

/* −1 with errno when another holds it. The kernel lets go of it however a program ends. */
static int
take_lock (const char *file)
{
  g_autofree char *path = dup_lock_path (file);
  int lock = open (path, O_RDWR | O_CREAT | O_CLOEXEC, 0600);

  if (lock >= 0 && flock (lock, LOCK_EX | LOCK_NB) != 0) {
    close (lock);
    return -1;
  }
  return lock;
}

bool
lw_leftover_create (char **file, int *lock, GError **error)
{
  g_autofree char *id = g_uuid_string_random ();
  g_autofree char *name = g_strconcat ("journal/", id, SUFFIX, NULL);

  *file = lw_dup_state_path (name);
  *lock = take_lock (*file);
  if (*lock >= 0)
    return true;
  g_set_error (error, LW_ERROR, LW_ERROR_WRITE, _ ("%s: can't be written: %s"), *file,
               g_strerror (errno));
  g_clear_pointer (file, g_free);
  return false;
}

void
lw_leftover_remove (const char *file, int lock)
{
  g_autofree char *path = dup_lock_path (file);

  g_unlink (file);
  g_unlink (path);
  if (lock >= 0)
    close (lock);
}

void
lw_leftover_free (LwLeftover *leftover)
{
  g_free (leftover->journal);
  g_free (leftover->title);
  g_free (leftover->path);
  g_free (leftover);
}

/* ------------------------------------------------------------------------------------------------
 * Reading */

/* Everything but the job. */
typedef struct {
  char *title, *path, *folder, *sha256;
} Head;

static void
head_clear (Head *head)
{
  g_free (head->title);
  g_free (head->path);
  g_free (head->folder);
  g_free (head->sha256);
}

static JsonNode *
read_head (const char *file, Head *head, GError **error)
{
  static const char *const formats[] = { LW_JOURNAL_FORMAT, NULL };
  g_autoptr (JsonNode) node = lw_json_load (file, error);
  JsonNode *job;
  LwIn *in;

  *head = (Head){ 0 };
  if (node == NULL)
    return NULL;
  if (!JSON_NODE_HOLDS_OBJECT (node)) {
    g_set_error (error, LW_ERROR, LW_ERROR_DATA, _ ("%s: must be a JSON object"), file);
    return NULL;
  }
  in = lw_in_new (file, "", node);
  lw_in_word (in, "format", formats, -1);
  lw_in_int (in, "version", LW_JOURNAL_VERSION, LW_JOURNAL_VERSION);
  head->title = lw_in_string (in, "title");
  head->path = lw_in_string_or_null (in, "path");
  head->folder = lw_in_string (in, "folder");
  head->sha256 = lw_in_string_or_null (in, "sha256");
  job = lw_in_skip (in, "job");
  if (!lw_in_failed (in) && (job == NULL || !JSON_NODE_HOLDS_OBJECT (job)))
    lw_in_fail (in, "job", _ ("must be a job"));
  return lw_in_finish (in, error) ? g_steal_pointer (&node) : NULL;
}

bool
lw_leftover_read (const char *file, LwMeshStore *store, LwJob **job, char **path, char **sha256,
                  GError **error)
{
  Head head;
  g_autoptr (JsonNode) node = read_head (file, &head, error);
  g_autofree char *name = g_filename_display_basename (head.path != NULL ? head.path : file);

  if (node != NULL)
    *job = lw_job_read (name, head.folder, lw_json_get (node, "job"), store, false, NULL, error);
  else
    *job = NULL;
  *path = g_steal_pointer (&head.path);
  *sha256 = g_steal_pointer (&head.sha256);
  head_clear (&head);
  return *job != NULL;
}

/* ------------------------------------------------------------------------------------------------
 * Finding */

static LwLeftover *
look_at (const char *file)
{
  g_autoptr (GError) error = NULL;
  struct stat info;
  LwLeftover *leftover;
  JsonNode *node;
  Head head;

  if (stat (file, &info) != 0)
    return NULL;
  node = read_head (file, &head, &error);
  leftover = g_new0 (LwLeftover, 1);
  leftover->journal = g_strdup (file);
  leftover->readable = node != NULL;
  leftover->title = node != NULL ? g_steal_pointer (&head.title) : g_strdup (error->message);
  leftover->path = g_steal_pointer (&head.path);
  leftover->when = info.st_mtim.tv_sec * G_GINT64_CONSTANT (1000000) + info.st_mtim.tv_nsec / 1000;
  head_clear (&head);
  g_clear_pointer (&node, json_node_unref);
  return leftover;
}

static LwLeftover *
look_at_if_left (const char *folder, const char *name)
{
  g_autofree char *file = g_build_filename (folder, name, NULL);
  LwLeftover *leftover;
  int lock;

  if (!g_str_has_suffix (name, SUFFIX))
    return NULL;
  lock = take_lock (file);
  if (lock < 0)
    return NULL;
  leftover = look_at (file);
  close (lock);
  return leftover;
}

static int
compare_when (gconstpointer a, gconstpointer b)
{
  const LwLeftover *left = *(const LwLeftover *const *)a, *right = *(const LwLeftover *const *)b;

  return left->when != right->when ? (left->when < right->when ? 1 : -1)
                                   : g_strcmp0 (left->journal, right->journal);
}

GPtrArray *
lw_journal_find (void)
{
  GPtrArray *found = g_ptr_array_new_with_free_func ((GDestroyNotify)lw_leftover_free);
  g_autofree char *inside = lw_dup_state_path ("journal/.");
  g_autofree char *folder = g_path_get_dirname (inside);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL) {
    LwLeftover *leftover = look_at_if_left (folder, name);

    if (leftover != NULL)
      g_ptr_array_add (found, leftover);
  }
  g_ptr_array_sort (found, compare_when);
  return found;
}

void
lw_journal_discard (const char *leftover)
{
  lw_leftover_remove (leftover, take_lock (leftover));
}
