/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "shape/mesh.h"

#include <stdlib.h>

#include "base/parallel.h"
#include "near.h"
#include "shape/patch.h"
#include "shape/tree.h"
#include "shapes.h"

/* ------------------------------------------------------------------------------------------------
 * Facts. */

static void
test_block (void)
{
  g_autoptr (LwMesh) mesh = lw_mesh_new_block (lw_vec3 (100, 60, 40));
  const LwMeshFacts *facts = lw_mesh_get_facts (mesh);

  g_assert_cmpuint (lw_mesh_get_n_points (mesh), ==, 8);
  g_assert_cmpuint (lw_mesh_get_n_triangles (mesh), ==, 12);
  g_assert_true (facts->closed);
  g_assert_cmpuint (facts->open_edges, ==, 0);
  assert_near (facts->area, 24800, 1e-9);
  assert_near (facts->volume, 240000, 1e-9);
  assert_near (facts->box.low.x, 0, 0);
  assert_near (facts->box.high.x, 100, 0);
  assert_near (facts->box.high.y, 60, 0);
  assert_near (facts->box.high.z, 40, 0);
  for (uint32_t i = 0; i < 12; i++) {
    LwVec3 corners[3], n = lw_mesh_get_normal (mesh, i, NULL);

    lw_mesh_get_corners (mesh, i, corners);
    /* Outward: away from the middle. */
    g_assert_cmpfloat (lw_vec3_dot (n, lw_vec3_sub (corners[0], lw_vec3 (50, 30, 20))), >, 19);
  }
}

/* A polyhedron inscribed in a ball: as close to 4/3 π r³ and 4 π r² as chords come, from below. */
static void
test_ball (void)
{
  Shape shape = shape_ball (250, 64);
  g_autoptr (LwMesh) mesh = shape_to_mesh (&shape);
  const LwMeshFacts *facts = lw_mesh_get_facts (mesh);
  double volume = 4.0 / 3 * G_PI * 250 * 250 * 250, area = 4 * G_PI * 250 * 250;

  g_assert_true (facts->closed);
  g_assert_cmpuint (lw_mesh_get_n_points (mesh), ==, 4 * 64 * 64 + 2); /* Euler: V = F / 2 + 2 */
  g_assert_cmpfloat (facts->volume, <, volume);
  g_assert_cmpfloat (facts->volume, >, volume * 0.999);
  g_assert_cmpfloat (facts->area, <, area);
  g_assert_cmpfloat (facts->area, >, area * 0.999);
  shape_clear (&shape);
}

static void
test_unit (void)
{
  Shape shape = shape_block (2, 3, 4);
  g_autoptr (LwMesh) mesh = lw_mesh_new (g_steal_pointer (&shape.corners), 12, 25.4, NULL, 0);
  const LwMeshFacts *facts = lw_mesh_get_facts (mesh);

  assert_near (facts->volume, 24 * 25.4 * 25.4 * 25.4, 1e-6);
  assert_near (facts->area, 52 * 25.4 * 25.4, 1e-8);
  assert_near (facts->box.high.z, 4 * 25.4, 1e-12);
  g_assert_cmpfloat (lw_mesh_get_points (mesh)[3 * 7 + 2] <= 4, ==, true);
}

static void
turn_over (Shape *shape)
{
  for (uint32_t i = 0; i < shape->n; i++) {
    float *a = shape->corners + 9 * (size_t)i, *b = a + 3;

    for (int j = 0; j < 3; j++) {
      float value = a[j];

      a[j] = b[j];
      b[j] = value;
    }
  }
}

/* Inward is said of what is turned inside out, closed or with one side open, and of no flat sheet,
 * wherever the origin is. */
static void
test_inward (void)
{
  for (int turned = 0; turned < 2; turned++) {
    for (uint32_t n = 12; n >= 2; n -= 2) {
      Shape shape = shape_block (100, 60, 40);
      g_autoptr (LwMesh) mesh = NULL;

      if (turned)
        turn_over (&shape);
      for (uint32_t i = 0; i < 36; i++)
        shape.corners[3 * i + 2] -= 1000;
      shape.n = n; /* 10: one side is open; 2: the bottom alone */
      mesh = shape_to_mesh (&shape);
      g_assert_true (lw_mesh_get_facts (mesh)->closed == (n == 12));
      if (n >= 10 || n == 2)
        g_assert_true (lw_mesh_get_facts (mesh)->inward == (turned && n >= 10));
      shape_clear (&shape);
    }
  }
}

/* Far from the origin the volume still has its digits: it is summed about the mesh's own middle. */
static void
test_far_from_origin (void)
{
  Shape shape = shape_block (128, 64, 32);
  g_autoptr (LwMesh) mesh = NULL;

  for (uint32_t i = 0; i < 9 * shape.n; i++)
    shape.corners[i] += 1 << 20;
  mesh = shape_to_mesh (&shape);
  assert_near (lw_mesh_get_facts (mesh)->volume, 128.0 * 64 * 32, 1e-6);
  shape_clear (&shape);
}

static void
add (GArray *corners, const float triangle[9])
{
  g_array_append_vals (corners, triangle, 9);
}

static LwMesh *
mesh_of (GArray *corners)
{
  uint32_t n = corners->len / 9;

  return lw_mesh_new ((float *)(void *)g_array_free (corners, FALSE), n, 1, NULL, 0);
}

/* Each fault, put into a good block at places of its own, is counted and leaves the block as it
 * was. */
static void
test_left_out (void)
{
  Shape block = shape_block (100, 60, 40);
  GArray *corners = g_array_new (FALSE, FALSE, sizeof (float));
  static const float no_area[3][9] = { { 0, 0, 0, 100, 0, 0, 100, 0, 0 },
                                       { 5, 5, 5, 5, 5, 5, 5, 5, 5 },
                                       { 0, 0, 0, 50, 0, 0, 100, 0, 0 } };
  float flipped[9];
  g_autoptr (LwMesh) mesh = NULL;
  const LwMeshFacts *facts;

  for (uint32_t i = 0; i < 12; i++) {
    float bad[9];

    add (corners, block.corners + 9 * (size_t)i);
    memcpy (bad, block.corners + 9 * (size_t)i, sizeof bad);
    bad[i % 9] = i % 3 == 0 ? NAN : i % 3 == 1 ? INFINITY : -INFINITY;
    add (corners, bad);
    if (i % 4 == 0)
      add (corners, no_area[i / 4]);
    if (i % 6 == 5)
      add (corners, block.corners + 9 * (size_t)(i - 3));
  }
  memcpy (flipped, block.corners + 6, 3 * sizeof (float));
  memcpy (flipped + 3, block.corners + 3, 3 * sizeof (float));
  memcpy (flipped + 6, block.corners, 3 * sizeof (float));
  add (corners, flipped);
  mesh = mesh_of (corners);
  facts = lw_mesh_get_facts (mesh);
  g_assert_cmpuint (facts->read, ==, 12 + 12 + 3 + 2 + 1);
  g_assert_cmpuint (facts->not_finite, ==, 12);
  g_assert_cmpuint (facts->zero_area, ==, 3);
  g_assert_cmpuint (facts->duplicates, ==, 3);
  g_assert_cmpuint (lw_mesh_get_n_points (mesh), ==, 8);
  g_assert_cmpuint (lw_mesh_get_n_triangles (mesh), ==, 12);
  g_assert_true (facts->closed);
  assert_near (facts->volume, 240000, 1e-9);
  for (uint32_t i = 0; i < 12; i++) {
    for (int j = 0; j < 9; j++) {
      uint32_t point = lw_mesh_get_triangles (mesh)[3 * i + (uint32_t)j / 3];

      g_assert_true (lw_mesh_get_points (mesh)[3 * point + (uint32_t)j % 3]
                     == block.corners[9 * i + (uint32_t)j]);
    }
  }
  shape_clear (&block);
}

static void
test_nothing_left (void)
{
  float *corners = g_new0 (float, 9);
  g_autoptr (LwMesh) mesh = lw_mesh_new (corners, 1, 1, NULL, 0);
  g_autoptr (LwMesh) empty = lw_mesh_new (NULL, 0, 1, NULL, 0);

  g_assert_cmpuint (lw_mesh_get_n_triangles (mesh), ==, 0);
  g_assert_cmpuint (lw_mesh_get_facts (mesh)->zero_area, ==, 1);
  g_assert_false (lw_mesh_get_facts (mesh)->closed);
  g_assert_true (lw_box3_is_empty (lw_mesh_get_facts (mesh)->box));
  g_assert_cmpuint (lw_mesh_get_tree (mesh)->n_nodes, ==, 1);
  g_assert_cmpuint (lw_mesh_get_n_points (empty), ==, 0);
  g_assert_false (lw_mesh_get_facts (empty)->closed);
}

/* Minus zero is zero; the next float is another point. */
static void
test_equal_bits (void)
{
  float near = nextafterf (1, 2);
  float *corners = g_new (float, 18);
  const float given[18] = { 0, 0, 0, 1, 0, 0, 0, 1, 0, -0.0f, 0, -0.0f, 0, 1, -0.0f, near, 0, 0 };
  g_autoptr (LwMesh) mesh = NULL;

  memcpy (corners, given, sizeof given);
  mesh = lw_mesh_new (corners, 2, 1, NULL, 0);
  g_assert_cmpuint (lw_mesh_get_n_points (mesh), ==, 4);
  g_assert_cmpuint (lw_mesh_get_triangles (mesh)[3], ==, 0);
  g_assert_cmpuint (lw_mesh_get_triangles (mesh)[4], ==, 2);
  g_assert_cmpuint (lw_mesh_get_triangles (mesh)[5], ==, 3);
  g_assert_cmpuint (lw_mesh_get_facts (mesh)->open_edges, ==, 4);
  g_assert_false (lw_mesh_get_facts (mesh)->closed);
  g_assert_true (lw_mesh_get_facts (mesh)->volume == 0);
}

static void
test_pieces (void)
{
  Shape block = shape_block (1, 1, 1);
  float *corners = g_new0 (float, 9 * 5);
  LwMeshPiece *pieces = g_new (LwMeshPiece, 3);
  g_autoptr (LwMesh) mesh = NULL;

  /* As read: good, no area | good | good again (a duplicate), good. */
  memcpy (corners, block.corners, 9 * sizeof (float));
  memcpy (corners + 18, block.corners + 9, 9 * sizeof (float));
  memcpy (corners + 27, block.corners, 9 * sizeof (float));
  memcpy (corners + 36, block.corners + 18, 9 * sizeof (float));
  pieces[0] = (LwMeshPiece){ g_strdup ("a"), 0, 2 };
  pieces[1] = (LwMeshPiece){ g_strdup ("b"), 2, 1 };
  pieces[2] = (LwMeshPiece){ g_strdup ("c"), 3, 2 };
  mesh = lw_mesh_new (corners, 5, 1, pieces, 3);
  g_assert_cmpuint (lw_mesh_get_n_triangles (mesh), ==, 3);
  for (uint32_t i = 0; i < 3; i++) {
    g_assert_cmpuint (lw_mesh_get_piece (mesh, i)->first, ==, i);
    g_assert_cmpuint (lw_mesh_get_piece (mesh, i)->count, ==, 1);
  }
  g_assert_cmpstr (lw_mesh_get_piece (mesh, 2)->name, ==, "c");
  shape_clear (&block);
}

/* Two blocks that touch along one edge: four triangles there, yet the volume is that of both. */
static void
test_many_sided (void)
{
  Shape block = shape_block (1, 1, 1);
  GArray *corners = g_array_new (FALSE, FALSE, sizeof (float));
  g_autoptr (LwMesh) mesh = NULL;

  g_array_append_vals (corners, block.corners, 12 * 9);
  for (uint32_t i = 0; i < 36; i++) {
    block.corners[3 * i] += 1;
    block.corners[3 * i + 1] += 1;
  }
  g_array_append_vals (corners, block.corners, 12 * 9);
  mesh = mesh_of (corners);
  g_assert_cmpuint (lw_mesh_get_n_points (mesh), ==, 14);
  g_assert_cmpuint (lw_mesh_get_facts (mesh)->many_sided, ==, 1);
  g_assert_cmpuint (lw_mesh_get_facts (mesh)->duplicates, ==, 0);
  g_assert_true (lw_mesh_get_facts (mesh)->closed);
  assert_near (lw_mesh_get_facts (mesh)->volume, 2, 1e-12);
  shape_clear (&block);
}

/* A fan of many triangles about one point: long lists are sorted another way. */
static void
test_fan (void)
{
  enum { N = 1000 };
  float *corners = g_new0 (float, N * 9);
  g_autoptr (LwMesh) mesh = NULL;

  for (int i = 0; i < N; i++) {
    for (int j = 0; j < 2; j++) {
      double a = 2 * G_PI * ((i + j) % N) / N;

      corners[9 * i + 3 + 3 * j] = (float)cos (a);
      corners[9 * i + 4 + 3 * j] = (float)sin (a);
    }
  }
  mesh = lw_mesh_new (corners, N, 1, NULL, 0);
  g_assert_cmpuint (lw_mesh_get_facts (mesh)->open_edges, ==, N);
  for (uint32_t i = 0; i < N; i++) {
    g_assert_cmpuint (lw_mesh_get_neighbors (mesh)[3 * i], ==, (i + N - 1) % N);
    g_assert_cmpuint (lw_mesh_get_neighbors (mesh)[3 * i + 1], ==, LW_NO_TRIANGLE);
    g_assert_cmpuint (lw_mesh_get_neighbors (mesh)[3 * i + 2], ==, (i + 1) % N);
  }
}

/* ------------------------------------------------------------------------------------------------
 * Against slow references, on triangles thrown at random on a small grid, so that points, edges and
 * triangles coincide often. */

static Shape
random_shape (GRand *rand, uint32_t n, int grid)
{
  Shape shape = { g_new (float, 9 * (size_t)n), n };

  for (size_t i = 0; i < 9 * (size_t)n; i++)
    shape.corners[i] = (float)g_rand_int_range (rand, 0, grid);
  return shape;
}

static bool
same_three (const uint32_t *a, const uint32_t *b)
{
  int common = 0;

  for (int i = 0; i < 3; i++)
    common += a[i] == b[0] || a[i] == b[1] || a[i] == b[2];
  return common == 3;
}

static void
check_points (const LwMesh *mesh)
{
  const float *points = lw_mesh_get_points (mesh);
  const uint32_t *triangles = lw_mesh_get_triangles (mesh);
  uint32_t n = lw_mesh_get_n_points (mesh), next = 0;

  for (uint32_t i = 0; i < n; i++) {
    for (uint32_t j = 0; j < i; j++)
      g_assert_true (memcmp (points + 3 * i, points + 3 * j, 12) != 0);
  }
  for (uint32_t i = 0; i < 3 * lw_mesh_get_n_triangles (mesh); i++) {
    g_assert_cmpuint (triangles[i], <=, next); /* numbered by first appearance */
    next += triangles[i] == next;
  }
  g_assert_cmpuint (next, ==, n);
}

/* The half-edges from a to b, counted slowly; one of them in at. */
static uint32_t
count_edges (const LwMesh *mesh, uint32_t a, uint32_t b, uint32_t *at)
{
  const uint32_t *triangles = lw_mesh_get_triangles (mesh);
  uint32_t n = 0;

  for (uint32_t h = 0; h < 3 * lw_mesh_get_n_triangles (mesh); h++) {
    if (triangles[h] == a && triangles[h % 3 == 2 ? h - 2 : h + 1] == b) {
      *at = h / 3;
      n++;
    }
  }
  return n;
}

static void
check_edges (LwMesh *mesh)
{
  const uint32_t *triangles = lw_mesh_get_triangles (mesh);
  const uint32_t *neighbors = lw_mesh_get_neighbors (mesh);
  uint32_t open_twice = 0, open = 0;

  for (uint32_t h = 0; h < 3 * lw_mesh_get_n_triangles (mesh); h++) {
    uint32_t a = triangles[h], b = triangles[h % 3 == 2 ? h - 2 : h + 1], across = 0, itself = 0;
    uint32_t back = count_edges (mesh, b, a, &across), same = count_edges (mesh, a, b, &itself);
    bool paired = back == 1 && same == 1;

    g_assert_cmpuint (neighbors[h], ==, paired ? across : LW_NO_TRIANGLE);
    /* Each of the same half-edges sees the same excess: shared out among them. */
    if (same > back)
      open_twice += 720720 / same * (same - back);
  }
  open = open_twice / 720720;
  g_assert_cmpuint (lw_mesh_get_facts (mesh)->open_edges, ==, open);
}

static void
check_duplicates (const Shape *shape, const LwMesh *mesh)
{
  const uint32_t *triangles = lw_mesh_get_triangles (mesh);
  uint32_t n = lw_mesh_get_n_triangles (mesh);
  const LwMeshFacts *facts = lw_mesh_get_facts (mesh);

  for (uint32_t i = 0; i < n; i++) {
    for (uint32_t j = 0; j < i; j++)
      g_assert_false (same_three (triangles + 3 * i, triangles + 3 * j));
  }
  g_assert_cmpuint (n + facts->duplicates + facts->zero_area + facts->not_finite, ==, shape->n);
}

static void
test_against_slow (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);

  for (int round = 0; round < 60; round++) {
    Shape shape = random_shape (rand, 20 + 5 * (uint32_t)round, 3 + round % 4);
    g_autoptr (LwMesh) mesh = shape_to_mesh (&shape);

    check_points (mesh);
    check_edges (mesh);
    check_duplicates (&shape, mesh);
    shape_clear (&shape);
  }
}

/* ------------------------------------------------------------------------------------------------
 * The tree. */

typedef struct {
  const LwMesh *mesh;
  const LwTree *tree;
  uint8_t *seen_triangles, *seen_nodes;
  int depth;
} TreeCheck;

static void
check_inside (const LwTreeNode *node, int slot, const float *point)
{
  for (int axis = 0; axis < 3; axis++) {
    g_assert_cmpfloat (node->low[axis][slot], <=, point[axis]);
    g_assert_cmpfloat (node->high[axis][slot], >=, point[axis]);
  }
}

static void
check_leaf (TreeCheck *check, const LwTreeNode *node, int slot)
{
  g_assert_cmpuint (node->count[slot], <=, LW_TREE_LEAF);
  for (uint32_t i = node->child[slot]; i < node->child[slot] + node->count[slot]; i++) {
    uint32_t triangle = check->tree->order[i];

    g_assert_cmpuint (check->seen_triangles[triangle], ==, 0);
    check->seen_triangles[triangle] = 1;
    for (uint32_t j = 0; j < 3; j++) {
      uint32_t point = check->tree->triangles[3 * i + j];

      g_assert_cmpuint (point, ==, lw_mesh_get_triangles (check->mesh)[3 * triangle + j]);
      check_inside (node, slot, lw_mesh_get_points (check->mesh) + 3 * (size_t)point);
    }
  }
}

static void
check_node (TreeCheck *check, uint32_t number, int depth)
{
  const LwTreeNode *node = &check->tree->nodes[number];

  g_assert_cmpuint (number, <, check->tree->n_nodes);
  g_assert_cmpuint (check->seen_nodes[number], ==, 0);
  check->seen_nodes[number] = 1;
  check->depth = MAX (check->depth, depth);
  for (int i = 0; i < 4; i++) {
    if (!(node->low[0][i] <= node->high[0][i])) {
      g_assert_true (node->count[i] == 0 && node->low[0][i] == INFINITY);
    } else if (node->count[i] > 0) {
      check_leaf (check, node, i);
    } else {
      const LwTreeNode *child = &check->tree->nodes[node->child[i]];

      g_assert_cmpuint (node->child[i], >, number);
      check_node (check, node->child[i], depth + 1);
      for (int j = 0; j < 4; j++) {
        if (!(child->low[0][j] <= child->high[0][j]))
          continue;
        check_inside (node, i, (float[]){ child->low[0][j], child->low[1][j], child->low[2][j] });
        check_inside (node, i,
                      (float[]){ child->high[0][j], child->high[1][j], child->high[2][j] });
      }
    }
  }
}

static void
check_tree (LwMesh *mesh)
{
  const LwTree *tree = lw_mesh_get_tree (mesh);
  uint32_t n = lw_mesh_get_n_triangles (mesh);
  TreeCheck check = { mesh, tree, g_new0 (uint8_t, n + 1), g_new0 (uint8_t, tree->n_nodes), 0 };

  g_assert_true (lw_mesh_get_tree (mesh) == tree);
  check_node (&check, 0, 1);
  for (uint32_t i = 0; i < n; i++)
    g_assert_cmpuint (check.seen_triangles[i], ==, 1);
  for (uint32_t i = 0; i < tree->n_nodes; i++)
    g_assert_cmpuint (check.seen_nodes[i], ==, 1);
  g_assert_cmpint (check.depth, <=, tree->depth);
  g_assert_cmpint (tree->depth, <=, LW_TREE_MAX_DEPTH);
  g_free (check.seen_triangles);
  g_free (check.seen_nodes);
}

static void
test_tree (void)
{
  static const uint32_t sides[][2] = { { 3, 3 }, { 17, 5 }, { 100, 80 }, { 400, 300 } };

  for (gsize i = 0; i < G_N_ELEMENTS (sides); i++) {
    Shape shape = shape_ring (sides[i][0], sides[i][1], 20);
    g_autoptr (LwMesh) mesh = shape_to_mesh (&shape);

    check_tree (mesh);
    shape_clear (&shape);
  }
}

static void
test_tree_of_few (void)
{
  for (uint32_t n = 1; n <= 12; n++) {
    Shape block = shape_block (3, 2, 1);
    g_autoptr (LwMesh) mesh = NULL;

    block.n = n;
    mesh = shape_to_mesh (&block);
    check_tree (mesh);
    shape_clear (&block);
  }
}

/* Centers that halve their distance to a point 200 times over: halving by place would go as deep.
 * And many triangles with one center: halving by place finds no side to put them. */
static void
test_tree_of_hard_cases (void)
{
  float *corners = g_new0 (float, 9 * 600);
  g_autoptr (LwMesh) mesh = NULL;

  for (int i = 0; i < 600; i++) {
    float size = i < 200 ? ldexpf (1, i - 100) : 1 + (float)(i - 200) / 1024;

    corners[9 * i] = -size;
    corners[9 * i + 1] = corners[9 * i + 4] = -size;
    corners[9 * i + 3] = size;
    corners[9 * i + 7] = 2 * size;
    if (i < 200) {
      for (int j = 0; j < 9; j++)
        corners[9 * i + j] += 3 * size;
    }
  }
  mesh = lw_mesh_new (corners, 600, 1, NULL, 0);
  g_assert_cmpuint (lw_mesh_get_n_triangles (mesh), ==, 600);
  check_tree (mesh);
}

/* ------------------------------------------------------------------------------------------------
 * One thread or many. */

static void
assert_same_mesh (LwMesh *a, LwMesh *b)
{
  uint32_t n = lw_mesh_get_n_triangles (a);
  const LwTree *x = lw_mesh_get_tree (a), *y = lw_mesh_get_tree (b);

  g_assert_cmpuint (n, ==, lw_mesh_get_n_triangles (b));
  g_assert_cmpmem (lw_mesh_get_points (a), 12 * (size_t)lw_mesh_get_n_points (a),
                   lw_mesh_get_points (b), 12 * (size_t)lw_mesh_get_n_points (b));
  g_assert_cmpmem (lw_mesh_get_triangles (a), 12 * (size_t)n, lw_mesh_get_triangles (b),
                   12 * (size_t)n);
  g_assert_cmpmem (lw_mesh_get_neighbors (a), 12 * (size_t)n, lw_mesh_get_neighbors (b),
                   12 * (size_t)n);
  g_assert_true (lw_mesh_get_facts (a)->area == lw_mesh_get_facts (b)->area);
  g_assert_true (lw_mesh_get_facts (a)->volume == lw_mesh_get_facts (b)->volume);
  g_assert_cmpmem (x->nodes, x->n_nodes * sizeof (LwTreeNode), y->nodes,
                   y->n_nodes * sizeof (LwTreeNode));
  g_assert_cmpmem (x->order, 4 * (size_t)n, y->order, 4 * (size_t)n);
}

static void
test_threads (void)
{
  Shape shape = shape_ring (500, 301, 30);
  g_autoptr (LwMesh) first = NULL;

  memcpy (shape.corners + 9 * 70000, shape.corners, 36); /* a duplicate, and open edges with it */
  shape.corners[9 * 120000] = NAN;
  lw_parallel_set_threads (1);
  first = shape_to_mesh (&shape);
  lw_mesh_get_tree (first);
  for (int threads = 2; threads <= 5; threads++) {
    g_autoptr (LwMesh) mesh = NULL;

    lw_parallel_set_threads (threads);
    mesh = shape_to_mesh (&shape);
    assert_same_mesh (first, mesh);
  }
  lw_parallel_set_threads (0);
  shape_clear (&shape);
}

static void
test_cancel (void)
{
  Shape shape = shape_ring (200, 100, 0);
  LwCorners corners = { (const char *)shape.corners, 36, shape.n };
  LwProgress progress = { 0 };

  lw_progress_start (&progress, 8 * (long long)shape.n);
  lw_progress_cancel (&progress);
  g_assert_null (lw_mesh_new_from_corners (corners, 1, NULL, 0, &progress));
  shape_clear (&shape);
}

static void
test_progress (void)
{
  Shape shape = shape_ring (200, 100, 0);
  LwCorners corners = { (const char *)shape.corners, 36, shape.n };
  LwProgress progress = { 0 };
  g_autoptr (LwMesh) mesh = NULL;

  lw_progress_start (&progress, 8 * (long long)shape.n);
  mesh = lw_mesh_new_from_corners (corners, 1, NULL, 0, &progress);
  g_assert_nonnull (mesh);
  assert_near (lw_progress_get_share (&progress), 1, 0);
  shape_clear (&shape);
}

/* ------------------------------------------------------------------------------------------------
 * Patches. */

static uint32_t
count_patch (LwMesh *mesh, LwVec3 seed, double crease_rad, bool *in_patch)
{
  uint32_t n = 0;

  g_assert_true (lw_patch_grow (mesh, seed, crease_rad, in_patch));
  for (uint32_t i = 0; i < lw_mesh_get_n_triangles (mesh); i++)
    n += in_patch[i];
  return n;
}

static void
test_patch (void)
{
  g_autoptr (LwMesh) block = lw_mesh_new_block (lw_vec3 (100, 60, 40));
  Shape shape = shape_ball (100, 20);
  g_autoptr (LwMesh) ball = shape_to_mesh (&shape);
  bool in_patch[8 * 20 * 20];

  g_assert_cmpuint (count_patch (block, lw_vec3 (50, 20, 47), lw_radians (30), in_patch), ==, 2);
  for (uint32_t i = 0; i < 12; i++)
    g_assert_true (in_patch[i] == (lw_mesh_get_normal (block, i, NULL).z > 0.9));
  g_assert_cmpuint (count_patch (block, lw_vec3 (-3, 20, 20), lw_radians (89), in_patch), ==, 2);
  g_assert_cmpuint (count_patch (block, lw_vec3 (-3, 20, 20), lw_radians (91), in_patch), ==, 12);
  /* Neighboring facets of this ball differ by some 5°. */
  g_assert_cmpuint (count_patch (ball, lw_vec3 (0, 0, 200), lw_radians (20), in_patch), ==,
                    8 * 20 * 20);
  shape_clear (&shape);
}

/* The nearest triangle found by the tree against all of them. */
static void
test_nearest (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  Shape shape = shape_ring (60, 40, 60);
  g_autoptr (LwMesh) mesh = shape_to_mesh (&shape);

  for (int i = 0; i < 300; i++) {
    LwVec3 p =
        lw_vec3 (g_rand_double_range (rand, -1500, 1500), g_rand_double_range (rand, -1500, 1500),
                 g_rand_double_range (rand, -500, 500));
    LwVec3 nearest[3];
    double least = INFINITY, distance;
    uint32_t found = lw_patch_nearest (mesh, p, &distance);

    for (uint32_t t = 0; t < shape.n; t++) {
      LwVec3 corners[3];

      lw_mesh_get_corners (mesh, t, corners);
      least = fmin (least, lw_triangle_distance (corners, p));
    }
    g_assert_cmpuint (found, <, shape.n);
    assert_near (distance, least, 0);
    lw_mesh_get_corners (mesh, found, nearest);
    assert_near (lw_triangle_distance (nearest, p), least, 0);
  }
  shape_clear (&shape);
}

/* Distance to a triangle against points strewn over it: never above the nearest of them, and not
 * below by more than their spacing. */
static void
test_triangle_distance (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (6);

  for (int round = 0; round < 200; round++) {
    LwVec3 c[4];
    double least = INFINITY, distance;

    for (int i = 0; i < 4; i++)
      c[i] = lw_vec3 (g_rand_double_range (rand, -1, 1), g_rand_double_range (rand, -1, 1),
                      g_rand_double_range (rand, -1, 1));
    distance = lw_triangle_distance (c, c[3]);
    for (int i = 0; i <= 100; i++) {
      for (int j = 0; j <= 100 - i; j++) {
        LwVec3 p = lw_vec3_scale (c[0], (100 - i - j) / 100.0);

        p = lw_vec3_add_scaled (lw_vec3_add_scaled (p, c[1], i / 100.0), c[2], j / 100.0);
        least = fmin (least, lw_vec3_length (lw_vec3_sub (p, c[3])));
      }
    }
    g_assert_cmpfloat (distance, <=, least + 1e-12);
    g_assert_cmpfloat (distance, >=, least - 0.035);
  }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/mesh/block", test_block);
  g_test_add_func ("/mesh/ball", test_ball);
  g_test_add_func ("/mesh/unit", test_unit);
  g_test_add_func ("/mesh/inward", test_inward);
  g_test_add_func ("/mesh/far-from-origin", test_far_from_origin);
  g_test_add_func ("/mesh/left-out", test_left_out);
  g_test_add_func ("/mesh/nothing-left", test_nothing_left);
  g_test_add_func ("/mesh/equal-bits", test_equal_bits);
  g_test_add_func ("/mesh/pieces", test_pieces);
  g_test_add_func ("/mesh/many-sided", test_many_sided);
  g_test_add_func ("/mesh/fan", test_fan);
  g_test_add_func ("/mesh/against-slow", test_against_slow);
  g_test_add_func ("/mesh/tree", test_tree);
  g_test_add_func ("/mesh/tree-of-few", test_tree_of_few);
  g_test_add_func ("/mesh/tree-of-hard-cases", test_tree_of_hard_cases);
  g_test_add_func ("/mesh/threads", test_threads);
  g_test_add_func ("/mesh/cancel", test_cancel);
  g_test_add_func ("/mesh/progress", test_progress);
  g_test_add_func ("/mesh/patch", test_patch);
  g_test_add_func ("/mesh/nearest", test_nearest);
  g_test_add_func ("/mesh/triangle-distance", test_triangle_distance);
  return g_test_run ();
}
