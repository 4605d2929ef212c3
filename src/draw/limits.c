/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "base/tolerances.h"
#include "draw/layers.h"

LwVerdictKind
lw_pose_judge (const LwScene *scene, LwLeeway *out)
{
  LwPose pose = lw_scene_get_pose (scene, scene->c, scene->t);
  const LwReserves *reserves = &scene->job->reserves;
  LwLeeway leeway = lw_travel_get_leeway (scene->job->machine, &pose, reserves);

  if (out != NULL)
    *out = leeway;
  if (isnan (leeway.travel) || isnan (leeway.rotary))
    return LW_VERDICT_NOT_CHECKED;
  if (leeway.travel < -LW_INSIDE_TOL || leeway.rotary < -LW_INSIDE_TOL)
    return LW_VERDICT_DOES_NOT_FIT;
  if (leeway.travel < reserves->travel || leeway.rotary < reserves->rotary)
    return LW_VERDICT_TIGHT;
  return LW_VERDICT_FITS;
}

/* Whether rotary limits bind more than travel does. */
static bool
is_rotary_first (const LwScene *scene, const LwLeeway *leeway)
{
  return lw_slack_of_rotary (leeway->rotary, &scene->job->reserves)
         < lw_slack_of_travel (leeway->travel, &scene->job->reserves);
}

static char *
say_rotary (const LwScene *scene, const LwLeeway *leeway)
{
  g_autofree char *limit = lw_limit_to_text (scene->job->machine, leeway->rotary_limit, false);
  g_autofree char *angle =
      lw_format_angle (fabs (leeway->rotary), leeway->rotary < 0 ? LW_ROUND_UP : LW_ROUND_DOWN);

  return leeway->rotary < 0 ? g_strdup_printf (_ ("%s limit passed by %s"), limit, angle)
                            : g_strdup_printf (_ ("%s limit %s away"), limit, angle);
}

char *
lw_pose_dup_words (const LwScene *scene)
{
  g_autofree char *limit = NULL, *length = NULL;
  LwLeeway leeway;

  lw_pose_judge (scene, &leeway);
  if (isnan (leeway.travel) || isnan (leeway.rotary))
    return g_strdup (_ ("travel not checked"));
  if (is_rotary_first (scene, &leeway))
    return say_rotary (scene, &leeway);
  limit = lw_limit_to_text (scene->job->machine, leeway.travel_limit, false);
  length = lw_format_length (fabs (leeway.travel), scene->unit,
                             leeway.travel < 0 ? LW_ROUND_UP : LW_ROUND_DOWN);
  return leeway.travel < 0 ? g_strdup_printf (_ ("%s travel short by %s"), limit, length)
                           : g_strdup_printf (_ ("%s travel %s away"), limit, length);
}

static LwInk
get_line_ink (LwVerdictKind verdict)
{
  return verdict == LW_VERDICT_FITS || verdict == LW_VERDICT_NOT_CHECKED
             ? LW_INK_FAINT
             : lw_style_get_verdict_ink (verdict);
}

static LwInk
get_text_ink (LwVerdictKind verdict)
{
  return verdict == LW_VERDICT_FITS || verdict == LW_VERDICT_NOT_CHECKED
             ? LW_INK_FAINT
             : lw_style_get_verdict_text_ink (verdict);
}

/* Where the limit of travel that binds lies in a view: its ends in px. False when it does not show
 * there, or when it is a coupled rule, which has no one place. */
static bool
find_limit (const LwScene *scene, const LwViewport *v, LwSeen seen, LwPoint *a, LwPoint *b,
            LwLeeway *leeway)
{
  LwRect area = lw_viewport_get_field (v, seen);
  LwBox3 travel = lw_scene_get_travel (scene);
  LwVec3 at;
  LwPoint px;
  LwAxis axis;

  lw_pose_judge (scene, leeway);
  axis = leeway->travel_limit.axis;
  if (leeway->travel_limit.rule >= 0 || axis > LW_AXIS_Z
      || axis == (seen == LW_SEEN_FROM_ABOVE ? LW_AXIS_Z : LW_AXIS_Y))
    return false;
  at = leeway->travel_limit.high ? travel.high : travel.low;
  px = lw_viewport_project (v, seen, at);
  if (!isfinite (px.x) || !isfinite (px.y))
    return false;
  *a = *b = px;
  if (axis == LW_AXIS_X) {
    LwVec3 pivot = lw_vec3_sub (lw_scene_get_pose (scene, scene->c, scene->t).pivot,
                                lw_scene_get_table (scene)->origin);
    double mid = lw_viewport_project (v, seen, pivot).y;

    a->y = fmax (area.y0, mid - 90);
    b->y = fmin (area.y1 - 4, seen == LW_SEEN_FROM_FRONT ? v->z0 + 12 : mid + 90);
    return px.x >= area.x0 && px.x <= area.x1 && a->y < b->y;
  }
  px = lw_viewport_project (v, seen, scene->tip);
  a->x = fmax (area.x0 + 4, px.x - 150);
  b->x = fmin (area.x1 - 4, px.x + 150);
  return a->y >= area.y0 && a->y <= area.y1 && a->x < b->x;
}

void
lw_limit_draw (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v, LwSeen seen)
{
  LwPoint a, b;
  LwLeeway leeway;

  if (!find_limit (scene, v, seen, &a, &b, &leeway))
    return;
  cairo_new_path (cr);
  lw_style_set_ink (&p->style, cr, get_line_ink (lw_pose_judge (scene, NULL)));
  lw_style_set_line (&p->style, cr, LW_LINE_CENTER);
  cairo_set_line_width (cr, 1.4 * p->style.thin);
  cairo_move_to (cr, a.x, a.y);
  cairo_line_to (cr, b.x, b.y);
  cairo_stroke (cr);
}

void
lw_limit_add_rect (const LwScene *scene, const LwViewport *v, LwSeen seen, LwRect *rect)
{
  LwPoint a, b;
  LwLeeway leeway;

  if (find_limit (scene, v, seen, &a, &b, &leeway))
    *rect = (LwRect){ fmin (rect->x0, a.x - 2), fmin (rect->y0, a.y - 2), fmax (rect->x1, b.x + 2),
                      fmax (rect->y1, b.y + 2) };
}

void
lw_limit_draw_text (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v,
                    LwSeen seen, LwPlacer *placer)
{
  g_autofree char *limit = NULL, *value = NULL, *text = NULL;
  const LwMachine *machine = scene->job->machine;
  const LwTravel *travel;
  LwPoint a, b;
  LwLeeway leeway;

  if (seen == LW_SEEN_FROM_ABOVE || !find_limit (scene, v, seen, &a, &b, &leeway))
    return;
  travel = &machine->travel[leeway.travel_limit.axis];
  limit = lw_limit_to_text (machine, leeway.travel_limit, false);
  value = lw_format_length_bare (leeway.travel_limit.high ? travel->high : travel->low, scene->unit,
                                 LW_ROUND_NEAREST);
  text = g_strdup_printf (_ ("%s %s (machine)"), limit, value);
  lw_style_set_ink (&p->style, cr, get_text_ink (lw_pose_judge (scene, NULL)));
  if (leeway.travel_limit.axis == LW_AXIS_X) {
    LwPlace places[] = { { a.x + 5, a.y, 0, 0 },
                         { a.x - 5, a.y, 1, 0 },
                         { a.x + 5, a.y + 18, 0, 0 },
                         { a.x - 5, a.y + 18, 1, 0 },
                         { b.x - 5, b.y - 16, 1, 0 } };

    lw_labels_place (p->labels, cr, placer, text, LW_TEXT_SMALL, places, G_N_ELEMENTS (places),
                     false);
  } else {
    LwPlace places[] = {
      { a.x, a.y - 3, 0, 1 }, { b.x, a.y - 3, 1, 1 }, { a.x, a.y + 3, 0, 0 }, { b.x, a.y + 3, 1, 0 }
    };

    lw_labels_place (p->labels, cr, placer, text, LW_TEXT_SMALL, places, G_N_ELEMENTS (places),
                     false);
  }
}

void
lw_marker_draw (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v, LwSeen seen)
{
  LwPoint px = lw_viewport_project (v, seen, scene->tip);
  LwVerdictKind verdict = lw_pose_judge (scene, NULL);
  LwInk ink = verdict == LW_VERDICT_FITS ? LW_INK_REACH : lw_style_get_verdict_ink (verdict);

  cairo_new_path (cr);
  lw_style_set_line (&p->style, cr, LW_LINE_THIN);
  cairo_set_line_width (cr, 1.4 * p->style.thin);
  cairo_arc (cr, px.x, px.y, 5, 0, 2 * LW_PI);
  for (int i = 0; i < 4; i++) {
    double dx = i == 0 ? 1 : i == 1 ? -1 : 0, dy = i == 2 ? 1 : i == 3 ? -1 : 0;

    cairo_move_to (cr, px.x + 2 * dx, px.y + 2 * dy);
    cairo_line_to (cr, px.x + 9 * dx, px.y + 9 * dy);
  }
  lw_style_set_ink (&p->style, cr, ink);
  cairo_stroke (cr);
}

/* Beside the head, where there is room. */
void
lw_marker_draw_text (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v,
                     LwSeen seen, LwPlacer *placer)
{
  g_autofree char *words = lw_pose_dup_words (scene);
  LwVerdictKind verdict = lw_pose_judge (scene, NULL);
  LwTextKind kind = verdict == LW_VERDICT_DOES_NOT_FIT ? LW_TEXT_STRONG : LW_TEXT_SMALL;
  LwRect r = lw_head_get_present_rect (scene, v, seen);
  LwPoint tip = lw_viewport_project (v, seen, scene->tip);
  double gap = 8, right = placer->bounds.x1 - 8;

  r = (LwRect){ fmin (r.x0, tip.x - 10) - gap, fmin (r.y0, tip.y - 10) - gap,
                fmax (r.x1, tip.x + 10) + gap, fmax (r.y1, tip.y + 10) + gap };
  {
    double x = (r.x0 + r.x1) / 2, y = (r.y0 + r.y1) / 2;
    LwPlace places[] = { { r.x1, y, 0, 0.5 },        { x, r.y0, 0.5, 1 },
                         { x, r.y1, 0.5, 0 },        { right, r.y0, 1, 1 },
                         { right, r.y1, 1, 0 },      { r.x0, y, 1, 0.5 },
                         { r.x0, r.y0, 1, 1 },       { r.x0, r.y1, 1, 0 },
                         { right, r.y0 - 20, 1, 1 }, { right, r.y1 + 20, 1, 0 } };

    lw_style_set_ink (&p->style, cr, get_text_ink (verdict));
    lw_labels_place (p->labels, cr, placer, words, kind, places, G_N_ELEMENTS (places), false);
  }
}
