/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "draw/label.h"
#include "draw/outlines.h"
#include "draw/viewport.h"

/* What every picture needs beside its scene: a style, and what is kept from one drawing to the
 * next. Main thread only. */
typedef struct {
  LwStyle style;
  LwLabels *labels;
  LwOutlines *outlines;
} LwPainter;

LwPainter *lw_painter_new (LwStyle style);
void lw_painter_free (LwPainter *painter);
void lw_painter_set_style (LwPainter *painter, LwStyle style);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LwPainter, lw_painter_free)

/* The pictures of a job are stacks of layers, so that a change draws its own layer only. */
typedef enum {
  LW_LAYER_PAPER, /* paper, table, holes, what stands on the bed */
  LW_LAYER_LOST,  /* hatching of what the tip can't reach */
  LW_LAYER_PARTS, /* fixture, parts, unreachable region */
  LW_LAYER_REACH, /* travel and reach outlines */
  LW_LAYER_HEAD,  /* head, tool, what binds, marker of the tip */
  LW_LAYER_TEXT,  /* titles, dimensions, labels */
  LW_N_LAYERS,
} LwLayer;

/* Draws one layer of a view inside its area of the viewport. The scene is only read. */
void lw_plan_draw (cairo_t *cr, LwPainter *painter, const LwScene *scene,
                   const LwViewport *viewport, LwLayer layer);
void lw_elevation_draw (cairo_t *cr, LwPainter *painter, const LwScene *scene,
                        const LwViewport *viewport, LwLayer layer);

/* Whole pictures, for files and paper: one view, fitted. */
void lw_picture_draw (cairo_t *cr, LwPainter *painter, const LwScene *scene, LwSeen seen,
                      double width, double height);
/* Both views with one viewport. */
void lw_picture_draw_both (cairo_t *cr, LwPainter *painter, const LwScene *scene,
                           const LwViewport *viewport);
