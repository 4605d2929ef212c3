/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib-object.h>

#include "job/job.h"

#define LW_TYPE_DOCUMENT (lw_document_get_type ())
G_DECLARE_FINAL_TYPE (LwDocument, lw_document, LW, DOCUMENT, GObject)

/* Holds the current job, its history and its file. Signal "changed" after the job, the history or
 * the saved state changed; properties title, modified, can-undo, can-redo notify. Main thread only.
 */
LwDocument *lw_document_new (LwMeshStore *store);
/* Borrowed. */
LwMeshStore *lw_document_get_store (LwDocument *document);

/* Opens path; the old content is gone on success and untouched on failure. Meshes not read yet come
 * out LW_MESH_LOADING; call lw_document_load_meshes_async() then. */
bool lw_document_open (LwDocument *document, const char *path, GError **error);
/* Starts on an unsaved job, of which a reference is kept. */
void lw_document_start (LwDocument *document, LwJob *job);
/* Starts on a state that was never saved: job as an edit of the file at path (NULL: of none), whose
 * content was that of sha256 then. */
void lw_document_recover (LwDocument *document, LwJob *job, const char *path, const char *sha256);
/* Reads, in the background, what is LW_MESH_LOADING, and looks again at mesh files that changed.
 * "changed" follows when they are there; that is no edit. Edits that name another mesh call it. */
void lw_document_load_meshes_async (LwDocument *document);
bool lw_document_is_loading (LwDocument *document);

/* Borrowed; NULL before anything is open. */
LwJob *lw_document_get_job (LwDocument *document);
/* NULL for a job never saved. */
const char *lw_document_get_path (LwDocument *document);
/* What to call it: the job's title, else the file's name, else "Untitled". Borrowed. */
const char *lw_document_get_title (LwDocument *document);
bool lw_document_is_modified (LwDocument *document);
/* Of the present state: the same again only when undo or redo comes back to it; 0 without a job. */
guint64 lw_document_get_stamp (LwDocument *document);
/* SHA-256 of the file as it was opened or saved; "" when there is none. */
const char *lw_document_get_file_sha256 (LwDocument *document);
/* Time of the file's last change as opened or saved: µs since 1970, 0 = never. */
gint64 lw_document_get_saved_at (LwDocument *document);

/* One edit: "Move part", translated, for the undo tip. Edits that follow each other with the same
 * non-NULL coalescing key become one step (a drag, a slider). Answers false with the error when the
 * result is no job. */
bool lw_document_set (LwDocument *document, const char *path, JsonNode *value,
                      const char *edit_name, const char *coalesce, GError **error);
/* A new job made elsewhere (several changes in one step). */
void lw_document_replace (LwDocument *document, LwJob *job, const char *edit_name,
                          const char *coalesce);
/* Ends a run of coalescing edits (mouse button up). */
void lw_document_end_coalescing (LwDocument *document);

void lw_document_undo (LwDocument *document);
void lw_document_redo (LwDocument *document);
/* Name of the edit that undo or redo would take, or NULL. */
const char *lw_document_get_undo_name (LwDocument *document);
const char *lw_document_get_redo_name (LwDocument *document);

/* Saves where it was opened, or to path (which it then belongs to; relative file names in the job
 * are rewritten to lead where they led). Refuses with LW_ERROR_WRITE when the document's own file
 * on disk changed since (the message says so) unless overwrite. */
bool lw_document_save (LwDocument *document, const char *path, bool overwrite, GError **error);
/* Whether the file on disk is no longer the one opened or saved: written by another program or
 * gone (looked at on call; the window calls it when it comes back to the front). */
bool lw_document_file_changed (LwDocument *document);
