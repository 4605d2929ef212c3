/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/tolerances.h"
#include "base/vec.h"
#include "tool/tool.h"

/* The end of a cutter as contact sees it: a torus of tube radius corner on a disc. mm. */
typedef struct {
  double radius; /* ρ */
  double corner; /* r_c: ρ for a ball, 0 for a flat end */
} LwCutter;

/* NAN radius for a tool without a cutting segment. */
LwCutter lw_cutter_of_tool (const LwTool *tool);

/* From the contact point to the tip, for a surface of outward unit normal and a unit tool axis:
 *
 *     r_c (ν − u) + (ρ − r_c) d,   d = unit(ν − (ν·u) u)
 *
 * d is 0 where u = ν: a flat end then has no single contact, and stands centered on the place.
 * Derived from the torus' normal: the tube's center lies r_c ν off the surface, and ρ − r_c off the
 * axis towards it. Only for ν·u ≥ 0: an end cutter does not touch a surface that faces away. */
static inline LwVec3
lw_contact_to_tip (LwCutter cutter, LwVec3 normal, LwVec3 axis)
{
  LwVec3 tip = lw_vec3_scale (lw_vec3_sub (normal, axis), cutter.corner);
  LwVec3 across;
  double length;

  if (cutter.radius == cutter.corner)
    return tip;
  across = lw_vec3_add_scaled (normal, axis, -lw_vec3_dot (normal, axis));
  length = lw_vec3_length (across);
  if (length > LW_STRAIGHT_DOWN)
    tip = lw_vec3_add_scaled (tip, across, (cutter.radius - cutter.corner) / length);
  return tip;
}

/* The same with the cutter's side to the surface: ρ ν⊥ − a u, where the axis u lies in the surface
 * (ν⊥ is ν without its part along u) and the end stands `below` beyond the contact. */
LwVec3 lw_flank_to_tip (LwCutter cutter, LwVec3 normal, LwVec3 axis, double below);
