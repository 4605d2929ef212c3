/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/progress.h"

/* What files of one kind were read to, by path and unit: each read once, and again when the file's
 * size or time of change differs. Safe from any thread. The mesh store and the program store are
 * made of it. */
typedef struct {
  gpointer (*load) (const char *path, double unit_mm, LwProgress *progress, GError **error);
  void (*free) (gpointer value);
} LwStoredKind;

typedef enum {
  LW_STORED_READY,
  LW_STORED_LOADING,
  LW_STORED_MISSING,
  LW_STORED_UNREADABLE,
} LwStoredState;

typedef struct _LwFileStore LwFileStore;

/* Is handed what is stored, borrowed and with the store locked. value is set when ready, message (a
 * sentence) when unreadable. */
typedef void (*LwStoredTake) (LwStoredState state, gconstpointer value, const char *message,
                              gpointer data);

LwFileStore *lw_file_store_new (const LwStoredKind *kind);
void lw_file_store_free (LwFileStore *store);

/* wait: reads the file now if need be (progress may be NULL); else one not read yet is loading. */
void lw_file_store_get (LwFileStore *store, const char *path, double unit_mm, bool wait,
                        LwProgress *progress, LwStoredTake take, gpointer data);

/* Lets go of what nobody has asked for since the last call. */
void lw_file_store_trim (LwFileStore *store);
