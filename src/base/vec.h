/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <math.h>
#include <stdbool.h>

/* Vectors, 3x3 matrices and boxes. Millimetres and radians unless a name says otherwise. */

typedef struct {
  double x, y, z;
} LwVec3;

/* Columns are the images of the axes: m * v = c0 v.x + c1 v.y + c2 v.z. */
typedef struct {
  LwVec3 c0, c1, c2;
} LwMat3;

/* Empty when low > high on any axis. */
typedef struct {
  LwVec3 low, high;
} LwBox3;

#define LW_PI 3.14159265358979323846

/* Least and greatest without fmin()'s care for NaN, which costs a call: where one operand is not a
 * number, the second is the answer. */
static inline double
lw_min (double a, double b)
{
  return a < b ? a : b;
}

static inline double
lw_max (double a, double b)
{
  return a > b ? a : b;
}

static inline double
lw_radians (double degrees)
{
  return degrees * (LW_PI / 180.0);
}

static inline double
lw_degrees (double radians)
{
  return radians * (180.0 / LW_PI);
}

static inline LwVec3
lw_vec3 (double x, double y, double z)
{
  return (LwVec3){ x, y, z };
}

static inline LwVec3
lw_vec3_add (LwVec3 a, LwVec3 b)
{
  return lw_vec3 (a.x + b.x, a.y + b.y, a.z + b.z);
}

static inline LwVec3
lw_vec3_sub (LwVec3 a, LwVec3 b)
{
  return lw_vec3 (a.x - b.x, a.y - b.y, a.z - b.z);
}

static inline LwVec3
lw_vec3_scale (LwVec3 a, double s)
{
  return lw_vec3 (a.x * s, a.y * s, a.z * s);
}

/* a + s b */
static inline LwVec3
lw_vec3_add_scaled (LwVec3 a, LwVec3 b, double s)
{
  return lw_vec3 (a.x + s * b.x, a.y + s * b.y, a.z + s * b.z);
}

static inline LwVec3
lw_vec3_negate (LwVec3 a)
{
  return lw_vec3 (-a.x, -a.y, -a.z);
}

static inline double
lw_vec3_dot (LwVec3 a, LwVec3 b)
{
  return a.x * b.x + a.y * b.y + a.z * b.z;
}

static inline LwVec3
lw_vec3_cross (LwVec3 a, LwVec3 b)
{
  return lw_vec3 (a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x);
}

static inline double
lw_vec3_length (LwVec3 a)
{
  return sqrt (lw_vec3_dot (a, a));
}

/* The zero vector stays zero. */
static inline LwVec3
lw_vec3_unit (LwVec3 a)
{
  double length = lw_vec3_length (a);

  return length > 0 ? lw_vec3_scale (a, 1 / length) : a;
}

/* Angle between two vectors, rad, 0 to π; accurate near both ends. */
static inline double
lw_vec3_angle (LwVec3 a, LwVec3 b)
{
  return atan2 (lw_vec3_length (lw_vec3_cross (a, b)), lw_vec3_dot (a, b));
}

/* The unit vector a share (0 to 1) of the way from one unit vector to another on their great
 * circle. Opposite ones have no one way: what comes out then is the first. */
static inline LwVec3
lw_vec3_between (LwVec3 from, LwVec3 to, double share)
{
  double angle = lw_vec3_angle (from, to), whole = sin (angle);
  LwVec3 mixed;

  if (share <= 0 || share >= 1)
    return share <= 0 ? from : to;
  if (!(whole > 1e-12))
    return lw_vec3_dot (from, to) > 0 ? to : from;
  mixed = lw_vec3_scale (from, sin ((1 - share) * angle) / whole);
  return lw_vec3_unit (lw_vec3_add_scaled (mixed, to, sin (share * angle) / whole));
}

static inline double
lw_vec3_get (LwVec3 a, int axis)
{
  return axis == 0 ? a.x : axis == 1 ? a.y : a.z;
}

static inline void
lw_vec3_set (LwVec3 *a, int axis, double value)
{
  *(axis == 0 ? &a->x : axis == 1 ? &a->y : &a->z) = value;
}

static inline LwVec3
lw_vec3_min (LwVec3 a, LwVec3 b)
{
  return lw_vec3 (lw_min (a.x, b.x), lw_min (a.y, b.y), lw_min (a.z, b.z));
}

static inline LwVec3
lw_vec3_max (LwVec3 a, LwVec3 b)
{
  return lw_vec3 (lw_max (a.x, b.x), lw_max (a.y, b.y), lw_max (a.z, b.z));
}

static inline bool
lw_vec3_finite (LwVec3 a)
{
  return isfinite (a.x) && isfinite (a.y) && isfinite (a.z);
}

static inline LwMat3
lw_mat3_identity (void)
{
  return (LwMat3){ { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
}

static inline LwVec3
lw_mat3_apply (LwMat3 m, LwVec3 v)
{
  return lw_vec3 (m.c0.x * v.x + m.c1.x * v.y + m.c2.x * v.z,
                  m.c0.y * v.x + m.c1.y * v.y + m.c2.y * v.z,
                  m.c0.z * v.x + m.c1.z * v.y + m.c2.z * v.z);
}

/* The inverse of a rotation applied to v. */
static inline LwVec3
lw_mat3_apply_transposed (LwMat3 m, LwVec3 v)
{
  return lw_vec3 (lw_vec3_dot (m.c0, v), lw_vec3_dot (m.c1, v), lw_vec3_dot (m.c2, v));
}

static inline LwMat3
lw_mat3_multiply (LwMat3 a, LwMat3 b)
{
  return (LwMat3){ lw_mat3_apply (a, b.c0), lw_mat3_apply (a, b.c1), lw_mat3_apply (a, b.c2) };
}

static inline LwMat3
lw_mat3_transpose (LwMat3 m)
{
  return (
      LwMat3){ { m.c0.x, m.c1.x, m.c2.x }, { m.c0.y, m.c1.y, m.c2.y }, { m.c0.z, m.c1.z, m.c2.z } };
}

static inline double
lw_mat3_determinant (LwMat3 m)
{
  return lw_vec3_dot (m.c0, lw_vec3_cross (m.c1, m.c2));
}

/* Right-handed turn about a unit axis (Rodrigues). */
static inline LwMat3
lw_mat3_turn (LwVec3 axis, double angle_rad)
{
  double c = cos (angle_rad), s = sin (angle_rad), v = 1 - c;
  double x = axis.x, y = axis.y, z = axis.z;

  return (LwMat3){ { c + x * x * v, z * s + y * x * v, -y * s + z * x * v },
                   { -z * s + x * y * v, c + y * y * v, x * s + z * y * v },
                   { y * s + x * z * v, -x * s + y * z * v, c + z * z * v } };
}

static inline LwMat3
lw_mat3_turn_z (double angle_rad)
{
  double c = cos (angle_rad), s = sin (angle_rad);

  return (LwMat3){ { c, s, 0 }, { -s, c, 0 }, { 0, 0, 1 } };
}

static inline LwBox3
lw_box3_empty (void)
{
  return (LwBox3){ { INFINITY, INFINITY, INFINITY }, { -INFINITY, -INFINITY, -INFINITY } };
}

static inline bool
lw_box3_is_empty (LwBox3 box)
{
  return !(box.low.x <= box.high.x && box.low.y <= box.high.y && box.low.z <= box.high.z);
}

static inline LwBox3
lw_box3_add (LwBox3 box, LwVec3 point)
{
  return (LwBox3){ lw_vec3_min (box.low, point), lw_vec3_max (box.high, point) };
}

static inline LwBox3
lw_box3_unite (LwBox3 a, LwBox3 b)
{
  return (LwBox3){ lw_vec3_min (a.low, b.low), lw_vec3_max (a.high, b.high) };
}

static inline LwBox3
lw_box3_intersect (LwBox3 a, LwBox3 b)
{
  return (LwBox3){ lw_vec3_max (a.low, b.low), lw_vec3_min (a.high, b.high) };
}

static inline LwBox3
lw_box3_move (LwBox3 box, LwVec3 by)
{
  return (LwBox3){ lw_vec3_add (box.low, by), lw_vec3_add (box.high, by) };
}

static inline LwVec3
lw_box3_center (LwBox3 box)
{
  return lw_vec3_scale (lw_vec3_add (box.low, box.high), 0.5);
}

static inline LwVec3
lw_box3_size (LwBox3 box)
{
  return lw_vec3_sub (box.high, box.low);
}
