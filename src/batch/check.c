/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/parallel.h"
#include "batch/answer.h"
#include "batch/report.h"
#include "batch/verbs.h"

static const LwOptionSpec specs[] = { { "--machine", 1, false }, { NULL } };

static LwJob *
load_job (const LwOptions *options, GError **error)
{
  g_autoptr (LwMeshStore) store = lw_mesh_store_new ();
  g_autoptr (LwJob) job =
      lw_job_load (lw_options_get_operand (options, 0), store, true, NULL, error);
  const char *other = lw_options_get_text (options, "--machine", 0);
  g_autoptr (LwMachine) machine = NULL;

  if (job == NULL || other == NULL)
    return g_steal_pointer (&job);
  machine = lw_machine_load (other, error);
  return machine != NULL ? lw_job_with_machine (job, machine, error) : NULL;
}

int
lw_batch_check (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (LwOptions) options = lw_options_parse (argc, argv, specs, 1, &error);
  g_autoptr (LwJob) job = NULL;
  LwJobVerdict *verdict;
  int status;

  if (options != NULL) {
    lw_parallel_set_threads (lw_options_get_threads (options));
    job = load_job (options, &error);
  }
  if (job == NULL)
    return lw_batch_fail (error);

  verdict = lw_verdict_judge_job (job, NULL);
  if (lw_options_get_json (options)) {
    lw_answer_print (lw_report_check (job, verdict));
  } else {
    g_autofree char *text = lw_report_check_text (job, verdict, lw_options_get_unit (options));

    g_print ("%s", text);
  }
  status = lw_report_get_status (verdict->verdict);
  lw_job_verdict_free (verdict);
  return status;
}
