/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "shape/solid.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/tolerances.h"

static const char *const kind_words[] = { "box",     "cylinder", "frustum", "sphere",
                                          "capsule", "hull",     "mesh",    NULL };
static const char *const unit_words[] = { "mm", "cm", "m", "in", "ft", NULL };
static const double unit_mm[] = { 1, 10, 1000, 25.4, 304.8 };

LwVec3
lw_in_place (LwIn *in, const char *key)
{
  double v[3] = { 0 };

  if (lw_in_numbers (in, key, v, 3, true))
    for (int i = 0; i < 3; i++)
      if (fabs (v[i]) > LW_FAR_MM)
        lw_in_fail (in, key, _ ("must lie within 1000 m of the origin"));
  return lw_vec3 (v[0], v[1], v[2]);
}

static double
read_radius (LwIn *in, const char *key)
{
  return lw_in_number (in, key, lw_above (0), LW_FAR_MM);
}

static void
read_box (LwSolid *solid, LwIn *in)
{
  solid->a = lw_in_place (in, "min_mm");
  solid->b = lw_in_place (in, "max_mm");
  for (int i = 0; i < 3 && !lw_in_failed (in); i++)
    if (!(lw_vec3_get (solid->a, i) < lw_vec3_get (solid->b, i)))
      lw_in_fail (in, "max_mm", _ ("must be above min_mm in %c"), 'x' + i);
}

static void
read_ends (LwSolid *solid, LwIn *in)
{
  solid->a = lw_in_place (in, "from_mm");
  solid->b = lw_in_place (in, "to_mm");
  if (!lw_in_failed (in) && !(lw_vec3_length (lw_vec3_sub (solid->b, solid->a)) > LW_POINT_TOL))
    lw_in_fail (in, "to_mm", _ ("must be another point than from_mm"));
}

static void
read_frustum (LwSolid *solid, LwIn *in)
{
  read_ends (solid, in);
  solid->r_a = lw_in_number (in, "r_from_mm", 0, LW_FAR_MM);
  solid->r_b = lw_in_number (in, "r_to_mm", 0, LW_FAR_MM);
  if (!lw_in_failed (in) && !(solid->r_a > 0 || solid->r_b > 0))
    lw_in_fail (in, "r_to_mm", _ ("must be above 0 mm where r_from_mm is 0"));
}

/* Whether some four points span a volume: the widest pair, the point furthest from their line, the
 * point furthest from that plane. */
static bool
spans_volume (const LwVec3 *points, int n)
{
  LwVec3 along = { 0 }, normal = { 0 };
  double highest = 0;

  for (int i = 1; i < n; i++) {
    LwVec3 d = lw_vec3_sub (points[i], points[0]);

    if (lw_vec3_length (d) > lw_vec3_length (along))
      along = d;
  }
  for (int i = 1; i < n; i++) {
    LwVec3 cross = lw_vec3_cross (lw_vec3_unit (along), lw_vec3_sub (points[i], points[0]));

    if (lw_vec3_length (cross) > lw_vec3_length (normal))
      normal = cross;
  }
  for (int i = 1; i < n; i++)
    highest = fmax (highest,
                    fabs (lw_vec3_dot (lw_vec3_unit (normal), lw_vec3_sub (points[i], points[0]))));
  return lw_vec3_length (normal) > LW_POINT_TOL && highest > LW_POINT_TOL;
}

static void
read_hull (LwSolid *solid, LwIn *in)
{
  solid->points = lw_in_points (in, "points_mm", &solid->n_points, true);
  for (int i = 0; i < solid->n_points && !lw_in_failed (in); i++)
    if (fmax (fmax (fabs (solid->points[i].x), fabs (solid->points[i].y)),
              fabs (solid->points[i].z))
        > LW_FAR_MM)
      lw_in_fail (in, "points_mm", _ ("must lie within 1000 m of the origin"));
  if (!lw_in_failed (in) && (solid->n_points < 4 || !spans_volume (solid->points, solid->n_points)))
    lw_in_fail (in, "points_mm", _ ("must be four points or more that span a volume"));
}

static void
read_mesh (LwSolid *solid, LwIn *in)
{
  int unit;

  solid->file = lw_in_string (in, "file");
  solid->sha256 = lw_in_string (in, "sha256");
  if (!lw_in_failed (in)
      && (strlen (solid->sha256) != 64 || strspn (solid->sha256, "0123456789abcdef") != 64))
    lw_in_fail (in, "sha256", _ ("must be 64 hexadecimal digits in lower case"));
  unit = lw_in_word (in, "units", unit_words, -1);
  if (!lw_in_failed (in))
    solid->unit_mm = unit_mm[unit];
}

static void
read_kind (LwSolid *solid, LwIn *in)
{
  switch (solid->kind) {
  case LW_SOLID_BOX:
    read_box (solid, in);
    break;
  case LW_SOLID_CYLINDER:
  case LW_SOLID_CAPSULE:
    read_ends (solid, in);
    solid->r_a = solid->r_b = read_radius (in, "radius_mm");
    break;
  case LW_SOLID_FRUSTUM:
    read_frustum (solid, in);
    break;
  case LW_SOLID_SPHERE:
    solid->a = solid->b = lw_in_place (in, "center_mm");
    solid->r_a = solid->r_b = read_radius (in, "radius_mm");
    break;
  case LW_SOLID_HULL:
    read_hull (solid, in);
    break;
  case LW_SOLID_MESH:
    read_mesh (solid, in);
    break;
  }
}

void
lw_solid_read (LwSolid *solid, LwIn *in, const char *key)
{
  int kind;

  *solid = (LwSolid){ .rotation = lw_mat3_identity () };
  if (!lw_in_enter (in, key, true))
    return;
  kind = lw_in_word (in, "kind", kind_words, -1);
  if (!lw_in_failed (in)) {
    solid->kind = (LwSolidKind)kind;
    read_kind (solid, in);
  }
  solid->rotation = lw_in_rotation_or (in, "rotation", lw_mat3_identity ());
  if (lw_in_has (in, "at_mm"))
    solid->at = lw_in_place (in, "at_mm");
  lw_in_leave (in);
}

void
lw_solid_clear (LwSolid *solid)
{
  g_free (solid->points);
  g_free (solid->file);
  g_free (solid->sha256);
  *solid = (LwSolid){ .rotation = lw_mat3_identity () };
}

static LwBox3
grow (LwBox3 box, LwVec3 center, LwVec3 half)
{
  box = lw_box3_add (box, lw_vec3_sub (center, half));
  return lw_box3_add (box, lw_vec3_add (center, half));
}

/* A disc of radius r across a unit axis reaches r √(1 − a_i²) along each coordinate. */
static LwVec3
disc_reach (LwVec3 axis, double radius)
{
  return lw_vec3 (radius * sqrt (fmax (0, 1 - axis.x * axis.x)),
                  radius * sqrt (fmax (0, 1 - axis.y * axis.y)),
                  radius * sqrt (fmax (0, 1 - axis.z * axis.z)));
}

static LwVec3
placed (const LwSolid *solid, LwVec3 point)
{
  return lw_vec3_add (lw_mat3_apply (solid->rotation, point), solid->at);
}

static LwBox3
box_of_round (const LwSolid *solid)
{
  LwVec3 a = placed (solid, solid->a), b = placed (solid, solid->b);
  LwVec3 axis = lw_vec3_unit (lw_vec3_sub (b, a));
  bool flat = solid->kind == LW_SOLID_CYLINDER || solid->kind == LW_SOLID_FRUSTUM;
  LwVec3 reach_a =
      flat ? disc_reach (axis, solid->r_a) : lw_vec3 (solid->r_a, solid->r_a, solid->r_a);
  LwVec3 reach_b =
      flat ? disc_reach (axis, solid->r_b) : lw_vec3 (solid->r_b, solid->r_b, solid->r_b);

  return grow (grow (lw_box3_empty (), a, reach_a), b, reach_b);
}

LwBox3
lw_solid_get_box (const LwSolid *solid)
{
  LwBox3 box = lw_box3_empty ();

  switch (solid->kind) {
  case LW_SOLID_BOX:
    for (int i = 0; i < 8; i++)
      box = lw_box3_add (box, placed (solid, lw_vec3 (i & 1 ? solid->b.x : solid->a.x,
                                                      i & 2 ? solid->b.y : solid->a.y,
                                                      i & 4 ? solid->b.z : solid->a.z)));
    return box;
  case LW_SOLID_HULL:
    for (int i = 0; i < solid->n_points; i++)
      box = lw_box3_add (box, placed (solid, solid->points[i]));
    return box;
  case LW_SOLID_MESH:
    return box;
  default:
    return box_of_round (solid);
  }
}
