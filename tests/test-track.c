/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gstdio.h>
#include <string.h>

#include "base/parallel.h"
#include "base/sha256.h"
#include "base/text.h"
#include "jobs.h"
#include "near.h"
#include "plan/verdict.h"

/* of the tool, mm */
#define LENGTH 180

#define PLAIN_B  "`tilt_axis`:[0,1,0],`pivot_length_mm`:250"
#define OFFSET_B PLAIN_B ",`c_to_tilt_mm`:[35,0,0],`tilt_to_spindle_mm`:[-12,20,0]"
#define OFFSET_D                                             \
  "`tilt_axis`:[0,0.70710678118654752,0.70710678118654752]," \
  "`pivot_length_mm`:210,`c_to_tilt_mm`:[18,0,0],`tilt_to_spindle_mm`:[-9,4,0]"

/* A job around the program beside it: a block, turned and moved, and one tool, number 3. sha256 may
 * be NULL. */
static LwJob *
read_job (const char *folder, const char *letter, const char *head, const char *sha256,
          const char *more)
{
  g_autofree char *sha =
      sha256 != NULL ? g_strdup_printf (",`sha256`:`%s`", sha256) : g_strdup ("");
  g_autofree char *text = g_strdup_printf (
      "{`format`:`leeway-job`,`version`:1,`machine`:{`format`:`leeway-machine`,`version`:1,"
      "`name`:`T`,`id`:`t`,`revision`:1,`structure`:`w b X Y Z C %s t`,`axes`:{"
      "`X`:{`low_mm`:0,`high_mm`:2000},`Y`:{`low_mm`:0,`high_mm`:1600},"
      "`Z`:{`low_mm`:0,`high_mm`:1200},`C`:{`low_deg`:-230,`high_deg`:230},"
      "`%s`:{`low_deg`:-170,`high_deg`:170}},`head`:{%s},"
      "`tables`:[{`name`:`main`,`origin_machine_mm`:[0,200,-180],`size_mm`:[2000,1600]}]},"
      "`parts`:[{`id`:`p`,`block_mm`:[400,300,200]}],`tools`:[{`number`:3,`tip`:`ball`,"
      "`tip_length_mm`:180,`segments`:[{`is`:`holder`,`from_mm`:0,`to_mm`:80,`d_from_mm`:50,"
      "`d_to_mm`:40},{`is`:`shank`,`from_mm`:80,`to_mm`:130,`d_from_mm`:16,`d_to_mm`:16},"
      "{`is`:`cutting`,`from_mm`:130,`to_mm`:180,`d_from_mm`:16,`d_to_mm`:16}]}],"
      "`setups`:[{`name`:`s`,`table`:`main`,`placed`:[{`id`:`q`,`part`:`p`,`yaw_deg`:90,"
      "`at_mm`:[900,300,150],`tolerance_mm`:0}],`operations`:[{`name`:`o`,`on`:`q`,`tool`:3,"
      "`attitude`:{`rule`:`program`,`file`:`path.apt`%s%s}}]}],"
      "`reserves`:{`travel_mm`:10,`rotary_deg`:0.01,`gap_mm`:10}}",
      letter, letter, head, sha, more);

  return jobs_read (folder, text);
}

static void
write_program (const char *folder, const char *text)
{
  g_autofree char *path = g_build_filename (folder, "path.apt", NULL);

  g_assert_true (g_file_set_contents (path, text, -1, NULL));
}

static LwOperationVerdict *
judge (const LwJob *job)
{
  LwOperationVerdict *verdict = lw_verdict_judge (job, 0, 0, NULL);

  g_assert_nonnull (verdict);
  return verdict;
}

/* The verdict on a program's text. */
static LwOperationVerdict *
judge_text (const char *text)
{
  char *folder = jobs_make_folder ();
  LwOperationVerdict *verdict;

  write_program (folder, text);
  {
    g_autoptr (LwJob) job = read_job (folder, "B", PLAIN_B, NULL, "");

    verdict = judge (job);
  }
  jobs_remove_folder (folder);
  return verdict;
}

/* ------------------------------------------------------------------------------------------------
 * By hand. Part to table: Rz(90°) p + (900, 300, 150); table to machine: + (0, 200, −180); straight
 * down the pivot stands 250 + 180 above the tip. Part (x, y, z) → pivot (900 − y, 500 + x, z +
 * 400).
 */

static void
test_by_hand (void)
{
  LwOperationVerdict *verdict = judge_text ("UNITS/MM\nGOTO/0,0,0\nGOTO/0,0,300\nGOTO/0,800,300\n"
                                            "GOTO/1020,800,300\nFINI\n");

  g_assert_true (verdict->judged);
  g_assert_cmpuint (verdict->n_items, ==, 4);
  g_assert_true (verdict->takes_attitudes && verdict->within_reserves);
  assert_near (verdict->leeway.travel, 1600 - (500 + 1020), 1e-9); /* X − 900 + 800 = 100 is more */
  g_assert_cmpint (verdict->leeway.travel_limit.axis, ==, LW_AXIS_Y);
  assert_near (verdict->travel_at.tip.x, 100, 1e-9);
  assert_near (verdict->travel_at.tip.y, 1320, 1e-9);
  assert_near (verdict->travel_at.pose.pivot.z, 700, 1e-9);
  g_assert_cmpint (verdict->verdict, ==, LW_VERDICT_NOT_CHECKED);
  g_assert_null (verdict->open);
  lw_operation_verdict_unref (verdict);
}

/* Lengths: 300 + 800 + 2000; of the last 1100 reach Y+, but a move counts as a whole. */
static void
test_share_by_length (void)
{
  LwOperationVerdict *verdict = judge_text ("UNITS/MM\nGOTO/0,0,0\nGOTO/0,0,300\nGOTO/0,800,300\n"
                                            "GOTO/2000,800,300\nFINI\n");

  g_assert_cmpint (verdict->verdict, ==, LW_VERDICT_DOES_NOT_FIT);
  assert_near (verdict->reachable_share, 1100.0 / 3100, 1e-12);
  assert_near (verdict->leeway.travel, 1600 - 2500, 1e-9);
  g_assert_cmpuint (verdict->n_unreachable, ==, 1);
  lw_operation_verdict_unref (verdict);
}

/* The stroke of a hole, not of the operation: pivot Z from 400 + 50 + 120 down to 400 + 50 − 445.
 */
static void
test_drilled_places (void)
{
  LwOperationVerdict *verdict = judge_text (
      "UNITS/MM\nCYCLE/DRILL,DEPTH,445,CLEAR,120\nGOTO/0,0,50\nGOTO/100,0,50\nCYCLE/OFF\n"
      "FINI\n");

  g_assert_cmpuint (verdict->n_items, ==, 4); /* stand, hole, move, hole */
  assert_near (verdict->leeway.travel, 5, 1e-9);
  g_assert_cmpint (verdict->leeway.travel_limit.axis, ==, LW_AXIS_Z);
  g_assert_false (verdict->within_reserves);
  assert_near (verdict->reachable_share, 1, 0);
  lw_operation_verdict_unref (verdict);
}

/* A single place has no length; its share is all or nothing. */
static void
test_one_place (void)
{
  LwOperationVerdict *inside = judge_text ("UNITS/MM\nGOTO/0,0,0\nFINI\n");
  LwOperationVerdict *outside = judge_text ("UNITS/MM\nGOTO/0,0,900\nFINI\n");

  assert_near (inside->reachable_share, 1, 0);
  assert_near (outside->reachable_share, 0, 0);
  lw_operation_verdict_unref (inside);
  lw_operation_verdict_unref (outside);
}

/* Only the moves of the operation's tool; the first of them comes from nowhere known. */
static void
test_tools (void)
{
  LwOperationVerdict *verdict =
      judge_text ("UNITS/MM\nLOADTL/7\nGOTO/0,0,5000\nLOADTL/3\nGOTO/0,0,100\nGOTO/100,0,100\n"
                  "LOADTL/7\nGOTO/0,0,5000\nLOADTL/3\nGOTO/200,0,100\nFINI\n");
  LwOperationVerdict *other = judge_text ("UNITS/MM\nLOADTL/7\nGOTO/0,0,0\nFINI\n");

  g_assert_cmpuint (verdict->n_items, ==, 3);
  g_assert_cmpuint (verdict->n_unreachable, ==, 0);
  assert_near (verdict->leeway.travel, 400 + 100 < 1200 - 500 ? 500 : 700, 1e-9);
  g_assert_false (other->judged);
  g_assert_true (strstr (other->missing, "does not load tool 3") != NULL);
  lw_operation_verdict_unref (verdict);
  lw_operation_verdict_unref (other);
}

static void
expect_missing (const LwJob *job, const char *why)
{
  LwOperationVerdict *verdict = judge (job);

  g_assert_false (verdict->judged);
  g_assert_cmpint (verdict->verdict, ==, LW_VERDICT_NOT_CHECKED);
  if (strstr (verdict->missing, why) == NULL)
    g_error ("“%s” is not in “%s”", why, verdict->missing);
  lw_operation_verdict_unref (verdict);
}

/* Missing, unreadable, altered, read again: never judged on what is not there. */
static void
test_files (void)
{
  char *folder = jobs_make_folder ();
  const char *well = "UNITS/MM\nGOTO/0,0,0\nFINI\n", *other = "UNITS/MM\nGOTO/0,0,99\nFINI\n";
  const char *inches = "GOTO/0,0,4\nFINI\n";
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autoptr (LwJob) missing = read_job (folder, "B", PLAIN_B, NULL, "");
  g_autoptr (LwJob) again = NULL;
  g_autoptr (LwJob) altered = NULL;
  g_autoptr (LwJob) unread = NULL;
  g_autoptr (LwJob) no_units = NULL;
  g_autoptr (LwJob) told = NULL;
  LwOperationVerdict *verdict;
  char sha256[65];

  expect_missing (missing, "file is missing");
  before = lw_verdict_dup_key (missing, 0, 0);

  write_program (folder, well);
  lw_sha256 (well, strlen (well), sha256);
  again = lw_job_with_meshes (missing, NULL);
  g_assert_true (again != missing);
  after = lw_verdict_dup_key (again, 0, 0);
  g_assert_cmpstr (before, !=, after);
  verdict = judge (again);
  g_assert_true (verdict->judged);
  lw_operation_verdict_unref (verdict);

  write_program (folder, other);
  altered = read_job (folder, "B", PLAIN_B, sha256, "");
  expect_missing (altered, "not the one this job was made with");
  write_program (folder, "UNITS/MM\nGOTO/0,0\nFINI\n");
  unread = read_job (folder, "B", PLAIN_B, NULL, "");
  expect_missing (unread, "path.apt:2: GOTO takes 3 numbers or 6");
  write_program (folder, inches);
  no_units = read_job (folder, "B", PLAIN_B, NULL, "");
  expect_missing (no_units, "must be told");
  told = read_job (folder, "B", PLAIN_B, NULL, ",`units`:`in`");
  verdict = judge (told);
  assert_near (verdict->travel_at.tip.z, 150 + 4 * 25.4, 1e-9);
  lw_operation_verdict_unref (verdict);
  jobs_remove_folder (folder);
}

/* A path that is not known is not judged; what is beside the path keeps it at not checked. */
static void
test_not_followed (void)
{
  LwOperationVerdict *lost = judge_text ("UNITS/MM\nGOTO/0,0,0\nROTABL/90\nGOTO/0,0,5\nFINI\n");
  LwOperationVerdict *open = judge_text ("UNITS/MM\nGOTO/0,0,0\nINSERT G0 Z0\nFINI\n");
  LwOperationVerdict *half =
      judge_text ("UNITS/MM\nMULTAX/ON\nGOTO/0,0,0,1,0,0\nGOTO/0,0,5,-1,0,0\nFINI\n");
  LwOperationVerdict *operations[] = { open };
  LwJobVerdict whole = { LW_VERDICT_NOT_CHECKED, operations, 1 };

  g_assert_false (lost->judged);
  g_assert_true (strstr (lost->missing, "Line 3: ROTABL is not followed") != NULL);
  g_assert_true (open->judged);
  g_assert_true (strstr (open->open, "Line 3: INSERT") != NULL);
  g_assert_cmpint (open->verdict, ==, LW_VERDICT_NOT_CHECKED);
  g_assert_null (lw_verdict_get_proven (&whole)[0]);
  g_assert_false (half->judged);
  g_assert_true (strstr (half->missing, "line 4") != NULL);
  lw_operation_verdict_unref (lost);
  lw_operation_verdict_unref (open);
  lw_operation_verdict_unref (half);
}

/* ------------------------------------------------------------------------------------------------
 * Against a slow walk: each move in 2000 steps, tip straight, axis on its great circle by turning
 * it about their normal; every way to stand there; the least over the walk of the best way's slack.
 */

#define STEPS 2000

static LwVec3
turn_towards (LwVec3 from, LwVec3 to, double share)
{
  LwVec3 normal = lw_vec3_cross (from, to);

  if (lw_vec3_length (normal) < 1e-9)
    return from;
  return lw_mat3_apply (lw_mat3_turn (lw_vec3_unit (normal), share * lw_vec3_angle (from, to)),
                        from);
}

static double
walk (const LwJob *job, const LwProgram *program)
{
  const LwPlaced *placed = &job->setups[0].placed[0];
  double least = INFINITY;

  for (guint i = 1; i < program->n_records; i++) {
    const LwProgramRecord *a = &program->records[i - 1], *b = &program->records[i];

    for (int k = 0; k <= STEPS; k++) {
      double share = (double)k / STEPS;
      LwVec3 tip = lw_vec3_add_scaled (a->tip, lw_vec3_sub (b->tip, a->tip), share);
      LwVec3 axis = lw_mat3_apply (placed->turn, turn_towards (a->axis, b->axis, share));
      LwSolution solutions[LW_MAX_SOLUTIONS];
      int n = lw_travel_solve (job->machine, &job->machine->tables[0], LENGTH,
                               lw_placed_to_table (placed, tip), axis, &job->reserves, solutions);

      g_assert_cmpint (n, >, 0);
      least = fmin (least, fmin (lw_slack_of_travel (solutions[0].leeway.travel, &job->reserves),
                                 lw_slack_of_rotary (solutions[0].leeway.rotary, &job->reserves)));
    }
  }
  return least;
}

static void
append_place (GString *text, LwVec3 tip, const LwVec3 *axis)
{
  double values[6] = { tip.x, tip.y, tip.z, axis->x, axis->y, axis->z };

  for (int i = 0; i < 6; i++) {
    char number[LW_NUMBER_SIZE];

    g_string_append_printf (text, "%s%s", i > 0 ? "," : "GOTO/",
                            lw_number_to_text (values[i], number));
  }
  g_string_append (text, "\n");
}

/* Two moves near the low end of X, where it is the turning in between that decides. The axis swings
 * past table −X (part +Y) at an even inclination, so that the pivot goes furthest within the move;
 * or it passes straight down nearby, across X, so that the heading turns fast. */
static char *
make_program (GRand *rand, bool past_pole)
{
  GString *text = g_string_new ("UNITS/MM\nMULTAX/ON\n");
  double inclination = lw_radians (g_rand_double_range (rand, 60, 80));

  for (int i = 0; i < 3; i++) {
    double sign = i % 2 == 0 ? 1 : -1;
    double azimuth = LW_PI / 2 + sign * lw_radians (g_rand_double_range (rand, 30, 70));
    LwVec3 tip = { g_rand_double_range (rand, 0, 8), past_pole ? 850 : 500, 100 };
    LwVec3 axis = lw_vec3 (sin (inclination) * cos (azimuth), sin (inclination) * sin (azimuth),
                           cos (inclination));

    if (past_pole)
      axis = lw_vec3_unit (lw_vec3 (sign * 0.3, g_rand_double_range (rand, 0.004, 0.02), 0.95));
    append_place (text, tip, &axis);
  }
  g_string_append (text, "FINI\n");
  return g_string_free (text, FALSE);
}

static void
test_against_walk (void)
{
  static const struct {
    const char *letter, *head;
  } heads[] = { { "B", PLAIN_B }, { "B", OFFSET_B }, { "D", OFFSET_D } };
  g_autoptr (GRand) rand = g_rand_new_with_seed (5000);

  for (int round = 0; round < 24; round++) {
    char *folder = jobs_make_folder ();
    g_autofree char *text = make_program (rand, round % 2 == 1);

    write_program (folder, text);
    {
      g_autoptr (LwJob) job =
          read_job (folder, heads[round % 3].letter, heads[round % 3].head, NULL, "");
      LwOperationVerdict *verdict = judge (job);
      double least = INFINITY;

      g_assert_true (verdict->judged && verdict->takes_attitudes);
      for (guint i = 0; i < verdict->n_items; i++)
        least = fmin (least, verdict->items[i].slack);
      /* 0.12 mm (docs/programs.md) of a reserve of 10 mm; the rotary reserve is so small that
       * travel decides */
      assert_near (least, walk (job, job->setups[0].operations[0].program.program), 0.012);
      lw_operation_verdict_unref (verdict);
    }
    jobs_remove_folder (folder);
  }
}

/* The same bytes for one thread or more, on a path of many pieces. */
static void
test_threads (void)
{
  char *folder = jobs_make_folder ();
  g_autoptr (GString) text = g_string_new ("UNITS/MM\nMULTAX/ON\n");
  LwOperationVerdict *verdicts[2];

  for (int i = 0; i < 400; i++)
    g_string_append_printf (text, "GOTO/%d,%d,%d,0.%d,0,0.8\n", i % 37, i % 101, i % 13,
                            i % 2 == 0 ? 6 : 55);
  g_string_append (text, "FINI\n");
  write_program (folder, text->str);
  {
    g_autoptr (LwJob) job = read_job (folder, "B", OFFSET_B, NULL, "");

    for (int i = 0; i < 2; i++) {
      lw_parallel_set_threads (i + 1);
      verdicts[i] = judge (job);
    }
    lw_parallel_set_threads (0);
  }
  g_assert_cmpuint (verdicts[0]->n_items, ==, verdicts[1]->n_items);
  for (guint i = 0; i < verdicts[0]->n_items; i++)
    g_assert_true (verdicts[0]->items[i].slack == verdicts[1]->items[i].slack);
  g_assert_true (verdicts[0]->leeway.travel == verdicts[1]->leeway.travel);
  g_assert_true (verdicts[0]->reachable_share == verdicts[1]->reachable_share);
  lw_operation_verdict_unref (verdicts[0]);
  lw_operation_verdict_unref (verdicts[1]);
  jobs_remove_folder (folder);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/track/by-hand", test_by_hand);
  g_test_add_func ("/track/share-by-length", test_share_by_length);
  g_test_add_func ("/track/drilled-places", test_drilled_places);
  g_test_add_func ("/track/one-place", test_one_place);
  g_test_add_func ("/track/tools", test_tools);
  g_test_add_func ("/track/files", test_files);
  g_test_add_func ("/track/not-followed", test_not_followed);
  g_test_add_func ("/track/against-walk", test_against_walk);
  g_test_add_func ("/track/threads", test_threads);
  return g_test_run ();
}
