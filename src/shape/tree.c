/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "shape/tree.h"

#include <string.h>
#ifdef __SSE__
#include <xmmintrin.h>
#endif

#include "base/pages.h"
#include "base/parallel.h"

/* Splits a range of triangles at the middle of the box of their centers, on its longest side:
 * cheap, and about as good as costlier rules for the even triangles of a tessellated part. The top
 * is split breadth first until there is enough to share out; a task then makes a subtree of its
 * own. Which ranges are tasks depends on the triangles alone, so the tree does too. */

#define TASK_MIN      32768 /* triangles; below this a range is one task */
#define TOP_LEVELS    3     /* at most 4³ = 64 tasks */
#define MIDDLE_LEVELS 64    /* halvings by place; then by count, so that depth has a bound */
#define BITS          32    /* halvings by count, at most */

G_STATIC_ASSERT (MIDDLE_LEVELS + BITS <= LW_TREE_MAX_DEPTH);

typedef float Float4 __attribute__ ((vector_size (16)));

typedef struct {
  Float4 low, high; /* the fourth is not used */
} Box4;

/* A triangle while the tree is built: its center, and its number in the fourth place. */
typedef union {
  Float4 at;
  struct {
    float center[3];
    uint32_t triangle;
  };
} Item;

typedef struct {
  size_t begin, end;
  int level; /* halvings above it */
} Range;

typedef struct {
  LwTreeNode *nodes;
  uint32_t n, room;
  int depth;
} Nodes;

typedef struct {
  Range range;
  uint32_t parent; /* of the top; where the subtree's root goes */
  int slot;
  Nodes nodes;
  Box4 box;
} Task;

typedef struct {
  const float *points;
  const uint32_t *triangles;
  uint32_t n_triangles;
  Item *items;
  LwTree *tree;
  Range *ranges; /* of the top's level that is split */
  Range (*children)[4];
  int *n_children;
  Task *tasks;
} Build;

static Box4
box_empty (void)
{
  Float4 most = { INFINITY, INFINITY, INFINITY, INFINITY };

  return (Box4){ most, -most };
}

/* The fourth place may hold bits that are no number; it matters to nobody. */
static inline Box4
box_add (Box4 box, Float4 at)
{
#ifdef __SSE__
  return (Box4){ (Float4)_mm_min_ps ((__m128)at, (__m128)box.low),
                 (Float4)_mm_max_ps ((__m128)at, (__m128)box.high) };
#else
  for (int i = 0; i < 3; i++) {
    box.low[i] = at[i] < box.low[i] ? at[i] : box.low[i];
    box.high[i] = at[i] > box.high[i] ? at[i] : box.high[i];
  }
  return box;
#endif
}

static inline Box4
box_unite (Box4 a, Box4 b)
{
  return box_add (box_add (a, b.low), b.high);
}

static inline Float4
point_at (const Build *build, uint32_t point)
{
  const float *p = build->points + 3 * (size_t)point;

  return (Float4){ p[0], p[1], p[2], 0 };
}

static void
make_items_chunk (size_t chunk, size_t begin, size_t end, void *data)
{
  Build *build = data;

  for (size_t i = begin; i < end; i++) {
    const uint32_t *numbers = build->triangles + 3 * i;
    Float4 third = { 1 / 3.0f, 1 / 3.0f, 1 / 3.0f, 0 };
    Item item;

    /* Scaled first: three large floats could add up to infinity. */
    item.at = point_at (build, numbers[0]) * third + point_at (build, numbers[1]) * third
              + point_at (build, numbers[2]) * third;
    item.triangle = (uint32_t)i;
    build->items[i] = item;
  }
}

/* ------------------------------------------------------------------------------------------------
 * Splitting. */

/* Orders the range so that what is below the middle comes first; answers where the rest begins. */
static size_t
partition (Item *items, const Range *range, int axis, float middle)
{
  size_t next = range->begin;

  /* Without branches: which side comes next can't be foretold. */
  for (size_t i = range->begin; i < range->end; i++) {
    Item item = items[i];

    items[i] = items[next];
    items[next] = item;
    next += item.center[axis] < middle;
  }
  return next;
}

static void
halve (Item *items, Range *range, Range *rest)
{
  Box4 box = box_empty ();
  size_t at = range->begin;
  int axis = 0;

  for (size_t i = range->begin; i < range->end; i++)
    box = box_add (box, items[i].at);
  for (int i = 1; i < 3; i++) {
    if (box.high[i] - box.low[i] > box.high[axis] - box.low[axis])
      axis = i;
  }
  if (range->level < MIDDLE_LEVELS)
    at = partition (items, range, axis, box.low[axis] / 2 + box.high[axis] / 2);
  if (at == range->begin || at == range->end)
    at = range->begin + (range->end - range->begin) / 2;
  *rest = (Range){ at, range->end, range->level + 1 };
  *range = (Range){ range->begin, at, range->level + 1 };
}

/* Up to four ranges, by halving the largest that is no leaf yet. */
static int
split (Item *items, const Range *range, Range children[4])
{
  int n = 1;

  children[0] = *range;
  while (n < 4) {
    int largest = 0;

    for (int i = 1; i < n; i++) {
      if (children[i].end - children[i].begin > children[largest].end - children[largest].begin)
        largest = i;
    }
    if (children[largest].end - children[largest].begin <= LW_TREE_LEAF)
      break;
    halve (items, &children[largest], &children[n]);
    n++;
  }
  return n;
}

/* ------------------------------------------------------------------------------------------------
 * Subtrees. */

static uint32_t
add_node (Nodes *nodes)
{
  LwTreeNode *node;

  if (nodes->n == nodes->room) {
    nodes->room = nodes->room ? 2 * nodes->room : 64;
    nodes->nodes = g_renew (LwTreeNode, nodes->nodes, nodes->room);
  }
  node = &nodes->nodes[nodes->n];
  memset (node, 0, sizeof *node);
  for (int axis = 0; axis < 3; axis++) {
    for (int i = 0; i < 4; i++) {
      node->low[axis][i] = INFINITY;
      node->high[axis][i] = -INFINITY;
    }
  }
  return nodes->n++;
}

static void
set_child (LwTreeNode *node, int slot, Box4 box, uint32_t child, uint32_t count)
{
  for (int axis = 0; axis < 3; axis++) {
    node->low[axis][slot] = box.low[axis];
    node->high[axis][slot] = box.high[axis];
  }
  node->child[slot] = child;
  node->count[slot] = count;
}

/* Puts the leaf's triangles where they stay; answers their box. */
static Box4
fill_leaf (Build *build, const Range *range)
{
  LwTree *tree = build->tree;
  Box4 box = box_empty ();

  for (size_t i = range->begin; i < range->end; i++) {
    uint32_t triangle = build->items[i].triangle;
    const uint32_t *numbers = build->triangles + 3 * (size_t)triangle;

    tree->order[i] = triangle;
    memcpy (tree->triangles + 3 * i, numbers, 3 * sizeof numbers[0]);
    for (int j = 0; j < 3; j++)
      box = box_add (box, point_at (build, numbers[j]));
  }
  return box;
}

static Box4
build_node (Build *build, Nodes *nodes, const Range *range, int depth, uint32_t *number)
{
  Range children[4];
  int n = split (build->items, range, children);
  Box4 all = box_empty ();

  *number = add_node (nodes);
  nodes->depth = MAX (nodes->depth, depth);
  for (int i = 0; i < n; i++) {
    size_t count = children[i].end - children[i].begin;
    uint32_t child = (uint32_t)children[i].begin;
    Box4 box;

    if (count <= LW_TREE_LEAF) {
      box = fill_leaf (build, &children[i]);
    } else {
      box = build_node (build, nodes, &children[i], depth + 1, &child);
      count = 0;
    }
    set_child (&nodes->nodes[*number], i, box, child, (uint32_t)count);
    all = box_unite (all, box);
  }
  return all;
}

static void
build_task (size_t chunk, size_t begin, size_t end, void *data)
{
  Build *build = data;

  for (size_t i = begin; i < end; i++) {
    Task *task = &build->tasks[i];
    uint32_t root;

    if (task->range.end - task->range.begin <= LW_TREE_LEAF)
      task->box = fill_leaf (build, &task->range);
    else
      task->box = build_node (build, &task->nodes, &task->range, 1, &root);
  }
}

/* ------------------------------------------------------------------------------------------------
 * The top. */

static void
split_chunk (size_t chunk, size_t begin, size_t end, void *data)
{
  Build *build = data;

  for (size_t i = begin; i < end; i++)
    build->n_children[i] = split (build->items, &build->ranges[i], build->children[i]);
}

/* Splits the top level by level; what is small enough, and what is left below, becomes a task. */
static GArray *
build_top (Build *build, const Range *all, Nodes *top)
{
  GArray *tasks = g_array_new (FALSE, TRUE, sizeof (Task));
  g_autoptr (GArray) ranges = g_array_new (FALSE, FALSE, sizeof (Range));

  g_array_append_val (ranges, *all);
  add_node (top);
  for (int level = 0; ranges->len > 0; level++) {
    uint32_t n = ranges->len, first = top->n - n;
    g_autofree Range *splitting = g_memdup2 (ranges->data, n * sizeof (Range));
    g_autofree int *n_children = g_new (int, n);
    Range (*children)[4] = g_malloc (n * sizeof *children);

    build->ranges = splitting;
    build->children = children;
    build->n_children = n_children;
    lw_parallel_for (n, 1, split_chunk, build, NULL);
    g_array_set_size (ranges, 0);
    for (uint32_t i = 0; i < n; i++) {
      for (int j = 0; j < n_children[i]; j++) {
        Range *range = &children[i][j];

        if (level + 1 < TOP_LEVELS && range->end - range->begin > TASK_MIN) {
          top->nodes[first + i].child[j] = add_node (top);
          g_array_append_val (ranges, *range);
        } else {
          Task task = { .range = *range, .parent = first + i, .slot = j };

          g_array_append_val (tasks, task);
        }
      }
    }
    g_free (children);
  }
  return tasks;
}

/* Subtrees follow the top in the order of their tasks. */
static void
join (Build *build, Nodes *top, GArray *tasks)
{
  LwTree *tree = build->tree;
  uint32_t at = top->n;

  tree->n_nodes = top->n;
  for (guint i = 0; i < tasks->len; i++)
    tree->n_nodes += build->tasks[i].nodes.n;
  tree->nodes = lw_pages_new (tree->n_nodes * sizeof (LwTreeNode));
  for (guint i = 0; i < tasks->len; i++) {
    Task *task = &build->tasks[i];
    size_t count = task->range.end - task->range.begin;
    bool is_leaf = task->nodes.n == 0;

    for (uint32_t j = 0; j < task->nodes.n; j++) {
      LwTreeNode *node = &tree->nodes[at + j];

      *node = task->nodes.nodes[j];
      for (int k = 0; k < 4; k++)
        node->child[k] += node->count[k] == 0 && node->low[0][k] <= node->high[0][k] ? at : 0;
    }
    set_child (&top->nodes[task->parent], task->slot, task->box,
               is_leaf ? (uint32_t)task->range.begin : at, is_leaf ? (uint32_t)count : 0);
    at += task->nodes.n;
    tree->depth = MAX (tree->depth, TOP_LEVELS + task->nodes.depth);
    g_free (task->nodes.nodes);
  }
}

static Box4
box_of_node (const LwTreeNode *node)
{
  Box4 box = box_empty ();

  for (int i = 0; i < 4; i++) {
    Box4 child = { { node->low[0][i], node->low[1][i], node->low[2][i] },
                   { node->high[0][i], node->high[1][i], node->high[2][i] } };

    box = box_unite (box, child);
  }
  return box;
}

/* Boxes of the top from below: a node's children have higher numbers. */
static void
finish_top (LwTree *tree, Nodes *top)
{
  for (uint32_t i = top->n; i-- > 0;) {
    for (int j = 0; j < 4; j++) {
      uint32_t child = top->nodes[i].child[j];

      if (child > i && child < top->n && top->nodes[i].count[j] == 0)
        set_child (&top->nodes[i], j, box_of_node (&top->nodes[child]), child, 0);
    }
  }
  memcpy (tree->nodes, top->nodes, top->n * sizeof (LwTreeNode));
  g_free (top->nodes);
}

static void
build_tree (Build *build)
{
  LwTree *tree = build->tree;
  Range all = { 0, build->n_triangles, 0 };
  Nodes top = { 0 };
  GArray *tasks;

  build->items = lw_pages_new (build->n_triangles * sizeof (Item));
  lw_parallel_for (build->n_triangles, LW_CHUNK, make_items_chunk, build, NULL);
  tasks = build_top (build, &all, &top);
  build->tasks = (Task *)(void *)tasks->data;
  lw_parallel_for (tasks->len, 1, build_task, build, NULL);
  lw_pages_free (build->items, build->n_triangles * sizeof (Item));
  join (build, &top, tasks);
  finish_top (tree, &top);
  g_array_unref (tasks);
}

LwTree *
lw_tree_new (const LwMesh *mesh)
{
  LwTree *tree = g_new0 (LwTree, 1);
  uint32_t n = lw_mesh_get_n_triangles (mesh);
  Build build = { .points = lw_mesh_get_points (mesh),
                  .triangles = lw_mesh_get_triangles (mesh),
                  .n_triangles = n,
                  .tree = tree };

  tree->n_triangles = n;
  tree->triangles = lw_pages_new (3 * sizeof (uint32_t) * (size_t)n);
  tree->order = lw_pages_new (sizeof (uint32_t) * (size_t)n);
  build_tree (&build);
  return tree;
}

void
lw_tree_free (LwTree *tree)
{
  if (!tree)
    return;
  lw_pages_free (tree->nodes, tree->n_nodes * sizeof (LwTreeNode));
  lw_pages_free (tree->triangles, 3 * sizeof (uint32_t) * (size_t)tree->n_triangles);
  lw_pages_free (tree->order, sizeof (uint32_t) * (size_t)tree->n_triangles);
  g_free (tree);
}
