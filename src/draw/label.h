/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <pango/pangocairo.h>

#include "draw/style.h"

/* Text of pictures: layouts are kept, since a fresh one costs ten times a cached one. Main thread
 * only. */
typedef struct _LwLabels LwLabels;

typedef enum {
  LW_TEXT_SMALL,  /* dimensions, notes */
  LW_TEXT_STRONG, /* the same, bold */
  LW_TEXT_TITLE,  /* a picture's name */
  LW_TEXT_LARGE,  /* a value to be read from afar */
} LwTextKind;

/* text: height of LW_TEXT_SMALL's em. */
LwLabels *lw_labels_new (double text);
void lw_labels_free (LwLabels *labels);
/* Drops what is kept when it differs. family NULL: the sans serif of the system. */
void lw_labels_set_font (LwLabels *labels, const char *family, double text);

/* While texts is not NULL, every text drawn is added to it (char *, g_free): what a picture says.
 */
void lw_labels_collect (LwLabels *labels, GPtrArray *texts);

/* Size of a text. */
void lw_labels_get_size (LwLabels *labels, const char *text, LwTextKind kind, double *width,
                         double *height);

/* Draws in the present source; (x, y) is where the point (anchor_x, anchor_y) of the text's box
 * comes, 0 left or top … 1 right or bottom. quarter: turned to be read from the right. */
void lw_labels_draw (LwLabels *labels, cairo_t *cr, const char *text, LwTextKind kind, double x,
                     double y, double anchor_x, double anchor_y, bool quarter);

/* ------------------------------------------------------------------------------------------------
 * Keeps texts apart: a list of the boxes taken. */
typedef struct {
  double x0, y0, x1, y1;
} LwRect;

typedef struct {
  LwRect bounds; /* nothing is placed outside */
  LwRect taken[192];
  int n_taken;
  LwColor backing; /* laid under what is placed, so that lines don't cross letters; a = 0: none */
} LwPlacer;

static inline bool
lw_rect_overlaps (LwRect a, LwRect b)
{
  return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
}

void lw_placer_start (LwPlacer *placer, LwRect bounds);
void lw_placer_take (LwPlacer *placer, LwRect rect);
bool lw_placer_is_free (const LwPlacer *placer, LwRect rect);

/* Draws text at the first of n places (x, y, anchors) that is free and takes it; answers false,
 * and draws nothing, when none is. */
typedef struct {
  double x, y, anchor_x, anchor_y;
} LwPlace;

bool lw_labels_place (LwLabels *labels, cairo_t *cr, LwPlacer *placer, const char *text,
                      LwTextKind kind, const LwPlace *places, int n_places, bool quarter);
