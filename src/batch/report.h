/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "plan/reach.h"
#include "plan/verdict.h"

/* What check and reach answer, as the JSON object of --json and as lines for people. */

JsonBuilder *lw_report_check (const LwJob *job, const LwJobVerdict *verdict);
char *lw_report_check_text (const LwJob *job, const LwJobVerdict *verdict, LwUnit unit);

/* one may be NULL: no heading was asked for. height: NAN, or the tip height asked for. */
JsonBuilder *lw_report_reach (const LwReach *every, const LwReach *one, double height_mm);
char *lw_report_reach_text (const LwReach *every, const LwReach *one, double height_mm,
                            LwUnit unit);

/* Whether there is a reach, at the height where one was asked for. */
bool lw_report_reach_is_there (const LwReach *reach, double height);

/* Exit status of a verdict: 0 fits, 1 does not fit, 2 not checked, 3 tight. */
int lw_report_get_status (LwVerdictKind verdict);
