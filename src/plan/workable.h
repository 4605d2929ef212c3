/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "plan/verdict.h"

/* Where a placed part may be moved with every attitude as it is chosen at its present place: the
 * translations that keep every pivot of every stroke inside travel are a box, exact (DESIGN:
 * placement). Attitudes that are free may be chosen otherwise elsewhere, so outside of the box is
 * no proof that nothing works. */
typedef struct {
  bool exists;        /* some place keeps the reserves */
  LwBox3 at;          /* of the placement's `at`, table frame, mm */
  const char *reason; /* why it does not exist (English; translate with _()); NULL when it does */
} LwWorkable;

/* Over all operations on the placed part; travel's reserve and the placement's tolerance are kept.
 * Where a coupled limit could come to bind on the way, the box ends before it. False when
 * cancelled. */
bool lw_workable_compute (const LwJob *job, int setup, int placed, LwWorkable *workable,
                          LwProgress *progress);
