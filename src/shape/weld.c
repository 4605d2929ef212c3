/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "shape/weld.h"

#include <math.h>
#include <string.h>

#include "base/pages.h"
#include "base/parallel.h"
#include "base/tolerances.h"

#if G_BYTE_ORDER != G_LITTLE_ENDIAN
#error "corners are read as little-endian floats"
#endif

/* Corners looked up together, so that their table lines are on the way when they are needed. */
#define BLOCK 192

/* More threads than this would spend their time walking past the corners of others. */
#define MAX_SHARES 8

static inline void
load_triangle (LwCorners corners, size_t triangle, float out[9])
{
  memcpy (out, corners.first + triangle * corners.stride, 9 * sizeof (float));
}

/* ------------------------------------------------------------------------------------------------
 * What is left out. */

typedef struct {
  LwCorners corners;
  uint8_t *why;
  uint32_t *not_finite, *zero_area; /* one a chunk */
} Classify;

/* No area: the sine of the angle between two edges is within rounding of zero. Differences of
 * floats of like size are exact in double, so only true collinearity falls under it. */
static bool
has_no_area (const float p[9])
{
  double ax = (double)p[3] - p[0], ay = (double)p[4] - p[1], az = (double)p[5] - p[2];
  double bx = (double)p[6] - p[0], by = (double)p[7] - p[1], bz = (double)p[8] - p[2];
  double nx = ay * bz - az * by, ny = az * bx - ax * bz, nz = ax * by - ay * bx;
  double n2 = nx * nx + ny * ny + nz * nz;
  double a2 = ax * ax + ay * ay + az * az, b2 = bx * bx + by * by + bz * bz;

  return n2 <= LW_NO_AREA_SINE * LW_NO_AREA_SINE * a2 * b2;
}

static uint8_t
classify_triangle (const float p[9])
{
  float sum = 0;

  /* x - x is 0 for a finite number, NaN for the others. */
  for (int i = 0; i < 9; i++)
    sum += p[i] - p[i];
  if (!(sum == 0))
    return LW_LEFT_NOT_FINITE;
  return has_no_area (p) ? LW_LEFT_NO_AREA : LW_KEPT;
}

static void
classify_chunk (size_t chunk, size_t begin, size_t end, void *data)
{
  Classify *work = data;
  uint32_t not_finite = 0, zero_area = 0;
  float p[9];

  for (size_t i = begin; i < end; i++) {
    load_triangle (work->corners, i, p);
    work->why[i] = classify_triangle (p);
    not_finite += work->why[i] == LW_LEFT_NOT_FINITE;
    zero_area += work->why[i] == LW_LEFT_NO_AREA;
  }
  work->not_finite[chunk] = not_finite;
  work->zero_area[chunk] = zero_area;
}

static bool
classify (LwWeld *weld, LwCorners corners, LwProgress *progress)
{
  size_t n_chunks = ((size_t)corners.n + LW_CHUNK - 1) / LW_CHUNK;
  g_autofree uint32_t *not_finite = g_new0 (uint32_t, n_chunks + 1);
  g_autofree uint32_t *zero_area = g_new0 (uint32_t, n_chunks + 1);
  Classify work = { corners, weld->why, not_finite, zero_area };

  if (!lw_parallel_for (corners.n, LW_CHUNK, classify_chunk, &work, progress))
    return false;
  for (size_t i = 0; i < n_chunks; i++) {
    weld->not_finite += not_finite[i];
    weld->zero_area += zero_area[i];
  }
  return true;
}

/* ------------------------------------------------------------------------------------------------
 * Equal corners. Every corner gets the number of the first corner with the same bits. The work is
 * divided by hash: each thread walks all corners in order and looks up its own share in a table of
 * its own, so the answer does not depend on how many there are. */

typedef struct {
  uint32_t x, y, z;
  uint32_t first; /* corner + 1; 0: empty */
} Slot;

typedef struct {
  Slot *slots;
  size_t mask; /* slots - 1 */
  size_t used;
} Table;

typedef struct {
  LwCorners corners;
  const uint8_t *why;
  uint32_t *firsts; /* one a corner */
  uint32_t n_shares;
  LwProgress *progress;
  atomic_bool stopped;
} Lookup;

typedef struct {
  Slot key;
  uint64_t hash;
} Pending;

static inline uint64_t
hash_bits (uint32_t x, uint32_t y, uint32_t z)
{
  uint64_t h = (x | (uint64_t)y << 32) * 0x9E3779B97F4A7C15u;

  h = (h ^ (h >> 32) ^ z) * 0xD6E8FEB86659FD93u;
  h = (h ^ (h >> 32)) * 0xD6E8FEB86659FD93u;
  return h ^ (h >> 32);
}

static void
table_init (Table *table, size_t expected)
{
  size_t n_slots = 1024;

  while (n_slots < expected)
    n_slots *= 2;
  *table = (Table){ lw_pages_new (n_slots * sizeof (Slot)), n_slots - 1, 0 };
}

static void
table_clear (Table *table)
{
  lw_pages_free (table->slots, (table->mask + 1) * sizeof (Slot));
}

static void
table_grow (Table *table)
{
  Table bigger;

  table_init (&bigger, 2 * (table->mask + 1));
  for (size_t i = 0; i <= table->mask; i++) {
    const Slot *slot = &table->slots[i];
    size_t at;

    if (slot->first == 0)
      continue;
    at = hash_bits (slot->x, slot->y, slot->z) & bigger.mask;
    while (bigger.slots[at].first != 0)
      at = (at + 1) & bigger.mask;
    bigger.slots[at] = *slot;
  }
  bigger.used = table->used;
  table_clear (table);
  *table = bigger;
}

static inline uint32_t
table_find_or_add (Table *table, const Slot *key, uint64_t hash)
{
  size_t at = hash & table->mask;

  for (;;) {
    Slot *slot = &table->slots[at];

    if (slot->first == 0) {
      *slot = *key;
      table->used++;
      return key->first - 1;
    }
    if (slot->x == key->x && slot->y == key->y && slot->z == key->z)
      return slot->first - 1;
    at = (at + 1) & table->mask;
  }
}

/* The pending corners of one thread's share among the triangles [begin, end). */
static int
collect (const Lookup *work, Table *table, uint32_t share, size_t begin, size_t end,
         Pending pending[BLOCK])
{
  int n = 0;

  for (size_t i = begin; i < end; i++) {
    float p[9];

    if (work->why[i] != LW_KEPT)
      continue;
    load_triangle (work->corners, i, p);
    for (int j = 0; j < 9; j++)
      p[j] += 0.0f; /* −0 becomes 0 */
    for (int j = 0; j < 3; j++) {
      Pending *next = &pending[n];

      memcpy (&next->key, p + 3 * j, 3 * sizeof (float));
      next->key.first = (uint32_t)(3 * i) + j + 1;
      next->hash = hash_bits (next->key.x, next->key.y, next->key.z);
      if ((next->hash >> 32) * work->n_shares >> 32 == share) {
        __builtin_prefetch (&table->slots[next->hash & table->mask]);
        n++;
      }
    }
  }
  return n;
}

static void
lookup_share (size_t chunk, size_t begin, size_t end, void *data)
{
  Lookup *work = data;
  uint32_t share = (uint32_t)begin, n = work->corners.n;
  Pending pending[BLOCK];
  Table table;

  /* A closed mesh has half as many points as triangles. */
  table_init (&table, (size_t)(0.8 * n / work->n_shares));
  for (size_t i = 0; i < n; i += BLOCK / 3) {
    size_t stop = MIN (i + BLOCK / 3, n);
    int n_pending;

    if (10 * (table.used + BLOCK) > 7 * (table.mask + 1))
      table_grow (&table);
    n_pending = collect (work, &table, share, i, stop, pending);
    for (int j = 0; j < n_pending; j++)
      work->firsts[pending[j].key.first - 1] =
          table_find_or_add (&table, &pending[j].key, pending[j].hash);
    if (share == 0 && lw_progress_step (work->progress, (long long)(stop - i)))
      work->stopped = true;
    if (work->stopped)
      break;
  }
  table_clear (&table);
}

/* ------------------------------------------------------------------------------------------------
 * Numbers by first appearance: a bit for each corner that is the first of its point, the points of
 * each chunk counted, then the numbers. A chunk's bits fill whole words: no two share one. */

G_STATIC_ASSERT (3 * LW_CHUNK % 64 == 0);

typedef struct {
  LwCorners corners;
  LwWeld *weld;
  uint64_t *is_first;
  uint32_t *points_before; /* one a chunk */
} Number;

static inline bool
test_bit (const uint64_t *bits, size_t i)
{
  return bits[i >> 6] >> (i & 63) & 1;
}

static void
count_chunk (size_t chunk, size_t begin, size_t end, void *data)
{
  Number *work = data;
  uint32_t n = 0;

  for (size_t i = begin; i < end; i++) {
    for (size_t corner = 3 * i; corner < 3 * i + 3; corner++) {
      if (work->weld->why[i] == LW_KEPT && work->weld->triangles[corner] == corner) {
        work->is_first[corner >> 6] |= (uint64_t)1 << (corner & 63);
        n++;
      }
    }
  }
  work->points_before[chunk] = n;
}

static void
number_chunk (size_t chunk, size_t begin, size_t end, void *data)
{
  Number *work = data;
  uint32_t point = work->points_before[chunk];

  for (size_t i = begin; i < end; i++) {
    float p[9];

    load_triangle (work->corners, i, p);
    for (int j = 0; j < 3; j++) {
      size_t corner = 3 * i + j;

      if (!test_bit (work->is_first, corner))
        continue;
      for (int axis = 0; axis < 3; axis++)
        work->weld->points[3 * (size_t)point + axis] = p[3 * j + axis] + 0.0f;
      work->weld->triangles[corner] = point++;
    }
  }
}

static void
spread_chunk (size_t chunk, size_t begin, size_t end, void *data)
{
  Number *work = data;
  uint32_t *triangles = work->weld->triangles;

  for (size_t i = begin; i < end; i++) {
    if (work->weld->why[i] != LW_KEPT)
      continue;
    for (size_t corner = 3 * i; corner < 3 * i + 3; corner++) {
      if (!test_bit (work->is_first, corner))
        triangles[corner] = triangles[triangles[corner]];
    }
  }
}

static bool
number_points (LwWeld *weld, LwCorners corners, LwProgress *progress)
{
  size_t n_chunks = ((size_t)corners.n + LW_CHUNK - 1) / LW_CHUNK;
  size_t bits_size = (3 * (size_t)corners.n / 64 + 1) * sizeof (uint64_t);
  g_autofree uint32_t *points_before = g_new0 (uint32_t, n_chunks + 1);
  uint64_t *is_first = lw_pages_new (bits_size);
  Number work = { corners, weld, is_first, points_before };
  bool done = lw_parallel_for (corners.n, LW_CHUNK, count_chunk, &work, NULL);

  for (size_t i = 0; i < n_chunks; i++) {
    uint32_t n = points_before[i];

    points_before[i] = weld->n_points;
    weld->n_points += n;
  }
  weld->points = lw_pages_new (3 * sizeof (float) * weld->n_points);
  done = done && lw_parallel_for (corners.n, LW_CHUNK, number_chunk, &work, progress)
         && lw_parallel_for (corners.n, LW_CHUNK, spread_chunk, &work, progress);
  lw_pages_free (is_first, bits_size);
  return done;
}

uint32_t
lw_weld_compact (uint32_t *triangles, const uint8_t *why, uint32_t n)
{
  uint32_t kept = 0;

  for (uint32_t i = 0; i < n; i++) {
    if (why[i] != LW_KEPT)
      continue;
    if (kept != i)
      memcpy (triangles + 3 * (size_t)kept, triangles + 3 * (size_t)i, 3 * sizeof (uint32_t));
    kept++;
  }
  return kept;
}

bool
lw_weld (LwWeld *weld, LwCorners corners, LwProgress *progress)
{
  size_t numbers_size = 3 * sizeof (uint32_t) * corners.n;
  Lookup lookup = { .corners = corners, .progress = progress };
  bool done;

  g_assert (corners.n <= LW_MESH_MAX_TRIANGLES);
  *weld = (LwWeld){ .n_triangles = corners.n };
  weld->triangles = lw_pages_new (numbers_size);
  weld->why = lw_pages_new (corners.n);
  lookup.why = weld->why;
  lookup.firsts = weld->triangles;
  lookup.n_shares =
      corners.n > LW_CHUNK ? (uint32_t)MIN (lw_parallel_get_threads (), MAX_SHARES) : 1;
  done = classify (weld, corners, progress)
         && lw_parallel_for (lookup.n_shares, 1, lookup_share, &lookup, NULL) && !lookup.stopped
         && number_points (weld, corners, progress);
  if (!done) {
    lw_pages_free (weld->points, 3 * sizeof (float) * weld->n_points);
    lw_pages_free (weld->triangles, numbers_size);
    lw_pages_free (weld->why, corners.n);
    return false;
  }
  if (weld->not_finite + weld->zero_area > 0)
    weld->n_triangles = lw_weld_compact (weld->triangles, weld->why, corners.n);
  return true;
}
