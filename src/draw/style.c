/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/style.h"

#include <math.h>

#define RGB(hex)                                                                       \
  {                                                                                    \
    ((hex) >> 16 & 0xff) / 255.0, ((hex) >> 8 & 0xff) / 255.0, ((hex)&0xff) / 255.0, 1 \
  }

/* Verdicts: vermilion, bluish green and orange of M. Okabe, K. Ito, "Color universal design"
 * (2008), orange and green darkened (lightened on dark paper) until a line of them stands 3 : 1
 * against the paper and a letter 4.5 : 1. Present reach: their blue. */
static const LwColor palettes[LW_N_THEMES][LW_N_INKS] = {
  [LW_THEME_LIGHT] = {
    [LW_INK_PAPER] = RGB (0xfcfbf8), [LW_INK_TABLE] = RGB (0xf7f6f2),
    [LW_INK_PART] = RGB (0xe7ecef), [LW_INK_HEAD] = RGB (0xffffff),
    [LW_INK_OUTLINE] = RGB (0x1f2a36), [LW_INK_TEXT] = RGB (0x1f2a36),
    [LW_INK_FAINT] = RGB (0x66717c), [LW_INK_HOLE] = RGB (0x9ba4ac),
    [LW_INK_HATCH] = RGB (0x8d979f), [LW_INK_LOST] = RGB (0xd9a88a),
    [LW_INK_REACH] = RGB (0x0072b2), [LW_INK_FITS] = RGB (0x008a64),
    [LW_INK_TIGHT] = RGB (0xb37c00), [LW_INK_DOES_NOT_FIT] = RGB (0xd55e00),
    [LW_INK_NOT_CHECKED] = RGB (0x6f7880), [LW_INK_TIGHT_TEXT] = RGB (0x8a5f00),
    [LW_INK_DOES_NOT_FIT_TEXT] = RGB (0xb64f00),
  },
  [LW_THEME_DARK] = {
    [LW_INK_PAPER] = RGB (0x1c2024), [LW_INK_TABLE] = RGB (0x22272c),
    [LW_INK_PART] = RGB (0x303840), [LW_INK_HEAD] = RGB (0x3a434c),
    [LW_INK_OUTLINE] = RGB (0xe4e8eb), [LW_INK_TEXT] = RGB (0xeef1f3),
    [LW_INK_FAINT] = RGB (0xa3adb6), [LW_INK_HOLE] = RGB (0x6b757e),
    [LW_INK_HATCH] = RGB (0x7b868f), [LW_INK_LOST] = RGB (0x8a5a3c),
    [LW_INK_REACH] = RGB (0x56b4e9), [LW_INK_FITS] = RGB (0x2dc79a),
    [LW_INK_TIGHT] = RGB (0xe69f00), [LW_INK_DOES_NOT_FIT] = RGB (0xef7a2a),
    [LW_INK_NOT_CHECKED] = RGB (0x9aa4ad), [LW_INK_TIGHT_TEXT] = RGB (0xf0b63a),
    [LW_INK_DOES_NOT_FIT_TEXT] = RGB (0xf79352),
  },
  [LW_THEME_CONTRAST] = {
    [LW_INK_PAPER] = RGB (0xffffff), [LW_INK_TABLE] = RGB (0xffffff),
    [LW_INK_PART] = RGB (0xe2e2e2), [LW_INK_HEAD] = RGB (0xffffff),
    [LW_INK_OUTLINE] = RGB (0x000000), [LW_INK_TEXT] = RGB (0x000000),
    [LW_INK_FAINT] = RGB (0x2b2b2b), [LW_INK_HOLE] = RGB (0x4a4a4a),
    [LW_INK_HATCH] = RGB (0x303030), [LW_INK_LOST] = RGB (0x9c4400),
    [LW_INK_REACH] = RGB (0x004f7d), [LW_INK_FITS] = RGB (0x005c43),
    [LW_INK_TIGHT] = RGB (0x6b4a00), [LW_INK_DOES_NOT_FIT] = RGB (0x9c4400),
    [LW_INK_NOT_CHECKED] = RGB (0x3c3c3c), [LW_INK_TIGHT_TEXT] = RGB (0x6b4a00),
    [LW_INK_DOES_NOT_FIT_TEXT] = RGB (0x8f3d00),
  },
  [LW_THEME_CONTRAST_DARK] = {
    [LW_INK_PAPER] = RGB (0x000000), [LW_INK_TABLE] = RGB (0x000000),
    [LW_INK_PART] = RGB (0x2b2b2b), [LW_INK_HEAD] = RGB (0x101010),
    [LW_INK_OUTLINE] = RGB (0xffffff), [LW_INK_TEXT] = RGB (0xffffff),
    [LW_INK_FAINT] = RGB (0xdadada), [LW_INK_HOLE] = RGB (0xb0b0b0),
    [LW_INK_HATCH] = RGB (0xc8c8c8), [LW_INK_LOST] = RGB (0xffa667),
    [LW_INK_REACH] = RGB (0x7cc8f5), [LW_INK_FITS] = RGB (0x4fe0b5),
    [LW_INK_TIGHT] = RGB (0xffc34d), [LW_INK_DOES_NOT_FIT] = RGB (0xffa667),
    [LW_INK_NOT_CHECKED] = RGB (0xd0d0d0), [LW_INK_TIGHT_TEXT] = RGB (0xffc34d),
    [LW_INK_DOES_NOT_FIT_TEXT] = RGB (0xffa667),
  },
};

LwStyle
lw_style_get (LwTheme theme)
{
  bool contrast = theme == LW_THEME_CONTRAST || theme == LW_THEME_CONTRAST_DARK;
  LwStyle style = {
    .theme = theme,
    .thick = contrast ? 2.4 : 1.8,
    .thin = contrast ? 1.2 : 0.9,
    .hatch_step = 8,
    .arrow = 8,
    .text = 11.5,
    .sharpness = 1,
  };

  for (int i = 0; i < LW_N_INKS; i++)
    style.inks[i] = palettes[theme][i];
  return style;
}

LwStyle
lw_style_get_for_paper (void)
{
  LwStyle style = lw_style_get (LW_THEME_LIGHT);

  style.inks[LW_INK_PAPER] = style.inks[LW_INK_TABLE] = (LwColor){ 1, 1, 1, 1 };
  style.thick = 1.4; /* 0.5 mm and 0.25 mm: a line group of ISO 128-2 */
  style.thin = 0.7;
  style.hatch_step = 6;
  style.arrow = 7;
  style.text = 8.5;
  return style;
}

static double
luminance_of (double channel)
{
  return channel <= 0.03928 ? channel / 12.92 : pow ((channel + 0.055) / 1.055, 2.4);
}

static double
get_luminance (LwColor color)
{
  return 0.2126 * luminance_of (color.r) + 0.7152 * luminance_of (color.g)
         + 0.0722 * luminance_of (color.b);
}

double
lw_color_get_contrast (LwColor a, LwColor b)
{
  double la = get_luminance (a), lb = get_luminance (b);

  return (fmax (la, lb) + 0.05) / (fmin (la, lb) + 0.05);
}

void
lw_style_set_ink (const LwStyle *style, cairo_t *cr, LwInk ink)
{
  lw_style_set_ink_faded (style, cr, ink, 1);
}

void
lw_style_set_ink_faded (const LwStyle *style, cairo_t *cr, LwInk ink, double alpha)
{
  LwColor color = style->inks[ink];

  cairo_set_source_rgba (cr, color.r, color.g, color.b, color.a * alpha);
}

LwInk
lw_style_get_verdict_ink (LwVerdictKind verdict)
{
  switch (verdict) {
  case LW_VERDICT_DOES_NOT_FIT:
    return LW_INK_DOES_NOT_FIT;
  case LW_VERDICT_TIGHT:
    return LW_INK_TIGHT;
  case LW_VERDICT_FITS:
    return LW_INK_FITS;
  case LW_VERDICT_NOT_CHECKED:
  default:
    return LW_INK_NOT_CHECKED;
  }
}

LwInk
lw_style_get_verdict_text_ink (LwVerdictKind verdict)
{
  switch (verdict) {
  case LW_VERDICT_DOES_NOT_FIT:
    return LW_INK_DOES_NOT_FIT_TEXT;
  case LW_VERDICT_TIGHT:
    return LW_INK_TIGHT_TEXT;
  default:
    return LW_INK_TEXT;
  }
}

double
lw_style_get_line_width (const LwStyle *style, LwLine line)
{
  switch (line) {
  case LW_LINE_VISIBLE:
  case LW_LINE_CUT:
  case LW_LINE_MOVING_THICK:
    return style->thick;
  default:
    return style->thin;
  }
}

/* ISO 128-2 gives dash 12 d, long dash 24 d, gap 3 d, dot 0.5 d. On a screen a dot of half a line
 * width can't be seen, so dots are longer, and long dashes shorter to keep three to a table edge.
 */
void
lw_style_set_line (const LwStyle *style, cairo_t *cr, LwLine line)
{
  double d = lw_style_get_line_width (style, line);
  double gap = 3 * d, dot = 1.6 * d, dash = 6 * d, longer = (d == style->thick ? 10 : 14) * d;
  double dotted[] = { longer, gap, dot, gap }, twice[] = { longer, gap, dot, gap, dot, gap };
  double dashed[] = { dash, gap };

  cairo_set_line_width (cr, d);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  switch (line) {
  case LW_LINE_HIDDEN:
    cairo_set_dash (cr, dashed, 2, 0);
    break;
  case LW_LINE_CENTER:
  case LW_LINE_CUT:
    cairo_set_dash (cr, dotted, 4, 0);
    break;
  case LW_LINE_MOVING:
  case LW_LINE_MOVING_THICK:
    cairo_set_dash (cr, twice, 6, 0);
    break;
  default:
    cairo_set_dash (cr, NULL, 0, 0);
  }
}

/* One tile of lines at 45°, as coverage only: a repeating A8 pattern costs a twentieth of lines
 * under a clip. */
static cairo_pattern_t *
make_hatch_tile (double side, bool rising, double width, double sharpness)
{
  int n = (int)ceil (side * sharpness);
  cairo_surface_t *tile = cairo_image_surface_create (CAIRO_FORMAT_A8, n, n);
  cairo_t *cr = cairo_create (tile);
  cairo_pattern_t *pattern;
  cairo_matrix_t matrix;

  cairo_set_line_width (cr, width * sharpness);
  for (int i = -1; i <= 1; i++) {
    cairo_move_to (cr, i * n - n, rising ? 2 * n : -n);
    cairo_line_to (cr, i * n + 2 * n, rising ? -n : 2 * n);
  }
  cairo_stroke (cr);
  cairo_destroy (cr);
  pattern = cairo_pattern_create_for_surface (tile);
  cairo_surface_destroy (tile);
  cairo_pattern_set_extend (pattern, CAIRO_EXTEND_REPEAT);
  cairo_matrix_init_scale (&matrix, n / side, n / side);
  cairo_pattern_set_matrix (pattern, &matrix);
  if (n == (int)side)
    cairo_pattern_set_filter (pattern, CAIRO_FILTER_NEAREST);
  return pattern;
}

static void
hatch_by_lines (const LwStyle *style, cairo_t *cr, double side, bool rising)
{
  double x0, y0, x1, y1, h;

  cairo_clip_extents (cr, &x0, &y0, &x1, &y1);
  h = y1 - y0;
  lw_style_set_line (style, cr, LW_LINE_THIN);
  cairo_set_line_width (cr, 0.6 * style->thin);
  int first = (int)floor ((x0 - h) / side), past = (int)ceil (x1 / side);
  for (int i = first; i < past; i++) {
    double x = side * i;
    cairo_move_to (cr, x, rising ? y1 : y0);
    cairo_line_to (cr, x + h, rising ? y0 : y1);
  }
  cairo_stroke (cr);
}

void
lw_style_hatch (const LwStyle *style, cairo_t *cr, LwInk ink, double alpha, bool rising)
{
  cairo_surface_type_t type = cairo_surface_get_type (cairo_get_target (cr));
  bool vectors = type == CAIRO_SURFACE_TYPE_PDF || type == CAIRO_SURFACE_TYPE_SVG
                 || type == CAIRO_SURFACE_TYPE_PS;
  double side = round (style->hatch_step * sqrt (2.0));

  cairo_save (cr);
  cairo_clip (cr);
  lw_style_set_ink_faded (style, cr, ink, alpha);
  if (vectors)
    hatch_by_lines (style, cr, side, rising);
  else {
    cairo_pattern_t *tile = make_hatch_tile (side, rising, 0.8 * style->thin, style->sharpness);

    cairo_mask (cr, tile);
    cairo_pattern_destroy (tile);
  }
  cairo_restore (cr);
}

void
lw_style_arrow (const LwStyle *style, cairo_t *cr, double x, double y, double dx, double dy)
{
  double l = style->arrow, w = l / 6;

  cairo_move_to (cr, x, y);
  cairo_line_to (cr, x - l * dx + w * dy, y - l * dy - w * dx);
  cairo_line_to (cr, x - l * dx - w * dy, y - l * dy + w * dx);
  cairo_close_path (cr);
  cairo_fill (cr);
}

static void
draw_sign (cairo_t *cr, LwVerdictKind verdict, double r)
{
  switch (verdict) {
  case LW_VERDICT_FITS:
    cairo_move_to (cr, -0.40 * r, 0.04 * r);
    cairo_line_to (cr, -0.10 * r, 0.34 * r);
    cairo_line_to (cr, 0.42 * r, -0.32 * r);
    break;
  case LW_VERDICT_DOES_NOT_FIT:
    cairo_move_to (cr, -0.32 * r, -0.32 * r);
    cairo_line_to (cr, 0.32 * r, 0.32 * r);
    cairo_move_to (cr, 0.32 * r, -0.32 * r);
    cairo_line_to (cr, -0.32 * r, 0.32 * r);
    break;
  case LW_VERDICT_TIGHT:
    cairo_move_to (cr, 0, -0.48 * r);
    cairo_line_to (cr, 0, 0.12 * r);
    cairo_move_to (cr, 0, 0.45 * r);
    cairo_line_to (cr, 0, 0.45 * r + 1e-3);
    break;
  case LW_VERDICT_NOT_CHECKED:
  default:
    cairo_arc (cr, 0, -0.22 * r, 0.26 * r, -LW_PI, 0.30 * LW_PI);
    cairo_curve_to (cr, 0.06 * r, 0.06 * r, 0, 0.08 * r, 0, 0.18 * r);
    cairo_move_to (cr, 0, 0.48 * r);
    cairo_line_to (cr, 0, 0.48 * r + 1e-3);
  }
}

void
lw_style_draw_mark (const LwStyle *style, cairo_t *cr, LwVerdictKind verdict, double x, double y,
                    double size)
{
  double width = fmax (1.2, size / 11), r = (size - width) / 2;

  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_new_path (cr);
  lw_style_set_ink (style, cr, lw_style_get_verdict_ink (verdict));
  cairo_set_dash (cr, NULL, 0, 0);
  cairo_set_line_width (cr, width);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_arc (cr, 0, 0, r, 0, 2 * LW_PI);
  cairo_stroke (cr);
  draw_sign (cr, verdict, size / 2);
  cairo_stroke (cr);
  cairo_restore (cr);
}
