/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "half-hull.h"

#include <fcntl.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "near.h"
#include "session/document.h"
#include "session/history.h"
#include "session/journal.h"
#include "session/library.h"
#include "session/recent.h"

#define YAW "setups[0].placed[0].yaw_deg"

typedef struct {
  HalfHull hull;
  LwMeshStore *store;
  LwDocument *document;
  int changes;
} Fixture;

static void
count_change (LwDocument *document, Fixture *f)
{
  f->changes++;
}

static void
open_document (Fixture *f)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (lw_document_open (f->document, f->hull.path, &error));
  g_assert_no_error (error);
}

static void
set_up (Fixture *f, gconstpointer data)
{
  half_hull_set_up (&f->hull);
  f->store = lw_mesh_store_new ();
  f->document = lw_document_new (f->store);
  g_signal_connect (f->document, "changed", G_CALLBACK (count_change), f);
  open_document (f);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_assert_finalize_object (f->document);
  lw_mesh_store_unref (f->store);
  half_hull_clear (&f->hull);
}

static void
turn (LwDocument *document, double yaw_deg, const char *name, const char *coalesce)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (
      lw_document_set (document, YAW, lw_json_new_number (yaw_deg), name, coalesce, &error));
  g_assert_no_error (error);
}

static double
get_yaw (LwDocument *document)
{
  return lw_degrees (lw_document_get_job (document)->setups[0].placed[0].yaw);
}

static char *
dup_text (LwDocument *document)
{
  return lw_job_to_text (lw_document_get_job (document));
}

static char *
read_file (const char *path)
{
  g_autoptr (GError) error = NULL;
  char *text;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  return text;
}

/* Runs the main loop until *what is as wanted; fails after ten seconds. */
#define wait_until(condition)                                    \
  G_STMT_START                                                   \
  {                                                              \
    gint64 end_ = g_get_monotonic_time () + 10 * G_USEC_PER_SEC; \
    while (!(condition)) {                                       \
      g_assert_cmpint (g_get_monotonic_time (), <, end_);        \
      if (!g_main_context_iteration (NULL, FALSE))               \
        g_usleep (1000);                                         \
    }                                                            \
  }                                                              \
  G_STMT_END

/* ------------------------------------------------------------------------------------------------
 * Edits and history */

static void
test_edit (Fixture *f, gconstpointer data)
{
  g_autofree char *title = NULL;
  gboolean modified, can_undo, can_redo;
  g_autoptr (GError) error = NULL;

  g_assert_false (lw_document_is_modified (f->document));
  g_assert_null (lw_document_get_undo_name (f->document));
  f->changes = 0;
  turn (f->document, 30, "Turn part", NULL);
  g_assert_cmpint (f->changes, ==, 1);
  assert_near (get_yaw (f->document), 30, 1e-12);
  g_object_get (f->document, "title", &title, "modified", &modified, "can-undo", &can_undo,
                "can-redo", &can_redo, NULL);
  g_assert_cmpstr (title, ==, "Half hull plug");
  g_assert_true (modified && can_undo && !can_redo);
  g_assert_cmpstr (lw_document_get_undo_name (f->document), ==, "Turn part");

  g_assert_false (
      lw_document_set (f->document, YAW, lw_json_new_number (1000), "Turn part", NULL, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
  g_assert_nonnull (strstr (error->message, "setups[0].placed[0].yaw_deg"));
  g_assert_cmpint (f->changes, ==, 1);
  assert_near (get_yaw (f->document), 30, 1e-12);

  lw_document_undo (f->document);
  assert_near (get_yaw (f->document), 0, 0);
  g_assert_false (lw_document_is_modified (f->document));
  g_assert_cmpstr (lw_document_get_redo_name (f->document), ==, "Turn part");
  lw_document_undo (f->document);
  lw_document_redo (f->document);
  lw_document_redo (f->document);
  assert_near (get_yaw (f->document), 30, 1e-12);
  g_assert_cmpint (f->changes, ==, 3);
}

static int
count_undos (LwDocument *document)
{
  int n = 0;

  while (lw_document_get_undo_name (document) != NULL) {
    lw_document_undo (document);
    n++;
  }
  return n;
}

static void
test_coalescing (Fixture *f, gconstpointer data)
{
  for (int i = 1; i <= 100; i++)
    turn (f->document, i, "Turn part", "yaw plug-1");
  lw_document_end_coalescing (f->document);
  for (int i = 1; i <= 100; i++)
    turn (f->document, -i, "Turn part", "yaw plug-1");
  turn (f->document, 5, "Turn other", "yaw plug-2");
  turn (f->document, 6, "Type yaw", NULL);
  turn (f->document, 7, "Type yaw", NULL);

  lw_document_undo (f->document);
  lw_document_undo (f->document);
  lw_document_undo (f->document);
  assert_near (get_yaw (f->document), -100, 1e-12);
  lw_document_undo (f->document);
  assert_near (get_yaw (f->document), 100, 1e-12);
  /* a run does not go on where undo came back to it */
  turn (f->document, 3, "Turn part", "yaw plug-1");
  lw_document_undo (f->document);
  assert_near (get_yaw (f->document), 100, 1e-12);
  lw_document_undo (f->document);
  assert_near (get_yaw (f->document), 0, 0);
  g_assert_false (lw_document_is_modified (f->document));

  /* nor across a save, which must stay a state that undo can reach */
  turn (f->document, 1, "Turn part", "yaw plug-1");
  g_assert_true (lw_document_save (f->document, NULL, false, NULL));
  turn (f->document, 2, "Turn part", "yaw plug-1");
  g_assert_true (lw_document_is_modified (f->document));
  lw_document_undo (f->document);
  assert_near (get_yaw (f->document), 1, 1e-12);
  g_assert_false (lw_document_is_modified (f->document));
}

/* A history as plain as it gets: every state's text. */
typedef struct {
  GPtrArray *texts, *keys;
  guint at, saved;
} Slow;

static void
slow_edit (Slow *slow, char *text, const char *key)
{
  bool at_end = slow->at + 1 == slow->texts->len;
  const char *last = (const char *)g_ptr_array_index (slow->keys, slow->at);

  g_ptr_array_set_size (slow->texts, (int)slow->at + 1);
  g_ptr_array_set_size (slow->keys, (int)slow->at + 1);
  if (at_end && key[0] != '\0' && g_str_equal (key, last)) {
    g_ptr_array_set_size (slow->texts, (int)slow->at);
    g_ptr_array_set_size (slow->keys, (int)slow->at);
    slow->saved = slow->saved == slow->at ? G_MAXUINT : slow->saved;
  } else {
    slow->at++;
  }
  if (slow->saved != G_MAXUINT && slow->saved >= slow->at)
    slow->saved = G_MAXUINT;
  g_ptr_array_add (slow->texts, text);
  g_ptr_array_add (slow->keys, g_strdup (key));
}

static void
slow_end_run (Slow *slow)
{
  g_free (slow->keys->pdata[slow->at]);
  slow->keys->pdata[slow->at] = g_strdup ("");
}

static void
test_random_walk (Fixture *f, gconstpointer data)
{
  static const char *const keys[] = { "", "a", "b" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (42);
  Slow slow = { g_ptr_array_new_with_free_func (g_free), g_ptr_array_new_with_free_func (g_free), 0,
                0 };

  g_ptr_array_add (slow.texts, dup_text (f->document));
  g_ptr_array_add (slow.keys, g_strdup (""));
  for (int i = 0; i < 2000; i++) {
    g_autofree char *text = NULL;
    int what = g_rand_int_range (rand, 0, 100);

    if (what < 50) {
      const char *key = keys[g_rand_int_range (rand, 0, 3)];

      turn (f->document, g_rand_double_range (rand, -180, 180), "Turn", key[0] ? key : NULL);
      slow_edit (&slow, dup_text (f->document), key);
    } else if (what < 70) {
      lw_document_undo (f->document);
      if (slow.at > 0) {
        slow_end_run (&slow);
        slow.at--;
        slow_end_run (&slow);
      }
    } else if (what < 88) {
      lw_document_redo (f->document);
      if (slow.at + 1 < slow.texts->len) {
        slow.at++;
        slow_end_run (&slow);
      }
    } else if (what < 96) {
      lw_document_end_coalescing (f->document);
      slow_end_run (&slow);
    } else {
      g_assert_true (lw_document_save (f->document, NULL, false, NULL));
      slow_end_run (&slow);
      slow.saved = slow.at;
    }
    text = dup_text (f->document);
    g_assert_cmpstr (text, ==, (const char *)g_ptr_array_index (slow.texts, slow.at));
    g_assert_true ((lw_document_get_undo_name (f->document) != NULL) == (slow.at > 0));
    g_assert_true ((lw_document_get_redo_name (f->document) != NULL)
                   == (slow.at + 1 < slow.texts->len));
    g_assert_true (lw_document_is_modified (f->document) == (slow.at != slow.saved));
  }
  g_ptr_array_unref (slow.texts);
  g_ptr_array_unref (slow.keys);
}

static void
test_history_limit (Fixture *f, gconstpointer data)
{
  for (int i = 0; i < LW_HISTORY_LIMIT + 50; i++)
    turn (f->document, i % 360, "Turn", NULL);
  g_assert_cmpint (count_undos (f->document), ==, LW_HISTORY_LIMIT);
  assert_near (get_yaw (f->document), 49, 1e-9);
  g_assert_true (lw_document_is_modified (f->document));
}

/* ------------------------------------------------------------------------------------------------
 * Saving */

static void
test_save (Fixture *f, gconstpointer data)
{
  g_autofree char *other = g_build_filename (f->hull.folder, "other", "b.leeway", NULL);
  g_autofree char *folder = g_path_get_dirname (other);
  g_autofree char *text = NULL;
  g_autofree char *disk = NULL;
  g_autoptr (GError) error = NULL;

  turn (f->document, 12, "Turn", NULL);
  g_assert_true (lw_document_save (f->document, NULL, false, &error));
  g_assert_no_error (error);
  g_assert_false (lw_document_is_modified (f->document));
  g_assert_cmpint (lw_document_get_saved_at (f->document), >, 0);
  text = dup_text (f->document);
  disk = read_file (f->hull.path);
  g_assert_cmpstr (disk, ==, text);

  g_mkdir (folder, 0700);
  g_assert_true (lw_document_save (f->document, other, false, &error));
  g_assert_no_error (error);
  g_assert_cmpstr (lw_document_get_path (f->document), ==, other);
  g_assert_cmpstr (lw_document_get_job (f->document)->parts[0].mesh_file, ==, "../half-hull.stl");
  /* an older state, undone to, belongs to the new place when it is saved there */
  lw_document_undo (f->document);
  g_assert_true (lw_document_save (f->document, NULL, false, &error));
  g_assert_no_error (error);
  g_assert_true (lw_document_open (f->document, other, &error));
  lw_document_load_meshes_async (f->document);
  wait_until (!lw_document_is_loading (f->document));
  g_assert_cmpint (lw_document_get_job (f->document)->parts[0].mesh.state, ==, LW_MESH_READY);
  assert_near (get_yaw (f->document), 0, 0);
}

static void
test_file_changed (Fixture *f, gconstpointer data)
{
  g_autofree char *own = read_file (f->hull.path);
  g_autofree char *foreign = g_strconcat (own, "\n", NULL);
  g_autofree char *disk = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_false (lw_document_file_changed (f->document));
  turn (f->document, 12, "Turn", NULL);
  half_hull_write (f->hull.path, foreign, strlen (foreign));
  g_assert_true (lw_document_file_changed (f->document));
  g_assert_false (lw_document_save (f->document, NULL, false, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_WRITE);
  g_assert_nonnull (strstr (error->message, f->hull.path));
  g_assert_true (lw_document_is_modified (f->document));
  disk = read_file (f->hull.path);
  g_assert_cmpstr (disk, ==, foreign);
  g_clear_error (&error);

  g_assert_true (lw_document_save (f->document, NULL, true, &error));
  g_assert_false (lw_document_file_changed (f->document));

  /* same content, same size: written again, or with one byte another */
  g_free (disk);
  disk = read_file (f->hull.path);
  half_hull_write (f->hull.path, disk, strlen (disk));
  g_assert_false (lw_document_file_changed (f->document));
  disk[strlen (disk) - 1] = ' ';
  half_hull_write (f->hull.path, disk, strlen (disk));
  g_assert_true (lw_document_file_changed (f->document));

  /* gone: nothing of another's is lost by saving */
  g_remove (f->hull.path);
  g_assert_true (lw_document_file_changed (f->document));
  g_assert_true (lw_document_save (f->document, NULL, false, &error));
  g_assert_no_error (error);
  g_assert_false (lw_document_file_changed (f->document));
}

static void
test_open_failure (Fixture *f, gconstpointer data)
{
  g_autofree char *bad = g_build_filename (f->hull.folder, "bad.leeway", NULL);
  LwJob *job = lw_document_get_job (f->document);
  g_autoptr (GError) error = NULL;

  half_hull_write (bad, "{\"format\": 1}", 13);
  g_assert_false (lw_document_open (f->document, bad, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
  g_assert_true (g_str_has_prefix (error->message, "bad.leeway: format: "));
  g_assert_true (lw_document_get_job (f->document) == job);
  g_assert_cmpstr (lw_document_get_path (f->document), ==, f->hull.path);
}

/* In a process of its own, since rights and limits can't be had back. Answers whether saving failed
 * with LW_ERROR_WRITE and left document and file as they were. */
static bool
save_fails_cleanly (Fixture *f, void (*hinder) (Fixture *f))
{
  int status;
  pid_t child = fork ();

  g_assert_cmpint (child, >=, 0);
  if (child == 0) {
    g_autofree char *before = read_file (f->hull.path);
    g_autofree char *after = NULL;
    g_autoptr (GError) error = NULL;
    bool clean;

    hinder (f);
    clean = !lw_document_save (f->document, NULL, false, &error)
            && g_error_matches (error, LW_ERROR, LW_ERROR_WRITE)
            && lw_document_is_modified (f->document);
    after = read_file (f->hull.path);
    _exit (clean && g_str_equal (before, after) ? 0 : 1);
  }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  return WIFEXITED (status) && WEXITSTATUS (status) == 0;
}

/* Root may write anywhere: be somebody else. */
static void
make_read_only (Fixture *f)
{
  g_assert_cmpint (chmod (f->hull.path, 0644), ==, 0);
  g_assert_cmpint (chmod (f->hull.folder, 0555), ==, 0);
  if (geteuid () == 0)
    g_assert_cmpint (seteuid (65534), ==, 0);
}

static void
fill_disk (Fixture *f)
{
  struct rlimit limit = { 100, 100 };

  signal (SIGXFSZ, SIG_IGN);
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &limit), ==, 0);
}

static void
test_save_failures (Fixture *f, gconstpointer data)
{
  g_autofree char *nowhere = g_build_filename (f->hull.folder, "no", "such", "a.leeway", NULL);
  g_autoptr (GError) error = NULL;
  int files = 0;
  g_autoptr (GDir) dir = NULL;

  turn (f->document, 12, "Turn", NULL);
  g_assert_true (save_fails_cleanly (f, fill_disk));
  g_assert_true (save_fails_cleanly (f, make_read_only));
  g_assert_cmpint (chmod (f->hull.folder, 0700), ==, 0);
  g_assert_false (lw_document_save (f->document, nowhere, false, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_WRITE);
  g_assert_cmpstr (lw_document_get_path (f->document), ==, f->hull.path);

  /* nothing half written is left behind */
  dir = g_dir_open (f->hull.folder, 0, NULL);
  while (g_dir_read_name (dir) != NULL)
    files++;
  g_assert_cmpint (files, ==, 2);
}

/* ------------------------------------------------------------------------------------------------
 * Meshes in the background */

static void
test_meshes (Fixture *f, gconstpointer data)
{
  LwPart *part = &lw_document_get_job (f->document)->parts[0];

  g_assert_cmpint (part->mesh.state, ==, LW_MESH_LOADING);
  lw_document_load_meshes_async (f->document);
  turn (f->document, 12, "Turn", NULL); /* the mesh must find the newer job */
  wait_until (!lw_document_is_loading (f->document));
  part = &lw_document_get_job (f->document)->parts[0];
  g_assert_cmpint (part->mesh.state, ==, LW_MESH_READY);
  assert_near (get_yaw (f->document), 12, 1e-12);
  lw_document_undo (f->document);
  part = &lw_document_get_job (f->document)->parts[0];
  g_assert_cmpint (part->mesh.state, ==, LW_MESH_READY);
  g_assert_false (lw_document_is_modified (f->document));

  g_remove (f->hull.mesh);
  lw_document_load_meshes_async (f->document);
  wait_until (!lw_document_is_loading (f->document));
  part = &lw_document_get_job (f->document)->parts[0];
  g_assert_cmpint (part->mesh.state, ==, LW_MESH_MISSING);
}

/* ------------------------------------------------------------------------------------------------
 * Journal */

static void
test_journal (Fixture *f, gconstpointer data)
{
  LwJournal *journal = lw_journal_new (f->document);
  g_autoptr (GPtrArray) found = NULL;
  g_autoptr (GError) error = NULL;

  turn (f->document, 12, "Turn", NULL);
  g_assert_true (lw_journal_write (journal, &error));
  g_assert_no_error (error);
  found = lw_journal_find (); /* this program still runs */
  g_assert_cmpint (found->len, ==, 0);
  g_assert_true (lw_document_save (f->document, NULL, false, &error));
  turn (f->document, 13, "Turn", NULL);
  lw_journal_free (journal);
  g_ptr_array_unref (found);
  found = lw_journal_find ();
  g_assert_cmpint (found->len, ==, 0);
}

/* The state folder of another session, in which everything of the child is. */
typedef struct {
  GPid pid;
  char *folder;
} Child;

static Child
spawn_child (const char *job_path)
{
  Child child = { 0, g_dir_make_tmp ("leeway-state-XXXXXX", NULL) };
  char *words[] = { g_strdup (g_get_prgname ()), NULL, NULL, NULL, NULL };
  g_auto (GStrv) env = g_get_environ ();
  g_autoptr (GError) error = NULL;

  g_free (words[0]);
  words[0] = (char *)"/proc/self/exe";
  words[1] = (char *)"--edit";
  words[2] = (char *)job_path;
  words[3] = child.folder;
  env = g_environ_setenv (env, "XDG_STATE_HOME", child.folder, TRUE);
  g_spawn_async (NULL, words, env, G_SPAWN_DO_NOT_REAP_CHILD, NULL, NULL, &child.pid, &error);
  g_assert_no_error (error);
  return child;
}

/* The child's main loop: an edit every 20 ms, each logged with its time before the next. */
typedef struct {
  LwDocument *document;
  int log, edits;
} Editor;

static gboolean
edit_and_log (gpointer data)
{
  Editor *editor = (Editor *)data;
  g_autofree char *line = NULL;

  editor->edits++;
  turn (editor->document, editor->edits * 0.01, "Turn", NULL);
  line = g_strdup_printf ("%d %" G_GINT64_FORMAT "\n", editor->edits, g_get_monotonic_time ());
  g_assert_cmpint (write (editor->log, line, strlen (line)), ==, (int)strlen (line));
  return G_SOURCE_CONTINUE;
}

static int
run_child (const char *job_path, const char *folder)
{
  g_autoptr (LwMeshStore) store = lw_mesh_store_new ();
  LwDocument *document = lw_document_new (store);
  g_autofree char *log = g_build_filename (folder, "log", NULL);
  Editor editor = { document, open (log, O_WRONLY | O_CREAT | O_APPEND, 0600), 0 };

  g_assert_true (lw_document_open (document, job_path, NULL));
  lw_journal_new (document);
  g_timeout_add (20, edit_and_log, &editor);
  g_main_loop_run (g_main_loop_new (NULL, FALSE));
  return 0;
}

/* The number of the last edit made at or before a time. */
static int
find_edit (char **lines, gint64 time_us)
{
  int last = 0;

  for (int i = 0; lines[i] != NULL && lines[i][0] != '\0'; i++) {
    g_auto (GStrv) words = g_strsplit (lines[i], " ", 2);

    if (words[1] != NULL && g_ascii_strtoll (words[1], NULL, 10) <= time_us)
      last = (int)g_ascii_strtoll (words[0], NULL, 10);
  }
  return last;
}

/* Puts the child's leftover where this program's own would be, and recovers it. */
static void
recover_from (Fixture *f, const Child *child, gint64 killed_us, const char *original)
{
  g_autofree char *log_path = g_build_filename (child->folder, "log", NULL);
  g_autofree char *log = read_file (log_path);
  g_auto (GStrv) lines = g_strsplit (log, "\n", -1);
  g_autofree char *theirs = g_build_filename (child->folder, "leeway", "journal", NULL);
  g_autofree char *ours = g_build_filename (g_get_user_state_dir (), "leeway", "journal", NULL);
  g_autoptr (GPtrArray) found = NULL;
  g_autoptr (GPtrArray) after = NULL;
  g_autoptr (GError) error = NULL;
  LwJournal *journal;
  const LwLeftover *leftover;
  int edits, last = find_edit (lines, G_MAXINT64);
  int a_second_ago = find_edit (lines, killed_us - G_USEC_PER_SEC);

  half_hull_remove_tree (ours);
  g_assert_cmpint (g_rename (theirs, ours), ==, 0);
  found = lw_journal_find ();
  if (a_second_ago == 0 && found->len == 0)
    return; /* killed within its first second */
  g_assert_cmpint (found->len, ==, 1);
  leftover = (const LwLeftover *)g_ptr_array_index (found, 0);
  g_assert_true (leftover->readable);
  g_assert_cmpstr (leftover->title, ==, "Half hull plug");
  g_assert_cmpstr (leftover->path, ==, f->hull.path);
  g_assert_cmpint (leftover->when, >, 0);

  journal = lw_journal_new (f->document);
  g_assert_true (lw_journal_recover (journal, leftover->journal, &error));
  g_assert_no_error (error);
  edits = (int)lround (get_yaw (f->document) * 100);
  g_test_message ("killed after %d edits, %d a second before; recovered %d", last, a_second_ago,
                  edits);
  g_assert_cmpint (edits, >=, a_second_ago);
  g_assert_cmpint (edits, <=, last);
  g_assert_true (lw_document_is_modified (f->document));
  g_assert_cmpstr (lw_document_get_path (f->document), ==, f->hull.path);
  g_assert_false (lw_document_file_changed (f->document));

  /* all but the edited number is the file's */
  turn (f->document, 0, "Turn", NULL);
  {
    g_autofree char *text = dup_text (f->document);

    g_assert_cmpstr (text, ==, original);
  }
  after = lw_journal_find ();
  g_assert_cmpint (after->len, ==, 0);
  lw_journal_free (journal);
}

#define N_KILLS 20

static void
test_kill (Fixture *f, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (9);
  g_autofree char *original = dup_text (f->document);
  Child children[N_KILLS];
  gint64 kill_at[N_KILLS], killed[N_KILLS] = { 0 };
  int left = N_KILLS;

  for (int i = 0; i < N_KILLS; i++) {
    children[i] = spawn_child (f->hull.path);
    kill_at[i] = g_get_monotonic_time () + (gint64)(g_rand_double_range (rand, 0.5, 4) * 1e6);
  }
  while (left > 0) {
    for (int i = 0; i < N_KILLS; i++)
      if (killed[i] == 0 && g_get_monotonic_time () >= kill_at[i]) {
        killed[i] = g_get_monotonic_time ();
        g_assert_cmpint (kill (children[i].pid, SIGKILL), ==, 0);
        g_assert_cmpint (waitpid (children[i].pid, NULL, 0), ==, children[i].pid);
        g_spawn_close_pid (children[i].pid);
        left--;
      }
    g_usleep (1000);
  }
  for (int i = 0; i < N_KILLS; i++) {
    recover_from (f, &children[i], killed[i], original);
    half_hull_remove_tree (children[i].folder);
    g_free (children[i].folder);
    open_document (f);
  }
}

/* ------------------------------------------------------------------------------------------------
 * Recent files, library */

static void
test_recent (Fixture *f, gconstpointer data)
{
  g_autoptr (GPtrArray) list = lw_recent_list (NULL);
  g_autoptr (GError) error = NULL;
  g_autofree char *file = g_build_filename (g_get_user_state_dir (), "leeway", "recent.json", NULL);
  const LwRecentFile *first;

  g_assert_cmpint (list->len, ==, 0);
  for (int i = 0; i < LW_RECENT_LIMIT + 3; i++) {
    g_autofree char *path = g_strdup_printf ("/jobs/%d.leeway", i);

    g_assert_true (lw_recent_add (path, "A job", &error));
  }
  g_assert_true (lw_recent_add ("/jobs/5.leeway", "Fünf", &error));
  g_assert_true (lw_recent_remove ("/jobs/9.leeway", &error));
  g_ptr_array_unref (list);
  list = lw_recent_list (&error);
  g_assert_no_error (error);
  g_assert_cmpint (list->len, ==, LW_RECENT_LIMIT - 1);
  first = (const LwRecentFile *)g_ptr_array_index (list, 0);
  g_assert_cmpstr (first->path, ==, "/jobs/5.leeway");
  g_assert_cmpstr (first->title, ==, "Fünf");

  half_hull_write (file, "{", 1);
  g_assert_null (lw_recent_list (&error));
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
  g_assert_true (lw_recent_add ("/jobs/1.leeway", "One", NULL));
  g_ptr_array_unref (list);
  list = lw_recent_list (NULL);
  g_assert_cmpint (list->len, ==, 1);
}

static const LwLibraryMachine *
find_machine (GPtrArray *list, const char *id)
{
  const LwLibraryMachine *found = NULL;

  for (guint i = 0; i < list->len; i++) {
    const LwLibraryMachine *item = (const LwLibraryMachine *)g_ptr_array_index (list, i);

    if (item->machine != NULL && g_strcmp0 (item->machine->id, id) == 0) {
      g_assert_null (found);
      found = item;
    }
  }
  return found;
}

static void
test_library (Fixture *f, gconstpointer data)
{
  g_autoptr (GPtrArray) shipped = lw_library_list_machines ();
  g_autoptr (GPtrArray) both = NULL;
  g_autofree char *bad =
      g_build_filename (g_get_user_data_dir (), "leeway", "machines", "bad.leeway-machine", NULL);
  g_autoptr (GError) error = NULL;
  const LwLibraryMachine *alder;

  g_assert_cmpint (shipped->len, >=, 3);
  for (guint i = 0; i < shipped->len; i++) {
    const LwLibraryMachine *item = (const LwLibraryMachine *)g_ptr_array_index (shipped, i);

    g_assert_true (item->shipped);
    g_assert_null (item->problem);
    g_assert_nonnull (item->machine);
  }

  g_assert_true (lw_library_save_machine (lw_document_get_job (f->document)->machine, &error));
  g_assert_no_error (error);
  half_hull_write (bad, "{}", 2);
  both = lw_library_list_machines ();
  alder = find_machine (both, "alder");
  g_assert_nonnull (alder);
  g_assert_false (alder->shipped);
  g_assert_nonnull (strstr (((const LwLibraryMachine *)g_ptr_array_index (both, 1))->problem,
                            "bad.leeway-machine"));
  g_remove (bad);
}

#define ADD(name, func) g_test_add ("/session/" name, Fixture, NULL, set_up, func, tear_down)

int
main (int argc, char *argv[])
{
  g_autofree char *home = NULL;
  int result;

  if (argc == 4 && g_str_equal (argv[1], "--edit"))
    return run_child (argv[2], argv[3]);

  home = g_dir_make_tmp ("leeway-home-XXXXXX", NULL);
  g_setenv ("XDG_STATE_HOME", home, TRUE);
  g_setenv ("XDG_DATA_HOME", home, TRUE);
  g_test_init (&argc, &argv, NULL);
  ADD ("edit", test_edit);
  ADD ("coalescing", test_coalescing);
  ADD ("random-walk", test_random_walk);
  ADD ("history-limit", test_history_limit);
  ADD ("save", test_save);
  ADD ("file-changed", test_file_changed);
  ADD ("open-failure", test_open_failure);
  ADD ("save-failures", test_save_failures);
  ADD ("meshes", test_meshes);
  ADD ("journal", test_journal);
  ADD ("kill", test_kill);
  ADD ("recent", test_recent);
  ADD ("library", test_library);
  result = g_test_run ();
  half_hull_remove_tree (home);
  return result;
}
