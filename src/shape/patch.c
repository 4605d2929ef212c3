/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "shape/patch.h"

#include <string.h>

#include "base/tolerances.h"
#include "shape/tree.h"

static double
segment_distance_squared (LwVec3 a, LwVec3 b, LwVec3 point)
{
  LwVec3 along = lw_vec3_sub (b, a), to = lw_vec3_sub (point, a);
  double t = lw_vec3_dot (to, along) / lw_vec3_dot (along, along);
  LwVec3 rest = lw_vec3_add_scaled (to, along, -fmin (1, fmax (0, t)));

  return lw_vec3_dot (rest, rest);
}

/* The foot of the perpendicular lies in the triangle when it is on the inner side of all edges;
 * else one of them is nearest. */
double
lw_triangle_distance (const LwVec3 corners[3], LwVec3 point)
{
  LwVec3 n =
      lw_vec3_cross (lw_vec3_sub (corners[1], corners[0]), lw_vec3_sub (corners[2], corners[0]));
  bool inside = true;
  double least = INFINITY;

  for (int i = 0; i < 3; i++) {
    LwVec3 a = corners[i], b = corners[(i + 1) % 3];
    LwVec3 inwards = lw_vec3_cross (n, lw_vec3_sub (b, a));

    inside = inside && lw_vec3_dot (inwards, lw_vec3_sub (point, a)) >= 0;
    least = fmin (least, segment_distance_squared (a, b, point));
  }
  if (inside)
    return fabs (lw_vec3_dot (lw_vec3_unit (n), lw_vec3_sub (point, corners[0])));
  return sqrt (least);
}

typedef struct {
  const LwMesh *mesh;
  const LwTree *tree;
  LwVec3 point; /* mm */
  double least; /* mm */
  uint32_t triangle;
} Search;

/* Boxes are in file units; a positive unit keeps their order. */
static double
box_distance (const Search *search, const LwTreeNode *node, int slot)
{
  double unit = lw_mesh_get_unit_mm (search->mesh), sum = 0;

  for (int axis = 0; axis < 3; axis++) {
    double at = lw_vec3_get (search->point, axis);
    double beyond = fmax (node->low[axis][slot] * unit - at, at - node->high[axis][slot] * unit);

    sum += beyond > 0 ? beyond * beyond : 0;
  }
  return sqrt (sum);
}

static void
search_leaf (Search *search, const LwTreeNode *node, int slot)
{
  for (uint32_t i = node->child[slot]; i < node->child[slot] + node->count[slot]; i++) {
    uint32_t triangle = search->tree->order[i];
    LwVec3 corners[3];
    double distance;

    lw_mesh_get_corners (search->mesh, triangle, corners);
    distance = lw_triangle_distance (corners, search->point);
    if (distance < search->least || (distance == search->least && triangle < search->triangle)) {
      search->least = distance;
      search->triangle = triangle;
    }
  }
}

static void
search_node (Search *search, uint32_t number)
{
  const LwTreeNode *node = &search->tree->nodes[number];
  double distances[4];
  bool done[4] = { false };

  for (int i = 0; i < 4; i++)
    distances[i] = box_distance (search, node, i);
  for (int turn = 0; turn < 4; turn++) {
    int next = -1;

    for (int i = 0; i < 4; i++) {
      if (!done[i] && (next < 0 || distances[i] < distances[next]))
        next = i;
    }
    /* Equal is walked too: the lowest number wins. An absent child is infinitely far. */
    if (!(distances[next] <= search->least) || isinf (distances[next]))
      return;
    done[next] = true;
    if (node->count[next] > 0)
      search_leaf (search, node, next);
    else
      search_node (search, node->child[next]);
  }
}

uint32_t
lw_patch_nearest (LwMesh *mesh, LwVec3 point_mm, double *distance_mm)
{
  Search search = { mesh, lw_mesh_get_tree (mesh), point_mm, INFINITY, LW_NO_TRIANGLE };

  search_node (&search, 0);
  if (distance_mm)
    *distance_mm = search.least;
  return search.triangle;
}

bool
lw_patch_grow (LwMesh *mesh, LwVec3 seed_mm, double crease_rad, bool *in_patch)
{
  uint32_t n = lw_mesh_get_n_triangles (mesh), first = lw_patch_nearest (mesh, seed_mm, NULL);
  const uint32_t *neighbors = lw_mesh_get_neighbors (mesh);
  g_autofree uint32_t *stack = NULL;
  double least_cosine = cos (crease_rad) - LW_CREASE_SLACK;
  uint32_t n_stack = 0;

  memset (in_patch, 0, n * sizeof in_patch[0]);
  if (first == LW_NO_TRIANGLE)
    return false;
  stack = g_new (uint32_t, n);
  stack[n_stack++] = first;
  in_patch[first] = true;
  while (n_stack > 0) {
    uint32_t triangle = stack[--n_stack];
    LwVec3 normal = lw_mesh_get_normal (mesh, triangle, NULL);

    for (int i = 0; i < 3; i++) {
      uint32_t next = neighbors[3 * (size_t)triangle + i];

      if (next == LW_NO_TRIANGLE || in_patch[next]
          || !(lw_vec3_dot (normal, lw_mesh_get_normal (mesh, next, NULL)) >= least_cosine))
        continue;
      in_patch[next] = true;
      stack[n_stack++] = next;
    }
  }
  return true;
}
