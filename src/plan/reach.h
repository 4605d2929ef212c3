/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "machine/travel.h"

/* Where the tip can stand, table frame, mm (DESIGN: reach). Travel bounds it, not the table. */
typedef struct {
  bool exists;
  LwBox3 box;   /* tips; z from the lowest to the highest tip */
  char *reason; /* why it is empty, translated; NULL when it exists */
} LwReach;

void lw_reach_clear (LwReach *reach);

/* For every heading of the tool axis at tilt ±t: the better of the two branches, or both where C
 * falls short of a full turn. */
LwReach lw_reach_every_heading (const LwMachine *machine, const LwTable *table, double tip_length,
                                double tilt);
/* At one heading c and tilt t. */
LwReach lw_reach_one_heading (const LwMachine *machine, const LwTable *table, double tip_length,
                              double tilt, double heading);

/* The largest tilt up to which, from 0 on, the tip at a place (table frame) is reachable for every
 * heading; negative when not even at 0. To 0.01° on the safe side. */
double lw_reach_get_largest_tilt (const LwMachine *machine, const LwTable *table, double tip_length,
                                  LwVec3 tip);

/* For a tip held at its place and heading while the tilt grows from 0 both ways: the first tilt at
 * which a travel end is met. */
typedef struct {
  bool met;      /* false: the axis' own end comes first */
  double tilt;   /* rad */
  LwLimit limit; /* what is met there */
} LwTiltEnd;

void lw_reach_get_tilt_ends (const LwMachine *machine, const LwTable *table, double tip_length,
                             LwVec3 tip, double heading, LwTiltEnd *low, LwTiltEnd *high);
