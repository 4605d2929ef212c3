/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

/* A question, or a message, in a window of its own: what in a sentence, why below it. The answers
 * come by "response". */
GtkWidget *lw_question_new (GtkWindow *parent, const char *what, const char *why);
/* An answer, whose underscore marks its letter. */
void lw_question_add_answer (GtkWidget *question, const char *label, int response);
/* Shows it, with the answer that Return gives. */
void lw_question_ask (GtkWidget *question, int usual);

/* A message that something went wrong. */
void lw_show_error (GtkWindow *parent, const char *what, const char *why);
