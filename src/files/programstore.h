/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/progress.h"
#include "files/programfile.h"

/* Tool paths by path and unit, each read once and shared; read again when the file's size or time
 * of change differs. Safe from any thread. */
typedef struct _LwProgramStore LwProgramStore;

typedef enum {
  LW_PROGRAM_NONE, /* the operation has none */
  LW_PROGRAM_READY,
  LW_PROGRAM_LOADING, /* not read yet */
  LW_PROGRAM_MISSING, /* no such file */
  LW_PROGRAM_UNREADABLE,
  LW_PROGRAM_ALTERED, /* its SHA-256 is not the one the job was made with; program is set */
} LwProgramState;

typedef struct {
  LwProgram *program; /* a reference, or NULL */
  LwProgramState state;
  char *message; /* what is wrong, a sentence; NULL when ready */
  char sha256[65];
} LwProgramEntry;

LwProgramStore *lw_program_store_new (void);
void lw_program_store_free (LwProgramStore *store);

/* Fills entry. unit_mm as lw_program_load(). wait: reads the file now if need be; else one not read
 * yet is LW_PROGRAM_LOADING. sha256 (may be NULL) is what the job expects. */
void lw_program_store_get (LwProgramStore *store, const char *path, double unit_mm,
                           const char *sha256, bool wait, LwProgress *progress,
                           LwProgramEntry *entry);
void lw_program_entry_clear (LwProgramEntry *entry);
void lw_program_entry_copy (LwProgramEntry *entry, const LwProgramEntry *from);

/* Lets go of programs that nobody has asked for since the last call. */
void lw_program_store_trim (LwProgramStore *store);
