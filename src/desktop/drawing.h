/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

#include "desktop/view.h"

#define LW_TYPE_DRAWING (lw_drawing_get_type ())
G_DECLARE_FINAL_TYPE (LwDrawing, lw_drawing, LW, DRAWING, GtkWidget)

/* Plan view above, elevation below, sharing the X scale. Cached layers; zoom, pan, fit; hover reads
 * coordinates; drag moves a part; click picks (see pick mode). */
GtkWidget *lw_drawing_new (LwView *view);

void lw_drawing_fit (LwDrawing *drawing);
void lw_drawing_zoom (LwDrawing *drawing, double factor);

/* While on, a click on the part picks a facet: signal "picked" (int placed, guint triangle, double
 * x, y, z in the part frame). */
void lw_drawing_set_picking (LwDrawing *drawing, gboolean picking);
