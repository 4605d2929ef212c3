/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/json.h"

/* The table's tapped holes: they hold, they do not locate. Table frame. */
typedef struct {
  bool exists;
  char *thread;
  double first[2], pitch[2]; /* mm */
  int count[2];
  double depth; /* mm, NAN when not given */
} LwHoleGrid;

typedef struct {
  char *name;
  double at[2];               /* mm, table frame */
  double diameter, clearance; /* mm, NAN when not given */
} LwLocatingHole;

typedef struct {
  char *name;
  LwVec3 origin; /* machine frame, where the displays stand for the pivot; mm */
  double size[2];
  double thickness, max_load; /* mm, kg; NAN when not given */
  LwHoleGrid holes;
  LwLocatingHole *locating;
  int n_locating;
} LwTable;

/* Reads the table the reader stands in. Holes must lie on the table. */
void lw_table_read (LwTable *table, LwIn *in);
void lw_table_clear (LwTable *table);
