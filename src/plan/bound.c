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

/* acos within 2e-8 for |x| ≤ 1. Source: M. Abramowitz, I. Stegun, Handbook of Mathematical
 * Functions (1964), 4.4.46. */
static inline double
get_arc (double x)
{
  double a = fabs (x);
  double p = -0.0012624911;

  p = p * a + 0.0066700901;
  p = p * a - 0.0170881256;
  p = p * a + 0.0308918810;
  p = p * a - 0.0501743046;
  p = p * a + 0.0889789874;
  p = p * a - 0.2145988016;
  p = (p * a + 1.5707963050) * sqrt (1 - lw_min (a, 1));
  return x < 0 ? LW_PI - p : p;
}

/* Straight lines and selects only, over arrays of a fixed length, so that the compiler makes vector
 * code of it. The tip stands r_c (ν − u) + (ρ − r_c) d off the contact (plan/contact.h), the pivot
 * P + L further along u; cos t = (u.z − n.z²) / (1 − n.z²). */
void
lw_bound_slacks (const LwBound *bound, const LwCandidates *candidates, double *slacks)
{
  const LwBound b = *bound;
  double rim = b.cutter.radius - b.cutter.corner, corner = b.cutter.corner;
  double nz2 = b.nz * b.nz, over_sideways = 1 / (1 - nz2);
  const double *restrict ux = candidates->x, *restrict uy = candidates->y,
                         *restrict uz = candidates->z;

  for (int i = 0; i < LW_CANDIDATE_ROOM; i++) {
    double x = ux[i], y = uy[i], z = uz[i];
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
    double travel = lw_min (sx, lw_min (sy, sz)) * b.travel_scale;
    double cos_t = (z - nz2) * over_sideways;
    double t = get_arc (lw_max (-1, cos_t));
    double plus = lw_min (t - b.tilt_low, b.tilt_high - t);
    double minus = lw_min (-t - b.tilt_low, b.tilt_high + t);
    double rotary = (lw_max (plus, minus) + LW_ARC_ERROR) * b.rotary_scale;

    slacks[i] = facing >= -LW_FACING_SLACK && cos_t >= -1 - LW_COSINE_SLACK
                    ? lw_min (travel, rotary)
                    : -INFINITY;
  }
}
