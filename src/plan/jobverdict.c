/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "plan/verdict.h"

LwVerdictKind
lw_verdict_of_operations (LwOperationVerdict *const *operations, int n)
{
  LwVerdictKind verdict = n > 0 ? LW_VERDICT_FITS : LW_VERDICT_NOT_CHECKED;

  for (int i = 0; i < n; i++)
    verdict =
        MIN (verdict, operations[i] != NULL ? operations[i]->verdict : LW_VERDICT_NOT_CHECKED);
  return verdict;
}

int
lw_job_count_operations (const LwJob *job)
{
  int n = 0;

  for (int i = 0; i < job->n_setups; i++)
    n += job->setups[i].n_operations;
  return n;
}

LwJobVerdict *
lw_verdict_judge_job (const LwJob *job, LwProgress *progress)
{
  LwJobVerdict *verdict = g_new0 (LwJobVerdict, 1);
  int n = 0;

  verdict->n_operations = lw_job_count_operations (job);
  verdict->operations = g_new0 (LwOperationVerdict *, MAX (verdict->n_operations, 1));
  for (int i = 0; i < job->n_setups; i++)
    for (int k = 0; k < job->setups[i].n_operations; k++, n++) {
      verdict->operations[n] = lw_verdict_judge (job, i, k, progress);
      if (verdict->operations[n] == NULL
          || !lw_verdict_find_mends (job, verdict->operations[n], progress)) {
        lw_job_verdict_free (verdict);
        return NULL;
      }
    }
  verdict->verdict = lw_verdict_of_operations (verdict->operations, n);
  return verdict;
}

void
lw_job_verdict_free (LwJobVerdict *verdict)
{
  if (verdict == NULL)
    return;
  for (int i = 0; i < verdict->n_operations; i++)
    lw_operation_verdict_unref (verdict->operations[i]);
  g_free (verdict->operations);
  g_free (verdict);
}
