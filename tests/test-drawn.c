/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "draw/attitude.h"
#include "draw/outlines.h"
#include "draw/pick.h"
#include "draw/silhouette.h"
#include "draw/snap.h"
#include "near.h"
#include "picturesjob.h"

/* What pictures are made of: paths, outlines, faces of meshes, picking, snapping, the strip's
 * instruments. Pictures themselves are held in test-draw.c. */

#define CASES 200

static double
uniform (GRand *rand, double low, double high)
{
  return g_rand_double_range (rand, low, high);
}

static LwVec3
random_point (GRand *rand, double reach)
{
  return lw_vec3 (uniform (rand, -reach, reach), uniform (rand, -reach, reach),
                  uniform (rand, -reach, reach));
}

static LwMat3
random_turn (GRand *rand)
{
  LwVec3 axis = lw_vec3_unit (random_point (rand, 1));

  return lw_mat3_turn (axis, uniform (rand, -LW_PI, LW_PI));
}

static double
get_cross (LwPoint a, LwPoint b, LwPoint p)
{
  return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}

/* How far a point lies outside of a counter-clockwise convex polygon; negative inside. */
static double
get_outside (const LwPath *path, LwPoint p)
{
  double most = -INFINITY;

  for (uint32_t i = 0; i < path->n_points; i++) {
    LwPoint a = path->points[i], b = path->points[(i + 1) % path->n_points];
    double length = hypot (b.x - a.x, b.y - a.y);

    if (length > 0)
      most = fmax (most, -get_cross (a, b, p) / length);
  }
  return most;
}

/* Number of times the runs of a path go round a point. */
static int
get_winding (const LwPath *path, LwPoint p)
{
  int winding = 0;
  uint32_t start = 0;

  for (uint32_t run = 0; run < path->n_runs; start = path->ends[run++])
    for (uint32_t i = start; i < path->ends[run]; i++) {
      LwPoint a = path->points[i], b = path->points[i + 1 < path->ends[run] ? i + 1 : start];

      if (a.y <= p.y && b.y > p.y && get_cross (a, b, p) > 0)
        winding++;
      else if (a.y > p.y && b.y <= p.y && get_cross (a, b, p) < 0)
        winding--;
    }
  return winding;
}

/* ------------------------------------------------------------------------------------------------
 * Paths */

static void
test_simplified_path_stays_near (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);

  for (int n = 0; n < 50; n++) {
    LwPath path = { .closed = n % 2 == 0 }, simple;
    double tolerance = uniform (rand, 0.01, 5), x = 0, y = 0;

    for (int i = 0; i < 300; i++) {
      x += uniform (rand, -1, 2);
      y += uniform (rand, -1, 1);
      lw_path_add (&path, x, y);
    }
    lw_path_end_run (&path);
    simple = lw_path_simplify (&path, tolerance);
    g_assert_cmpuint (simple.n_runs, ==, 1);
    g_assert_cmpuint (simple.n_points, <, path.n_points);
    for (uint32_t i = 0; i < path.n_points; i++) {
      double nearest = INFINITY;

      for (uint32_t k = 0; k + !simple.closed < simple.n_points; k++) {
        LwPoint a = simple.points[k], b = simple.points[(k + 1) % simple.n_points];
        double dx = b.x - a.x, dy = b.y - a.y, l = dx * dx + dy * dy;
        double s = l > 0 ? ((path.points[i].x - a.x) * dx + (path.points[i].y - a.y) * dy) / l : 0;

        s = CLAMP (s, 0, 1);
        nearest = fmin (nearest,
                        hypot (a.x + s * dx - path.points[i].x, a.y + s * dy - path.points[i].y));
      }
      g_assert_cmpfloat (nearest, <=, tolerance * (1 + 1e-9));
    }
    lw_path_clear (&path);
    lw_path_clear (&simple);
  }
}

static void
test_lines_are_chained (void)
{
  /* A square's sides in disorder and a line apart: one ring and one run. */
  double points[] = { 0, 0, 1, 0, 1, 1, 0, 1, 5, 5, 6, 5, 1, 1, 1, 0, 0, 1, 0, 0 };
  LwLines lines = { points, 5 };
  LwPath path = lw_path_chain_lines (&lines);

  g_assert_cmpuint (path.n_runs, ==, 2);
  g_assert_cmpuint (path.ends[0], ==, 2);
  g_assert_cmpuint (path.ends[1] - path.ends[0], ==, 5);
  lw_path_clear (&path);
}

static void
test_hull_holds_every_point (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);

  for (int n = 0; n < CASES; n++) {
    LwPoint all[60], hull[60];
    LwPath path = { .closed = true };
    int count;

    for (int i = 0; i < 60; i++)
      all[i] = hull[i] = (LwPoint){ uniform (rand, -9, 9), uniform (rand, -9, 9) };
    count = lw_hull_compute (hull, 60);
    g_assert_cmpint (count, >=, 3);
    for (int i = 0; i < count; i++)
      lw_path_add (&path, hull[i].x, hull[i].y);
    lw_path_end_run (&path);
    for (int i = 0; i < 60; i++)
      g_assert_cmpfloat (get_outside (&path, all[i]), <=, 1e-9);
    lw_path_clear (&path);
  }
}

/* ------------------------------------------------------------------------------------------------
 * Outlines of solids */

/* A random point of a cylinder or frustum. */
static LwVec3
get_point_of (GRand *rand, const LwSolid *solid)
{
  LwVec3 axis = lw_vec3_sub (solid->b, solid->a), unit = lw_vec3_unit (axis);
  LwVec3 e1 = lw_vec3_unit (lw_vec3_cross (unit, lw_vec3 (0.3, 0.7, -0.2)));
  LwVec3 e2 = lw_vec3_cross (unit, e1);
  double s = uniform (rand, 0, 1), a = uniform (rand, 0, 2 * LW_PI);
  double r = solid->r_a + s * (solid->r_b - solid->r_a);
  LwVec3 p = lw_vec3_add_scaled (solid->a, axis, s);

  return lw_vec3_add_scaled (lw_vec3_add_scaled (p, e1, r * cos (a)), e2, r * sin (a));
}

/* The outline holds every point of the body, and points of the body come near every side of it. */
static void
test_outline_of_turned_solids (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);

  for (int n = 0; n < 60; n++) {
    LwSolid solid = { .kind = n % 2 ? LW_SOLID_CYLINDER : LW_SOLID_FRUSTUM,
                      .rotation = random_turn (rand),
                      .at = random_point (rand, 100),
                      .a = random_point (rand, 200),
                      .b = random_point (rand, 200) };
    LwSeen seen = n % 3 ? LW_SEEN_FROM_ABOVE : LW_SEEN_FROM_FRONT;
    LwMat3 turn = random_turn (rand);
    LwVec3 at = random_point (rand, 500);
    LwPath path = { 0 };
    double nearest = -INFINITY, biggest;

    solid.r_a = uniform (rand, 5, 100);
    solid.r_b = n % 2 ? solid.r_a : uniform (rand, 5, 100);
    biggest = fmax (solid.r_a, solid.r_b);
    g_assert_true (lw_silhouette_add_solid (&path, seen, &solid, turn, at));
    for (int i = 0; i < 2000; i++) {
      LwVec3 p = get_point_of (rand, &solid);
      double out;

      p = lw_vec3_add (lw_mat3_apply (solid.rotation, p), solid.at);
      p = lw_vec3_add (lw_mat3_apply (turn, p), at);
      out = get_outside (&path, lw_seen_project (seen, p));
      g_assert_cmpfloat (out, <=, biggest * 6.1e-4);
      nearest = fmax (nearest, out);
    }
    g_assert_cmpfloat (nearest, >, -0.05 * biggest);
    lw_path_clear (&path);
  }
}

static void
test_outline_from_above_is_a_circle (void)
{
  LwSolid solid = { .kind = LW_SOLID_CYLINDER,
                    .rotation = lw_mat3_identity (),
                    .a = { 0, 0, 10 },
                    .b = { 0, 0, 90 },
                    .r_a = 50,
                    .r_b = 50 };
  LwPath path = { 0 };

  lw_silhouette_add_solid (&path, LW_SEEN_FROM_ABOVE, &solid, lw_mat3_identity (),
                           lw_vec3 (7, 8, 9));
  g_assert_cmpuint (path.n_points, ==, LW_CIRCLE_POINTS);
  for (uint32_t i = 0; i < path.n_points; i++)
    assert_near (hypot (path.points[i].x - 7, path.points[i].y - 8), 50, 1e-9);
  lw_path_clear (&path);
}

static void
test_tool_reaches_to_its_length (void)
{
  g_autofree char *folder = jobs_make_folder ();
  g_autoptr (LwJob) job = NULL;
  LwTool tool;
  LwPath path = { 0 };
  double lowest = INFINITY;

  job = jobs_read (folder, pictures_job);
  g_rmdir (folder);
  for (int measured = 0; measured < 2; measured++) {
    tool = job->tools[0];
    tool.measured = measured ? 219.5 : NAN;
    lowest = INFINITY;
    lw_silhouette_add_tool (&path, LW_SEEN_FROM_FRONT, &tool, lw_vec3 (0, 0, 500),
                            lw_vec3 (0, 0, -1));
    g_assert_cmpuint (path.n_runs, ==, 4);
    for (uint32_t i = 0; i < path.n_points; i++)
      lowest = fmin (lowest, path.points[i].y);
    assert_near (lowest, 500 - (measured ? 219.5 : 214), 1e-9);
    lw_path_clear (&path);
  }
}

/* ------------------------------------------------------------------------------------------------
 * Meshes */

typedef struct {
  char *folder;
  LwJob *job;
  LwScene scene;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autofree char *path = NULL;

  f->folder = jobs_make_folder ();
  path = g_build_filename (f->folder, "part.stl", NULL);
  jobs_write_ellipsoid (path, 40, lw_vec3 (1100, 500, 200), lw_vec3 (0, 0, 0));
  f->job = jobs_read (f->folder, pictures_job);
  f->scene = (LwScene){ .job = f->job,
                        .operation = -1,
                        .placed = -1,
                        .t = lw_radians (50),
                        .tip = { 900, 400, 300 },
                        .tip_height = 300,
                        .section_y = 900 };
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  lw_job_unref (f->job);
  jobs_remove_folder (f->folder);
}

/* The face covers exactly the places where a line of sight meets the part. */
static void
test_face_is_what_the_part_covers (Fixture *f, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (6);
  LwMesh *mesh = f->job->parts[0].mesh.mesh;
  LwViewport v = { .scale = 1, .plan = { -1e6, -1e6, 1e6, 1e6 } };
  int inside = 0;

  g_assert_nonnull (mesh);
  for (int n = 0; n < 12; n++) {
    LwSeen seen = n % 2 ? LW_SEEN_FROM_ABOVE : LW_SEEN_FROM_FRONT;
    LwPlaced *placed = &f->job->setups[0].placed[0];
    LwPatch patch;

    placed->turn = random_turn (rand);
    lw_patch_compute (mesh, placed->turn, seen, NULL, 0, &patch);
    g_assert_cmpuint (patch.rim.n_runs, ==, 0); /* closed: no rim */
    for (int i = 0; i < 40; i++) {
      LwVec3 p = lw_vec3_add (placed->at, random_point (rand, 1100));
      LwPoint px = lw_viewport_project (&v, seen, p);
      LwPoint in_part = lw_seen_project (seen, lw_vec3_sub (p, placed->at));
      LwPick pick = { .placed = -1 };
      bool hit = lw_pick_facet (&f->scene, &v, seen, px.x, px.y, &pick) && pick.placed == 0;

      if (pick.placed == 1)
        continue; /* the block stands before it */
      g_assert_cmpint (get_winding (&patch.face, in_part) != 0, ==, hit);
      inside += hit;
    }
    lw_patch_clear (&patch);
  }
  g_assert_cmpint (inside, >, 50);
}

static void
test_rim_of_a_patch (Fixture *f, gconstpointer data)
{
  LwMesh *block = lw_mesh_new_block (lw_vec3 (100, 60, 40));
  uint32_t top[12], n = 0;
  LwPatch patch;
  double length = 0;

  for (uint32_t t = 0; t < 12; t++)
    if (lw_mesh_get_normal (block, t, NULL).z > 0.9)
      top[n++] = t;
  g_assert_cmpuint (n, ==, 2);
  lw_patch_compute (block, lw_mat3_identity (), LW_SEEN_FROM_ABOVE, top, n, &patch);
  g_assert_cmpuint (patch.rim.n_runs, ==, 1);
  for (uint32_t i = 1; i < patch.rim.n_points; i++)
    length += hypot (patch.rim.points[i].x - patch.rim.points[i - 1].x,
                     patch.rim.points[i].y - patch.rim.points[i - 1].y);
  assert_near (length, 320, 1e-9);
  g_assert_cmpint (get_winding (&patch.face, (LwPoint){ 50, 30 }), ==, 1);
  g_assert_cmpint (get_winding (&patch.face, (LwPoint){ 101, 30 }), ==, 0);
  lw_patch_clear (&patch);
  lw_mesh_unref (block);
}

/* Lines of a part are within the simplification's tolerance of the extent its box tells, and the
 * same lines come back while nothing changed. */
static void
test_outlines_are_kept (Fixture *f, gconstpointer data)
{
  LwOutlines *outlines = lw_outlines_new ();
  LwMesh *mesh = f->job->parts[0].mesh.mesh;
  const LwOutline *a, *b;
  LwBox3 box = lw_mesh_get_facts (mesh)->box;
  LwRect r;

  a = lw_outlines_get (outlines, mesh, lw_mat3_identity (), LW_SEEN_FROM_ABOVE, 0.2);
  b = lw_outlines_get (outlines, mesh, lw_mat3_identity (), LW_SEEN_FROM_ABOVE, 0.2);
  g_assert_true (a->visible.points == b->visible.points);
  r = lw_path_get_rect (&a->visible, 1, 0, 0);
  assert_near (r.x0, box.low.x, 1);
  assert_near (r.x1, box.high.x, 1);
  assert_near (-r.y1, box.low.y, 1);
  assert_near (-r.y0, box.high.y, 1);
  lw_outlines_free (outlines);
}

/* The section through an ellipsoid's middle is its ellipse. */
static void
test_section_of_an_ellipsoid (Fixture *f, gconstpointer data)
{
  LwOutlines *outlines = lw_outlines_new ();
  LwMesh *mesh = f->job->parts[0].mesh.mesh;
  const LwPath *cut = lw_outlines_get_section (outlines, mesh, lw_mat3_identity (), 250, 1);
  double shrunk = sqrt (1 - 0.25);

  g_assert_true (cut->closed);
  g_assert_cmpuint (cut->n_runs, ==, 1);
  for (uint32_t i = 0; i < cut->n_points; i++) {
    double x = cut->points[i].x / (1100 * shrunk), z = cut->points[i].y / (200 * shrunk);

    /* facets of 40 rows stand up to 1.3 % inside the ellipsoid */
    assert_near (hypot (x, z), 0.992, 0.0125);
  }
  lw_outlines_free (outlines);
}

static void
test_pick_is_the_nearest (Fixture *f, gconstpointer data)
{
  LwViewport v = lw_viewport_fit (&f->scene, 800, 700);
  LwPoint at = lw_viewport_project (&v, LW_SEEN_FROM_ABOVE, lw_vec3 (1800, 900, 0));
  LwPick pick;

  g_assert_true (lw_pick_facet (&f->scene, &v, LW_SEEN_FROM_ABOVE, at.x, at.y, &pick));
  g_assert_cmpint (pick.placed, ==, 0);
  assert_near (pick.table.x, 1800, 1e-6);
  assert_near (pick.table.y, 900, 1e-6);
  assert_near (pick.table.z, 520, 1.5); /* top of the ellipsoid, less a facet's sag */
  assert_near (pick.part.z, pick.table.z - 320, 1e-9);
  /* the block, turned by 90°, spans 3000 … 3300 by 100 … 500 */
  at = lw_viewport_project (&v, LW_SEEN_FROM_ABOVE, lw_vec3 (3100, 300, 0));
  g_assert_true (lw_pick_facet (&f->scene, &v, LW_SEEN_FROM_ABOVE, at.x, at.y, &pick));
  g_assert_cmpint (pick.placed, ==, 1);
  assert_near (pick.table.z, 260, 1e-6);
  at = lw_viewport_project (&v, LW_SEEN_FROM_FRONT, lw_vec3 (3100, 0, 150));
  g_assert_true (lw_pick_facet (&f->scene, &v, LW_SEEN_FROM_FRONT, at.x, at.y, &pick));
  assert_near (pick.table.y, 100, 1e-6);
  at = lw_viewport_project (&v, LW_SEEN_FROM_ABOVE, lw_vec3 (100, 100, 0));
  g_assert_false (lw_pick_facet (&f->scene, &v, LW_SEEN_FROM_ABOVE, at.x, at.y, &pick));
}

/* ------------------------------------------------------------------------------------------------
 * Snapping */

static void
test_bolts_come_to_holes (Fixture *f, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  const LwPlaced *placed = &f->job->setups[0].placed[1];
  LwVec3 bolt = f->job->parts[1].bolts[0].at;

  for (int n = 0; n < CASES; n++) {
    LwVec3 at = lw_vec3 (uniform (rand, 500, 3000), uniform (rand, 300, 1500), 60);
    LwSnap snap = lw_snap_part (&f->scene, placed, at, LW_SEEN_FROM_ABOVE, false);
    LwVec3 p = lw_vec3_add (lw_mat3_apply (placed->turn, bolt), snap.at);

    g_assert_true (snap.on_holes);
    assert_near (remainder (p.x, 50), 0, 1e-9);
    assert_near (remainder (p.y, 50), 0, 1e-9);
    g_assert_cmpfloat (fabs (snap.at.x - at.x), <=, 25 + 1e-9);
    g_assert_cmpfloat (fabs (snap.at.y - at.y), <=, 25 + 1e-9);
    assert_near (snap.at.z, 60, 0);
  }
}

static void
test_parts_without_bolts_come_to_steps (Fixture *f, gconstpointer data)
{
  const LwPlaced *placed = &f->job->setups[0].placed[0];
  LwVec3 at = { 1700.37, 900, 320 };
  LwSnap snap = lw_snap_part (&f->scene, placed, at, LW_SEEN_FROM_ABOVE, false);

  g_assert_false (snap.on_holes);
  assert_near (snap.at.x, 1700, 1e-9);
  assert_near (snap.at.y, 900, 0);
  snap = lw_snap_part (&f->scene, placed, at, LW_SEEN_FROM_ABOVE, true);
  assert_near (snap.at.x, 1700.4, 1e-9);
}

static void
test_heights_come_to_risers (Fixture *f, gconstpointer data)
{
  static const double cases[][2] = { { -80, 0 }, { 20, 0 },    { 40, 60 },
                                     { 88, 60 }, { 100, 120 }, { 900, 120 } };
  const LwPlaced *placed = &f->job->setups[0].placed[1];

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    LwVec3 at = { placed->at.x, placed->at.y, cases[i][0] };
    LwSnap snap = lw_snap_part (&f->scene, placed, at, LW_SEEN_FROM_FRONT, false);

    g_assert_true (snap.on_risers);
    assert_near (snap.at.z, cases[i][1], 1e-9);
  }
}

/* ------------------------------------------------------------------------------------------------
 * Viewport and instruments */

static void
test_hit_testing_is_the_inverse (Fixture *f, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (8);
  LwViewport v = lw_viewport_fit (&f->scene, 745, 657);

  for (int n = 0; n < CASES; n++) {
    LwSeen seen = n % 2 ? LW_SEEN_FROM_ABOVE : LW_SEEN_FROM_FRONT;
    LwVec3 p = random_point (rand, 4000), back;
    LwPoint px = lw_viewport_project (&v, seen, p);

    back = lw_viewport_unproject (&v, seen, px.x, px.y, n % 2 ? p.z : p.y);
    assert_near3 (&back.x, &p.x, 1e-9);
    if (n % 10 == 0) {
      double x = uniform (rand, 0, 745), y = uniform (rand, 0, 650);
      LwSeen at = lw_viewport_get_seen (&v, y);
      LwVec3 before = lw_viewport_unproject (&v, at, x, y, 0), after;

      lw_viewport_zoom (&v, uniform (rand, 0.7, 1.4), x, y);
      lw_viewport_pan (&v, at, 3, 4);
      after = lw_viewport_unproject (&v, at, x + 3, y + 4, 0);
      assert_near3 (&after.x, &before.x, 1e-8);
    }
  }
}

static void
test_views_are_in_projection (Fixture *f, gconstpointer data)
{
  LwViewport v = lw_viewport_fit (&f->scene, 1000, 800);
  LwVec3 p = { 1234, 567, 89 };

  assert_near (lw_viewport_project (&v, LW_SEEN_FROM_ABOVE, p).x,
               lw_viewport_project (&v, LW_SEEN_FROM_FRONT, p).x, 0);
  g_assert_cmpfloat (v.plan.y1, ==, v.elevation.y0);
}

static void
test_everything_fits_the_picture (Fixture *f, gconstpointer data)
{
  static const double sizes[][2] = { { 745, 657 }, { 400, 900 }, { 1600, 500 }, { 320, 280 } };
  LwBox3 box = lw_scene_get_box (&f->scene);

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++) {
    LwViewport v = lw_viewport_fit (&f->scene, sizes[i][0], sizes[i][1]);
    LwRect plan = lw_viewport_project_box (&v, LW_SEEN_FROM_ABOVE, box);
    LwRect elevation = lw_viewport_project_box (&v, LW_SEEN_FROM_FRONT, box);

    g_assert_cmpfloat (plan.x0, >, 0);
    g_assert_cmpfloat (plan.x1, <, sizes[i][0]);
    g_assert_cmpfloat (plan.y0, >, v.plan.y0 + LW_TITLE_HEIGHT);
    g_assert_cmpfloat (plan.y1, <, v.plan.y1);
    g_assert_cmpfloat (elevation.y0, >, v.elevation.y0 + LW_TITLE_HEIGHT);
    g_assert_cmpfloat (elevation.y1, <, v.elevation.y1);
  }
}

static void
test_clipped_lines (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (9);
  LwRect r = { -3, -2, 5, 4 };

  for (int n = 0; n < CASES; n++) {
    LwPoint a = { uniform (rand, -9, 9), uniform (rand, -9, 9) }, a0 = a;
    LwPoint b = { uniform (rand, -9, 9), uniform (rand, -9, 9) }, b0 = b;
    bool some = lw_rect_clip_line (r, &a, &b), sampled = false;

    for (int i = 0; i <= 1000; i++) {
      double x = a0.x + (b0.x - a0.x) * i / 1000, y = a0.y + (b0.y - a0.y) * i / 1000;

      sampled |= x > r.x0 && x < r.x1 && y > r.y0 && y < r.y1;
    }
    g_assert_true (some || !sampled);
    if (!some)
      continue;
    g_assert_true (a.x >= r.x0 - 1e-9 && a.x <= r.x1 + 1e-9 && a.y >= r.y0 - 1e-9
                   && a.y <= r.y1 + 1e-9 && b.x >= r.x0 - 1e-9 && b.x <= r.x1 + 1e-9);
    assert_near (get_cross (a0, b0, a), 0, 1e-9);
  }
}

static void
test_tilt_scale_is_its_inverse (void)
{
  LwAxisFace face = { .low = lw_radians (-110), .high = lw_radians (110) };

  for (int i = -110; i <= 110; i++) {
    double x = lw_tilt_scale_get_x (&face, 420, lw_radians (i));

    assert_near (lw_degrees (lw_tilt_scale_get_value (&face, 420, x)), i, 1e-9);
  }
  assert_near (lw_tilt_scale_get_value (&face, 420, -500), face.low, 0);
  assert_near (lw_tilt_scale_get_value (&face, 420, 5000), face.high, 0);
}

/* The dial follows the hand round its rim, past 180° and up to the axis' ends. */
static void
test_dial_follows_the_hand (void)
{
  LwAxisFace face = { .low = lw_radians (-220), .high = lw_radians (220) };

  for (int i = 0; i <= 220; i += 5) {
    double a = lw_radians (i);

    face.value = lw_heading_dial_get_value (&face, 80, 80, 40 + 30 * cos (a), 40 - 30 * sin (a));
    assert_near (lw_degrees (face.value), i, 1e-6);
  }
  /* on to 230°: beyond the end, and −130° is the same direction */
  face.value = lw_heading_dial_get_value (&face, 80, 80, 40 + 30 * cos (lw_radians (230)),
                                          40 - 30 * sin (lw_radians (230)));
  assert_near (lw_degrees (face.value), -130, 1e-6);
  /* a head that does not turn round stops at its end */
  face = (LwAxisFace){ .low = lw_radians (-90), .high = lw_radians (90), .value = lw_radians (80) };
  face.value = lw_heading_dial_get_value (&face, 80, 80, 10, 39);
  assert_near (lw_degrees (face.value), 90, 1e-6);
}

#define ADD(name, func) g_test_add (name, Fixture, NULL, set_up, func, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drawn/path/simplified", test_simplified_path_stays_near);
  g_test_add_func ("/drawn/path/chained", test_lines_are_chained);
  g_test_add_func ("/drawn/path/hull", test_hull_holds_every_point);
  g_test_add_func ("/drawn/outline/turned", test_outline_of_turned_solids);
  g_test_add_func ("/drawn/outline/circle", test_outline_from_above_is_a_circle);
  g_test_add_func ("/drawn/outline/tool", test_tool_reaches_to_its_length);
  ADD ("/drawn/mesh/face", test_face_is_what_the_part_covers);
  ADD ("/drawn/mesh/rim", test_rim_of_a_patch);
  ADD ("/drawn/mesh/kept", test_outlines_are_kept);
  ADD ("/drawn/mesh/section", test_section_of_an_ellipsoid);
  ADD ("/drawn/pick", test_pick_is_the_nearest);
  ADD ("/drawn/snap/bolts", test_bolts_come_to_holes);
  ADD ("/drawn/snap/steps", test_parts_without_bolts_come_to_steps);
  ADD ("/drawn/snap/risers", test_heights_come_to_risers);
  ADD ("/drawn/viewport/inverse", test_hit_testing_is_the_inverse);
  ADD ("/drawn/viewport/projection", test_views_are_in_projection);
  ADD ("/drawn/viewport/fit", test_everything_fits_the_picture);
  g_test_add_func ("/drawn/viewport/clip", test_clipped_lines);
  g_test_add_func ("/drawn/strip/tilt", test_tilt_scale_is_its_inverse);
  g_test_add_func ("/drawn/strip/heading", test_dial_follows_the_hand);
  return g_test_run ();
}
