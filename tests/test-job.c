/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "half-hull.h"

#include "job/job.h"
#include "near.h"

typedef struct {
  HalfHull hull;
  LwMeshStore *store;
  LwJob *job;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  half_hull_set_up (&f->hull);
  f->store = lw_mesh_store_new ();
  f->job = half_hull_load (&f->hull, f->store);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  lw_job_unref (f->job);
  lw_mesh_store_unref (f->store);
  half_hull_clear (&f->hull);
}

/* A JSON text as a node; NULL for NULL, which removes. */
static JsonNode *
node_of (const char *json)
{
  g_autoptr (GError) error = NULL;
  JsonNode *node = json != NULL ? lw_json_parse ("value", json, strlen (json), &error) : NULL;

  g_assert_no_error (error);
  return node;
}

static LwJob *
edit (const LwJob *job, const char *path, const char *json)
{
  g_autoptr (GError) error = NULL;
  LwJob *edited = lw_job_with (job, path, node_of (json), &error);

  g_assert_no_error (error);
  g_assert_nonnull (edited);
  return edited;
}

static void
assert_refused (const LwJob *job, const char *path, const char *json, const char *message)
{
  g_autoptr (GError) error = NULL;
  LwJob *edited = lw_job_with (job, path, node_of (json), &error);

  if (edited != NULL) {
    g_test_message ("%s = %s was read", path, json != NULL ? json : "(removed)");
    g_test_fail ();
    lw_job_unref (edited);
    return;
  }
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
  if (strstr (error->message, message) == NULL) {
    g_test_message ("%s = %s: message is \"%s\", wanted \"%s\"", path,
                    json != NULL ? json : "(removed)", error->message, message);
    g_test_fail ();
  }
}

/* ------------------------------------------------------------------------------------------------
 */

static void
test_example (Fixture *f, gconstpointer data)
{
  const LwSetup *setup = lw_job_find_setup (f->job, "First side");
  const LwOperation *rough, *finish, *drill;

  g_assert_cmpstr (f->job->title, ==, "Half hull plug");
  g_assert_cmpstr (f->job->machine->name, ==, "Alder");
  g_assert_cmpint (f->job->n_parts, ==, 1);
  g_assert_cmpint (f->job->n_tools, ==, 2);
  g_assert_cmpint (f->job->n_setups, ==, 1);
  g_assert_nonnull (setup);
  g_assert_null (lw_job_find_setup (f->job, "Second side"));
  g_assert_cmpint (lw_job_find_tool (f->job, 7), ==, 1);
  g_assert_cmpint (lw_job_find_tool (f->job, 8), ==, -1);
  assert_near (f->job->reserves.travel, 10, 0);
  assert_near (f->job->reserves.rotary, LW_PI / 60, 1e-15);
  assert_near (f->job->reserves.gap, 10, 0);

  g_assert_cmpint (f->job->parts[0].mesh.state, ==, LW_MESH_READY);
  assert_near (f->job->parts[0].density, 650, 0);
  g_assert_cmpint (setup->n_riser_heights, ==, 3);
  assert_near (setup->riser_heights[2], 200, 0);
  g_assert_cmpint (setup->n_placed, ==, 1);
  assert_near (setup->placed[0].at.z, 120, 0);
  assert_near (setup->placed[0].tolerance, 2, 0);
  g_assert_true (setup->placed[0].has_stock);
  assert_near (setup->placed[0].stock_size.y, 1120, 0);
  assert_near (setup->placed[0].stock_at.x, -10, 0);
  g_assert_cmpint (setup->n_fixtures, ==, 1);
  g_assert_cmpint (setup->fixtures[0].zone, ==, LW_ZONE_NO);
  assert_near (setup->fixtures[0].tolerance, 5, 0);
  g_assert_true (setup->work_offset.exists);
  assert_near (setup->work_offset.machine.y, 550, 0);

  g_assert_cmpint (setup->n_operations, ==, 3);
  rough = &setup->operations[0], finish = &setup->operations[1], drill = &setup->operations[2];
  g_assert_cmpint (rough->attitude.rule, ==, LW_RULE_ALONG);
  g_assert_true (rough->attitude.has_direction);
  assert_near (rough->region.within, LW_PI / 3, 1e-15);
  g_assert_false (rough->against_part);
  g_assert_cmpint (finish->attitude.rule, ==, LW_RULE_NORMAL);
  assert_near (finish->attitude.lean, LW_PI / 9, 1e-15);
  g_assert_cmpstr (finish->after[0], ==, "Rough hull");
  g_assert_true (finish->against_part);
  g_assert_cmpint (drill->tool, ==, 1);
  g_assert_cmpint (drill->region.n_points, ==, 1);
  assert_near (drill->region.points[0].axis.z, 1, 0);
  g_assert_true (isnan (drill->region.points[0].diameter));
  assert_near (drill->stroke.depth, 30, 0);
  assert_near (drill->stroke.breakthrough, 0, 0);
}

static void
test_defaults (Fixture *f, gconstpointer data)
{
  g_autoptr (LwJob) bare = edit (f->job, "setups[0].operations[0].stroke", NULL);
  g_autoptr (LwJob) bare_placed = edit (bare, "setups[0].placed[0]",
                                        "{\"id\": \"plug-1\", \"part\": \"plug\", "
                                        "\"at_mm\": [1, 2, 3]}");
  const LwStroke *stroke = &bare->setups[0].operations[0].stroke;
  const LwPlaced *placed = &bare_placed->setups[0].placed[0];

  assert_near (stroke->approach, 5, 0);
  assert_near (stroke->depth, 0, 0);
  assert_near (stroke->breakthrough, 0, 0);
  assert_near (stroke->retreat, 50, 0);
  assert_near (placed->tolerance, 2, 0);
  assert_near (placed->yaw, 0, 0);
  assert_near (lw_mat3_determinant (placed->turn), 1, 0);
  g_assert_false (placed->has_stock);
}

static void
test_rules (Fixture *f, gconstpointer data)
{
  g_autoptr (LwJob) flank =
      edit (f->job, "setups[0].operations[0].attitude",
            "{\"rule\": \"flank\", \"direction\": [0, 0, 5], \"lean_deg\": 5, \"below_mm\": 2, "
            "\"heading_deg\": {\"low\": -90, \"high\": 90}, \"tilt_deg\": {\"low\": 0, "
            "\"high\": 100}}");
  g_autoptr (LwJob) probe = edit (f->job, "setups[0].operations[2].attitude.rule", "\"probe\"");
  g_autoptr (LwJob) program =
      edit (f->job, "setups[0].operations[0]",
            "{\"name\": \"Rough hull\", \"on\": \"plug-1\", \"tool\": 4, \"attitude\": {\"rule\": "
            "\"program\", \"file\": \"trim.apt\"}, \"after\": []}");
  const LwAttitude *attitude = &flank->setups[0].operations[0].attitude;

  g_assert_cmpint (attitude->rule, ==, LW_RULE_FLANK);
  assert_near (attitude->direction.z, 1, 0);
  assert_near (attitude->below, 2, 0);
  g_assert_true (attitude->has_heading && attitude->has_tilt);
  assert_near (attitude->heading_low, -LW_PI / 2, 1e-15);
  assert_near (attitude->tilt_high, lw_radians (100), 1e-15);
  g_assert_cmpint (probe->setups[0].operations[2].attitude.rule, ==, LW_RULE_PROBE);
  attitude = &program->setups[0].operations[0].attitude;
  g_assert_cmpint (attitude->rule, ==, LW_RULE_PROGRAM);
  g_assert_cmpstr (attitude->file, ==, "trim.apt");
}

static void
test_regions (Fixture *f, gconstpointer data)
{
  g_autoptr (LwJob) job = edit (
      f->job, "setups[0].operations[1].region",
      "{\"all\": true, \"facing\": [0, 3, 4], \"within_deg\": 90, \"box_mm\": {\"min\": [0, 0, 0],"
      " \"max\": [1, 2, 3]}, \"patch\": {\"seed_mm\": [1, 1, 1], \"crease_deg\": 30}, \"named\": "
      "\"deck\", \"points\": [{\"at_mm\": [1, 2, 3], \"diameter_mm\": 8, \"depth_mm\": 20}], "
      "\"loop\": {\"points_mm\": [[0, 0, 0], [1, 0, 0], [0, 1, 0]], \"normals\": [[0, 0, 2], "
      "[0, 3, 0], [1e200, 0, 0]], \"closed\": true}}");
  const LwRegion *region = &job->setups[0].operations[1].region;

  g_assert_true (region->all && region->has_facing && region->has_box && region->has_patch);
  assert_near (region->facing.y, 0.6, 1e-15);
  assert_near (region->box.high.z, 3, 0);
  assert_near (region->crease, LW_PI / 6, 1e-15);
  g_assert_cmpstr (region->named, ==, "deck");
  assert_near (region->points[0].diameter, 8, 0);
  assert_near (region->points[0].depth, 20, 0);
  assert_near (lw_vec3_length (region->points[0].axis), 0, 0);
  g_assert_cmpint (region->n_loop, ==, 3);
  g_assert_true (region->loop_closed);
  for (int i = 0; i < 3; i++)
    assert_near (lw_vec3_length (region->loop_normals[i]), 1, 1e-15);
}

/* ------------------------------------------------------------------------------------------------
 * What is refused, and where it says so */

typedef struct {
  const char *path, *json, *message;
} Fault;

#define OP    "setups[0].operations[0]."
#define DRILL "setups[0].operations[2]."
#define PLACE "setups[0].placed[0]."

static const Fault faults[] = {
  { "format", "\"leeway-machine\"", "half-hull.leeway: format: must be “leeway-job”" },
  { "version", "2", "version: is 2, made by a newer program" },
  { "version", "0", "version: " },
  { "machine", NULL, "machine" },
  { "machine.axes.B.high_deg", "\"ninety\"", "machine.axes.B.high_deg: " },
  { "parts", NULL, "parts" },
  { "setups", NULL, "setups" },
  { "tools", NULL, "tools" },
  { "reserves", NULL, "reserves" },
  { "reserves.gap_mm", NULL, "reserves.gap_mm: " },
  { "reserves.gap_mm", "-1", "reserves.gap_mm: " },
  { "colour", "1", "colour" },
  { "title", "7", "title: " },

  { "parts[0].id", NULL, "parts[0].id: " },
  { "parts[0].mesh", NULL, "parts[0]: must have either “mesh” or “block_mm”" },
  { "parts[0].block_mm", "[1, 2, 3]", "parts[0]: must have either “mesh” or “block_mm”" },
  { "parts[0].mesh_units", "\"furlong\"", "parts[0].mesh_units: must be a length unit" },
  { "parts[0].sha256", "\"abc\"", "parts[0].sha256: must be 64 hexadecimal digits" },
  { "parts[0].density_kg_m3", "-3", "parts[0].density_kg_m3: " },
  { "parts[0].walls_mm", "3", "parts[0].walls_mm" },
  { "parts[1]", "{\"id\": \"plug\", \"block_mm\": [1, 2, 3]}",
    "parts[1].id: “plug” is used twice" },
  { "parts[1]", "{\"id\": \"b\", \"block_mm\": [1, 0, 3]}", "parts[1].block_mm: " },
  { "parts[1]", "{\"id\": \"b\", \"block_mm\": [9, 9, 9], \"walls_mm\": 1}",
    "parts[1].walls_mm: a pocket needs both" },
  { "parts[1]", "{\"id\": \"b\", \"block_mm\": [9, 8, 9], \"walls_mm\": 4, \"depth_mm\": 2}",
    "parts[1].walls_mm: " },
  { "parts[1]", "{\"id\": \"b\", \"block_mm\": [9, 8, 9], \"walls_mm\": 1, \"depth_mm\": 9}",
    "parts[1].depth_mm: " },
  { "parts[0].bolts", "[{\"at_mm\": [1, 2]}]", "parts[0].bolts[0].at_mm" },

  { "setups[0].table", "\"side\"",
    "setups[0].table: no table “side” on this machine (tables are “main”)" },
  { "setups[0].riser_heights_mm", "[60, -1]", "setups[0].riser_heights_mm: " },
  { "setups[0].riser_heights_mm", "60", "setups[0].riser_heights_mm: " },
  { "setups[1]", "{\"name\": \"First side\", \"table\": \"main\"}",
    "setups[1].name: “First side” is used twice" },
  { PLACE "part", "\"plugg\"",
    "setups[0].placed[0].part: no part “plugg” in this job (parts are “plug”)" },
  { PLACE "rotation", "[[1, 0, 0], [0, 1, 0], [0, 0, -1]]", "setups[0].placed[0].rotation: " },
  { PLACE "rotation", "[[1, 0, 0], [0, 1.01, 0], [0, 0, 1]]", "setups[0].placed[0].rotation: " },
  { PLACE "yaw_deg", "361", "setups[0].placed[0].yaw_deg: " },
  { PLACE "at_mm", NULL, "setups[0].placed[0].at_mm: " },
  { PLACE "at_mm", "[1, 2, 1e9]", "setups[0].placed[0].at_mm: " },
  { PLACE "tolerance_mm", "-1", "setups[0].placed[0].tolerance_mm: " },
  { PLACE "stock.block_mm", "[1, 2]", "setups[0].placed[0].stock.block_mm" },
  { "setups[0].placed[1]", "{\"id\": \"plug-1\", \"part\": \"plug\", \"at_mm\": [0, 0, 0]}",
    "setups[0].placed[1].id: “plug-1” is used twice" },
  { "setups[0].fixture[0].zone", "\"maybe\"", "setups[0].fixture[0].zone: " },
  { "setups[0].fixture[0].solid.kind", "\"ball\"", "setups[0].fixture[0].solid.kind: " },
  { "setups[0].work_offset.machine_mm", NULL, "setups[0].work_offset.machine_mm: " },

  { OP "on", "\"plug-2\"",
    "setups[0].operations[0].on: no placed part “plug-2” in this set-up (placed are “plug-1”)" },
  { DRILL "tool", "9",
    "half-hull.leeway: setups[0].operations[2].tool: no tool 9 in this job (tools are 4, 7)" },
  { OP "tool", "4.5", "setups[0].operations[0].tool: " },
  { OP "name", "\"Finish hull\"", "setups[0].operations[1].name: “Finish hull” is used twice" },
  { OP "region", NULL, "setups[0].operations[0].region: " },
  { OP "region", "{}", "setups[0].operations[0].region: must select something" },
  { OP "region", "{\"all\": false}", "setups[0].operations[0].region: must select something" },
  { OP "region.within_deg", NULL, "setups[0].operations[0].region.within_deg: " },
  { OP "region.facing", NULL, "setups[0].operations[0].region.within_deg: needs “facing”" },
  { OP "region.facing", "[0, 0, 0]", "region.facing: must be a direction, is zero" },
  { OP "region.box_mm", "{\"min\": [0, 0, 1], \"max\": [1, 1, 0]}", "region.box_mm.max: " },
  { OP "region.patch", "{\"seed_mm\": [0, 0, 1]}", "region.patch.crease_deg: " },
  { OP "region.named", "\"\"", "region.named: " },
  { OP "region.points", "[]", "region.points: " },
  { OP "region.loop", "{\"points_mm\": [[0, 0, 0]]}", "region.loop.points_mm: " },
  { OP "region.loop", "{\"points_mm\": [[0, 0, 0], [1, 0, 0]], \"closed\": true}",
    "region.loop.points_mm: must hold 3 points" },
  { OP "region.loop", "{\"points_mm\": [[0, 0, 0], [1, 0, 0]], \"normals\": [[0, 0, 1]]}",
    "region.loop.normals: must hold one normal a point: 2, are 1" },
  { OP "region.loop",
    "{\"points_mm\": [[0, 0, 0], [1, 0, 0]], \"normals\": [[0, 0, 1], [0, 0, 0]]}",
    "region.loop.normals: normal 1" },
  { OP "attitude.direction", NULL, "attitude.direction: must be given" },
  { OP "attitude.direction", "[0, 0, 0]", "attitude.direction: must be a direction, is zero" },
  { DRILL "region.points[1]", "{\"at_mm\": [1, 1, 1]}",
    "attitude.direction: must be given, since point 1" },
  { OP "attitude", "{\"rule\": \"flank\"}", "attitude.direction: " },
  { OP "attitude", "{\"rule\": \"program\"}", "attitude.file: " },
  { OP "attitude", "{\"rule\": \"probe\"}", "attitude.direction: must be given" },
  { OP "attitude", "{\"rule\": \"sideways\"}", "attitude.rule: " },
  { OP "attitude", "{\"rule\": \"normal\", \"direction\": [0, 0, 1]}", "attitude.direction" },
  { OP "attitude.lean_deg", "3", "attitude.lean_deg" },
  { OP "attitude.tilt_deg", "{\"low\": 5, \"high\": 4}", "attitude.tilt_deg.high: " },
  { "setups[0].operations[1].attitude.lean_min_deg", "21", "attitude.lean_min_deg: " },
  { "setups[0].operations[1].attitude.lean_deg", "91", "attitude.lean_deg: " },
  { OP "stroke.approach_mm", "-1", "stroke.approach_mm: " },
  { OP "stroke.aproach_mm", "1", "stroke.aproach_mm" },
  { OP "against", "\"stock\"", "against: " },
  { OP "after", "[\"Polish\"]", "setups[0].operations[0].after: no operation “Polish”" },
  { OP "after", "[\"Rough hull\"]", "“Rough hull” would come after itself" },
  { OP "after", "[\"Finish hull\"]", "would come after itself" },

  { "tools[1].number", "4", "tools[1].number: tool 4 is used twice" },
  { "tools[0].tip", "\"round\"", "tools[0].tip: " },
  { "tools[0].segments[1].from_mm", "43", "tools[0].segments[1].from_mm: " },
};

static void
test_faults (Fixture *f, gconstpointer data)
{
  for (gsize i = 0; i < G_N_ELEMENTS (faults); i++)
    assert_refused (f->job, faults[i].path, faults[i].json, faults[i].message);
}

static void
test_duplicate_key (Fixture *f, gconstpointer data)
{
  const char *text = "{\"format\": \"leeway-job\", \"format\": \"leeway-job\"}";
  g_autoptr (GError) error = NULL;

  half_hull_write (f->hull.path, text, strlen (text));
  g_assert_null (lw_job_load (f->hull.path, f->store, true, NULL, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
  g_assert_nonnull (strstr (error->message, "half-hull.leeway"));
  g_assert_nonnull (strstr (error->message, "format"));
}

static void
test_no_file (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (f->hull.folder, "nothing.leeway", NULL);

  g_assert_null (lw_job_load (path, f->store, true, NULL, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_MISSING);
  g_assert_nonnull (strstr (error->message, path));
}

/* "after" may look back to an earlier set-up, not to a later one. */
static void
test_after (Fixture *f, gconstpointer data)
{
  const char *second = "{\"name\": \"Second side\", \"table\": \"main\", \"placed\": [{\"id\": "
                       "\"plug-1\", \"part\": \"plug\", \"at_mm\": [0, 0, 0]}], \"operations\": "
                       "[{\"name\": \"Face\", \"on\": \"plug-1\", \"tool\": 4, \"region\": "
                       "{\"all\": true}, \"attitude\": {\"rule\": \"normal\"}, \"after\": "
                       "[\"Rough hull\"], \"against\": \"part\"}]}";
  g_autoptr (LwJob) job = edit (f->job, "setups[1]", second);

  g_assert_true (job->setups[1].operations[0].against_part);
  assert_refused (job, OP "after", "[\"Face\"]", "operations[0].after: no operation “Face”");
}

/* ------------------------------------------------------------------------------------------------
 * Round trip */

static void
test_round_trip (Fixture *f, gconstpointer data)
{
  g_autofree char *first = lw_job_to_text (f->job);
  g_autofree char *second = NULL;
  g_autofree char *path = g_build_filename (f->hull.folder, "again.leeway", NULL);
  g_autofree char *bytes = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (LwJob) again = NULL;

  g_assert_true (lw_job_save (f->job, path, &error));
  g_assert_no_error (error);
  again = lw_job_load (path, f->store, true, NULL, &error);
  g_assert_no_error (error);
  second = lw_job_to_text (again);
  g_assert_cmpstr (first, ==, second);
  g_assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
  g_assert_cmpstr (first, ==, bytes);
  g_assert_true (again->parts[0].mesh.mesh == f->job->parts[0].mesh.mesh);
}

/* Numbers come back to the bit, whatever they are. */
static void
test_numbers (Fixture *f, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);

  for (int i = 0; i < 300; i++) {
    LwVec3 at = { g_rand_double_range (rand, -1e6, 1e6), g_rand_double_range (rand, -1, 1),
                  ldexp (g_rand_double (rand), -g_rand_int_range (rand, 0, 900)) };
    g_autoptr (GError) error = NULL;
    g_autoptr (LwJob) moved = lw_job_with (f->job, PLACE "at_mm", lw_json_new_vec3 (at), &error);
    g_autofree char *text = lw_job_to_text (moved);
    g_autoptr (JsonNode) node = lw_json_parse ("again", text, strlen (text), &error);
    g_autoptr (LwJob) again =
        lw_job_read ("again", f->hull.folder, node, f->store, false, NULL, &error);

    g_assert_no_error (error);
    g_assert_true (memcmp (&again->setups[0].placed[0].at, &at, sizeof at) == 0);
  }
}

static void
test_x_keys (Fixture *f, gconstpointer data)
{
  static const char *const paths[] = {
    "x-note",          "parts[0].x-note",  "setups[0].x-note",   PLACE "x-note",
    OP "x-note",       OP "region.x-note", OP "attitude.x-note", OP "stroke.x-note",
    "tools[0].x-note", "reserves.x-note",  "machine.x-note",     "setups[0].fixture[0].x-note"
  };

  for (gsize i = 0; i < G_N_ELEMENTS (paths); i++) {
    g_autoptr (LwJob) noted = edit (f->job, paths[i], "{\"who\": [1, null, \"éß\"]}");
    g_autoptr (LwJob) moved = edit (noted, PLACE "yaw_deg", "15");
    g_autofree char *text = lw_job_to_text (moved);
    g_autoptr (GError) error = NULL;
    g_autoptr (JsonNode) node = lw_json_parse ("again", text, strlen (text), &error);
    g_autoptr (JsonNode) want = node_of ("{\"who\": [1, null, \"éß\"]}");
    g_autofree char *got_text = NULL;
    g_autofree char *want_text = lw_json_to_text (want);

    g_assert_no_error (error);
    g_assert_nonnull (lw_json_get (node, paths[i]));
    got_text = lw_json_to_text (lw_json_get (node, paths[i]));
    g_assert_cmpstr (got_text, ==, want_text);
  }
}

/* ------------------------------------------------------------------------------------------------
 * Edits share what they leave alone */

static void
test_sharing (Fixture *f, gconstpointer data)
{
  g_autofree char *before = lw_job_to_text (f->job);
  g_autoptr (LwJob) moved = edit (f->job, PLACE "yaw_deg", "30");
  g_autoptr (LwJob) leaned = edit (moved, "setups[0].operations[1].attitude.lean_deg", "25");
  g_autofree char *after = lw_job_to_text (f->job);
  const LwOperation *old = f->job->setups[0].operations;
  const LwOperation *new = leaned->setups[0].operations;

  g_assert_cmpstr (before, ==, after);
  assert_near (f->job->setups[0].placed[0].yaw, 0, 0);
  assert_near (leaned->setups[0].placed[0].yaw, LW_PI / 6, 1e-15);
  g_assert_true (leaned->machine == f->job->machine);
  g_assert_true (leaned->parts[0].mesh.mesh == f->job->parts[0].mesh.mesh);
  g_assert_true (new[0].key == old[0].key);
  g_assert_true (new[2].region.points == old[2].region.points);
  g_assert_cmpstr (new[1].key, !=, old[1].key);
  g_assert_true (new[1].region.key == old[1].region.key);
}

/* Identity: the same text gives the same key, any change of the operation another one. */
static void
test_keys (Fixture *f, gconstpointer data)
{
  static const Fault edits[] = {
    { OP "stroke.approach_mm", "11", NULL },
    { OP "region.within_deg", "61", NULL },
    { OP "attitude.direction", "[0, 1, 1]", NULL },
    { OP "tool", "7", NULL },
    { OP "against", "\"part\"", NULL },
    { OP "region.loop", "{\"points_mm\": [[0, 0, 0], [1, 0, 0]]}", NULL },
    { OP "region.loop", "{\"points_mm\": [[0, 0, 0], [1, 0, 1e-9]]}", NULL },
    { OP "region.loop", "{\"points_mm\": [[0, 0, 0], [1, 0, 1e-9]], \"closed\": false}", NULL },
    { OP "region.loop",
      "{\"points_mm\": [[0, 0, 0], [1, 0, 0]], \"normals\": [[0, 0, 1], [0, 0, 1]]}", NULL },
    { OP "region.loop",
      "{\"points_mm\": [[0, 0, 0], [1, 0, 0]], \"normals\": [[0, 0, 1], [0, 1, 0]]}", NULL },
  };
  g_autoptr (GHashTable) keys = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (LwJob) again = half_hull_load (&f->hull, f->store);

  g_assert_cmpstr (again->setups[0].operations[0].key, ==, f->job->setups[0].operations[0].key);
  g_hash_table_add (keys, g_strdup (f->job->setups[0].operations[0].key));
  for (gsize i = 0; i < G_N_ELEMENTS (edits); i++) {
    g_autoptr (LwJob) job = edit (f->job, edits[i].path, edits[i].json);

    g_assert_true (g_hash_table_add (keys, g_strdup (job->setups[0].operations[0].key)));
  }
}

/* References follow when what they name moves to another place in its list. */
static void
test_references_move (Fixture *f, gconstpointer data)
{
  g_autoptr (LwJob) two = edit (f->job, "setups[0].placed[1]",
                                "{\"id\": \"plug-2\", \"part\": \"plug\", \"at_mm\": [0, 0, 0]}");
  g_autoptr (LwJob) second = edit (two, OP "on", "\"plug-2\"");
  g_autoptr (LwJob) fewer = edit (second, "setups[0].operations[1]", NULL);
  g_autoptr (LwJob) without = edit (fewer, "setups[0].operations[1].on", "\"plug-2\"");
  g_autoptr (LwJob) alone = edit (without, "setups[0].placed[0]", NULL);

  g_assert_cmpint (second->setups[0].operations[0].placed, ==, 1);
  g_assert_cmpint (second->setups[0].operations[2].placed, ==, 0);
  g_assert_cmpint (fewer->setups[0].n_operations, ==, 2);
  g_assert_cmpstr (fewer->setups[0].operations[1].name, ==, "Drill dowels");
  g_assert_cmpint (alone->setups[0].operations[0].placed, ==, 0);
  g_assert_cmpint (alone->setups[0].operations[1].placed, ==, 0);
  assert_refused (fewer, "setups[0].placed[0]", NULL,
                  "setups[0].operations[1].on: no placed part “plug-1”");
}

/* ------------------------------------------------------------------------------------------------
 * Meshes */

static void
test_mesh_altered (Fixture *f, gconstpointer data)
{
  g_autoptr (GByteArray) other = half_hull_make_stl (12);
  g_autoptr (LwJob) job = NULL;

  half_hull_write (f->hull.mesh, other->data, other->len);
  job = lw_job_with_meshes (f->job, NULL);
  g_assert_true (job != f->job);
  g_assert_cmpint (job->parts[0].mesh.state, ==, LW_MESH_ALTERED);
  g_assert_nonnull (job->parts[0].mesh.mesh);
  g_assert_nonnull (strstr (job->parts[0].mesh.message, "half-hull.stl"));
  g_assert_cmpint (f->job->parts[0].mesh.state, ==, LW_MESH_READY);
}

static void
test_mesh_missing (Fixture *f, gconstpointer data)
{
  g_autoptr (GByteArray) stl = half_hull_make_stl (24);
  g_autoptr (LwJob) job = NULL;
  g_autoptr (LwJob) back = NULL;
  g_autoptr (LwJob) same = NULL;

  g_remove (f->hull.mesh);
  job = half_hull_load (&f->hull, f->store);
  g_assert_cmpint (job->parts[0].mesh.state, ==, LW_MESH_MISSING);
  g_assert_null (job->parts[0].mesh.mesh);
  g_assert_nonnull (strstr (job->parts[0].mesh.message, "half-hull.stl"));
  g_assert_true (lw_box3_is_empty (lw_placed_get_box (job, &job->setups[0].placed[0])));

  half_hull_write (f->hull.mesh, stl->data, stl->len);
  back = lw_job_with_meshes (job, NULL);
  g_assert_cmpint (back->parts[0].mesh.state, ==, LW_MESH_READY);
  same = lw_job_with_meshes (back, NULL);
  g_assert_true (same == back);
}

static void
test_mesh_unreadable (Fixture *f, gconstpointer data)
{
  g_autoptr (LwJob) job = NULL;

  half_hull_write (f->hull.mesh, "solid nonsense", 14);
  job = half_hull_load (&f->hull, f->store);
  g_assert_cmpint (job->parts[0].mesh.state, ==, LW_MESH_UNREADABLE);
  g_assert_null (job->parts[0].mesh.mesh);
  g_assert_nonnull (strstr (job->parts[0].mesh.message, "half-hull.stl"));
}

static void
test_mesh_units (Fixture *f, gconstpointer data)
{
  g_autoptr (LwJob) none = edit (f->job, "parts[0].mesh_units", NULL);
  g_autoptr (LwJob) inch = edit (f->job, "parts[0].mesh_units", "\"in\"");
  g_autoptr (LwJob) read = lw_job_with_meshes (inch, NULL);

  g_assert_cmpint (none->parts[0].mesh.state, ==, LW_MESH_NO_UNITS);
  g_assert_null (none->parts[0].mesh.mesh);
  g_assert_nonnull (strstr (none->parts[0].mesh.message, "units"));
  g_assert_cmpint (inch->parts[0].mesh.state, ==, LW_MESH_LOADING);
  g_assert_true (lw_job_is_loading (inch));
  g_assert_cmpint (read->parts[0].mesh.state, ==, LW_MESH_READY);
  assert_near (lw_mesh_get_facts (read->parts[0].mesh.mesh)->box.high.x, HALF_HULL_LENGTH * 25.4,
               0.01);
}

static void
test_store_trim (Fixture *f, gconstpointer data)
{
  g_autofree char *path = g_strdup (f->hull.mesh);
  LwMeshEntry first, second, third;

  lw_mesh_store_get (f->store, path, 1, NULL, true, NULL, &first);
  lw_mesh_store_trim (f->store); /* asked for since the beginning: stays */
  lw_mesh_store_get (f->store, path, 1, NULL, false, NULL, &second);
  g_assert_true (first.mesh == second.mesh);
  lw_mesh_store_trim (f->store);
  lw_mesh_store_trim (f->store); /* not asked for since the last: goes */
  lw_mesh_store_get (f->store, path, 1, NULL, false, NULL, &third);
  g_assert_cmpint (third.state, ==, LW_MESH_LOADING);
  lw_mesh_entry_clear (&first);
  lw_mesh_entry_clear (&second);
  lw_mesh_entry_clear (&third);
}

/* ------------------------------------------------------------------------------------------------
 * Blocks, boxes */

static void
test_block (Fixture *f, gconstpointer data)
{
  g_autoptr (LwJob) plain =
      edit (f->job, "parts[1]", "{\"id\": \"b\", \"block_mm\": [60, 40, 20]}");
  g_autoptr (LwJob) pocket = edit (f->job, "parts[1]",
                                   "{\"id\": \"b\", \"block_mm\": [60, 40, 20], \"walls_mm\": 5, "
                                   "\"depth_mm\": 12}");
  g_autoptr (LwJob) moved = edit (pocket, PLACE "yaw_deg", "3");
  const LwMeshFacts *facts = lw_mesh_get_facts (plain->parts[1].mesh.mesh);

  g_assert_cmpint (plain->parts[1].mesh.state, ==, LW_MESH_READY);
  g_assert_true (facts->closed);
  assert_near (facts->volume, 60 * 40 * 20, 1e-6);
  facts = lw_mesh_get_facts (pocket->parts[1].mesh.mesh);
  g_assert_true (facts->closed);
  g_assert_cmpint (facts->read, ==, 28);
  assert_near (facts->volume, 60 * 40 * 20 - 50 * 30 * 12, 1e-6);
  assert_near (facts->area, 2 * 60 * 40 + 2 * (60 + 40) * 20 + 2 * (50 + 30) * 12, 1e-6);
  g_assert_true (moved->parts[1].mesh.mesh == pocket->parts[1].mesh.mesh);
  g_assert_cmpstr (pocket->parts[1].mesh.sha256, !=, plain->parts[1].mesh.sha256);
}

static void
test_placed (Fixture *f, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);
  static const char *const turns[] = { "[[1, 0, 0], [0, 1, 0], [0, 0, 1]]",
                                       "[[1, 0, 0], [0, -1, 0], [0, 0, -1]]",
                                       "[[0, 0, 1], [1, 0, 0], [0, 1, 0]]" };

  for (int i = 0; i < 30; i++) {
    double yaw = i < 3 ? 0 : g_rand_double_range (rand, -180, 180);
    g_autoptr (LwJob) set = edit (f->job, PLACE "rotation", turns[i % 3]);
    g_autoptr (LwJob) job = lw_job_with (set, PLACE "yaw_deg", lw_json_new_number (yaw), NULL);
    const LwPlaced *placed = &job->setups[0].placed[0];
    LwMesh *mesh = job->parts[0].mesh.mesh;
    LwBox3 box = lw_placed_get_box (job, placed), slow = lw_box3_empty ();

    for (uint32_t t = 0; t < lw_mesh_get_n_triangles (mesh); t++) {
      LwVec3 corners[3];

      lw_mesh_get_corners (mesh, t, corners);
      for (int k = 0; k < 3; k++) {
        LwVec3 there = lw_placed_to_table (placed, corners[k]);
        LwVec3 back = lw_placed_to_part (placed, there);

        slow = lw_box3_add (slow, there);
        assert_near (lw_vec3_length (lw_vec3_sub (back, corners[k])), 0, 1e-9);
      }
    }
    assert_near (lw_vec3_length (lw_vec3_sub (box.low, slow.low)), 0, 1e-9);
    assert_near (lw_vec3_length (lw_vec3_sub (box.high, slow.high)), 0, 1e-9);
  }
}

/* ------------------------------------------------------------------------------------------------
 * Other machine, other folder, first job */

static void
test_with_machine (Fixture *f, gconstpointer data)
{
  g_autoptr (LwJob) longer = edit (f->job, "machine.axes.X.high_mm", "5000");
  g_autoptr (LwJob) empty = edit (f->job, "setups", "[]");
  g_autoptr (LwJob) renamed = edit (empty, "machine.tables[0].name", "\"left\"");
  g_autoptr (LwJob) moved = NULL;
  g_autoptr (GError) error = NULL;

  moved = lw_job_with_machine (f->job, longer->machine, &error);
  g_assert_no_error (error);
  assert_near (moved->machine->travel[LW_AXIS_X].high, 5000, 0);

  g_assert_null (lw_job_with_machine (f->job, renamed->machine, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
  g_assert_nonnull (strstr (error->message, "setups[0].table: no table “main”"));
}

static void
test_with_file (Fixture *f, gconstpointer data)
{
  g_autofree char *beside = g_build_filename (f->hull.folder, "jobs", "one", "a.leeway", NULL);
  g_autofree char *back_path = g_build_filename (f->hull.folder, "b.leeway", NULL);
  g_autoptr (LwJob) program =
      edit (f->job, OP "attitude", "{\"rule\": \"program\", \"file\": \"trim.apt\"}");
  g_autoptr (GError) error = NULL;
  g_autoptr (LwJob) moved = lw_job_with_file (program, beside, &error);
  g_autoptr (LwJob) back = NULL;

  g_assert_no_error (error);
  g_assert_cmpstr (moved->parts[0].mesh_file, ==, "../../half-hull.stl");
  g_assert_cmpstr (moved->setups[0].operations[0].attitude.file, ==, "../../trim.apt");
  g_assert_true (moved->machine == f->job->machine);
  back = lw_job_with_file (moved, back_path, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (back->parts[0].mesh_file, ==, "half-hull.stl");
  g_assert_cmpstr (back->setups[0].operations[0].attitude.file, ==, "trim.apt");
  g_assert_cmpint (back->parts[0].mesh.state, ==, LW_MESH_READY);
  g_assert_true (back->parts[0].mesh.mesh == f->job->parts[0].mesh.mesh);
}

static void
test_new (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (LwJob) job =
      lw_job_new (f->job->machine, f->hull.mesh, "mm", f->hull.folder, f->store, NULL, &error);
  const LwTable *table = &f->job->machine->tables[0];
  g_autofree char *absent = g_build_filename (f->hull.folder, "absent.stl", NULL);
  LwBox3 box;

  g_assert_no_error (error);
  g_assert_cmpstr (job->parts[0].id, ==, "half-hull");
  g_assert_cmpstr (job->parts[0].mesh_file, ==, "half-hull.stl");
  g_assert_cmpstr (job->parts[0].sha256, ==, f->job->parts[0].sha256);
  g_assert_cmpint (job->parts[0].mesh.state, ==, LW_MESH_READY);
  g_assert_cmpint (job->n_setups, ==, 1);
  g_assert_cmpint (job->n_tools, ==, 0);
  box = lw_placed_get_box (job, &job->setups[0].placed[0]);
  assert_near (box.low.z, 0, 0.001);
  g_assert_cmpfloat (box.low.z, >=, 0);
  assert_near (lw_box3_center (box).x, table->size[0] / 2, 0.001);
  assert_near (lw_box3_center (box).y, table->size[1] / 2, 0.001);

  g_assert_null (
      lw_job_new (f->job->machine, f->hull.mesh, NULL, f->hull.folder, f->store, NULL, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_USAGE);
  g_clear_error (&error);
  g_assert_null (
      lw_job_new (f->job->machine, absent, "mm", f->hull.folder, f->store, NULL, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_MISSING);
}

#define ADD(name, func) g_test_add ("/job/" name, Fixture, NULL, set_up, func, tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("example", test_example);
  ADD ("defaults", test_defaults);
  ADD ("rules", test_rules);
  ADD ("regions", test_regions);
  ADD ("faults", test_faults);
  ADD ("duplicate-key", test_duplicate_key);
  ADD ("no-file", test_no_file);
  ADD ("after", test_after);
  ADD ("round-trip", test_round_trip);
  ADD ("numbers", test_numbers);
  ADD ("x-keys", test_x_keys);
  ADD ("sharing", test_sharing);
  ADD ("keys", test_keys);
  ADD ("references-move", test_references_move);
  ADD ("mesh-altered", test_mesh_altered);
  ADD ("mesh-missing", test_mesh_missing);
  ADD ("mesh-unreadable", test_mesh_unreadable);
  ADD ("mesh-units", test_mesh_units);
  ADD ("store-trim", test_store_trim);
  ADD ("block", test_block);
  ADD ("placed", test_placed);
  ADD ("with-machine", test_with_machine);
  ADD ("with-file", test_with_file);
  ADD ("new", test_new);
  return g_test_run ();
}
