/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "plan/reach.h"

#include <glib/gi18n.h>

#include "base/tolerances.h"

void
lw_reach_clear (LwReach *reach)
{
  g_clear_pointer (&reach->reason, g_free);
}

static LwReach
empty (const char *reason)
{
  return (LwReach){ .box = lw_box3_empty (), .reason = g_strdup (reason) };
}

/* Travel of the pivot in the table frame. */
static LwBox3
get_travel_box (const LwMachine *machine, const LwTable *table)
{
  const LwTravel *travel = machine->travel;
  LwBox3 box = { { travel[0].low, travel[1].low, travel[2].low },
                 { travel[0].high, travel[1].high, travel[2].high } };

  return lw_box3_move (box, lw_vec3_negate (table->origin));
}

/* Tips whose pivot stays in travel for every swing w in the box of swings. */
static LwReach
get_common (const LwMachine *machine, const LwTable *table, LwBox3 swings)
{
  LwBox3 travel = get_travel_box (machine, table);
  LwReach reach = { .exists = true };

  reach.box =
      (LwBox3){ lw_vec3_add (travel.low, swings.high), lw_vec3_add (travel.high, swings.low) };
  if (lw_box3_is_empty (reach.box)) {
    bool narrow = reach.box.low.x > reach.box.high.x;
    bool short_y = reach.box.low.y > reach.box.high.y;

    return empty (narrow    ? _ ("the tip swings wider than the X travel")
                  : short_y ? _ ("the tip swings wider than the Y travel")
                            : _ ("the tip swings higher than the Z travel"));
  }
  return reach;
}

/* Box of Rz(c)·w over c in [from, to]. */
static LwBox3
sweep_heading (LwVec3 w, double from, double to)
{
  double radius = hypot (w.x, w.y), azimuth = atan2 (w.y, w.x);
  LwBox3 box = lw_box3_empty ();
  double ends[2] = { from, to };

  for (int i = 0; i < 2; i++)
    box = lw_box3_add (box, lw_mat3_apply (lw_mat3_turn_z (ends[i]), w));
  for (double k = ceil ((from + azimuth) / (LW_PI / 2)); k * (LW_PI / 2) <= to + azimuth; k++) {
    double angle = k * (LW_PI / 2);

    box = lw_box3_add (box, lw_vec3 (radius * cos (angle), radius * sin (angle), w.z));
    if (k - (from + azimuth) / (LW_PI / 2) > 4)
      break;
  }
  return box;
}

/* A limit of C or tilt that a coupled rule tightens somewhere in the box would make it wrong: the
 * part of Z beyond the rule's threshold is given up, and the tightest other rule refuses. */
static bool
rule_may_bind (const LwMachine *machine, double t)
{
  for (int i = 0; i < machine->n_coupled; i++) {
    const LwCoupledLimit *rule = &machine->coupled[i];

    if (rule->axis == LW_AXIS_TILT && t >= rule->low && t <= rule->high)
      continue;
    return true;
  }
  return false;
}

/* Gives up the part of the pivots' box in which a coupled rule would bind at tilt t. */
static bool
cut_by_rules (const LwMachine *machine, const LwTable *table, LwBox3 swings, double t,
              LwReach *reach)
{
  for (int i = 0; i < machine->n_coupled; i++) {
    const LwCoupledLimit *rule = &machine->coupled[i];
    int axis = rule->when;

    if (rule->axis == LW_AXIS_TILT && t >= rule->low && t <= rule->high)
      continue;
    if (axis > LW_AXIS_Z)
      return false;
    if (rule->above)
      lw_vec3_set (&reach->box.high, axis,
                   fmin (lw_vec3_get (reach->box.high, axis),
                         rule->threshold - lw_vec3_get (table->origin, axis)
                             + lw_vec3_get (swings.low, axis)));
    else
      lw_vec3_set (&reach->box.low, axis,
                   fmax (lw_vec3_get (reach->box.low, axis),
                         rule->threshold - lw_vec3_get (table->origin, axis)
                             + lw_vec3_get (swings.high, axis)));
  }
  return !lw_box3_is_empty (reach->box);
}

static LwReach
get_reach (const LwMachine *machine, const LwTable *table, LwBox3 swings, double t)
{
  LwReach reach = get_common (machine, table, swings);

  if (reach.exists && rule_may_bind (machine, t)
      && !cut_by_rules (machine, table, swings, t, &reach)) {
    lw_reach_clear (&reach);
    return empty (_ ("a coupled limit of the machine rules this tilt out"));
  }
  return reach;
}

static bool
allows_tilt (const LwMachine *machine, double t)
{
  const LwTravel *travel = &machine->travel[LW_AXIS_TILT];

  return t >= travel->low - LW_INSIDE_TOL && t <= travel->high + LW_INSIDE_TOL;
}

static double
get_azimuth (const LwHead *head, double t)
{
  LwVec3 u = lw_head_get_tool_axis (head, 0, t);

  return hypot (u.x, u.y) < LW_STRAIGHT_DOWN ? 0 : atan2 (u.y, u.x);
}

/* The box of swings when branch t serves every heading it can and branch −t the rest; false when
 * some heading is left. Headings a turn apart are one. */
static bool
cover_headings (const LwMachine *machine, double length, double t, LwBox3 *swings, bool *mixed)
{
  const LwTravel *c = &machine->travel[LW_AXIS_C];
  LwVec3 w = lw_head_get_swing (&machine->head, length, 0, t);
  double span = c->high - c->low, gap_from, gap_to, shift;
  LwVec3 other;

  *mixed = false;
  if (span >= 2 * LW_PI - LW_INSIDE_TOL || !isfinite (span)) {
    double r = hypot (w.x, w.y);

    *swings = (LwBox3){ { -r, -r, w.z }, { r, r, w.z } };
    return true;
  }
  *swings = sweep_heading (w, c->low, c->high);
  if (!allows_tilt (machine, -t))
    return false;

  /* Headings from C+ round to C− + 360° are left to the other branch, whose C stands apart by the
   * difference of the two azimuths. */
  other = lw_head_get_swing (&machine->head, length, 0, -t);
  shift = get_azimuth (&machine->head, t) - get_azimuth (&machine->head, -t);
  gap_from = c->high + shift;
  gap_to = c->low + 2 * LW_PI + shift;
  for (int k = -2; k <= 2; k++) {
    double from = gap_from + 2 * LW_PI * k, to = gap_to + 2 * LW_PI * k;

    if (from >= c->low - LW_INSIDE_TOL && to <= c->high + LW_INSIDE_TOL) {
      *swings = lw_box3_unite (*swings, sweep_heading (other, from, to));
      *mixed = true;
      return true;
    }
  }
  return false;
}

static double
get_floor_area (const LwReach *reach)
{
  LwVec3 size = lw_box3_size (reach->box);

  return reach->exists ? size.x * size.y : -1;
}

LwReach
lw_reach_every_heading (const LwMachine *machine, const LwTable *table, double tip_length,
                        double tilt)
{
  LwReach best = empty (NULL);
  bool allowed = false;

  tilt = fabs (tilt);
  for (int branch = 0; branch < (tilt > 0 ? 2 : 1); branch++) {
    double t = branch == 0 ? tilt : -tilt;
    LwBox3 swings;
    LwReach reach;
    bool mixed;

    if (!allows_tilt (machine, t))
      continue;
    allowed = true;
    if (!cover_headings (machine, tip_length, t, &swings, &mixed))
      continue;
    reach = get_reach (machine, table, swings, t);
    if (mixed && reach.exists && rule_may_bind (machine, -t)
        && !cut_by_rules (machine, table, swings, -t, &reach)) {
      lw_reach_clear (&reach);
      reach = empty (_ ("a coupled limit of the machine rules this tilt out"));
    }
    if (get_floor_area (&reach) > get_floor_area (&best) || (!best.exists && best.reason == NULL)) {
      lw_reach_clear (&best);
      best = reach;
    } else {
      lw_reach_clear (&reach);
    }
  }
  if (!best.exists && best.reason == NULL)
    best.reason = g_strdup (!allowed ? _ ("the tilt axis does not go so far")
                                     : _ ("C does not cover every heading"));
  return best;
}

LwReach
lw_reach_one_heading (const LwMachine *machine, const LwTable *table, double tip_length,
                      double tilt, double heading)
{
  const LwTravel *c = &machine->travel[LW_AXIS_C];
  LwVec3 w = lw_head_get_swing (&machine->head, tip_length, heading, tilt);

  if (!allows_tilt (machine, tilt))
    return empty (_ ("the tilt axis does not go so far"));
  if (heading < c->low - LW_INSIDE_TOL || heading > c->high + LW_INSIDE_TOL)
    return empty (_ ("C does not go so far"));
  for (int i = 0; i < machine->n_coupled; i++)
    if (machine->coupled[i].axis == LW_AXIS_C
        && (heading < machine->coupled[i].low || heading > machine->coupled[i].high)
        && machine->coupled[i].when > LW_AXIS_Z)
      return empty (_ ("a coupled limit of the machine rules this heading out"));
  return get_reach (machine, table, (LwBox3){ w, w }, tilt);
}

static bool
is_inside (LwBox3 box, LwVec3 p)
{
  return p.x >= box.low.x && p.x <= box.high.x && p.y >= box.low.y && p.y <= box.high.y
         && p.z >= box.low.z && p.z <= box.high.z;
}

static bool
is_reachable (const LwMachine *machine, const LwTable *table, double length, LwVec3 tip,
              double tilt)
{
  LwReach reach = lw_reach_every_heading (machine, table, length, tilt);
  bool inside = reach.exists && is_inside (reach.box, tip);

  lw_reach_clear (&reach);
  return inside;
}

double
lw_reach_get_largest_tilt (const LwMachine *machine, const LwTable *table, double tip_length,
                           LwVec3 tip)
{
  const LwTravel *travel = &machine->travel[LW_AXIS_TILT];
  double end = fmin (fmax (travel->high, -travel->low), LW_PI);
  double step = lw_radians (1), low = 0, high;

  if (!is_reachable (machine, table, tip_length, tip, 0))
    return -1;
  for (high = step; high <= end; high += step) {
    if (!is_reachable (machine, table, tip_length, tip, high))
      break;
    low = high;
  }
  high = fmin (high, end);
  if (is_reachable (machine, table, tip_length, tip, high))
    return high;
  while (high - low > lw_radians (0.005)) {
    double middle = (low + high) / 2;

    if (is_reachable (machine, table, tip_length, tip, middle))
      low = middle;
    else
      high = middle;
  }
  return low;
}

/* Leeway of travel and of coupled rules alone at a held tip; the tilt axis' own end is looked at by
 * the caller. */
static double
get_leeway_at (const LwMachine *machine, const LwTable *table, double length, LwVec3 tip, double c,
               double t, LwLimit *limit)
{
  static const LwReserves reserves = { 1, 0.0175, 1 };
  LwVec3 w = lw_head_get_swing (&machine->head, length, c, t);
  LwPose pose = { lw_vec3_add (lw_vec3_sub (tip, w), table->origin), c, t };
  LwLeeway leeway = lw_travel_get_leeway (machine, &pose, &reserves);

  *limit = leeway.travel_limit;
  if (leeway.rotary_limit.rule >= 0 && leeway.rotary < 0) {
    *limit = leeway.rotary_limit;
    return fmin (leeway.travel, leeway.rotary);
  }
  return leeway.travel;
}

static LwTiltEnd
find_tilt_end (const LwMachine *machine, const LwTable *table, double length, LwVec3 tip, double c,
               double end)
{
  double step = lw_radians (0.5) * (end < 0 ? -1 : 1), from = 0;
  LwTiltEnd found = { .tilt = end };
  LwLimit limit;

  for (double t = 0;; t += step) {
    if (fabs (t) > fabs (end))
      t = end;
    if (get_leeway_at (machine, table, length, tip, c, t, &limit) < 0) {
      found = (LwTiltEnd){ true, t, limit };
      break;
    }
    from = t;
    if (t == end)
      return found;
  }
  while (fabs (found.tilt - from) > lw_radians (0.005)) {
    double middle = (found.tilt + from) / 2;

    if (get_leeway_at (machine, table, length, tip, c, middle, &limit) < 0) {
      found.tilt = middle;
      found.limit = limit;
    } else {
      from = middle;
    }
  }
  found.tilt = from;
  return found;
}

void
lw_reach_get_tilt_ends (const LwMachine *machine, const LwTable *table, double tip_length,
                        LwVec3 tip, double heading, LwTiltEnd *low, LwTiltEnd *high)
{
  const LwTravel *travel = &machine->travel[LW_AXIS_TILT];

  *low = find_tilt_end (machine, table, tip_length, tip, heading, fmin (travel->low, 0));
  *high = find_tilt_end (machine, table, tip_length, tip, heading, fmax (travel->high, 0));
}
