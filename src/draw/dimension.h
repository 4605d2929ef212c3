/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "draw/painter.h"

/* A dimension along X or up (ISO 129-1): extension lines, a dimension line with filled arrowheads,
 * the text above it, to be read from below or from the right. */
typedef struct {
  bool upright;       /* measures up, else across */
  double from, to;    /* px of what is measured */
  double line;        /* px, across the measure: where the dimension line runs */
  double object_from; /* px, across: where the object's edges end and extension lines begin */
  double object_to;
  const char *text;
  LwInk ink, text_ink;
} LwDimension;

void lw_dimension_draw (LwPainter *painter, cairo_t *cr, LwPlacer *placer,
                        const LwDimension *dimension);
