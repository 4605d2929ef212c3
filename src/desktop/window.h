/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

#include "desktop/subject.h"
#include "desktop/view.h"
#include "session/journal.h"

#define LW_TYPE_WINDOW (lw_window_get_type ())
G_DECLARE_FINAL_TYPE (LwWindow, lw_window, LW, WINDOW, GtkApplicationWindow)

/* One window on one document. */
GtkWidget *lw_window_new (GtkApplication *application);

/* Opens a job, or begins a new one with a part file; asks first about unsaved changes. What can't
 * be opened is said in a dialog. */
void lw_window_open (LwWindow *window, const char *path);

LwDocument *lw_window_get_document (LwWindow *window);
LwView *lw_window_get_view (LwWindow *window);
LwJournal *lw_window_get_journal (LwWindow *window);

/* Shows the editor of a subject in the right column, or the verdicts for LW_SUBJECT_NONE. */
void lw_window_edit (LwWindow *window, LwSubject subject);
/* The subject chosen in the job list. */
LwSubject lw_window_get_chosen (LwWindow *window);

/* Takes what is still being typed: before saving, closing and moving in the history. */
void lw_window_settle (LwWindow *window);

void lw_window_fit (LwWindow *window);
void lw_window_zoom (LwWindow *window, double factor);
/* Ends waiting for a place to be picked; answers whether it was waited for. */
bool lw_window_cancel_pick (LwWindow *window);
/* Turns to the system's list of recent files for the menu. */
void lw_window_update_recent (LwWindow *window);
