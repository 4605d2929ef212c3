/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "draw/viewport.h"

/* The facet of a part under a place in the picture: from above the highest, from the front the
 * nearest (lowest Y). */
typedef struct {
  int placed; /* index into the set-up's placed parts */
  uint32_t triangle;
  LwVec3 table, part; /* the place hit, in either frame */
} LwPick;

/* False when there is no part under it. */
bool lw_pick_facet (const LwScene *scene, const LwViewport *viewport, LwSeen seen, double x,
                    double y, LwPick *pick);
