/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "plan/bound.h"

#include "base/tolerances.h"

/* Leeway of one axis of travel over the stroke: least of the low side and the high side. */
static inline double
get_side (double contact_low, double contact_high, double low, double high, double to_pivot,
          double u, double stroke_low, double stroke_high)
{
  double a = stroke_low * u, b = stroke_high * u;
  double from = contact_low + (to_pivot + lw_min (a, b)) - low;
  double to = high - (contact_high + (to_pivot + lw_max (a, b)));

  return lw_min (from, to);
}

/* Straight lines and selects only, over arrays of a fixed length, so that the compiler makes vector
 * code of it. The tip stands r_c (ν − u) + (ρ − r_c) d off the contact (plan/contact.h), the pivot
 * P + L further along u. */
void
lw_bound_travel (const LwBound *bound, const LwCandidates *candidates, double *leeways)
{
  const LwBound b = *bound;
  double rim = b.cutter.radius - b.cutter.corner;
  const double *restrict ux = candidates->x, *restrict uy = candidates->y,
                         *restrict uz = candidates->z;

  for (int i = 0; i < LW_CANDIDATE_ROOM; i++) {
    double x = ux[i], y = uy[i], z = uz[i], corner = b.cutter.corner;
    double facing = b.normal.x * x + b.normal.y * y + b.normal.z * z;
    double dx = b.normal.x - facing * x, dy = b.normal.y - facing * y, dz = b.normal.z - facing * z;
    double length = sqrt (dx * dx + dy * dy + dz * dz);
    double out = length > LW_STRAIGHT_DOWN ? rim / length : 0;
    double px = corner * (b.normal.x - x) + out * dx + b.arm * x;
    double py = corner * (b.normal.y - y) + out * dy + b.arm * y;
    double pz = corner * (b.normal.z - z) + out * dz + b.arm * z;
    double sx = get_side (b.contacts.low.x, b.contacts.high.x, b.travel.low.x, b.travel.high.x, px,
                          x, b.stroke_low, b.stroke_high);
    double sy = get_side (b.contacts.low.y, b.contacts.high.y, b.travel.low.y, b.travel.high.y, py,
                          y, b.stroke_low, b.stroke_high);
    double sz = get_side (b.contacts.low.z, b.contacts.high.z, b.travel.low.z, b.travel.high.z, pz,
                          z, b.stroke_low, b.stroke_high);
    double least = lw_min (sx, lw_min (sy, sz));

    leeways[i] = facing >= -LW_FACING_SLACK ? least : -INFINITY;
  }
}
