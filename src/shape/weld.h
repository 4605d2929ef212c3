/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/progress.h"

/* Triangles as they lie in memory: 9 little-endian floats each (three corners), at
 * first + i × stride, of any alignment. Borrowed. */
typedef struct {
  const char *first;
  size_t stride; /* bytes */
  uint32_t n;
} LwCorners;

/* Most triangles of a mesh: point numbers and half-edge numbers stay below 2³¹. */
#define LW_MESH_MAX_TRIANGLES (INT32_MAX / 3)

/* Why a triangle was left out, one byte a triangle; LW_KEPT when it was not. */
enum { LW_KEPT, LW_LEFT_NOT_FINITE, LW_LEFT_NO_AREA, LW_LEFT_DUPLICATE };

/* Welded: equal bits are one point (−0 = 0), points numbered by first appearance. */
typedef struct {
  float *points; /* 3 a point; lw_pages */
  uint32_t n_points;
  uint32_t *triangles; /* 3 point numbers a kept triangle; lw_pages of 3 × corners.n numbers */
  uint32_t n_triangles;
  uint8_t *why; /* one a triangle as read; lw_pages */
  uint32_t not_finite, zero_area;
} LwWeld;

/* Answers false when cancelled (nothing to clear then). Steps progress by 4 × corners.n. The same
 * result for every number of threads. */
bool lw_weld (LwWeld *weld, LwCorners corners, LwProgress *progress);

/* Moves the triangles whose why (one a triangle of this array) is not LW_KEPT out of an array of
 * numbers, 3 a triangle, keeping the order; answers how many are left. */
uint32_t lw_weld_compact (uint32_t *triangles, const uint8_t *why, uint32_t n);
