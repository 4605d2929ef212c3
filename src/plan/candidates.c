/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "plan/candidates.h"

#include <string.h>

#include "base/tolerances.h"

static void
add_axis (LwCandidateFan *fan, double lean, double azimuth)
{
  fan->along[fan->n] = cos (lean);
  fan->first[fan->n] = sin (lean) * cos (azimuth);
  fan->second[fan->n] = sin (lean) * sin (azimuth);
  fan->n++;
}

static void
add_ring (LwCandidateFan *fan, double lean, int n)
{
  for (int i = 0; i < n; i++)
    add_axis (fan, lean, 2 * LW_PI * i / n);
}

static void
add_turns_about_normal (LwCandidateFan *fan, double turn)
{
  fan->along[fan->n] = cos (turn);
  fan->first[fan->n++] = sin (turn);
}

void
lw_candidate_fan_init (LwCandidateFan *fan, const LwAttitude *attitude)
{
  *fan = (LwCandidateFan){ .rule = attitude->rule, .direction = attitude->direction };

  if (attitude->rule == LW_RULE_NORMAL) {
    if (attitude->lean_min <= 0)
      add_axis (fan, 0, 0);
    if (attitude->lean > 0 && attitude->lean / 2 >= attitude->lean_min)
      add_ring (fan, attitude->lean / 2, 6);
    if (attitude->lean > 0)
      add_ring (fan, attitude->lean, 12);
  } else if (attitude->rule == LW_RULE_FLANK) {
    add_turns_about_normal (fan, 0);
    if (attitude->lean > 0)
      for (int i = 0; i < 4; i++)
        add_turns_about_normal (fan, attitude->lean * (i < 2 ? 0.5 : 1) * (i % 2 ? -1 : 1));
  } else {
    fan->n = 1;
  }
}

/* Azimuth 0: part +Z projected on the facet, part +X where the normal is within 1° of Z. */
static LwVec3
find_azimuth_zero (LwVec3 normal)
{
  bool near_z = normal.x * normal.x + normal.y * normal.y < LW_NEAR_Z * LW_NEAR_Z;
  LwVec3 towards = near_z ? lw_vec3 (1, 0, 0) : lw_vec3 (0, 0, 1);

  return lw_vec3_unit (lw_vec3_add_scaled (towards, normal, -lw_vec3_dot (towards, normal)));
}

static void
spread (const LwCandidateFan *fan, LwVec3 along, LwVec3 first, LwVec3 second,
        LwCandidates *candidates)
{
  candidates->n = fan->n;
  for (int i = 0; i < LW_CANDIDATE_ROOM; i++) {
    double a = fan->along[i], b = fan->first[i], c = fan->second[i];

    candidates->x[i] = a * along.x + b * first.x + c * second.x;
    candidates->y[i] = a * along.y + b * first.y + c * second.y;
    candidates->z[i] = a * along.z + b * first.z + c * second.z;
  }
}

void
lw_candidate_fan_at (const LwCandidateFan *fan, LwMat3 turn, LwVec3 normal, LwVec3 own,
                     LwCandidates *candidates)
{
  candidates->normal = lw_mat3_apply (turn, normal);

  if (fan->rule == LW_RULE_NORMAL) {
    LwVec3 first = lw_mat3_apply (turn, find_azimuth_zero (normal));

    spread (fan, candidates->normal, first, lw_vec3_cross (candidates->normal, first), candidates);
  } else if (fan->rule == LW_RULE_FLANK) {
    LwVec3 in_surface =
        lw_vec3_add_scaled (fan->direction, normal, -lw_vec3_dot (fan->direction, normal));
    LwVec3 along = lw_mat3_apply (turn, lw_vec3_unit (in_surface));

    if (lw_vec3_length (in_surface) < LW_FLANK_MIN)
      candidates->n = 0;
    else
      spread (fan, along, lw_vec3_cross (candidates->normal, along), lw_vec3 (0, 0, 0), candidates);
  } else {
    bool has_own = lw_vec3_dot (own, own) > 0;
    LwVec3 axis = lw_mat3_apply (turn, has_own ? own : fan->direction);

    candidates->n = 1;
    memset (candidates->x, 0, sizeof candidates->x);
    memset (candidates->y, 0, sizeof candidates->y);
    memset (candidates->z, 0, sizeof candidates->z);
    candidates->x[0] = axis.x;
    candidates->y[0] = axis.y;
    candidates->z[0] = axis.z;
  }
}
