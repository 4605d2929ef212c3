/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/viewport.h"

/* Room around the table for dimensions and the labels beside the head, px. */
#define ROOM_LEFT   88
#define ROOM_RIGHT  72
#define ROOM_TOP    34
#define ROOM_BOTTOM 14
#define SCALE_MIN   1e-3
#define SCALE_MAX   100

/* What must be in sight: X for both, Y above, Z below. */
static LwBox3
get_extents (const LwScene *scene)
{
  LwBox3 box = lw_scene_get_box (scene), travel = lw_scene_get_travel (scene);
  LwPose pose = lw_scene_get_pose (scene, 0, 0);
  double over = lw_scene_get_table (scene)->origin.z;

  box.low = lw_vec3 (fmin (box.low.x, travel.low.x), fmin (box.low.y, travel.low.y), box.low.z);
  box.high = lw_vec3 (fmax (box.high.x, travel.high.x), fmax (box.high.y, travel.high.y),
                      fmax (box.high.z + 100, pose.pivot.z - over + 120));
  return box;
}

LwViewport
lw_viewport_fit (const LwScene *scene, double width, double height)
{
  LwBox3 box = get_extents (scene);
  LwVec3 size = lw_box3_size (box);
  LwViewport v = { .width = width, .height = height };
  double free_y = height - 2 * LW_TITLE_HEIGHT - ROOM_TOP - 2 * ROOM_BOTTOM - 8;
  double scale_x = (width - ROOM_LEFT - ROOM_RIGHT) / size.x;
  double scale_y = free_y / (size.y + size.z);
  double spare, split;

  v.scale = CLAMP (fmin (scale_x, scale_y), SCALE_MIN, SCALE_MAX);
  v.x0 = ROOM_LEFT + (width - ROOM_LEFT - ROOM_RIGHT - v.scale * size.x) / 2 - v.scale * box.low.x;
  spare = fmax (0, free_y - v.scale * (size.y + size.z));
  v.y0 = LW_TITLE_HEIGHT + ROOM_TOP + 0.4 * spare + v.scale * box.high.y;
  split = v.y0 - v.scale * box.low.y + ROOM_BOTTOM + 0.1 * spare;
  v.z0 = height - ROOM_BOTTOM - 0.1 * spare + v.scale * box.low.z;
  v.plan = (LwRect){ 0, 0, width, split };
  v.elevation = (LwRect){ 0, split, width, height };
  return v;
}

LwViewport
lw_viewport_fit_one (const LwScene *scene, LwSeen seen, double width, double height)
{
  LwBox3 box = get_extents (scene);
  LwVec3 size = lw_box3_size (box);
  LwViewport v = { .width = width, .height = height };
  double up = seen == LW_SEEN_FROM_ABOVE ? size.y : size.z;
  double low = seen == LW_SEEN_FROM_ABOVE ? box.low.y : box.low.z;
  double free_x = width - ROOM_LEFT - ROOM_RIGHT;
  double free_y = height - LW_TITLE_HEIGHT - ROOM_TOP - ROOM_BOTTOM;
  double base;

  v.scale = CLAMP (fmin (free_x / size.x, free_y / up), SCALE_MIN, SCALE_MAX);
  v.x0 = ROOM_LEFT + (free_x - v.scale * size.x) / 2 - v.scale * box.low.x;
  base = LW_TITLE_HEIGHT + ROOM_TOP + (free_y + v.scale * up) / 2 + v.scale * low;
  v.y0 = v.z0 = base;
  if (seen == LW_SEEN_FROM_ABOVE) {
    v.plan = (LwRect){ 0, 0, width, height };
    v.elevation = (LwRect){ 0, height, width, height };
  } else {
    v.plan = (LwRect){ 0, 0, width, 0 };
    v.elevation = (LwRect){ 0, 0, width, height };
  }
  return v;
}

void
lw_viewport_resize (LwViewport *v, double width, double height)
{
  double share = v->height > 0 ? v->plan.y1 / v->height : 0.6;
  double split = share * height;
  double plan_by = (split - v->plan.y1) / 2;
  double elevation_by = (split + height) / 2 - (v->elevation.y0 + v->elevation.y1) / 2;

  v->x0 += (width - v->width) / 2;
  v->y0 += plan_by;
  v->z0 += elevation_by;
  v->plan = (LwRect){ 0, 0, width, split };
  v->elevation = (LwRect){ 0, split, width, height };
  v->width = width;
  v->height = height;
}

LwRect
lw_viewport_get_area (const LwViewport *v, LwSeen seen)
{
  return seen == LW_SEEN_FROM_ABOVE ? v->plan : v->elevation;
}

LwRect
lw_viewport_get_field (const LwViewport *v, LwSeen seen)
{
  LwRect area = lw_viewport_get_area (v, seen);

  area.y0 = fmin (area.y1, area.y0 + LW_TITLE_HEIGHT);
  return area;
}

double
lw_viewport_get_up (const LwViewport *v, LwSeen seen, double value)
{
  return (seen == LW_SEEN_FROM_ABOVE ? v->y0 : v->z0) - v->scale * value;
}

LwPoint
lw_viewport_project (const LwViewport *v, LwSeen seen, LwVec3 point)
{
  return (LwPoint){ v->x0 + v->scale * point.x,
                    lw_viewport_get_up (v, seen, seen == LW_SEEN_FROM_ABOVE ? point.y : point.z) };
}

LwVec3
lw_viewport_unproject (const LwViewport *v, LwSeen seen, double x, double y, double depth)
{
  double right = (x - v->x0) / v->scale;

  if (seen == LW_SEEN_FROM_ABOVE)
    return lw_vec3 (right, (v->y0 - y) / v->scale, depth);
  return lw_vec3 (right, depth, (v->z0 - y) / v->scale);
}

LwSeen
lw_viewport_get_seen (const LwViewport *v, double y)
{
  return y < v->plan.y1 ? LW_SEEN_FROM_ABOVE : LW_SEEN_FROM_FRONT;
}

void
lw_viewport_zoom (LwViewport *v, double factor, double x, double y)
{
  double scale = CLAMP (v->scale * factor, SCALE_MIN, SCALE_MAX), by = scale / v->scale;
  bool above = lw_viewport_get_seen (v, y) == LW_SEEN_FROM_ABOVE;
  double plan_at = above ? y : (v->plan.y0 + v->plan.y1) / 2;
  double elevation_at = above ? (v->elevation.y0 + v->elevation.y1) / 2 : y;

  v->x0 = x + by * (v->x0 - x);
  v->y0 = plan_at + by * (v->y0 - plan_at);
  v->z0 = elevation_at + by * (v->z0 - elevation_at);
  v->scale = scale;
}

void
lw_viewport_pan (LwViewport *v, LwSeen seen, double dx, double dy)
{
  v->x0 += dx;
  if (seen == LW_SEEN_FROM_ABOVE)
    v->y0 += dy;
  else
    v->z0 += dy;
}

bool
lw_rect_clip_line (LwRect r, LwPoint *a, LwPoint *b)
{
  double dx = b->x - a->x, dy = b->y - a->y, low = 0, high = 1;
  double p[4] = { -dx, dx, -dy, dy };
  double q[4] = { a->x - r.x0, r.x1 - a->x, a->y - r.y0, r.y1 - a->y };
  LwPoint from = *a;

  for (int i = 0; i < 4; i++) {
    if (p[i] == 0) {
      if (q[i] < 0)
        return false;
    } else if (p[i] < 0)
      low = fmax (low, q[i] / p[i]);
    else
      high = fmin (high, q[i] / p[i]);
  }
  if (low > high)
    return false;
  *a = (LwPoint){ from.x + low * dx, from.y + low * dy };
  *b = (LwPoint){ from.x + high * dx, from.y + high * dy };
  return true;
}

void
lw_viewport_line (const LwViewport *v, cairo_t *cr, LwSeen seen, LwPoint a, LwPoint b)
{
  LwRect area = lw_viewport_get_field (v, seen);

  if (!lw_rect_clip_line (area, &a, &b))
    return;
  cairo_move_to (cr, a.x, a.y);
  cairo_line_to (cr, b.x, b.y);
}

void
lw_viewport_rect (const LwViewport *v, cairo_t *cr, LwSeen seen, LwRect r)
{
  LwRect area = lw_viewport_get_field (v, seen);

  if (r.x0 >= area.x0 && r.x1 <= area.x1 && r.y0 >= area.y0 && r.y1 <= area.y1) {
    cairo_rectangle (cr, r.x0, r.y0, r.x1 - r.x0, r.y1 - r.y0);
    return;
  }
  lw_viewport_line (v, cr, seen, (LwPoint){ r.x0, r.y0 }, (LwPoint){ r.x1, r.y0 });
  lw_viewport_line (v, cr, seen, (LwPoint){ r.x1, r.y0 }, (LwPoint){ r.x1, r.y1 });
  lw_viewport_line (v, cr, seen, (LwPoint){ r.x1, r.y1 }, (LwPoint){ r.x0, r.y1 });
  lw_viewport_line (v, cr, seen, (LwPoint){ r.x0, r.y1 }, (LwPoint){ r.x0, r.y0 });
}

LwRect
lw_viewport_project_box (const LwViewport *v, LwSeen seen, LwBox3 box)
{
  LwPoint low = lw_viewport_project (v, seen, box.low);
  LwPoint high = lw_viewport_project (v, seen, box.high);

  return (LwRect){ low.x, high.y, high.x, low.y };
}
