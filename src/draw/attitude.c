/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/attitude.h"

#include "base/text.h"

#define MARGIN   16 /* px left and right of the scale */
#define BASELINE 30 /* px from the top to the scale's line */

double
lw_tilt_scale_get_x (const LwAxisFace *face, double width, double value)
{
  return MARGIN + (width - 2 * MARGIN) * (value - face->low) / (face->high - face->low);
}

double
lw_tilt_scale_get_value (const LwAxisFace *face, double width, double x)
{
  double share = (x - MARGIN) / fmax (1, width - 2 * MARGIN);

  return face->low + fmin (1, fmax (0, share)) * (face->high - face->low);
}

static void
draw_span (cairo_t *cr, const LwAxisFace *face, double width, double from, double to)
{
  if (from >= to)
    return;
  cairo_move_to (cr, lw_tilt_scale_get_x (face, width, from), BASELINE);
  cairo_line_to (cr, lw_tilt_scale_get_x (face, width, to), BASELINE);
  cairo_stroke (cr);
}

/* Ticks every 10°, numbers every 30° as far as they stay apart. */
static void
draw_ticks (cairo_t *cr, const LwStyle *style, LwLabels *labels, const LwAxisFace *face,
            double width)
{
  int from = (int)ceil (lw_degrees (face->low) / 10 - 1e-9);
  int to = (int)floor (lw_degrees (face->high) / 10 + 1e-9);
  double per_30 = (width - 2 * MARGIN) * lw_radians (30) / (face->high - face->low);
  int every = per_30 > 2.9 * style->text ? 3 : 9;

  for (int i = from; i <= to; i++) {
    double x = lw_tilt_scale_get_x (face, width, lw_radians (10 * i));
    bool named = i % 3 == 0;

    cairo_move_to (cr, x, BASELINE);
    cairo_line_to (cr, x, BASELINE - (named ? 8 : 4));
    lw_style_set_ink (style, cr, LW_INK_OUTLINE);
    cairo_set_line_width (cr, style->thin);
    cairo_stroke (cr);
    if (i % every == 0) {
      g_autofree char *number = lw_format_fixed (10 * i, 0, LW_ROUND_NEAREST);
      g_autofree char *text = g_strconcat (number, "°", NULL);

      lw_style_set_ink (style, cr, LW_INK_FAINT);
      lw_labels_draw (labels, cr, text, LW_TEXT_SMALL, x, BASELINE - 10, 0.5, 1, false);
    }
  }
}

static void
draw_pointer (cairo_t *cr, const LwStyle *style, double x, double y, bool beyond, bool focused)
{
  cairo_move_to (cr, x, y + 3);
  cairo_line_to (cr, x + 7, y + 15);
  cairo_line_to (cr, x - 7, y + 15);
  cairo_close_path (cr);
  lw_style_set_ink (style, cr, beyond ? LW_INK_DOES_NOT_FIT : LW_INK_REACH);
  cairo_fill (cr);
  if (!focused)
    return;
  cairo_rectangle (cr, x - 11, y - 1, 22, 20);
  cairo_set_line_width (cr, 2);
  lw_style_set_ink (style, cr, LW_INK_REACH);
  cairo_stroke (cr);
}

void
lw_tilt_scale_draw (cairo_t *cr, const LwStyle *style, LwLabels *labels, const LwAxisFace *face,
                    double width, double height)
{
  double ends[4] = { face->low, fmin (fmax (face->end_low, face->low), face->high),
                     fmax (fmin (face->end_high, face->high), face->low), face->high };
  bool beyond = face->value < face->end_low || face->value > face->end_high;
  double x = lw_tilt_scale_get_x (face, width, face->value);

  cairo_new_path (cr);
  cairo_set_dash (cr, NULL, 0, 0);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  draw_ticks (cr, style, labels, face, width);
  cairo_set_line_width (cr, style->thick);
  lw_style_set_ink (style, cr, LW_INK_OUTLINE);
  draw_span (cr, face, width, ends[1], ends[2]);
  cairo_set_line_width (cr, 2 * style->thick);
  lw_style_set_ink (style, cr, LW_INK_DOES_NOT_FIT);
  draw_span (cr, face, width, ends[0], ends[1]);
  draw_span (cr, face, width, ends[2], ends[3]);
  draw_pointer (cr, style, x, BASELINE, beyond, face->focused);
}

/* ------------------------------------------------------------------------------------------------
 * Dial */

static double
get_radius (double width, double height)
{
  return fmin (width, height) / 2 - 4;
}

/* Headings that the axis does not reach, as an arc on the rim. */
static void
draw_missing (cairo_t *cr, const LwStyle *style, const LwAxisFace *face, double r)
{
  if (face->high - face->low >= 2 * LW_PI || !isfinite (face->low))
    return;
  cairo_new_path (cr);
  cairo_arc_negative (cr, 0, 0, r, -face->high, -(face->low + 2 * LW_PI));
  lw_style_set_ink (style, cr, LW_INK_DOES_NOT_FIT);
  cairo_set_line_width (cr, 2 * style->thick);
  cairo_stroke (cr);
}

static void
draw_needle (cairo_t *cr, const LwStyle *style, double value, double r)
{
  double dx = cos (value), dy = -sin (value);

  lw_style_set_ink (style, cr, LW_INK_REACH);
  cairo_set_line_width (cr, 1.2 * style->thick);
  cairo_move_to (cr, 0, 0);
  cairo_line_to (cr, (r - style->arrow) * dx, (r - style->arrow) * dy);
  cairo_stroke (cr);
  lw_style_arrow (style, cr, r * dx, r * dy, dx, dy);
  cairo_arc (cr, 0, 0, 2.5, 0, 2 * LW_PI);
  cairo_fill (cr);
}

void
lw_heading_dial_draw (cairo_t *cr, const LwStyle *style, LwLabels *labels, const LwAxisFace *face,
                      double width, double height)
{
  double r = get_radius (width, height);

  cairo_save (cr);
  cairo_translate (cr, width / 2, height / 2);
  cairo_new_path (cr);
  cairo_set_dash (cr, NULL, 0, 0);
  cairo_arc (cr, 0, 0, r, 0, 2 * LW_PI);
  lw_style_set_ink (style, cr, LW_INK_HEAD);
  cairo_fill_preserve (cr);
  lw_style_set_ink (style, cr, face->focused ? LW_INK_REACH : LW_INK_OUTLINE);
  cairo_set_line_width (cr, face->focused ? 2.2 : style->thin * 1.3);
  cairo_stroke (cr);
  for (int i = 0; i < 12; i++) {
    double a = i * LW_PI / 6, inner = r - (i % 3 == 0 ? 7 : 4);

    cairo_move_to (cr, r * cos (a), r * sin (a));
    cairo_line_to (cr, inner * cos (a), inner * sin (a));
  }
  lw_style_set_ink (style, cr, LW_INK_OUTLINE);
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
  draw_missing (cr, style, face, r);
  draw_needle (cr, style, face->value, r - 2);
  cairo_restore (cr);
}

double
lw_heading_dial_get_value (const LwAxisFace *face, double width, double height, double x, double y)
{
  double a = atan2 (height / 2 - y, x - width / 2);

  a += 2 * LW_PI * round ((face->value - a) / (2 * LW_PI));
  if (a > face->high)
    a = a - 2 * LW_PI >= face->low ? a - 2 * LW_PI : face->high;
  if (a < face->low)
    a = a + 2 * LW_PI <= face->high ? a + 2 * LW_PI : face->low;
  return a;
}
