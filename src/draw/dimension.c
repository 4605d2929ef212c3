/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/dimension.h"

/* px: between object and extension line, and beyond the dimension line. */
#define GAP    2
#define BEYOND 3

typedef struct {
  cairo_t *cr;
  bool upright;
} Axes;

static void
move (Axes a, double along, double across)
{
  cairo_move_to (a.cr, a.upright ? across : along, a.upright ? along : across);
}

static void
draw_to (Axes a, double along, double across)
{
  cairo_line_to (a.cr, a.upright ? across : along, a.upright ? along : across);
}

static void
extend (Axes a, double along, double object, double line)
{
  double way = line > object ? 1 : -1;

  if (fabs (line - object) < GAP + BEYOND)
    return;
  move (a, along, object + way * GAP);
  draw_to (a, along, line + way * BEYOND);
}

/* Above the line in the middle of what can be seen of it, else a row further out, under the line,
 * beside either end. */
static void
place_text (LwPainter *p, cairo_t *cr, LwPlacer *placer, const LwDimension *d)
{
  LwRect b = placer->bounds;
  double low = fmax (fmin (d->from, d->to), d->upright ? b.y0 : b.x0);
  double high = fmin (fmax (d->from, d->to), d->upright ? b.y1 : b.x1), mid = (low + high) / 2;
  double out = p->style.arrow * 2 + 4, row = p->style.text * 1.3, width, height, gap = 0;

  lw_labels_get_size (p->labels, d->text, LW_TEXT_SMALL, &width, &height);
  lw_style_set_ink (&p->style, cr, d->text_ink);
  if (d->upright) {
    LwPlace places[] = { { d->line - gap, mid, 1, 0.5 },
                         { d->line - gap - row, mid, 1, 0.5 },
                         { d->line + gap, mid, 0, 0.5 },
                         { d->line - gap, high + out, 1, 0 },
                         { d->line - gap, low - out, 1, 1 } };
    bool fits = width <= high - low;

    lw_labels_place (p->labels, cr, placer, d->text, LW_TEXT_SMALL, places + !fits, 5 - !fits,
                     true);
  } else {
    LwPlace places[] = { { mid, d->line - gap, 0.5, 1 },
                         { mid, d->line - gap - row, 0.5, 1 },
                         { mid, d->line + gap, 0.5, 0 },
                         { high + out, d->line - gap, 0, 1 },
                         { low - out, d->line - gap, 1, 1 } };
    bool fits = width <= high - low;

    lw_labels_place (p->labels, cr, placer, d->text, LW_TEXT_SMALL, places + !fits, 5 - !fits,
                     false);
  }
}

void
lw_dimension_draw (LwPainter *p, cairo_t *cr, LwPlacer *placer, const LwDimension *d)
{
  Axes a = { cr, d->upright };
  double low = fmin (d->from, d->to), high = fmax (d->from, d->to), arrow = p->style.arrow;
  bool inside = high - low >= 2.4 * arrow;
  double way = inside ? 1 : -1;

  if (high - low < 0.5)
    return;
  cairo_new_path (cr);
  lw_style_set_ink (&p->style, cr, d->ink);
  lw_style_set_line (&p->style, cr, LW_LINE_THIN);
  cairo_set_line_width (cr, p->style.thin * 0.85);
  extend (a, d->from, d->object_from, d->line);
  extend (a, d->to, d->object_to, d->line);
  move (a, inside ? low : low - 2 * arrow, d->line);
  draw_to (a, inside ? high : high + 2 * arrow, d->line);
  cairo_stroke (cr);
  for (int i = 0; i < 2; i++) {
    double at = i == 0 ? low : high, pointing = (i == 0 ? -1 : 1) * way;

    if (d->upright)
      lw_style_arrow (&p->style, cr, d->line, at, 0, pointing);
    else
      lw_style_arrow (&p->style, cr, at, d->line, pointing, 0);
  }
  place_text (p, cr, placer, d);
}
