/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/layers.h"
#include "draw/silhouette.h"

/* Other tilts at which the head is shown faintly, degrees. */
static const double other_tilts[] = { 0, 30, 60 };

/* Does the body stand still in the table frame? */
static bool
is_standing (const LwStructure *structure, LwCarrier carrier)
{
  if (carrier == LW_CARRIER_WORK)
    return true;
  for (LwAxis axis = LW_AXIS_X; axis < LW_N_AXES; axis++)
    if (lw_structure_moves (structure, carrier, axis))
      return false;
  return true;
}

static LwPath
get_body (const LwScene *scene, const LwBody *body, const LwPose *pose, LwSeen seen)
{
  LwPath path = { 0 };
  LwMat3 turn;
  LwVec3 at;

  lw_scene_place_body (scene, body, pose, &turn, &at);
  lw_silhouette_add_solid (&path, seen, &body->solid, turn, at);
  return path;
}

static LwPath
get_tool (const LwScene *scene, const LwPose *pose, LwSeen seen)
{
  const LwTool *tool = lw_scene_get_tool (scene);
  LwPath path = { .closed = true };
  LwVec3 gauge, down;

  if (tool == NULL)
    return path;
  lw_scene_place_tool (scene, pose, &gauge, &down);
  lw_silhouette_add_tool (&path, seen, tool, gauge, down);
  return path;
}

static void
trace (cairo_t *cr, const LwPath *path, const LwViewport *v, LwSeen seen)
{
  lw_path_trace (path, cr, v->scale, v->x0, lw_viewport_get_up (v, seen, 0));
}

/* Outline of the union of the runs: wide strokes first, then the faces over their inner halves. */
static void
draw_solid (cairo_t *cr, LwPainter *p, const LwPath *path, const LwViewport *v, LwSeen seen,
            LwInk line, LwInk face, double alpha)
{
  if (path->n_runs == 0)
    return;
  cairo_new_path (cr);
  trace (cr, path, v, seen);
  lw_style_set_line (&p->style, cr, LW_LINE_VISIBLE);
  if (alpha >= 1) {
    cairo_set_line_width (cr, 2 * p->style.thick * 0.8);
    lw_style_set_ink (&p->style, cr, line);
    cairo_stroke_preserve (cr);
    lw_style_set_ink (&p->style, cr, face);
    cairo_fill_preserve (cr);
    lw_style_set_line (&p->style, cr, LW_LINE_THIN);
    cairo_set_line_width (cr, 0.6 * p->style.thin);
    lw_style_set_ink_faded (&p->style, cr, line, 0.5);
    cairo_stroke (cr);
    return;
  }
  lw_style_set_ink_faded (&p->style, cr, face, alpha);
  cairo_fill_preserve (cr);
  cairo_set_line_width (cr, 0.8 * p->style.thick);
  lw_style_set_ink (&p->style, cr, line);
  cairo_stroke (cr);
}

static void
draw_phantom (cairo_t *cr, LwPainter *p, const LwPath *path, const LwViewport *v, LwSeen seen,
              double alpha)
{
  cairo_new_path (cr);
  trace (cr, path, v, seen);
  lw_style_set_ink_faded (&p->style, cr, LW_INK_FAINT, alpha);
  lw_style_set_line (&p->style, cr, LW_LINE_MOVING);
  cairo_stroke (cr);
}

/* A section shows what lies in its plane and behind it: not a body that ends before. Machine bodies
 * but for the head are turned by no axis, so their boxes tell. */
static bool
is_cut_away (const LwScene *scene, const LwBody *body, const LwPose *pose, LwSeen seen)
{
  LwBox3 box = lw_solid_get_box (&body->solid);
  LwMat3 turn;
  LwVec3 at;

  if (seen == LW_SEEN_FROM_ABOVE || lw_box3_is_empty (box))
    return false;
  lw_scene_place_body (scene, body, pose, &turn, &at);
  return box.high.y + at.y < scene->section_y;
}

void
lw_machine_draw_standing (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v,
                          LwSeen seen)
{
  const LwMachine *machine = scene->job->machine;
  LwPose pose = lw_scene_get_pose (scene, scene->c, scene->t);

  for (int i = 0; i < machine->n_bodies; i++) {
    const LwBody *body = &machine->bodies[i];
    LwPath path;

    if (body->role == LW_ROLE_HEAD || !is_standing (&machine->structure, body->carrier)
        || is_cut_away (scene, body, &pose, seen))
      continue;
    path = get_body (scene, body, &pose, seen);
    cairo_new_path (cr);
    trace (cr, &path, v, seen);
    lw_style_set_ink_faded (&p->style, cr, LW_INK_FAINT, 0.5);
    lw_style_set_line (&p->style, cr, LW_LINE_THIN);
    cairo_stroke (cr);
    lw_path_clear (&path);
  }
}

static void
draw_moving_structure (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v,
                       LwSeen seen, const LwPose *pose)
{
  const LwMachine *machine = scene->job->machine;

  for (int i = 0; i < machine->n_bodies; i++) {
    const LwBody *body = &machine->bodies[i];
    LwPath path;

    if (body->role == LW_ROLE_HEAD || is_standing (&machine->structure, body->carrier)
        || is_cut_away (scene, body, pose, seen))
      continue;
    path = get_body (scene, body, pose, seen);
    draw_phantom (cr, p, &path, v, seen, 0.55);
    lw_path_clear (&path);
  }
}

static bool
is_tilting (const LwBody *body)
{
  return body->role == LW_ROLE_HEAD
         && (body->carrier == LW_AXIS_TILT || body->carrier == LW_CARRIER_TOOL);
}

static void
draw_other_tilts (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v, LwSeen seen)
{
  const LwMachine *machine = scene->job->machine;
  const LwTravel *tilt = &machine->travel[LW_AXIS_TILT];

  for (guint k = 0; k < G_N_ELEMENTS (other_tilts); k++) {
    double t = copysign (lw_radians (other_tilts[k]), scene->t);
    LwPose pose = lw_scene_get_pose (scene, scene->c, t);
    LwPath path;

    if (t < tilt->low || t > tilt->high || fabs (t - scene->t) < lw_radians (4))
      continue;
    if (seen == LW_SEEN_FROM_FRONT) { /* from above they would all lie on the tip */
      path = get_tool (scene, &pose, seen);
      draw_phantom (cr, p, &path, v, seen, 0.8);
      lw_path_clear (&path);
    }
    for (int i = 0; i < machine->n_bodies; i++)
      if (is_tilting (&machine->bodies[i])) {
        path = get_body (scene, &machine->bodies[i], &pose, seen);
        draw_phantom (cr, p, &path, v, seen, seen == LW_SEEN_FROM_FRONT ? 0.8 : 0.5);
        lw_path_clear (&path);
      }
  }
}

/* Bodies on one carrier; the tool goes with the tilting ones. */
static void
draw_carried (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v, LwSeen seen,
              const LwPose *pose, bool tilting)
{
  const LwMachine *machine = scene->job->machine;

  for (int i = 0; i < machine->n_bodies; i++) {
    const LwBody *body = &machine->bodies[i];
    LwPath path;

    if (body->role != LW_ROLE_HEAD || is_tilting (body) != tilting)
      continue;
    path = get_body (scene, body, pose, seen);
    if (body->carrier == LW_AXIS_C || tilting)
      draw_solid (cr, p, &path, v, seen, LW_INK_OUTLINE, LW_INK_HEAD, tilting ? 1 : 0.45);
    else { /* the ram would cover everything below it */
      cairo_new_path (cr);
      trace (cr, &path, v, seen);
      lw_style_set_ink_faded (&p->style, cr, LW_INK_OUTLINE, 0.6);
      lw_style_set_line (&p->style, cr, LW_LINE_THIN);
      cairo_stroke (cr);
    }
    lw_path_clear (&path);
  }
}

static void
draw_pivot (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v, LwSeen seen,
            const LwPose *pose)
{
  LwVec3 at = lw_vec3_sub (pose->pivot, lw_scene_get_table (scene)->origin);
  LwPoint px = lw_viewport_project (v, seen, at);
  LwVerdictKind verdict = lw_pose_judge (scene, NULL);

  cairo_new_path (cr);
  lw_style_set_ink (&p->style, cr,
                    verdict == LW_VERDICT_FITS ? LW_INK_REACH : lw_style_get_verdict_ink (verdict));
  cairo_arc (cr, px.x, px.y, 2.4, 0, 2 * LW_PI);
  cairo_fill (cr);
}

void
lw_head_draw (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v, LwSeen seen)
{
  LwPose pose = lw_scene_get_pose (scene, scene->c, scene->t);
  LwPath tool = get_tool (scene, &pose, seen);

  draw_moving_structure (cr, p, scene, v, seen, &pose);
  draw_other_tilts (cr, p, scene, v, seen);
  if (seen == LW_SEEN_FROM_FRONT)
    draw_carried (cr, p, scene, v, seen, &pose, false);
  draw_solid (cr, p, &tool, v, seen, LW_INK_OUTLINE, LW_INK_HEAD, 1);
  draw_carried (cr, p, scene, v, seen, &pose, true);
  if (seen == LW_SEEN_FROM_ABOVE)
    draw_carried (cr, p, scene, v, seen, &pose, false);
  draw_pivot (cr, p, scene, v, seen, &pose);
  lw_path_clear (&tool);
}

static void
unite (LwRect *rect, LwPath *path, const LwViewport *v, LwSeen seen)
{
  LwRect r = lw_path_get_rect (path, v->scale, v->x0, lw_viewport_get_up (v, seen, 0));

  if (r.x0 <= r.x1)
    *rect = (LwRect){ fmin (rect->x0, r.x0), fmin (rect->y0, r.y0), fmax (rect->x1, r.x1),
                      fmax (rect->y1, r.y1) };
  lw_path_clear (path);
}

LwRect
lw_head_get_present_rect (const LwScene *scene, const LwViewport *v, LwSeen seen)
{
  const LwMachine *machine = scene->job->machine;
  LwPose pose = lw_scene_get_pose (scene, scene->c, scene->t);
  LwRect rect = { INFINITY, INFINITY, -INFINITY, -INFINITY };
  LwPath path = get_tool (scene, &pose, seen);

  unite (&rect, &path, v, seen);
  for (int i = 0; i < machine->n_bodies; i++)
    if (is_tilting (&machine->bodies[i])) {
      path = get_body (scene, &machine->bodies[i], &pose, seen);
      unite (&rect, &path, v, seen);
    }
  return rect;
}

LwRect
lw_head_get_rect (const LwScene *scene, const LwViewport *v, LwSeen seen)
{
  const LwMachine *machine = scene->job->machine;
  LwRect rect = { INFINITY, INFINITY, -INFINITY, -INFINITY };

  for (int k = -1; k < (int)G_N_ELEMENTS (other_tilts); k++) {
    double t = k < 0 ? scene->t : copysign (lw_radians (other_tilts[k]), scene->t);
    LwPose pose = lw_scene_get_pose (scene, scene->c, t);
    LwPath path = get_tool (scene, &pose, seen);

    unite (&rect, &path, v, seen);
    for (int i = 0; i < machine->n_bodies; i++) {
      const LwBody *body = &machine->bodies[i];

      if (k >= 0 ? !is_tilting (body)
                 : body->role != LW_ROLE_HEAD && is_standing (&machine->structure, body->carrier))
        continue;
      path = get_body (scene, body, &pose, seen);
      unite (&rect, &path, v, seen);
    }
  }
  return rect;
}
