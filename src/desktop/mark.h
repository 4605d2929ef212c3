/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

#include "plan/verdict.h"

#define LW_TYPE_MARK (lw_mark_get_type ())
G_DECLARE_FINAL_TYPE (LwMark, lw_mark, LW, MARK, GtkWidget)

/* The mark of a verdict: shape and color; the word stands beside it or is its name. */
GtkWidget *lw_mark_new (int size);
/* An LwVerdictKind, LW_MARK_CHECKING while it is worked out, LW_MARK_NONE for nothing. */
void lw_mark_set (LwMark *mark, int state);

#define LW_MARK_CHECKING (-1)
#define LW_MARK_NONE     (-2)

/* "Fits", "Checking …", "" */
const char *lw_mark_get_word (int state);
/* CSS class of the verdict's color: "fits", "tight", "does-not-fit", "not-checked". */
const char *lw_mark_get_class (int state);
