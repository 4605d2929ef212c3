/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

#include "desktop/view.h"

#define LW_TYPE_CARD (lw_card_get_type ())
G_DECLARE_FINAL_TYPE (LwCard, lw_card, LW, CARD, GtkListBoxRow)

/* Private to cards.c: the card of operation number index of the job (over all set-ups). */
GtkWidget *lw_card_new (LwView *view, int index);
/* Takes what the view has now. */
void lw_card_update (LwCard *card);
int lw_card_get_index (LwCard *card);
/* Place in the list: verdicts from worst to best, what is being checked where it stood. */
int lw_card_get_rank (LwCard *card);
