/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/clarc.h"

#include "base/tolerances.h"

/* A chord over the angle a lies r (1 − cos(a/2)) inside its arc at most. Tiny circles get quarters.
 */
static int
count_chords (double radius, double sweep)
{
  double most = LW_PI / 2;

  if (radius > LW_ARC_CHORD)
    most = fmin (most, 2 * acos (1 - LW_ARC_CHORD / radius));
  return (int)fmax (1, ceil (sweep / most));
}

/* The part of a vector square to the normal; its length. */
static double
get_across (LwVec3 v, LwVec3 normal, LwVec3 *across)
{
  *across = lw_vec3_add_scaled (v, normal, -lw_vec3_dot (v, normal));
  return lw_vec3_length (*across);
}

bool
lw_cl_arc_init (LwClArc *arc, const LwClCircle *circle, LwVec3 start, LwVec3 end)
{
  LwVec3 from = lw_vec3_sub (start, circle->center), to = lw_vec3_sub (end, circle->center);
  LwVec3 across;

  *arc = (LwClArc){ .circle = *circle, .start = start, .end = end };
  arc->to_radius = get_across (to, circle->normal, &across);
  arc->from_radius = get_across (from, circle->normal, &arc->first);
  if (!(fabs (arc->from_radius - circle->radius) <= LW_ARC_OFF
        && fabs (arc->to_radius - circle->radius) <= LW_ARC_OFF)
      || !(arc->from_radius > 0 && arc->to_radius > 0))
    return false;
  arc->first = lw_vec3_unit (arc->first);
  arc->second = lw_vec3_cross (circle->normal, arc->first);
  arc->from_height = lw_vec3_dot (from, circle->normal);
  arc->to_height = lw_vec3_dot (to, circle->normal);

  arc->sweep = atan2 (lw_vec3_dot (across, arc->second), lw_vec3_dot (across, arc->first));
  if (arc->sweep <= 0)
    arc->sweep += 2 * LW_PI;
  get_across (lw_vec3_sub (end, start), circle->normal, &across);
  if (lw_vec3_length (across) <= LW_ARC_CLOSED)
    arc->sweep = 2 * LW_PI;
  arc->n_chords = count_chords (fmax (arc->from_radius, arc->to_radius), arc->sweep);
  return true;
}

LwVec3
lw_cl_arc_at (const LwClArc *arc, int chord)
{
  double share = (double)chord / arc->n_chords, angle = share * arc->sweep;
  double radius = arc->from_radius + share * (arc->to_radius - arc->from_radius);
  double height = arc->from_height + share * (arc->to_height - arc->from_height);
  LwVec3 at = arc->circle.center;

  if (chord == arc->n_chords)
    return arc->end;
  at = lw_vec3_add_scaled (at, arc->circle.normal, height);
  at = lw_vec3_add_scaled (at, arc->first, radius * cos (angle));
  return lw_vec3_add_scaled (at, arc->second, radius * sin (angle));
}
