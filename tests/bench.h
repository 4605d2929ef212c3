/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <stdbool.h>

/* A scene prepares once, then is timed several times. Each scene runs in a process of its own, so
 * that its peak of memory is its own too. */
typedef struct {
  const char *name;                /* "mesh/read-5m": module and what is done */
  const char *unit;                /* what `work` counts: "triangles", "poses", "frames" */
  void *(*prepare) (void);         /* may be NULL; its answer is handed on */
  double (*work) (void *prepared); /* does it once and answers how much it did, in `unit` */
  void (*finish) (void *prepared); /* may be NULL */
  int runs;                        /* timed runs after the one for warming up; 0 = 5 */
} BenchScene;

/* Scenes are named in tests/bench-scenes.h. A scene whose result is wrong must abort: a fast wrong
 * answer is no figure. */
