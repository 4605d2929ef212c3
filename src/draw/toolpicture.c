/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/toolpicture.h"

#include <glib/gi18n.h>

#include "draw/dimension.h"
#include "draw/silhouette.h"

/* px around the tool for dimensions. */
#define SIDE   62
#define TOP    30
#define BOTTOM 30

typedef struct {
  double scale, x0, y0; /* px a mm; axis; gauge line */
} Fit;

static Fit
get_fit (const LwTool *tool, double width, double height)
{
  double length = fmax (1, lw_tool_get_length (tool)), widest = 1;

  for (int i = 0; i < tool->n_segments; i++)
    widest = fmax (widest, fmax (tool->segments[i].d_from, tool->segments[i].d_to));
  return (Fit){ fmax (1e-3, fmin ((height - TOP - BOTTOM) / length, (width - 2 * SIDE) / widest)),
                width / 2, TOP };
}

static void
draw_segments (cairo_t *cr, LwPainter *p, const LwTool *tool, Fit fit)
{
  for (int i = 0; i < tool->n_segments; i++) {
    LwProfilePoint profile[LW_PROFILE_ROOM];
    int n = lw_tool_get_profile (tool, i, profile);

    cairo_new_path (cr);
    for (int k = 0; k < n; k++)
      cairo_line_to (cr, fit.x0 + fit.scale * profile[k].radius,
                     fit.y0 + fit.scale * profile[k].along);
    for (int k = n - 1; k >= 0; k--)
      cairo_line_to (cr, fit.x0 - fit.scale * profile[k].radius,
                     fit.y0 + fit.scale * profile[k].along);
    cairo_close_path (cr);
    lw_style_set_ink (&p->style, cr, LW_INK_HEAD);
    cairo_fill_preserve (cr);
    if (tool->segments[i].kind == LW_SEGMENT_CUTTING) {
      lw_style_set_ink_faded (&p->style, cr, LW_INK_REACH, 0.16);
      cairo_fill_preserve (cr);
    }
    lw_style_set_line (&p->style, cr, LW_LINE_VISIBLE);
    lw_style_set_ink (&p->style, cr, LW_INK_OUTLINE);
    cairo_stroke (cr);
  }
}

static void
draw_axis_and_gauge (cairo_t *cr, LwPainter *p, const LwTool *tool, Fit fit, double width)
{
  double tip = fit.y0 + fit.scale * lw_tool_get_length (tool);
  double r = tool->n_segments > 0 ? fit.scale * tool->segments[0].d_from / 2 : 10;

  lw_style_set_ink (&p->style, cr, LW_INK_FAINT);
  lw_style_set_line (&p->style, cr, LW_LINE_CENTER);
  cairo_move_to (cr, fit.x0, fit.y0 - 10);
  cairo_line_to (cr, fit.x0, tip + 10);
  cairo_move_to (cr, fmax (2, fit.x0 - r - 14), fit.y0);
  cairo_line_to (cr, fmin (width - 2, fit.x0 + r + 14), fit.y0);
  cairo_stroke (cr);
  lw_labels_draw (p->labels, cr, _ ("gauge line"), LW_TEXT_SMALL, fit.x0, fit.y0 - 12, 0.5, 1,
                  false);
}

static void
draw_length (cairo_t *cr, LwPainter *p, LwPlacer *placer, Fit fit, LwUnit unit, double from,
             double to, double line, double object)
{
  g_autofree char *text = lw_format_length_bare (to - from, unit, LW_ROUND_NEAREST);

  lw_dimension_draw (p, cr, placer,
                     &(LwDimension){ .upright = true,
                                     .from = fit.y0 + fit.scale * from,
                                     .to = fit.y0 + fit.scale * to,
                                     .line = line,
                                     .object_from = object,
                                     .object_to = fit.x0,
                                     .text = text,
                                     .ink = LW_INK_FAINT,
                                     .text_ink = LW_INK_TEXT });
}

void
lw_tool_picture_draw (cairo_t *cr, LwPainter *p, const LwTool *tool, LwUnit unit, double width,
                      double height)
{
  Fit fit = get_fit (tool, width, height);
  double length = lw_tool_get_length (tool), nose = 0, r = 0;
  double radius = lw_tool_get_cutter_radius (tool);
  LwPlacer placer;

  lw_placer_start (&placer, (LwRect){ 0, 0, width, height });
  lw_style_set_ink (&p->style, cr, LW_INK_PAPER);
  cairo_paint (cr);
  draw_segments (cr, p, tool, fit);
  draw_axis_and_gauge (cr, p, tool, fit, width);
  for (int i = 0; i < tool->n_segments; i++) {
    if (tool->segments[i].kind == LW_SEGMENT_HOLDER)
      nose = tool->segments[i].to;
    r = fmax (r, fit.scale * fmax (tool->segments[i].d_from, tool->segments[i].d_to) / 2);
  }
  draw_length (cr, p, &placer, fit, unit, 0, length, fmin (width - 14, fit.x0 + r + 34),
               fit.x0 + r);
  if (!isnan (tool->stick_out))
    draw_length (cr, p, &placer, fit, unit, nose, length, fmax (22, fit.x0 - r - 18), fit.x0 - 4);
  if (!isnan (radius)) {
    g_autofree char *d = lw_format_length_bare (2 * radius, unit, LW_ROUND_NEAREST);
    g_autofree char *text = g_strconcat ("⌀ ", d, NULL);

    lw_style_set_ink (&p->style, cr, LW_INK_TEXT);
    lw_labels_place (p->labels, cr, &placer, text, LW_TEXT_SMALL,
                     &(LwPlace){ fit.x0, fit.y0 + fit.scale * length + 10, 0.5, 0 }, 1, false);
  }
}
