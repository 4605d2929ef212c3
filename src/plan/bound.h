/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/vec.h"
#include "plan/candidates.h"
#include "plan/contact.h"

/* The travel leeway of many tool axes at one facet, for a head without offsets: the inner loop of a
 * verdict. */
typedef struct {
  LwBox3 contacts; /* contact points, mm */
  LwBox3 travel;   /* of the pivot, same frame */
  LwVec3 normal;   /* outward unit normal; the end of the cutter touches along it */
  LwCutter cutter;
  double arm;                     /* P + L, mm */
  double stroke_low, stroke_high; /* mm along the axis */
} LwBound;

/* leeways[i] for each candidate, mm; −INFINITY where the axis points into the surface. The arrays
 * of candidates and leeways hold LW_CANDIDATE_ROOM numbers. */
void lw_bound_travel (const LwBound *bound, const LwCandidates *candidates, double *leeways);
