/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "machine/travel.h"

#include <glib/gi18n.h>
#include <stdlib.h>

#include "base/text.h"
#include "base/tolerances.h"

double
lw_slack_of_travel (double travel, const LwReserves *reserves)
{
  return travel / (reserves && reserves->travel > 0 ? reserves->travel : 1);
}

double
lw_slack_of_rotary (double rotary, const LwReserves *reserves)
{
  return rotary / (reserves && reserves->rotary > 0 ? reserves->rotary : lw_radians (1));
}

static bool
is_rotary (LwAxis axis)
{
  return axis >= LW_AXIS_C;
}

/* The range that each axis covers: one value for a pose, an interval for a box of pivots. */
typedef struct {
  double low[LW_N_AXES], high[LW_N_AXES];
} Cover;

typedef struct {
  double leeway;
  LwLimit limit;
} Bound;

static void
take (LwLeeway *least, Bound bound)
{
  if (is_rotary (bound.limit.axis)) {
    if (bound.leeway < least->rotary) {
      least->rotary = bound.leeway;
      least->rotary_limit = bound.limit;
    }
  } else if (bound.leeway < least->travel) {
    least->travel = bound.leeway;
    least->travel_limit = bound.limit;
  }
}

static Bound
within (const Cover *cover, LwAxis axis, double low, double high, int rule)
{
  double over_low = cover->low[axis] - low, under_high = high - cover->high[axis];

  return over_low <= under_high ? (Bound){ over_low, { axis, false, rule } }
                                : (Bound){ under_high, { axis, true, rule } };
}

/* A coupled rule is broken only when both of its sides are. They lie on different axes: over a box,
 * which is a product of intervals, the least of the better side is the better of the two leasts. */
static Bound
under_rule (const LwMachine *machine, int index, const Cover *cover, const LwReserves *reserves)
{
  const LwCoupledLimit *rule = &machine->coupled[index];
  LwAxis when = rule->when;
  Bound kept = within (cover, rule->axis, rule->low, rule->high, index);
  Bound out = { rule->above ? rule->threshold - cover->high[when]
                            : cover->low[when] - rule->threshold,
                { when, rule->above, index } };
  double kept_slack = is_rotary (rule->axis) ? lw_slack_of_rotary (kept.leeway, reserves)
                                             : lw_slack_of_travel (kept.leeway, reserves);
  double out_slack = is_rotary (when) ? lw_slack_of_rotary (out.leeway, reserves)
                                      : lw_slack_of_travel (out.leeway, reserves);

  if (fmin (kept.leeway, out.leeway) >= 0 && fmax (kept_slack, out_slack) >= 1)
    return (Bound){ INFINITY, kept.limit };
  return out_slack > kept_slack ? out : kept;
}

static LwLeeway
leeway_of (const LwMachine *machine, const Cover *cover, const LwReserves *reserves)
{
  LwLeeway least = { .travel = INFINITY, .rotary = INFINITY };

  for (LwAxis axis = LW_AXIS_X; axis < LW_N_AXES; axis++)
    take (&least, within (cover, axis, machine->travel[axis].low, machine->travel[axis].high, -1));
  for (int i = 0; i < machine->n_coupled; i++)
    take (&least, under_rule (machine, i, cover, reserves));
  return least;
}

LwLeeway
lw_travel_get_leeway_of_box (const LwMachine *machine, const LwBox3 *pivots, double c, double t,
                             const LwReserves *reserves)
{
  Cover cover = { { pivots->low.x, pivots->low.y, pivots->low.z, c, t },
                  { pivots->high.x, pivots->high.y, pivots->high.z, c, t } };

  return leeway_of (machine, &cover, reserves);
}

LwLeeway
lw_travel_get_leeway (const LwMachine *machine, const LwPose *pose, const LwReserves *reserves)
{
  LwBox3 box = { pose->pivot, pose->pivot };

  return lw_travel_get_leeway_of_box (machine, &box, pose->c, pose->t, reserves);
}

/* "while Z is above 960 mm", as the displays show it. */
static char *
threshold_to_text (const LwMachine *machine, const LwCoupledLimit *rule, bool ascii)
{
  char number[LW_NUMBER_SIZE];
  double stated = is_rotary (rule->when)
                      ? lw_degrees (rule->threshold)
                      : rule->threshold - lw_vec3_get (machine->stated_to_pivot, (int)rule->when);
  const char *letter = lw_machine_get_letter (machine, rule->when);
  const char *unit = is_rotary (rule->when) ? (ascii ? " deg" : "°") : " mm";

  lw_number_to_text (lw_round (stated, 6, LW_ROUND_NEAREST), number);
  if (ascii)
    return g_strdup_printf ("while %s is %s %s%s", letter, rule->above ? "above" : "below", number,
                            unit);
  return rule->above ? g_strdup_printf (_ ("while %s is above %s%s"), letter, number, unit)
                     : g_strdup_printf (_ ("while %s is below %s%s"), letter, number, unit);
}

char *
lw_limit_to_text (const LwMachine *machine, LwLimit limit, bool ascii)
{
  const char *minus = ascii ? "-" : "−";
  g_autofree char *end =
      g_strconcat (lw_machine_get_letter (machine, limit.axis), limit.high ? "+" : minus, NULL);
  g_autofree char *why = NULL;

  if (limit.rule < 0)
    return g_steal_pointer (&end);
  why = machine->coupled[limit.rule].why
            ? g_strdup (machine->coupled[limit.rule].why)
            : threshold_to_text (machine, &machine->coupled[limit.rule], ascii);
  return g_strdup_printf ("%s (%s)", end, why);
}

LwVec3
lw_pose_get_tip (const LwMachine *machine, const LwTable *table, const LwPose *pose,
                 double tip_length)
{
  LwVec3 swing = lw_head_get_swing (&machine->head, tip_length, pose->c, pose->t);

  return lw_vec3_sub (lw_vec3_add (pose->pivot, swing), table->origin);
}

/* ------------------------------------------------------------------------------------------------
 * All ways to one tip and tool axis. */

typedef struct {
  const LwMachine *machine;
  const LwReserves *reserves;
  LwVec3 tip; /* machine frame */
  double tip_length;
  LwSolution *solutions;
  int n;
} Search;

static bool
is_inside (const LwTravel *travel, double value)
{
  return value >= travel->low - LW_INSIDE_TOL && value <= travel->high + LW_INSIDE_TOL;
}

static void
add_solution (Search *search, double c, double t, bool c_free)
{
  LwVec3 swing = lw_head_get_swing (&search->machine->head, search->tip_length, c, t);
  LwSolution solution = { .pose = { lw_vec3_sub (search->tip, swing), c, t }, .c_free = c_free };

  solution.leeway = lw_travel_get_leeway (search->machine, &solution.pose, search->reserves);
  if (solution.leeway.rotary < -LW_INSIDE_TOL) /* a coupled rule */
    return;
  if (search->n < LW_MAX_SOLUTIONS)
    search->solutions[search->n++] = solution;
}

/* The whole turns k for which angle + 2πk is inside; none when low > high. */
static void
turns_inside (const LwTravel *travel, double angle, int *low, int *high)
{
  if (isinf (travel->low) || isinf (travel->high)) {
    *low = *high = 0;
    return;
  }
  *low = (int)ceil ((travel->low - LW_INSIDE_TOL - angle) / (2 * LW_PI));
  *high = (int)floor ((travel->high + LW_INSIDE_TOL - angle) / (2 * LW_PI));
}

/* The heading that is nearest 0 and that limits and coupled rules allow: it is 0 or an end of one.
 */
static void
add_free_heading (Search *search, double t)
{
  const LwMachine *machine = search->machine;
  const LwTravel *c = &machine->travel[LW_AXIS_C];
  LwSolution best;
  bool found = false;

  add_solution (search, fmin (fmax (0, c->low), c->high), t, true);
  if (search->n > 0)
    return;
  for (int i = 0; i < 2 * machine->n_coupled; i++) {
    const LwCoupledLimit *rule = &machine->coupled[i / 2];
    double end = i % 2 ? rule->high : rule->low;

    if (rule->axis != LW_AXIS_C || isinf (end) || !is_inside (c, end))
      continue;
    add_solution (search, end, t, true);
    if (search->n > 0 && (!found || fabs (end) < fabs (best.pose.c)))
      best = search->solutions[0];
    found = found || search->n > 0;
    search->n = 0;
  }
  if (found)
    search->solutions[search->n++] = best;
}

static void
add_headings (Search *search, const LwBranch *branch, double t, bool c_free)
{
  const LwTravel *c = &search->machine->travel[LW_AXIS_C];
  int low, high;

  if (!is_inside (&search->machine->travel[LW_AXIS_TILT], t))
    return;
  if (c_free) {
    add_free_heading (search, t);
    return;
  }
  turns_inside (c, branch->c, &low, &high);
  for (int k = low; k <= high; k++)
    add_solution (search, branch->c + 2 * LW_PI * k, t, false);
}

static double
slack_in_steps (const LwSolution *solution, const LwReserves *reserves)
{
  double slack = fmin (lw_slack_of_travel (solution->leeway.travel, reserves),
                       lw_slack_of_rotary (solution->leeway.rotary, reserves));

  return round (slack / LW_SLACK_STEP);
}

static int
compare_solutions (const void *a, const void *b, void *reserves)
{
  const LwSolution *left = a, *right = b;
  double left_slack = slack_in_steps (left, reserves);
  double right_slack = slack_in_steps (right, reserves);
  double left_turn = fabs (left->pose.c), right_turn = fabs (right->pose.c);

  if (left_slack != right_slack)
    return left_slack > right_slack ? -1 : 1;
  if ((left->pose.t < 0) != (right->pose.t < 0))
    return left->pose.t < 0 ? 1 : -1;
  if (fabs (left_turn - right_turn) > LW_INSIDE_TOL)
    return left_turn < right_turn ? -1 : 1;
  return left->pose.c > right->pose.c ? -1 : left->pose.c < right->pose.c;
}

int
lw_travel_solve (const LwMachine *machine, const LwTable *table, double tip_length, LwVec3 tip,
                 LwVec3 tool_axis, const LwReserves *reserves,
                 LwSolution solutions[LW_MAX_SOLUTIONS])
{
  LwBranches branches = lw_head_solve (&machine->head, tool_axis);
  Search search = { .machine = machine,
                    .reserves = reserves,
                    .tip = lw_vec3_add (tip, table->origin),
                    .tip_length = tip_length,
                    .solutions = solutions };

  for (int i = 0; i < branches.n; i++) {
    const LwBranch *branch = &branches.branch[i];
    int low, high;

    turns_inside (&machine->travel[LW_AXIS_TILT], branch->t, &low, &high);
    for (int k = low; k <= high; k++)
      add_headings (&search, branch, branch->t + 2 * LW_PI * k, branches.c_free);
  }
  g_qsort_with_data (solutions, search.n, sizeof *solutions, compare_solutions, (gpointer)reserves);
  return search.n;
}
