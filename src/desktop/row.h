/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "desktop/form.h"

#define LW_TYPE_ROW (lw_row_get_type ())
G_DECLARE_FINAL_TYPE (LwRow, lw_row, LW, ROW, GtkBox)

/* One field of a form. What is typed is taken on Enter or when the keyboard goes elsewhere; what
 * the strict reader refuses stays in the entry with its message below, and the job as it was. Arrow
 * keys step a number, with Shift by ten, as one edit. field is borrowed until the next update. */
GtkWidget *lw_row_new (LwForm *form, const LwField *field);
void lw_row_update (LwRow *row, const LwField *field);
