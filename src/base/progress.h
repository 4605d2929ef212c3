/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdatomic.h>
#include <stdbool.h>

/* Shared between long work and whoever waits for it. All members are atomic; long work calls
 * lw_progress_step() once a chunk and stops early when it answers true. A NULL LwProgress is
 * allowed everywhere: never cancelled, nobody watching. */
typedef struct {
  atomic_bool cancelled;
  atomic_llong done;
  atomic_llong total;
} LwProgress;

void lw_progress_start (LwProgress *progress, long long total);

/* Adds to what is done; answers whether to stop. */
bool lw_progress_step (LwProgress *progress, long long done);
bool lw_progress_is_cancelled (LwProgress *progress);
void lw_progress_cancel (LwProgress *progress);

/* 0 to 1. */
double lw_progress_get_share (LwProgress *progress);

/* Sets LW_ERROR_CANCELLED and answers true when cancelled. */
bool lw_progress_set_error_if_cancelled (LwProgress *progress, GError **error);
