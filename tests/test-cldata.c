/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <string.h>

#include "base/error.h"
#include "base/tolerances.h"
#include "files/clarc.h"
#include "files/cldata.h"
#include "near.h"
#include "samples.h"

#define MM "UNITS/MM\n"

/* Reads text as the file "p"; it must be a program. */
static LwProgram *
read_well (const char *text)
{
  g_autoptr (GError) error = NULL;
  LwProgram *program = lw_cldata_parse ("p", text, strlen (text), 0, &error);

  g_assert_no_error (error);
  g_assert_nonnull (program);
  return program;
}

/* Reads text, which must be refused with a message that begins so. */
static void
expect_refused (const char *text, const char *begin)
{
  g_autoptr (GError) error = NULL;
  LwProgram *program = lw_cldata_parse ("p", text, strlen (text), 0, &error);

  g_assert_null (program);
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
  if (!g_str_has_prefix (error->message, begin))
    g_error ("“%s” does not begin with “%s”", error->message, begin);
}

static bool
warns (const LwProgram *program, const char *piece)
{
  for (int i = 0; program->warnings[i] != NULL; i++)
    if (strstr (program->warnings[i], piece) != NULL)
      return true;
  return false;
}

static void
expect_place (const LwProgram *program, guint i, double x, double y, double z)
{
  g_assert_cmpuint (i, <, program->n_records);
  assert_near (program->records[i].tip.x, x, 1e-9);
  assert_near (program->records[i].tip.y, y, 1e-9);
  assert_near (program->records[i].tip.z, z, 1e-9);
}

static void
expect_axis (const LwProgram *program, guint i, double x, double y, double z)
{
  assert_near (program->records[i].axis.x, x, 1e-8);
  assert_near (program->records[i].axis.y, y, 1e-8);
  assert_near (program->records[i].axis.z, z, 1e-8);
}

/* ------------------------------------------------------------------------------------------------
 * Statements */

static void
test_places (void)
{
  g_autoptr (LwProgram) program =
      read_well ("PARTNO RIB  7 $$ comment\n" MM "FROM/0,0,500\nRAPID\nGOTO/1,2,3\n"
                 "FEDRAT/1500,MMPM\nGOTO/4,5,6\nGODLTA/0,0,-1\nFINI\n");

  g_assert_cmpstr (program->title, ==, "RIB  7");
  g_assert_cmpuint (program->n_records, ==, 4);
  g_assert_cmpuint (program->n_statements, ==, 4);
  expect_place (program, 0, 0, 0, 500);
  expect_place (program, 1, 1, 2, 3);
  expect_place (program, 3, 4, 5, 5);
  g_assert_cmpint (program->records[0].kind, ==, LW_RECORD_FROM);
  g_assert_cmpint (program->records[1].kind, ==, LW_RECORD_RAPID);
  g_assert_cmpint (program->records[2].kind, ==, LW_RECORD_GOTO); /* RAPID is for one motion */
  g_assert_cmpint (program->records[2].line, ==, 7);
  g_assert_true (isnan (program->records[1].feed));
  assert_near (program->records[2].feed, 1500, 1e-9);
  assert_near (program->box.high.z, 500, 1e-9);
  g_assert_null (program->lost);
  g_assert_null (program->open);
  g_assert_null (program->warnings[0]);
}

/* Blanks, case, $, $$, ;, D exponents, CR LF, CR, a byte order mark. */
static void
test_forms (void)
{
  static const char *const texts[] = {
    "UNITS/MM\nGOTO/10,20,-30.5\nFINI\n",
    "\xef\xbb\xbfunits / mm\r\ngo to / 1 0 , 2 0 , - 3 0 . 5\r\nfini",
    "Units/mm;Goto/1.D1,+2.d+1,-3.05E1;Fini;",
    "UNITS/MM\rGOTO/1$ rest is nothing\r0,20,$$ not here\rFINI",
    "UNITS/MM\nGOTO/1$ GOTO/9,9,9\n0,2$\n0,-30$\n.5 $$ GOTO/9,9,9\n\n   \nFINI",
  };

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++) {
    g_autoptr (GError) error = NULL;
    g_autoptr (LwProgram) program = lw_cldata_parse ("p", texts[i], strlen (texts[i]), 0, &error);

    if (i == 3) { /* the list ends in a comma: an empty number */
      g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
      g_assert_true (g_str_has_prefix (error->message, "p:2: "));
      continue;
    }
    g_assert_no_error (error);
    g_assert_cmpuint (program->n_records, ==, 1);
    expect_place (program, 0, 10, 20, -30.5);
  }
}

static void
test_units (void)
{
  g_autoptr (GError) error = NULL;
  const char *bare = "GOTO/1,2,3\nFINI\n";
  g_autoptr (LwProgram) inches = read_well ("UNITS/INCHES\nGOTO/1,2,3\nFEDRAT/IPM,10\n"
                                            "UNITS/MM\nGOTO/1,2,3\nFINI\n");
  g_autoptr (LwProgram) told = lw_cldata_parse ("p", bare, strlen (bare), 25.4, &error);

  g_assert_no_error (error);
  expect_place (told, 0, 25.4, 50.8, 76.2);
  assert_near (told->unit_mm, 25.4, 0);
  expect_place (inches, 0, 25.4, 50.8, 76.2);
  expect_place (inches, 1, 1, 2, 3);
  assert_near (inches->records[1].feed, 254, 1e-9);
  g_assert_true (warns (inches, "Line 4: "));

  expect_refused (bare, "p:1: a length before any UNITS");
  expect_refused ("UNITS/CUBITS\nGOTO/1,2,3\n", "p:1: UNITS takes MM or INCHES");
  g_assert_null (lw_cldata_parse ("p", MM "GOTO/1,2,3\n", 20, 25.4, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
}

static void
test_axes (void)
{
  g_autoptr (LwProgram) program =
      read_well (MM "MULTAX/ON\nGOTO/0,0,0,1,0,0\nGOTO/1,0,0\nGOTO/2,0,0,0,0,1.005\n"
                    "GOTO/3,0,0,0,2,0\nTLAXIS/0,-0.6,0.8\nGOTO/4,0,0\nFINI\n");
  g_autoptr (LwProgram) off = read_well (MM "GOTO/0,0,0,1,0,0\nFINI\n");
  g_autoptr (LwProgram) unsaid =
      read_well (MM "MULTAX\nGOTO/0,0,0,1,0,0\nMULTAX/OFF\nGOTO/5,5,5\nFINI\n");

  expect_axis (program, 1, 1, 0, 0);
  expect_axis (program, 2, 0, 0, 1);
  expect_axis (program, 3, 0, 1, 0);
  expect_axis (program, 4, 0, -0.6, 0.8);
  g_assert_true (warns (program, "Line 6: a direction of length 2"));
  g_assert_false (warns (program, "Line 5"));
  g_assert_true (warns (off, "Line 2: six numbers without MULTAX/ON"));
  g_assert_true (g_str_has_prefix (unsaid->lost, "Line 5: "));

  expect_refused (MM "GOTO/0,0,0,0,0,0\n", "p:2: a direction of length 0");
  expect_refused (MM "GOTO/0,0,0,0,45,0\n", "p:2: a direction of length 45");
  expect_refused (MM "GOTO/0,0,0,0,0,2.01\n", "p:2: a direction of length 2.01");
  expect_refused (MM "GOTO/0,0,0,0\n", "p:2: GOTO takes 3 numbers or 6, here are 4");
  expect_refused (MM "GOTO/0,0,0,0,0\n", "p:2: GOTO takes 3 numbers or 6, here are 5");
  expect_refused (MM "\n\nGOTO/0,$\n0\n", "p:4: GOTO takes 3 numbers or 6, here are 2");
}

static void
test_text (void)
{
  g_autoptr (LwProgram) program =
      read_well ("PARTNO/ M\xdcLL\n" MM "PPRINT/ LOADTL/9; GOTO/1,1,1\nREMARK FINI\n"
                 "LETTER GOTO/2,2,2 $\nGOTO/3,3,3\nINSERT G0 Z0\nFINI\nGOTO/8,8,8\n");

  g_assert_true (g_utf8_validate (program->title, -1, NULL));
  g_assert_cmpuint (program->n_tools, ==, 0);
  g_assert_cmpuint (program->n_records, ==, 1);
  expect_place (program, 0, 3, 3, 3);
  g_assert_true (warns (program, "Line 5: text does not go on"));
  g_assert_true (g_str_has_prefix (program->open, "Line 7: INSERT"));
  g_assert_true (warns (program, "what follows FINI is not read"));
  g_assert_null (program->lost);
}

/* A statement that is not followed is told, and the path is no longer known. */
static void
test_unknown (void)
{
  static const char *const statements[] = { "ROTABL/45", "ORIGIN/1,2,3", "WOBBLE/3", "P1=POINT/1,2",
                                            "PARTNOX A", "GO/TO",        "/1,2,3",   "GOHOME" };
  g_autoptr (LwProgram) cut = read_well (MM "GOTO/1,2,3\n");

  for (gsize i = 0; i < G_N_ELEMENTS (statements); i++) {
    g_autofree char *text =
        g_strconcat (MM "GOTO/1,2,3\n", statements[i], "\nGOTO/4,5,6\nFINI\n", NULL);
    g_autoptr (LwProgram) program = read_well (text);

    g_assert_true (g_str_has_prefix (program->lost, "Line 3: "));
    g_assert_cmpstr (program->warnings[0], ==, program->lost);
  }
  g_assert_true (strstr (cut->open, "without FINI") != NULL);
}

static void
test_tools (void)
{
  g_autoptr (LwProgram) program =
      read_well (MM "CUTTER/16,8\nLOADTL/4,ADJUST,1,LENGTH,152.4\nSPINDL/RPM,6000,CLW\n"
                    "FEDRAT/0.5,MMPR\nGOTO/0,0,0\nLOADTL/7\nCUTTER/8\nGOTO/1,0,0\nTURRET/4\n"
                    "GOTO/2,0,0\nFINI\n");
  g_autoptr (LwProgram) early = read_well (MM "GOTO/0,0,0\nLOADTL/4\nGOTO/1,0,0\nFINI\n");

  g_assert_cmpuint (program->n_tools, ==, 2);
  g_assert_cmpint (program->tools[0].number, ==, 4);
  assert_near (program->tools[0].length, 152.4, 0);
  assert_near (program->tools[0].diameter, 16, 0);
  assert_near (program->tools[0].corner_radius, 8, 0);
  assert_near (program->tools[1].diameter, 8, 0);
  g_assert_true (isnan (program->tools[1].length));
  g_assert_cmpint (program->records[0].tool, ==, 4);
  g_assert_cmpint (program->records[1].tool, ==, 7);
  g_assert_cmpint (program->records[2].tool, ==, 4);
  assert_near (program->records[0].feed, 3000, 1e-9);
  g_assert_cmpint (early->records[0].tool, ==, -1);
  g_assert_true (warns (early, "Line 3: the program moves before"));

  expect_refused (MM "RAPID\nLOADTL/4\nGOTO/1,2,3\n", "p:3: RAPID on line 2 has no motion");
  expect_refused (MM "LOADTL/4.5\n", "p:2: a tool number must be whole");
  expect_refused (MM "LOADTL\n", "p:2: expected a number");
}

static void
test_cycles (void)
{
  g_autoptr (LwProgram) program =
      read_well (MM "MULTAX/ON\nCYCLE/DRILL,DEPTH,12.5,MMPM,200,CLEAR,3\nGOTO/0,0,20,0,0,1\n"
                    "CYCLE/OFF\nGOTO/5,0,20\nCYCLE/ON\nGOTO/10,0,20,1,0,0\n"
                    "CYCLE/DEEP,30,200,MMPM,2,RTRCTO,10\nGOTO/0,0,0,0,0,1\nCYCLE/OFF\nFINI\n");
  g_autoptr (LwProgram) vague = read_well (MM "CYCLE/TAP,5\nGOTO/0,0,0\nFINI\n");
  g_autoptr (LwProgram) blind = read_well (MM "CYCLE/BORE,CLEAR,2\nGOTO/0,0,0\nFINI\n");
  g_autoptr (LwProgram) odd = read_well (MM "CYCLE/WHITTLE,3,F,2\nGOTO/0,0,0\nFINI\n");
  LwVec3 stand;

  g_assert_cmpuint (program->n_drills, ==, 3);
  g_assert_cmpint (program->records[0].kind, ==, LW_RECORD_DRILL);
  assert_near (program->records[0].depth, 12.5, 0);
  assert_near (program->records[0].clear, 3, 0);
  g_assert_cmpint (program->records[1].kind, ==, LW_RECORD_GOTO);
  assert_near (program->records[1].depth, 0, 0);
  assert_near (program->records[2].depth, 12.5, 0);
  stand = lw_program_record_get_stand (&program->records[2]);
  assert_near (stand.x, 13, 1e-12);
  assert_near (program->records[3].depth, 30, 0);
  assert_near (program->records[3].clear, 10, 0);
  assert_near (program->box.low.z, -30, 0);
  assert_near (program->box.high.x, 13, 1e-12);
  assert_near (program->box.low.x, 10 - 12.5 < 0 ? -2.5 : 0, 1e-12);

  g_assert_true (strstr (vague->open, "CLEAR") != NULL);
  g_assert_true (strstr (blind->lost, "depth") != NULL);
  g_assert_nonnull (odd->lost);
  expect_refused (MM "CYCLE/DRILL,DEPTH,-5\n", "p:2: a cycle's depth");
  expect_refused (MM "CYCLE/ON\n", "p:2: CYCLE/ON, but no cycle");
  expect_refused (MM "CYCLE/5\n", "p:2: CYCLE takes a kind");
  expect_refused (MM "CYCLE/DRILL,5,100,MMPM,x9.3.2\nGOTO/1,2,3,4,5\n", "p:3: ");
}

static void
test_refused (void)
{
  expect_refused ("", "p:1: the program has no motion");
  expect_refused (MM "FINI\nGOTO/1,2,3\n", "p:2: the program has no motion");
  expect_refused (MM "GOTO/1,2,P7\n", "p:2: expected a number, found “P7”");
  expect_refused (MM "GOTO/1,2,nan\n", "p:2: expected a number");
  expect_refused (MM "GOTO/1,2,0x10\n", "p:2: expected a number");
  expect_refused (MM "GOTO/1,2,1E400\n", "p:2: expected a number");
  expect_refused (MM "GOTO/1,2,1E7\n", "p:2: 1E7 is further out");
  expect_refused (MM "GOTO/1,,3\n", "p:2: expected a number");
  expect_refused (MM "GOTO/1,2$\n", "p:2: the file ends inside");
  expect_refused (MM "GODLTA/0,0,5\n", "p:2: GODLTA from nowhere");
  expect_refused (MM "GOTO/1,2,\xe2\x88\x92"
                     "3\n",
                  "p:2: a character");
  expect_refused (MM "MULTAX/PERHAPS\n", "p:2: MULTAX takes ON or OFF");
  expect_refused (MM "CIRCLE/0,0,0,0,0,1,5\nGOTO/5,0,0\n", "p:3: an arc from nowhere");
  expect_refused (MM "GOTO/5,0,0\nCIRCLE/0,0,0,0,0,1,5\nFINI\n", "p:4: CIRCLE on line 3");
  expect_refused (MM "GOTO/5,0,0\nCIRCLE/0,0,0,0,0,1,5\nGOTO/0,5.1,0\n", "p:4: the arc's start");
  expect_refused (MM "GOTO/5,0,0\nCIRCLE/0,0,0,0,0,1,0\n", "p:3: the circle's radius");
  expect_refused (MM "GOTO/5,0,0\nCIRCLE/0,0,0,0,0,1\n", "p:3: CIRCLE takes 7");
}

/* A zero byte, as in UTF-16, and a statement without end. */
static void
test_binary (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *long_one = g_strnfill (200000, '7');
  g_autofree char *text = g_strconcat (MM "GOTO/", long_one, NULL);

  g_assert_null (lw_cldata_parse ("p", "U\0N\0I\0", 6, 0, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
  g_assert_true (g_str_has_prefix (error->message, "p:1: a zero byte"));
  expect_refused (text, "p:2: the statement is too long");
  g_assert_true (lw_cldata_is_likely (MM, strlen (MM)));
  g_assert_true (lw_cldata_is_likely ("$$ x\n partno y", 14));
  g_assert_false (lw_cldata_is_likely ("solid x\nfacet normal 0 0 1\n", 27));
  g_assert_false (lw_cldata_is_likely ("%\nG0 X10 Y20\n", 13));
  g_assert_false (lw_cldata_is_likely ("", 0));
}

/* ------------------------------------------------------------------------------------------------
 * Arcs: every chord within its bound of the circle, both ends exact, the way round right-handed. */

static void
test_arcs (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4343);

  for (int round = 0; round < 400; round++) {
    double radius = pow (10, g_rand_double_range (rand, -1, 3.5));
    double sweep = g_rand_double_range (rand, 0.02, 2 * LW_PI - 0.02);
    double from = g_rand_double_range (rand, 0, 2 * LW_PI), rise = g_rand_double_range (rand, 0, 9);
    LwVec3 tilted = { g_rand_double_range (rand, -1, 1), g_rand_double_range (rand, -1, 1), 0.4 };
    LwVec3 normal = lw_vec3_unit (tilted);
    LwVec3 u = lw_vec3_unit (lw_vec3_cross (normal, lw_vec3 (1, 0, 0)));
    LwVec3 v = lw_vec3_cross (normal, u), center = { 100, -50, 20 };
    LwVec3 ends[2];
    LwClCircle circle = { center, normal, radius };
    LwClArc arc;
    LwVec3 before;

    for (int i = 0; i < 2; i++) {
      double angle = from + i * sweep;

      ends[i] = lw_vec3_add_scaled (center, u, radius * cos (angle));
      ends[i] = lw_vec3_add_scaled (ends[i], v, radius * sin (angle));
      ends[i] = lw_vec3_add_scaled (ends[i], normal, i * rise);
    }
    g_assert_true (lw_cl_arc_init (&arc, &circle, ends[0], ends[1]));
    assert_near (arc.sweep, sweep, 1e-6);
    before = ends[0];
    for (int k = 1; k <= arc.n_chords; k++) {
      LwVec3 at = lw_cl_arc_at (&arc, k);

      for (int j = 0; j <= 8; j++) { /* along the chord */
        LwVec3 on = lw_vec3_add_scaled (before, lw_vec3_sub (at, before), j / 8.0);
        LwVec3 off = lw_vec3_sub (on, center);
        double height = lw_vec3_dot (off, normal);
        double r = lw_vec3_length (lw_vec3_add_scaled (off, normal, -height));

        g_assert_cmpfloat (r, <=, radius + 1e-9);
        g_assert_cmpfloat (r, >=, radius - LW_ARC_CHORD - 1e-9);
      }
      g_assert_cmpfloat (
          lw_vec3_dot (lw_vec3_cross (lw_vec3_sub (before, center), lw_vec3_sub (at, center)),
                       normal),
          >, 0);
      before = at;
    }
    g_assert_true (memcmp (&before, &ends[1], sizeof before) == 0);
  }
}

static void
test_arc_in_program (void)
{
  g_autoptr (LwProgram) program =
      read_well (MM "MULTAX/ON\nGOTO/10,0,5,0,0,1\nCIRCLE/0,0,0,0,0,1,10\nGOTO/0,10,5,1,0,0\n"
                    "GOTO/0,0,0\nFINI\n");
  g_autoptr (LwProgram) full = read_well (MM "GOTO/10,0,0\nCIRCLE/0,0,0,0,0,-1,10\nGOTO/10,0,0\n"
                                             "FINI\n");
  guint last = program->n_records - 2;
  double turned = 0;

  g_assert_cmpuint (program->n_statements, ==, 3);
  g_assert_cmpuint (program->n_arcs, ==, 1);
  g_assert_true (warns (program, "1 arc is read right-handed"));
  expect_place (program, last, 0, 10, 5);
  expect_axis (program, last, 1, 0, 0);
  for (guint i = 1; i <= last; i++) { /* the axis turns evenly on its great circle */
    const LwProgramRecord *record = &program->records[i];

    g_assert_cmpint (record->kind, ==, LW_RECORD_ARC);
    g_assert_cmpint (record->ends, ==, i == last);
    assert_near (lw_vec3_angle (program->records[i - 1].axis, record->axis), LW_PI / 2 / last,
                 1e-9);
    assert_near (record->axis.y, 0, 1e-12);
    assert_near (record->tip.z, 5, 1e-9);
  }
  g_assert_cmpint (program->records[last + 1].kind, ==, LW_RECORD_GOTO);
  for (guint i = 1; i < full->n_records; i++) /* clockwise seen from above */
    turned += full->records[i - 1].tip.x * full->records[i].tip.y
              - full->records[i - 1].tip.y * full->records[i].tip.x;
  assert_near (turned / 2, -LW_PI * 100, 1);
  assert_near (full->box.low.x, -10, LW_ARC_CHORD);
}

/* ------------------------------------------------------------------------------------------------
 * A program with everything in it. Its text is ours; the facts are those told beside the sample
 * cldata/own_iso4343_words.apt, worked out there by hand. */

static const char everything[] =
    "PARTNO DEMO PLUG  LEFT HALF  $$ a comment\n"
    "$$ a line of comment\n"
    "UNITS/MM\nMACHIN/GANTRY,5,OPTION,1\nMULTAX/ON\nLOADTL/3,ADJUST,3,LENGTH,152.4\n"
    "CUTTER/20.0,5.0,5.0,5.0,0.0,0.0,80.0\nSPINDL/RPM,12000,CLW\nCOOLNT/MIST\n"
    "FROM/0,0,500,0,0,1\nRAPID\nGOTO/100,50,120,0,0,1\nFEDRAT/MMPM,3000\n"
    "GOTO/100.,50.,20.,0,0,1\ngoto/ 110.0 , 50.0 , 20.0\n"
    "GOTO/1.2E+02,5.D+01,20.0,0.173648178,$\n0.0,0.984807753\n"
    "GOTO/130.0,50.0,2$\n0.0,0.342020143,0.0,0.93969$\n2621       $$ broken twice\n"
    "GOTO/140,50,20,0,0,2         $$ not of unit length\nGODLTA/0,0,5\nMULTAX/OFF\nRAPID\n"
    "GOTO/150,50,25\nCYCLE/DRILL,DEPTH,12.5,MMPM,200,CLEAR,3\nGOTO/150,60,20\nGOTO/150,70,20\n"
    "CYCLE/OFF\nCIRCLE/160,70,20,0,0,1,10\nGOTO/170,70,20\n"
    "PPRINT/ LOADTL/99 THIS IS TEXT\nINSERT G0 Z0 $$ raw text for the control\nSTOP\nLOADTL/4\n"
    "GOTO/170,80,20\nREWIND\nEND\nFINI\nGOTO/999,999,999\n";

static void
expect_everything (const LwProgram *program)
{
  static const double places[13][3] = {
    { 0, 0, 500 },   { 100, 50, 120 }, { 100, 50, 20 }, { 110, 50, 20 }, { 120, 50, 20 },
    { 130, 50, 20 }, { 140, 50, 20 },  { 140, 50, 25 }, { 150, 50, 25 }, { 150, 60, 20 },
    { 150, 70, 20 }, { 170, 70, 20 },  { 170, 80, 20 },
  };
  static const double tilts[13] = { 0, 0, 0, 0, 10, 20 }; /* degrees towards +X */
  guint n = 0;

  g_assert_cmpuint (program->n_statements, ==, 13);
  for (guint i = 0; i < program->n_records; i++) {
    const LwProgramRecord *record = &program->records[i];

    if (!record->ends)
      continue;
    expect_place (program, i, places[n][0], places[n][1], places[n][2]);
    expect_axis (program, i, sin (lw_radians (tilts[n])), 0, cos (lw_radians (tilts[n])));
    g_assert_cmpint (record->tool, ==, n < 12 ? 3 : 4);
    g_assert_cmpint (record->kind, ==,
                     n == 0              ? LW_RECORD_FROM
                     : n == 1 || n == 8  ? LW_RECORD_RAPID
                     : n == 9 || n == 10 ? LW_RECORD_DRILL
                     : n == 11           ? LW_RECORD_ARC
                                         : LW_RECORD_GOTO);
    assert_near (record->depth, n == 9 || n == 10 ? 12.5 : 0, 0);
    if (n > 1)
      assert_near (record->feed, 3000, 1e-9);
    n++;
  }
  g_assert_cmpuint (program->n_tools, ==, 2);
  g_assert_cmpint (program->tools[0].number, ==, 3);
  assert_near (program->tools[0].length, 152.4, 0);
  assert_near (program->tools[0].diameter, 20, 0);
  assert_near (program->tools[0].corner_radius, 5, 0);
  g_assert_cmpint (program->tools[1].number, ==, 4);
  assert_near (program->unit_mm, 1, 0);
  g_assert_null (program->lost);
  g_assert_true (strstr (program->open, "INSERT") != NULL);
  g_assert_true (warns (program, "a direction of length 2"));
  g_assert_true (warns (program, "what follows FINI"));
}

static void
test_everything (void)
{
  g_autoptr (LwProgram) program = read_well (everything);

  g_assert_cmpstr (program->title, ==, "DEMO PLUG  LEFT HALF");
  expect_everything (program);
}

static void
test_sample_file (void)
{
  g_autofree char *path = test_sample ("samples/cldata/own_iso4343_words.apt");
  g_autofree char *text = NULL;
  g_autoptr (LwProgram) program = NULL;

  if (path == NULL)
    return;
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  program = read_well (text);
  expect_everything (program);
  g_assert_true (g_str_has_prefix (program->title, "DEMO MOULD  LEFT HALF"));
}

/* ------------------------------------------------------------------------------------------------
 * Whatever the bytes: a program of sense, or an error that names file and line. */

static void
expect_sense (const char *bytes, gsize size)
{
  g_autoptr (GError) error = NULL;
  LwProgram *program = lw_cldata_parse ("p", bytes, size, 1, &error);

  if (program == NULL) {
    g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
    g_assert_true (g_str_has_prefix (error->message, "p:"));
    g_assert_true (g_utf8_validate (error->message, -1, NULL));
    return;
  }
  g_assert_cmpuint (program->n_records, >, 0);
  for (guint i = 0; i < program->n_records; i++) {
    const LwProgramRecord *record = &program->records[i];

    g_assert_true (lw_vec3_finite (record->tip));
    assert_near (lw_vec3_length (record->axis), 1, 1e-12);
    g_assert_cmpfloat (record->depth, >=, 0);
    g_assert_cmpfloat (record->clear, >=, 0);
  }
  for (int i = 0; program->warnings[i] != NULL; i++)
    g_assert_true (g_utf8_validate (program->warnings[i], -1, NULL));
  lw_program_unref (program);
}

static void
test_mutations (void)
{
  static const char *const pieces[] = {
    "$",     "$$",  "\n", ",",    "/", ";", "GOTO/", "CIRCLE/",       "CYCLE/",
    "RAPID", "9e9", "-",  "\xff", "E", "D", "FINI",  "UNITS/INCHES\n"
  };
  g_autoptr (GRand) rand = g_rand_new_with_seed (20000);

  for (int round = 0; round < 20000; round++) {
    g_autoptr (GString) text = g_string_new (everything);
    int n = g_rand_int_range (rand, 1, 6);

    for (int i = 0; i < n; i++) {
      gsize at = (gsize)g_rand_int_range (rand, 0, (gint32)text->len);
      gssize length;

      switch (g_rand_int_range (rand, 0, 5)) {
      case 0:
        text->str[at] = (char)g_rand_int_range (rand, 0, 256);
        break;
      case 1:
        text->str[at] ^= (char)(1 << g_rand_int_range (rand, 0, 7));
        break;
      case 2:
        length = g_rand_int_range (rand, 1, 20);
        g_string_erase (text, (gssize)at, MIN (length, (gssize)(text->len - at)));
        break;
      case 3:
        g_string_insert (text, (gssize)at,
                         pieces[g_rand_int_range (rand, 0, G_N_ELEMENTS (pieces))]);
        break;
      default:
        g_string_truncate (text, MAX (at, 1));
        break;
      }
      if (text->len == 0)
        break;
    }
    expect_sense (text->str, text->len);
  }
}

/* Many statements on one line, and many warnings, take time and room in proportion. */
static void
test_big (void)
{
  g_autoptr (GString) text = g_string_new ("UNITS/MM;");
  g_autoptr (LwProgram) program = NULL;

  for (int i = 0; i < 200000; i++)
    g_string_append (text, "GOTO/1,2,3;WOBBLE;");
  program = read_well (text->str);
  g_assert_cmpuint (program->n_records, ==, 200000);
  g_assert_cmpuint (g_strv_length (program->warnings), <, 250);
  g_assert_true (warns (program, "more warnings are left out"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/cldata/places", test_places);
  g_test_add_func ("/cldata/forms", test_forms);
  g_test_add_func ("/cldata/units", test_units);
  g_test_add_func ("/cldata/axes", test_axes);
  g_test_add_func ("/cldata/text", test_text);
  g_test_add_func ("/cldata/unknown", test_unknown);
  g_test_add_func ("/cldata/tools", test_tools);
  g_test_add_func ("/cldata/cycles", test_cycles);
  g_test_add_func ("/cldata/refused", test_refused);
  g_test_add_func ("/cldata/binary", test_binary);
  g_test_add_func ("/cldata/arcs", test_arcs);
  g_test_add_func ("/cldata/arc-in-program", test_arc_in_program);
  g_test_add_func ("/cldata/everything", test_everything);
  g_test_add_func ("/cldata/sample", test_sample_file);
  g_test_add_func ("/cldata/mutations", test_mutations);
  g_test_add_func ("/cldata/big", test_big);
  return g_test_run ();
}
