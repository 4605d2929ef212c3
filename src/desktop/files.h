/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "desktop/window.h"

/* Opening, saving and closing, with the questions that go with them. */

void lw_files_open (LwWindow *window, const char *path);
void lw_files_choose_open (LwWindow *window);
/* Saves where the document belongs, else asks where. */
void lw_files_save (LwWindow *window);
void lw_files_choose_save (LwWindow *window);
/* Begins a new job in the dialog; mesh_path may be NULL. */
void lw_files_new (LwWindow *window, const char *mesh_path);

/* Answers whether the window may go now; else it asks, and closes it by itself. */
bool lw_files_may_close (LwWindow *window);
/* Says so when another program changed the document's file. */
void lw_files_look_at_disk (LwWindow *window);
/* Offers what a program that ended badly left behind. */
void lw_files_offer_leftovers (LwWindow *window);

/* A file chooser for one file; call (with data) gets its path, never NULL. patterns end with NULL.
 */
typedef void (*LwFileChosen) (LwWindow *window, const char *path, gpointer data);
void lw_files_choose (LwWindow *window, GtkWindow *parent, const char *title,
                      GtkFileChooserAction action, const char *filter_name,
                      const char *const *patterns, const char *name, LwFileChosen call,
                      gpointer data);

extern const char *const lw_job_patterns[];
extern const char *const lw_mesh_patterns[];
extern const char *const lw_machine_patterns[];
