/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

/* One table of keys: what they do is bound from it, and the window that lists them is made of it.
 */
void lw_shortcuts_bind (GtkApplication *application);
void lw_shortcuts_show (GtkWindow *parent);
