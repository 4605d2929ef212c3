/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "shape/outline.h"

#include <stdlib.h>

#include "base/parallel.h"
#include "near.h"
#include "shape/raster.h"
#include "shapes.h"

static double
length_of (const LwLines *lines)
{
  double sum = 0;

  for (uint32_t i = 0; i < lines->n_lines; i++) {
    const double *l = lines->points + 4 * (size_t)i;

    sum += hypot (l[2] - l[0], l[3] - l[1]);
  }
  return sum;
}

/* ------------------------------------------------------------------------------------------------
 * Outlines known beforehand. */

/* From above a block is its rectangle; turned by two angles it is a hexagon, and three of its
 * edges meet in the corner that is nearest. */
static void
test_block (void)
{
  g_autoptr (LwMesh) mesh = lw_mesh_new_block (lw_vec3 (100, 60, 40));
  LwMat3 turn = lw_mat3_multiply (lw_mat3_turn (lw_vec3 (1, 0, 0), lw_radians (-50)),
                                  lw_mat3_turn_z (lw_radians (30)));
  LwLines visible, hidden;
  double want = 0;

  lw_outline_compute (mesh, lw_mat3_identity (), lw_vec3 (7, 8, 9), lw_radians (20), &visible,
                      &hidden);
  g_assert_cmpuint (visible.n_lines, ==, 4);
  assert_near (length_of (&visible), 320, 1e-9);
  for (uint32_t i = 0; i < 8; i++) {
    double x = visible.points[2 * i], y = visible.points[2 * i + 1];

    g_assert_true ((x == 7 || x == 107) && (y == 8 || y == 68));
  }
  g_assert_cmpuint (hidden.n_lines, ==, 0);
  lw_lines_clear (&visible);
  lw_lines_clear (&hidden);

  lw_outline_compute (mesh, turn, lw_vec3 (0, 0, 0), lw_radians (20), &visible, &hidden);
  /* Of four parallel edges one is at the back. */
  want += 3 * 100 * hypot (turn.c0.x, turn.c0.y) + 3 * 60 * hypot (turn.c1.x, turn.c1.y)
          + 3 * 40 * hypot (turn.c2.x, turn.c2.y);
  assert_near (length_of (&visible), want, 1e-9);
  g_assert_cmpuint (hidden.n_lines, ==, 0);
  lw_lines_clear (&visible);
  lw_lines_clear (&hidden);
}

/* A ball's outline is a circle, whatever the direction. */
static void
test_ball (void)
{
  Shape shape = shape_ball (100, 60);
  g_autoptr (LwMesh) mesh = shape_to_mesh (&shape);
  LwLines visible;

  for (int i = 0; i < 6; i++) {
    LwMat3 turn = lw_mat3_turn (lw_vec3_unit (lw_vec3 (1, 2, i)), 0.4 * i);

    lw_outline_compute (mesh, turn, lw_vec3 (0, 0, 0), lw_radians (30), &visible, NULL);
    for (uint32_t k = 0; k < 2 * visible.n_lines; k++)
      assert_near (hypot (visible.points[2 * k], visible.points[2 * k + 1]), 100, 0.1);
    g_assert_cmpfloat (length_of (&visible), >, 2 * G_PI * 100 * 0.995);
    /* A silhouette over facets runs to and fro a little. */
    g_assert_cmpfloat (length_of (&visible), <, 2 * G_PI * 100 * 1.1);
    lw_lines_clear (&visible);
  }
  shape_clear (&shape);
}

/* One block over another: what lies under the upper one is hidden, to a few pixels. */
static void
test_hidden (void)
{
  Shape upper = shape_block (100, 100, 10), lower = shape_block (40, 200, 10);
  float *corners = g_new (float, 24 * 9);
  g_autoptr (LwMesh) mesh = NULL;
  LwLines visible, hidden;
  double pixel = 200.0 / LW_RASTER_PIXELS;

  for (int i = 0; i < 36; i++)
    upper.corners[3 * i + 2] += 50;
  for (int i = 0; i < 36; i++)
    lower.corners[3 * i] += 30;
  memcpy (corners, lower.corners, 12 * 9 * sizeof (float));
  memcpy (corners + 12 * 9, upper.corners, 12 * 9 * sizeof (float));
  mesh = lw_mesh_new (corners, 24, 1, NULL, 0);
  lw_outline_compute (mesh, lw_mat3_identity (), lw_vec3 (0, 0, 0), lw_radians (20), &visible,
                      &hidden);
  /* Hidden: the near end and 100 mm of both sides; the near end lies under the rim of the upper. */
  assert_near (length_of (&hidden) + length_of (&visible), 400 + 480, 1e-9);
  assert_near (length_of (&hidden), 200, 2 * 3 * pixel);
  for (uint32_t i = 0; i < 2 * hidden.n_lines; i++) {
    g_assert_true (hidden.points[2 * i] == 30 || hidden.points[2 * i] == 70);
    g_assert_cmpfloat (hidden.points[2 * i + 1], <, 100 + pixel);
  }
  lw_lines_clear (&visible);
  lw_lines_clear (&hidden);
  shape_clear (&upper);
  shape_clear (&lower);
}

/* ------------------------------------------------------------------------------------------------
 * Against brute force: every edge of the mesh, its facets found by comparing all with all, and rays
 * towards the viewer through all triangles. */

typedef struct {
  const LwMesh *mesh;
  LwVec3 *points;
  double pixel;
} Slow;

/* z of the triangle at x, y; −∞ beside it. */
static double
height_at (const Slow *slow, uint32_t triangle, double x, double y)
{
  const uint32_t *numbers = lw_mesh_get_triangles (slow->mesh) + 3 * (size_t)triangle;
  LwVec3 a = slow->points[numbers[0]], b = slow->points[numbers[1]], c = slow->points[numbers[2]];
  double area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
  double v = ((x - a.x) * (c.y - a.y) - (y - a.y) * (c.x - a.x)) / area;
  double w = ((b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x)) / area;

  if (!(fabs (area) > 1e-9) || v < 0 || w < 0 || v + w > 1)
    return -INFINITY;
  return a.z + v * (b.z - a.z) + w * (c.z - a.z);
}

/* 1: nothing lies in front of the place; −1: it and all around it is well covered; 0: hidden, but
 * so near the rim or the surface of what hides it that a coarse raster may show it. */
static int
judge_slowly (const Slow *slow, LwVec3 place)
{
  uint32_t n = lw_mesh_get_n_triangles (slow->mesh);
  int covered = 0;
  bool free = true;

  for (int i = 0; i < 25; i++) {
    int column = i % 5 - 2, row = i / 5 - 2;
    double x = place.x + column * 1.5 * slow->pixel;
    double y = place.y + row * 1.5 * slow->pixel, top = -INFINITY;

    for (uint32_t t = 0; t < n; t++)
      top = fmax (top, height_at (slow, t, x, y));
    covered += top > place.z + 4 * slow->pixel;
    free = free && (i != 12 || top < place.z + 0.01 * slow->pixel);
  }
  return free ? 1 : covered == 25 ? -1 : 0;
}

static double
distance_to_lines (const LwLines *lines, double x, double y)
{
  double least = INFINITY;

  for (uint32_t i = 0; i < lines->n_lines; i++) {
    const double *l = lines->points + 4 * (size_t)i;
    double dx = l[2] - l[0], dy = l[3] - l[1];
    double t = CLAMP (((x - l[0]) * dx + (y - l[1]) * dy) / (dx * dx + dy * dy), 0, 1);

    least = fmin (least, hypot (l[0] + t * dx - x, l[1] + t * dy - y));
  }
  return least;
}

/* Whether a half-edge is one to draw, by its own facet and the one found across. */
static bool
is_drawn_slowly (const Slow *slow, const LwVec3 *normals, uint32_t half_edge, double cosine)
{
  const uint32_t *triangles = lw_mesh_get_triangles (slow->mesh);
  uint32_t from = triangles[half_edge],
           to = triangles[half_edge % 3 == 2 ? half_edge - 2 : half_edge + 1];
  LwVec3 own = normals[half_edge / 3];

  for (uint32_t h = 0; h < 3 * lw_mesh_get_n_triangles (slow->mesh); h++) {
    LwVec3 other = normals[h / 3];

    if (triangles[h] != to || triangles[h % 3 == 2 ? h - 2 : h + 1] != from)
      continue;
    if ((own.z > 1e-6) != (other.z > 1e-6))
      return true;
    return own.z > 1e-6 && lw_vec3_dot (own, other) < cosine;
  }
  return true;
}

static void
check_outline (LwMesh *mesh, LwMat3 turn, double crease_rad, int counts[3])
{
  uint32_t n = lw_mesh_get_n_triangles (mesh), n_points = lw_mesh_get_n_points (mesh);
  g_autofree LwVec3 *points = g_new (LwVec3, n_points), *normals = g_new (LwVec3, n);
  Slow slow = { mesh, points, 0 };
  LwBox3 box = lw_box3_empty ();
  LwLines visible, hidden;
  double drawn = 0;

  for (uint32_t i = 0; i < n_points; i++) {
    points[i] = lw_mat3_apply (turn, lw_mesh_point_at (lw_mesh_get_points (mesh), 1, i));
    box = lw_box3_add (box, points[i]);
  }
  for (uint32_t i = 0; i < n; i++)
    normals[i] = lw_mat3_apply (turn, lw_mesh_get_normal (mesh, i, NULL));
  slow.pixel = fmax (lw_box3_size (box).x, lw_box3_size (box).y) / LW_RASTER_PIXELS;
  lw_outline_compute (mesh, turn, lw_vec3 (0, 0, 0), crease_rad, &visible, &hidden);
  for (uint32_t h = 0; h < 3 * n; h++) {
    LwVec3 a = points[lw_mesh_get_triangles (mesh)[h]];
    LwVec3 b = points[lw_mesh_get_triangles (mesh)[h % 3 == 2 ? h - 2 : h + 1]];

    if (lw_mesh_get_neighbors (mesh)[h] < h / 3
        || !is_drawn_slowly (&slow, normals, h, cos (crease_rad)))
      continue;
    drawn += hypot (b.x - a.x, b.y - a.y);
    for (int k = 0; k < 3; k++) {
      LwVec3 place = lw_vec3_add_scaled (a, lw_vec3_sub (b, a), (k + 0.37) / 3);
      int is = judge_slowly (&slow, place);

      counts[is + 1]++;
      if (is > 0)
        assert_near (distance_to_lines (&visible, place.x, place.y), 0, 1e-6);
      if (is < 0)
        assert_near (distance_to_lines (&hidden, place.x, place.y), 0, 1e-6);
    }
  }
  assert_near (length_of (&visible) + length_of (&hidden), drawn, 1e-6 * (1 + drawn));
  lw_lines_clear (&visible);
  lw_lines_clear (&hidden);
}

static void
test_against_brute_force (void)
{
  Shape shapes[] = { shape_ring (24, 14, 40), shape_block (300, 200, 100), shape_ball (200, 5) };
  int counts[3] = { 0 };

  for (gsize i = 0; i < G_N_ELEMENTS (shapes); i++) {
    g_autoptr (LwMesh) mesh = shape_to_mesh (&shapes[i]);
    g_autoptr (LwMesh) open = NULL;

    for (int k = 0; k < 4; k++)
      check_outline (mesh, lw_mat3_turn (lw_vec3_unit (lw_vec3 (2, 1, k)), 0.3 + 0.5 * k),
                     lw_radians (25), counts);
    shapes[i].n = 2 * shapes[i].n / 3;
    open = shape_to_mesh (&shapes[i]);
    for (int k = 0; k < 4; k++)
      check_outline (open, lw_mat3_turn (lw_vec3_unit (lw_vec3 (2, 1, k)), 0.3 + 0.9 * k),
                     lw_radians (25), counts);
    shape_clear (&shapes[i]);
  }
  g_test_message ("hidden %d, hardly hidden %d, visible %d", counts[0], counts[1], counts[2]);
  g_assert_cmpint (counts[0], >, 1000);
  g_assert_cmpint (counts[2], >, 1000);
  g_assert_cmpint (counts[1], <, (counts[0] + counts[2]) / 10);
}

static void
test_threads (void)
{
  Shape shape = shape_ring (200, 150, 30);
  g_autoptr (LwMesh) mesh = shape_to_mesh (&shape);
  LwMat3 turn = lw_mat3_turn (lw_vec3_unit (lw_vec3 (1, 1, 1)), 1);
  LwLines visible[2], hidden[2];

  for (int i = 0; i < 2; i++) {
    lw_parallel_set_threads (i == 0 ? 1 : 3);
    lw_outline_compute (mesh, turn, lw_vec3 (1, 2, 3), 0.4, &visible[i], &hidden[i]);
  }
  lw_parallel_set_threads (0);
  g_assert_cmpuint (hidden[0].n_lines, >, 100);
  g_assert_cmpmem (visible[0].points, 32 * (size_t)visible[0].n_lines, visible[1].points,
                   32 * (size_t)visible[1].n_lines);
  g_assert_cmpmem (hidden[0].points, 32 * (size_t)hidden[0].n_lines, hidden[1].points,
                   32 * (size_t)hidden[1].n_lines);
  for (int i = 0; i < 2; i++) {
    lw_lines_clear (&visible[i]);
    lw_lines_clear (&hidden[i]);
  }
  shape_clear (&shape);
}

static void
test_empty (void)
{
  g_autoptr (LwMesh) mesh = lw_mesh_new (NULL, 0, 1, NULL, 0);
  LwLines visible, hidden, cut;

  lw_outline_compute (mesh, lw_mat3_identity (), lw_vec3 (0, 0, 0), 1, &visible, &hidden);
  lw_section_compute (mesh, lw_mat3_identity (), lw_vec3 (0, 0, 0), lw_vec3 (0, 0, 1), 0,
                      lw_vec3 (1, 0, 0), lw_vec3 (0, 1, 0), &cut);
  g_assert_cmpuint (visible.n_lines + hidden.n_lines + cut.n_lines, ==, 0);
  lw_lines_clear (&visible);
  lw_lines_clear (&hidden);
  lw_lines_clear (&cut);
}

/* ------------------------------------------------------------------------------------------------
 * Sections. */

/* Signed area of closed chains (shoelace); counts the chains and asserts that each closes. */
static double
area_of (const LwLines *lines, uint32_t *n_loops)
{
  double twice = 0;
  uint32_t start = 0;

  *n_loops = 0;
  for (uint32_t i = 0; i < lines->n_lines; i++) {
    const double *l = lines->points + 4 * (size_t)i;

    twice += l[0] * l[3] - l[2] * l[1];
    if (i + 1 < lines->n_lines && l[2] == l[4] && l[3] == l[5])
      continue;
    g_assert_true (l[2] == lines->points[4 * (size_t)start]);
    g_assert_true (l[3] == lines->points[4 * (size_t)start + 1]);
    start = i + 1;
    (*n_loops)++;
  }
  return twice / 2;
}

/* A frame of the picture for a plane: right × up = normal. */
static double
section_area (LwMesh *mesh, LwMat3 place, LwVec3 at, LwVec3 normal, double d, uint32_t *n_loops)
{
  LwVec3 right = lw_vec3_unit (
      lw_vec3_cross (fabs (normal.z) < 0.9 ? lw_vec3 (0, 0, 1) : lw_vec3 (1, 0, 0), normal));
  LwLines lines;
  double area;

  lw_section_compute (mesh, place, at, normal, d, right, lw_vec3_cross (normal, right), &lines);
  area = area_of (&lines, n_loops);
  lw_lines_clear (&lines);
  return area;
}

/* π (r² − h²); the polyhedron is a little smaller. */
static void
test_section_of_ball (void)
{
  Shape shape = shape_ball (100, 80);
  g_autoptr (LwMesh) mesh = shape_to_mesh (&shape);
  g_autoptr (GRand) rand = g_rand_new_with_seed (8);
  uint32_t n_loops;

  for (int i = 0; i < 40; i++) {
    LwVec3 normal =
        lw_vec3_unit (lw_vec3 (g_rand_double_range (rand, -1, 1), g_rand_double_range (rand, -1, 1),
                               g_rand_double_range (rand, -1, 1)));
    LwVec3 at = lw_vec3 (10 * i, -5, 3);
    double h = g_rand_double_range (rand, -95, 95), want = G_PI * (100 * 100 - h * h);
    double area =
        section_area (mesh, lw_mat3_turn_z (i), at, normal, h + lw_vec3_dot (normal, at), &n_loops);

    g_assert_cmpuint (n_loops, ==, 1);
    g_assert_cmpfloat (area, <, want);
    g_assert_cmpfloat (area, >, want - 0.002 * G_PI * 100 * 100);
  }
  /* Through points: the equator is a row of them. */
  assert_near (
      section_area (mesh, lw_mat3_identity (), lw_vec3 (0, 0, 0), lw_vec3 (0, 0, 1), 0, &n_loops),
      G_PI * 100 * 100, 20);
  g_assert_cmpuint (n_loops, ==, 1);
  g_assert_true (section_area (mesh, lw_mat3_identity (), lw_vec3 (0, 0, 0), lw_vec3 (0, 0, 1),
                               100.001, &n_loops)
                 == 0);
  g_assert_cmpuint (n_loops, ==, 0);
  shape_clear (&shape);
}

/* Blocks have areas in closed form; faces in the plane count as above it. */
static void
test_section_of_block (void)
{
  g_autoptr (LwMesh) mesh = lw_mesh_new_block (lw_vec3 (100, 60, 40));
  LwMat3 as_is = lw_mat3_identity ();
  LwVec3 zero = lw_vec3 (0, 0, 0);
  uint32_t n_loops;

  assert_near (section_area (mesh, as_is, zero, lw_vec3 (0, 0, 1), 13, &n_loops), 6000, 1e-9);
  assert_near (section_area (mesh, as_is, zero, lw_vec3 (0, 1, 0), 13, &n_loops), 4000, 1e-9);
  assert_near (section_area (mesh, as_is, zero, lw_vec3 (1, 0, 0), 99, &n_loops), 2400, 1e-9);
  assert_near (section_area (mesh, as_is, zero, lw_vec3 (-1, 0, 0), -99, &n_loops), 2400, 1e-9);
  assert_near (section_area (mesh, as_is, zero, lw_vec3 (0, 0, 1), 40, &n_loops), 6000, 1e-9);
  assert_near (section_area (mesh, as_is, zero, lw_vec3 (0, 0, 1), 0, &n_loops), 0, 0);
  g_assert_cmpuint (n_loops, ==, 0);
  /* Through the vertical edges x = 0, y = 0 and x = 100, y = 60. */
  assert_near (section_area (mesh, as_is, zero, lw_vec3_unit (lw_vec3 (-60, 100, 0)), 0, &n_loops),
               hypot (100, 60) * 40, 1e-3);
  g_assert_cmpuint (n_loops, ==, 1);
}

/* A torus cut by a plane through its axis: two loops of π r² each; across it: a ring. */
static void
test_section_of_ring (void)
{
  Shape shape = shape_ring (240, 160, 0);
  g_autoptr (LwMesh) mesh = shape_to_mesh (&shape);
  LwMat3 as_is = lw_mat3_identity ();
  LwVec3 zero = lw_vec3 (0, 0, 0);
  uint32_t n_loops;
  double area = section_area (mesh, as_is, zero, lw_vec3 (0, 1, 0), 3, &n_loops);

  assert_near (area, 2 * G_PI * 300 * 300, 1500);
  g_assert_cmpuint (n_loops, ==, 2);
  area = section_area (mesh, as_is, zero, lw_vec3 (0, 0, 1), 100, &n_loops);
  /* Inner loops run clockwise and take away: π (R + w)² − π (R − w)² = 4 π R w. */
  assert_near (area, 4 * G_PI * 1000 * sqrt (300 * 300 - 100 * 100), 1500);
  g_assert_cmpuint (n_loops, ==, 2);
  shape_clear (&shape);
}

/* An open surface gives an open chain, from one end to the other. */
static void
test_section_of_open (void)
{
  Shape shape = shape_block (100, 60, 40);
  g_autoptr (LwMesh) mesh = NULL;
  LwLines lines;
  double length;

  /* The two triangles of the wall y = 0 are the fifth and sixth. */
  memmove (shape.corners + 4 * 9, shape.corners + 6 * 9, 6 * 9 * sizeof (float));
  shape.n = 10;
  mesh = shape_to_mesh (&shape);
  lw_section_compute (mesh, lw_mat3_identity (), lw_vec3 (0, 0, 0), lw_vec3 (0, 0, 1), 10,
                      lw_vec3 (1, 0, 0), lw_vec3 (0, 1, 0), &lines);
  length = length_of (&lines);
  assert_near (length, 100 + 60 + 60, 1e-9);
  for (uint32_t i = 0; i + 1 < lines.n_lines; i++) {
    g_assert_true (lines.points[4 * i + 2] == lines.points[4 * i + 4]);
    g_assert_true (lines.points[4 * i + 3] == lines.points[4 * i + 5]);
  }
  assert_near (lines.points[1], 0, 0);
  assert_near (lines.points[4 * lines.n_lines - 1], 0, 0);
  lw_lines_clear (&lines);
  shape_clear (&shape);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/outline/block", test_block);
  g_test_add_func ("/outline/ball", test_ball);
  g_test_add_func ("/outline/hidden", test_hidden);
  g_test_add_func ("/outline/against-brute-force", test_against_brute_force);
  g_test_add_func ("/outline/threads", test_threads);
  g_test_add_func ("/outline/empty", test_empty);
  g_test_add_func ("/section/ball", test_section_of_ball);
  g_test_add_func ("/section/block", test_section_of_block);
  g_test_add_func ("/section/ring", test_section_of_ring);
  g_test_add_func ("/section/open", test_section_of_open);
  return g_test_run ();
}
