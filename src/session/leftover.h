/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "session/journal.h"

/* Private to src/session: the journal's file and its lock. */

#define LW_JOURNAL_FORMAT  "leeway-journal"
#define LW_JOURNAL_VERSION 1

/* Names a new journal (new string) and takes its lock. */
bool lw_leftover_create (char **file, int *lock, GError **error);
/* Removes file and lock, and lets go of it. */
void lw_leftover_remove (const char *file, int lock);
/* The job in it, and the file it belongs to (may be NULL). */
bool lw_leftover_read (const char *file, LwMeshStore *store, LwJob **job, char **path,
                       char **sha256, GError **error);
