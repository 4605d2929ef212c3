/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "plan/verdict.h"
#include "session/document.h"

#define LW_TYPE_CHECKER (lw_checker_get_type ())
G_DECLARE_FINAL_TYPE (LwChecker, lw_checker, LW, CHECKER, GObject)

/* Judges the document's job in the background, again after each change, only the operations whose
 * inputs changed. Signal "changed" when a verdict arrived or fell away. Main thread only. */
LwChecker *lw_checker_new (LwDocument *document);

/* The verdict as it stands: an operation still being checked has a NULL entry, and the job then
 * counts as not checked. Borrowed until the next "changed"; NULL without a job. */
const LwJobVerdict *lw_checker_get_verdict (LwChecker *checker);

bool lw_checker_is_busy (LwChecker *checker);
/* 0 … 1 of the present run. */
double lw_checker_get_share (LwChecker *checker);
