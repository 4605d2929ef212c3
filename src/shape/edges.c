/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "shape/edges.h"

#include <string.h>

#include "base/pages.h"
#include "base/parallel.h"
#include "shape/mesh.h"
#include "shape/weld.h"

/* Half-edges are gathered at the lower of their two points: the two sides of an edge meet in one
 * short list. Threads divide the points, each walks all triangles in order, so the lists come out
 * the same for every number of threads. */

#define MAX_SHARES 8

typedef struct {
  const uint32_t *triangles;
  uint32_t n_triangles, n_points, n_shares;
  uint32_t *starts;  /* n_points + 2: of point p at [p + 1] while filling, at [p] afterwards */
  uint32_t *entries; /* half-edges */
  uint32_t *neighbors;
  LwEdgeFacts *partial; /* one a chunk of points */
} Pairing;

static inline uint32_t
lower_point (const uint32_t corner[3], int i)
{
  uint32_t a = corner[i], b = corner[i == 2 ? 0 : i + 1];

  return MIN (a, b);
}

static void
count_share (size_t chunk, size_t begin, size_t end, void *data)
{
  Pairing *work = data;
  uint32_t low = (uint32_t)((uint64_t)work->n_points * begin / work->n_shares);
  uint32_t range = (uint32_t)((uint64_t)work->n_points * end / work->n_shares) - low;

  for (size_t t = 0; t < work->n_triangles; t++) {
    const uint32_t *corner = work->triangles + 3 * t;

    for (int i = 0; i < 3; i++) {
      uint32_t point = lower_point (corner, i);

      if (point - low < range)
        work->starts[point + 2]++;
    }
  }
}

static void
fill_share (size_t chunk, size_t begin, size_t end, void *data)
{
  Pairing *work = data;
  uint32_t low = (uint32_t)((uint64_t)work->n_points * begin / work->n_shares);
  uint32_t range = (uint32_t)((uint64_t)work->n_points * end / work->n_shares) - low;

  for (size_t t = 0; t < work->n_triangles; t++) {
    const uint32_t *corner = work->triangles + 3 * t;

    for (int i = 0; i < 3; i++) {
      uint32_t point = lower_point (corner, i);

      if (point - low < range)
        work->entries[work->starts[point + 1]++] = (uint32_t)(3 * t) + i;
    }
  }
}

/* ------------------------------------------------------------------------------------------------
 * Pairs within one list. A key holds the higher point, the way the half-edge runs, and itself. */

#define FEW 48

static int
compare_keys (const void *a, const void *b)
{
  uint64_t x = *(const uint64_t *)a, y = *(const uint64_t *)b;

  return x < y ? -1 : x > y;
}

static void
sort_keys (uint64_t *keys, uint32_t n)
{
  if (n > FEW) {
    qsort (keys, n, sizeof keys[0], compare_keys);
    return;
  }
  for (uint32_t i = 1; i < n; i++) {
    uint64_t key = keys[i];
    uint32_t j = i;

    for (; j > 0 && keys[j - 1] > key; j--)
      keys[j] = keys[j - 1];
    keys[j] = key;
  }
}

/* The half-edges [0, n) of one edge: upward ones first. */
static void
pair_edge (Pairing *work, const uint64_t *keys, uint32_t n, LwEdgeFacts *facts)
{
  uint32_t up = 0;

  if (n == 2 && !(keys[0] >> 32 & 1) && (keys[1] >> 32 & 1)) {
    work->neighbors[(uint32_t)keys[0]] = (uint32_t)keys[1] / 3;
    work->neighbors[(uint32_t)keys[1]] = (uint32_t)keys[0] / 3;
    return;
  }
  for (uint32_t i = 0; i < n; i++) {
    up += !(keys[i] >> 32 & 1);
    work->neighbors[(uint32_t)keys[i]] = LW_NO_TRIANGLE;
  }
  facts->open += up > n - up ? 2 * up - n : n - 2 * up;
  facts->many_sided += n > 2;
  facts->repeated |= n > 1; /* may be: looked into by lw_edges_mark_duplicates() */
}

static void
pair_list (Pairing *work, uint32_t point, uint64_t *keys, LwEdgeFacts *facts)
{
  const uint32_t *entries = work->entries + work->starts[point];
  uint32_t n = work->starts[point + 1] - work->starts[point];

  for (uint32_t i = 0; i < n; i++) {
    uint32_t from = work->triangles[entries[i]], to = work->triangles[lw_edge_end (entries[i])];
    uint64_t key = from < to ? (uint64_t)to << 1 : (uint64_t)from << 1 | 1;

    keys[i] = key << 32 | entries[i];
  }
  sort_keys (keys, n);
  for (uint32_t i = 0, j; i < n; i = j) {
    for (j = i + 1; j < n && keys[j] >> 33 == keys[i] >> 33; j++)
      ;
    pair_edge (work, keys + i, j - i, facts);
  }
}

static void
pair_chunk (size_t chunk, size_t begin, size_t end, void *data)
{
  Pairing *work = data;
  LwEdgeFacts facts = { 0 };
  uint64_t few[FEW];

  for (size_t point = begin; point < end; point++) {
    uint32_t n = work->starts[point + 1] - work->starts[point];
    uint64_t *keys = n > FEW ? g_new (uint64_t, n) : few;

    pair_list (work, (uint32_t)point, keys, &facts);
    if (keys != few)
      g_free (keys);
  }
  work->partial[chunk] = facts;
}

static void
find_twins_chunk (size_t chunk, size_t begin, size_t end, void *data)
{
  Pairing *work = data;

  for (size_t t = begin; t < end; t++) {
    const uint32_t *n = work->neighbors + 3 * t;

    /* Two edges in common are three points in common. */
    if (n[0] != LW_NO_TRIANGLE && n[0] == n[1])
      work->partial[chunk].repeated = true;
  }
}

static bool
pair_all (Pairing *work, LwEdgeFacts *facts, LwProgress *progress)
{
  size_t n_chunks = MAX (work->n_points, work->n_triangles) / LW_CHUNK + 1;
  bool done;

  work->partial = g_new0 (LwEdgeFacts, n_chunks);
  done = lw_parallel_for (work->n_points, LW_CHUNK, pair_chunk, work, NULL)
         && lw_parallel_for (work->n_triangles, LW_CHUNK, find_twins_chunk, work, progress);
  *facts = (LwEdgeFacts){ 0 };
  for (size_t i = 0; i < n_chunks; i++) {
    facts->open += work->partial[i].open;
    facts->many_sided += work->partial[i].many_sided;
    facts->repeated |= work->partial[i].repeated;
  }
  g_free (work->partial);
  return done;
}

bool
lw_edges_pair (const uint32_t *triangles, uint32_t n_triangles, uint32_t n_points,
               uint32_t *neighbors, LwEdgeFacts *facts, LwProgress *progress)
{
  size_t starts_size = ((size_t)n_points + 2) * sizeof (uint32_t);
  size_t entries_size = 3 * (size_t)n_triangles * sizeof (uint32_t);
  Pairing work = { .triangles = triangles,
                   .n_triangles = n_triangles,
                   .n_points = n_points,
                   .n_shares = 1,
                   .neighbors = neighbors };
  bool done;

  if (n_triangles > LW_CHUNK)
    work.n_shares = (uint32_t)MIN (lw_parallel_get_threads (), MAX_SHARES);
  work.starts = lw_pages_new (starts_size);
  work.entries = lw_pages_new (entries_size);
  lw_parallel_for (work.n_shares, 1, count_share, &work, NULL);
  for (uint32_t i = 0; i < n_points; i++)
    work.starts[i + 2] += work.starts[i + 1];
  done = !lw_progress_step (progress, n_triangles);
  lw_parallel_for (work.n_shares, 1, fill_share, &work, NULL);
  done = done && !lw_progress_step (progress, n_triangles) && pair_all (&work, facts, progress);
  lw_pages_free (work.starts, starts_size);
  lw_pages_free (work.entries, entries_size);
  return done;
}

/* ------------------------------------------------------------------------------------------------
 * Duplicates: rare, so looked for only where edges gave reason to. */

typedef struct {
  uint32_t low, middle, high, triangle;
} Sorted;

static Sorted
sort_points (const uint32_t p[3], uint32_t triangle)
{
  uint32_t low = MIN (p[0], MIN (p[1], p[2])), high = MAX (p[0], MAX (p[1], p[2]));

  return (Sorted){ low, p[0] ^ p[1] ^ p[2] ^ low ^ high, high, triangle };
}

static int
compare_sorted (const void *a, const void *b)
{
  const Sorted *x = a, *y = b;

  if (x->middle != y->middle)
    return x->middle < y->middle ? -1 : 1;
  if (x->high != y->high)
    return x->high < y->high ? -1 : 1;
  return x->triangle < y->triangle ? -1 : x->triangle > y->triangle;
}

static uint32_t
mark_list (Sorted *list, uint32_t n, uint8_t *why)
{
  uint32_t marked = 0;

  if (n > 1)
    qsort (list, n, sizeof list[0], compare_sorted);
  for (uint32_t i = 1; i < n; i++) {
    if (list[i].middle == list[i - 1].middle && list[i].high == list[i - 1].high) {
      why[list[i].triangle] = LW_LEFT_DUPLICATE;
      marked++;
    }
  }
  return marked;
}

uint32_t
lw_edges_mark_duplicates (const uint32_t *triangles, uint32_t n_triangles, uint32_t n_points,
                          uint8_t *why)
{
  size_t starts_size = ((size_t)n_points + 2) * sizeof (uint32_t);
  size_t list_size = (size_t)n_triangles * sizeof (Sorted);
  uint32_t *starts = lw_pages_new (starts_size), marked = 0;
  Sorted *list = lw_pages_new (list_size);

  for (uint32_t t = 0; t < n_triangles; t++)
    starts[sort_points (triangles + 3 * (size_t)t, t).low + 2]++;
  for (uint32_t i = 0; i < n_points; i++)
    starts[i + 2] += starts[i + 1];
  for (uint32_t t = 0; t < n_triangles; t++) {
    Sorted sorted = sort_points (triangles + 3 * (size_t)t, t);

    list[starts[sorted.low + 1]++] = sorted;
  }
  for (uint32_t i = 0; i < n_points; i++)
    marked += mark_list (list + starts[i], starts[i + 1] - starts[i], why);
  lw_pages_free (starts, starts_size);
  lw_pages_free (list, list_size);
  return marked;
}
