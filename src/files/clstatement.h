/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/error.h"

#include <stdbool.h>

/* Statements of a part program in words (ISO 4342): one a line, or several with ";" between. Blanks
 * mean nothing outside text, case means nothing, "$" ends the line and goes on with the statement
 * on the next one, "$$" begins a comment. PARTNO, PPRINT, INSERT, REMARK and LETTER take the rest
 * of their line as text, up to a comment. */

/* More of one statement than this is refused (bytes): no statement of sense comes near. */
#define LW_CL_MOST 65536

/* Warnings told one by one; more are counted. */
#define LW_CL_MOST_WARNINGS 200

typedef struct {
  GPtrArray *told; /* sentences (char *, g_free) */
  guint n;         /* of all */
} LwClWarnings;

/* Takes the sentence. */
void lw_cl_warnings_add (LwClWarnings *warnings, char *sentence);

typedef struct {
  int line;         /* where it begins, from 1 */
  const char *word; /* the major word, upper case; "" where there is none */
  char *text;       /* of a text statement, valid UTF-8; else NULL */
  GPtrArray *list;  /* minor words and numbers as text, upper case, in order; borrowed */
} LwClStatement;

typedef struct _LwClReader LwClReader;

/* name stands for the file in messages; bytes are borrowed. warnings too. */
LwClReader *lw_cl_reader_new (const char *name, const char *bytes, gsize size,
                              LwClWarnings *warnings);
void lw_cl_reader_free (LwClReader *reader);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LwClReader, lw_cl_reader_free)

/* The next statement, valid until the one after it; NULL at the end, or with LW_ERROR_DATA set. */
const LwClStatement *lw_cl_reader_next (LwClReader *reader, GError **error);

/* Whether bytes look like such statements: a major word of tool paths with its list, or PARTNO,
 * among the first lines. */
bool lw_cl_is_likely (const char *bytes, gsize size);
