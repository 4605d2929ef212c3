/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>

#include "machine/head.h"

/* The four heads of the sweeps, in stated form: B, A, inclined, and one with every offset. */
static inline LwHead
test_head (int which)
{
  static const LwHead heads[] = {
    { .n = { 0, 1, 0 }, .pivot_length = 250 },
    { .n = { 1, 0, 0 }, .pivot_length = 230 },
    { .n = { 0, 1, 1 }, .e = { 0.4, 0, 0 }, .s = { 8, 0, 0 }, .pivot_length = 310 },
    { .n = { 0.2, -0.9, 0.6 }, .e = { 12, -3, -80 }, .s = { -1.5, 0.4, -220 }, .pivot_length = 90 },
  };
  LwHead head = heads[which];

  head.n = lw_vec3_unit (head.n);
  return head;
}

#define TEST_N_HEADS 4

/* Any head that leaves a pivot length in our form. */
static inline LwHead
test_random_head (GRand *random)
{
  LwHead head, form;
  LwVec3 shift;

  do {
    head.n = lw_vec3_unit (lw_vec3 (g_rand_double_range (random, -1, 1),
                                    g_rand_double_range (random, -1, 1),
                                    g_rand_double_range (random, -1, 1)));
    head.e =
        lw_vec3 (g_rand_double_range (random, -100, 100), g_rand_double_range (random, -100, 100),
                 g_rand_double_range (random, -100, 100));
    head.s = lw_vec3 (g_rand_double_range (random, -50, 50), g_rand_double_range (random, -50, 50),
                      g_rand_double_range (random, -50, 40));
    head.pivot_length = g_rand_double_range (random, 50, 500);
    if (hypot (head.n.x, head.n.y) < 0.2)
      continue;
    form = head;
    lw_head_normalize (&form, &shift);
  } while (hypot (head.n.x, head.n.y) < 0.2 || form.pivot_length < 1);
  return head;
}
