/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <cairo.h>

#include "plan/verdict.h"

/* How pictures look: inks, line types, hatching, arrowheads and marks. Lengths are in the picture's
 * own units (pixels on a screen, points on paper). */

typedef enum {
  LW_THEME_LIGHT,
  LW_THEME_DARK,
  LW_THEME_CONTRAST, /* high contrast, black on white */
  LW_THEME_CONTRAST_DARK,
  LW_N_THEMES,
} LwTheme;

typedef enum {
  LW_INK_PAPER,
  LW_INK_TABLE,   /* face of the table */
  LW_INK_PART,    /* face of a part */
  LW_INK_HEAD,    /* face of head and tool */
  LW_INK_OUTLINE, /* visible edges */
  LW_INK_TEXT,    /* text to be read first */
  LW_INK_FAINT,   /* other text, dimensions, thin lines */
  LW_INK_HOLE,    /* dots of the hole grid */
  LW_INK_HATCH,   /* hatching of a section */
  LW_INK_LOST,    /* hatching of what can't be reached */
  LW_INK_REACH,   /* present reach and selection */
  LW_INK_FITS,    /* the four verdicts, for lines and marks */
  LW_INK_TIGHT,
  LW_INK_DOES_NOT_FIT,
  LW_INK_NOT_CHECKED,
  LW_INK_TIGHT_TEXT, /* the same hues where they are letters */
  LW_INK_DOES_NOT_FIT_TEXT,
  LW_N_INKS,
} LwInk;

typedef struct {
  double r, g, b, a;
} LwColor;

typedef struct {
  LwTheme theme;
  LwColor inks[LW_N_INKS];
  double thick, thin; /* ISO 128: two line widths, 2 : 1 */
  double hatch_step;  /* between hatching lines */
  double arrow;       /* length of an arrowhead */
  double text;        /* height of the letters' em */
  double sharpness;   /* device pixels to a unit: hatching tiles are made that fine */
} LwStyle;

/* A screen's style. */
LwStyle lw_style_get (LwTheme theme);
/* The same on paper, 1 unit = 1 point. */
LwStyle lw_style_get_for_paper (void);

/* Contrast ratio of two opaque colors, 1 … 21 (WCAG 2.1, relative luminance). */
double lw_color_get_contrast (LwColor a, LwColor b);

void lw_style_set_ink (const LwStyle *style, cairo_t *cr, LwInk ink);
void lw_style_set_ink_faded (const LwStyle *style, cairo_t *cr, LwInk ink, double alpha);

/* Ink and word of a verdict. */
LwInk lw_style_get_verdict_ink (LwVerdictKind verdict);
LwInk lw_style_get_verdict_text_ink (LwVerdictKind verdict);

/* Line types of ISO 128-2, with the numbers of its table. */
typedef enum {
  LW_LINE_VISIBLE, /* 01.2 continuous, wide */
  LW_LINE_THIN,    /* 01.1 continuous, narrow: dimensions, extension lines, hatching */
  LW_LINE_HIDDEN,  /* 02.1 dashed, narrow */
  LW_LINE_CENTER,  /* 04.1 long-dashed dotted, narrow: center lines */
  LW_LINE_CUT,     /* 04.2 long-dashed dotted, wide: where a section is taken; limits */
  LW_LINE_MOVING,  /* 05.1 long-dashed double-dotted, narrow: moving parts at other positions */
  LW_LINE_MOVING_THICK, /* the same, wide: the position that is looked at */
} LwLine;

/* Sets width and dashes. */
void lw_style_set_line (const LwStyle *style, cairo_t *cr, LwLine line);
double lw_style_get_line_width (const LwStyle *style, LwLine line);

/* Hatches the current path (which is consumed) at 45°, rising to the right or falling. Tiles on
 * raster and recording surfaces, lines on vector ones. rule as for cairo_fill. */
void lw_style_hatch (const LwStyle *style, cairo_t *cr, LwInk ink, double alpha, bool rising);

/* A filled arrowhead (ISO 129-1) with its point at x, y, pointing along the unit vector dx, dy, in
 * the present source. */
void lw_style_arrow (const LwStyle *style, cairo_t *cr, double x, double y, double dx, double dy);

/* The mark of a verdict: ✓ ✕ ! ? in a ring, drawn, never from a font; size is its outer diameter.
 */
void lw_style_draw_mark (const LwStyle *style, cairo_t *cr, LwVerdictKind verdict, double x,
                         double y, double size);
