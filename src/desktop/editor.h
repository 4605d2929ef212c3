/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "desktop/form.h"

#define LW_TYPE_EDITOR (lw_editor_get_type ())
G_DECLARE_FINAL_TYPE (LwEditor, lw_editor, LW, EDITOR, GtkWidget)

/* The editor of one subject, with a way back to where it was opened from. Signals: "closed" () when
 * there is nothing to go back to; "pick" (int purpose, LwPickPurpose) when a place on the part is
 * wanted: answer with lw_editor_take_pick(). */
GtkWidget *lw_editor_new (LwView *view);

/* Begins with a subject; way back: out. */
void lw_editor_show (LwEditor *editor, LwSubject subject);
LwSubject lw_editor_get_subject (LwEditor *editor);
/* Part frame, mm; outward normal of the facet. */
void lw_editor_take_pick (LwEditor *editor, int purpose, LwVec3 at, LwVec3 normal);
