/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <string.h>

#include "base/text.h"
#include "draw/layers.h"
#include "draw/reaches.h"

#define SEEN LW_SEEN_FROM_ABOVE

/* Holes nearer to each other than this are thinned out, px. */
#define HOLE_SPACING 7

LwRect
lw_plan_get_table (const LwScene *scene, const LwViewport *v)
{
  const LwTable *table = lw_scene_get_table (scene);
  LwBox3 box = { { 0, 0, 0 }, { table->size[0], table->size[1], 0 } };

  return lw_viewport_project_box (v, SEEN, box);
}

static int
get_step (double pitch_px)
{
  int step = 1;

  while (pitch_px > 0 && step * pitch_px < HOLE_SPACING)
    step *= 2;
  return step;
}

/* Diameter of a metric thread ("M12"), mm; 0 for others. */
static double
get_thread_diameter (const char *thread)
{
  g_autofree char *digits = NULL;
  double value;

  if (thread == NULL || thread[0] != 'M')
    return 0;
  digits = g_strndup (thread + 1, strspn (thread + 1, "0123456789."));
  return lw_number_from_text (digits, '.', &value) ? value : 0;
}

/* Dots as squares: a thirteenth of the cost of arcs, and the same to the eye below 3 px. */
static void
draw_holes (cairo_t *cr, LwPainter *p, const LwHoleGrid *holes, const LwViewport *v)
{
  int step_x = get_step (holes->pitch[0] * v->scale),
      step_y = get_step (holes->pitch[1] * v->scale);
  double r = v->scale * get_thread_diameter (holes->thread) / 2;

  cairo_new_path (cr);
  for (int j = 0; j < holes->count[1]; j += step_y) {
    double y = lw_viewport_get_up (v, SEEN, holes->first[1] + j * holes->pitch[1]);

    if (y < v->plan.y0 - r || y > v->plan.y1 + r)
      continue;
    for (int i = 0; i < holes->count[0]; i += step_x) {
      double x = v->x0 + v->scale * (holes->first[0] + i * holes->pitch[0]);

      if (x < v->plan.x0 - r || x > v->plan.x1 + r)
        continue;
      if (r < 2)
        cairo_rectangle (cr, x - 0.8, y - 0.8, 1.6, 1.6);
      else {
        cairo_new_sub_path (cr);
        cairo_arc (cr, x, y, r, 0, 2 * LW_PI);
      }
    }
  }
  lw_style_set_ink (&p->style, cr, LW_INK_HOLE);
  if (r < 2)
    cairo_fill (cr);
  else {
    lw_style_set_line (&p->style, cr, LW_LINE_THIN);
    cairo_stroke (cr);
  }
}

static void
draw_locating_hole (cairo_t *cr, LwPainter *p, const LwLocatingHole *hole, const LwViewport *v)
{
  LwPoint px = lw_viewport_project (v, SEEN, lw_vec3 (hole->at[0], hole->at[1], 0));
  double r = fmax (3, v->scale * (isnan (hole->diameter) ? 0 : hole->diameter) / 2);

  cairo_new_path (cr);
  cairo_arc (cr, px.x, px.y, r, 0, 2 * LW_PI);
  cairo_move_to (cr, px.x - r - 3, px.y);
  cairo_line_to (cr, px.x + r + 3, px.y);
  cairo_move_to (cr, px.x, px.y - r - 3);
  cairo_line_to (cr, px.x, px.y + r + 3);
  lw_style_set_ink (&p->style, cr, LW_INK_FAINT);
  lw_style_set_line (&p->style, cr, LW_LINE_THIN);
  cairo_stroke (cr);
}

static void
draw_paper (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v)
{
  const LwTable *table = lw_scene_get_table (scene);
  LwRect r = lw_plan_get_table (scene, v);

  lw_paper_lay (cr, p, v, SEEN);
  lw_machine_draw_standing (cr, p, scene, v, SEEN);
  cairo_new_path (cr);
  cairo_rectangle (cr, r.x0, r.y0, r.x1 - r.x0, r.y1 - r.y0);
  lw_style_set_ink (&p->style, cr, LW_INK_TABLE);
  cairo_fill (cr);
  if (table->holes.exists)
    draw_holes (cr, p, &table->holes, v);
  for (int i = 0; i < table->n_locating; i++)
    draw_locating_hole (cr, p, &table->locating[i], v);
}

/* Everything on the table or within travel that is outside the present reach. */
static void
draw_lost (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v)
{
  LwReaches reaches = lw_reaches_get (scene);
  const LwReachShown *present = lw_reaches_get_present (&reaches);
  LwRect table = lw_plan_get_table (scene, v);
  LwRect travel = lw_viewport_project_box (v, SEEN, lw_scene_get_travel (scene));

  cairo_rectangle (cr, table.x0, table.y0, table.x1 - table.x0, table.y1 - table.y0);
  cairo_rectangle (cr, travel.x0, travel.y0, travel.x1 - travel.x0, travel.y1 - travel.y0);
  cairo_clip (cr);
  cairo_rectangle (cr, v->plan.x0, v->plan.y0, v->plan.x1 - v->plan.x0, v->plan.y1 - v->plan.y0);
  if (present != NULL) {
    LwRect r = lw_viewport_project_box (v, SEEN, present->box);

    cairo_rectangle (cr, r.x0, r.y0, r.x1 - r.x0, r.y1 - r.y0);
  }
  cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
  lw_style_hatch (&p->style, cr, LW_INK_LOST, 0.75, true);
  lw_reaches_clear (&reaches);
}

static void
draw_cut_line (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v)
{
  LwRect table = lw_plan_get_table (scene, v);
  double y = lw_viewport_get_up (v, SEEN, scene->section_y), from = table.x0 - 14;
  double to = table.x1 + 14;

  cairo_new_path (cr);
  lw_style_set_ink_faded (&p->style, cr, LW_INK_FAINT, 0.9);
  lw_style_set_line (&p->style, cr, LW_LINE_CENTER);
  lw_viewport_line (v, cr, SEEN, (LwPoint){ from, y }, (LwPoint){ to, y });
  cairo_stroke (cr);
  /* Thick ends, and arrows the way one looks: towards + Y. */
  lw_style_set_ink (&p->style, cr, LW_INK_OUTLINE);
  lw_style_set_line (&p->style, cr, LW_LINE_VISIBLE);
  for (int i = 0; i < 2; i++) {
    double x = i == 0 ? from : to, way = i == 0 ? 1 : -1;

    cairo_move_to (cr, x, y);
    cairo_line_to (cr, x + 10 * way, y);
    cairo_stroke (cr);
    cairo_set_line_width (cr, p->style.thin);
    cairo_move_to (cr, x, y);
    cairo_line_to (cr, x, y - 12);
    cairo_stroke (cr);
    cairo_set_line_width (cr, p->style.thick);
    lw_style_arrow (&p->style, cr, x, y - 14, 0, -1);
  }
}

static void
draw_reach (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v)
{
  LwReaches reaches = lw_reaches_get (scene);
  LwRect table = lw_plan_get_table (scene, v);
  LwRect travel = lw_viewport_project_box (v, SEEN, lw_scene_get_travel (scene));

  cairo_new_path (cr);
  lw_style_set_ink (&p->style, cr, LW_INK_OUTLINE);
  lw_style_set_line (&p->style, cr, LW_LINE_CENTER);
  cairo_set_line_width (cr, 1.3 * p->style.thin);
  lw_viewport_rect (v, cr, SEEN, travel);
  cairo_stroke (cr);
  lw_style_set_line (&p->style, cr, LW_LINE_VISIBLE);
  lw_viewport_rect (v, cr, SEEN, table);
  cairo_stroke (cr);
  for (int i = 0; i < LW_N_REACHES; i++) {
    const LwReachShown *shown = &reaches.shown[i];

    if (!shown->drawn)
      continue;
    lw_style_set_ink (&p->style, cr, shown->present ? LW_INK_REACH : LW_INK_FAINT);
    lw_style_set_line (&p->style, cr, shown->present ? LW_LINE_MOVING_THICK : LW_LINE_MOVING);
    lw_viewport_rect (v, cr, SEEN, lw_viewport_project_box (v, SEEN, shown->box));
    cairo_stroke (cr);
  }
  draw_cut_line (cr, p, scene, v);
  lw_reaches_clear (&reaches);
}

bool
lw_plan_get_workable (const LwScene *scene, LwBox3 *swept)
{
  const LwPlaced *placed = lw_scene_get_placed (scene);
  LwBox3 box;

  if (!scene->show_workable || placed == NULL || lw_box3_is_empty (scene->workable))
    return false;
  box = lw_placed_get_box (scene->job, placed);
  swept->low = lw_vec3_add (box.low, lw_vec3_sub (scene->workable.low, placed->at));
  swept->high = lw_vec3_add (box.high, lw_vec3_sub (scene->workable.high, placed->at));
  return !lw_box3_is_empty (*swept);
}

static void
draw_workable (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v)
{
  LwBox3 swept;

  if (!lw_plan_get_workable (scene, &swept))
    return;
  cairo_new_path (cr);
  lw_viewport_rect (v, cr, SEEN, lw_viewport_project_box (v, SEEN, swept));
  lw_style_set_ink (&p->style, cr, LW_INK_FITS);
  lw_style_set_line (&p->style, cr, LW_LINE_CUT);
  cairo_stroke (cr);
}

static void
draw_head (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v)
{
  lw_limit_draw (cr, p, scene, v, SEEN);
  lw_head_draw (cr, p, scene, v, SEEN);
  lw_marker_draw (cr, p, scene, v, SEEN);
  draw_workable (cr, p, scene, v);
}

void
lw_plan_draw (cairo_t *cr, LwPainter *painter, const LwScene *scene, const LwViewport *v,
              LwLayer layer)
{
  static void (*const draw[LW_N_LAYERS]) (cairo_t *, LwPainter *, const LwScene *,
                                          const LwViewport *) = { draw_paper, draw_lost,
                                                                  NULL,       draw_reach,
                                                                  draw_head,  lw_plan_draw_text };
  bool whole = layer == LW_LAYER_PAPER || layer == LW_LAYER_TEXT;
  LwRect area = whole ? lw_viewport_get_area (v, SEEN) : lw_viewport_get_field (v, SEEN);

  if (area.x1 <= area.x0 || area.y1 <= area.y0)
    return;
  cairo_save (cr);
  cairo_rectangle (cr, area.x0, area.y0, area.x1 - area.x0, area.y1 - area.y0);
  cairo_clip (cr);
  if (layer == LW_LAYER_PARTS)
    lw_parts_draw (cr, painter, scene, v, SEEN);
  else
    draw[layer](cr, painter, scene, v);
  cairo_restore (cr);
}
