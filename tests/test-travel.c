/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/tolerances.h"
#include "machines.h"
#include "near.h"

/* Two coupled rules on Alder, so that one of them is of another kind than the other. */
static LwMachine *
ruled_machine (void)
{
  return test_machine_with (
      "alder", (const char *[]){ "limits_when[1]",
                                 "{\"axis\": \"Y\", \"low_mm\": 300, \"when\": {\"axis\": \"C\", "
                                 "\"above_deg\": 90}}",
                                 NULL });
}

static LwPose
random_pose (GRand *random)
{
  return (LwPose){ { g_rand_double_range (random, -50, 3650),
                     g_rand_double_range (random, -50, 2250),
                     g_rand_double_range (random, -50, 1050) },
                   lw_radians (g_rand_double_range (random, -230, 230)),
                   lw_radians (g_rand_double_range (random, -115, 115)) };
}

/* ------------------------------------------------------------------------------------------------
 * A slow reference: move one axis at a time in steps until something is broken. */

static double
value_of (const LwPose *pose, LwAxis axis)
{
  return axis <= LW_AXIS_Z   ? lw_vec3_get (pose->pivot, (int)axis)
         : axis == LW_AXIS_C ? pose->c
                             : pose->t;
}

static LwPose
moved (LwPose pose, LwAxis axis, double by)
{
  if (axis == LW_AXIS_C)
    pose.c += by;
  else if (axis == LW_AXIS_TILT)
    pose.t += by;
  else
    lw_vec3_set (&pose.pivot, (int)axis, lw_vec3_get (pose.pivot, (int)axis) + by);
  return pose;
}

static bool
rule_is_kept (const LwCoupledLimit *rule, const LwPose *pose)
{
  double value = value_of (pose, rule->axis), when = value_of (pose, rule->when);

  return (rule->above ? when <= rule->threshold : when >= rule->threshold)
         || (value >= rule->low && value <= rule->high);
}

static bool
all_is_kept (const LwMachine *machine, const LwPose *pose)
{
  for (LwAxis axis = LW_AXIS_X; axis < LW_N_AXES; axis++)
    if (value_of (pose, axis) < machine->travel[axis].low
        || value_of (pose, axis) > machine->travel[axis].high)
      return false;
  for (int i = 0; i < machine->n_coupled; i++)
    if (!rule_is_kept (&machine->coupled[i], pose))
      return false;
  return true;
}

/* How far one of the axes from … to can move alone before something is broken, to one step. */
static double
room_by_steps (const LwMachine *machine, const LwPose *pose, LwAxis from, LwAxis to, double step)
{
  for (double by = 0;; by += step)
    for (LwAxis axis = from; axis <= to; axis++) {
      LwPose up = moved (*pose, axis, by), down = moved (*pose, axis, -by);

      if (!all_is_kept (machine, &up) || !all_is_kept (machine, &down))
        return by;
    }
}

/* Inside everything: leeway is what one axis alone can move (within the reference's step); less
 * only near a rule's corner, where both sides are inside the reserves. */
static void
test_leeway_by_steps (void)
{
  g_autoptr (LwMachine) machine = ruled_machine ();
  g_autoptr (GRand) random = g_rand_new_with_seed (99);
  LwReserves reserves = { 10, lw_radians (3), 10 };
  double step = 0.5, turn = lw_radians (0.1);
  int inside = 0, cornered = 0;

  for (int i = 0; i < 4000; i++) {
    LwPose pose = random_pose (random);
    LwLeeway leeway = lw_travel_get_leeway (machine, &pose, &reserves);
    double travel, rotary;

    g_assert_true ((fmin (leeway.travel, leeway.rotary) >= 0) == all_is_kept (machine, &pose));
    if (!all_is_kept (machine, &pose))
      continue;
    inside++;
    travel = room_by_steps (machine, &pose, LW_AXIS_X, LW_AXIS_Z, step);
    rotary = room_by_steps (machine, &pose, LW_AXIS_C, LW_AXIS_TILT, turn);
    if (leeway.travel < travel - step || leeway.rotary < rotary - turn) {
      bool by_rule = leeway.travel < travel - step ? leeway.travel_limit.rule >= 0
                                                   : leeway.rotary_limit.rule >= 0;

      g_assert_true (by_rule);
      g_assert_cmpfloat (fmin (lw_slack_of_travel (leeway.travel, &reserves),
                               lw_slack_of_rotary (leeway.rotary, &reserves)),
                         <, 1);
      cornered++;
    } else {
      assert_near (leeway.travel, travel - step / 2, step / 2 + 1e-6);
      assert_near (leeway.rotary, rotary - turn / 2, turn / 2 + 1e-9);
    }
  }
  g_assert_cmpint (inside, >, 2000);
  g_assert_cmpint (cornered, <, 50);
}

/* The rule of FORMATS' kind: while Z is above 960, B stays within ±60. */
static void
test_coupled (void)
{
  static const struct {
    double z, b;    /* mm, degrees */
    double mm, deg; /* leeway wanted */
    const char *travel, *rotary;
  } table[] = {
    { 800, 45, 200, 65, "Z+", "B+" },                        /* neither side near */
    { 800, 90, 160, 20, "Z+ (hose loop at the top)", "B+" }, /* B out: Z must stay below */
    { 980, 45, 20, 15, "Z+", "B+ (hose loop at the top)" },  /* Z out: B must stay inside */
    { 980, -50, 20, 10, "Z+", "B- (hose loop at the top)" },
    { 980, 90, -20, 20, "Z+ (hose loop at the top)", "B+" },         /* both out: Z is nearer */
    { 999, 61, 1, -1, "Z+", "B+ (hose loop at the top)" },           /* both out: B is nearer */
    { 960, 90, 0, 20, "Z+ (hose loop at the top)", "B+" },           /* limits are inclusive */
    { 959.75, 59.5, 40.25, 0.5, "Z+", "B+ (hose loop at the top)" }, /* at the corner */
  };
  g_autoptr (LwMachine) machine = test_machine ("alder");

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    LwPose pose = { { 1800, 1100, table[i].z }, 0, lw_radians (table[i].b) };
    LwLeeway leeway = lw_travel_get_leeway (machine, &pose, NULL);
    g_autofree char *travel = lw_limit_to_text (machine, leeway.travel_limit, true);
    g_autofree char *rotary = lw_limit_to_text (machine, leeway.rotary_limit, true);

    assert_near (leeway.travel, table[i].mm, 1e-9);
    assert_near (lw_degrees (leeway.rotary), table[i].deg, 1e-9);
    g_assert_cmpstr (travel, ==, table[i].travel);
    g_assert_cmpstr (rotary, ==, table[i].rotary);
  }
}

static void
test_limits_named (void)
{
  static const struct {
    double at[5];
    const char *travel, *rotary;
  } table[] = {
    { { 10, 1100, 500, 0, 0 }, "X-", "B-" },
    { { 3700, 1100, 500, 0, 5 }, "X+", "B+" },
    { { 1800, -1, 500, -200, 0 }, "Y-", "C-" },
    { { 1800, 2190, 500, 219, 0 }, "Y+", "C+" },
    { { 1800, 1100, 1, 230, 109 }, "Z-", "C+" },
    { { 1800, 1100, 940, 0, -111 },
      "Z+ (hose loop at "
      "the top)",
      "B-" },
  };
  g_autoptr (LwMachine) machine = test_machine ("alder");

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    const double *at = table[i].at;
    LwPose pose = { { at[0], at[1], at[2] }, lw_radians (at[3]), lw_radians (at[4]) };
    LwLeeway leeway = lw_travel_get_leeway (machine, &pose, NULL);
    g_autofree char *travel = lw_limit_to_text (machine, leeway.travel_limit, true);
    g_autofree char *rotary = lw_limit_to_text (machine, leeway.rotary_limit, true);

    g_assert_cmpstr (travel, ==, table[i].travel);
    g_assert_cmpstr (rotary, ==, table[i].rotary);
  }
}

/* Over a box no pivot has less slack than is answered, and the least is met at a corner or, where a
 * rule's sides cross, bounded by it. */
static void
test_box (void)
{
  g_autoptr (LwMachine) machine = ruled_machine ();
  g_autoptr (GRand) random = g_rand_new_with_seed (5);
  LwReserves reserves = { 10, lw_radians (3), 10 };

  for (int i = 0; i < 3000; i++) {
    LwPose a = random_pose (random), b = random_pose (random);
    LwBox3 box =
        lw_box3_add ((LwBox3){ a.pivot, a.pivot }, lw_vec3_add_scaled (a.pivot, b.pivot, 0.05));
    LwLeeway least = lw_travel_get_leeway_of_box (machine, &box, a.c, a.t, &reserves);
    double slack = fmin (lw_slack_of_travel (least.travel, &reserves),
                         lw_slack_of_rotary (least.rotary, &reserves));
    double sampled = INFINITY;

    for (int k = 0; k < 64; k++) {
      double f[3] = { (k & 3) / 3.0, (k >> 2 & 3) / 3.0, (k >> 4) / 3.0 };
      LwPose pose = { { box.low.x + f[0] * (box.high.x - box.low.x),
                        box.low.y + f[1] * (box.high.y - box.low.y),
                        box.low.z + f[2] * (box.high.z - box.low.z) },
                      a.c,
                      a.t };
      LwLeeway leeway = lw_travel_get_leeway (machine, &pose, &reserves);

      sampled = fmin (sampled, fmin (lw_slack_of_travel (leeway.travel, &reserves),
                                     lw_slack_of_rotary (leeway.rotary, &reserves)));
    }
    g_assert_cmpfloat (slack, <=, sampled + 1e-9);
    assert_near (slack, sampled, 1e-9);
  }
}

static void
test_reserves (void)
{
  LwReserves reserves = { 10, lw_radians (3), 0 }, none = { 0, 0, 0 };

  assert_near (lw_slack_of_travel (25, &reserves), 2.5, 0);
  assert_near (lw_slack_of_travel (25, &none), 25, 0);
  assert_near (lw_slack_of_travel (25, NULL), 25, 0);
  assert_near (lw_slack_of_rotary (lw_radians (6), &reserves), 2, 1e-15);
  assert_near (lw_slack_of_rotary (lw_radians (6), &none), 6, 1e-14);
}

/* ------------------------------------------------------------------------------------------------
 * Solutions. */

static void
check_solution (const LwMachine *machine, const LwSolution *solution, LwVec3 tip, LwVec3 axis,
                double length)
{
  LwVec3 back = lw_pose_get_tip (machine, &machine->tables[0], &solution->pose, length);
  LwVec3 u = lw_head_get_tool_axis (&machine->head, solution->pose.c, solution->pose.t);

  assert_near (lw_vec3_length (lw_vec3_sub (back, tip)), 0, 1e-9);
  assert_near (lw_vec3_length (lw_vec3_sub (u, axis)), 0, 1e-12);
}

static double
slack_of (const LwSolution *solution)
{
  return fmin (solution->leeway.travel, lw_degrees (solution->leeway.rotary));
}

/* Each pose inside the limits is among the solutions of its own tip and axis, all of which lead
 * back there, lie inside rotary limits and come best first; and a count by brute force over turns.
 */
static void
check_round_trip (const char *id)
{
  g_autoptr (LwMachine) machine = test_machine (id);
  g_autoptr (GRand) random = g_rand_new_with_seed (23);
  const LwTravel *travel = machine->travel;
  bool endless = isinf (travel[LW_AXIS_C].low);

  for (int i = 0; i < 2000; i++) {
    double c_low = endless ? -LW_PI : travel[LW_AXIS_C].low;
    double c_high = endless ? LW_PI : travel[LW_AXIS_C].high;
    LwPose pose = { { g_rand_double_range (random, 0, 3000), g_rand_double_range (random, 0, 2000),
                      g_rand_double_range (random, 320, 900) },
                    g_rand_double_range (random, c_low, c_high),
                    g_rand_double_range (random, travel[4].low, travel[4].high) };
    LwVec3 tip = lw_pose_get_tip (machine, &machine->tables[0], &pose, 180);
    LwVec3 axis = lw_head_get_tool_axis (&machine->head, pose.c, pose.t);
    LwSolution solutions[LW_MAX_SOLUTIONS];
    int n = lw_travel_solve (machine, &machine->tables[0], 180, tip, axis, NULL, solutions);
    LwBranches branches = lw_head_solve (&machine->head, axis);
    bool found = false;
    int want = 0;

    for (int k = 0; k < n; k++) {
      check_solution (machine, &solutions[k], tip, axis, 180);
      g_assert_cmpfloat (solutions[k].leeway.rotary, >=, -LW_INSIDE_TOL);
      if (k > 0)
        g_assert_cmpfloat (slack_of (&solutions[k]), <=, slack_of (&solutions[k - 1]) + 2e-9);
      found = found
              || (fabs (solutions[k].pose.c - pose.c) < 1e-7
                  && fabs (solutions[k].pose.t - pose.t) < 1e-7);
    }
    for (int b = 0; b < branches.n; b++)
      for (int turn = -3; turn <= 3; turn++) {
        double c = branches.branch[b].c + turn * 2 * LW_PI, t = branches.branch[b].t;
        LwPose other = { lw_vec3_sub (lw_vec3_add (tip, machine->tables[0].origin),
                                      lw_head_get_swing (&machine->head, 180, c, t)),
                         c, t };

        if (endless ? turn == 0 : c >= c_low && c <= c_high)
          want += t >= travel[4].low && t <= travel[4].high
                  && lw_travel_get_leeway (machine, &other, NULL).rotary >= 0;
      }
    g_assert_cmpint (n, ==, want);
    g_assert_true (found || lw_travel_get_leeway (machine, &pose, NULL).rotary < 0);
  }
}

static void
test_round_trip (void)
{
  check_round_trip ("alder");
  check_round_trip ("birch");
  check_round_trip ("rowan");
}

/* The design's worked check: the same tip and axis come back from three ways, + branch first. */
static void
test_worked_check (void)
{
  static const double want[][2] = { { 30, 45 }, { -150, -45 }, { 210, -45 } };
  g_autoptr (LwMachine) machine = test_machine ("alder");
  LwPose pose = { { 1000, 1000, 800 }, lw_radians (30), lw_radians (45) };
  LwVec3 tip = lw_pose_get_tip (machine, &machine->tables[0], &pose, 200);
  LwVec3 axis = lw_head_get_tool_axis (&machine->head, pose.c, pose.t);
  LwSolution solutions[LW_MAX_SOLUTIONS];
  int n = lw_travel_solve (machine, &machine->tables[0], 200, tip, axis, NULL, solutions);

  g_assert_cmpint (n, ==, 3);
  for (int i = 0; i < 3; i++) {
    assert_near (lw_degrees (solutions[i].pose.c), want[i][0], 1e-9);
    assert_near (lw_degrees (solutions[i].pose.t), want[i][1], 1e-9);
    assert_near (solutions[i].pose.pivot.x, 1000, 1e-9);
    assert_near (solutions[i].pose.pivot.y, 1000, 1e-9);
    assert_near (solutions[i].pose.pivot.z, 800, 1e-9);
    g_assert_false (solutions[i].c_free);
  }
}

/* Straight down the heading is 0, or where C's limits leave 0 out, nearest to it. */
static void
test_straight_down (void)
{
  static const struct {
    const char *low, *high;
    double want;
  } table[] = {
    { "-220", "220", 0 }, { "30", "300", 30 }, { "-300", "-40", -40 }, { "0", "9", 0 }
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    g_autoptr (LwMachine) machine =
        test_machine_with ("alder", (const char *[]){ "axes.C.low_deg", table[i].low,
                                                      "axes.C.high_deg", table[i].high, NULL });
    LwSolution solutions[LW_MAX_SOLUTIONS];
    int n = lw_travel_solve (machine, &machine->tables[0], 200, lw_vec3 (500, 500, 100),
                             lw_vec3 (0, 0, 1), NULL, solutions);

    g_assert_cmpint (n, ==, 1);
    g_assert_true (solutions[0].c_free);
    assert_near (lw_degrees (solutions[0].pose.c), table[i].want, 1e-12);
    assert_near (solutions[0].pose.t, 0, 0);
    check_solution (machine, &solutions[0], lw_vec3 (500, 500, 100), lw_vec3 (0, 0, 1), 200);
  }
}

/* A rule on C that leaves heading 0 out where the tool stands. */
static void
test_straight_down_under_a_rule (void)
{
  g_autoptr (LwMachine) machine = test_machine_with (
      "alder", (const char *[]){ "limits_when[0]",
                                 "{\"axis\": \"C\", \"low_deg\": 25, \"when\": {\"axis\": \"X\", "
                                 "\"below_mm\": 800}}",
                                 NULL });
  LwSolution solutions[LW_MAX_SOLUTIONS];

  g_assert_cmpint (lw_travel_solve (machine, &machine->tables[0], 200, lw_vec3 (100, 500, 100),
                                    lw_vec3 (0, 0, 1), NULL, solutions),
                   ==, 1);
  assert_near (lw_degrees (solutions[0].pose.c), 25, 1e-9);
  g_assert_cmpint (lw_travel_solve (machine, &machine->tables[0], 200, lw_vec3 (900, 500, 100),
                                    lw_vec3 (0, 0, 1), NULL, solutions),
                   ==, 1);
  assert_near (lw_degrees (solutions[0].pose.c), 0, 0);
}

/* The end of an inclined head's reach is one attitude with two readings of its tilt axis. */
static void
test_end_of_reach (void)
{
  g_autoptr (LwMachine) machine = test_machine ("rowan");
  g_autoptr (LwMachine) one_sided =
      test_machine_with ("rowan", (const char *[]){ "axes.D.high_deg", "0", NULL });
  LwVec3 level = { 0.6, 0.8, 0 };
  LwSolution solutions[LW_MAX_SOLUTIONS];

  g_assert_cmpint (lw_travel_solve (machine, &machine->tables[0], 200, lw_vec3 (900, 900, 100),
                                    level, NULL, solutions),
                   ==, 2);
  check_solution (machine, &solutions[0], lw_vec3 (900, 900, 100), level, 200);
  check_solution (machine, &solutions[1], lw_vec3 (900, 900, 100), level, 200);
  g_assert_cmpint (lw_travel_solve (one_sided, &one_sided->tables[0], 200, lw_vec3 (900, 900, 100),
                                    level, NULL, solutions),
                   ==, 1);
  assert_near (solutions[0].pose.t, -LW_PI, 1e-12);
  g_assert_cmpint (lw_travel_solve (machine, &machine->tables[0], 200, lw_vec3 (900, 900, 100),
                                    lw_vec3 (0.6, 0.8, -0.01), NULL, solutions),
                   ==, 0);
}

/* Limits are inclusive, and beyond travel is an answer with a negative leeway. */
static void
test_ends (void)
{
  g_autoptr (LwMachine) machine = test_machine ("alder");
  double t = lw_radians (110), beyond = lw_radians (110.001);
  LwSolution solutions[LW_MAX_SOLUTIONS];
  int n = lw_travel_solve (machine, &machine->tables[0], 200, lw_vec3 (500, 500, 300),
                           lw_vec3 (sin (t), 0, cos (t)), NULL, solutions);

  g_assert_cmpint (n, ==, 3);
  assert_near (solutions[0].leeway.rotary, 0, 1e-9);
  g_assert_cmpint (lw_travel_solve (machine, &machine->tables[0], 200, lw_vec3 (500, 500, 300),
                                    lw_vec3 (sin (beyond), 0, cos (beyond)), NULL, solutions),
                   ==, 0);
  n = lw_travel_solve (machine, &machine->tables[0], 200, lw_vec3 (-20, 500, 100),
                       lw_vec3 (0, 0, 1), NULL, solutions);
  g_assert_cmpint (n, ==, 1);
  assert_near (solutions[0].leeway.travel, -20, 1e-9);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/travel/leeway-by-steps", test_leeway_by_steps);
  g_test_add_func ("/travel/coupled", test_coupled);
  g_test_add_func ("/travel/limits-named", test_limits_named);
  g_test_add_func ("/travel/box", test_box);
  g_test_add_func ("/travel/reserves", test_reserves);
  g_test_add_func ("/travel/round-trip", test_round_trip);
  g_test_add_func ("/travel/worked-check", test_worked_check);
  g_test_add_func ("/travel/straight-down", test_straight_down);
  g_test_add_func ("/travel/straight-down-under-a-rule", test_straight_down_under_a_rule);
  g_test_add_func ("/travel/end-of-reach", test_end_of_reach);
  g_test_add_func ("/travel/ends", test_ends);
  return g_test_run ();
}
