/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/error.h"

/* Which content of a file is known: enough to notice that another program wrote it since. */
typedef struct {
  gint64 size;
  gint64 changed_ns; /* time of change since 1970; 0: not known, look at the content */
  guint64 inode;
  char sha256[65]; /* "" when nothing is known */
} LwFileState;

typedef enum {
  LW_FILE_SAME,
  LW_FILE_CHANGED,
  LW_FILE_GONE,
} LwFileChange;

/* Reads a whole file and what is to be known of it. LW_ERROR_MISSING when it can't be. */
bool lw_file_state_read (LwFileState *state, const char *path, char **text, gsize *length,
                         GError **error);
/* After path was written with text. */
void lw_file_state_of_saved (LwFileState *state, const char *path, const char *text, gsize length);
/* Compares the file with what is known; a new time of change with the old content is the same. */
LwFileChange lw_file_state_compare (LwFileState *state, const char *path);

/* Where the program keeps its own: $XDG_STATE_HOME/leeway/name and $XDG_DATA_HOME/leeway/name.
 * New string; folders are made when needed. */
char *lw_dup_state_path (const char *name);
char *lw_dup_data_path (const char *name);
