/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <stdbool.h>

#include "base/vec.h"

/* The circle of a CIRCLE statement. mm. */
typedef struct {
  LwVec3 center;
  LwVec3 normal; /* unit; the arc turns right-handed about it */
  double radius;
} LwClCircle;

/* The arc between two places on a circle, in chords; a helix where they differ along the normal. */
typedef struct {
  LwClCircle circle;
  LwVec3 first, second; /* unit, square to the normal: towards the start, and a quarter turn on */
  LwVec3 start, end;
  double sweep;                  /* rad, above 0 to 2π */
  double from_radius, to_radius; /* of the two ends: they may differ by rounding */
  double from_height, to_height; /* along the normal from the center */
  int n_chords;
} LwClArc;

/* False when an end lies further than LW_ARC_OFF off the circle. Both ends at one place make a full
 * circle. */
bool lw_cl_arc_init (LwClArc *arc, const LwClCircle *circle, LwVec3 start, LwVec3 end);

/* End of the chord, 1 … n_chords; that of the last is the arc's end, bit for bit. */
LwVec3 lw_cl_arc_at (const LwClArc *arc, int chord);
