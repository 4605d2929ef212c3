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

/* Opens path; the old content is gone on success and untouched on failure. Meshes not read yet come
 * out LW_MESH_LOADING; call lw_document_load_meshes_async() then. */
bool lw_document_open (LwDocument *document, const char *path, GError **error);
/* Starts on an unsaved job. */
void lw_document_start (LwDocument *document, LwJob *job);
void lw_document_load_meshes_async (LwDocument *document);

/* Borrowed; NULL before anything is open. */
LwJob *lw_document_get_job (LwDocument *document);
/* NULL for a job never saved. */
const char *lw_document_get_path (LwDocument *document);
bool lw_document_is_modified (LwDocument *document);
gint64 lw_document_get_saved_at (LwDocument *document); /* µs since 1970, 0 = never */

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

/* Saves where it was opened, or to path (which it then belongs to). Refuses with LW_ERROR_WRITE
 * when the file on disk changed since (the message says so) unless overwrite. */
bool lw_document_save (LwDocument *document, const char *path, bool overwrite, GError **error);
/* Whether the file on disk is no longer the one opened or saved (checked on call, and when the
 * window comes back to the front). */
bool lw_document_file_changed (LwDocument *document);
