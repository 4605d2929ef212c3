/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "machine/head.h"

#include "base/tolerances.h"

/* Three of the ten numbers of a head can't be seen from outside:
 *
 *     e → e − a n,  s → s + a n     since R(n,t) leaves n where it is
 *     s → s − b ez, P → P − b       since s and P stand in s − (P + L) ez alone
 *     e → e − d ez, pivot + d ez    since Rz(c) leaves ez where it is
 *
 * From e'·n = 0 and e'.z = 0:  a (1 − n.z²) = e·n − e.z n.z  and  d = e.z − a n.z. */
bool
lw_head_normalize (LwHead *head, LwVec3 *pivot_shift)
{
  const LwVec3 ez = { 0, 0, 1 };
  LwVec3 n = head->n, e = head->e;
  double a = (lw_vec3_dot (e, n) - e.z * n.z) / (1 - n.z * n.z);
  double d = e.z - a * n.z;
  LwVec3 s = lw_vec3_add_scaled (head->s, n, a);
  double b = s.z;

  head->e = lw_vec3_add_scaled (lw_vec3_add_scaled (e, n, -a), ez, -d);
  head->e.z = 0;
  head->s = lw_vec3 (s.x, s.y, 0);
  head->pivot_length -= b;
  *pivot_shift = lw_vec3 (0, 0, d);
  return fabs (a) > LW_FORM_TOL || fabs (b) > LW_FORM_TOL || fabs (d) > LW_FORM_TOL;
}

bool
lw_head_is_plain (const LwHead *head)
{
  return lw_vec3_length (head->e) == 0 && lw_vec3_length (head->s) == 0;
}

double
lw_head_get_reach (const LwHead *head)
{
  double sideways = hypot (head->n.x, head->n.y);

  return 2 * atan2 (sideways, fabs (head->n.z));
}

/* R(n,t) · ez, by Rodrigues. */
static LwVec3
tilted_z (LwVec3 n, double t)
{
  double s = sin (t), v = 2 * sin (t / 2) * sin (t / 2);

  return lw_vec3 (n.y * s + n.z * n.x * v, -n.x * s + n.z * n.y * v,
                  1 - v * (n.x * n.x + n.y * n.y));
}

LwVec3
lw_head_get_tool_axis (const LwHead *head, double c, double t)
{
  return lw_mat3_apply (lw_mat3_turn_z (c), tilted_z (head->n, t));
}

/* w at c = 0. */
static LwVec3
swing_at_zero (const LwHead *head, double tip_length, double t)
{
  LwVec3 arm = head->s;

  arm.z -= head->pivot_length + tip_length;
  return lw_vec3_add (head->e, lw_mat3_apply (lw_mat3_turn (head->n, t), arm));
}

LwVec3
lw_head_get_swing (const LwHead *head, double tip_length, double c, double t)
{
  return lw_mat3_apply (lw_mat3_turn_z (c), swing_at_zero (head, tip_length, t));
}

double
lw_head_get_radius (const LwHead *head, double tip_length, double t)
{
  LwVec3 w = swing_at_zero (head, tip_length, t);

  return hypot (w.x, w.y);
}

/* Into (−π, π]. */
static double
wrap (double angle)
{
  double wrapped = remainder (angle, 2 * LW_PI);

  return wrapped <= -LW_PI ? wrapped + 2 * LW_PI : wrapped;
}

static LwBranch
branch_at (const LwHead *head, LwVec3 u, double t)
{
  LwVec3 z = tilted_z (head->n, t);

  return (LwBranch){ .c = wrap (atan2 (u.y, u.x) - atan2 (z.y, z.x)), .t = t };
}

/* u.z = 1 − (1 − cos t) sin²φ, written with half angles so that neither end loses digits:
 *
 *     sin²(t/2) ∝ 1 − u.z,  cos²(t/2) ∝ (1 + u.z) − 2 cos²φ
 *
 * and 1 ∓ u.z by |u_xy|² on the side where the subtraction would cancel. The heading then follows
 * from the tilt that was found, so what cos t was short of by rounding does not show in it. */
LwBranches
lw_head_solve (const LwHead *head, LwVec3 tool_axis)
{
  LwVec3 u = lw_vec3_unit (tool_axis), n = head->n;
  double across = hypot (u.x, u.y), sideways = n.x * n.x + n.y * n.y;
  double below_top = u.z > 0 ? across * across / (1 + u.z) : 1 - u.z;
  double above_bottom = u.z < 0 ? across * across / (1 - u.z) : 1 + u.z;
  double over_reach = above_bottom - 2 * n.z * n.z;
  LwBranches out = { 0 };
  double t;

  if (across < LW_STRAIGHT_DOWN && u.z > 0) {
    out.n = 1;
    out.c_free = true;
    return out;
  }
  if (!(lw_vec3_length (u) > 0) || over_reach < -LW_COSINE_SLACK * sideways)
    return out;
  if (across < LW_STRAIGHT_DOWN) { /* straight up, for a tilt axis that lies level */
    out.n = 1;
    out.c_free = true;
    out.branch[0].t = LW_PI;
    return out;
  }
  if (n.z != 0 && over_reach <= LW_COSINE_SLACK * sideways) {
    out.n = 1;
    out.branch[0] = branch_at (head, u, LW_PI);
    return out;
  }
  t = 2 * atan2 (sqrt (below_top), sqrt (fmax (over_reach, 0)));
  out.n = 2;
  out.branch[0] = branch_at (head, u, t);
  out.branch[1] = branch_at (head, u, -t);
  return out;
}
