/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/error.h"

/* A table of text cells with a header line (RFC 4180 quoting), in UTF-8; lines end in LF or CR LF.
 * A byte order mark is passed over, as are empty lines. delimiter and decimal ('.' or ',') are
 * told, never guessed. Columns are found by header name, in any order. Every row must have as many
 * cells as the header; no column may lack a name, no two have the same. Blanks around a header are
 * not part of it; cells are as they stand. */
typedef struct _LwCsv LwCsv;

/* LW_ERROR_DATA ("offsets.csv:3: …") for a bad table, LW_ERROR_USAGE for a delimiter or decimal
 * that can't be one. */
LwCsv *lw_csv_parse (const char *name, const char *text, gsize length, char delimiter, char decimal,
                     GError **error);
LwCsv *lw_csv_load (const char *path, char delimiter, char decimal, GError **error);
void lw_csv_free (LwCsv *csv);

int lw_csv_get_n_rows (const LwCsv *csv);
/* -1 when there is no such column. */
int lw_csv_find_column (const LwCsv *csv, const char *header);
/* The same; an error that names the file, the column and those there are. */
int lw_csv_need_column (const LwCsv *csv, const char *header, GError **error);
/* Borrowed; rows from 0, without the header, which is row -1. */
const char *lw_csv_get_text (const LwCsv *csv, int row, int column);
/* The cell as a number; an error names file, line, column and what is there. */
bool lw_csv_get_number (const LwCsv *csv, int row, int column, double *value, GError **error);
/* Line of the file on which a row begins, from 1. */
int lw_csv_get_line (const LwCsv *csv, int row);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (LwCsv, lw_csv_free)
