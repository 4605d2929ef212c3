/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <stdio.h>

#include "heads.h"

/* Prints random poses of the four heads for an outside judge (test_kdl.py), a CSV row each:
 * the stated head (n, e, s, P), tip length, c, t; then the tip relative to the stated pivot and the
 * tool axis; then, of the inverse of that axis, each branch (c, t) and the tip it swings to. */

#define POSES 10000

static void
print_numbers (const double *values, int n)
{
  for (int i = 0; i < n; i++)
    printf (",%.17g", values[i]);
}

static void
print_vec3 (LwVec3 v)
{
  print_numbers ((double[]){ v.x, v.y, v.z }, 3);
}

static void
print_row (GRand *random, int which)
{
  LwHead stated = test_head (which), head = stated;
  double c = g_rand_double_range (random, -6.5, 6.5), t = g_rand_double_range (random, -3, 3);
  double tip_length = g_rand_double_range (random, 0, 400);
  LwVec3 shift, axis;
  LwBranches branches;

  lw_head_normalize (&head, &shift);
  axis = lw_head_get_tool_axis (&head, c, t);
  branches = lw_head_solve (&head, axis);
  printf ("%d", which);
  print_vec3 (stated.n);
  print_vec3 (stated.e);
  print_vec3 (stated.s);
  print_numbers ((double[]){ stated.pivot_length, tip_length, c, t }, 4);
  print_vec3 (lw_vec3_add (shift, lw_head_get_swing (&head, tip_length, c, t)));
  print_vec3 (axis);
  for (int i = 0; i < branches.n; i++) {
    const LwBranch *branch = &branches.branch[i];

    print_numbers ((double[]){ branch->c, branch->t }, 2);
    print_vec3 (lw_vec3_add (shift, lw_head_get_swing (&head, tip_length, branch->c, branch->t)));
  }
  printf ("\n");
}

int
main (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (41);

  for (int which = 0; which < TEST_N_HEADS; which++)
    for (int i = 0; i < POSES; i++)
      print_row (random, which);
  return 0;
}
