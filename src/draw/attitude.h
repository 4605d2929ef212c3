/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "draw/label.h"
#include "machine/machine.h"

/* The instruments of the attitude strip. Angles in radians, places in px of the picture. */
typedef struct {
  double low, high;         /* the axis' ends; ±INFINITY for an endless heading */
  double value;             /* shown */
  double end_low, end_high; /* tilts at which travel ends at the present tip; ±INFINITY: nowhere */
  bool focused;
} LwAxisFace;

/* A scale from end to end with the pointer under it; what travel does not allow is marked. */
void lw_tilt_scale_draw (cairo_t *cr, const LwStyle *style, LwLabels *labels,
                         const LwAxisFace *face, double width, double height);
double lw_tilt_scale_get_x (const LwAxisFace *face, double width, double value);
double lw_tilt_scale_get_value (const LwAxisFace *face, double width, double x);

/* A dial seen from above, 0 to the right (X+), counter-clockwise as C turns. */
void lw_heading_dial_draw (cairo_t *cr, const LwStyle *style, LwLabels *labels,
                           const LwAxisFace *face, double width, double height);
/* The heading that a place on the dial means: the one nearest to the present that is inside the
 * axis' ends, else the end nearest to it. */
double lw_heading_dial_get_value (const LwAxisFace *face, double width, double height, double x,
                                  double y);
