/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

#define LW_TYPE_APPLICATION (lw_application_get_type ())
G_DECLARE_FINAL_TYPE (LwApplication, lw_application, LW, APPLICATION, GtkApplication)

LwApplication *lw_application_new (void);
