/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

#include "draw/attitude.h"

/* A scale of an angle that paints itself: the tilt scale or the heading dial. It is a GtkScale so
 * that a screen reader finds a slider with a value; the adjustment counts degrees. Arrows turn by
 * 1°, with Shift by 0.1°, Page keys by 15°, Home goes to 0. */
#define LW_TYPE_ANGLE_SCALE (lw_angle_scale_get_type ())
G_DECLARE_FINAL_TYPE (LwAngleScale, lw_angle_scale, LW, ANGLE_SCALE, GtkScale)

GtkWidget *lw_angle_scale_new (gboolean dial, const char *name);

/* What it shows; emits no signal. Angles in radians. */
void lw_angle_scale_set_face (LwAngleScale *scale, const LwAxisFace *face);

/* Signal "turned" (double radians): the person turned it. */
