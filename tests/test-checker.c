/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "session/checker.h"

#include "demo.h"
#include "session/edit.h"

/* The checker against judging the whole job at once, on the demo job: seven operations, of which
 * tool 7's trim (number 4) does not fit. */

#define TRIM 4

typedef struct {
  LwDocument *document;
  LwChecker *checker;
  int changes;
} Fixture;

static void
count_change (LwChecker *checker, Fixture *f)
{
  f->changes++;
}

static void
set_up (Fixture *f, gconstpointer data)
{
  f->document = demo_open ();
  f->checker = lw_checker_new (f->document);
  g_signal_connect (f->checker, "changed", G_CALLBACK (count_change), f);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_assert_finalize_object (f->checker);
  g_assert_finalize_object (f->document);
}

static void
wait_until_done (Fixture *f)
{
  while (lw_checker_is_busy (f->checker))
    g_main_context_iteration (NULL, TRUE);
}

static int
count_open (Fixture *f)
{
  const LwJobVerdict *verdict = lw_checker_get_verdict (f->checker);
  int n = 0;

  for (int i = 0; i < verdict->n_operations; i++)
    n += verdict->operations[i] == NULL;
  return n;
}

static void
assert_same (const LwJob *job, const LwOperationVerdict *a, const LwOperationVerdict *b)
{
  g_autofree char *reason_a = lw_operation_verdict_dup_reason (job, a, LW_UNIT_MM);
  g_autofree char *reason_b = lw_operation_verdict_dup_reason (job, b, LW_UNIT_MM);

  g_assert_cmpint (a->setup, ==, b->setup);
  g_assert_cmpint (a->operation, ==, b->operation);
  g_assert_cmpint (a->verdict, ==, b->verdict);
  g_assert_cmpstr (reason_a, ==, reason_b);
  g_assert_cmpmem (a->items, a->n_items * sizeof *a->items, b->items,
                   b->n_items * sizeof *b->items);
  g_assert_cmpint (a->n_mends, ==, b->n_mends);
  for (int i = 0; i < a->n_mends; i++) {
    g_autofree char *words_a = lw_mend_to_text (job, &a->mends[i], LW_UNIT_MM);
    g_autofree char *words_b = lw_mend_to_text (job, &b->mends[i], LW_UNIT_MM);

    g_assert_cmpstr (words_a, ==, words_b);
    g_assert_cmpstr (a->mends[i].path, ==, b->mends[i].path);
  }
}

static void
assert_as_judged_at_once (Fixture *f)
{
  const LwJob *job = lw_document_get_job (f->document);
  const LwJobVerdict *found = lw_checker_get_verdict (f->checker);
  LwJobVerdict *wanted = lw_verdict_judge_job (job, NULL);

  g_assert_cmpint (found->verdict, ==, wanted->verdict);
  g_assert_cmpint (found->n_operations, ==, wanted->n_operations);
  for (int i = 0; i < wanted->n_operations; i++)
    assert_same (job, found->operations[i], wanted->operations[i]);
  lw_job_verdict_free (wanted);
}

/* Shorter by 54 mm: then the trim fits. */
static void
shorten_tool (Fixture *f)
{
  g_autoptr (GError) error = NULL;
  LwEdit edit;

  lw_edit_begin (&edit, f->document);
  lw_edit_set_segment_length (&edit, 2, 2, 14);
  lw_edit_commit (&edit, "Edit", NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpfloat (lw_document_get_job (f->document)->tools[2].tip_length, ==, 160);
}

static void
test_as_judged_at_once (Fixture *f, gconstpointer data)
{
  g_assert_cmpint (count_open (f), ==, 7);
  g_assert_cmpint (lw_checker_get_verdict (f->checker)->verdict, ==, LW_VERDICT_NOT_CHECKED);
  wait_until_done (f);
  g_assert_cmpint (f->changes, >=, 7);
  g_assert_cmpint (lw_checker_get_verdict (f->checker)->verdict, ==, LW_VERDICT_DOES_NOT_FIT);
  g_assert_cmpint (lw_checker_get_verdict (f->checker)->operations[TRIM]->n_mends, >, 0);
  assert_as_judged_at_once (f);
}

/* An edit of a tool opens its operations only; going back finds all of them known. */
static void
test_only_what_changed (Fixture *f, gconstpointer data)
{
  wait_until_done (f);
  shorten_tool (f);
  g_assert_cmpint (count_open (f), ==, 1);
  g_assert_null (lw_checker_get_verdict (f->checker)->operations[TRIM]);
  g_assert_true (lw_checker_is_busy (f->checker));
  g_assert_cmpint (lw_checker_get_verdict (f->checker)->verdict, ==, LW_VERDICT_NOT_CHECKED);
  wait_until_done (f);
  assert_as_judged_at_once (f);

  lw_document_undo (f->document);
  g_assert_cmpint (count_open (f), ==, 0);
  g_assert_false (lw_checker_is_busy (f->checker));
  assert_as_judged_at_once (f);
}

/* Operations that change places keep their verdicts, but each with its own place in it. */
static void
test_exchanged_operations (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  LwEdit edit;

  wait_until_done (f);
  lw_edit_begin (&edit, f->document);
  lw_edit_move (&edit, "setups[0].operations", TRIM, 1);
  lw_edit_commit (&edit, "Edit", NULL, &error);
  g_assert_no_error (error);
  wait_until_done (f);
  assert_as_judged_at_once (f);
}

static void
test_the_one_looked_at_comes_first (Fixture *f, gconstpointer data)
{
  lw_checker_set_first (f->checker, 0, TRIM);
  while (count_open (f) > 5)
    g_main_context_iteration (NULL, TRUE);
  g_assert_nonnull (lw_checker_get_verdict (f->checker)->operations[TRIM]);
}

/* What was stopped is not checked, and goes on from there. */
static void
test_stopping (Fixture *f, gconstpointer data)
{
  g_assert_true (lw_checker_is_busy (f->checker));
  lw_checker_cancel (f->checker);
  g_assert_false (lw_checker_is_busy (f->checker));
  g_assert_true (lw_checker_is_cancelled (f->checker));
  for (int i = 0; i < 20; i++)
    g_main_context_iteration (NULL, FALSE);
  g_assert_cmpint (count_open (f), ==, 7);
  g_assert_cmpint (lw_checker_get_verdict (f->checker)->verdict, ==, LW_VERDICT_NOT_CHECKED);
  lw_checker_resume (f->checker);
  g_assert_true (lw_checker_is_busy (f->checker));
  wait_until_done (f);
  assert_as_judged_at_once (f);
}

/* A newer job is all that counts, however fast they come. */
static void
test_latest_wins (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  for (int i = 0; i <= 50; i++) {
    lw_document_set (f->document, "setups[0].placed[0].at_mm[0]", lw_json_new_number (550 - i),
                     "Move part", "drag", &error);
    g_assert_no_error (error);
    g_main_context_iteration (NULL, FALSE);
  }
  wait_until_done (f);
  assert_as_judged_at_once (f);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, test) g_test_add ("/checker/" name, Fixture, NULL, set_up, test, tear_down)
  ADD ("at-once", test_as_judged_at_once);
  ADD ("only-what-changed", test_only_what_changed);
  ADD ("exchanged", test_exchanged_operations);
  ADD ("first", test_the_one_looked_at_comes_first);
  ADD ("stopping", test_stopping);
  ADD ("latest-wins", test_latest_wins);
  return g_test_run ();
}
