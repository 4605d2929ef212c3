/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "draw/scene.h"

/* Where a part that is dragged comes to rest. */
typedef struct {
  LwVec3 at;      /* the placement's `at`, table frame */
  bool on_holes;  /* its bolts stand on the table's holes */
  bool on_risers; /* it stands on the table or on risers that exist */
} LwSnap;

/* From above: to the hole grid where the part has bolts of its thread, else to whole steps (1 mm or
 * 0.05 in). From the front: X in steps, Z to the table's face and the riser heights of the set-up.
 * free: nothing but finest steps (0.1 mm or 0.005 in). */
LwSnap lw_snap_part (const LwScene *scene, const LwPlaced *placed, LwVec3 at, LwSeen seen,
                     bool free);
