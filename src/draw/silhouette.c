/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/silhouette.h"

/* Corners of an arc are taken at this many steps. */
#define ARC_STEPS 8

void
lw_silhouette_add_turned (LwPath *path, LwSeen seen, const LwProfilePoint *profile, int n,
                          LwVec3 base, LwVec3 axis)
{
  LwVec3 help = fabs (axis.z) < 0.9 ? lw_vec3 (0, 0, 1) : lw_vec3 (1, 0, 0);
  LwVec3 e1 = lw_vec3_unit (lw_vec3_cross (help, axis)), e2 = lw_vec3_cross (axis, e1);
  LwPoint *points = g_new (LwPoint, n * LW_CIRCLE_POINTS);
  int count = 0;

  for (int i = 0; i < n; i++) {
    LwVec3 center = lw_vec3_add_scaled (base, axis, profile[i].along);
    double r = profile[i].radius;

    for (int k = 0; k < (r > 0 ? LW_CIRCLE_POINTS : 1); k++) {
      double a = 2 * LW_PI * k / LW_CIRCLE_POINTS;
      LwVec3 p = lw_vec3_add_scaled (lw_vec3_add_scaled (center, e1, r * cos (a)), e2, r * sin (a));

      points[count++] = lw_seen_project (seen, p);
    }
  }
  count = lw_hull_compute (points, count);
  for (int i = 0; i < count; i++)
    lw_path_add (path, points[i].x, points[i].y);
  lw_path_end_run (path);
  path->closed = true;
  g_free (points);
}

static void
add_corners (LwPath *path, LwSeen seen, const LwVec3 *corners, int n, LwMat3 turn, LwVec3 at)
{
  LwPoint *points = g_new (LwPoint, n);
  int count;

  for (int i = 0; i < n; i++)
    points[i] = lw_seen_project (seen, lw_vec3_add (lw_mat3_apply (turn, corners[i]), at));
  count = lw_hull_compute (points, n);
  for (int i = 0; i < count; i++)
    lw_path_add (path, points[i].x, points[i].y);
  lw_path_end_run (path);
  path->closed = true;
  g_free (points);
}

static int
add_ball (LwProfilePoint *profile, double center, double radius, double from, double to)
{
  for (int i = 0; i <= ARC_STEPS; i++) {
    double a = from + (to - from) * i / ARC_STEPS;

    profile[i] = (LwProfilePoint){ center + radius * sin (a), radius * cos (a) };
  }
  return ARC_STEPS + 1;
}

static void
add_round (LwPath *path, LwSeen seen, const LwSolid *solid, LwMat3 turn, LwVec3 at)
{
  LwVec3 a = lw_vec3_add (lw_mat3_apply (turn, solid->a), at);
  LwVec3 b = lw_vec3_add (lw_mat3_apply (turn, solid->b), at);
  LwVec3 axis = lw_vec3_sub (b, a);
  double length = solid->kind == LW_SOLID_SPHERE ? 0 : lw_vec3_length (axis);
  LwProfilePoint profile[2 * ARC_STEPS + 2];
  int n = 2;

  axis = length > 0 ? lw_vec3_scale (axis, 1 / length) : lw_vec3 (0, 0, 1);
  if (solid->kind == LW_SOLID_SPHERE || solid->kind == LW_SOLID_CAPSULE) {
    n = add_ball (profile, 0, solid->r_a, -LW_PI / 2, 0);
    n += add_ball (profile + n, length, solid->kind == LW_SOLID_SPHERE ? solid->r_a : solid->r_b, 0,
                   LW_PI / 2);
  } else {
    profile[0] = (LwProfilePoint){ 0, solid->r_a };
    profile[1] = (LwProfilePoint){ length, solid->r_b };
  }
  lw_silhouette_add_turned (path, seen, profile, n, a, axis);
}

bool
lw_silhouette_add_solid (LwPath *path, LwSeen seen, const LwSolid *solid, LwMat3 turn, LwVec3 at)
{
  LwMat3 whole = lw_mat3_multiply (turn, solid->rotation);
  LwVec3 place = lw_vec3_add (lw_mat3_apply (turn, solid->at), at);
  LwVec3 corners[8];

  switch (solid->kind) {
  case LW_SOLID_BOX:
    for (int i = 0; i < 8; i++)
      corners[i] = lw_vec3 (i & 1 ? solid->b.x : solid->a.x, i & 2 ? solid->b.y : solid->a.y,
                            i & 4 ? solid->b.z : solid->a.z);
    add_corners (path, seen, corners, 8, whole, place);
    return true;
  case LW_SOLID_CYLINDER:
  case LW_SOLID_FRUSTUM:
  case LW_SOLID_SPHERE:
  case LW_SOLID_CAPSULE:
    add_round (path, seen, solid, whole, place);
    return true;
  case LW_SOLID_HULL:
    add_corners (path, seen, solid->points, solid->n_points, whole, place);
    return solid->n_points > 0;
  case LW_SOLID_MESH:
  default:
    return false;
  }
}

/* The shank next to the holder, which takes up what a tool came out longer or shorter than planned;
 * -1 when there is none. */
static int
find_stretched (const LwTool *tool)
{
  for (int i = 1; i < tool->n_segments; i++)
    if (tool->segments[i].kind == LW_SEGMENT_SHANK
        && tool->segments[i - 1].kind == LW_SEGMENT_HOLDER)
      return i;
  return -1;
}

int
lw_tool_get_profile (const LwTool *tool, int segment, LwProfilePoint *profile)
{
  const LwSegment *s = &tool->segments[segment];
  int stretched = find_stretched (tool);
  double longer = stretched >= 0 ? lw_tool_get_length (tool) - tool->tip_length : 0;
  double from = s->from + (segment > stretched ? longer : 0);
  double to = fmax (from, s->to + (segment >= stretched ? longer : 0)), r = s->d_to / 2,
         rc = tool->corner_radius;
  double point = lw_tool_get_point_length (tool);
  int n = 1;

  profile[0] = (LwProfilePoint){ from, s->d_from / 2 };
  if (segment < tool->n_segments - 1 || s->kind != LW_SEGMENT_CUTTING)
    profile[n++] = (LwProfilePoint){ to, r };
  else if (tool->tip == LW_TIP_DRILL) {
    profile[n++] = (LwProfilePoint){ fmax (from, to - point), r };
    profile[n++] = (LwProfilePoint){ to, 0 };
  } else if ((tool->tip == LW_TIP_BALL || tool->tip == LW_TIP_CORNER) && rc > 0) {
    double arc = fmin (rc, to - from), flat = fmax (0, r - rc);

    for (int i = 0; i <= ARC_STEPS; i++) {
      double a = LW_PI / 2 * i / ARC_STEPS;

      profile[n++] = (LwProfilePoint){ to - arc + arc * sin (a), flat + fmin (rc, r) * cos (a) };
    }
  } else
    profile[n++] = (LwProfilePoint){ to, r };
  return n;
}

void
lw_silhouette_add_tool (LwPath *path, LwSeen seen, const LwTool *tool, LwVec3 gauge, LwVec3 down)
{
  LwProfilePoint profile[LW_PROFILE_ROOM];

  for (int i = 0; i < tool->n_segments; i++) {
    int n = lw_tool_get_profile (tool, i, profile);

    lw_silhouette_add_turned (path, seen, profile, n, gauge, down);
  }
}

LwRect
lw_path_get_rect (const LwPath *path, double scale, double x0, double y0)
{
  LwRect rect = { INFINITY, INFINITY, -INFINITY, -INFINITY };

  for (uint32_t i = 0; i < path->n_points; i++) {
    double x = x0 + scale * path->points[i].x, y = y0 - scale * path->points[i].y;

    rect = (LwRect){ fmin (rect.x0, x), fmin (rect.y0, y), fmax (rect.x1, x), fmax (rect.y1, y) };
  }
  return rect;
}
