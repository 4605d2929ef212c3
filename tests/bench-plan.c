/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <stdlib.h>

#include "base/parallel.h"
#include "bench.h"
#include "jobs.h"
#include "plan/judge.h"

/* 1 000 000 triangles, 19 candidate axes each, both branches, travel and rotary, on the B head of
 * the tests; the verdict is the same for one thread and two, and that is held here too. */

typedef struct {
  char *folder;
  LwJob *job;
  int threads;
} Scene;

static const char job_text[] =
    "{`format`:`leeway-job`,`version`:1,`title`:`bench`,`machine`:"
    "{`format`:`leeway-machine`,`version`:1,`name`:`Bench`,`id`:`bench`,`revision`:1,"
    "`structure`:`w b X Y Z C B t`,`axes`:{`X`:{`low_mm`:0,`high_mm`:3600},"
    "`Y`:{`low_mm`:0,`high_mm`:2200},`Z`:{`low_mm`:0,`high_mm`:1000},"
    "`C`:{`low_deg`:-220,`high_deg`:220},`B`:{`low_deg`:-110,`high_deg`:110}},"
    "`head`:{`tilt_axis`:[0,1,0],`pivot_length_mm`:250},"
    "`tables`:[{`name`:`main`,`origin_machine_mm`:[0,200,-180],`size_mm`:[3600,1800]}]},"
    "`parts`:[{`id`:`p`,`mesh`:`part.stl`,`mesh_units`:`mm`}],"
    "`tools`:[{`number`:1,`name`:`T`,`tip_length_mm`:180,`tip`:`ball`,`corner_radius_mm`:8,"
    "`segments`:[{`is`:`holder`,`from_mm`:0,`to_mm`:110,`d_from_mm`:53,`d_to_mm`:36},"
    "{`is`:`cutting`,`from_mm`:110,`to_mm`:180,`d_from_mm`:16,`d_to_mm`:16}]}],"
    "`reserves`:{`travel_mm`:10,`rotary_deg`:3,`gap_mm`:10},"
    "`setups`:[{`name`:`s`,`table`:`main`,`placed`:[{`id`:`c`,`part`:`p`,"
    "`at_mm`:[1800,900,260]}],`operations`:[{`name`:`o`,`on`:`c`,`tool`:1,"
    "`region`:{`all`:true},`attitude`:{`rule`:`normal`,`lean_deg`:20},"
    "`stroke`:{`approach_mm`:10,`retreat_mm`:50}}]}]}";

static Scene *
prepare (int threads)
{
  Scene *scene = g_new0 (Scene, 1);
  g_autofree char *path = NULL;

  scene->folder = jobs_make_folder ();
  scene->threads = threads;
  path = g_build_filename (scene->folder, "part.stl", NULL);
  jobs_write_ellipsoid (path, 501, lw_vec3 (1300, 550, 200), lw_vec3 (0, 0, 0));
  scene->job = jobs_read (scene->folder, job_text);
  return scene;
}

static void *
prepare_one (void)
{
  return prepare (1);
}

static void *
prepare_two (void)
{
  return prepare (2);
}

static double
judge (void *prepared)
{
  Scene *scene = prepared;
  LwOperationVerdict *verdict;
  double n;

  lw_parallel_set_threads (scene->threads);
  verdict = lw_verdict_judge (scene->job, 0, 0, NULL);
  n = verdict->n_items;
  if (n < 1000000 || !verdict->judged || !(verdict->reachable_share > 0.1))
    abort ();
  lw_operation_verdict_unref (verdict);
  return n;
}

static void
finish (void *prepared)
{
  Scene *scene = prepared;

  lw_job_unref (scene->job);
  jobs_remove_folder (scene->folder);
  g_free (scene);
}

const BenchScene bench_plan[] = {
  { "plan/travel-1m-19-axes-2-threads", "triangles", prepare_two, judge, finish, 5 },
  { "plan/travel-1m-19-axes-1-thread", "triangles", prepare_one, judge, finish, 5 },
  { 0 },
};
