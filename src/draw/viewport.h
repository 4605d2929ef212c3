/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "draw/label.h"
#include "draw/path.h"
#include "draw/scene.h"

/* Where the table frame lies in the picture: plan view above, elevation below, one scale and one X
 * for both. Drawing and hit testing use the same transform. */
typedef struct {
  double width, height;   /* of the picture, px */
  double scale;           /* px a mm */
  double x0;              /* px of table X = 0 */
  double y0;              /* px of table Y = 0 in the plan view */
  double z0;              /* px of table Z = 0 in the elevation */
  LwRect plan, elevation; /* where each may draw; titles stand in their first lines */
} LwViewport;

/* Room above each view for its title, px. */
#define LW_TITLE_HEIGHT 26

/* Both views, with everything on the table, the travel and the head in sight. */
LwViewport lw_viewport_fit (const LwScene *scene, double width, double height);
/* One view alone: the other one's area is empty. */
LwViewport lw_viewport_fit_one (const LwScene *scene, LwSeen seen, double width, double height);
/* Keeps scale and center in another size. */
void lw_viewport_resize (LwViewport *viewport, double width, double height);

/* Area of a view below its title: where all but text is drawn. */
LwRect lw_viewport_get_field (const LwViewport *viewport, LwSeen seen);
LwRect lw_viewport_get_area (const LwViewport *viewport, LwSeen seen);
LwPoint lw_viewport_project (const LwViewport *viewport, LwSeen seen, LwVec3 point);
/* px of the axis that runs up: Y in the plan view, Z in the elevation. */
double lw_viewport_get_up (const LwViewport *viewport, LwSeen seen, double value);
/* The inverse; depth is what the view does not show: Z from above, Y from the front. */
LwVec3 lw_viewport_unproject (const LwViewport *viewport, LwSeen seen, double x, double y,
                              double depth);
/* Which view lies at a place in the picture. */
LwSeen lw_viewport_get_seen (const LwViewport *viewport, double y);

/* The place under (x, y) stays there; the other view's middle stays. */
void lw_viewport_zoom (LwViewport *viewport, double factor, double x, double y);
/* X moves in both views, the rest in the one meant. */
void lw_viewport_pan (LwViewport *viewport, LwSeen seen, double dx, double dy);

/* Cuts a line to a rectangle (Liang, Barsky 1984); false when nothing is left. */
bool lw_rect_clip_line (LwRect rect, LwPoint *a, LwPoint *b);
/* Adds a line or the four lines of a box's outline to the path, cut to the view's area: dashes cost
 * by their length even off the screen. */
void lw_viewport_line (const LwViewport *viewport, cairo_t *cr, LwSeen seen, LwPoint a, LwPoint b);
void lw_viewport_rect (const LwViewport *viewport, cairo_t *cr, LwSeen seen, LwRect rect);
/* A box seen in a view, px. */
LwRect lw_viewport_project_box (const LwViewport *viewport, LwSeen seen, LwBox3 box);
