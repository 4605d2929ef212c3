/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "draw/dimension.h"
#include "draw/layers.h"
#include "draw/reaches.h"

#define SEEN LW_SEEN_FROM_FRONT

/* A table without a stated thickness is shown this thick, mm. */
#define TABLE_THICKNESS 40

static LwRect
get_table_rect (const LwScene *scene, const LwViewport *v)
{
  const LwTable *table = lw_scene_get_table (scene);
  double thickness = isnan (table->thickness) ? TABLE_THICKNESS : table->thickness;
  LwBox3 box = { { 0, 0, -thickness }, { table->size[0], 0, 0 } };

  return lw_viewport_project_box (v, SEEN, box);
}

/* The tapped holes as center lines into the table, thinned out when small. */
static void
draw_holes (cairo_t *cr, LwPainter *p, const LwTable *table, const LwViewport *v, LwRect r)
{
  const LwHoleGrid *holes = &table->holes;
  double pitch = holes->pitch[0] * v->scale, depth = isnan (holes->depth) ? 0 : holes->depth;
  int step = 1;

  while (pitch > 0 && step * pitch < 10)
    step *= 2;
  cairo_new_path (cr);
  for (int i = 0; i < holes->count[0]; i += step) {
    double x = v->x0 + v->scale * (holes->first[0] + i * holes->pitch[0]);

    if (x < v->elevation.x0 || x > v->elevation.x1)
      continue;
    cairo_move_to (cr, x, r.y0);
    cairo_line_to (cr, x, fmin (r.y1, r.y0 + fmax (3, depth * v->scale)));
  }
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
  lw_style_set_ink (&p->style, cr, LW_INK_PART);
  cairo_fill_preserve (cr);
  lw_style_hatch (&p->style, cr, LW_INK_HATCH, 0.6, false);
  if (table->holes.exists)
    draw_holes (cr, p, table, v, r);
  cairo_new_path (cr);
  lw_style_set_ink (&p->style, cr, LW_INK_OUTLINE);
  lw_style_set_line (&p->style, cr, LW_LINE_VISIBLE);
  lw_viewport_rect (v, cr, SEEN, r);
  cairo_stroke (cr);
}

/* The present reach in height, and the tip height the plan's rectangles belong to. */
static void
draw_reach (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v)
{
  LwReaches reaches = lw_reaches_get (scene);
  const LwReachShown *present = lw_reaches_get_present (&reaches);

  if (present != NULL) {
    LwBox3 at_height = present->box;
    LwRect r;

    at_height.low.z = at_height.high.z = scene->tip_height;
    r = lw_viewport_project_box (v, SEEN, at_height);
    cairo_new_path (cr);
    lw_style_set_ink_faded (&p->style, cr, LW_INK_REACH, 0.8);
    lw_style_set_line (&p->style, cr, LW_LINE_MOVING);
    lw_viewport_line (v, cr, SEEN, (LwPoint){ r.x0, r.y0 }, (LwPoint){ r.x1, r.y0 });
    cairo_stroke (cr);
    lw_style_set_line (&p->style, cr, LW_LINE_THIN);
    for (int i = 0; i < 2; i++) {
      double x = i == 0 ? r.x0 : r.x1;

      cairo_move_to (cr, x, r.y0 - 5);
      cairo_line_to (cr, x, r.y0 + 5);
    }
    cairo_stroke (cr);
  }
  lw_reaches_clear (&reaches);
}

static void
draw_head (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v)
{
  lw_limit_draw (cr, p, scene, v, SEEN);
  lw_head_draw (cr, p, scene, v, SEEN);
  lw_marker_draw (cr, p, scene, v, SEEN);
}

static void
draw_title (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v, LwPlacer *placer)
{
  g_autofree char *y_text = lw_format_length (scene->section_y, scene->unit, LW_ROUND_NEAREST);
  g_autofree char *words = g_strdup_printf (_ ("section A–A at Y %s, table frame"), y_text);
  double x = v->elevation.x0 + 14, y = v->elevation.y0 + 4, w, h;

  lw_labels_get_size (p->labels, _ ("Elevation"), LW_TEXT_TITLE, &w, &h);
  lw_style_set_ink (&p->style, cr, LW_INK_TEXT);
  lw_labels_draw (p->labels, cr, _ ("Elevation"), LW_TEXT_TITLE, x, y, 0, 0, false);
  lw_style_set_ink (&p->style, cr, LW_INK_FAINT);
  lw_labels_draw (p->labels, cr, words, LW_TEXT_SMALL, x + w + 14, y + 1, 0, 0, false);
  lw_placer_take (placer, (LwRect){ v->elevation.x0, v->elevation.y0, v->elevation.x1, y + h });
}

/* Height of the part above the table, and its own, left of everything. */
static void
draw_part_dimensions (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v,
                      LwPlacer *placer)
{
  const LwPlaced *placed = lw_scene_get_placed (scene);
  LwRect t = get_table_rect (scene, v), r;
  LwBox3 box;
  double z[3], line;

  if (placed == NULL)
    return;
  box = lw_placed_get_box (scene->job, placed);
  if (lw_box3_is_empty (box))
    return;
  r = lw_viewport_project_box (v, SEEN, box);
  line = t.x0 - 26;
  if (line < v->elevation.x0 + 34) {
    line = v->elevation.x0 + 34;
    lw_margin_lay (cr, p, (LwRect){ v->elevation.x0, v->elevation.y0, line + 6, v->elevation.y1 });
  }
  z[0] = 0;
  z[1] = box.low.z;
  z[2] = box.high.z;
  for (int i = 0; i < 2; i++) {
    g_autofree char *text =
        lw_format_length_bare (z[i + 1] - z[i], scene->unit, i == 1 ? LW_ROUND_UP : LW_ROUND_DOWN);

    lw_dimension_draw (p, cr, placer,
                       &(LwDimension){ .upright = true,
                                       .from = lw_viewport_get_up (v, SEEN, z[i]),
                                       .to = lw_viewport_get_up (v, SEEN, z[i + 1]),
                                       .line = line,
                                       .object_from = i == 0 ? t.x0 : r.x0,
                                       .object_to = r.x0,
                                       .text = text,
                                       .ink = LW_INK_FAINT,
                                       .text_ink = LW_INK_FAINT });
  }
}

static void
draw_text (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v)
{
  LwPoint tip = lw_viewport_project (v, SEEN, scene->tip);
  LwPlacer placer;

  lw_placer_start (&placer, v->elevation);
  lw_placer_take (&placer, (LwRect){ tip.x - 10, tip.y - 10, tip.x + 10, tip.y + 10 });
  lw_placer_take (&placer, lw_head_get_present_rect (scene, v, SEEN));
  placer.backing = p->style.inks[LW_INK_PAPER];
  placer.backing.a = 0.85;
  cairo_save (cr);
  lw_field_clip (cr, v, SEEN);
  draw_part_dimensions (cr, p, scene, v, &placer);
  cairo_restore (cr);
  draw_title (cr, p, scene, v, &placer);
  lw_limit_draw_text (cr, p, scene, v, SEEN, &placer);
}

void
lw_elevation_draw (cairo_t *cr, LwPainter *painter, const LwScene *scene, const LwViewport *v,
                   LwLayer layer)
{
  static void (*const draw[LW_N_LAYERS]) (
      cairo_t *, LwPainter *, const LwScene *,
      const LwViewport *) = { draw_paper, NULL, NULL, draw_reach, draw_head, draw_text };
  bool whole = layer == LW_LAYER_PAPER || layer == LW_LAYER_TEXT;
  LwRect area = whole ? lw_viewport_get_area (v, SEEN) : lw_viewport_get_field (v, SEEN);

  if (area.x1 <= area.x0 || area.y1 <= area.y0)
    return;
  cairo_save (cr);
  cairo_rectangle (cr, area.x0, area.y0, area.x1 - area.x0, area.y1 - area.y0);
  cairo_clip (cr);
  if (layer == LW_LAYER_PARTS)
    lw_parts_draw (cr, painter, scene, v, SEEN);
  else if (draw[layer] != NULL)
    draw[layer](cr, painter, scene, v);
  cairo_restore (cr);
}
