/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/files.h"

#include <glib/gi18n.h>

#include "desktop/new-dialog.h"
#include "desktop/question.h"
#include "session/recent.h"

const char *const lw_job_patterns[] = { "*.leeway", NULL };
const char *const lw_mesh_patterns[] = { "*.stl", "*.STL", "*.stl.gz", NULL };
const char *const lw_machine_patterns[] = { "*.leeway-machine", NULL };

/* ------------------------------------------------------------------------------------------------
 * Choosing a file */

typedef struct {
  LwWindow *window;
  GtkFileChooserNative *chooser;
  LwFileChosen call;
  gpointer data;
} Choice;

static void
on_file_answer (GtkNativeDialog *dialog, int response, Choice *choice)
{
  if (response == GTK_RESPONSE_ACCEPT) {
    g_autoptr (GFile) file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (choice->chooser));
    g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;

    if (path != NULL)
      choice->call (choice->window, path, choice->data);
    else
      lw_show_error (GTK_WINDOW (choice->window), _ ("This place can't be used"),
                     _ ("Choose a file on this computer, or a mounted drive."));
  }
  g_object_unref (choice->chooser);
  g_object_unref (choice->window);
  g_free (choice);
}

static void
add_filter (GtkFileChooserNative *chooser, const char *name, const char *const *patterns)
{
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();
  g_autoptr (GtkFileFilter) all = gtk_file_filter_new ();

  gtk_file_filter_set_name (filter, name);
  for (int i = 0; patterns[i] != NULL; i++)
    gtk_file_filter_add_pattern (filter, patterns[i]);
  gtk_file_filter_set_name (all, _ ("All files"));
  gtk_file_filter_add_pattern (all, "*");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (chooser), filter);
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (chooser), all);
}

void
lw_files_choose (LwWindow *window, GtkWindow *parent, const char *title,
                 GtkFileChooserAction action, const char *filter_name, const char *const *patterns,
                 const char *name, LwFileChosen call, gpointer data)
{
  Choice *choice = g_new0 (Choice, 1);
  const char *present = lw_document_get_path (lw_window_get_document (window));
  g_autofree char *folder = present != NULL ? g_path_get_dirname (present) : NULL;
  g_autoptr (GFile) file = folder != NULL ? g_file_new_for_path (folder) : NULL;

  *choice = (Choice){ g_object_ref (window),
                      gtk_file_chooser_native_new (title, parent, action, NULL, NULL), call, data };
  add_filter (choice->chooser, filter_name, patterns);
  if (file != NULL)
    gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (choice->chooser), file, NULL);
  if (name != NULL)
    gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (choice->chooser), name);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (choice->chooser), TRUE);
  g_signal_connect (choice->chooser, "response", G_CALLBACK (on_file_answer), choice);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (choice->chooser));
}

/* ------------------------------------------------------------------------------------------------
 * Saving, and what comes after it */

typedef void (*After) (LwWindow *window, char *data);

/* What was asked for while there were unsaved changes. */
typedef struct {
  LwWindow *window;
  After after; /* NULL: nothing more */
  char *data;  /* for it; owned */
} Errand;

static Errand *
errand_new (LwWindow *window, After after, const char *data)
{
  Errand *errand = g_new0 (Errand, 1);

  *errand = (Errand){ g_object_ref (window), after, g_strdup (data) };
  return errand;
}

static void
errand_free (Errand *errand)
{
  g_clear_object (&errand->window);
  g_free (errand->data);
  g_free (errand);
}

static void
errand_run (Errand *errand)
{
  if (errand->after != NULL)
    errand->after (errand->window, errand->data);
  errand_free (errand);
}

static void
remember (LwWindow *window)
{
  LwDocument *document = lw_window_get_document (window);
  g_autoptr (GError) error = NULL;

  if (!lw_recent_add (lw_document_get_path (document), lw_document_get_title (document), &error))
    g_message ("recent files not kept: %s", error->message);
  lw_window_update_recent (window);
}

static void choose_save (Errand *errand);
static void save (Errand *errand, const char *path, bool overwrite);

static void
on_overwrite_answer (GtkDialog *dialog, int response, Errand *errand)
{
  gtk_window_destroy (GTK_WINDOW (dialog));
  if (response == GTK_RESPONSE_OK)
    save (errand, NULL, true);
  else if (response == GTK_RESPONSE_APPLY)
    choose_save (errand);
  else
    errand_free (errand);
}

static void
ask_overwrite (Errand *errand)
{
  GtkWidget *dialog = lw_question_new (
      GTK_WINDOW (errand->window),
      _ ("The file was changed by another program since it was opened here"),
      _ ("Overwriting it loses what the other program wrote. Nothing was saved yet."));

  lw_question_add_answer (dialog, _ ("_Cancel"), GTK_RESPONSE_CANCEL);
  lw_question_add_answer (dialog, _ ("_Overwrite"), GTK_RESPONSE_OK);
  lw_question_add_answer (dialog, _ ("Save _as…"), GTK_RESPONSE_APPLY);
  g_signal_connect (dialog, "response", G_CALLBACK (on_overwrite_answer), errand);
  lw_question_ask (dialog, GTK_RESPONSE_APPLY);
}

/* Takes the errand, which goes on when it is saved. */
static void
save (Errand *errand, const char *path, bool overwrite)
{
  LwDocument *document = lw_window_get_document (errand->window);
  const char *own = lw_document_get_path (document);
  g_autoptr (GError) error = NULL;

  if (!overwrite && path == NULL && own != NULL && g_file_test (own, G_FILE_TEST_EXISTS)
      && lw_document_file_changed (document)) {
    ask_overwrite (errand);
    return;
  }
  if (!lw_document_save (document, path, overwrite, &error)) {
    lw_show_error (GTK_WINDOW (errand->window), _ ("The job was not saved"), error->message);
    errand_free (errand);
    return;
  }
  remember (errand->window);
  errand_run (errand);
}

static void
on_save_chosen (LwWindow *window, const char *path, gpointer data)
{
  g_autofree char *full =
      g_str_has_suffix (path, ".leeway") ? g_strdup (path) : g_strconcat (path, ".leeway", NULL);

  /* the chooser asked about a file that is there, unless we gave it its ending */
  if (!g_str_equal (full, path) && g_file_test (full, G_FILE_TEST_EXISTS)) {
    lw_show_error (GTK_WINDOW (window), _ ("The job was not saved"),
                   _ ("A job of that name is there already. Choose it in the list to replace it."));
    return;
  }
  save (errand_new (window, ((Errand *)data)->after, ((Errand *)data)->data), full, true);
}

/* The chooser may be left without an answer, so the errand lives on the window, which it does not
 * hold, until the next. */
static void
choose_save (Errand *errand)
{
  LwWindow *window = errand->window;
  LwDocument *document = lw_window_get_document (window);
  g_autofree char *name = g_strconcat (lw_document_get_title (document), ".leeway", NULL);

  g_strdelimit (name, "/\\:", '-');
  lw_files_choose (window, GTK_WINDOW (window), _ ("Save job"), GTK_FILE_CHOOSER_ACTION_SAVE,
                   _ ("Leeway jobs"), lw_job_patterns, name, on_save_chosen, errand);
  g_object_set_data_full (G_OBJECT (window), "save-errand", errand, (GDestroyNotify)errand_free);
  g_object_unref (g_steal_pointer (&errand->window));
}

static void
save_or_choose (Errand *errand)
{
  if (lw_document_get_path (lw_window_get_document (errand->window)) != NULL)
    save (errand, NULL, false);
  else
    choose_save (errand);
}

void
lw_files_save (LwWindow *window)
{
  save_or_choose (errand_new (window, NULL, NULL));
}

void
lw_files_choose_save (LwWindow *window)
{
  choose_save (errand_new (window, NULL, NULL));
}

/* ------------------------------------------------------------------------------------------------
 * Unsaved changes */

static void
on_unsaved_answer (GtkDialog *dialog, int response, Errand *errand)
{
  gtk_window_destroy (GTK_WINDOW (dialog));
  if (response == GTK_RESPONSE_YES)
    save_or_choose (errand);
  else if (response == GTK_RESPONSE_NO)
    errand_run (errand);
  else
    errand_free (errand);
}

/* Runs after at once when nothing would be lost, else once the person decided. */
static void
when_saved (LwWindow *window, After after, const char *data)
{
  LwDocument *document = lw_window_get_document (window);
  Errand *errand = errand_new (window, after, data);
  g_autofree char *what = NULL;
  GtkWidget *dialog;

  if (!lw_document_is_modified (document)) {
    errand_run (errand);
    return;
  }
  what = g_strdup_printf (_ ("Save the changes to “%s”?"), lw_document_get_title (document));
  dialog = lw_question_new (GTK_WINDOW (window), what, _ ("Without saving they are lost."));
  lw_question_add_answer (dialog, _ ("_Discard"), GTK_RESPONSE_NO);
  lw_question_add_answer (dialog, _ ("_Cancel"), GTK_RESPONSE_CANCEL);
  lw_question_add_answer (dialog, _ ("_Save"), GTK_RESPONSE_YES);
  g_signal_connect (dialog, "response", G_CALLBACK (on_unsaved_answer), errand);
  lw_question_ask (dialog, GTK_RESPONSE_YES);
}

/* ------------------------------------------------------------------------------------------------
 * Opening */

static void
open_job (LwWindow *window, char *path)
{
  LwDocument *document = lw_window_get_document (window);
  g_autofree char *name = g_filename_display_basename (path);
  g_autofree char *what = g_strdup_printf (_ ("“%s” could not be opened"), name);
  g_autoptr (GError) error = NULL;

  if (!lw_document_open (document, path, &error)) {
    lw_show_error (GTK_WINDOW (window), what, error->message);
    lw_recent_remove (path, NULL);
    lw_window_update_recent (window);
    return;
  }
  lw_document_load_meshes_async (document);
  lw_window_edit (window, (LwSubject){ LW_SUBJECT_NONE, 0, 0 });
  lw_window_fit (window);
  remember (window);
}

static void
begin_job (LwWindow *window, char *mesh_path)
{
  lw_new_dialog_show (window, mesh_path);
}

static bool
is_mesh (const char *path)
{
  g_autofree char *lower = g_ascii_strdown (path, -1);

  return g_str_has_suffix (lower, ".stl") || g_str_has_suffix (lower, ".stl.gz");
}

void
lw_files_open (LwWindow *window, const char *path)
{
  when_saved (window, is_mesh (path) ? begin_job : open_job, path);
}

void
lw_files_new (LwWindow *window, const char *mesh_path)
{
  when_saved (window, begin_job, mesh_path);
}

static void
on_open_chosen (LwWindow *window, const char *path, gpointer data)
{
  lw_files_open (window, path);
}

void
lw_files_choose_open (LwWindow *window)
{
  lw_files_choose (window, GTK_WINDOW (window), _ ("Open job"), GTK_FILE_CHOOSER_ACTION_OPEN,
                   _ ("Leeway jobs"), lw_job_patterns, NULL, on_open_chosen, NULL);
}

/* ------------------------------------------------------------------------------------------------
 * Closing */

static void
close_window (LwWindow *window, char *data)
{
  gtk_window_destroy (GTK_WINDOW (window));
}

bool
lw_files_may_close (LwWindow *window)
{
  if (!lw_document_is_modified (lw_window_get_document (window)))
    return true;
  when_saved (window, close_window, NULL);
  return false;
}

/* ------------------------------------------------------------------------------------------------
 * The file on disk */

static void
on_disk_answer (GtkDialog *dialog, int response, LwWindow *window)
{
  gtk_window_destroy (GTK_WINDOW (dialog));
  if (response == GTK_RESPONSE_OK) {
    g_autofree char *path = g_strdup (lw_document_get_path (lw_window_get_document (window)));

    open_job (window, path);
  }
}

/* Asked once for each state of the document: what was kept then is asked about again at saving. */
void
lw_files_look_at_disk (LwWindow *window)
{
  LwDocument *document = lw_window_get_document (window);
  const char *path = lw_document_get_path (document);
  g_autofree char *asked = NULL;
  GtkWidget *dialog;

  if (path == NULL || !g_file_test (path, G_FILE_TEST_EXISTS)
      || !lw_document_file_changed (document))
    return;
  asked = g_strdup_printf ("%s %s", path, lw_document_get_file_sha256 (document));
  if (g_strcmp0 (g_object_get_data (G_OBJECT (window), "asked-about"), asked) == 0)
    return;
  g_object_set_data_full (G_OBJECT (window), "asked-about", g_strdup (asked), g_free);
  dialog =
      lw_question_new (GTK_WINDOW (window), _ ("Another program changed this job's file"),
                       lw_document_is_modified (document)
                           ? _ ("Reading it again loses the changes made here since it was saved.")
                           : _ ("What is shown here is what it was before."));
  lw_question_add_answer (dialog, _ ("_Keep what is shown"), GTK_RESPONSE_CANCEL);
  lw_question_add_answer (dialog, _ ("_Read it again"), GTK_RESPONSE_OK);
  g_signal_connect (dialog, "response", G_CALLBACK (on_disk_answer), window);
  lw_question_ask (dialog, GTK_RESPONSE_CANCEL);
}

/* ------------------------------------------------------------------------------------------------
 * Leftovers */

static void
on_leftover_answer (GtkDialog *dialog, int response, LwWindow *window)
{
  g_autofree char *journal = g_strdup (g_object_get_data (G_OBJECT (dialog), "journal"));
  g_autoptr (GError) error = NULL;

  gtk_window_destroy (GTK_WINDOW (dialog));
  if (response == GTK_RESPONSE_NO) {
    lw_journal_discard (journal);
  } else if (response == GTK_RESPONSE_OK) {
    if (lw_journal_recover (lw_window_get_journal (window), journal, &error)) {
      lw_document_load_meshes_async (lw_window_get_document (window));
      lw_window_fit (window);
    } else {
      lw_show_error (GTK_WINDOW (window), _ ("The unsaved work could not be brought back"),
                     error->message);
    }
  }
}

static void
ask_about_leftover (LwWindow *window, const LwLeftover *leftover)
{
  g_autoptr (GDateTime) when = g_date_time_new_from_unix_local (leftover->when / G_USEC_PER_SEC);
  g_autofree char *time = when != NULL ? g_date_time_format (when, "%Y-%m-%d %H:%M") : NULL;
  g_autofree char *what =
      g_strdup_printf (_ ("Unsaved work on “%s” was left behind"), leftover->title);
  g_autofree char *why =
      g_strdup_printf (_ ("Leeway ended before it was saved. The last change was on %s."),
                       time != NULL ? time : "?");
  GtkWidget *dialog = lw_question_new (GTK_WINDOW (window), what, why);

  lw_question_add_answer (dialog, _ ("_Discard it"), GTK_RESPONSE_NO);
  lw_question_add_answer (dialog, _ ("_Not now"), GTK_RESPONSE_CANCEL);
  lw_question_add_answer (dialog, _ ("_Bring it back"), GTK_RESPONSE_OK);
  g_object_set_data_full (G_OBJECT (dialog), "journal", g_strdup (leftover->journal), g_free);
  g_signal_connect (dialog, "response", G_CALLBACK (on_leftover_answer), window);
  lw_question_ask (dialog, GTK_RESPONSE_OK);
}

void
lw_files_offer_leftovers (LwWindow *window)
{
  g_autoptr (GPtrArray) leftovers = lw_journal_find ();

  for (guint i = 0; i < leftovers->len; i++) {
    const LwLeftover *leftover = g_ptr_array_index (leftovers, i);

    if (leftover->readable) {
      ask_about_leftover (window, leftover);
      return;
    }
  }
}
