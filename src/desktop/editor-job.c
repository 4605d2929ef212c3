/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "desktop/editors.h"
#include "desktop/question.h"

void
lw_edit_job_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  lw_form_text (form, _ ("Title"), "title")->absent = _ ("the file's name");
  lw_form_section (form, _ ("Reserves"));
  lw_form_note (form, _ ("The least leeway to insist on. What comes closer is called tight."));
  lw_form_length (form, _ ("Travel"), "reserves.travel_mm");
  lw_form_angle (form, _ ("Heading and tilt"), "reserves.rotary_deg");
  lw_form_length (form, _ ("Gap"), "reserves.gap_mm");
}

/* ------------------------------------------------------------------------------------------------
 * Removing */

typedef struct {
  LwForm *form;
  void (*remove) (LwForm *form);
} Removal;

/* The editor leaves by itself when its subject is gone; where another took its index, it is left.
 */
static void
remove_and_leave (LwForm *form, void (*remove) (LwForm *form))
{
  LwSubject before = lw_form_get_subject (form);

  remove (form);
  if (lw_subject_equal (before, lw_form_get_subject (form)))
    lw_form_leave (form);
}

static void
on_answer (GtkDialog *dialog, int response, Removal *removal)
{
  if (response == GTK_RESPONSE_OK) {
    remove_and_leave (removal->form, removal->remove);
  }
  gtk_window_destroy (GTK_WINDOW (dialog));
}

static void
removal_free (gpointer data, GClosure *closure)
{
  Removal *removal = data;

  g_object_unref (removal->form);
  g_free (removal);
}

void
lw_edit_ask_remove (LwForm *form, char *dependents, void (*remove) (LwForm *form))
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (form));
  Removal *removal;
  g_autofree char *why = NULL;
  GtkWidget *dialog;

  if (dependents == NULL) {
    remove_and_leave (form, remove);
    return;
  }
  why = g_strdup_printf (_ ("%s would go along. Undo brings all of it back."), dependents);
  dialog = lw_question_new (GTK_WINDOW (root), _ ("Remove what depends on it, too?"), why);
  lw_question_add_answer (dialog, _ ("_Cancel"), GTK_RESPONSE_CANCEL);
  lw_question_add_answer (dialog, _ ("_Remove"), GTK_RESPONSE_OK);
  removal = g_new0 (Removal, 1);
  removal->form = g_object_ref (form);
  removal->remove = remove;
  g_signal_connect_data (dialog, "response", G_CALLBACK (on_answer), removal, removal_free, 0);
  lw_question_ask (dialog, GTK_RESPONSE_CANCEL);
  g_free (dependents);
}
