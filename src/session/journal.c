/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "session/journal.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <pthread.h>
#include <string.h>

#include "session/filestate.h"
#include "session/leftover.h"
#include "session/worker.h"

/* From an edit to the writing of it; with the writing itself it stays under a second. */
#define DELAY_MS 400

struct _LwJournal {
  LwDocument *document;
  gulong changed_handler;
  guint timer;
  LwWorker *writer;
  char *file; /* NULL before the first writing */
  int lock;   /* held while file stands; −1: none */
  char *problem;
  guint64 written; /* stamp of the state last written or on its way */
};

/* What is to be written, as a value for the writer's thread. */
typedef struct {
  LwJob *job;
  char *file, *title, *path, *sha256;
} Snapshot;

static void
snapshot_free (gpointer data)
{
  Snapshot *snapshot = (Snapshot *)data;

  lw_job_unref (snapshot->job);
  g_free (snapshot->file);
  g_free (snapshot->title);
  g_free (snapshot->path);
  g_free (snapshot->sha256);
  g_free (snapshot);
}

static Snapshot *
snapshot_new (LwJournal *journal)
{
  LwDocument *document = journal->document;
  Snapshot *snapshot = g_new0 (Snapshot, 1);

  snapshot->job = lw_job_ref (lw_document_get_job (document));
  snapshot->file = g_strdup (journal->file);
  snapshot->title = g_strdup (lw_document_get_title (document));
  snapshot->path = g_strdup (lw_document_get_path (document));
  snapshot->sha256 = g_strdup (lw_document_get_file_sha256 (document));
  return snapshot;
}

static void
set_string (JsonObject *object, const char *key, const char *value)
{
  if (value != NULL && value[0] != '\0')
    json_object_set_member (object, key, lw_json_new_string (value));
}

static bool
snapshot_write (const Snapshot *snapshot, GError **error)
{
  JsonObject *object = json_object_new ();
  g_autoptr (JsonNode) node = json_node_init_object (json_node_alloc (), object);

  set_string (object, "format", LW_JOURNAL_FORMAT);
  json_object_set_member (object, "version", lw_json_new_number (LW_JOURNAL_VERSION));
  set_string (object, "title", snapshot->title);
  set_string (object, "path", snapshot->path);
  set_string (object, "sha256", snapshot->sha256);
  set_string (object, "folder", snapshot->job->folder);
  json_object_set_member (object, "job", json_node_ref (snapshot->job->node));
  json_object_unref (object);
  return lw_json_save (node, snapshot->file, error);
}

/* The worker's answer: what went wrong, or "". */
static gpointer
write_snapshot (gpointer input, LwProgress *progress, gpointer data)
{
  g_autoptr (GError) error = NULL;

  return g_strdup (snapshot_write ((const Snapshot *)input, &error) ? "" : error->message);
}

static void
note_outcome (LwJournal *journal, const char *problem)
{
  g_free (journal->problem);
  journal->problem = problem[0] != '\0' ? g_strdup (problem) : NULL;
}

static void
take_outcome (gpointer input, gpointer result, gpointer data)
{
  note_outcome ((LwJournal *)data, (const char *)result);
}

static void
start_writer (LwJournal *journal)
{
  LwWorkerDef def = { write_snapshot, take_outcome, snapshot_free, g_free, journal };

  journal->writer = lw_worker_new (&def);
}

/* ------------------------------------------------------------------------------------------------
 * When to write */

static bool
needs_file (LwJournal *journal)
{
  return lw_document_is_modified (journal->document);
}

static bool
is_written (LwJournal *journal)
{
  return journal->written == lw_document_get_stamp (journal->document);
}

static bool
open_file (LwJournal *journal, GError **error)
{
  if (journal->file != NULL)
    return true;
  return lw_leftover_create (&journal->file, &journal->lock, error);
}

/* Waits for a writing under way, so that it can't bring the file back. */
static void
remove_file (LwJournal *journal)
{
  if (journal->file == NULL)
    return;
  lw_worker_free (journal->writer);
  lw_leftover_remove (journal->file, journal->lock);
  journal->lock = -1;
  g_clear_pointer (&journal->file, g_free);
  g_clear_pointer (&journal->problem, g_free);
  journal->written = 0;
  start_writer (journal);
}

static gboolean
on_timer (gpointer data)
{
  LwJournal *journal = (LwJournal *)data;
  g_autoptr (GError) error = NULL;

  journal->timer = 0;
  if (!needs_file (journal) || is_written (journal))
    return G_SOURCE_REMOVE;
  if (!open_file (journal, &error)) {
    note_outcome (journal, error->message);
    return G_SOURCE_REMOVE;
  }
  journal->written = lw_document_get_stamp (journal->document);
  lw_worker_submit (journal->writer, snapshot_new (journal));
  return G_SOURCE_REMOVE;
}

static void
on_changed (LwDocument *document, LwJournal *journal)
{
  if (!needs_file (journal)) {
    g_clear_handle_id (&journal->timer, g_source_remove);
    remove_file (journal);
  } else if (!is_written (journal) && journal->timer == 0) {
    journal->timer = g_timeout_add_full (G_PRIORITY_HIGH, DELAY_MS, on_timer, journal, NULL);
  }
}

bool
lw_journal_write (LwJournal *journal, GError **error)
{
  Snapshot *snapshot;
  bool written;

  if (!needs_file (journal))
    return true;
  if (!open_file (journal, error))
    return false;
  /* an older state on its way must not come after this one */
  lw_worker_free (journal->writer);
  start_writer (journal);
  snapshot = snapshot_new (journal);
  written = snapshot_write (snapshot, error);
  snapshot_free (snapshot);
  journal->written = written ? lw_document_get_stamp (journal->document) : 0;
  return written;
}

const char *
lw_journal_get_problem (LwJournal *journal)
{
  return journal->problem;
}

LwJournal *
lw_journal_new (LwDocument *document)
{
  LwJournal *journal = g_new0 (LwJournal, 1);

  journal->document = g_object_ref (document);
  journal->lock = -1;
  start_writer (journal);
  journal->changed_handler =
      g_signal_connect (document, "changed", G_CALLBACK (on_changed), journal);
  on_changed (document, journal);
  return journal;
}

void
lw_journal_free (LwJournal *journal)
{
  g_signal_handler_disconnect (journal->document, journal->changed_handler);
  g_clear_handle_id (&journal->timer, g_source_remove);
  remove_file (journal);
  lw_worker_free (journal->writer);
  g_object_unref (journal->document);
  g_free (journal->problem);
  g_free (journal);
}

bool
lw_journal_recover (LwJournal *journal, const char *leftover, GError **error)
{
  g_autoptr (LwJob) job = NULL;
  g_autofree char *path = NULL;
  g_autofree char *sha256 = NULL;

  if (!lw_leftover_read (leftover, lw_document_get_store (journal->document), &job, &path, &sha256,
                         error))
    return false;
  lw_document_recover (journal->document, job, path, sha256);
  if (!lw_journal_write (journal, error))
    return false;
  lw_journal_discard (leftover);
  return true;
}
