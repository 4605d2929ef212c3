/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/tolerances.h"
#include "plan/bound.h"
#include "plan/item.h"

/* Turns of C looked at: a machine's C limits are at most ±5 full turns. */
#define LW_MAX_TURNS 13

/* What is the same for all candidates at one item. */
typedef struct {
  const LwJudge *judge;
  const LwJudgeItem *item;
  const LwCandidates *candidates;
  LwBox3 contacts;                   /* machine frame */
  double travel_scale, rotary_scale; /* 1 / reserve */
  bool plain;                        /* the head has no offsets */
} Place;

static double
get_reserve_or (double reserve, double zero_counts_as)
{
  return reserve > 0 ? reserve : zero_counts_as;
}

/* Contact to tip for a candidate; false where the cutter can't touch: its end does not reach a
 * surface that faces away. */
static bool
get_to_tip (const Place *place, LwVec3 axis, LwVec3 *to_tip)
{
  const LwJudge *judge = place->judge;
  LwVec3 normal = place->candidates->normal;

  if (judge->track.items != NULL /* the tip itself is told */
      || (judge->region.triangles == NULL && judge->operation->region.n_points > 0)) {
    *to_tip = lw_vec3 (0, 0, 0);
    return true;
  }
  if (judge->operation->attitude.rule == LW_RULE_FLANK) {
    *to_tip = lw_flank_to_tip (judge->cutter, normal, axis, judge->operation->attitude.below);
    return true;
  }
  if (lw_vec3_dot (normal, normal) == 0) { /* a loop without normals, worked by the tool's end */
    *to_tip = lw_vec3 (0, 0, 0);
    return true;
  }
  *to_tip = lw_contact_to_tip (judge->cutter, normal, axis);
  return lw_vec3_dot (normal, axis) >= -LW_FACING_SLACK;
}

/* A way of the head to an axis, without inverse trigonometry: cos and sin of t and c. The inverse
 * of DESIGN §3; lw_head_solve() is the same in angles. */
typedef struct {
  double cos_t, sin_t, cos_c, sin_c;
  bool c_free;
} Turn;

static bool
get_turn (const LwHead *head, LwVec3 axis, int branch, Turn *turn)
{
  double nz = head->n.z, nz2 = nz * nz;
  double cos_t = (axis.z - nz2) / (1 - nz2);
  double mx, my, m2;

  if (cos_t < -1 - LW_COSINE_SLACK)
    return false;
  turn->c_free =
      axis.x * axis.x + axis.y * axis.y < LW_STRAIGHT_DOWN * LW_STRAIGHT_DOWN && axis.z > 0;
  if (turn->c_free) {
    *turn = (Turn){ 1, 0, 1, 0, true };
    return branch == 0;
  }
  cos_t = lw_max (-1, lw_min (1, cos_t));
  turn->cos_t = cos_t;
  turn->sin_t = (branch == 0 ? 1 : -1) * sqrt (1 - cos_t * cos_t);
  mx = head->n.y * turn->sin_t + head->n.x * nz * (1 - cos_t);
  my = -head->n.x * turn->sin_t + head->n.y * nz * (1 - cos_t);
  m2 = mx * mx + my * my;
  if (m2 > 0) {
    turn->cos_c = (axis.x * mx + axis.y * my) / m2;
    turn->sin_c = (axis.y * mx - axis.x * my) / m2;
  } else { /* straight up on a B or A head: c is free there too */
    turn->cos_c = 1;
    turn->sin_c = 0;
  }
  return true;
}

/* Rz(c) · (e + R(n,t) · s). */
static LwVec3
get_head_offset (const LwHead *head, const Turn *turn)
{
  LwVec3 n = head->n, s = head->s;
  double along = lw_vec3_dot (n, s) * (1 - turn->cos_t);
  LwVec3 cross = lw_vec3_cross (n, s);
  LwVec3 h = { head->e.x + s.x * turn->cos_t + cross.x * turn->sin_t + n.x * along,
               head->e.y + s.y * turn->cos_t + cross.y * turn->sin_t + n.y * along,
               head->e.z + s.z * turn->cos_t + cross.z * turn->sin_t + n.z * along };

  return lw_vec3 (turn->cos_c * h.x - turn->sin_c * h.y, turn->sin_c * h.x + turn->cos_c * h.y,
                  h.z);
}

static LwBox3
get_stroke_box (const LwJudge *judge, LwBox3 contacts, const LwChoice *choice)
{
  LwVec3 a = lw_vec3_add_scaled (choice->to_pivot, choice->axis, choice->stroke_low);
  LwVec3 b = lw_vec3_add_scaled (choice->to_pivot, choice->axis, judge->stroke_high);

  return (LwBox3){ lw_vec3_add (contacts.low, lw_vec3_min (a, b)),
                   lw_vec3_add (contacts.high, lw_vec3_max (a, b)) };
}

static inline double
get_travel (const LwMachine *machine, const LwBox3 *pivots)
{
  const LwTravel *travel = machine->travel;
  double x =
      lw_min (pivots->low.x - travel[LW_AXIS_X].low, travel[LW_AXIS_X].high - pivots->high.x);
  double y =
      lw_min (pivots->low.y - travel[LW_AXIS_Y].low, travel[LW_AXIS_Y].high - pivots->high.y);
  double z =
      lw_min (pivots->low.z - travel[LW_AXIS_Z].low, travel[LW_AXIS_Z].high - pivots->high.z);

  return lw_min (x, lw_min (y, z));
}

/* The headings c + 2πk inside what the machine and the operation allow, nearest 0 first; where none
 * is inside the machine's limits, the one least beyond. At most LW_MAX_TURNS; answers how many. */
static int
list_headings (const LwJudge *judge, double c, bool c_free, double headings[LW_MAX_TURNS])
{
  const LwTravel *travel = &judge->machine->travel[LW_AXIS_C];
  const LwAttitude *attitude = &judge->operation->attitude;
  double low = travel->low, high = travel->high, away = c > 0 ? -2 * LW_PI : 2 * LW_PI;
  int n = 0;

  if (attitude->has_heading) {
    low = lw_max (low, attitude->heading_low);
    high = lw_min (high, attitude->heading_high);
  }
  if (c_free && low <= high) {
    headings[0] = lw_max (low, lw_min (high, 0));
    return 1;
  }
  for (int k = 0; k < LW_MAX_TURNS; k++) {
    double turned = c + away * (k % 2 == 1 ? (k + 1) / 2 : -k / 2);

    if (turned >= low - LW_INSIDE_TOL && turned <= high + LW_INSIDE_TOL)
      headings[n++] = turned;
    if (!isfinite (low) && n == 1)
      return 1;
  }
  if (n == 0 && !attitude->has_heading) {
    double middle = (low + high) / 2;

    headings[n++] = c + 2 * LW_PI * ceil ((middle - c) / (2 * LW_PI) - 0.5);
  }
  return n;
}

static int
get_way (const LwChoice *choice)
{
  return 2 * choice->candidate + choice->branch;
}

static void
take_if_better (const Place *place, const LwChoice *choice, const LwBox3 *pivots, LwChoice *best)
{
  const LwJudge *judge = place->judge;
  const LwAttitude *attitude = &judge->operation->attitude;
  const LwTravel *travel = judge->machine->travel;
  LwChoice found = *choice;

  if (attitude->has_tilt
      && (found.t < attitude->tilt_low - LW_INSIDE_TOL
          || found.t > attitude->tilt_high + LW_INSIDE_TOL))
    return;

  if (judge->machine->n_coupled > 0) {
    LwLeeway leeway = lw_travel_get_leeway_of_box (judge->machine, pivots, found.c, found.t,
                                                   &judge->job->reserves);

    found.travel = leeway.travel;
    found.rotary = leeway.rotary;
  } else {
    double of_c = lw_min (found.c - travel[LW_AXIS_C].low, travel[LW_AXIS_C].high - found.c);
    double of_t = lw_min (found.t - travel[LW_AXIS_TILT].low, travel[LW_AXIS_TILT].high - found.t);

    found.rotary = lw_min (of_c, of_t);
  }
  found.slack = lw_min (found.travel * place->travel_scale, found.rotary * place->rotary_scale);
  if (found.slack > best->slack + LW_TIE
      || (found.slack >= best->slack - LW_TIE && get_way (&found) < get_way (best)))
    *best = found;
}

/* A way: candidate × 2 + branch. A head without offsets has the same travel by both branches. */
#define LW_MAX_WAYS (2 * LW_MAX_CANDIDATES)

/* Sets what a way says of pivot and travel; false where the head or the cutter can't take it. */
static bool
set_way (const Place *place, int way, LwChoice *choice, Turn *turn, LwBox3 *pivots)
{
  const LwJudge *judge = place->judge;
  const LwHead *head = &judge->machine->head;
  LwVec3 from;

  choice->candidate = way / 2;
  choice->branch = way % 2;
  choice->axis = lw_candidates_get (place->candidates, choice->candidate);
  choice->stroke_low = place->item->stroke_low;
  if (!get_to_tip (place, choice->axis, &choice->to_tip)
      || !get_turn (head, choice->axis, choice->branch, turn))
    return false;
  from = place->plain ? choice->to_tip : lw_vec3_sub (choice->to_tip, get_head_offset (head, turn));
  choice->to_pivot =
      lw_vec3_add_scaled (from, choice->axis, head->pivot_length + judge->tip_length);
  *pivots = get_stroke_box (judge, place->contacts, choice);
  choice->travel = get_travel (judge->machine, pivots);
  return true;
}

/* Whether the inner loop of bound.h serves: end contact, head without offsets. */
static bool
is_end_contact (const LwJudge *judge)
{
  return judge->region.triangles != NULL && judge->operation->attitude.rule != LW_RULE_FLANK;
}

/* An upper bound of slack: of each candidate for a head without offsets, whose travel is the same
 * by both branches, else of each way, by travel alone. −INFINITY where it can't be taken. Answers
 * how many. */
static int
bound_ways (const Place *place, double bounds[LW_MAX_WAYS])
{
  const LwJudge *judge = place->judge;
  int n = place->candidates->n * (place->plain ? 1 : 2);

  if (place->plain && is_end_contact (judge)) {
    const LwTravel *tilt = &judge->machine->travel[LW_AXIS_TILT];
    LwBound bound = { .contacts = place->contacts,
                      .travel = judge->travel,
                      .normal = place->candidates->normal,
                      .cutter = judge->cutter,
                      .arm = judge->machine->head.pivot_length + judge->tip_length,
                      .stroke_low = place->item->stroke_low,
                      .stroke_high = judge->stroke_high,
                      .nz = judge->machine->head.n.z,
                      .tilt_low = tilt->low,
                      .tilt_high = tilt->high,
                      .travel_scale = place->travel_scale,
                      .rotary_scale = place->rotary_scale };

    lw_bound_slacks (&bound, place->candidates, bounds);
    return n;
  }
  for (int i = 0; i < n; i++) {
    LwChoice choice;
    LwBox3 pivots;
    Turn turn;

    bounds[i] = set_way (place, place->plain ? 2 * i : i, &choice, &turn, &pivots)
                    ? choice.travel * place->travel_scale
                    : -INFINITY;
  }
  return n;
}

static void
try_way (const Place *place, int way, LwChoice *best)
{
  double headings[LW_MAX_TURNS];
  LwChoice choice;
  LwBox3 pivots;
  Turn turn;
  int n;

  if (!set_way (place, way, &choice, &turn, &pivots))
    return;
  choice.t = atan2 (turn.sin_t, turn.cos_t);
  n = list_headings (place->judge, atan2 (turn.sin_c, turn.cos_c), turn.c_free, headings);
  for (int i = 0; i < n; i++) {
    choice.c = headings[i];
    take_if_better (place, &choice, &pivots, best);
  }
}

/* Whether a way of that bound could still win, by slack or, tied, by coming earlier. */
static bool
may_win (double bound, int way, const LwChoice *best)
{
  return bound > best->slack + LW_TIE || (bound >= best->slack - LW_TIE && way < get_way (best));
}

/* The way of greatest slack. Ways are tried from the greatest bound down, so that inverse
 * trigonometry is spent on one or two of them; the rest can't be better. */
static void
try_ways (const Place *place, LwChoice *best)
{
  double bounds[LW_MAX_WAYS];
  int n = bound_ways (place, bounds), each = place->plain ? 2 : 1;

  for (;;) {
    int next = 0;

    for (int i = 1; i < n; i++)
      if (bounds[i] > bounds[next])
        next = i;
    if (!(bounds[next] > -INFINITY) || bounds[next] < best->slack - LW_TIE)
      return;
    for (int way = each * next; way < each * (next + 1); way++)
      if (may_win (bounds[next], way, best))
        try_way (place, way, best);
    bounds[next] = -INFINITY;
  }
}

static LwBox3
get_contact_box (const LwJudge *judge, const LwVec3 *contacts, int n)
{
  LwBox3 box = lw_box3_empty ();

  for (int i = 0; i < n; i++)
    box = lw_box3_add (box, contacts[i]);
  return lw_box3_move (box, judge->table->origin);
}

LwChoice
lw_judge_choose_at (const LwJudge *judge, const LwJudgeItem *item)
{
  const LwReserves *reserves = &judge->job->reserves;
  LwCandidates candidates;
  Place place = { judge,
                  item,
                  &candidates,
                  get_contact_box (judge, item->contacts, item->n_contacts),
                  1 / get_reserve_or (reserves->travel, 1),
                  1 / get_reserve_or (reserves->rotary, lw_radians (1)),
                  lw_head_is_plain (&judge->machine->head) };
  LwChoice best = { .slack = -INFINITY, .travel = NAN, .rotary = NAN, .candidate = -1 };

  lw_candidate_fan_at (&judge->fan, judge->placed->turn, item->normal, item->own, &candidates);
  if (candidates.n > 0)
    try_ways (&place, &best);
  return best;
}

LwChoice
lw_judge_choose (const LwJudge *judge, uint32_t item, LwVec3 contacts[3], int *n_contacts)
{
  LwJudgeItem found;

  lw_judge_get_item (judge, item, &found);
  for (int i = 0; i < found.n_contacts; i++)
    contacts[i] = found.contacts[i];
  *n_contacts = found.n_contacts;
  return lw_judge_choose_at (judge, &found);
}

LwBox3
lw_judge_get_pivots (const LwJudge *judge, const LwChoice *choice, const LwVec3 *contacts,
                     int n_contacts)
{
  return get_stroke_box (judge, get_contact_box (judge, contacts, n_contacts), choice);
}
