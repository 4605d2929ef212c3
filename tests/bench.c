/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "bench-scenes.h"

#include <glib.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/utsname.h>
#include <sys/wait.h>
#include <unistd.h>

/* Runs the named scenes (a name or the beginning of one; none = all) and prints CSV:
 *   scene, runs, median and best in milliseconds, how much was done and of what, that per second at
 *   the median, peak memory of the scene's process, machine, compiler, commit.
 * The first run warms up and is not counted. Each scene is a child process. */

#define MAX_RUNS 101

static int
compare_doubles (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

/* The child's part: prints the row without its end, which the parent knows. */
static void
time_scene (const BenchScene *scene)
{
  double times_ms[MAX_RUNS];
  int runs = CLAMP (scene->runs == 0 ? 5 : scene->runs, 1, MAX_RUNS);
  void *prepared = scene->prepare != NULL ? scene->prepare () : NULL;
  double done = scene->work (prepared);
  for (int i = 0; i < runs; i++) {
    gint64 start_us = g_get_monotonic_time ();
    done = scene->work (prepared);
    times_ms[i] = (double)(g_get_monotonic_time () - start_us) / 1000;
  }
  if (scene->finish != NULL)
    scene->finish (prepared);
  qsort (times_ms, runs, sizeof *times_ms, compare_doubles);
  double median_ms =
      runs % 2 == 1 ? times_ms[runs / 2] : (times_ms[runs / 2 - 1] + times_ms[runs / 2]) / 2;
  printf ("%s,%d,%.3f,%.3f,%.0f,%s,%.0f", scene->name, runs, median_ms, times_ms[0], done,
          scene->unit, median_ms > 0 ? done / median_ms * 1000 : 0);
}

static bool
run_scene (const BenchScene *scene, const char *about)
{
  fflush (stdout);
  pid_t child = fork ();
  if (child < 0) {
    perror ("fork");
    return false;
  }
  if (child == 0) {
    time_scene (scene);
    fflush (stdout);
    _exit (0);
  }
  int status;
  struct rusage usage;
  if (wait4 (child, &status, 0, &usage) < 0 || !WIFEXITED (status) || WEXITSTATUS (status) != 0) {
    fprintf (stderr, "bench: scene %s failed\n", scene->name);
    return false;
  }
  printf (",%.1f,%s\n", (double)usage.ru_maxrss / 1024, about);
  return true;
}

/* "x86_64 2 cores MODEL,compiler,commit", without commas of their own. */
static char *
describe_machine (void)
{
  struct utsname name;
  uname (&name);
  g_autofree char *cpu_info = NULL;
  g_autofree char *model = g_strdup ("");
  if (g_file_get_contents ("/proc/cpuinfo", &cpu_info, NULL, NULL)) {
    const char *line = strstr (cpu_info, "model name");
    const char *colon = line != NULL ? strchr (line, ':') : NULL;
    if (colon != NULL) {
      g_free (model);
      model = g_strndup (colon + 1, strcspn (colon + 1, "\n"));
    }
  }
  const char *commit = g_getenv ("LEEWAY_COMMIT");
  g_autofree char *machine =
      g_strdup_printf ("%s %u cores%s", name.machine, g_get_num_processors (), model);
  g_strdelimit (machine, ",", ' ');
#ifdef __clang__
  return g_strdup_printf ("%s,%s,%s", machine, __VERSION__, commit != NULL ? commit : "unknown");
#else
  return g_strdup_printf ("%s,gcc %s,%s", machine, __VERSION__,
                          commit != NULL ? commit : "unknown");
#endif
}

static bool
is_asked (const char *name, int n_asked, char **asked)
{
  for (int i = 0; i < n_asked; i++)
    if (g_str_has_prefix (name, asked[i]))
      return true;
  return n_asked == 0;
}

int
main (int argc, char **argv)
{
  g_autofree char *about = describe_machine ();
  int n_run = 0, n_failed = 0;
  puts ("scene,runs,median_ms,best_ms,done,unit,per_second,peak_mb,machine,compiler,commit");
  for (size_t t = 0; t < G_N_ELEMENTS (bench_tables); t++)
    for (const BenchScene *scene = bench_tables[t]; scene->name != NULL; scene++) {
      if (!is_asked (scene->name, argc - 1, argv + 1))
        continue;
      n_run++;
      n_failed += !run_scene (scene, about);
    }
  if (n_run == 0) {
    fprintf (stderr, "bench: no scene of that name\n");
    return 64;
  }
  return n_failed > 0;
}
