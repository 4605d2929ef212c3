/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "shape/mesh.h"

/* A bounding-volume tree over a mesh, four children a node, laid out for many short walks from the
 * root: one node is two cache lines, its four boxes are tested in one go. Boxes are in file units,
 * the floats of the points themselves, so they are exact. */

#define LW_TREE_LEAF 4 /* triangles of a leaf, at most */

typedef struct {
  float low[3][4], high[3][4]; /* [axis][child]; +∞, −∞ for a child that is not there */
  uint32_t child[4]; /* count 0: a node's number; else the leaf's first triangle, tree order */
  uint32_t count[4]; /* triangles of a leaf */
} LwTreeNode;

G_STATIC_ASSERT (sizeof (LwTreeNode) == 128);

struct _LwTree {
  LwTreeNode
      *nodes; /* the root is nodes[0]; children come after their parent; cache-line aligned */
  uint32_t n_nodes;
  uint32_t *triangles; /* 3 point numbers a triangle, in tree order */
  uint32_t *order;     /* the mesh's triangle number of each, in tree order */
  uint32_t n_triangles;
  int depth; /* nodes on the longest way down; not above LW_TREE_MAX_DEPTH */
};

/* A walk keeps at most 3 × this + 1 children. */
#define LW_TREE_MAX_DEPTH 96

/* Of a mesh with at least one triangle; an empty mesh gives a root without children. The same for
 * every number of threads. lw_mesh_get_tree() keeps it. */
LwTree *lw_tree_new (const LwMesh *mesh);
void lw_tree_free (LwTree *tree);
