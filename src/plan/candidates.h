/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "job/operation.h"

#define LW_MAX_CANDIDATES 19
#define LW_CANDIDATE_ROOM 20 /* whole vector registers; what lies beyond n is zero */

/* The tool axes an attitude rule allows at one facet, in the order in which ties are broken
 * (DESIGN: candidates). Unit vectors, table frame. */
typedef struct {
  int n;
  LwVec3 normal; /* the facet's, table frame */
  double x[LW_CANDIDATE_ROOM], y[LW_CANDIDATE_ROOM], z[LW_CANDIDATE_ROOM];
} LwCandidates;

static inline LwVec3
lw_candidates_get (const LwCandidates *candidates, int i)
{
  return lw_vec3 (candidates->x[i], candidates->y[i], candidates->z[i]);
}

/* What of an attitude rule is the same for every facet: made once, used for each. */
typedef struct {
  LwAttitudeRule rule;
  LwVec3 direction;
  int n;
  double along[LW_CANDIDATE_ROOM];  /* share of the facet's normal; flank: of the direction */
  double first[LW_CANDIDATE_ROOM];  /* share of azimuth 0; flank: of normal × direction */
  double second[LW_CANDIDATE_ROOM]; /* share of azimuth 90° */
} LwCandidateFan;

void lw_candidate_fan_init (LwCandidateFan *fan, const LwAttitude *attitude);

/* The candidates at a facet of outward unit normal (part frame) of a part turned by `turn`: they
 * are chosen in the part frame and turn along with it. `own` is a point's own axis, or zero. None
 * where a flank's direction stands along the normal. */
void lw_candidate_fan_at (const LwCandidateFan *fan, LwMat3 turn, LwVec3 normal, LwVec3 own,
                          LwCandidates *candidates);
