/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

#include "desktop/view.h"

#define LW_TYPE_VERDICT_HEAD (lw_verdict_head_get_type ())
G_DECLARE_FINAL_TYPE (LwVerdictHead, lw_verdict_head, LW, VERDICT_HEAD, GtkWidget)

/* The verdict on the job in one sentence, read out when it changes; progress and a way to stop
 * while it is worked out. */
GtkWidget *lw_verdict_head_new (LwView *view);
