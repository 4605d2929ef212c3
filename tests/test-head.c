/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "heads.h"
#include "near.h"

/* Published tables are printed with 12 digits, ours to 1e-11 of a unit vector. */
#define TABLE 6e-13
#define TIGHT 1e-9

static const LwHead b_head = { .n = { 0, 1, 0 } };
static const LwHead a_head = { .n = { 1, 0, 0 } };

#define assert_vec(got, gx, gy, gz, within)     \
  G_STMT_START                                  \
  {                                             \
    LwVec3 vec_ = (got);                        \
    double got_[] = { vec_.x, vec_.y, vec_.z }; \
    double want_[] = { (gx), (gy), (gz) };      \
    assert_near3 (got_, want_, within);         \
  }                                             \
  G_STMT_END

static LwHead
inclined (double eta_deg)
{
  return (LwHead){ .n = { 0, sin (lw_radians (eta_deg)), cos (lw_radians (eta_deg)) } };
}

/* ISO 841: right-handed turns of the tool about +Z and +Y. */
static void
test_signs (void)
{
  LwVec3 u = lw_head_get_tool_axis (&b_head, lw_radians (90), lw_radians (30));

  assert_vec (u, 0, 0.5, 0.866025403784, TABLE);
}

/* Tool vectors computed at 30 digits from the forms of Lee and She (1997) for C-B and C-A heads. */
static void
test_tool_vectors (void)
{
  static const double table[][8] = {
    { 0, 30, 0.5, 0, 0.866025403784, 0, -0.5, 0.866025403784 },
    { 40, 30, 0.383022221559, 0.321393804843, 0.866025403784, 0.321393804843, -0.383022221559,
      0.866025403784 },
    { 90, 45, 0, 0.707106781187, 0.707106781187, 0.707106781187, 0, 0.707106781187 },
    { 135, 60, -0.612372435696, 0.612372435696, 0.5, 0.612372435696, 0.612372435696, 0.5 },
    { -120, 90, -0.5, -0.866025403784, 0, -0.866025403784, 0.5, 0 },
    { 15, -25, -0.408217893677, -0.109381654947, 0.906307787037, -0.109381654947, 0.408217893677,
      0.906307787037 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    const double *r = table[i];
    double c = lw_radians (r[0]), t = lw_radians (r[1]);

    assert_vec (lw_head_get_tool_axis (&b_head, c, t), r[2], r[3], r[4], TABLE);
    assert_vec (lw_head_get_tool_axis (&a_head, c, t), r[5], r[6], r[7], TABLE);
  }
  assert_vec (lw_head_get_tool_axis (&b_head, lw_radians (200), lw_radians (110)), -0.883022221559,
              -0.321393804843, -0.342020143326, TABLE);
}

/* The worked check of the design: P = 250, L = 200, pivot (1000, 1000, 800), c = 30°, t = 45°. */
static void
test_worked_check (void)
{
  LwHead head = { .n = { 0, 1, 0 }, .pivot_length = 250 };
  static const double ways[][2] = { { 30, 45 }, { -150, -45 }, { 210, -45 } };
  LwVec3 pivot = { 1000, 1000, 800 };

  for (gsize i = 0; i < G_N_ELEMENTS (ways); i++) {
    double c = lw_radians (ways[i][0]), t = lw_radians (ways[i][1]);
    LwVec3 tip = lw_vec3_add (pivot, lw_head_get_swing (&head, 200, c, t));

    assert_vec (tip, 724.4324, 840.9010, 481.8019, 5e-5);
  }
}

/* Tip (100, 200, 50), C 40°, tilt 30°, 450 mm from pivot to tip: pivots of both heads, computed at
 * 30 digits. */
static void
test_pivot_from_tip (void)
{
  static const double want[2][3] = { { 272.359999702, 344.627212179, 439.711431703 },
                                     { 244.627212179, 27.640000298, 439.711431703 } };
  LwHead heads[2] = { b_head, a_head };

  for (int i = 0; i < 2; i++) {
    LwVec3 w;

    heads[i].pivot_length = 250;
    w = lw_head_get_swing (&heads[i], 200, lw_radians (40), lw_radians (30));
    assert_vec (lw_vec3_sub (lw_vec3 (100, 200, 50), w), want[i][0], want[i][1], want[i][2], 6e-10);
  }
}

/* Offsets d1 = (12, −3, −80), d2 = (−1.5, 0.4, −220), 150 mm from there to the tip, computed at 30
 * digits: the same tips must come back after the head was brought to our form. */
static void
test_offsets (void)
{
  static const double table[][5] = {
    { 0, 0, 10.5, -2.6, -450 },
    { 40, 30, -131.849561797, -114.028977627, -399.6793994 },
    { -120, 90, 176.74833395, 311.337094555, -78.5 },
    { 135, 60, 220.46132755, -216.784372288, -263.700961894 },
  };
  LwHead head = { { 0, 1, 0 }, { 12, -3, -80 }, { -1.5, 0.4, -220 }, 100 };
  LwVec3 shift;

  g_assert_true (lw_head_normalize (&head, &shift));
  assert_near (head.pivot_length, 320, TIGHT);
  assert_vec (head.e, 12, 0, 0, TIGHT);
  assert_vec (head.s, -1.5, -2.6, 0, TIGHT);
  assert_vec (shift, 0, 0, -80, TIGHT);
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    const double *r = table[i];
    LwVec3 w = lw_head_get_swing (&head, 50, lw_radians (r[0]), lw_radians (r[1]));

    assert_vec (lw_vec3_add (w, shift), r[2], r[3], r[4], 6e-9);
  }
}

/* For any head: the form holds, and no tip moves by more than rounding. */
static void
test_normalize (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (20240611);

  for (int i = 0; i < 2000; i++) {
    LwHead stated = test_random_head (random), head = stated;
    double c = g_rand_double_range (random, -7, 7), t = g_rand_double_range (random, -4, 4);
    double tip_length = g_rand_double_range (random, 0, 400);
    LwVec3 shift, before, after;

    g_assert_true (lw_head_normalize (&head, &shift));
    assert_near (lw_vec3_dot (head.e, head.n), 0, TIGHT);
    g_assert_cmpfloat (head.e.z, ==, 0);
    g_assert_cmpfloat (head.s.z, ==, 0);
    before = lw_head_get_swing (&stated, tip_length, c, t);
    after = lw_vec3_add (shift, lw_head_get_swing (&head, tip_length, c, t));
    assert_vec (after, before.x, before.y, before.z, TIGHT);
    g_assert_false (lw_head_normalize (&head, &shift));
  }
}

/* Unit lengths, computed at 30 digits: sin θ sideways and 1 − cos θ down, here through w; and the
 * rule known in every shop (common practice): working width falls by twice the swing radius when a
 * tool is needed from both sides at 90°. */
static void
test_reach_lost (void)
{
  static const double table[][3] = {
    { 10, .17364818, .015192247 },
    { 15, .25881905, .034074174 },
    { 30, .5, .1339746 },
    { 45, .70710678, .29289322 },
    { 60, .8660254, .5 },
    { 75, .96592583, .74118095 },
    { 90, 1, 1 },
    { 100, .98480775, 1.1736482 },
    { 110, .93969262, 1.3420201 },
  };
  LwHead head = { .n = { 0, 1, 0 }, .pivot_length = 350 };
  LwVec3 one, other;

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    double t = lw_radians (table[i][0]);

    assert_near (lw_head_get_radius (&head, 200, t), 550 * table[i][1], 550 * 6e-9);
    assert_near (550 + lw_head_get_swing (&head, 200, 1, t).z, 550 * table[i][2], 550 * 6e-8);
  }
  one = lw_head_get_swing (&head, 200, 0, lw_radians (90));
  other = lw_head_get_swing (&head, 200, lw_radians (180), lw_radians (90));
  assert_near (other.x - one.x, 2 * (350 + 200), TIGHT);
}

/* Inclination and azimuth of inclined heads at c = 0, computed at 30 digits after Sørby (2007). */
static void
test_inclined (void)
{
  static const double table[][4] = {
    { 45, 30, 21.0905812, 10.7285831 },
    { 45, 60, 41.4096221, 22.2076543 },
    { 45, 90, 60, 35.2643897 },
    { 45, 120, 75.5224878, 50.7684795 },
    { 45, 150, 86.1590343, 69.246429 },
    { 45, 180, 90, 90 },
    { 50, 30, 22.8712596, NAN },
    { 50, 90, 65.5955027, NAN },
    { 50, 180, 100, NAN },
    { 30, 60, 28.9550244, NAN },
    { 30, 150, 57.758188, NAN },
    { 30, 180, 60, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    LwHead head = inclined (table[i][0]);
    LwVec3 u = lw_head_get_tool_axis (&head, 0, lw_radians (table[i][1]));

    assert_near (lw_degrees (acos (u.z)), table[i][2], 6e-8);
    if (!isnan (table[i][3]))
      assert_near (lw_degrees (atan2 (u.y, u.x)), table[i][3], 6e-8);
    assert_near (lw_degrees (lw_head_get_reach (&head)), 2 * table[i][0], 1e-12);
  }
}

static void
test_inclined_inverse (void)
{
  LwHead head = inclined (45);
  LwBranches b = lw_head_solve (&head, lw_vec3 (0.383022221559, 0.321393804843, 0.866025403784));

  g_assert_cmpint (b.n, ==, 2);
  assert_near (lw_degrees (b.branch[0].t), 42.9414028649, 1e-9);
  assert_near (lw_degrees (b.branch[0].c), 24.4577317766, 1e-9);
  assert_near (lw_degrees (b.branch[1].t), -42.9414028649, 1e-9);
  assert_near (lw_degrees (b.branch[1].c), -124.457731777, 1e-9);
}

/* Every branch of every attitude must give the attitude back, and one of them the angles. */
static void
test_round_trip (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (7);

  for (int i = 0; i < 40000; i++) {
    LwHead head = test_head (i % TEST_N_HEADS);
    double c = g_rand_double_range (random, -LW_PI, LW_PI);
    double t = g_rand_double_range (random, -LW_PI, LW_PI);
    LwVec3 u = lw_head_get_tool_axis (&head, c, t);
    LwBranches b = lw_head_solve (&head, lw_vec3_scale (u, g_rand_double_range (random, .1, 9)));
    int mine = t < 0;

    g_assert_cmpint (b.n, ==, 2);
    g_assert_false (b.c_free);
    g_assert_cmpfloat (b.branch[0].t, >, 0);
    g_assert_cmpfloat (b.branch[1].t, <, 0);
    for (int k = 0; k < 2; k++) {
      LwVec3 back = lw_head_get_tool_axis (&head, b.branch[k].c, b.branch[k].t);

      assert_vec (back, u.x, u.y, u.z, 1e-13);
      g_assert_true (b.branch[k].c > -LW_PI && b.branch[k].c <= LW_PI);
    }
    /* Near 0 and 180° of tilt the heading is worth less and less. */
    assert_near (b.branch[mine].t, t, 1e-12 / fmax (1e-3, fabs (sin (t / 2) * cos (t / 2))));
    assert_near (remainder (b.branch[mine].c - c, 2 * LW_PI), 0,
                 1e-12 / fmax (1e-3, fabs (sin (t / 2) * cos (t / 2))));
  }
}

static void
test_straight_down (void)
{
  for (int i = 0; i < TEST_N_HEADS; i++) {
    LwHead head = test_head (i);
    LwBranches b = lw_head_solve (&head, lw_vec3 (0, 0, 3));

    g_assert_cmpint (b.n, ==, 1);
    g_assert_true (b.c_free);
    g_assert_cmpfloat (b.branch[0].t, ==, 0);
    g_assert_cmpfloat (b.branch[0].c, ==, 0);
    /* Down to a billionth of a radian a tilt is still a tilt, with both branches. */
    for (double tilt = 1e-3; tilt > 2e-9; tilt /= 10) {
      LwVec3 u = { tilt * cos (2.0), tilt * sin (2.0), sqrt (1 - tilt * tilt) };

      b = lw_head_solve (&head, u);
      g_assert_cmpint (b.n, ==, 2);
      for (int k = 0; k < 2; k++) {
        LwVec3 back = lw_head_get_tool_axis (&head, b.branch[k].c, b.branch[k].t);

        assert_vec (back, u.x, u.y, u.z, 1e-15);
      }
    }
  }
}

static void
test_end_of_reach (void)
{
  static const double etas[] = { 30, 45, 50, 60, 80 };

  for (gsize i = 0; i < G_N_ELEMENTS (etas); i++) {
    LwHead head = inclined (etas[i]);
    double reach = lw_radians (2 * etas[i]);

    for (double azimuth = -3; azimuth < 3; azimuth += 0.5) {
      LwVec3 at = { sin (reach) * cos (azimuth), sin (reach) * sin (azimuth), cos (reach) };
      double more = reach + 1e-5, less = reach - 1e-5;
      LwVec3 beyond = { sin (more) * cos (azimuth), sin (more) * sin (azimuth), cos (more) };
      LwVec3 inside = { sin (less) * cos (azimuth), sin (less) * sin (azimuth), cos (less) };
      LwBranches b = lw_head_solve (&head, at);
      LwVec3 back;

      g_assert_cmpint (b.n, ==, 1);
      g_assert_cmpfloat (b.branch[0].t, ==, LW_PI);
      back = lw_head_get_tool_axis (&head, b.branch[0].c, b.branch[0].t);
      assert_vec (back, at.x, at.y, at.z, 1e-11);
      g_assert_cmpint (lw_head_solve (&head, beyond).n, ==, 0);
      g_assert_cmpint (lw_head_solve (&head, inside).n, ==, 2);
    }
  }
}

/* A tilt axis that lies level takes the tool all the way up; one that does not, doesn't. */
static void
test_straight_up (void)
{
  LwHead head = inclined (60);
  LwBranches b = lw_head_solve (&b_head, lw_vec3 (0, 0, -1));

  g_assert_cmpint (b.n, ==, 1);
  g_assert_true (b.c_free);
  assert_near (b.branch[0].t, LW_PI, 0);
  g_assert_cmpint (lw_head_solve (&head, lw_vec3 (0, 0, -1)).n, ==, 0);
  g_assert_cmpint (lw_head_solve (&head, lw_vec3 (0, 0, 0)).n, ==, 0);
  assert_near (lw_head_get_reach (&b_head), LW_PI, 1e-15);
}

static void
test_plain (void)
{
  g_assert_true (lw_head_is_plain (&b_head));
  for (int i = 0; i < TEST_N_HEADS; i++) {
    LwHead head = test_head (i);

    g_assert_true (lw_head_is_plain (&head) == (i < 2));
  }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/head/signs", test_signs);
  g_test_add_func ("/head/tool-vectors", test_tool_vectors);
  g_test_add_func ("/head/worked-check", test_worked_check);
  g_test_add_func ("/head/pivot-from-tip", test_pivot_from_tip);
  g_test_add_func ("/head/offsets", test_offsets);
  g_test_add_func ("/head/normalize", test_normalize);
  g_test_add_func ("/head/reach-lost", test_reach_lost);
  g_test_add_func ("/head/inclined", test_inclined);
  g_test_add_func ("/head/inclined-inverse", test_inclined_inverse);
  g_test_add_func ("/head/round-trip", test_round_trip);
  g_test_add_func ("/head/straight-down", test_straight_down);
  g_test_add_func ("/head/end-of-reach", test_end_of_reach);
  g_test_add_func ("/head/straight-up", test_straight_up);
  g_test_add_func ("/head/plain", test_plain);
  return g_test_run ();
}
