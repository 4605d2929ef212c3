/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <stddef.h>

#include "base/progress.h"

/* Items a chunk: the same for every number of threads, so that results added in chunk order have
 * the same bits for one thread or many. */
#define LW_CHUNK 4096

/* Runs on one chunk [begin, end) of the items; chunk counts from 0. */
typedef void (*LwChunkFunc) (size_t chunk, size_t begin, size_t end, void *data);

/* Work on n_items in fixed chunks of chunk_size on up to lw_parallel_get_threads() threads
 * (pthreads, joined before it returns). Steps progress by the items of each finished chunk; answers
 * false when cancelled, with some chunks not done. Chunks may run in any order: a chunk writes only
 * to places of its own, and the caller adds partial results in chunk order. */
bool lw_parallel_for (size_t n_items, size_t chunk_size, LwChunkFunc func, void *data,
                      LwProgress *progress);

/* Threads used; 0 asks for one a processor (the default). */
void lw_parallel_set_threads (int threads);
int lw_parallel_get_threads (void);
