/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

#include "draw/style.h"

/* The style that goes with a widget's theme: light or dark by the lightness of its letters against
 * black, high contrast by the theme's name; letters as large as the window's. */
LwStyle lw_theme_get_style (GtkWidget *widget);
