/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/parallel.h"

#include <glib.h>
#include <pthread.h>

#define MOST_THREADS 256

typedef struct {
  size_t n_items, chunk_size, n_chunks;
  LwChunkFunc func;
  void *data;
  LwProgress *progress;
  atomic_size_t next;
  atomic_size_t n_done;
} Work;

static atomic_int asked_threads;

/* A chunk that itself goes parallel runs its own loop alone: the processors are taken. */
static _Thread_local bool inside;

void
lw_parallel_set_threads (int threads)
{
  atomic_store (&asked_threads, CLAMP (threads, 0, MOST_THREADS));
}

int
lw_parallel_get_threads (void)
{
  int threads = atomic_load (&asked_threads);

  return threads > 0 ? threads : CLAMP ((int)g_get_num_processors (), 1, MOST_THREADS);
}

static void *
work_through (void *data)
{
  Work *work = data;
  bool was_inside = inside;

  inside = true;
  while (!lw_progress_is_cancelled (work->progress)) {
    size_t chunk = atomic_fetch_add (&work->next, 1);
    if (chunk >= work->n_chunks)
      break;

    size_t begin = chunk * work->chunk_size;
    size_t end = MIN (work->n_items - begin, work->chunk_size) + begin;

    work->func (chunk, begin, end, work->data);
    atomic_fetch_add (&work->n_done, 1);
    lw_progress_step (work->progress, (long long)(end - begin));
  }
  inside = was_inside;
  return NULL;
}

/* Threads are made anew each time, some 20 us each: little beside a chunk of work, and nothing
 * outlives the call. Where the system gives fewer than asked for, those there are do the work. */
bool
lw_parallel_for (size_t n_items, size_t chunk_size, LwChunkFunc func, void *data,
                 LwProgress *progress)
{
  g_assert (chunk_size > 0);

  size_t n_chunks = n_items / chunk_size + (n_items % chunk_size != 0);
  Work work = { n_items, chunk_size, n_chunks, func, data, progress, 0, 0 };
  pthread_t helpers[MOST_THREADS];
  int n_helpers = inside ? 0 : (int)MIN ((size_t)lw_parallel_get_threads (), n_chunks) - 1;
  int n_made = 0;

  while (n_made < n_helpers && pthread_create (&helpers[n_made], NULL, work_through, &work) == 0)
    n_made++;
  work_through (&work);
  for (int i = 0; i < n_made; i++)
    pthread_join (helpers[i], NULL);
  return atomic_load (&work.n_done) == n_chunks;
}
