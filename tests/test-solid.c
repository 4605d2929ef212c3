/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <string.h>

#include "near.h"
#include "shape/solid.h"

static bool
read_solid (LwSolid *solid, const char *members, GError **error)
{
  g_autofree char *text = g_strdup_printf ("{\"solid\": {%s}}", members);
  g_autoptr (JsonNode) root = lw_json_parse ("solid", text, strlen (text), error);
  LwIn *in;

  g_assert_nonnull (root);
  in = lw_in_new ("m", "", root);
  lw_solid_read (solid, in, "solid");
  return lw_in_finish (in, error);
}

static const char *const round_solids[] = {
  "\"kind\": \"cylinder\", \"from_mm\": [1, 2, 3], \"to_mm\": [40, -20, 60], \"radius_mm\": 17",
  "\"kind\": \"cylinder\", \"from_mm\": [0, 0, -9], \"to_mm\": [0, 0, 9], \"radius_mm\": 5, "
  "\"at_mm\": "
  "[7, 8, 9], \"rotation\": [[0, 0, 1], [1, 0, 0], [0, 1, 0]]",
  "\"kind\": \"frustum\", \"from_mm\": [5, 0, 0], \"to_mm\": [9, 30, -4], \"r_from_mm\": 12, "
  "\"r_to_mm\": 0",
  "\"kind\": \"capsule\", \"from_mm\": [5, 0, 0], \"to_mm\": [9, 30, -4], \"radius_mm\": 6",
  "\"kind\": \"sphere\", \"center_mm\": [5, -5, 1], \"radius_mm\": 6, \"rotation\": [[0, -1, 0], "
  "[1, "
  "0, 0], [0, 0, 1]], \"at_mm\": [100, 0, 0]",
};

/* Two unit vectors across an axis. */
static void
frame_of (LwVec3 axis, LwVec3 *right, LwVec3 *up)
{
  *right = lw_vec3_unit (
      lw_vec3_cross (axis, fabs (axis.x) < 0.5 ? lw_vec3 (1, 0, 0) : lw_vec3 (0, 1, 0)));
  *up = lw_vec3_cross (axis, *right);
}

/* Points of the surface by brute force, 100 000 of them: rims of the flat ends, or balls. */
static LwBox3
box_by_points (const LwSolid *solid)
{
  LwVec3 axis = lw_vec3_unit (lw_vec3_sub (solid->b, solid->a)), right, up;
  bool ball = solid->kind == LW_SOLID_SPHERE || solid->kind == LW_SOLID_CAPSULE;
  LwBox3 box = lw_box3_empty ();

  if (solid->kind == LW_SOLID_SPHERE)
    axis = lw_vec3 (0, 0, 1);
  frame_of (axis, &right, &up);
  for (int i = 0; i < 400; i++)
    for (int k = 0; k <= (ball ? 250 : 0); k++) {
      double a = i * LW_PI / 200, b = ball ? k * LW_PI / 250 - LW_PI / 2 : 0;
      LwVec3 d =
          lw_vec3_add (lw_vec3_scale (right, cos (a) * cos (b)),
                       lw_vec3_add_scaled (lw_vec3_scale (axis, sin (b)), up, sin (a) * cos (b)));
      LwVec3 ends[2] = { lw_vec3_add_scaled (solid->a, d, solid->r_a),
                         lw_vec3_add_scaled (solid->b, d, solid->r_b) };

      for (int e = 0; e < 2; e++)
        box = lw_box3_add (box, lw_vec3_add (solid->at, lw_mat3_apply (solid->rotation, ends[e])));
    }
  return box;
}

static void
test_round_boxes (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (round_solids); i++) {
    g_autoptr (GError) error = NULL;
    LwSolid solid;
    LwBox3 got, want;

    g_assert_true (read_solid (&solid, round_solids[i], &error));
    g_assert_no_error (error);
    got = lw_solid_get_box (&solid);
    want = box_by_points (&solid);
    for (int k = 0; k < 3; k++) {
      double low = lw_vec3_get (got.low, k), high = lw_vec3_get (got.high, k);

      /* Samples lie inside, and within 1 − cos(half a step) of the radius. */
      g_assert_cmpfloat (low, <=, lw_vec3_get (want.low, k) + 1e-9);
      g_assert_cmpfloat (high, >=, lw_vec3_get (want.high, k) - 1e-9);
      assert_near (low, lw_vec3_get (want.low, k), 17 * 2e-4);
      assert_near (high, lw_vec3_get (want.high, k), 17 * 2e-4);
    }
    lw_solid_clear (&solid);
  }
}

static void
test_flat_boxes (void)
{
  LwSolid solid;
  LwBox3 box;

  g_assert_true (
      read_solid (&solid,
                  "\"kind\": \"box\", \"min_mm\": [0, 0, 0], \"max_mm\": [10, 20, 30], "
                  "\"rotation\": [[0, -1, 0], [1, 0, 0], [0, 0, 1]], \"at_mm\": [5, 0, 0]",
                  NULL));
  box = lw_solid_get_box (&solid);
  assert_near (box.low.x, -15, 1e-12);
  assert_near (box.high.x, 5, 1e-12);
  assert_near (box.high.y, 10, 1e-12);
  assert_near (box.high.z, 30, 1e-12);
  lw_solid_clear (&solid);
  g_assert_true (read_solid (
      &solid, "\"kind\": \"hull\", \"points_mm\": [[0,0,0],[9,0,0],[0,8,0],[0,0,-7],[1,1,1]]",
      NULL));
  box = lw_solid_get_box (&solid);
  assert_near (box.low.z, -7, 0);
  assert_near (box.high.x, 9, 0);
  g_assert_cmpint (solid.n_points, ==, 5);
  lw_solid_clear (&solid);
}

static void
test_mesh (void)
{
  g_autofree char *hash = g_strnfill (64, 'a');
  g_autofree char *members = g_strdup_printf (
      "\"kind\": \"mesh\", \"file\": \"ram.stl\", \"sha256\": \"%s\", \"units\": \"in\"", hash);
  LwSolid solid;

  g_assert_true (read_solid (&solid, members, NULL));
  g_assert_cmpstr (solid.file, ==, "ram.stl");
  assert_near (solid.unit_mm, 25.4, 0);
  g_assert_true (lw_box3_is_empty (lw_solid_get_box (&solid)));
  lw_solid_clear (&solid);
}

static void
test_broken (void)
{
  static const char *const table[][2] = {
    { "\"min_mm\": [0,0,0], \"max_mm\": [1,1,1]", "solid.kind" },
    { "\"kind\": \"box\", \"min_mm\": [0,0,0]", "solid.max_mm" },
    { "\"kind\": \"box\", \"min_mm\": [0,0,0], \"max_mm\": [1,0,1]", "solid.max_mm" },
    { "\"kind\": \"box\", \"min_mm\": [0,0,0], \"max_mm\": [1,1,1], \"radius_mm\": 1",
      "solid.radius_mm" },
    { "\"kind\": \"box\", \"min_mm\": [0,0,0], \"max_mm\": [1,1,2e6]", "solid.max_mm" },
    { "\"kind\": \"sphere\", \"center_mm\": [0,0,0], \"radius_mm\": -1", "solid.radius_mm" },
    { "\"kind\": \"capsule\", \"from_mm\": [1,1,1], \"to_mm\": [1,1,1], \"radius_mm\": 1",
      "solid.to_mm" },
    { "\"kind\": \"frustum\", \"from_mm\": [0,0,0], \"to_mm\": [1,1,1], \"r_from_mm\": 0, "
      "\"r_to_mm\": 0",
      "solid.r_to_mm" },
    { "\"kind\": \"hull\", \"points_mm\": [[0,0,0],[1,0,0],[0,1,0]]", "solid.points_mm" },
    { "\"kind\": \"hull\", \"points_mm\": [[0,0,0],[1,1,1],[2,2,2],[3,3,3],[4,4,4]]",
      "solid.points_mm" },
    { "\"kind\": \"sphere\", \"center_mm\": [0,0,0], \"radius_mm\": 1, \"rotation\": "
      "[[-1,0,0],[0,1,0],"
      "[0,0,1]]",
      "solid.rotation" },
    { "\"kind\": \"mesh\", \"file\": \"a\", \"sha256\": \"zz\", \"units\": \"mm\"",
      "solid.sha256" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    g_autoptr (GError) error = NULL;
    g_autofree char *start = g_strdup_printf ("m: %s: ", table[i][1]);
    LwSolid solid;

    if (read_solid (&solid, table[i][0], &error))
      g_error ("was read: %s", table[i][0]);
    if (!g_str_has_prefix (error->message, start))
      g_error ("%s: \"%s\" does not name %s", table[i][0], error->message, table[i][1]);
    lw_solid_clear (&solid);
  }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/solid/round-boxes", test_round_boxes);
  g_test_add_func ("/solid/flat-boxes", test_flat_boxes);
  g_test_add_func ("/solid/mesh", test_mesh);
  g_test_add_func ("/solid/broken", test_broken);
  return g_test_run ();
}
