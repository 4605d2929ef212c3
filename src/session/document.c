/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "session/document.h"

#include <glib/gi18n.h>
#include <string.h>

#include "session/filestate.h"
#include "session/history.h"
#include "session/worker.h"

/* What the properties say: compared before and after, so that each change notifies once. */
typedef struct {
  char *title;
  bool modified, can_undo, can_redo;
} Shown;

struct _LwDocument {
  GObject parent_instance;

  LwMeshStore *store;
  LwHistory *history;  /* NULL before anything is open */
  guint64 saved_stamp; /* state that the file holds; 0: none */
  char *path;
  LwFileState file;
  LwWorker *reader; /* of meshes */
  Shown shown;
};

G_DEFINE_FINAL_TYPE (LwDocument, lw_document, G_TYPE_OBJECT)

enum {
  PROP_TITLE = 1,
  PROP_MODIFIED,
  PROP_CAN_UNDO,
  PROP_CAN_REDO,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];
static guint changed_signal;

/* ------------------------------------------------------------------------------------------------
 * What is asked of it */

LwMeshStore *
lw_document_get_store (LwDocument *document)
{
  return document->store;
}

LwJob *
lw_document_get_job (LwDocument *document)
{
  return document->history != NULL ? lw_history_get_job (document->history) : NULL;
}

const char *
lw_document_get_path (LwDocument *document)
{
  return document->path;
}

guint64
lw_document_get_stamp (LwDocument *document)
{
  return document->history != NULL ? lw_history_get_stamp (document->history) : 0;
}

bool
lw_document_is_modified (LwDocument *document)
{
  return document->history != NULL
         && lw_history_get_stamp (document->history) != document->saved_stamp;
}

const char *
lw_document_get_title (LwDocument *document)
{
  return document->shown.title;
}

const char *
lw_document_get_file_sha256 (LwDocument *document)
{
  return document->file.sha256;
}

gint64
lw_document_get_saved_at (LwDocument *document)
{
  return document->file.changed_ns / 1000;
}

const char *
lw_document_get_undo_name (LwDocument *document)
{
  return document->history != NULL ? lw_history_get_undo_name (document->history) : NULL;
}

const char *
lw_document_get_redo_name (LwDocument *document)
{
  return document->history != NULL ? lw_history_get_redo_name (document->history) : NULL;
}

bool
lw_document_file_changed (LwDocument *document)
{
  return document->path != NULL
         && lw_file_state_compare (&document->file, document->path) != LW_FILE_SAME;
}

/* ------------------------------------------------------------------------------------------------
 * Saying what changed */

static char *
dup_title (LwDocument *document)
{
  LwJob *job = lw_document_get_job (document);

  if (job != NULL && job->title != NULL)
    return g_strdup (job->title);
  if (document->path != NULL)
    return g_filename_display_basename (document->path);
  return g_strdup (_ ("Untitled"));
}

static void
show (LwDocument *document)
{
  Shown before = document->shown;
  Shown now = { .title = dup_title (document),
                .modified = lw_document_is_modified (document),
                .can_undo = lw_document_get_undo_name (document) != NULL,
                .can_redo = lw_document_get_redo_name (document) != NULL };
  GObject *object = G_OBJECT (document);

  document->shown = now;
  g_object_freeze_notify (object);
  if (g_strcmp0 (before.title, now.title) != 0)
    g_object_notify_by_pspec (object, properties[PROP_TITLE]);
  if (before.modified != now.modified)
    g_object_notify_by_pspec (object, properties[PROP_MODIFIED]);
  if (before.can_undo != now.can_undo)
    g_object_notify_by_pspec (object, properties[PROP_CAN_UNDO]);
  if (before.can_redo != now.can_redo)
    g_object_notify_by_pspec (object, properties[PROP_CAN_REDO]);
  g_object_thaw_notify (object);
  g_free (before.title);
  g_signal_emit (object, changed_signal, 0);
}

/* ------------------------------------------------------------------------------------------------
 * Meshes */

static gpointer
read_meshes (gpointer input, LwProgress *progress, gpointer data)
{
  return lw_job_with_meshes ((LwJob *)input, progress);
}

/* The present job may be a newer one than was read for; the store has the meshes now. */
static void
take_meshes (gpointer input, gpointer result, gpointer data)
{
  LwDocument *document = LW_DOCUMENT (data);
  g_autoptr (LwJob) job = NULL;

  if (document->history == NULL)
    return;
  job = lw_job_with_meshes_at_hand (lw_history_get_job (document->history));
  if (job != lw_history_get_job (document->history))
    lw_history_put (document->history, job);
  show (document);
}

static void
unref_job (gpointer job)
{
  lw_job_unref ((LwJob *)job);
}

void
lw_document_load_meshes_async (LwDocument *document)
{
  if (document->history != NULL)
    lw_worker_submit (document->reader, lw_job_ref (lw_history_get_job (document->history)));
}

bool
lw_document_is_loading (LwDocument *document)
{
  return lw_worker_is_busy (document->reader);
}

/* A state of the history, or an edit, may lack meshes that the store has or has still to read. */
static void
see_to_meshes (LwDocument *document)
{
  LwJob *present = lw_history_get_job (document->history);

  if (lw_job_is_loading (present)) {
    g_autoptr (LwJob) job = lw_job_with_meshes_at_hand (present);

    lw_history_put (document->history, job);
    if (lw_job_is_loading (job))
      lw_document_load_meshes_async (document);
  }
}

/* ------------------------------------------------------------------------------------------------
 * Beginning */

/* Takes path and file. */
static void
begin (LwDocument *document, LwJob *job, char *path, const LwFileState *file)
{
  LwHistory *before = document->history;

  lw_worker_cancel (document->reader);
  document->history = lw_history_new (job, before);
  g_clear_pointer (&before, lw_history_free);
  g_free (document->path);
  document->path = path;
  document->file = *file;
  lw_mesh_store_trim (document->store);
}

bool
lw_document_open (LwDocument *document, const char *path, GError **error)
{
  g_autofree char *full = g_canonicalize_filename (path, NULL);
  g_autofree char *folder = g_path_get_dirname (full);
  g_autofree char *name = g_filename_display_basename (full);
  g_autofree char *text = NULL;
  g_autoptr (JsonNode) node = NULL;
  g_autoptr (LwJob) job = NULL;
  LwFileState file;
  gsize length;

  if (!lw_file_state_read (&file, full, &text, &length, error))
    return false;
  node = lw_json_parse (name, text, length, error);
  if (node == NULL)
    return false;
  lw_mesh_store_trim (document->store);
  job = lw_job_read (name, folder, node, document->store, false, NULL, error);
  if (job == NULL)
    return false;
  begin (document, job, g_steal_pointer (&full), &file);
  document->saved_stamp = lw_history_get_stamp (document->history);
  show (document);
  return true;
}

void
lw_document_start (LwDocument *document, LwJob *job)
{
  lw_document_recover (document, job, NULL, NULL);
}

void
lw_document_recover (LwDocument *document, LwJob *job, const char *path, const char *sha256)
{
  LwFileState file = { 0 };

  if (sha256 != NULL)
    g_strlcpy (file.sha256, sha256, sizeof file.sha256);
  begin (document, job, path != NULL ? g_canonicalize_filename (path, NULL) : NULL, &file);
  document->saved_stamp = 0;
  show (document);
}

/* ------------------------------------------------------------------------------------------------
 * Edits */

void
lw_document_replace (LwDocument *document, LwJob *job, const char *edit_name, const char *coalesce)
{
  g_return_if_fail (document->history != NULL);
  lw_history_add (document->history, job, edit_name, coalesce);
  see_to_meshes (document);
  show (document);
}

bool
lw_document_set (LwDocument *document, const char *path, JsonNode *value, const char *edit_name,
                 const char *coalesce, GError **error)
{
  g_autoptr (LwJob) job = NULL;

  g_return_val_if_fail (document->history != NULL, false);
  job = lw_job_with (lw_history_get_job (document->history), path, value, error);
  if (job == NULL)
    return false;
  lw_document_replace (document, job, edit_name, coalesce);
  return true;
}

void
lw_document_end_coalescing (LwDocument *document)
{
  if (document->history != NULL)
    lw_history_end_coalescing (document->history);
}

void
lw_document_undo (LwDocument *document)
{
  if (document->history == NULL || !lw_history_undo (document->history))
    return;
  see_to_meshes (document);
  show (document);
}

void
lw_document_redo (LwDocument *document)
{
  if (document->history == NULL || !lw_history_redo (document->history))
    return;
  see_to_meshes (document);
  show (document);
}

/* ------------------------------------------------------------------------------------------------
 * Saving */

static bool
expect_own_file (LwDocument *document, GError **error)
{
  if (lw_file_state_compare (&document->file, document->path) != LW_FILE_CHANGED)
    return true;
  g_set_error (error, LW_ERROR, LW_ERROR_WRITE,
               _ ("%s was changed by another program since it was opened here; nothing was saved"),
               document->path);
  return false;
}

bool
lw_document_save (LwDocument *document, const char *path, bool overwrite, GError **error)
{
  g_autofree char *full = g_canonicalize_filename (path != NULL ? path : document->path, NULL);
  g_autofree char *text = NULL;
  g_autoptr (LwJob) job = NULL;

  g_return_val_if_fail (document->history != NULL, false);
  if (!overwrite && g_strcmp0 (full, document->path) == 0 && !expect_own_file (document, error))
    return false;
  job = lw_job_with_file (lw_history_get_job (document->history), full, error);
  if (job == NULL)
    return false;
  text = lw_job_to_text (job);
  if (!lw_file_save (full, text, strlen (text), error))
    return false;

  lw_history_put (document->history, job);
  lw_history_end_coalescing (document->history);
  lw_file_state_of_saved (&document->file, full, text, strlen (text));
  document->saved_stamp = lw_history_get_stamp (document->history);
  g_free (document->path);
  document->path = g_steal_pointer (&full);
  show (document);
  return true;
}

/* ------------------------------------------------------------------------------------------------
 * Object */

static void
lw_document_get_property (GObject *object, guint id, GValue *value, GParamSpec *spec)
{
  const Shown *shown = &LW_DOCUMENT (object)->shown;

  switch (id) {
  case PROP_TITLE:
    g_value_set_string (value, shown->title);
    break;
  case PROP_MODIFIED:
    g_value_set_boolean (value, shown->modified);
    break;
  case PROP_CAN_UNDO:
    g_value_set_boolean (value, shown->can_undo);
    break;
  case PROP_CAN_REDO:
    g_value_set_boolean (value, shown->can_redo);
    break;
  default:
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
  }
}

static void
lw_document_finalize (GObject *object)
{
  LwDocument *document = LW_DOCUMENT (object);

  lw_worker_free (document->reader);
  g_clear_pointer (&document->history, lw_history_free);
  g_clear_pointer (&document->store, lw_mesh_store_unref);
  g_free (document->path);
  g_free (document->shown.title);
  G_OBJECT_CLASS (lw_document_parent_class)->finalize (object);
}

static void
lw_document_class_init (LwDocumentClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;

  object_class->get_property = lw_document_get_property;
  object_class->finalize = lw_document_finalize;
  properties[PROP_TITLE] = g_param_spec_string ("title", NULL, NULL, NULL, flags);
  properties[PROP_MODIFIED] = g_param_spec_boolean ("modified", NULL, NULL, FALSE, flags);
  properties[PROP_CAN_UNDO] = g_param_spec_boolean ("can-undo", NULL, NULL, FALSE, flags);
  properties[PROP_CAN_REDO] = g_param_spec_boolean ("can-redo", NULL, NULL, FALSE, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  changed_signal = g_signal_new ("changed", LW_TYPE_DOCUMENT, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 0);
}

static void
lw_document_init (LwDocument *document)
{
  document->shown.title = dup_title (document);
}

LwDocument *
lw_document_new (LwMeshStore *store)
{
  LwDocument *document = LW_DOCUMENT (g_object_new (LW_TYPE_DOCUMENT, NULL));
  LwWorkerDef def = { read_meshes, take_meshes, unref_job, unref_job, document };

  document->store = lw_mesh_store_ref (store);
  document->reader = lw_worker_new (&def);
  return document;
}
