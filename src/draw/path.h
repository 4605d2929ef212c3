/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <cairo.h>

#include "shape/outline.h"

/* Runs of points in a picture's own axes (right, up), mm. */
typedef struct {
  double x, y;
} LwPoint;

typedef struct {
  LwPoint *points;
  uint32_t *ends; /* one past the last point of each run */
  uint32_t n_points, n_runs;
  uint32_t room_points, room_runs;
  bool closed; /* every run ends where it began, without repeating the point */
} LwPath;

void lw_path_clear (LwPath *path);
void lw_path_add (LwPath *path, double x, double y);
/* Ends a run; one of fewer than two points is dropped. */
void lw_path_end_run (LwPath *path);

/* Joins loose lines at equal ends (where exactly two meet) into open runs. */
LwPath lw_path_chain_lines (const LwLines *lines);

/* Oriented edges between numbered points. As many begin at each point as end there: the closed
 * loops they make up, in the order of their first edge. */
typedef struct {
  uint32_t from, to;
} LwEdge;

LwPath lw_path_chain_loops (LwEdge *edges, uint32_t n_edges, const LwPoint *points);

/* Leaves out points so that no line moves by more than tolerance (Ramer, 1972). */
LwPath lw_path_simplify (const LwPath *path, double tolerance);

/* Adds to the current path of cr: px = x0 + scale · x, py = y0 − scale · y. */
void lw_path_trace (const LwPath *path, cairo_t *cr, double scale, double x0, double y0);

/* Convex hull of n points, counter-clockwise, in place; answers how many remain. */
int lw_hull_compute (LwPoint *points, int n);
