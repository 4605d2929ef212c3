/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/path.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void
lw_path_clear (LwPath *path)
{
  g_free (path->points);
  g_free (path->ends);
  *path = (LwPath){ 0 };
}

void
lw_path_add (LwPath *path, double x, double y)
{
  if (path->n_points == path->room_points) {
    path->room_points = MAX (64, 2 * path->room_points);
    path->points = g_renew (LwPoint, path->points, path->room_points);
  }
  path->points[path->n_points++] = (LwPoint){ x, y };
}

static uint32_t
get_run_start (const LwPath *path, uint32_t run)
{
  return run == 0 ? 0 : path->ends[run - 1];
}

void
lw_path_end_run (LwPath *path)
{
  uint32_t start = get_run_start (path, path->n_runs);

  if (path->n_points - start < 2) {
    path->n_points = start;
    return;
  }
  if (path->n_runs == path->room_runs) {
    path->room_runs = MAX (16, 2 * path->room_runs);
    path->ends = g_renew (uint32_t, path->ends, path->room_runs);
  }
  path->ends[path->n_runs++] = path->n_points;
}

/* ------------------------------------------------------------------------------------------------
 * Loose lines */

typedef struct {
  LwPoint at;
  uint32_t end; /* 2 · line + which end */
} LineEnd;

static int
compare_ends (const void *a, const void *b)
{
  const LineEnd *p = a, *q = b;

  if (p->at.x != q->at.x)
    return p->at.x < q->at.x ? -1 : 1;
  if (p->at.y != q->at.y)
    return p->at.y < q->at.y ? -1 : 1;
  return p->end < q->end ? -1 : p->end > q->end;
}

/* mate[e]: the other line's end that meets end e, where exactly two meet. */
static uint32_t *
find_mates (const LwLines *lines)
{
  uint32_t n = 2 * lines->n_lines;
  LineEnd *ends = g_new (LineEnd, n);
  uint32_t *mate = g_new (uint32_t, n);

  for (uint32_t e = 0; e < n; e++)
    ends[e] = (LineEnd){ { lines->points[2 * e], lines->points[2 * e + 1] }, e };
  qsort (ends, n, sizeof *ends, compare_ends);
  memset (mate, 0xff, n * sizeof *mate);
  for (uint32_t i = 0, j; i < n; i = j) {
    for (j = i + 1; j < n && ends[j].at.x == ends[i].at.x && ends[j].at.y == ends[i].at.y;)
      j++;
    if (j - i == 2) {
      mate[ends[i].end] = ends[i + 1].end;
      mate[ends[i + 1].end] = ends[i].end;
    }
  }
  g_free (ends);
  return mate;
}

static void
follow (LwPath *path, const LwLines *lines, const uint32_t *mate, bool *used, uint32_t end)
{
  lw_path_add (path, lines->points[2 * end], lines->points[2 * end + 1]);
  for (;;) {
    uint32_t other = end ^ 1;

    used[end / 2] = true;
    lw_path_add (path, lines->points[2 * other], lines->points[2 * other + 1]);
    end = mate[other];
    if (end == UINT32_MAX || used[end / 2])
      break;
  }
  lw_path_end_run (path);
}

LwPath
lw_path_chain_lines (const LwLines *lines)
{
  LwPath path = { 0 };
  uint32_t *mate;
  bool *used;

  if (lines->n_lines == 0)
    return path;
  mate = find_mates (lines);
  used = g_new0 (bool, lines->n_lines);
  for (uint32_t e = 0; e < 2 * lines->n_lines; e++) /* first the runs that have an end … */
    if (!used[e / 2] && mate[e] == UINT32_MAX)
      follow (&path, lines, mate, used, e);
  for (uint32_t l = 0; l < lines->n_lines; l++) /* … then the rings */
    if (!used[l])
      follow (&path, lines, mate, used, 2 * l);
  g_free (mate);
  g_free (used);
  return path;
}

/* ------------------------------------------------------------------------------------------------
 * Oriented edges */

static int
compare_edges (const void *a, const void *b)
{
  const LwEdge *p = a, *q = b;

  if (p->from != q->from)
    return p->from < q->from ? -1 : 1;
  return p->to < q->to ? -1 : p->to > q->to;
}

/* First edge, not used yet, that begins at point; n_edges when there is none. next[i], for the
 * first edge i of a point, is where the search goes on. */
static uint32_t
find_edge_from (const LwEdge *edges, uint32_t n_edges, uint32_t *next, uint32_t point)
{
  uint32_t low = 0, high = n_edges, found;

  while (low < high) {
    uint32_t middle = low + (high - low) / 2;

    if (edges[middle].from < point)
      low = middle + 1;
    else
      high = middle;
  }
  if (low == n_edges || edges[low].from != point)
    return n_edges;
  found = low + next[low];
  if (found >= n_edges || edges[found].from != point)
    return n_edges;
  next[low]++;
  return found;
}

LwPath
lw_path_chain_loops (LwEdge *edges, uint32_t n_edges, const LwPoint *points)
{
  LwPath path = { .closed = true };
  uint32_t *next = g_new0 (uint32_t, n_edges);

  qsort (edges, n_edges, sizeof *edges, compare_edges);
  for (uint32_t i = 0; i < n_edges; i++) {
    uint32_t first = edges[i].from, e = find_edge_from (edges, n_edges, next, first);

    while (e < n_edges) {
      lw_path_add (&path, points[edges[e].from].x, points[edges[e].from].y);
      if (edges[e].to == first)
        break;
      e = find_edge_from (edges, n_edges, next, edges[e].to);
    }
    lw_path_end_run (&path);
  }
  g_free (next);
  return path;
}

/* ------------------------------------------------------------------------------------------------
 * Fewer points */

static double
get_distance_squared (LwPoint p, LwPoint a, LwPoint b)
{
  double dx = b.x - a.x, dy = b.y - a.y, l = dx * dx + dy * dy;
  double s = l > 0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / l : 0;
  double qx = a.x + CLAMP (s, 0, 1) * dx - p.x, qy = a.y + CLAMP (s, 0, 1) * dy - p.y;

  return qx * qx + qy * qy;
}

static void
mark_kept (const LwPoint *points, uint32_t first, uint32_t last, double tolerance, bool *keep)
{
  GArray *stack = g_array_new (FALSE, FALSE, sizeof (LwEdge));
  LwEdge span = { first, last };

  keep[first] = keep[last] = true;
  g_array_append_val (stack, span);
  while (stack->len > 0) {
    double worst = tolerance * tolerance;
    uint32_t at = UINT32_MAX;

    span = g_array_index (stack, LwEdge, stack->len - 1);
    g_array_set_size (stack, stack->len - 1);
    for (uint32_t i = span.from + 1; i < span.to; i++) {
      double d = get_distance_squared (points[i], points[span.from], points[span.to]);

      if (d > worst) {
        worst = d;
        at = i;
      }
    }
    if (at == UINT32_MAX)
      continue;
    keep[at] = true;
    g_array_append_val (stack, ((LwEdge){ span.from, at }));
    g_array_append_val (stack, ((LwEdge){ at, span.to }));
  }
  g_array_unref (stack);
}

LwPath
lw_path_simplify (const LwPath *path, double tolerance)
{
  LwPath out = { .closed = path->closed };
  bool *keep = g_new0 (bool, path->n_points + 1);

  for (uint32_t run = 0; run < path->n_runs; run++) {
    uint32_t first = get_run_start (path, run), last = path->ends[run] - 1, far = first;
    double most = -1;

    if (path->closed) /* begin with two points far from each other */
      for (uint32_t i = first; i <= last; i++) {
        double d = hypot (path->points[i].x - path->points[first].x,
                          path->points[i].y - path->points[first].y);
        if (d > most) {
          most = d;
          far = i;
        }
      }
    if (path->closed && most <= tolerance)
      continue; /* a speck */
    if (far != first)
      mark_kept (path->points, first, far, tolerance, keep);
    if (far != last)
      mark_kept (path->points, far, last, tolerance, keep);
    for (uint32_t i = first; i <= last; i++)
      if (keep[i])
        lw_path_add (&out, path->points[i].x, path->points[i].y);
    lw_path_end_run (&out);
  }
  g_free (keep);
  return out;
}

void
lw_path_trace (const LwPath *path, cairo_t *cr, double scale, double x0, double y0)
{
  for (uint32_t run = 0; run < path->n_runs; run++) {
    for (uint32_t i = get_run_start (path, run); i < path->ends[run]; i++) {
      double x = x0 + scale * path->points[i].x, y = y0 - scale * path->points[i].y;

      if (i == get_run_start (path, run))
        cairo_move_to (cr, x, y);
      else
        cairo_line_to (cr, x, y);
    }
    if (path->closed)
      cairo_close_path (cr);
  }
}

/* ------------------------------------------------------------------------------------------------
 * Hull */

static int
compare_points (const void *a, const void *b)
{
  const LwPoint *p = a, *q = b;

  if (p->x != q->x)
    return p->x < q->x ? -1 : 1;
  return p->y < q->y ? -1 : p->y > q->y;
}

static double
get_turn (LwPoint a, LwPoint b, LwPoint c)
{
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/* Monotone chain (A. M. Andrew, Information Processing Letters 9 (1979) 216). */
int
lw_hull_compute (LwPoint *points, int n)
{
  LwPoint *hull;
  int k = 0, lower;

  if (n < 3)
    return n;
  qsort (points, n, sizeof *points, compare_points);
  hull = g_new (LwPoint, 2 * n);
  for (int i = 0; i < n; i++) {
    while (k >= 2 && get_turn (hull[k - 2], hull[k - 1], points[i]) <= 0)
      k--;
    hull[k++] = points[i];
  }
  lower = k + 1;
  for (int i = n - 2; i >= 0; i--) {
    while (k >= lower && get_turn (hull[k - 2], hull[k - 1], points[i]) <= 0)
      k--;
    hull[k++] = points[i];
  }
  if (k > 1)
    k--;
  memcpy (points, hull, MIN (k, n) * sizeof *points);
  g_free (hull);
  return MIN (k, n);
}
