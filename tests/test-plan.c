/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <locale.h>
#include <string.h>

#include "base/parallel.h"
#include "base/text.h"
#include "jobs.h"
#include "near.h"
#include "plan/candidates.h"
#include "plan/contact.h"
#include "plan/judge.h"
#include "plan/reach.h"
#include "plan/verdict.h"
#include "reference.h"
#include "samples.h"
#include "tool/stretch.h"

static LwVec3
random_unit (GRand *rand)
{
  for (;;) {
    LwVec3 v = { g_rand_double_range (rand, -1, 1), g_rand_double_range (rand, -1, 1),
                 g_rand_double_range (rand, -1, 1) };
    double length = lw_vec3_length (v);

    if (length > 0.1 && length < 1)
      return lw_vec3_scale (v, 1 / length);
  }
}

/* ---------------------------------------------------------------------------------------------- */

/* Furthest point of a cutter's end towards −normal, the tip at the origin, found by trying angles
 * round the tube and refining about the best: nothing of the closed form. */
static LwVec3
search_tangency (LwCutter cutter, LwVec3 normal, LwVec3 axis)
{
  LwVec3 across = fabs (axis.x) < 0.6 ? lw_vec3 (1, 0, 0) : lw_vec3 (0, 1, 0);
  LwVec3 a = lw_vec3_unit (lw_vec3_cross (axis, across)), b = lw_vec3_cross (axis, a);
  double best = INFINITY, at[2] = { 0, 0 }, width[2] = { LW_PI, LW_PI / 2 };
  LwVec3 found = { 0, 0, 0 };

  for (int pass = 0; pass < 60; pass++) {
    double middle[2] = { at[0], pass == 0 ? 0 : at[1] };

    for (int i = -20; i <= 20; i++)
      for (int k = -20; k <= 20; k++) {
        double round = middle[0] + width[0] * i / 20;
        double down = fmin (LW_PI / 2, fmax (0, middle[1] + width[1] * k / 20));
        LwVec3 out = lw_vec3_add (lw_vec3_scale (a, cos (round)), lw_vec3_scale (b, sin (round)));
        double r = cutter.radius - cutter.corner + cutter.corner * sin (down);
        LwVec3 p = lw_vec3_add (lw_vec3_scale (out, r),
                                lw_vec3_scale (axis, cutter.corner * (1 - cos (down))));
        double height = lw_vec3_dot (p, normal);

        if (height < best) {
          best = height;
          found = p;
          at[0] = round;
          at[1] = down;
        }
      }
    width[0] *= 0.7;
    width[1] *= 0.7;
  }
  return found;
}

static void
test_contact_is_tangent (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);

  for (int i = 0; i < 60; i++) {
    double radius = g_rand_double_range (rand, 1, 40);
    LwCutter cutter = { radius, i % 3 == 0 ? radius : i % 3 == 1 ? 0 : radius * 0.3 };
    LwVec3 axis = random_unit (rand), normal = random_unit (rand), touch;

    if (lw_vec3_dot (axis, normal) < 0.05 || lw_vec3_dot (axis, normal) > 0.98)
      continue;
    touch = search_tangency (cutter, normal, axis);
    assert_near (lw_vec3_length (lw_vec3_add (touch, lw_contact_to_tip (cutter, normal, axis))), 0,
                 1e-5 * radius);
  }
}

static void
test_flank_touches_with_its_side (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (12);

  for (int i = 0; i < 100; i++) {
    LwCutter cutter = { 5, 0 };
    LwVec3 normal = random_unit (rand);
    LwVec3 axis = lw_vec3_unit (lw_vec3_cross (normal, random_unit (rand)));
    LwVec3 to_tip = lw_flank_to_tip (cutter, normal, axis, 12);

    /* The contact lies 12 above the end and one radius off the axis, on the side the normal leaves.
     */
    assert_near (lw_vec3_dot (to_tip, axis), -12, 1e-12);
    assert_near (lw_vec3_dot (to_tip, normal), 5, 1e-12);
    assert_near (lw_vec3_length (to_tip), 13, 1e-12);
  }
}

static void
test_candidates (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (13);
  LwAttitude attitude = { .rule = LW_RULE_NORMAL, .lean = lw_radians (20) };
  LwCandidateFan fan;
  LwCandidates found;

  lw_candidate_fan_init (&fan, &attitude);
  for (int i = 0; i < 200; i++) {
    LwVec3 normal = random_unit (rand);
    LwVec3 zero;

    lw_candidate_fan_at (&fan, lw_mat3_identity (), normal, lw_vec3 (0, 0, 0), &found);
    g_assert_cmpint (found.n, ==, 19);
    for (int k = 0; k < 19; k++) {
      double lean = k == 0 ? 0 : k < 7 ? 10 : 20;

      assert_near (lw_vec3_length (lw_candidates_get (&found, k)), 1, 1e-12);
      assert_near (lw_vec3_dot (lw_candidates_get (&found, k), normal), cos (lw_radians (lean)),
                   1e-12);
    }
    /* Azimuth 0 leans towards +Z; the next is counter-clockwise seen from outside. */
    zero =
        lw_vec3_sub (lw_candidates_get (&found, 7), lw_vec3_scale (normal, cos (lw_radians (20))));
    if (fabs (normal.z) < 0.99)
      g_assert_cmpfloat (zero.z, >, 0);
    g_assert_cmpfloat (
        lw_vec3_dot (lw_vec3_cross (lw_candidates_get (&found, 7), lw_candidates_get (&found, 8)),
                     normal),
        >, 0);
  }

  attitude.lean_min = lw_radians (5);
  lw_candidate_fan_init (&fan, &attitude);
  g_assert_cmpint (fan.n, ==, 18);
  attitude.lean_min = lw_radians (15);
  lw_candidate_fan_init (&fan, &attitude);
  g_assert_cmpint (fan.n, ==, 12);
  attitude = (LwAttitude){ .rule = LW_RULE_NORMAL };
  lw_candidate_fan_init (&fan, &attitude);
  g_assert_cmpint (fan.n, ==, 1);
}

/* ---------------------------------------------------------------------------------------------- */

#define MACHINE_B                                                                  \
  "{`format`:`leeway-machine`,`version`:1,`name`:`Test`,`id`:`test`,`revision`:1," \
  "`structure`:`w b X Y Z C B t`,`axes`:{"                                         \
  "`X`:{`low_mm`:0,`high_mm`:3600},`Y`:{`low_mm`:0,`high_mm`:2200},"               \
  "`Z`:{`low_mm`:0,`high_mm`:1000},`C`:{`low_deg`:-220,`high_deg`:220},"           \
  "`B`:{`low_deg`:-110,`high_deg`:110}},"                                          \
  "`head`:{`tilt_axis`:[0,1,0],`pivot_length_mm`:250},"                            \
  "`tables`:[{`name`:`main`,`origin_machine_mm`:[0,200,-180],`size_mm`:[3600,1800]}]}"

#define MACHINE_A                                                                  \
  "{`format`:`leeway-machine`,`version`:1,`name`:`Test`,`id`:`test`,`revision`:1," \
  "`structure`:`w X' b Y Z C A t`,`axes`:{"                                        \
  "`X'`:{`low_mm`:0,`high_mm`:3600},`Y`:{`low_mm`:0,`high_mm`:2200},"              \
  "`Z`:{`low_mm`:0,`high_mm`:1100},`C`:{`low_deg`:-185,`high_deg`:185},"           \
  "`A`:{`low_deg`:-100,`high_deg`:100}},"                                          \
  "`head`:{`tilt_axis`:[1,0,0],`pivot_length_mm`:230,`c_to_tilt_mm`:[0,12,0],"     \
  "`tilt_to_spindle_mm`:[0,-7,0]},"                                                \
  "`tables`:[{`name`:`main`,`origin_machine_mm`:[30,180,-150],`size_mm`:[3600,1800]}]}"

#define MACHINE_D                                                                          \
  "{`format`:`leeway-machine`,`version`:1,`name`:`Test`,`id`:`test`,`revision`:1,"         \
  "`structure`:`w b X Y Z C D t`,`axes`:{"                                                 \
  "`X`:{`low_mm`:0,`high_mm`:3600},`Y`:{`low_mm`:0,`high_mm`:2200},"                       \
  "`Z`:{`low_mm`:0,`high_mm`:1200},`C`:{`low_deg`:-270,`high_deg`:270},"                   \
  "`D`:{`low_deg`:-180,`high_deg`:180}},"                                                  \
  "`head`:{`tilt_axis`:[0,0.70710678118654752,0.70710678118654752],`pivot_length_mm`:210," \
  "`c_to_tilt_mm`:[18,0,0],`tilt_to_spindle_mm`:[-9,4,0]},"                                \
  "`tables`:[{`name`:`main`,`origin_machine_mm`:[0,200,-180],`size_mm`:[3600,1800]}]}"

static LwMachine *
read_machine (const char *text)
{
  g_autofree char *job = g_strconcat (
      "{`format`:`leeway-job`,`version`:1,`title`:`t`,`machine`:", text,
      ",`parts`:[],`setups`:[],`tools`:[],`reserves`:{`travel_mm`:10,`rotary_deg`:3,`gap_mm`:10}}",
      NULL);
  g_autoptr (LwJob) read = jobs_read (g_get_tmp_dir (), job);

  return lw_machine_ref (read->machine);
}

/* What tilting costs, unit pivot-to-tip length, given to seven digits or more (computed by mpmath).
 */
static const struct {
  double tilt, sideways, down;
} lost[] = {
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

static void
test_reach_lost (void)
{
  g_autoptr (LwMachine) machine = read_machine (MACHINE_B);
  const LwTable *table = &machine->tables[0];
  double length = 300, arm = 550;

  for (size_t i = 0; i < G_N_ELEMENTS (lost); i++) {
    LwReach straight = lw_reach_every_heading (machine, table, length, 0);
    LwReach tilted = lw_reach_every_heading (machine, table, length, lw_radians (lost[i].tilt));

    g_assert_true (straight.exists && tilted.exists);
    assert_near (tilted.box.low.x - straight.box.low.x, arm * lost[i].sideways, 1e-4);
    assert_near (straight.box.high.x - tilted.box.high.x, arm * lost[i].sideways, 1e-4);
    assert_near (straight.box.high.y - tilted.box.high.y, arm * lost[i].sideways, 1e-4);
    assert_near (tilted.box.low.z - straight.box.low.z, arm * lost[i].down, 1e-4);
    lw_reach_clear (&straight);
    lw_reach_clear (&tilted);
  }
}

/* Common practice, no source: a tool needed from both sides at 90° costs twice its swing radius. */
static void
test_both_sides_cost_twice_the_swing (void)
{
  g_autoptr (LwMachine) machine = read_machine (MACHINE_B);
  LwReach reach = lw_reach_every_heading (machine, &machine->tables[0], 214, LW_PI / 2);

  assert_near (3600 - (reach.box.high.x - reach.box.low.x), 2 * (250 + 214), 1e-9);
  assert_near (2200 - (reach.box.high.y - reach.box.low.y), 2 * (250 + 214), 1e-9);
  lw_reach_clear (&reach);
}

static void
test_one_heading_keeps_the_strokes (void)
{
  g_autoptr (LwMachine) machine = read_machine (MACHINE_B);
  LwReach reach =
      lw_reach_one_heading (machine, &machine->tables[0], 200, lw_radians (45), lw_radians (30));

  /* Swing at C 30°, B 45°: tip = pivot − 450 u. */
  assert_near (reach.box.low.x, 0 - 450 * sin (LW_PI / 4) * cos (LW_PI / 6), 1e-9);
  assert_near (reach.box.high.x - reach.box.low.x, 3600, 1e-9);
  assert_near (reach.box.high.z - reach.box.low.z, 1000, 1e-9);
  lw_reach_clear (&reach);

  reach = lw_reach_one_heading (machine, &machine->tables[0], 200, lw_radians (115), 0);
  g_assert_false (reach.exists);
  g_assert_nonnull (reach.reason);
  lw_reach_clear (&reach);
}

static bool
stands (const LwMachine *machine, const LwTable *table, double length, LwVec3 tip, double heading,
        double tilt)
{
  for (int sign = -1; sign <= 1; sign += 2) {
    LwVec3 straight = lw_head_get_tool_axis (&machine->head, 0, sign * tilt);
    double c = heading - atan2 (straight.y, straight.x);

    for (int k = -3; k <= 3; k++) {
      LwReserves reserves = { 1, 1, 1 };
      LwPose pose = { .c = c + 2 * LW_PI * k, .t = sign * tilt };
      LwVec3 w = lw_head_get_swing (&machine->head, length, pose.c, pose.t);
      LwLeeway leeway;

      pose.pivot = lw_vec3_add (lw_vec3_sub (tip, w), table->origin);
      leeway = lw_travel_get_leeway (machine, &pose, &reserves);
      if (leeway.travel >= -1e-6 && leeway.rotary >= -1e-6)
        return true;
    }
  }
  return false;
}

/* Every heading of a fine ring, at places inside the box: each stands. And for the B head, a place
 * just outside has a heading that does not. */
static void
check_every_heading (const LwMachine *machine, double tilt_deg, bool exact, GRand *rand)
{
  const LwTable *table = &machine->tables[0];
  double tilt = lw_radians (tilt_deg);
  LwReach reach = lw_reach_every_heading (machine, table, 180, tilt);

  if (!reach.exists)
    return;
  for (int i = 0; i < 20; i++) {
    LwVec3 size = lw_box3_size (reach.box), tip = reach.box.low;
    bool all = true;

    tip.x += size.x * (i < 4 ? i % 2 : g_rand_double (rand));
    tip.y += size.y * (i < 4 ? i / 2 : g_rand_double (rand));
    tip.z += size.z * g_rand_double (rand);
    for (int k = 0; k < 360; k++)
      g_assert_true (stands (machine, table, 180, tip, k * LW_PI / 180, tilt));
    if (!exact || tilt == 0)
      continue;
    tip.x = reach.box.high.x + 0.5;
    for (int k = 0; k < 360; k++)
      all = all && stands (machine, table, 180, tip, k * LW_PI / 180, tilt);
    g_assert_false (all);
  }
  lw_reach_clear (&reach);
}

static void
test_every_heading_by_brute_force (void)
{
  const char *machines[3] = { MACHINE_B, MACHINE_A, MACHINE_D };
  g_autoptr (GRand) rand = g_rand_new_with_seed (14);

  for (int m = 0; m < 3; m++) {
    g_autoptr (LwMachine) machine = read_machine (machines[m]);

    for (double tilt = 0; tilt <= 100; tilt += 20)
      check_every_heading (machine, tilt, m == 0, rand);
    /* C short of a full turn: the other branch serves the rest. */
    machine->travel[LW_AXIS_C].low = lw_radians (-120);
    machine->travel[LW_AXIS_C].high = lw_radians (135);
    for (double tilt = 10; tilt <= 90; tilt += 20)
      check_every_heading (machine, tilt, false, rand);
    machine->travel[LW_AXIS_TILT].low = 0;
    {
      LwReach reach = lw_reach_every_heading (machine, &machine->tables[0], 180, lw_radians (40));

      g_assert_false (reach.exists);
      g_assert_nonnull (reach.reason);
      lw_reach_clear (&reach);
    }
  }
}

static void
test_largest_tilt (void)
{
  g_autoptr (LwMachine) machine = read_machine (MACHINE_B);
  const LwTable *table = &machine->tables[0];
  /* 300 from X−: 500 sin t = 300 at 36.87° (3-4-5 triangle). */
  double tilt = lw_reach_get_largest_tilt (machine, table, 250, lw_vec3 (300, 900, 0));

  assert_near (lw_degrees (tilt), 36.869898, 0.01);
  g_assert_cmpfloat (lw_degrees (tilt), <=, 36.869898);
  g_assert_cmpfloat (lw_reach_get_largest_tilt (machine, table, 250, lw_vec3 (-10, 900, 0)), <, 0);
}

/* ---------------------------------------------------------------------------------------------- */

typedef struct {
  const char *machine, *tool, *attitude, *place;
} Variant;

#define TOOL(tip, radius)                                                                     \
  "{`number`:1,`name`:`T`,`tip_length_mm`:210,`tip`:`" tip "`,`corner_radius_mm`:" radius "," \
  "`segments`:[{`is`:`holder`,`from_mm`:0,`to_mm`:110,`d_from_mm`:60,`d_to_mm`:40},"          \
  "{`is`:`shank`,`from_mm`:110,`to_mm`:160,`d_from_mm`:20,`d_to_mm`:20},"                     \
  "{`is`:`cutting`,`from_mm`:160,`to_mm`:210,`d_from_mm`:20,`d_to_mm`:20}]}"

#define UPRIGHT "`yaw_deg`:0,`at_mm`:[1500,800,300]"
#define CORNER  "`yaw_deg`:33,`at_mm`:[600,500,210]"
#define FLIPPED "`yaw_deg`:-71,`rotation`:[[1,0,0],[0,-1,0],[0,0,-1]],`at_mm`:[3000,1000,420]"

static char *
make_job (const Variant *variant, const char *region)
{
  char *machine = g_strdup (variant->machine);
  GString *text = g_string_new ("{`format`:`leeway-job`,`version`:1,`title`:`t`,`machine`:");

  g_string_append (text, machine);
  g_string_append (text, ",`parts`:[{`id`:`p`,`mesh`:`part.stl`,`mesh_units`:`mm`}],`tools`:[");
  g_string_append (text, variant->tool);
  g_string_append (text, "],`reserves`:{`travel_mm`:10,`rotary_deg`:3,`gap_mm`:10},"
                         "`setups`:[{`name`:`s`,`table`:`main`,`riser_heights_mm`:[60,120,200],"
                         "`placed`:[{`id`:`c`,`part`:`p`,");
  g_string_append (text, variant->place);
  g_string_append (text, "}],`operations`:[{`name`:`o`,`on`:`c`,`tool`:1,`region`:");
  g_string_append (text, region);
  g_string_append (text, ",`attitude`:");
  g_string_append (text, variant->attitude);
  g_string_append (text, ",`stroke`:{`approach_mm`:10,`depth_mm`:3,`retreat_mm`:50}}]}]}");
  g_free (machine);
  return g_string_free (text, FALSE);
}

static const Variant variants[] = {
  { MACHINE_B, TOOL ("ball", "10"), "{`rule`:`normal`,`lean_deg`:20}", UPRIGHT },
  { MACHINE_B, TOOL ("corner", "3"), "{`rule`:`normal`,`lean_min_deg`:5,`lean_deg`:30}", CORNER },
  { MACHINE_B, TOOL ("flat", "0"),
    "{`rule`:`flank`,`direction`:[0,0,1],`lean_deg`:15,`below_mm`:4}", FLIPPED },
  { MACHINE_B, TOOL ("ball", "10"), "{`rule`:`along`,`direction`:[0.6,0,0.8]}", CORNER },
  { MACHINE_A, TOOL ("ball", "10"), "{`rule`:`normal`,`lean_deg`:25}", FLIPPED },
  { MACHINE_A, TOOL ("flat", "0"), "{`rule`:`flank`,`direction`:[1,0,0]}", CORNER },
  { MACHINE_D, TOOL ("ball", "10"), "{`rule`:`normal`,`lean_deg`:10}", UPRIGHT },
  { MACHINE_D, TOOL ("corner", "4"), "{`rule`:`normal`,`lean_deg`:40}", CORNER },
  { MACHINE_D, TOOL ("flat", "0"), "{`rule`:`along`,`direction`:[0,0,1]}", FLIPPED },
};

static const char *const regions[] = {
  "{`all`:true}",
  "{`facing`:[0,0,1],`within_deg`:80}",
  "{`facing`:[-0.6,0.3,0.2],`within_deg`:60}",
};

static void
check_against_reference (const LwJob *job, const char *what)
{
  LwOperationVerdict *verdict = lw_verdict_judge (job, 0, 0, NULL);
  Reference reference = reference_judge (job, 0, 0);

  g_test_message ("%s: share %.4f, travel %.3f mm, rotary %.3f°, %d triangles", what,
                  reference.share, reference.travel, lw_degrees (reference.rotary), reference.n);
  g_assert_true (verdict->judged);
  g_assert_cmpuint (verdict->n_items, ==, (guint)reference.n);
  assert_near (verdict->reachable_share, reference.share, 1e-9);
  g_assert_cmpint (verdict->takes_attitudes, ==, reference.n_without == 0);
  if (isfinite (reference.travel)) {
    assert_near (verdict->leeway.travel, reference.travel, 1e-6);
    assert_near (verdict->leeway.rotary, reference.rotary, 1e-9);
    /* The witness is a pose with that leeway, and its tip is where the pose puts it. */
    LwLeeway at = lw_travel_get_leeway (job->machine, &verdict->travel_at.pose, &job->reserves);
    LwVec3 tip = lw_pose_get_tip (job->machine, &job->machine->tables[0], &verdict->travel_at.pose,
                                  lw_tool_get_length (&job->tools[0]));

    assert_near (at.travel, reference.travel, 1e-6);
    assert_near (lw_vec3_length (lw_vec3_sub (tip, verdict->travel_at.tip)), 0, 1e-6);
  }
  g_assert_cmpint (verdict->verdict, ==,
                   reference.share < 1 - 1e-12 ? LW_VERDICT_DOES_NOT_FIT : LW_VERDICT_NOT_CHECKED);
  lw_operation_verdict_unref (verdict);
}

static void
test_verdict_against_reference (void)
{
  char *folder = jobs_make_folder ();
  g_autofree char *path = g_build_filename (folder, "part.stl", NULL);

  jobs_write_ellipsoid (path, 24, lw_vec3 (900, 450, 260), lw_vec3 (0, 0, 0));
  for (size_t i = 0; i < G_N_ELEMENTS (variants); i++)
    for (size_t k = 0; k < G_N_ELEMENTS (regions); k++) {
      g_autofree char *text = make_job (&variants[i], regions[k]);
      g_autofree char *what = g_strdup_printf ("variant %zu, region %zu", i, k);
      g_autoptr (LwJob) job = jobs_read (folder, text);

      check_against_reference (job, what);
    }
  jobs_remove_folder (folder);
}

/* The file's numbers for a real hull model (a towing-tank hull of the public Duisburg Test Case,
 * metres), tried where it lies beside the checkout: keel down and keel up on a gantry of 8.0 × 2.6
 * × 1.5 m. */
#define GANTRY_8M                                                                  \
  "{`format`:`leeway-machine`,`version`:1,`name`:`Long`,`id`:`long`,`revision`:1," \
  "`structure`:`w b X Y Z C B t`,`axes`:{"                                         \
  "`X`:{`low_mm`:0,`high_mm`:8000},`Y`:{`low_mm`:0,`high_mm`:2600},"               \
  "`Z`:{`low_mm`:0,`high_mm`:1500},`C`:{`low_deg`:-220,`high_deg`:220},"           \
  "`B`:{`low_deg`:-110,`high_deg`:110}},"                                          \
  "`head`:{`tilt_axis`:[0,1,0],`pivot_length_mm`:250},"                            \
  "`tables`:[{`name`:`main`,`origin_machine_mm`:[200,200,-300],`size_mm`:[7600,2200]}]}"

static void
test_real_hull (void)
{
  g_autofree char *hull = test_sample ("samples/real/towing-tank-hull.stl.gz");
  static const char *const places[2] = {
    "`yaw_deg`:0,`at_mm`:[400,1100,150]",
    "`yaw_deg`:0,`rotation`:[[1,0,0],[0,-1,0],[0,0,-1]],`at_mm`:[400,1100,750]",
  };

  if (hull == NULL)
    return;
  for (int i = 0; i < 2; i++) {
    Variant variant = { GANTRY_8M, TOOL ("ball", "10"), "{`rule`:`normal`,`lean_deg`:20}",
                        places[i] };
    g_autofree char *text = make_job (&variant, "{`facing`:[0,0,1],`within_deg`:100}");
    g_autofree char *name = g_strdup_printf ("`mesh`:`%s`,`mesh_units`:`m`", hull);
    char **pieces = g_strsplit (text, "`mesh`:`part.stl`,`mesh_units`:`mm`", -1);
    g_autofree char *real = g_strjoinv (name, pieces);
    g_autoptr (LwJob) job = NULL;

    if (i == 1) {
      char **turned = g_strsplit (real, "`facing`:[0,0,1]", -1);

      g_free (real);
      real = g_strjoinv ("`facing`:[0,0,-1]", turned);
      g_strfreev (turned);
    }
    g_strfreev (pieces);
    job = jobs_read (g_get_tmp_dir (), real);
    g_assert_cmpint (job->parts[0].mesh.state, ==, LW_MESH_READY);
    g_assert_cmpuint (lw_mesh_get_n_triangles (job->parts[0].mesh.mesh), ==, 116062);
    check_against_reference (job, i == 0 ? "hull, keel down" : "hull, keel up");
  }
}

static void
test_same_bytes_for_any_threads (void)
{
  char *folder = jobs_make_folder ();
  g_autofree char *path = g_build_filename (folder, "part.stl", NULL);
  g_autofree char *text = make_job (&variants[0], regions[0]);
  LwOperationVerdict *verdicts[3];
  g_autoptr (LwJob) job = NULL;

  jobs_write_ellipsoid (path, 120, lw_vec3 (900, 450, 260), lw_vec3 (0, 0, 0));
  job = jobs_read (folder, text);
  for (int i = 0; i < 3; i++) {
    lw_parallel_set_threads (i + 1);
    verdicts[i] = lw_verdict_judge (job, 0, 0, NULL);
  }
  lw_parallel_set_threads (0);
  g_assert_cmpuint (verdicts[0]->n_items, >, 50000);
  for (int i = 1; i < 3; i++) {
    g_assert_cmpmem (verdicts[0]->items, verdicts[0]->n_items * sizeof (LwItem), verdicts[i]->items,
                     verdicts[i]->n_items * sizeof (LwItem));
    g_assert_cmpmem (&verdicts[0]->leeway.travel, sizeof (double), &verdicts[i]->leeway.travel,
                     sizeof (double));
    g_assert_cmpmem (&verdicts[0]->leeway.rotary, sizeof (double), &verdicts[i]->leeway.rotary,
                     sizeof (double));
    g_assert_cmpmem (&verdicts[0]->reachable_share, sizeof (double), &verdicts[i]->reachable_share,
                     sizeof (double));
    lw_operation_verdict_unref (verdicts[i]);
  }
  lw_operation_verdict_unref (verdicts[0]);
  jobs_remove_folder (folder);
}

/* ---------------------------------------------------------------------------------------------- */

/* A hole straight down: the tip's lowest point is depth + breakthrough + the drill's point below
 * the face, its highest the retreat above it. P = 250, L = 166, table at −180. */
static void
test_hole_stroke (void)
{
  static const char text[] =
      "{`format`:`leeway-job`,`version`:1,`title`:`t`,`machine`:" MACHINE_B
      ",`parts`:[{`id`:`p`,`block_mm`:[400,300,100]}],`tools`:[{`number`:7,`name`:`D`,"
      "`tip_length_mm`:166,`tip`:`drill`,`point_deg`:118,`segments`:["
      "{`is`:`holder`,`from_mm`:0,`to_mm`:86,`d_from_mm`:50,`d_to_mm`:40},"
      "{`is`:`cutting`,`from_mm`:86,`to_mm`:166,`d_from_mm`:8,`d_to_mm`:8}]}],"
      "`reserves`:{`travel_mm`:10,`rotary_deg`:3,`gap_mm`:10},"
      "`setups`:[{`name`:`s`,`table`:`main`,`placed`:[{`id`:`c`,`part`:`p`,`at_mm`:[1500,800,60]}],"
      "`operations`:[{`name`:`o`,`on`:`c`,`tool`:7,`region`:{`points`:[{`at_mm`:[50,50,100],"
      "`axis`:[0,0,1]}]},`attitude`:{`rule`:`along`},`stroke`:{`approach_mm`:5,`depth_mm`:100,"
      "`breakthrough_mm`:2,`retreat_mm`:700}}]}]}";
  g_autoptr (LwJob) job = jobs_read (g_get_tmp_dir (), text);
  LwOperationVerdict *verdict = lw_verdict_judge (job, 0, 0, NULL);
  double point = 4 / tan (lw_radians (59));
  double pivot_low = 160 - 100 - 2 - point - 180 + 416, pivot_high = 160 + 700 - 180 + 416;

  g_assert_cmpfloat (pivot_low, >, 0);
  assert_near (verdict->leeway.travel, 1000 - pivot_high, 1e-9);
  g_assert_cmpint (verdict->leeway.travel_limit.axis, ==, LW_AXIS_Z);
  g_assert_true (verdict->leeway.travel_limit.high);
  g_assert_cmpint (verdict->verdict, ==, LW_VERDICT_DOES_NOT_FIT);
  lw_operation_verdict_unref (verdict);

  /* The low end, with a short retreat on a table far down. */
  {
    g_autoptr (LwJob) lower = lw_job_with (job, "machine.tables[0].origin_machine_mm",
                                           lw_json_new_vec3 (lw_vec3 (0, 200, -380)), NULL);
    g_autoptr (LwJob) shorter = lw_job_with (lower, "setups[0].operations[0].stroke.retreat_mm",
                                             lw_json_new_number (50), NULL);

    verdict = lw_verdict_judge (shorter, 0, 0, NULL);
    assert_near (verdict->leeway.travel, pivot_low - 200, 1e-9);
    g_assert_false (verdict->leeway.travel_limit.high);
    lw_operation_verdict_unref (verdict);
  }
}

static LwOperationVerdict *
judge_with (const LwJob *job, const char *path, JsonNode *value)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (LwJob) changed = lw_job_with (job, path, value, &error);

  g_assert_no_error (error);
  return lw_verdict_judge (changed, 0, 0, NULL);
}

/* Follows a mend: the operation then keeps its reserves; with a step less it does not. */
static void
follow_mend (const LwJob *job, const LwMend *mend)
{
  LwOperationVerdict *verdict = judge_with (job, mend->path, json_node_copy (mend->edit));
  JsonNode *less = NULL;

  g_assert_true (verdict->within_reserves);
  lw_operation_verdict_unref (verdict);

  if (mend->kind == LW_MEND_MOVE) {
    LwVec3 at = job->setups[0].placed[0].at;

    for (int axis = 0; axis < 2; axis++) {
      double by = lw_vec3_get (mend->by, axis);

      if (by == 0)
        continue;
      LwVec3 short_of = lw_vec3_add (at, mend->by);

      lw_vec3_set (&short_of, axis, lw_vec3_get (at, axis) + by - (by > 0 ? 0.1 : -0.1));
      verdict = judge_with (job, mend->path, lw_json_new_vec3 (short_of));
      g_assert_false (verdict->within_reserves);
      lw_operation_verdict_unref (verdict);
    }
  } else if (mend->kind == LW_MEND_LENGTH_MAX || mend->kind == LW_MEND_LENGTH_MIN) {
    double length = mend->value + (mend->kind == LW_MEND_LENGTH_MAX ? 0.1 : -0.1);

    verdict = judge_with (
        job, mend->path,
        lw_tool_stretch (&job->tools[0], lw_json_get (job->node, mend->path), length, NULL));
    g_assert_false (verdict->within_reserves);
    lw_operation_verdict_unref (verdict);
  } else if (mend->kind == LW_MEND_LEAN) {
    less = lw_json_new_number (lw_degrees (mend->value) - 1);
    verdict = judge_with (job, mend->path, less);
    g_assert_false (verdict->within_reserves);
    lw_operation_verdict_unref (verdict);
  }
}

static void
test_mends_mend (void)
{
  char *folder = jobs_make_folder ();
  g_autofree char *path = g_build_filename (folder, "part.stl", NULL);
  static const char *const places[] = {
    "`yaw_deg`:0,`at_mm`:[2400,800,300]",
    "`yaw_deg`:20,`at_mm`:[2200,1300,300]",
    "`yaw_deg`:0,`at_mm`:[1700,800,160]",
    "`yaw_deg`:0,`at_mm`:[1800,560,300]",
  };
  int n_followed = 0, kinds = 0;

  jobs_write_ellipsoid (path, 16, lw_vec3 (900, 450, 160), lw_vec3 (0, 0, 0));
  for (size_t i = 0; i < G_N_ELEMENTS (places); i++)
    for (int lean = 5; lean <= 25; lean += 10) {
      g_autofree char *attitude = g_strdup_printf ("{`rule`:`normal`,`lean_deg`:%d}", lean);
      Variant variant = { MACHINE_B, TOOL ("ball", "10"), attitude, places[i] };
      g_autofree char *text = make_job (&variant, "{`facing`:[0,0,1],`within_deg`:95}");
      g_autoptr (LwJob) job = jobs_read (folder, text);
      LwOperationVerdict *verdict = lw_verdict_judge (job, 0, 0, NULL);

      g_assert_true (lw_verdict_find_mends (job, verdict, NULL));
      for (int k = 0; k < verdict->n_mends; k++) {
        g_autofree char *words = lw_mend_to_text (job, &verdict->mends[k], LW_UNIT_MM);

        g_test_message ("place %zu, lean %d: %s", i, lean, words);
        kinds |= 1 << verdict->mends[k].kind;
        if (!verdict->mends[k].enough)
          continue;
        follow_mend (job, &verdict->mends[k]);
        n_followed++;
      }
      lw_operation_verdict_unref (verdict);
    }
  g_assert_cmpint (n_followed, >=, 4);
  g_assert_true (kinds & (1 << LW_MEND_MOVE));
  jobs_remove_folder (folder);
}

/* A long tool at 90°: the length mend is the longest that does, to a tenth. */
static void
test_length_mend (void)
{
  static const char text[] =
      "{`format`:`leeway-job`,`version`:1,`title`:`t`,`machine`:" MACHINE_B
      ",`parts`:[{`id`:`p`,`block_mm`:[2600,300,400]}],`tools`:[" TOOL (
          "flat",
          "0") "],`reserves`:{`travel_mm`:10,`rotary_deg`:3,`gap_mm`:10},"
               "`setups`:[{`name`:`s`,`table`:`main`,`placed`:[{`id`:`c`,`part`:`p`,`tolerance_mm`:"
               "0,"
               "`at_mm`:[600,800,200]}],"
               "`operations`:[{`name`:`o`,`on`:`c`,`tool`:1,`region`:{`facing`:[1,0,0],`within_deg`"
               ":5},"
               "`attitude`:{`rule`:`normal`},`stroke`:{`approach_mm`:5,`retreat_mm`:5}}]}]}";
  g_autoptr (LwJob) job = jobs_read (g_get_tmp_dir (), text);
  LwOperationVerdict *verdict = lw_verdict_judge (job, 0, 0, NULL);
  const LwMend *mend = NULL;
  LwOperationVerdict *again;

  /* Face at X 3200, retreat 5, P + L = 460: the pivot at 3665 is 65 beyond 3600. */
  assert_near (verdict->leeway.travel, -65, 1e-9);
  g_assert_true (lw_verdict_find_mends (job, verdict, NULL));
  for (int i = 0; i < verdict->n_mends; i++)
    if (verdict->mends[i].kind == LW_MEND_LENGTH_MAX)
      mend = &verdict->mends[i];
  /* 75 shorter with the reserve, but the shank is only 50 long: no length of this tool will do. */
  g_assert_null (mend);
  lw_operation_verdict_unref (verdict);

  again = judge_with (job, "setups[0].placed[0].at_mm", lw_json_new_vec3 (lw_vec3 (565, 800, 200)));
  assert_near (again->leeway.travel, -30, 1e-9);
  lw_operation_verdict_unref (again);
  {
    g_autoptr (LwJob) moved = lw_job_with (job, "setups[0].placed[0].at_mm",
                                           lw_json_new_vec3 (lw_vec3 (565, 800, 200)), NULL);

    verdict = lw_verdict_judge (moved, 0, 0, NULL);
    g_assert_true (lw_verdict_find_mends (moved, verdict, NULL));
    mend = NULL;
    for (int i = 0; i < verdict->n_mends; i++)
      if (verdict->mends[i].kind == LW_MEND_LENGTH_MAX)
        mend = &verdict->mends[i];
    g_assert_nonnull (mend);
    g_assert_true (mend->enough);
    assert_near (mend->value, 210 - 40, 1e-9);
    follow_mend (moved, mend);
    lw_operation_verdict_unref (verdict);
  }
}

static void
test_missing_is_not_checked (void)
{
  char *folder = jobs_make_folder ();
  g_autofree char *path = g_build_filename (folder, "part.stl", NULL);
  g_autofree char *text = make_job (&variants[0], regions[0]);
  g_autoptr (LwJob) job = jobs_read (folder, text);
  LwOperationVerdict *verdict = lw_verdict_judge (job, 0, 0, NULL);
  LwJobVerdict *all;

  g_assert_cmpint (verdict->verdict, ==, LW_VERDICT_NOT_CHECKED);
  g_assert_false (verdict->judged);
  g_assert_nonnull (verdict->missing);
  lw_operation_verdict_unref (verdict);

  jobs_write_ellipsoid (path, 12, lw_vec3 (500, 300, 160), lw_vec3 (0, 0, 0));
  {
    g_autoptr (LwJob) present = jobs_read (folder, text);
    g_autoptr (LwJob) altered =
        lw_job_with (present, "parts[0].sha256",
                     lw_json_new_string ("000000000000000000000000000000000000000000000000"
                                         "0000000000000000"),
                     NULL);

    verdict = lw_verdict_judge (present, 0, 0, NULL);
    g_assert_true (verdict->judged);
    lw_operation_verdict_unref (verdict);
    verdict = lw_verdict_judge (altered, 0, 0, NULL);
    g_assert_cmpint (verdict->verdict, ==, LW_VERDICT_NOT_CHECKED);
    g_assert_false (verdict->judged);
    lw_operation_verdict_unref (verdict);

    verdict = judge_with (present, "setups[0].operations[0].region",
                          json_from_string ("{\"named\": \"no such face\"}", NULL));
    g_assert_false (verdict->judged);
    lw_operation_verdict_unref (verdict);

    /* What a tool leaves out, and the answer needs. */
    {
      static const char *const needed[] = { "tools[0].tip", "tools[0].segments" };

      for (size_t i = 0; i < G_N_ELEMENTS (needed); i++) {
        verdict = judge_with (present, needed[i], NULL);
        g_assert_false (verdict->judged);
        g_assert_cmpint (verdict->verdict, ==, LW_VERDICT_NOT_CHECKED);
        lw_operation_verdict_unref (verdict);
      }
    }

    all = lw_verdict_judge_job (present, NULL);
    g_assert_cmpint (all->verdict, !=, LW_VERDICT_FITS);
    lw_job_verdict_free (all);
  }
  jobs_remove_folder (folder);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/contact/tangent", test_contact_is_tangent);
  g_test_add_func ("/plan/contact/flank", test_flank_touches_with_its_side);
  g_test_add_func ("/plan/candidates", test_candidates);
  g_test_add_func ("/plan/reach/lost", test_reach_lost);
  g_test_add_func ("/plan/reach/both-sides", test_both_sides_cost_twice_the_swing);
  g_test_add_func ("/plan/reach/one-heading", test_one_heading_keeps_the_strokes);
  g_test_add_func ("/plan/reach/every-heading", test_every_heading_by_brute_force);
  g_test_add_func ("/plan/reach/largest-tilt", test_largest_tilt);
  g_test_add_func ("/plan/verdict/reference", test_verdict_against_reference);
  g_test_add_func ("/plan/verdict/real-hull", test_real_hull);
  g_test_add_func ("/plan/verdict/threads", test_same_bytes_for_any_threads);
  g_test_add_func ("/plan/verdict/hole-stroke", test_hole_stroke);
  g_test_add_func ("/plan/verdict/missing", test_missing_is_not_checked);
  g_test_add_func ("/plan/mends/mend", test_mends_mend);
  g_test_add_func ("/plan/mends/length", test_length_mend);
  return g_test_run ();
}
