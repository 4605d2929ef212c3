/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

#include "desktop/view.h"

#define LW_TYPE_CARDS (lw_cards_get_type ())
G_DECLARE_FINAL_TYPE (LwCards, lw_cards, LW, CARDS, GtkWidget)

/* One card an operation, the worst first: what limits it, by how much, where, and what would mend
 * it as buttons that do. Choosing a card selects the operation. */
GtkWidget *lw_cards_new (LwView *view);
