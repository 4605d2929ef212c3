/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib.h>

#include "near.h"
#include "picturesjob.h"
#include "plan/workable.h"

/* The box of workable places against the verdict itself: every corner keeps the reserves, and a
 * tenth of a millimetre beyond any face does not. */

static LwJob *
read_job (char **folder, const char *rule)
{
  g_autofree char *path = NULL, *text = NULL;
  GString *job = g_string_new (pictures_job);

  *folder = jobs_make_folder ();
  path = g_build_filename (*folder, "part.stl", NULL);
  jobs_write_ellipsoid (path, 12, lw_vec3 (900, 500, 200), lw_vec3 (0, 0, 0));
  g_assert_cmpuint (g_string_replace (job, "{`rule`:`normal`,`lean_deg`:20}", rule, 1), ==, 1);
  g_assert_cmpuint (g_string_replace (job, "{`all`:true}", "{`facing`:[0,0,1],`within_deg`:60}", 1),
                    ==, 1);
  text = g_string_free (job, FALSE);
  return jobs_read (*folder, text);
}

static bool
keeps_at (LwJob *job, LwVec3 at)
{
  LwVec3 *place = &job->setups[0].placed[0].at, before = *place;
  LwOperationVerdict *verdict;
  bool keeps;

  *place = at;
  verdict = lw_verdict_judge (job, 0, 0, NULL);
  keeps = verdict->judged && verdict->within_reserves;
  lw_operation_verdict_unref (verdict);
  *place = before;
  return keeps;
}

static void
test_box_is_exact (void)
{
  static const char *const rules[] = { "{`rule`:`along`,`direction`:[0,0,1]}",
                                       "{`rule`:`along`,`direction`:[0.3,0,1]}",
                                       "{`rule`:`along`,`direction`:[-0.2,0.4,1]}" };

  for (guint r = 0; r < G_N_ELEMENTS (rules); r++) {
    char *folder;
    LwJob *job = read_job (&folder, rules[r]);
    LwWorkable workable;
    LwVec3 size, center;

    g_assert_true (lw_workable_compute (job, 0, 0, &workable, NULL));
    g_assert_cmpstr (workable.reason, ==, NULL);
    g_assert_true (workable.exists);
    size = lw_box3_size (workable.at);
    center = lw_box3_center (workable.at);
    for (int corner = 0; corner < 8; corner++)
      g_assert_true (keeps_at (job, lw_vec3 (center.x + (corner & 1 ? 0.5 : -0.5) * size.x,
                                             center.y + (corner & 2 ? 0.5 : -0.5) * size.y,
                                             center.z + (corner & 4 ? 0.5 : -0.5) * size.z)));
    for (int face = 0; face < 6; face++) {
      LwVec3 at = center;
      double end = lw_vec3_get (face % 2 ? workable.at.high : workable.at.low, face / 2);

      lw_vec3_set (&at, face / 2, end + (face % 2 ? 0.1 : -0.1));
      g_assert_false (keeps_at (job, at));
    }
    lw_job_unref (job);
    jobs_remove_folder (folder);
  }
}

/* A coupled limit ends the box before it could bind: every corner still keeps the reserves. */
static void
test_coupled_limits_are_kept (void)
{
  char *folder;
  LwJob *job = read_job (&folder, "{`rule`:`along`,`direction`:[0.3,0,1]}");
  LwCoupledLimit rule = { .axis = LW_AXIS_TILT,
                          .low = lw_radians (-10),
                          .high = lw_radians (10),
                          .when = LW_AXIS_Z,
                          .above = true,
                          .threshold = 800,
                          .why = NULL };
  LwCoupledLimit *before = job->machine->coupled;
  LwWorkable free_box, workable;

  job->setups[0].placed[0].at.z = -200; /* all pivots below 800 */
  g_assert_true (lw_workable_compute (job, 0, 0, &free_box, NULL));
  job->machine->coupled = &rule;
  job->machine->n_coupled = 1;
  g_assert_true (lw_workable_compute (job, 0, 0, &workable, NULL));
  g_assert_true (workable.exists);
  g_assert_cmpfloat (workable.at.high.z, <, free_box.at.high.z - 100);
  g_assert_true (keeps_at (job, workable.at.low));
  g_assert_true (keeps_at (job, workable.at.high));
  job->machine->coupled = before;
  job->machine->n_coupled = 0;
  lw_job_unref (job);
  jobs_remove_folder (folder);
}

static void
test_reasons (void)
{
  char *folder;
  LwJob *job = read_job (&folder, "{`rule`:`along`,`direction`:[1,0,-0.9]}"); /* beyond ±110° */
  LwWorkable workable;

  g_assert_true (lw_workable_compute (job, 0, 0, &workable, NULL));
  g_assert_false (workable.exists);
  g_assert_nonnull (workable.reason);
  g_assert_true (lw_workable_compute (job, 0, 1, &workable, NULL)); /* the block has no operation */
  g_assert_false (workable.exists);
  g_assert_nonnull (workable.reason);
  lw_job_unref (job);
  jobs_remove_folder (folder);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/workable/exact", test_box_is_exact);
  g_test_add_func ("/workable/coupled", test_coupled_limits_are_kept);
  g_test_add_func ("/workable/reasons", test_reasons);
  return g_test_run ();
}
