/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/progress.h"

/* One thread of work where only the latest question matters: a newer one cancels the work on an
 * older one, and an answer that is no longer asked for is dropped unseen.
 *
 * A worker belongs to the thread that made it: submit, cancel and free are called there, and done
 * runs there, in the main context that was its default. */
typedef struct _LwWorker LwWorker;

typedef struct {
  /* The work, on the worker's thread: a pure function of input. Looks at progress and may stop
   * early with any result, which is dropped then. */
  gpointer (*work) (gpointer input, LwProgress *progress, gpointer data);
  /* The answer to the latest question. Both are taken back by the worker afterwards. */
  void (*done) (gpointer input, gpointer result, gpointer data);
  void (*input_free) (gpointer input);
  void (*result_free) (gpointer result); /* not called for NULL */
  gpointer data;
} LwWorkerDef;

LwWorker *lw_worker_new (const LwWorkerDef *def);
/* Cancels and waits for the thread; done does not run any more. */
void lw_worker_free (LwWorker *worker);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LwWorker, lw_worker_free)

/* Asks; input is taken, and may be freed on the worker's thread. */
void lw_worker_submit (LwWorker *worker, gpointer input);
/* Withdraws the latest question. */
void lw_worker_cancel (LwWorker *worker);

/* Whether an answer is still to come. */
bool lw_worker_is_busy (LwWorker *worker);
/* 0 … 1 of the present work. */
double lw_worker_get_share (LwWorker *worker);
