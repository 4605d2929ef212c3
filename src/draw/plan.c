/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>
#include <string.h>

#include "base/text.h"
#include "draw/dimension.h"
#include "draw/layers.h"
#include "draw/reaches.h"

#define SEEN LW_SEEN_FROM_ABOVE

/* Holes nearer to each other than this are thinned out, px. */
#define HOLE_SPACING 7

/* px from the table's left edge to the dimension lines of reach and part. */
#define LINE_REACH 26
#define LINE_PART  54

static LwRect
get_table_rect (const LwScene *scene, const LwViewport *v)
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
  LwRect r = get_table_rect (scene, v);

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
  LwRect table = get_table_rect (scene, v);
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
  LwRect table = get_table_rect (scene, v);
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
  LwRect table = get_table_rect (scene, v);
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

/* The box of places the part may be moved to, as the box the part would sweep from end to end, and
 * the room it has in words by the dimensions. */
static void
draw_workable (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v)
{
  const LwPlaced *placed = lw_scene_get_placed (scene);
  LwBox3 box, swept;

  if (!scene->show_workable || placed == NULL || lw_box3_is_empty (scene->workable))
    return;
  box = lw_placed_get_box (scene->job, placed);
  swept.low = lw_vec3_add (box.low, lw_vec3_sub (scene->workable.low, placed->at));
  swept.high = lw_vec3_add (box.high, lw_vec3_sub (scene->workable.high, placed->at));
  cairo_new_path (cr);
  lw_viewport_rect (v, cr, SEEN, lw_viewport_project_box (v, SEEN, swept));
  lw_style_set_ink (&p->style, cr, LW_INK_FITS);
  lw_style_set_line (&p->style, cr, LW_LINE_VISIBLE);
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

/* ------------------------------------------------------------------------------------------------
 * Text */

static void
draw_title (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v, LwPlacer *placer)
{
  g_autofree char *height = lw_format_length (scene->tip_height, scene->unit, LW_ROUND_NEAREST);
  g_autofree char *words =
      g_strdup_printf (_ ("table frame, %s · reach for a tip %s above the table"),
                       lw_unit_get_symbol (scene->unit), height);
  double x = v->plan.x0 + 14, y = v->plan.y0 + 12, w, h;

  lw_labels_get_size (p->labels, _ ("Plan"), LW_TEXT_TITLE, &w, &h);
  lw_style_set_ink (&p->style, cr, LW_INK_TEXT);
  lw_labels_draw (p->labels, cr, _ ("Plan"), LW_TEXT_TITLE, x, y, 0, 0, false);
  lw_style_set_ink (&p->style, cr, LW_INK_FAINT);
  lw_labels_draw (p->labels, cr, words, LW_TEXT_SMALL, x + w + 14, y + 1, 0, 0, false);
  lw_placer_take (placer, (LwRect){ v->plan.x0, v->plan.y0, v->plan.x1, y + h });
}

/* One chain from table edge over part to table edge; the longest first, so that it gets its place.
 */
static void
draw_chain (cairo_t *cr, LwPainter *p, const LwScene *scene, LwPlacer *placer, bool upright,
            const double mm[4], const double px[4], double line, double object)
{
  static const int order[] = { 1, 0, 2 };

  for (int k = 0; k < 3; k++) {
    int i = order[k];
    g_autofree char *text = lw_format_length_bare (mm[i + 1] - mm[i], scene->unit,
                                                   i == 1 ? LW_ROUND_UP : LW_ROUND_DOWN);

    lw_dimension_draw (p, cr, placer,
                       &(LwDimension){ .upright = upright,
                                       .from = px[i],
                                       .to = px[i + 1],
                                       .line = line,
                                       .object_from = object,
                                       .object_to = object,
                                       .text = text,
                                       .ink = LW_INK_FAINT,
                                       .text_ink = LW_INK_FAINT });
  }
}

/* Where the part stands on the table: above it, and outermost on its left. */
static void
draw_part_dimensions (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v,
                      LwPlacer *placer)
{
  const LwTable *table = lw_scene_get_table (scene);
  const LwPlaced *placed = lw_scene_get_placed (scene);
  LwRect t = get_table_rect (scene, v), out, r;
  LwBox3 box;
  double line_x, line_y;

  if (placed == NULL)
    return;
  box = lw_placed_get_box (scene->job, placed);
  if (lw_box3_is_empty (box))
    return;
  r = lw_viewport_project_box (v, SEEN, box);
  out = lw_viewport_project_box (v, SEEN, lw_scene_get_travel (scene));
  line_y = fmin (t.y0, out.y0) - 16;
  line_x = fmin (t.x0, out.x0) - LINE_PART;
  if (line_y < v->plan.y0 + LW_TITLE_HEIGHT + 18) {
    line_y = v->plan.y0 + LW_TITLE_HEIGHT + 18;
    lw_margin_lay (cr, p, (LwRect){ v->plan.x0, v->plan.y0, v->plan.x1, line_y + 6 });
  }
  draw_chain (cr, p, scene, placer, false, (double[]){ 0, box.low.x, box.high.x, table->size[0] },
              (double[]){ t.x0, r.x0, r.x1, t.x1 }, line_y, fmin (t.y0, out.y0));
  if (line_x < v->plan.x0 + 20) {
    line_x = v->plan.x0 + 20;
    lw_margin_lay (cr, p, (LwRect){ v->plan.x0, line_y, v->plan.x0 + 50, v->plan.y1 });
  }
  draw_chain (cr, p, scene, placer, true, (double[]){ 0, box.low.y, box.high.y, table->size[1] },
              (double[]){ t.y1, r.y1, r.y0, t.y0 }, line_x, fmin (t.x0, out.x0));
}

/* The width left at the present tilt, and the other tilts' names. */
static void
draw_reach_text (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v,
                 const LwReaches *reaches, LwPlacer *placer)
{
  for (int i = 0; i < LW_N_REACHES; i++) {
    const LwReachShown *shown = &reaches->shown[i];
    g_autofree char *angle =
        lw_format_fixed (lw_degrees (shown->tilt), shown->present ? 1 : 0, LW_ROUND_NEAREST);
    LwRect r;

    if (!shown->drawn)
      continue;
    r = lw_viewport_project_box (v, SEEN, shown->box);
    if (shown->present) {
      double mm = shown->box.high.y - shown->box.low.y;
      g_autofree char *width = lw_format_length_bare (mm, scene->unit, LW_ROUND_DOWN);
      g_autofree char *text = g_strdup_printf (_ ("%s at %s°"), width, angle);
      LwRect t = get_table_rect (scene, v);
      LwRect travel = lw_viewport_project_box (v, SEEN, lw_scene_get_travel (scene));

      lw_dimension_draw (
          p, cr, placer,
          &(LwDimension){ .upright = true,
                          .from = r.y1,
                          .to = r.y0,
                          .line = fmax (fmin (t.x0, travel.x0) - LINE_REACH, v->plan.x0 + 44),
                          .object_from = r.x0,
                          .object_to = r.x0,
                          .text = text,
                          .ink = LW_INK_REACH,
                          .text_ink = LW_INK_REACH });
    } else {
      g_autofree char *text = g_strdup_printf ("%s°", angle);
      LwPlace places[] = { { r.x0 + 5, r.y0 + 2, 0, 0 },
                           { r.x0 + 40, r.y0 + 2, 0, 0 },
                           { r.x1 - 5, r.y0 + 2, 1, 0 },
                           { r.x0 + 5, r.y1 - 2, 0, 1 },
                           { r.x0 + 75, r.y0 + 2, 0, 0 } };

      lw_style_set_ink (&p->style, cr, LW_INK_FAINT);
      lw_labels_place (p->labels, cr, placer, text, LW_TEXT_SMALL, places, G_N_ELEMENTS (places),
                       false);
    }
  }
}

static char *
get_part_note (const LwScene *scene)
{
  const LwSetup *setup = lw_scene_get_setup (scene);

  for (int i = 0; setup != NULL && i < setup->n_placed; i++) {
    const LwPart *part = &scene->job->parts[setup->placed[i].part];

    if (part->mesh.state == LW_MESH_LOADING)
      return g_strdup_printf (_ ("%s is being read"), part->id);
    if (part->mesh.mesh == NULL)
      return g_strdup_printf (_ ("%s can't be drawn: %s"), part->id,
                              part->mesh.message != NULL ? part->mesh.message : "");
  }
  return NULL;
}

/* Under the table, left: what isn't drawn and why. */
static void
draw_notes (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v,
            const LwReaches *reaches, LwPlacer *placer)
{
  LwRect t = get_table_rect (scene, v);
  LwRect travel = lw_viewport_project_box (v, SEEN, lw_scene_get_travel (scene));
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *part = get_part_note (scene);
  double x = fmax (v->plan.x0 + 14, fmin (t.x0, travel.x0));
  double y = fmin (fmax (t.y1, travel.y1) + 4, v->plan.y1 - 2 - 1.4 * p->style.text);

  if (lw_scene_get_tool (scene) == NULL)
    g_string_append (text, _ ("no tool: reach of the gauge face"));
  if (part != NULL)
    g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", part);
  for (int i = 0; i < LW_N_REACHES; i++)
    if (reaches->shown[i].note != NULL)
      g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", reaches->shown[i].note);
  lw_style_set_ink (&p->style, cr, LW_INK_FAINT);
  if (text->len > 0)
    lw_labels_place (p->labels, cr, placer, text->str, LW_TEXT_SMALL,
                     (LwPlace[]){ { x, y, 0, 0 }, { v->plan.x0 + 14, y, 0, 0 } }, 2, false);
}

static void
draw_cut_letters (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v,
                  LwPlacer *placer)
{
  LwRect t = get_table_rect (scene, v);
  double y = lw_viewport_get_up (v, SEEN, scene->section_y) - 14;

  lw_style_set_ink (&p->style, cr, LW_INK_TEXT);
  for (int i = 0; i < 2; i++) {
    double x = i == 0 ? t.x0 - 14 : t.x1 + 14;

    lw_labels_place (p->labels, cr, placer, "A", LW_TEXT_STRONG, &(LwPlace){ x, y - 1, 0.5, 1 }, 1,
                     false);
  }
}

static void
draw_text (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v)
{
  LwReaches reaches = lw_reaches_get (scene);
  LwPoint tip = lw_viewport_project (v, SEEN, scene->tip);
  LwPlacer placer;

  lw_placer_start (&placer, v->plan);
  lw_placer_take (&placer, (LwRect){ tip.x - 10, tip.y - 10, tip.x + 10, tip.y + 10 });
  lw_placer_take (&placer, lw_head_get_present_rect (scene, v, SEEN));
  placer.backing = p->style.inks[LW_INK_PAPER];
  placer.backing.a = 0.85;
  cairo_save (cr);
  lw_field_clip (cr, v, SEEN);
  draw_part_dimensions (cr, p, scene, v, &placer);
  draw_cut_letters (cr, p, scene, v, &placer);
  draw_reach_text (cr, p, scene, v, &reaches, &placer);
  cairo_restore (cr);
  draw_title (cr, p, scene, v, &placer);
  draw_notes (cr, p, scene, v, &reaches, &placer);
  lw_marker_draw_text (cr, p, scene, v, SEEN, &placer);
  lw_reaches_clear (&reaches);
}

void
lw_plan_draw (cairo_t *cr, LwPainter *painter, const LwScene *scene, const LwViewport *v,
              LwLayer layer)
{
  static void (*const draw[LW_N_LAYERS]) (
      cairo_t *, LwPainter *, const LwScene *,
      const LwViewport *) = { draw_paper, draw_lost, NULL, draw_reach, draw_head, draw_text };
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
