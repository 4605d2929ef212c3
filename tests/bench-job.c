/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "bench.h"
#include "config.h"
#include "job/job.h"

/* A drag makes one job a frame: what an edit costs on an ordinary job and on one with a long trim.
 */

#define EDITS       100
#define TRIM_POINTS 10000

static const char parts[] = "[{\"id\": \"mold\", \"block_mm\": [2600, 1100, 400]}]";

static const char tools[] =
    "[{\"number\": 1, \"name\": \"Ball 16\", \"tip_length_mm\": 180, \"tip\": \"ball\", "
    "\"segments\": [{\"is\": \"holder\", \"from_mm\": 0, \"to_mm\": 110, \"d_from_mm\": 63, "
    "\"d_to_mm\": 36}, {\"is\": \"cutting\", \"from_mm\": 110, \"to_mm\": 180, \"d_from_mm\": "
    "16, \"d_to_mm\": 16}]}]";

static const char setups[] =
    "[{\"name\": \"First side\", \"table\": \"main\", \"placed\": [{\"id\": \"mold-1\", "
    "\"part\": \"mold\", \"yaw_deg\": 0, \"at_mm\": [500, 350, 120]}], \"operations\": []}]";

static const char trim[] =
    "{\"name\": \"Trim %d\", \"on\": \"mold-1\", \"tool\": 1, \"region\": {\"loop\": "
    "{\"points_mm\": [%s], \"closed\": true}}, \"attitude\": {\"rule\": \"flank\", "
    "\"direction\": [0, 0, 1], \"lean_deg\": 5}, \"stroke\": {\"approach_mm\": 10}}";

static LwJob *
put (LwJob *job, const char *path, JsonNode *value)
{
  LwJob *edited = lw_job_with (job, path, value, NULL);

  if (edited == NULL)
    abort ();
  lw_job_unref (job);
  return edited;
}

static JsonNode *
parse (const char *text)
{
  JsonNode *node = lw_json_parse ("bench", text, strlen (text), NULL);

  if (node == NULL)
    abort ();
  return node;
}

static JsonNode *
new_trim (int index, int n)
{
  g_autoptr (GString) points = g_string_new (NULL);
  g_autofree char *text = NULL;

  for (int i = 0; i < n; i++) {
    char x[LW_NUMBER_SIZE], y[LW_NUMBER_SIZE];

    lw_number_to_text (1300 + 1200 * cos (2 * LW_PI * i / n), x);
    lw_number_to_text (550 + 500 * sin (2 * LW_PI * i / n), y);
    g_string_append_printf (points, "%s[%s, %s, 100]", i > 0 ? ", " : "", x, y);
  }
  text = g_strdup_printf (trim, index, points->str);
  return parse (text);
}

static LwJob *
new_job (int n_operations, int n_points)
{
  g_autoptr (LwMeshStore) store = lw_mesh_store_new ();
  g_autofree char *path =
      g_build_filename (LW_SOURCE_DATA_DIR, "machines", "alder.leeway-machine", NULL);
  g_autoptr (LwMachine) machine = lw_machine_load (path, NULL);
  g_autoptr (JsonNode) root =
      parse ("{\"format\": \"leeway-job\", \"version\": 1, \"parts\": [], \"setups\": [], "
             "\"tools\": [], \"reserves\": {\"travel_mm\": 10, \"rotary_deg\": 3, \"gap_mm\": "
             "10}}");
  g_autoptr (JsonNode) node = NULL;
  LwJob *job;

  if (machine == NULL)
    abort ();
  node = lw_json_with (root, "machine", json_node_ref (machine->node), NULL);
  job = lw_job_read ("bench", "/", node, store, true, NULL, NULL);
  if (job == NULL)
    abort ();
  job = put (job, "parts", parse (parts));
  job = put (job, "tools", parse (tools));
  job = put (job, "setups", parse (setups));
  for (int i = 0; i < n_operations; i++) {
    g_autofree char *place = g_strdup_printf ("setups[0].operations[%d]", i);

    job = put (job, place, new_trim (i, n_points));
  }
  return job;
}

static void *
ordinary_job (void)
{
  return new_job (8, 20);
}

static void *
long_trim_job (void)
{
  return new_job (1, TRIM_POINTS);
}

static void
finish (void *prepared)
{
  lw_job_unref ((LwJob *)prepared);
}

static double
edit (void *prepared, const char *path)
{
  LwJob *job = lw_job_ref ((LwJob *)prepared);

  for (int i = 0; i < EDITS; i++)
    job = put (job, path, lw_json_new_number (i * 0.5));
  lw_job_unref (job);
  return EDITS;
}

static double
turn_part (void *prepared)
{
  return edit (prepared, "setups[0].placed[0].yaw_deg");
}

static double
lean_trim (void *prepared)
{
  return edit (prepared, "setups[0].operations[0].attitude.lean_deg");
}

static double
move_trim_point (void *prepared)
{
  return edit (prepared, "setups[0].operations[0].region.loop.points_mm[5000][0]");
}

const BenchScene bench_job[] = {
  { .name = "job/turn-part",
    .unit = "edits",
    .prepare = ordinary_job,
    .work = turn_part,
    .finish = finish },
  { .name = "job/turn-part-10k-trim",
    .unit = "edits",
    .prepare = long_trim_job,
    .work = turn_part,
    .finish = finish },
  { .name = "job/lean-10k-trim",
    .unit = "edits",
    .prepare = long_trim_job,
    .work = lean_trim,
    .finish = finish },
  { .name = "job/move-point-of-10k-trim",
    .unit = "edits",
    .prepare = long_trim_job,
    .work = move_trim_point,
    .finish = finish },
  { 0 },
};
