/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "plan/verdict.h"
#include "session/document.h"

#define LW_TYPE_CHECKER (lw_checker_get_type ())
G_DECLARE_FINAL_TYPE (LwChecker, lw_checker, LW, CHECKER, GObject)

/* Judges the document's job in the background, again after each change, only the operations whose
 * inputs changed; then looks for mends of those that need one. Signal "changed" when a verdict
 * arrived or fell away. Main thread only. */
LwChecker *lw_checker_new (LwDocument *document);

/* The verdict as it stands: an operation still being checked has a NULL entry, and the job then
 * counts as not checked. Borrowed until the next "changed"; NULL without a job. */
const LwJobVerdict *lw_checker_get_verdict (LwChecker *checker);
/* Index into the verdict's operations, −1 when there is no such operation. */
int lw_checker_find (LwChecker *checker, int setup, int operation);

/* Also while meshes are still being read. */
bool lw_checker_is_busy (LwChecker *checker);
/* Whether mends of this operation (index into the verdict's) are still looked for. */
bool lw_checker_is_mending (LwChecker *checker, int index);
/* 0 … 1 of the present run. */
double lw_checker_get_share (LwChecker *checker);

/* Which operation a person looks at: it is judged first. −1: none. */
void lw_checker_set_first (LwChecker *checker, int setup, int operation);
/* Stops; what is not judged stays not checked until the job changes or lw_checker_resume(). */
void lw_checker_cancel (LwChecker *checker);
bool lw_checker_is_cancelled (LwChecker *checker);
void lw_checker_resume (LwChecker *checker);
