/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "session/checker.h"

#include "session/memo.h"
#include "session/worker.h"

/* The worker is asked for one operation at a time: first every verdict, then every set of mends. A
 * verdict is immutable once it is shown, so finding its mends judges it a second time. */
typedef struct {
  LwJob *job;
  int index;
  int setup, operation;
  bool mends;
  char key[65];
} Question;

/* What is known of one operation of the present job. */
typedef struct {
  int setup, operation;
  char key[65];       /* of the verdict */
  char mends_key[65]; /* of the verdict with its mends: other operations may be broken by one */
  bool mended;        /* the verdict has its mends, or needs none */
} Entry;

struct _LwChecker {
  GObject parent_instance;

  LwDocument *document;
  LwWorker *worker;
  LwMemo *memo;
  LwJob *job; /* what the entries belong to */
  LwJobVerdict *verdict;
  Entry *entries;
  int first_setup, first_operation;
  int asked; /* index of the entry that the worker is at, −1: none */
  int steps_done, steps;
  bool cancelled;
};

G_DEFINE_FINAL_TYPE (LwChecker, lw_checker, G_TYPE_OBJECT)

static guint changed_signal;

static void ask_next (LwChecker *checker);

static void
question_free (gpointer data)
{
  Question *question = data;

  lw_job_unref (question->job);
  g_free (question);
}

static gpointer
ref_verdict (gpointer verdict)
{
  return lw_operation_verdict_ref (verdict);
}

static void
unref_verdict (gpointer verdict)
{
  lw_operation_verdict_unref (verdict);
}

static bool
needs_mends (const LwOperationVerdict *verdict)
{
  return verdict->judged && (verdict->n_unreachable > 0 || !verdict->within_reserves);
}

static gpointer
answer (gpointer input, LwProgress *progress, gpointer data)
{
  const Question *question = input;
  LwOperationVerdict *verdict =
      lw_verdict_judge (question->job, question->setup, question->operation, progress);

  if (verdict != NULL && question->mends
      && !lw_verdict_find_mends (question->job, verdict, progress))
    g_clear_pointer (&verdict, lw_operation_verdict_unref);
  return verdict;
}

/* ------------------------------------------------------------------------------------------------
 * Entries */

/* The verdict depends on where it stands in the job (its mends name paths), so the place is part of
 * both keys. */
static void
make_keys (LwChecker *checker)
{
  GString *all = g_string_new (NULL);
  int n = checker->verdict->n_operations;

  for (int i = 0; i < n; i++) {
    Entry *entry = &checker->entries[i];
    g_autofree char *place = g_strdup_printf ("%d.%d", entry->setup, entry->operation);
    g_autofree char *content = lw_verdict_dup_key (checker->job, entry->setup, entry->operation);
    const char *identities[] = { place, content };

    lw_memo_key (identities, 2, entry->key);
    g_string_append (all, entry->key);
  }
  for (int i = 0; i < n; i++) {
    const char *identities[] = { "mends", checker->entries[i].key, all->str };

    lw_memo_key (identities, 3, checker->entries[i].mends_key);
  }
  g_string_free (all, TRUE);
}

static void
take (LwChecker *checker, int index, LwOperationVerdict *verdict, bool with_mends)
{
  LwOperationVerdict **place = &checker->verdict->operations[index];

  if (*place != NULL)
    lw_operation_verdict_unref (*place);
  *place = verdict;
  checker->entries[index].mended = with_mends || !needs_mends (verdict);
  checker->verdict->verdict =
      lw_verdict_of_operations (checker->verdict->operations, checker->verdict->n_operations);
}

static void
look_up (LwChecker *checker, int index)
{
  Entry *entry = &checker->entries[index];
  LwOperationVerdict *verdict = lw_memo_lookup (checker->memo, entry->mends_key);

  if (verdict != NULL) {
    take (checker, index, verdict, true);
    return;
  }
  verdict = lw_memo_lookup (checker->memo, entry->key);
  if (verdict != NULL)
    take (checker, index, verdict, false);
}

static void
forget (LwChecker *checker)
{
  g_clear_pointer (&checker->verdict, lw_job_verdict_free);
  g_clear_pointer (&checker->entries, g_free);
  g_clear_pointer (&checker->job, lw_job_unref);
  checker->asked = -1;
  checker->steps = checker->steps_done = 0;
}

static int
count_steps (LwChecker *checker)
{
  int steps = 0;

  for (int i = 0; i < checker->verdict->n_operations; i++)
    steps += (checker->verdict->operations[i] == NULL) + !checker->entries[i].mended;
  return steps;
}

static void
begin (LwChecker *checker, LwJob *job)
{
  int n = lw_job_count_operations (job), index = 0;

  checker->job = lw_job_ref (job);
  checker->verdict = g_new0 (LwJobVerdict, 1);
  checker->verdict->operations = g_new0 (LwOperationVerdict *, MAX (n, 1));
  checker->verdict->n_operations = n;
  checker->verdict->verdict = LW_VERDICT_NOT_CHECKED;
  checker->entries = g_new0 (Entry, MAX (n, 1));
  for (int i = 0; i < job->n_setups; i++)
    for (int k = 0; k < job->setups[i].n_operations; k++, index++)
      checker->entries[index] = (Entry){ .setup = i, .operation = k };
  make_keys (checker);
  for (int i = 0; i < n; i++)
    look_up (checker, i);
  checker->steps = count_steps (checker);
}

/* ------------------------------------------------------------------------------------------------
 * Asking */

static bool
lacks (LwChecker *checker, int index, bool mends)
{
  return mends ? !checker->entries[index].mended : checker->verdict->operations[index] == NULL;
}

/* What to judge next: all verdicts, then all mends, each time the one looked at first. −1: nothing.
 */
static int
find_next (LwChecker *checker, bool *mends)
{
  int first = lw_checker_find (checker, checker->first_setup, checker->first_operation);

  for (int pass = 0; pass < 2; pass++) {
    *mends = pass == 1;
    if (first >= 0 && lacks (checker, first, *mends))
      return first;
    for (int i = 0; i < checker->verdict->n_operations; i++)
      if (lacks (checker, i, *mends))
        return i;
  }
  return -1;
}

/* A part that is still being read is no reason to call its operations not checked. */
static bool
awaits_meshes (LwChecker *checker)
{
  return checker->job != NULL && checker->verdict->n_operations > 0
         && lw_job_is_loading (checker->job);
}

static void
ask_next (LwChecker *checker)
{
  Question *question;
  bool mends = false;
  bool may = checker->verdict != NULL && !checker->cancelled && !awaits_meshes (checker);
  int next = may ? find_next (checker, &mends) : -1;

  checker->asked = next;
  if (next < 0) {
    lw_worker_cancel (checker->worker);
    return;
  }
  question = g_new0 (Question, 1);
  question->job = lw_job_ref (checker->job);
  question->index = next;
  question->setup = checker->entries[next].setup;
  question->operation = checker->entries[next].operation;
  question->mends = mends;
  g_strlcpy (question->key, mends ? checker->entries[next].mends_key : checker->entries[next].key,
             sizeof question->key);
  lw_worker_submit (checker->worker, question);
}

static void
hear (gpointer input, gpointer result, gpointer data)
{
  LwChecker *checker = LW_CHECKER (data);
  const Question *question = input;

  if (result == NULL || question->job != checker->job)
    return;
  lw_memo_remember (checker->memo, question->key, result);
  take (checker, question->index, lw_operation_verdict_ref (result), question->mends);
  checker->steps_done++;
  checker->steps = checker->steps_done + count_steps (checker);
  ask_next (checker);
  g_signal_emit (checker, changed_signal, 0);
}

static void
follow (LwChecker *checker)
{
  LwJob *job = lw_document_get_job (checker->document);

  if (job == checker->job)
    return;
  forget (checker);
  checker->cancelled = false;
  if (job != NULL)
    begin (checker, job);
  ask_next (checker);
  g_signal_emit (checker, changed_signal, 0);
}

/* ------------------------------------------------------------------------------------------------
 * What is asked of it */

const LwJobVerdict *
lw_checker_get_verdict (LwChecker *checker)
{
  return checker->verdict;
}

int
lw_checker_find (LwChecker *checker, int setup, int operation)
{
  for (int i = 0; checker->verdict != NULL && i < checker->verdict->n_operations; i++)
    if (checker->entries[i].setup == setup && checker->entries[i].operation == operation)
      return i;
  return -1;
}

bool
lw_checker_is_busy (LwChecker *checker)
{
  return checker->asked >= 0 || (awaits_meshes (checker) && !checker->cancelled);
}

bool
lw_checker_is_mending (LwChecker *checker, int index)
{
  return checker->verdict != NULL && checker->verdict->operations[index] != NULL
         && !checker->entries[index].mended && !checker->cancelled;
}

double
lw_checker_get_share (LwChecker *checker)
{
  if (checker->steps == 0)
    return 1;
  if (checker->asked < 0)
    return (double)checker->steps_done / checker->steps;
  return (checker->steps_done + lw_worker_get_share (checker->worker)) / checker->steps;
}

void
lw_checker_set_first (LwChecker *checker, int setup, int operation)
{
  if (setup == checker->first_setup && operation == checker->first_operation)
    return;
  checker->first_setup = setup;
  checker->first_operation = operation;
}

void
lw_checker_cancel (LwChecker *checker)
{
  if (!lw_checker_is_busy (checker))
    return;
  checker->cancelled = true;
  ask_next (checker);
  g_signal_emit (checker, changed_signal, 0);
}

bool
lw_checker_is_cancelled (LwChecker *checker)
{
  return checker->cancelled;
}

void
lw_checker_resume (LwChecker *checker)
{
  if (!checker->cancelled)
    return;
  checker->cancelled = false;
  ask_next (checker);
  g_signal_emit (checker, changed_signal, 0);
}

/* ------------------------------------------------------------------------------------------------
 * Object */

static void
lw_checker_finalize (GObject *object)
{
  LwChecker *checker = LW_CHECKER (object);

  lw_worker_free (checker->worker);
  forget (checker);
  lw_memo_free (checker->memo);
  g_signal_handlers_disconnect_by_data (checker->document, checker);
  g_object_unref (checker->document);
  G_OBJECT_CLASS (lw_checker_parent_class)->finalize (object);
}

static void
lw_checker_class_init (LwCheckerClass *class)
{
  G_OBJECT_CLASS (class)->finalize = lw_checker_finalize;
  changed_signal = g_signal_new ("changed", LW_TYPE_CHECKER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 0);
}

static void
lw_checker_init (LwChecker *checker)
{
  checker->asked = -1;
  checker->first_setup = checker->first_operation = -1;
  checker->memo = lw_memo_new (ref_verdict, unref_verdict);
}

LwChecker *
lw_checker_new (LwDocument *document)
{
  LwChecker *checker = LW_CHECKER (g_object_new (LW_TYPE_CHECKER, NULL));
  LwWorkerDef def = { answer, hear, question_free, unref_verdict, checker };

  checker->document = g_object_ref (document);
  checker->worker = lw_worker_new (&def);
  g_signal_connect_swapped (document, "changed", G_CALLBACK (follow), checker);
  follow (checker);
  return checker;
}
