/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <string.h>

#include "heads.h"
#include "machines.h"
#include "near.h"

/* ------------------------------------------------------------------------------------------------
 * The structure. */

static void
test_structures_refused (void)
{
  static const struct {
    const char *code, *says;
  } table[] = {
    { "", "must run from the work" },
    { "b X Y Z C B t", "must begin with the work" },
    { "w b X Y Z C B", "must run from the work" },
    { "w X Y Z C B t", "before b" },
    { "w X' b X Y Z C B t", "X stands twice" },
    { "w b X' Y Z C B t", "between w and b" },
    { "w X b Y Z C B t", "prime" },
    { "w b X Y C B t", "axis Z is missing" },
    { "w b X Y C Z B t", "axis Z is missing" },
    { "w b X Y Z C B Z t", "Z stands twice" },
    { "w C' b X Y Z B t", "rotary tables are not supported" },
    { "w C' B' b X Y Z t", "rotary tables are not supported" },
    { "w A' b X Y Z C t", "rotary tables are not supported" },
    { "w b X Y Z B A t", "not carried by C" },
    { "w b X Y Z B C t", "not carried by C" },
    { "w b X Y Z C B A t", "another tilt axis" },
    { "w b X Y Z C B C t", "C below the tilt axis" },
    { "w b X Y Z C C t", "C stands twice" },
    { "w b X Y Z C W t", "straight axis" },
    { "w b X Y Z C t", "after C and a tilt axis" },
    { "w b X Y Z C B t t", "must be last" },
    { "w b b X Y Z C B t", "b stands twice" },
    { "w b X Y Z (C) C B t", "just before t" },
    { "w b x Y Z C B t", "\"x\" is none of" },
    { "w b XY Z C B t", "\"XY\" is none of" },
    { "w b X Y Z C B t (C1) (C1) (C1) (C1) (C1) (C1) (C1) (C1) (C1) (C1)", "must be last" },
    { "w b X Y Z C B (C1) (C1) (C1) (C1) (C1) (C1) (C1) (C1) (C1) (C1) t", "too long" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    g_autoptr (GError) error = NULL;
    LwStructure structure;

    g_test_message ("%s", table[i].code);
    g_assert_false (lw_structure_parse (&structure, table[i].code, &error));
    g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
    if (!strstr (error->message, table[i].says))
      g_error ("\"%s\": \"%s\" does not say \"%s\"", table[i].code, error->message, table[i].says);
  }
}

/* Axes that stand between the work and each carrier (ISO 10791): those move it in the table frame.
 */
static void
test_what_moves (void)
{
  static const struct {
    const char *code, *carrier, *moved_by;
  } table[] = {
    { "w b X Y Z C B t", "w", "" },      { "w b X Y Z C B t", "b", "" },
    { "w b X Y Z C B t", "X", "X" },     { "w b X Y Z C B t", "Y", "XY" },
    { "w b X Y Z C B t", "Z", "XYZ" },   { "w b X Y Z C B t", "C", "XYZC" },
    { "w b X Y Z C B t", "B", "XYZCT" }, { "w X' b Y Z C A t", "w", "" },
    { "w X' b Y Z C A t", "X'", "" },    { "w X' b Y Z C A t", "b", "X" },
    { "w X' b Y Z C A t", "Y", "XY" },   { "w X' b Y Z C A t", "Z", "XYZ" },
    { "w Y' X' b Z C B t", "Y'", "" },   { "w Y' X' b Z C B t", "X'", "Y" },
    { "w Y' X' b Z C B t", "b", "XY" },  { "w  b Y X Z C D (C1)  t", "X", "XY" },
    { "w b Y X Z C D t", "Y", "Y" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    LwStructure structure;
    LwCarrier carrier;

    g_assert_true (lw_structure_parse (&structure, table[i].code, NULL));
    carrier = lw_structure_find (&structure, table[i].carrier);
    g_assert_cmpint (carrier, >=, 0);
    g_assert_cmpstr (lw_structure_get_word (&structure, carrier), ==, table[i].carrier);
    for (LwAxis axis = LW_AXIS_X; axis < LW_N_AXES; axis++) {
      bool want = strchr (table[i].moved_by, "XYZCT"[axis]) != NULL;

      if (lw_structure_moves (&structure, carrier, axis) != want)
        g_error ("%s: axis %c and a body on %s", table[i].code, "XYZCT"[axis], table[i].carrier);
    }
  }
}

static void
test_neighbors (void)
{
  LwStructure structure;

  g_assert_true (lw_structure_parse (&structure, "w X' b Y Z C A t", NULL));
  g_assert_true (lw_structure_are_neighbors (&structure, LW_AXIS_Z, LW_AXIS_Z));
  g_assert_true (lw_structure_are_neighbors (&structure, LW_AXIS_Z, LW_AXIS_C));
  g_assert_true (lw_structure_are_neighbors (&structure, LW_CARRIER_BED, LW_AXIS_X));
  g_assert_true (lw_structure_are_neighbors (&structure, LW_CARRIER_TOOL, LW_AXIS_TILT));
  g_assert_false (lw_structure_are_neighbors (&structure, LW_AXIS_Z, LW_AXIS_TILT));
  g_assert_false (lw_structure_are_neighbors (&structure, LW_AXIS_X, LW_AXIS_Y));
  g_assert_cmpint (lw_structure_find (&structure, "X"), ==, -1);
  g_assert_cmpint (lw_structure_find (&structure, "B"), ==, -1);
}

/* ------------------------------------------------------------------------------------------------
 * The file. */

static void
test_shipped (void)
{
  static const char *const ids[] = { "alder", "birch", "rowan" };

  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++) {
    g_autoptr (LwMachine) machine = test_machine (ids[i]);

    g_assert_cmpstr (machine->id, ==, ids[i]);
    g_assert_cmpint (machine->n_bodies, >=, 14);
    g_assert_true (machine->spindle.exists && machine->magazine.exists && machine->zones.exists);
    g_assert_true (lw_machine_knows_hood_and_hoses (machine));
    for (int k = 0; k < machine->n_tables; k++) {
      g_assert_true (machine->tables[k].holes.exists);
      g_assert_cmpint (machine->tables[k].n_locating, ==, 3);
    }
    g_assert_cmpint (lw_machine_find_body (machine, "bridge"), >=, 0);
  }
}

static void
test_values (void)
{
  g_autoptr (LwMachine) alder = test_machine ("alder");
  g_autoptr (LwMachine) birch = test_machine ("birch");
  g_autoptr (LwMachine) rowan = test_machine ("rowan");
  g_autofree char *summary = lw_machine_dup_summary (alder);
  const LwTable *table = lw_machine_find_table (alder, "main");

  g_assert_cmpstr (summary, ==, "B head ±110.0°, C ±220.0°, 3600 × 2200 × 1000 mm");
  g_assert_cmpstr (alder->name, ==, "Alder");
  assert_near (alder->travel[LW_AXIS_X].high, 3600, 0);
  assert_near (alder->travel[LW_AXIS_X].rapid, 20000 / 60.0, 1e-12);
  assert_near (alder->travel[LW_AXIS_C].low, lw_radians (-220), 0);
  assert_near (alder->travel[LW_AXIS_TILT].accel, lw_radians (200), 1e-12);
  g_assert_cmpint (alder->n_coupled, ==, 1);
  g_assert_true (alder->coupled[0].above);
  assert_near (alder->coupled[0].threshold, 960, 0);
  assert_near (alder->coupled[0].high, lw_radians (60), 1e-15);
  assert_near (table->origin.z, -180, 0);
  assert_near (table->holes.pitch[1], 100, 0);
  g_assert_cmpint (table->holes.count[0], ==, 36);
  g_assert_cmpstr (table->locating[1].name, ==, "L2");
  assert_near (alder->magazine.change_at[1], 2100, 0);
  g_assert_cmpint (alder->spindle.n_curve, ==, 3);
  g_assert_cmpint (alder->zones.act_on, ==, LW_ZONES_ACT_ON_TOOL);
  g_assert_cmpuint (alder->zones.moves, ==, LW_MOVES_AUTOMATIC | LW_MOVES_JOG);
  g_assert_null (alder->notes[0]);
  g_assert_true (birch->structure.primed[LW_AXIS_X]);
  g_assert_cmpstr (birch->zones.shapes[0].body, ==, "magazine");
  assert_near (birch->bodies[0].tolerance, 5, 0);
  g_assert_true (isinf (rowan->travel[LW_AXIS_C].high));
  g_assert_cmpint (rowan->n_tables, ==, 2);
  assert_near (rowan->head.n.z, sqrt (0.5), 1e-15);
  g_assert_nonnull (rowan->notes[0]);
  g_assert_cmpstr (lw_machine_get_letter (rowan, LW_AXIS_TILT), ==, "D");
}

typedef struct {
  const char *path, *value; /* edit of alder; no value: taken away */
  const char *at;           /* key path that the message must begin with, after the file */
  const char *says;         /* what it must say of it */
} Broken;

static const Broken broken[] = {
  { "format", "\"leeway-job\"", "format", "leeway-machine" },
  { "format", NULL, "format", "" },
  { "version", "2", "version", "newer" },
  { "version", "0", "version", "" },
  { "version", "\"1\"", "version", "" },
  { "name", "\"\"", "name", "" },
  { "structure", "\"w C' b X Y Z B t\"", "structure", "rotary tables" },
  { "structure", "\"w b X Y Z B A t\"", "structure", "C carries the tilt axis" },
  { "structure", NULL, "structure", "" },
  { "axes", NULL, "axes", "" },
  { "axes.X", NULL, "axes.X", "" },
  { "axes.B", NULL, "axes.B", "" },
  { "axes.A", "{\"low_deg\": -1, \"high_deg\": 1}", "axes.A", "" },
  { "axes.X.low_mm", "3600", "axes.X.high_mm", "above low_mm" },
  { "axes.X.high_mm", "1e7", "axes.X.high_mm", "" },
  { "axes.Y.rapid_mm_min", "0", "axes.Y.rapid_mm_min", "above 0" },
  { "axes.Z.low_deg", "0", "axes.Z.low_deg", "" },
  { "axes.C.low_deg", NULL, "axes.C.low_deg", "" },
  { "axes.B.high_deg", "-110", "axes.B.high_deg", "above low_deg" },
  { "axes.B.high_deg", "\"ninety\"", "axes.B.high_deg", "ninety" },
  { "axes.B.high_deg", "400", "axes.B.high_deg", "" },
  { "axes.B.high_dge", "110", "axes.B.high_dge", "" },
  { "limits_when[0].axis", "\"A\"", "limits_when[0].axis", "w b X Y Z C B t" },
  { "limits_when[0].low_deg", "60", "limits_when[0].high_deg", "above" },
  { "limits_when[0].low_mm", "0", "limits_when[0].low_mm", "" },
  { "limits_when[0].when.axis", "\"B\"", "limits_when[0].when.axis", "another axis" },
  { "limits_when[0].when.below_mm", "5", "limits_when[0].when.above_mm", "not both" },
  { "limits_when[0].when.above_mm", NULL, "limits_when[0].when.above_mm", "must be given" },
  { "limits_when[0].when", NULL, "limits_when[0].when", "" },
  { "head.tilt_axis", "[0, 0, 1]", "head.tilt_axis", "along Z" },
  { "head.tilt_axis", "[0, 0, 0]", "head.tilt_axis", "zero" },
  { "head.tilt_axis", "[1, 0, 0]", "head.tilt_axis", "along Y" },
  { "head.tilt_axis", "[0, 1, 1]", "head.tilt_axis", "letter of its own" },
  { "head.tilt_axis", "[0, 1]", "head.tilt_axis", "" },
  { "head.pivot_length_mm", "0", "head.pivot_length_mm", "above 0" },
  { "head.pivot_length_mm", NULL, "head.pivot_length_mm", "" },
  { "head.tilt_to_spindle_mm", "[0, 0, 250]", "head.tilt_to_spindle_mm", "no length is left" },
  { "head.c_to_tilt_mm", "[0, 20000, 0]", "head.c_to_tilt_mm", "" },
  { "head.travels_at", "\"nose\"", "head.travels_at", "" },
  { "tables", "[]", "tables", "" },
  { "tables", NULL, "tables", "" },
  { "tables[0].size_mm", "[3600, 0]", "tables[0].size_mm", "above 0" },
  { "tables[0].origin_machine_mm", NULL, "tables[0].origin_machine_mm", "" },
  { "tables[0].holes.pitch_mm", "[100, -100]", "tables[0].holes.pitch_mm", "above 0" },
  { "tables[0].holes.count", "[40, 18]", "tables[0].holes.count", "beyond" },
  { "tables[0].holes.count", "[3.5, 18]", "tables[0].holes.count", "whole" },
  { "tables[0].locating[1].name", "\"L1\"", "tables[0].locating[1].name", "differ" },
  { "tables[0].locating[0].at_mm", "[4000, 0]", "tables[0].locating[0].at_mm", "on the table" },
  { "tables[1]", "{\"name\": \"main\", \"origin_machine_mm\": [0, 0, 0], \"size_mm\": [9, 9]}",
    "tables[1].name", "differ" },
  { "spindle.curve[1].rpm", "0", "spindle.curve[1].rpm", "above" },
  { "spindle.curve[1].s6_kw", "5", "spindle.curve[1].s6_kw", "s1_kw" },
  { "spindle.max_rpm", "-1", "spindle.max_rpm", "" },
  { "magazine.change_at", "[0, 0, 0]", "magazine.change_at", "" },
  { "magazine.pockets", "0", "magazine.pockets", "" },
  { "zones.act_on", "\"everything\"", "zones.act_on", "" },
  { "zones.moves", "[\"automatic\", \"automatic\"]", "zones.moves", "twice" },
  { "zones.moves", "[\"sometimes\"]", "zones.moves", "sometimes" },
  { "zones.shapes", "[{\"name\": \"z\", \"body\": \"chair\"}]", "zones.shapes[0].body", "chair" },
  { "zones.shapes", "[{\"name\": \"z\"}]", "zones.shapes[0].body", "must be given" },
  { "bodies[1].name", "\"ram\"", "bodies[1].name", "differ" },
  { "bodies[0].carried_by", "\"Z'\"", "bodies[0].carried_by", "Z'" },
  { "bodies[0].carried_by", "\"t\"", "bodies[0].carried_by", "other than t" },
  { "bodies[0].role", "\"leg\"", "bodies[0].role", "" },
  { "bodies[0].zone", "\"maybe\"", "bodies[0].zone", "" },
  { "bodies[0].tolerance_mm", "-1", "bodies[0].tolerance_mm", "" },
  { "bodies[0].solid", NULL, "bodies[0].solid", "" },
  { "bodies[0].solid.kind", "\"blob\"", "bodies[0].solid.kind", "" },
  { "bodies[0].solid.max_mm", "[150, -150, 900]", "bodies[0].solid.max_mm", "in y" },
  { "bodies[0].solid.radius_mm", "5", "bodies[0].solid.radius_mm", "" },
  { "bodies[0].solid.rotation", "[[1, 0, 0], [0, 1, 0], [0, 0, -1]]", "bodies[0].solid.rotation",
    "" },
  { "bodies[1].solid.radius_mm", "0", "bodies[1].solid.radius_mm", "above 0" },
  { "bodies[1].solid.to_mm", "[0, 0, 190]", "bodies[1].solid.to_mm", "another point" },
  { "bodies[1].solid", "{\"kind\": \"hull\", \"points_mm\": [[0,0,0],[1,0,0],[0,1,0],[1,1,0]]}",
    "bodies[1].solid.points_mm", "volume" },
  { "bodies[1].solid",
    "{\"kind\": \"mesh\", \"file\": \"a.stl\", \"sha256\": \"12\", \"units\": \"mm\"}",
    "bodies[1].solid.sha256", "64" },
  { "hood_and_hoses", "\"some\"", "hood_and_hoses", "" },
  { "colour", "\"blue\"", "colour", "" },
};

static void
test_broken (void)
{
  g_autoptr (JsonNode) tree = test_machine_tree ("alder");

  for (gsize i = 0; i < G_N_ELEMENTS (broken); i++) {
    g_autoptr (JsonNode) edited = test_tree_with (tree, broken[i].path, broken[i].value);
    g_autoptr (GError) error = NULL;
    g_autoptr (LwMachine) machine = test_read_tree (edited, &error);
    g_autofree char *start = g_strdup_printf ("m.leeway-machine: %s: ", broken[i].at);

    if (machine)
      g_error ("%s = %s was read", broken[i].path, broken[i].value);
    g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
    if (!g_str_has_prefix (error->message, start) || !strstr (error->message, broken[i].says))
      g_error ("%s = %s: \"%s\" does not name %s and say \"%s\"", broken[i].path, broken[i].value,
               error->message, broken[i].at, broken[i].says);
  }
}

static void
test_missing_file (void)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (lw_machine_load ("no/such.leeway-machine", &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_MISSING);
}

/* What a file may say in more than one way, and what it may leave out. */
static void
test_free_forms (void)
{
  static const char *const rule =
      "[{\"axis\": \"X'\", \"high_mm\": 1000, \"when\": {\"axis\": \"A\", \"below_deg\": -90}}]";
  g_autoptr (LwMachine) alder = test_machine_with (
      "alder", (const char *[]){ "x-shop", "{\"bay\": 3}", "axes.X.x-note", "\"new ways\"", "name",
                                 NULL, "bodies", NULL, "hood_and_hoses", NULL, "spindle", NULL,
                                 "magazine", NULL, "zones", NULL, NULL });
  g_autoptr (LwMachine) birch = test_machine_with (
      "birch", (const char *[]){ "axes.X", NULL, "axes.X'", "{\"low_mm\": 0, \"high_mm\": 2000}",
                                 "limits_when", rule, NULL });
  g_autoptr (JsonNode) tree = test_machine_tree ("birch");
  g_autoptr (JsonNode) twice =
      test_tree_with (tree, "axes.X'", "{\"low_mm\": 0, \"high_mm\": 2000}");
  g_autoptr (GError) error = NULL;

  g_assert_cmpstr (alder->name, ==, "alder");
  g_assert_nonnull (lw_json_get (alder->node, "x-shop.bay"));
  g_assert_false (lw_machine_knows_hood_and_hoses (alder));
  g_assert_false (alder->spindle.exists || alder->magazine.exists || alder->zones.exists);
  assert_near (birch->travel[LW_AXIS_X].high, 2000, 0);
  g_assert_false (birch->coupled[0].above);
  g_assert_true (isinf (birch->coupled[0].low));
  g_assert_null (test_read_tree (twice, &error));
  g_assert_nonnull (strstr (error->message, "axes.X: stands twice"));
}

/* A body on the work is in a table's frame: with two tables it must say whose. */
static void
test_body_on_work (void)
{
  static const char *const body =
      "{\"name\": \"vice\", \"carried_by\": \"w\", \"solid\": {\"kind\": "
      "\"sphere\", \"center_mm\": [9, 9, 9], \"radius_mm\": 9}}";
  g_autoptr (LwMachine) alder =
      test_machine_with ("alder", (const char *[]){ "bodies[15]", body, NULL });
  g_autoptr (LwMachine) rowan = test_machine_with (
      "rowan", (const char *[]){ "bodies[14]", body, "bodies[14].table", "\"right\"", NULL });
  g_autoptr (JsonNode) tree = test_machine_tree ("rowan");
  g_autoptr (JsonNode) unnamed = test_tree_with (tree, "bodies[14]", body);
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (alder->bodies[15].carrier, ==, LW_CARRIER_WORK);
  g_assert_cmpint (rowan->bodies[14].table, ==, 1);
  g_assert_null (test_read_tree (unnamed, &error));
  g_assert_nonnull (strstr (error->message, "bodies[14].table: "));
}

static void
test_change_position_noted (void)
{
  g_autoptr (LwMachine) machine =
      test_machine_with ("alder", (const char *[]){ "axes.X.high_mm", "2000", NULL });

  g_assert_nonnull (machine->notes[0]);
  g_assert_nonnull (strstr (machine->notes[0], "X"));
  g_assert_null (machine->notes[1]);
}

/* ------------------------------------------------------------------------------------------------
 * Everything is brought to the pivot, and nothing changes place. */

static LwMachine *
machine_with_head (const LwHead *head, bool at_gauge)
{
  JsonNode *numbers[4] = { lw_json_new_vec3 (head->n), lw_json_new_vec3 (head->e),
                           lw_json_new_vec3 (head->s), lw_json_new_number (head->pivot_length) };
  const char *const keys[4] = { "head.tilt_axis", "head.c_to_tilt_mm", "head.tilt_to_spindle_mm",
                                "head.pivot_length_mm" };
  g_autoptr (JsonNode) tree = test_machine_tree ("rowan");
  g_autoptr (GError) error = NULL;
  LwMachine *machine;

  for (int i = 0; i < 4; i++) {
    JsonNode *edited = lw_json_with (tree, keys[i], numbers[i], &error);

    g_assert_no_error (error);
    json_node_unref (tree);
    tree = edited;
  }
  if (!at_gauge) {
    JsonNode *edited = test_tree_with (tree, "head.travels_at", NULL);

    json_node_unref (tree);
    tree = edited;
  }
  machine = test_read_tree (tree, &error);
  g_assert_no_error (error);
  return machine;
}

/* Where the stated pivot is while the displays show d. */
static LwVec3
stated_pivot (const LwHead *head, bool at_gauge, LwVec3 display)
{
  LwVec3 gauge = lw_vec3_add (head->e, head->s);

  gauge.z -= head->pivot_length;
  return at_gauge ? lw_vec3_sub (display, gauge) : display;
}

static void
assert_same (LwVec3 got, LwVec3 want)
{
  double got_[] = { got.x, got.y, got.z }, want_[] = { want.x, want.y, want.z };

  assert_near3 (got_, want_, 1e-8);
}

/* A point of a body in the machine frame, by the file's own words: on b and slides it moves with
 * the displays that carry it, on C it turns about the stated pivot, on the tilt axis about that +
 * e. */
static LwVec3
place_as_stated (const LwMachine *machine, const LwHead *head, LwCarrier carrier, LwVec3 point,
                 LwVec3 display, LwVec3 pivot, double c, double t)
{
  if (carrier == LW_AXIS_TILT)
    point = lw_vec3_add (head->e, lw_mat3_apply (lw_mat3_turn (head->n, t), point));
  if (carrier == LW_AXIS_TILT || carrier == LW_AXIS_C)
    return lw_vec3_add (pivot, lw_mat3_apply (lw_mat3_turn_z (c), point));
  for (int i = 0; i < 3; i++)
    if (lw_structure_moves (&machine->structure, carrier, i))
      lw_vec3_set (&point, i, lw_vec3_get (point, i) + lw_vec3_get (display, i));
  return point;
}

/* The same by the machine as read: with the pivot's positions and the body's shift. */
static LwVec3
place_as_read (const LwMachine *machine, const LwBody *body, LwVec3 point, const LwPose *pose)
{
  const LwHead *head = &machine->head;

  return place_as_stated (machine, head, body->carrier, lw_vec3_add (point, body->shift),
                          pose->pivot, pose->pivot, pose->c, pose->t);
}

static void
check_places (GRand *random, const LwHead *head, bool at_gauge)
{
  g_autoptr (LwMachine) machine = machine_with_head (head, at_gauge);
  const LwTable *table = &machine->tables[1];
  LwVec3 display = { g_rand_double_range (random, 0, 5000), g_rand_double_range (random, 0, 2000),
                     g_rand_double_range (random, 0, 1000) };
  LwVec3 old_pivot = stated_pivot (head, at_gauge, display), point = { 3, -40, 77 };
  LwPose pose = { lw_vec3_add (display, machine->stated_to_pivot),
                  g_rand_double_range (random, -3, 3), g_rand_double_range (random, -3, 3) };
  LwVec3 swing = lw_head_get_swing (head, 150, pose.c, pose.t);
  LwLeeway leeway = lw_travel_get_leeway (machine, &pose, NULL);
  double want = fmin (fmin (fmin (display.x, 5200 - display.x), fmin (display.y, 2800 - display.y)),
                      fmin (display.z, 1300 - display.z));

  assert_same (lw_pose_get_tip (machine, table, &pose, 150),
               lw_vec3_sub (lw_vec3_add (old_pivot, swing), table->origin));
  assert_near (leeway.travel, want, 1e-8);
  for (int i = 0; i < machine->n_bodies; i++) {
    const LwBody *body = &machine->bodies[i];

    assert_same (
        place_as_read (machine, body, point, &pose),
        place_as_stated (machine, head, body->carrier, point, display, old_pivot, pose.c, pose.t));
  }
}

static void
test_nothing_changes_place (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (1791);

  for (int i = 0; i < 60; i++) {
    LwHead head = test_random_head (random);

    check_places (random, &head, i % 2);
  }
}

/* A limit of Z and a rule's threshold on Z, stated at the gauge face of a plain head: + P. */
static void
test_coupled_at_gauge (void)
{
  g_autoptr (LwMachine) machine =
      test_machine_with ("alder", (const char *[]){ "head.travels_at", "\"gauge\"", NULL });
  g_autofree char *text = NULL;
  g_autoptr (LwMachine) nameless =
      test_machine_with ("alder", (const char *[]){ "head.travels_at", "\"gauge\"",
                                                    "limits_when[0].why", NULL, NULL });

  assert_near (machine->travel[LW_AXIS_Z].high, 1250, 0);
  assert_near (machine->coupled[0].threshold, 1210, 0);
  text = lw_limit_to_text (nameless, (LwLimit){ LW_AXIS_TILT, false, 0 }, true);
  g_assert_cmpstr (text, ==, "B- (while Z is above 960 mm)");
}

static void
test_limit_text (void)
{
  g_autoptr (LwMachine) machine = test_machine ("alder");
  g_autofree char *plain = lw_limit_to_text (machine, (LwLimit){ LW_AXIS_X, true, -1 }, false);
  g_autofree char *minus = lw_limit_to_text (machine, (LwLimit){ LW_AXIS_C, false, -1 }, false);
  g_autofree char *ascii = lw_limit_to_text (machine, (LwLimit){ LW_AXIS_C, false, -1 }, true);
  g_autofree char *rule = lw_limit_to_text (machine, (LwLimit){ LW_AXIS_TILT, true, 0 }, false);

  g_assert_cmpstr (plain, ==, "X+");
  g_assert_cmpstr (minus, ==, "C−");
  g_assert_cmpstr (ascii, ==, "C-");
  g_assert_cmpstr (rule, ==, "B+ (hose loop at the top)");
}

/* ------------------------------------------------------------------------------------------------
 * The shipped machines' bodies. */

/* A box around a body at a pose, machine frame less what moves the work (the table frame + origin).
 */
static LwBox3
box_at (const LwMachine *machine, const LwBody *body, const LwPose *pose)
{
  LwBox3 box = lw_solid_get_box (&body->solid), moved = lw_box3_empty ();

  for (int i = 0; i < 8; i++) {
    LwVec3 corner = { i & 1 ? box.high.x : box.low.x, i & 2 ? box.high.y : box.low.y,
                      i & 4 ? box.high.z : box.low.z };

    moved = lw_box3_add (moved, place_as_read (machine, body, corner, pose));
  }
  return moved;
}

/* At mid travel, head straight down, bodies that move against each other stand apart, even their
 * boxes; so do the tables. */
static void
test_bodies_apart (void)
{
  static const char *const ids[] = { "alder", "birch", "rowan" };

  for (gsize m = 0; m < G_N_ELEMENTS (ids); m++) {
    g_autoptr (LwMachine) machine = test_machine (ids[m]);
    const LwTravel *travel = machine->travel;
    LwPose pose = { { (travel[0].low + travel[0].high) / 2, (travel[1].low + travel[1].high) / 2,
                      (travel[2].low + travel[2].high) / 2 },
                    0,
                    0 };

    for (int i = 0; i < machine->n_bodies; i++) {
      LwBox3 a = box_at (machine, &machine->bodies[i], &pose);

      for (int k = 0; k < machine->n_tables; k++) {
        const LwTable *table = &machine->tables[k];
        LwBox3 slab = { lw_vec3_add (table->origin, lw_vec3 (0, 0, -table->thickness)),
                        lw_vec3_add (table->origin, lw_vec3 (table->size[0], table->size[1], 0)) };

        if (!lw_box3_is_empty (lw_box3_intersect (a, slab)))
          g_error ("%s: %s stands in a table", ids[m], machine->bodies[i].name);
      }
      for (int k = 0; k < i; k++)
        if (!lw_structure_are_neighbors (&machine->structure, machine->bodies[i].carrier,
                                         machine->bodies[k].carrier)
            && !lw_box3_is_empty (
                lw_box3_intersect (a, box_at (machine, &machine->bodies[k], &pose))))
          g_error ("%s: %s stands in %s", ids[m], machine->bodies[i].name, machine->bodies[k].name);
    }
  }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/machine/structures-refused", test_structures_refused);
  g_test_add_func ("/machine/what-moves", test_what_moves);
  g_test_add_func ("/machine/neighbors", test_neighbors);
  g_test_add_func ("/machine/shipped", test_shipped);
  g_test_add_func ("/machine/values", test_values);
  g_test_add_func ("/machine/broken", test_broken);
  g_test_add_func ("/machine/missing-file", test_missing_file);
  g_test_add_func ("/machine/free-forms", test_free_forms);
  g_test_add_func ("/machine/body-on-work", test_body_on_work);
  g_test_add_func ("/machine/change-position-noted", test_change_position_noted);
  g_test_add_func ("/machine/nothing-changes-place", test_nothing_changes_place);
  g_test_add_func ("/machine/coupled-at-gauge", test_coupled_at_gauge);
  g_test_add_func ("/machine/limit-text", test_limit_text);
  g_test_add_func ("/machine/bodies-apart", test_bodies_apart);
  return g_test_run ();
}
