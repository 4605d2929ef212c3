/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/vec.h"
#include "plan/candidates.h"
#include "plan/contact.h"

/* How well many tool axes can do at one facet at best, for a head without offsets: the inner loop
 * of a verdict. */
typedef struct {
  LwBox3 contacts; /* contact points, mm */
  LwBox3 travel;   /* of the pivot, same frame */
  LwVec3 normal;   /* outward unit normal; the end of the cutter touches along it */
  LwCutter cutter;
  double arm;                        /* P + L, mm */
  double stroke_low, stroke_high;    /* mm along the axis */
  double nz;                         /* of the tilt axis: 0 for a B or A head */
  double tilt_low, tilt_high;        /* rad */
  double travel_scale, rotary_scale; /* 1 / reserve */
} LwBound;

/* slacks[i] for each candidate: travel leeway and that of the tilt axis by its better branch, the
 * lesser of the two in units of its reserve; never less than the true slack. −INFINITY where the
 * axis points into the surface or is beyond the head. Arrays hold LW_CANDIDATE_ROOM numbers. */
void lw_bound_slacks (const LwBound *bound, const LwCandidates *candidates, double *slacks);
