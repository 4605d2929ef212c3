/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/painter.h"

#include "draw/layers.h"

LwPainter *
lw_painter_new (LwStyle style)
{
  LwPainter *painter = g_new0 (LwPainter, 1);

  painter->style = style;
  painter->labels = lw_labels_new (style.text);
  painter->outlines = lw_outlines_new ();
  return painter;
}

void
lw_painter_free (LwPainter *painter)
{
  if (painter == NULL)
    return;
  lw_labels_free (painter->labels);
  lw_outlines_free (painter->outlines);
  g_free (painter);
}

void
lw_painter_set_style (LwPainter *painter, LwStyle style)
{
  painter->style = style;
  lw_labels_set_font (painter->labels, NULL, style.text);
}

void
lw_field_clip (cairo_t *cr, const LwViewport *v, LwSeen seen)
{
  LwRect field = lw_viewport_get_field (v, seen);

  cairo_new_path (cr);
  cairo_rectangle (cr, field.x0, field.y0, field.x1 - field.x0, field.y1 - field.y0);
  cairo_clip (cr);
}

void
lw_paper_lay (cairo_t *cr, LwPainter *p, const LwViewport *v, LwSeen seen)
{
  lw_style_set_ink (&p->style, cr, LW_INK_PAPER);
  cairo_paint (cr);
  lw_field_clip (cr, v, seen);
}

void
lw_margin_lay (cairo_t *cr, LwPainter *p, LwRect r)
{
  lw_style_set_ink_faded (&p->style, cr, LW_INK_PAPER, 0.92);
  cairo_rectangle (cr, r.x0, r.y0, r.x1 - r.x0, r.y1 - r.y0);
  cairo_fill (cr);
}

void
lw_picture_draw_both (cairo_t *cr, LwPainter *painter, const LwScene *scene,
                      const LwViewport *viewport)
{
  for (LwLayer layer = 0; layer < LW_N_LAYERS; layer++) {
    lw_plan_draw (cr, painter, scene, viewport, layer);
    lw_elevation_draw (cr, painter, scene, viewport, layer);
  }
}

void
lw_picture_draw (cairo_t *cr, LwPainter *painter, const LwScene *scene, LwSeen seen, double width,
                 double height)
{
  LwViewport viewport = lw_viewport_fit_one (scene, seen, width, height);

  for (LwLayer layer = 0; layer < LW_N_LAYERS; layer++)
    if (seen == LW_SEEN_FROM_ABOVE)
      lw_plan_draw (cr, painter, scene, &viewport, layer);
    else
      lw_elevation_draw (cr, painter, scene, &viewport, layer);
}
