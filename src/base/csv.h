/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/error.h"

/* A table of text cells with a header line (RFC 4180 quoting). delimiter and decimal are told,
 * never guessed. Columns are found by header name, in any order. */
typedef struct _LwCsv LwCsv;

LwCsv *lw_csv_parse (const char *name, const char *text, gsize length, char delimiter, char decimal,
                     GError **error);
LwCsv *lw_csv_load (const char *path, char delimiter, char decimal, GError **error);
void lw_csv_free (LwCsv *csv);

int lw_csv_get_n_rows (const LwCsv *csv);
/* -1 when there is no such column. */
int lw_csv_find_column (const LwCsv *csv, const char *header);
/* Borrowed; rows from 0, without the header. */
const char *lw_csv_get_text (const LwCsv *csv, int row, int column);
/* The cell as a number; an error names file, line, column and what is there. */
bool lw_csv_get_number (const LwCsv *csv, int row, int column, double *value, GError **error);
/* Line of the file on which a row begins, from 1. */
int lw_csv_get_line (const LwCsv *csv, int row);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (LwCsv, lw_csv_free)
