/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/vec.h"

/* A two-axis head: C about Z, below it a tilt axis.
 *
 *     u(c,t) = Rz(c) · R(n,t) · ez                                 tip towards spindle
 *     w(c,t) = Rz(c) · ( e + R(n,t) · ( s − (P + L) · ez ) )       pivot to tip
 *
 * brought to the form e·n = 0, e.z = 0, s.z = 0 (lw_head_normalize). Sources: K. Sørby, Int. J.
 * Machine Tools & Manufacture 47 (2007) 299–306, for the inclined axis; R.-S. Lee, C.-H. She,
 * Int. J. Adv. Manuf. Technol. 13 (1997) 658–665. */
typedef struct {
  LwVec3 n;            /* tilt axis at c = 0, unit */
  LwVec3 e;            /* C axis to tilt axis, mm */
  LwVec3 s;            /* tilt axis to spindle axis, mm */
  double pivot_length; /* P, mm */
} LwHead;

/* One way to reach an attitude. */
typedef struct {
  double c, t; /* rad; c in (−π, π] before turns are added */
} LwBranch;

typedef struct {
  int n;              /* 0: the head can't take this attitude; 1 at t = 0 (or θ = 2φ); else 2 */
  LwBranch branch[2]; /* + (t ≥ 0) first */
  bool c_free;        /* t = 0: any heading gives the same axis; branch[0].c is 0 */
} LwBranches;

/* Brings any e, s, P to the form above without changing a single tip position or body: what went
 * into the pivot comes back as *pivot_shift: the new pivot = the old pivot + shift (a multiple of
 * ez, the same for every c and t). Answers whether anything changed. */
bool lw_head_normalize (LwHead *head, LwVec3 *pivot_shift);

/* Whether e and s vanish: then branch and heading don't matter for travel. */
bool lw_head_is_plain (const LwHead *head);

/* Largest inclination the head's geometry allows: 2φ, π for a B or A head. */
double lw_head_get_reach (const LwHead *head);

LwVec3 lw_head_get_tool_axis (const LwHead *head, double c, double t);

/* w(c,t) for tip length mm. */
LwVec3 lw_head_get_swing (const LwHead *head, double tip_length, double c, double t);

/* |w_xy|: how far the tip stands off the C axis at tilt t. */
double lw_head_get_radius (const LwHead *head, double tip_length, double t);

/* Inverse for a tool axis (need not be exactly unit; it is made so). */
LwBranches lw_head_solve (const LwHead *head, LwVec3 tool_axis);
