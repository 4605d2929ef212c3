/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "session/worker.h"

#include <pthread.h>

typedef struct {
  guint64 serial; /* 0: nothing */
  gpointer input, result;
} Question;

/* Everything below lock is guarded by it. pthread, not GLib: a thread checker understands it, and
 * the result changes hands inside it. */
struct _LwWorker {
  LwWorkerDef def;
  GMainContext *context;
  pthread_t thread;
  LwProgress progress;

  pthread_mutex_t lock;
  pthread_cond_t wake;
  guint64 latest;    /* serial of the latest question */
  guint64 answered;  /* serial of the latest question that is settled */
  Question waiting;  /* asked, not begun */
  Question finished; /* worked out, not delivered */
  bool working, quit;
  GSource *delivery;
};

static void
question_free (const LwWorkerDef *def, Question *question)
{
  if (question->serial == 0)
    return;
  def->input_free (question->input);
  if (question->result != NULL)
    def->result_free (question->result);
}

static Question
take (Question *question)
{
  Question taken = *question;

  *question = (Question){ 0 };
  return taken;
}

static gboolean
deliver (gpointer data)
{
  LwWorker *worker = (LwWorker *)data;
  Question finished;

  pthread_mutex_lock (&worker->lock);
  finished = take (&worker->finished);
  if (finished.serial != 0)
    worker->answered = finished.serial;
  g_clear_pointer (&worker->delivery, g_source_unref);
  pthread_mutex_unlock (&worker->lock);

  /* done may free the worker */
  if (finished.serial != 0) {
    LwWorkerDef def = worker->def;

    def.done (finished.input, finished.result, def.data);
    question_free (&def, &finished);
  }
  return G_SOURCE_REMOVE;
}

/* With the lock held. */
static void
ask_for_delivery (LwWorker *worker)
{
  if (worker->delivery != NULL)
    return;
  worker->delivery = g_idle_source_new ();
  g_source_set_priority (worker->delivery, G_PRIORITY_DEFAULT);
  g_source_set_callback (worker->delivery, deliver, worker, NULL);
  g_source_attach (worker->delivery, worker->context);
}

/* With the lock held, which it lets go of meanwhile. */
static void
work_on (LwWorker *worker, Question question)
{
  atomic_store (&worker->progress.cancelled, false);
  atomic_store (&worker->progress.done, 0);
  atomic_store (&worker->progress.total, 0);
  worker->working = true;
  pthread_mutex_unlock (&worker->lock);
  question.result = worker->def.work (question.input, &worker->progress, worker->def.data);
  pthread_mutex_lock (&worker->lock);
  worker->working = false;

  if (question.serial == worker->latest && !lw_progress_is_cancelled (&worker->progress)) {
    worker->finished = question;
    ask_for_delivery (worker);
  } else {
    pthread_mutex_unlock (&worker->lock);
    question_free (&worker->def, &question);
    pthread_mutex_lock (&worker->lock);
  }
}

static void *
run (void *data)
{
  LwWorker *worker = (LwWorker *)data;

  pthread_mutex_lock (&worker->lock);
  while (!worker->quit) {
    if (worker->waiting.serial != 0)
      work_on (worker, take (&worker->waiting));
    else
      pthread_cond_wait (&worker->wake, &worker->lock);
  }
  pthread_mutex_unlock (&worker->lock);
  return NULL;
}

LwWorker *
lw_worker_new (const LwWorkerDef *def)
{
  LwWorker *worker = g_new0 (LwWorker, 1);

  worker->def = *def;
  worker->context = g_main_context_ref_thread_default ();
  pthread_mutex_init (&worker->lock, NULL);
  pthread_cond_init (&worker->wake, NULL);
  if (pthread_create (&worker->thread, NULL, run, worker) != 0)
    g_error ("no thread to be had");
  return worker;
}

/* With the lock held: drops what is asked and what is answered, and stops the present work. */
static void
withdraw (LwWorker *worker, Question dropped[2])
{
  dropped[0] = take (&worker->waiting);
  dropped[1] = take (&worker->finished);
  worker->answered = worker->latest;
  if (worker->working)
    lw_progress_cancel (&worker->progress);
}

void
lw_worker_submit (LwWorker *worker, gpointer input)
{
  Question dropped[2];

  pthread_mutex_lock (&worker->lock);
  withdraw (worker, dropped);
  worker->waiting = (Question){ ++worker->latest, input, NULL };
  pthread_cond_signal (&worker->wake);
  pthread_mutex_unlock (&worker->lock);
  question_free (&worker->def, &dropped[0]);
  question_free (&worker->def, &dropped[1]);
}

void
lw_worker_cancel (LwWorker *worker)
{
  Question dropped[2];

  pthread_mutex_lock (&worker->lock);
  withdraw (worker, dropped);
  pthread_mutex_unlock (&worker->lock);
  question_free (&worker->def, &dropped[0]);
  question_free (&worker->def, &dropped[1]);
}

void
lw_worker_free (LwWorker *worker)
{
  pthread_mutex_lock (&worker->lock);
  worker->quit = true;
  pthread_cond_signal (&worker->wake);
  pthread_mutex_unlock (&worker->lock);
  lw_worker_cancel (worker);
  pthread_join (worker->thread, NULL);
  /* work that ended between the two may have left an answer */
  question_free (&worker->def, &worker->finished);
  if (worker->delivery != NULL) {
    g_source_destroy (worker->delivery);
    g_source_unref (worker->delivery);
  }
  pthread_cond_destroy (&worker->wake);
  pthread_mutex_destroy (&worker->lock);
  g_main_context_unref (worker->context);
  g_free (worker);
}

bool
lw_worker_is_busy (LwWorker *worker)
{
  bool busy;

  pthread_mutex_lock (&worker->lock);
  busy = worker->answered != worker->latest;
  pthread_mutex_unlock (&worker->lock);
  return busy;
}

double
lw_worker_get_share (LwWorker *worker)
{
  return lw_progress_get_share (&worker->progress);
}
