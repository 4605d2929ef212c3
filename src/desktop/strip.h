/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

#include "desktop/view.h"

#define LW_TYPE_STRIP (lw_strip_get_type ())
G_DECLARE_FINAL_TYPE (LwStrip, lw_strip, LW, STRIP, GtkWidget)

/* The attitude strip: tilt scale and heading dial, drawn, draggable, typed and keyed; with what
 * ends first at the present tip, the other branch, and the tool's swing radius. */
GtkWidget *lw_strip_new (LwView *view);
