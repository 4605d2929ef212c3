/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/question.h"

#include <glib/gi18n.h>

GtkWidget *
lw_question_new (GtkWindow *parent, const char *what, const char *why)
{
  GtkWidget *dialog = gtk_message_dialog_new (parent, GTK_DIALOG_MODAL, GTK_MESSAGE_QUESTION,
                                              GTK_BUTTONS_NONE, "%s", what);

  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog), "%s", why);
  gtk_accessible_update_property (GTK_ACCESSIBLE (dialog), GTK_ACCESSIBLE_PROPERTY_LABEL, what,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, why, -1);
  return dialog;
}

/* Its name comes from the label in it, without the underscore; GTK would say both. */
void
lw_question_add_answer (GtkWidget *question, const char *label, int response)
{
  GtkWidget *button = gtk_dialog_add_button (GTK_DIALOG (question), label, response);

  gtk_accessible_reset_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL);
}

void
lw_question_ask (GtkWidget *question, int usual)
{
  gtk_dialog_set_default_response (GTK_DIALOG (question), usual);
  gtk_window_present (GTK_WINDOW (question));
}

void
lw_show_error (GtkWindow *parent, const char *what, const char *why)
{
  GtkWidget *dialog = lw_question_new (parent, what, why);

  lw_question_add_answer (dialog, _ ("_Close"), GTK_RESPONSE_CLOSE);
  g_signal_connect (dialog, "response", G_CALLBACK (gtk_window_destroy), NULL);
  lw_question_ask (dialog, GTK_RESPONSE_CLOSE);
}
