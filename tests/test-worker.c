/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib.h>
#include <pthread.h>
#include <stdatomic.h>
#include <string.h>

#include "session/memo.h"
#include "session/worker.h"

/* ------------------------------------------------------------------------------------------------
 * Worker: counts to its input in steps of 100 µs, looking at its progress */

typedef struct {
  atomic_int alive; /* inputs and results not freed */
  atomic_int begun;
  int delivered, last; /* main thread only */
  GMainLoop *loop;
  pthread_t main_thread;
} Watch;

typedef struct {
  Watch *watch;
  int number, steps;
} Input;

static Input *
input_new (Watch *watch, int number, int steps)
{
  Input *input = g_new (Input, 1);

  *input = (Input){ watch, number, steps };
  atomic_fetch_add (&watch->alive, 1);
  return input;
}

static void
input_free (gpointer data)
{
  atomic_fetch_sub (&((Input *)data)->watch->alive, 1);
  g_free (data);
}

static gpointer
count_up (gpointer data, LwProgress *progress, gpointer user)
{
  Input *input = (Input *)data;

  atomic_fetch_add (&input->watch->begun, 1);
  lw_progress_start (progress, input->steps);
  for (int i = 0; i < input->steps; i++) {
    g_usleep (100);
    if (lw_progress_step (progress, 1))
      break;
  }
  return input_new (input->watch, input->number, 0);
}

static void
take (gpointer input, gpointer result, gpointer data)
{
  Watch *watch = (Watch *)data;

  g_assert_true (pthread_equal (pthread_self (), watch->main_thread));
  g_assert_cmpint (((Input *)input)->number, ==, ((Input *)result)->number);
  watch->delivered++;
  watch->last = ((Input *)result)->number;
  g_main_loop_quit (watch->loop);
}

static void
watch_init (Watch *watch)
{
  memset (watch, 0, sizeof *watch);
  watch->loop = g_main_loop_new (NULL, FALSE);
  watch->main_thread = pthread_self ();
}

static LwWorker *
new_worker (Watch *watch)
{
  LwWorkerDef def = { count_up, take, input_free, input_free, watch };

  watch_init (watch);
  return lw_worker_new (&def);
}

static void
finish (LwWorker *worker, Watch *watch)
{
  lw_worker_free (worker);
  g_assert_cmpint (atomic_load (&watch->alive), ==, 0);
  g_main_loop_unref (watch->loop);
}

static void
run_for (guint ms)
{
  gint64 end = g_get_monotonic_time () + ms * 1000;

  while (g_get_monotonic_time () < end)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (500);
}

static void
test_one (void)
{
  Watch watch;
  LwWorker *worker = new_worker (&watch);

  g_assert_false (lw_worker_is_busy (worker));
  lw_worker_submit (worker, input_new (&watch, 7, 10));
  g_assert_true (lw_worker_is_busy (worker));
  g_main_loop_run (watch.loop);
  g_assert_cmpint (watch.last, ==, 7);
  g_assert_false (lw_worker_is_busy (worker));
  g_assert_cmpfloat (lw_worker_get_share (worker), ==, 1);
  finish (worker, &watch);
}

/* Of many questions the last is answered, once, and those before it never. */
static void
test_latest_wins (void)
{
  Watch watch;
  LwWorker *worker = new_worker (&watch);
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);

  for (int i = 1; i <= 300; i++) {
    lw_worker_submit (worker, input_new (&watch, i, 20000)); /* two seconds each */
    g_usleep ((gulong)g_rand_int_range (rand, 0, 1000));
  }
  lw_worker_submit (worker, input_new (&watch, 1000, 3));
  g_main_loop_run (watch.loop);
  run_for (50);
  g_assert_cmpint (watch.delivered, ==, 1);
  g_assert_cmpint (watch.last, ==, 1000);
  finish (worker, &watch);
}

/* An answer that is ready, but not delivered, is stale as soon as something newer is asked. */
static void
test_stale_answer (void)
{
  Watch watch;
  LwWorker *worker = new_worker (&watch);

  lw_worker_submit (worker, input_new (&watch, 1, 0));
  while (atomic_load (&watch.begun) == 0)
    g_usleep (100);
  g_usleep (20000); /* the main loop does not run: it waits there */
  lw_worker_submit (worker, input_new (&watch, 2, 100));
  g_main_loop_run (watch.loop);
  g_assert_cmpint (watch.delivered, ==, 1);
  g_assert_cmpint (watch.last, ==, 2);
  finish (worker, &watch);
}

static void
test_cancel (void)
{
  Watch watch;
  LwWorker *worker = new_worker (&watch);

  lw_worker_submit (worker, input_new (&watch, 1, 20000));
  run_for (20);
  lw_worker_cancel (worker);
  g_assert_false (lw_worker_is_busy (worker));
  run_for (50);
  g_assert_cmpint (watch.delivered, ==, 0);
  lw_worker_submit (worker, input_new (&watch, 2, 1));
  g_main_loop_run (watch.loop);
  g_assert_cmpint (watch.last, ==, 2);
  finish (worker, &watch);
}

/* Freed at any moment, nothing is delivered any more and nothing leaks. */
static void
test_free (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);

  for (int i = 0; i < 60; i++) {
    Watch watch;
    LwWorker *worker = new_worker (&watch);
    int n = g_rand_int_range (rand, 0, 3);

    for (int k = 0; k < n; k++)
      lw_worker_submit (worker, input_new (&watch, k, g_rand_int_range (rand, 0, 20)));
    g_usleep ((gulong)g_rand_int_range (rand, 0, 2000));
    finish (worker, &watch);
    while (g_main_context_iteration (NULL, FALSE))
      continue;
    g_assert_cmpint (watch.delivered, ==, 0);
  }
}

/* ------------------------------------------------------------------------------------------------
 * Memo */

typedef struct {
  atomic_int refs;
  char key[65];
} Result;

static atomic_int n_results;

static Result *
result_new (const char *key)
{
  Result *result = g_new0 (Result, 1);

  atomic_store (&result->refs, 1);
  g_strlcpy (result->key, key, sizeof result->key);
  atomic_fetch_add (&n_results, 1);
  return result;
}

static gpointer
result_ref (gpointer data)
{
  atomic_fetch_add (&((Result *)data)->refs, 1);
  return data;
}

static void
result_unref (gpointer data)
{
  if (atomic_fetch_sub (&((Result *)data)->refs, 1) > 1)
    return;
  atomic_fetch_sub (&n_results, 1);
  g_free (data);
}

static void
make_key (int number, char key[65])
{
  g_autofree char *text = g_strdup_printf ("%d", number);

  lw_memo_key ((const char *[]){ "operation", text }, 2, key);
}

static void
remember (LwMemo *memo, int number)
{
  char key[65];
  Result *result;

  make_key (number, key);
  result = result_new (key);
  lw_memo_remember (memo, key, result);
  result_unref (result);
}

static bool
knows (LwMemo *memo, int number)
{
  char key[65];
  Result *result;

  make_key (number, key);
  result = (Result *)lw_memo_lookup (memo, key);
  if (result == NULL)
    return false;
  g_assert_cmpstr (result->key, ==, key);
  result_unref (result);
  return true;
}

static void
test_memo (void)
{
  LwMemo *memo = lw_memo_new (result_ref, result_unref);

  for (int i = 0; i < LW_MEMO_LIMIT; i++)
    remember (memo, i);
  g_assert_cmpint (lw_memo_get_count (memo), ==, LW_MEMO_LIMIT);
  g_assert_true (knows (memo, 0)); /* now the youngest */
  remember (memo, LW_MEMO_LIMIT);
  g_assert_true (knows (memo, 0));
  g_assert_false (knows (memo, 1));
  g_assert_true (knows (memo, 2));
  remember (memo, 2);
  g_assert_cmpint (lw_memo_get_count (memo), ==, LW_MEMO_LIMIT);
  g_assert_cmpint (atomic_load (&n_results), ==, LW_MEMO_LIMIT);
  lw_memo_free (memo);
  g_assert_cmpint (atomic_load (&n_results), ==, 0);
}

/* Where one identity ends and the next begins must count. */
static void
test_memo_keys (void)
{
  static const char *const lists[][3] = {
    { "ab", "c", "" }, { "a", "bc", "" }, { "abc", "", "" }, { "", "abc", "" }, { "abc", NULL, "" }
  };
  g_autoptr (GHashTable) keys = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (lists); i++)
    for (int n = 2; n <= 3; n++) {
      char key[65];

      lw_memo_key (lists[i], n, key);
      g_assert_cmpint (strlen (key), ==, 64);
      g_assert_true (g_hash_table_add (keys, g_strdup (key)));
    }
}

static void *
use_memo (void *data)
{
  LwMemo *memo = (LwMemo *)data;

  for (int i = 0; i < 5000; i++) {
    int number = (i * 37) % 400;

    if (!knows (memo, number))
      remember (memo, number);
  }
  return NULL;
}

static void
test_memo_threads (void)
{
  LwMemo *memo = lw_memo_new (result_ref, result_unref);
  pthread_t threads[4];

  for (int i = 0; i < 4; i++)
    g_assert_cmpint (pthread_create (&threads[i], NULL, use_memo, memo), ==, 0);
  for (int i = 0; i < 4; i++)
    pthread_join (threads[i], NULL);
  g_assert_cmpint (lw_memo_get_count (memo), ==, LW_MEMO_LIMIT);
  lw_memo_free (memo);
  g_assert_cmpint (atomic_load (&n_results), ==, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/worker/one", test_one);
  g_test_add_func ("/worker/latest-wins", test_latest_wins);
  g_test_add_func ("/worker/stale-answer", test_stale_answer);
  g_test_add_func ("/worker/cancel", test_cancel);
  g_test_add_func ("/worker/free", test_free);
  g_test_add_func ("/worker/memo", test_memo);
  g_test_add_func ("/worker/memo-keys", test_memo_keys);
  g_test_add_func ("/worker/memo-threads", test_memo_threads);
  return g_test_run ();
}
