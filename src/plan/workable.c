/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "plan/workable.h"

#include <glib/gi18n.h>

#include "base/tolerances.h"
#include "plan/judge.h"

static void
cap (double *value, double to)
{
  *value = fmin (*value, to);
}

static void
lift (double *value, double to)
{
  *value = fmax (*value, to);
}

/* A coupled rule is kept the simple way: a linear axis that it limits always stays inside, and a
 * linear axis that it asks about stays on the side of the threshold where the pivots are. A rule
 * whose threshold lies among them holds that axis where it is. */
static void
keep_rule (const LwCoupledLimit *rule, const LwBox3 *pivots, LwBox3 *travel)
{
  if (rule->axis <= LW_AXIS_Z) {
    double low = lw_vec3_get (travel->low, rule->axis);
    double high = lw_vec3_get (travel->high, rule->axis);

    lift (&low, rule->low);
    cap (&high, rule->high);
    lw_vec3_set (&travel->low, rule->axis, low);
    lw_vec3_set (&travel->high, rule->axis, high);
  }
  if (rule->when <= LW_AXIS_Z) {
    double low = lw_vec3_get (travel->low, rule->when);
    double high = lw_vec3_get (travel->high, rule->when);
    double from = lw_vec3_get (pivots->low, rule->when);
    double to = lw_vec3_get (pivots->high, rule->when);

    if (to <= rule->threshold)
      cap (&high, rule->threshold);
    else if (from >= rule->threshold)
      lift (&low, rule->threshold);
    else {
      lift (&low, from);
      cap (&high, to);
    }
    lw_vec3_set (&travel->low, rule->when, low);
    lw_vec3_set (&travel->high, rule->when, high);
  }
}

/* Narrows the box of moves by one operation. */
static bool
add_operation (const LwJob *job, int setup, int operation, LwBox3 *moves, const char **reason,
               LwProgress *progress)
{
  const LwMachine *machine = job->machine;
  LwJudge judge;
  LwJudgement judgement;
  bool done = true;

  if (lw_judge_init (&judge, job, setup, operation) != NULL || judge.n_items == 0)
    *reason = N_ ("an operation on the part can't be judged");
  else if (!lw_judge_run (&judge, &judgement, NULL, progress))
    done = false;
  else if (judgement.without < judge.n_items
           || !(judgement.least.rotary >= job->reserves.rotary - LW_INSIDE_TOL))
    *reason = N_ ("an operation on the part needs an attitude that the head can't take");
  else {
    LwBox3 travel = judge.travel;

    for (int i = 0; i < machine->n_coupled; i++)
      keep_rule (&machine->coupled[i], &judgement.pivots, &travel);
    *moves = lw_box3_intersect (*moves, lw_judge_get_moves (&judge, travel, judgement.pivots));
  }
  lw_judge_clear (&judge);
  return done;
}

bool
lw_workable_compute (const LwJob *job, int setup, int placed, LwWorkable *workable,
                     LwProgress *progress)
{
  const LwSetup *of = &job->setups[setup];
  LwBox3 moves = { { -INFINITY, -INFINITY, -INFINITY }, { INFINITY, INFINITY, INFINITY } };
  int n = 0;

  *workable = (LwWorkable){ 0 };
  for (int i = 0; i < of->n_operations && workable->reason == NULL; i++)
    if (of->operations[i].placed == placed) {
      if (!add_operation (job, setup, i, &moves, &workable->reason, progress))
        return false;
      n++;
    }
  if (workable->reason == NULL && n == 0)
    workable->reason = N_ ("there is no operation on the part");
  if (workable->reason == NULL && lw_box3_is_empty (moves))
    workable->reason = N_ ("no place keeps the reserves with the attitudes as they are");
  workable->exists = workable->reason == NULL;
  if (workable->exists)
    workable->at = lw_box3_move (moves, of->placed[placed].at);
  return true;
}
