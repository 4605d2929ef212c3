/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "machine/machine.h"

/* The shop library: machines of the shop in $XDG_DATA_HOME/leeway/machines, and those that come
 * with the program. */

typedef struct {
  char *path;
  LwMachine *machine; /* NULL when the file can't be read */
  char *problem;      /* then what is wrong with it */
  bool shipped;       /* comes with the program: not to be changed */
} LwLibraryMachine;

/* The shop's first, then the shipped, each by file name: an array of LwLibraryMachine that owns
 * them. A shipped machine whose id the shop has is left out. */
GPtrArray *lw_library_list_machines (void);

/* Keeps a machine in the shop library under its id (else its name), in an earlier one's place. An
 * error when it has neither. */
bool lw_library_save_machine (const LwMachine *machine, GError **error);

/* A folder or file of the data that come with the program: $LEEWAY_DATA_DIR, the source tree it was
 * built from, or where it is installed, the first that exists. New string. */
char *lw_library_dup_data_path (const char *name);
