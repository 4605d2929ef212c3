/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "draw/path.h"
#include "draw/viewport.h"

/* Outlines of convex solids seen along an axis of the table frame: hulls of their corners and of
 * the circles of bodies of revolution. */

/* Points a circle is taken at: its hull then lies within 0.06 % of the radius inside it. */
#define LW_CIRCLE_POINTS 90

static inline LwPoint
lw_seen_project (LwSeen seen, LwVec3 p)
{
  return (LwPoint){ p.x, seen == LW_SEEN_FROM_ABOVE ? p.y : p.z };
}

/* A circle about a unit axis: a piece of a profile that is turned about it. */
typedef struct {
  double along, radius; /* mm */
} LwProfilePoint;

/* Adds the outline of a convex body of revolution as one closed run. */
void lw_silhouette_add_turned (LwPath *path, LwSeen seen, const LwProfilePoint *profile, int n,
                               LwVec3 base, LwVec3 axis);

/* Adds the outline of a placed solid as one closed run; false for a mesh, whose shape is elsewhere.
 */
bool lw_silhouette_add_solid (LwPath *path, LwSeen seen, const LwSolid *solid, LwMat3 turn,
                              LwVec3 at);

/* The convex pieces of a tool from the gauge line (0) to the tip, one a segment, the last with its
 * ball, corner or point: fills profile (room for LW_PROFILE_ROOM) and answers its count. */
#define LW_PROFILE_ROOM 16
int lw_tool_get_profile (const LwTool *tool, int segment, LwProfilePoint *profile);

/* Adds a tool hanging from its gauge line, one run a segment. A measured tool has its measured
 * length: the shank next to the holder takes up the difference. */
void lw_silhouette_add_tool (LwPath *path, LwSeen seen, const LwTool *tool, LwVec3 gauge,
                             LwVec3 down);

/* Box of a path in px; empty (x1 < x0) without points. */
LwRect lw_path_get_rect (const LwPath *path, double scale, double x0, double y0);
