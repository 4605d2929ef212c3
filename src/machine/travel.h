/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "machine/machine.h"

/* Pivot in the machine frame (mm), heading and tilt (rad). */
typedef struct {
  LwVec3 pivot;
  double c, t;
} LwPose;

/* What binds: an end of an axis, or a coupled rule's. */
typedef struct {
  LwAxis axis;
  bool high;
  int rule; /* index into the machine's coupled limits, −1: the axis' own end */
} LwLimit;

/* Least slack of a pose: two numbers, since mm and degrees don't compare. A coupled rule ("while Z
 * is above 960, B stays in ±60") is kept by either of its sides, Z below 960 or B within ±60, and
 * counts as travel or as rotary leeway after the axis of the side that does:
 *   one side kept         its leeway: the other axis is out, so this one must not follow;
 *   neither               the better of the two in units of its reserve;
 *   both                  the rule does not bind, since no one axis can break it, unless both sides
 *                         are inside their reserves: then the better one. */
typedef struct {
  double travel; /* mm, negative = beyond */
  LwLimit travel_limit;
  double rotary; /* rad, negative = beyond */
  LwLimit rotary_limit;
} LwLeeway;

typedef struct {
  double travel; /* mm */
  double rotary; /* rad */
  double gap;    /* mm */
} LwReserves;

/* value / reserve; a reserve of 0 counts as 1 (mm or degree). */
double lw_slack_of_travel (double travel, const LwReserves *reserves);
double lw_slack_of_rotary (double rotary, const LwReserves *reserves);

LwLeeway lw_travel_get_leeway (const LwMachine *machine, const LwPose *pose,
                               const LwReserves *reserves);

/* The same for a pivot anywhere in a box, at one c and t: the least over the box. */
LwLeeway lw_travel_get_leeway_of_box (const LwMachine *machine, const LwBox3 *pivots, double c,
                                      double t, const LwReserves *reserves);

/* "X+", "B−" or "B− (hose loop at the top)"; new string. ascii: '-' and English. */
char *lw_limit_to_text (const LwMachine *machine, LwLimit limit, bool ascii);

/* Tip for a pose, table frame. */
LwVec3 lw_pose_get_tip (const LwMachine *machine, const LwTable *table, const LwPose *pose,
                        double tip_length);

/* One way to stand the tip at a place with a tool axis. */
typedef struct {
  LwPose pose;
  LwLeeway leeway;
  bool c_free; /* the heading was ours to choose */
} LwSolution;

#define LW_MAX_SOLUTIONS 64

/* Every branch and turn of C inside the rotary limits for a tip (table frame) and tool axis, best
 * slack first, ties + branch first, then the turn nearest 0; beyond travel negative. At t = 0, c is
 * 0 or, where C's limits leave 0 out, nearest to it. An endless C gives c in (−π, π]. Answers the
 * count, at most LW_MAX_SOLUTIONS. */
int lw_travel_solve (const LwMachine *machine, const LwTable *table, double tip_length, LwVec3 tip,
                     LwVec3 tool_axis, const LwReserves *reserves,
                     LwSolution solutions[LW_MAX_SOLUTIONS]);
