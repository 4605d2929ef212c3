/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "job/job.h"

/* The jobs that edits have led through, and where among them the present one is. */
typedef struct _LwHistory LwHistory;

/* Edits kept; the oldest are forgotten. */
#define LW_HISTORY_LIMIT 1000

/* Begins with job, of which a reference is kept. Its stamps go on from those of the history that
 * it follows (NULL for the first), so that no two states of a document share one. */
LwHistory *lw_history_new (LwJob *job, const LwHistory *follows);
void lw_history_free (LwHistory *history);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LwHistory, lw_history_free)

/* Borrowed. */
LwJob *lw_history_get_job (const LwHistory *history);
/* Of the present state: never 0, the same again only when undo or redo comes back to it. */
guint64 lw_history_get_stamp (const LwHistory *history);

/* The job after an edit. It joins the edit before it when both carry the same coalescing key (not
 * NULL) and nothing came between. What was undone is gone. */
void lw_history_add (LwHistory *history, LwJob *job, const char *name, const char *coalesce);
void lw_history_end_coalescing (LwHistory *history);
/* Puts another form of the same state in its place (meshes read, saved elsewhere): no edit. */
void lw_history_put (LwHistory *history, LwJob *job);

/* Answer whether there was something to undo or redo. */
bool lw_history_undo (LwHistory *history);
bool lw_history_redo (LwHistory *history);
/* Name of the edit that would be undone or redone, or NULL. */
const char *lw_history_get_undo_name (const LwHistory *history);
const char *lw_history_get_redo_name (const LwHistory *history);
