/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/error.h"

/* Jobs opened lately, in $XDG_STATE_HOME/leeway/recent.json. */

#define LW_RECENT_LIMIT 12

typedef struct {
  char *path;  /* absolute */
  char *title; /* of the job when it was last open */
} LwRecentFile;

/* The latest first: an array of LwRecentFile that owns them; empty when there is no list yet. NULL
 * with an error when the list can't be read. */
GPtrArray *lw_recent_list (GError **error);
/* Brings path to the front. A list that can't be read is begun anew, and replaced. */
bool lw_recent_add (const char *path, const char *title, GError **error);
bool lw_recent_remove (const char *path, GError **error);
