/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <stdbool.h>
#include <stdint.h>

#include "base/progress.h"

/* The edges of a welded mesh. Half-edge 3 t + i runs from corner i of triangle t to corner i + 1.
 */
typedef struct {
  uint32_t open;       /* half-edges without a counterpart that runs the other way */
  uint32_t many_sided; /* edges with more than two triangles */
  bool repeated;       /* two triangles share all their points */
} LwEdgeFacts;

static inline uint32_t
lw_edge_end (uint32_t half_edge)
{
  return half_edge % 3 == 2 ? half_edge - 2 : half_edge + 1;
}

/* Pairs half-edges: neighbors[h] (3 n_triangles of them, given zeroed) becomes the triangle whose
 * half-edge runs the other way, LW_NO_TRIANGLE where there is none or the edge is many-sided.
 * Triangles must have three different points. Answers false when cancelled; steps progress by
 * 3 × n_triangles. */
bool lw_edges_pair (const uint32_t *triangles, uint32_t n_triangles, uint32_t n_points,
                    uint32_t *neighbors, LwEdgeFacts *facts, LwProgress *progress);

/* Marks in why (one a triangle) as LW_LEFT_DUPLICATE every triangle with the same three points as
 * an earlier one, whichever way round; answers their number. */
uint32_t lw_edges_mark_duplicates (const uint32_t *triangles, uint32_t n_triangles,
                                   uint32_t n_points, uint8_t *why);
