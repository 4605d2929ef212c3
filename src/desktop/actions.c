/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/actions.h"

#include <glib/gi18n.h>

#include "config.h"
#include "desktop/appearance.h"
#include "desktop/files.h"
#include "desktop/new-dialog.h"
#include "desktop/preferences.h"
#include "desktop/question.h"
#include "desktop/shortcuts.h"
#include "session/edit.h"
#include "session/library.h"

#define ZOOM_STEP 1.25

/* ------------------------------------------------------------------------------------------------
 * Job */

static void
do_open (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_window_settle (window);
  lw_files_choose_open (window);
}

static void
do_open_file (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_window_settle (window);
  lw_files_open (window, g_variant_get_string (target, NULL));
}

static char *
dup_example_path (void)
{
  return lw_library_dup_data_path ("demo/trough-mold.leeway");
}

static void
do_open_example (GSimpleAction *action, GVariant *target, gpointer window)
{
  g_autofree char *path = dup_example_path ();

  lw_window_settle (window);
  lw_files_open (window, path);
}

static void
do_new (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_window_settle (window);
  lw_files_new (window, NULL);
}

static void
do_save (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_window_settle (window);
  lw_files_save (window);
}

static void
do_save_as (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_window_settle (window);
  lw_files_choose_save (window);
}

static void
do_close (GSimpleAction *action, GVariant *target, gpointer window)
{
  gtk_window_close (window);
}

/* ------------------------------------------------------------------------------------------------
 * Edits */

static void
do_undo (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_window_settle (window);
  lw_document_undo (lw_window_get_document (window));
}

static void
do_redo (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_window_settle (window);
  lw_document_redo (lw_window_get_document (window));
}

static int
get_setup (LwWindow *window)
{
  LwScene scene;

  return lw_view_get_scene (lw_window_get_view (window), &scene) ? MAX (scene.setup, 0) : 0;
}

/* Ends the edit and opens what it added. */
static void
finish (LwWindow *window, LwEdit *edit, const char *name, LwSubject added)
{
  g_autoptr (GError) error = NULL;

  if (lw_edit_commit (edit, name, NULL, &error))
    lw_window_edit (window, added);
  else
    lw_show_error (GTK_WINDOW (window), name, error->message);
}

static void
do_add_operation (GSimpleAction *action, GVariant *target, gpointer window)
{
  int setup = get_setup (window), added;
  LwEdit edit;

  lw_edit_begin (&edit, lw_window_get_document (window));
  added = lw_edit_add_operation (&edit, setup);
  finish (window, &edit, _ ("Add operation"), (LwSubject){ LW_SUBJECT_OPERATION, setup, added });
  lw_view_select_setup (lw_window_get_view (window), setup);
  lw_view_select_operation (lw_window_get_view (window), added);
}

static void
do_add_tool (GSimpleAction *action, GVariant *target, gpointer window)
{
  LwEdit edit;
  int added;

  lw_edit_begin (&edit, lw_window_get_document (window));
  added = lw_edit_add_tool (&edit);
  finish (window, &edit, _ ("Add tool"), (LwSubject){ LW_SUBJECT_TOOL, 0, added });
}

static void
do_add_fixture (GSimpleAction *action, GVariant *target, gpointer window)
{
  int setup = get_setup (window), added;
  LwEdit edit;

  lw_edit_begin (&edit, lw_window_get_document (window));
  added = lw_edit_add_fixture (&edit, setup);
  finish (window, &edit, _ ("Add fixture body"), (LwSubject){ LW_SUBJECT_FIXTURE, setup, added });
}

static void
do_add_setup (GSimpleAction *action, GVariant *target, gpointer window)
{
  LwEdit edit;
  int added;

  lw_edit_begin (&edit, lw_window_get_document (window));
  added = lw_edit_add_setup (&edit);
  finish (window, &edit, _ ("Add set-up"), (LwSubject){ LW_SUBJECT_SETUP, added, 0 });
  lw_view_select_setup (lw_window_get_view (window), added);
}

static void
do_add_block (GSimpleAction *action, GVariant *target, gpointer window)
{
  LwEdit edit;
  int added;

  lw_edit_begin (&edit, lw_window_get_document (window));
  added = lw_edit_add_block (&edit, lw_vec3 (1000, 500, 200));
  finish (window, &edit, _ ("Add block"), (LwSubject){ LW_SUBJECT_PART, 0, added });
}

static void
do_add_part (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_new_dialog_show_part (window, -1);
}

static void
do_change_part_file (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_new_dialog_show_part (window, g_variant_get_int32 (target));
}

static void
do_change_machine (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_new_dialog_show_machine (window);
}

static void
do_edit (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_window_edit (window, lw_window_get_chosen (window));
}

static void
do_verdicts (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_window_edit (window, (LwSubject){ LW_SUBJECT_NONE, 0, 0 });
}

/* ------------------------------------------------------------------------------------------------
 * View */

static void
do_unit (GSimpleAction *action, GVariant *target, gpointer window)
{
  LwView *view = lw_window_get_view (window);
  LwUnit unit = lw_view_get_unit (view) == LW_UNIT_MM ? LW_UNIT_INCH : LW_UNIT_MM;

  lw_view_set_unit (view, unit);
  lw_preferences_set_unit (unit);
}

static void
do_fit (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_window_fit (window);
}

static void
do_zoom_in (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_window_zoom (window, ZOOM_STEP);
}

static void
do_zoom_out (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_window_zoom (window, 1 / ZOOM_STEP);
}

/* The next or previous operation of the set-up. */
static void
step_operation (LwWindow *window, int by)
{
  LwView *view = lw_window_get_view (window);
  LwScene scene;
  int n;

  if (!lw_view_get_scene (view, &scene) || scene.setup < 0)
    return;
  n = scene.job->setups[scene.setup].n_operations;
  if (n > 0)
    lw_view_select_operation (view,
                              ((scene.operation < 0 && by < 0 ? 0 : scene.operation) + by + n) % n);
}

static void
do_next (GSimpleAction *action, GVariant *target, gpointer window)
{
  step_operation (window, 1);
}

static void
do_previous (GSimpleAction *action, GVariant *target, gpointer window)
{
  step_operation (window, -1);
}

static void
do_shortcuts (GSimpleAction *action, GVariant *target, gpointer window)
{
  lw_shortcuts_show (window);
}

/* ------------------------------------------------------------------------------------------------
 * Installing, enabling */

static const GActionEntry entries[] = {
  { "open", do_open, NULL, NULL, NULL, { 0 } },
  { "open-file", do_open_file, "s", NULL, NULL, { 0 } },
  { "open-example", do_open_example, NULL, NULL, NULL, { 0 } },
  { "new", do_new, NULL, NULL, NULL, { 0 } },
  { "save", do_save, NULL, NULL, NULL, { 0 } },
  { "save-as", do_save_as, NULL, NULL, NULL, { 0 } },
  { "close", do_close, NULL, NULL, NULL, { 0 } },
  { "undo", do_undo, NULL, NULL, NULL, { 0 } },
  { "redo", do_redo, NULL, NULL, NULL, { 0 } },
  { "add-operation", do_add_operation, NULL, NULL, NULL, { 0 } },
  { "add-tool", do_add_tool, NULL, NULL, NULL, { 0 } },
  { "add-fixture", do_add_fixture, NULL, NULL, NULL, { 0 } },
  { "add-setup", do_add_setup, NULL, NULL, NULL, { 0 } },
  { "add-part", do_add_part, NULL, NULL, NULL, { 0 } },
  { "add-block", do_add_block, NULL, NULL, NULL, { 0 } },
  { "change-part-file", do_change_part_file, "i", NULL, NULL, { 0 } },
  { "change-machine", do_change_machine, NULL, NULL, NULL, { 0 } },
  { "edit", do_edit, NULL, NULL, NULL, { 0 } },
  { "verdicts", do_verdicts, NULL, NULL, NULL, { 0 } },
  { "unit", do_unit, NULL, NULL, NULL, { 0 } },
  { "fit", do_fit, NULL, NULL, NULL, { 0 } },
  { "zoom-in", do_zoom_in, NULL, NULL, NULL, { 0 } },
  { "zoom-out", do_zoom_out, NULL, NULL, NULL, { 0 } },
  { "next-operation", do_next, NULL, NULL, NULL, { 0 } },
  { "previous-operation", do_previous, NULL, NULL, NULL, { 0 } },
  { "shortcuts", do_shortcuts, NULL, NULL, NULL, { 0 } },
};

void
lw_actions_install (LwWindow *window)
{
  g_action_map_add_action_entries (G_ACTION_MAP (window), entries, G_N_ELEMENTS (entries), window);
}

static void
enable (LwWindow *window, const char *name, bool enabled)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (window), name);

  g_simple_action_set_enabled (G_SIMPLE_ACTION (action), enabled);
}

void
lw_actions_update (LwWindow *window)
{
  LwDocument *document = lw_window_get_document (window);
  const LwJob *job = lw_document_get_job (document);
  g_autofree char *example = dup_example_path ();
  bool open = job != NULL;
  int setup = get_setup (window);
  bool has_setup = open && setup < job->n_setups;

  enable (window, "save", open);
  enable (window, "save-as", open);
  enable (window, "undo", lw_document_get_undo_name (document) != NULL);
  enable (window, "redo", lw_document_get_redo_name (document) != NULL);
  enable (window, "add-operation",
          has_setup && job->n_tools > 0 && job->setups[setup].n_placed > 0);
  enable (window, "add-tool", open);
  enable (window, "add-fixture", has_setup);
  enable (window, "add-setup", open);
  enable (window, "add-part", open);
  enable (window, "add-block", open);
  enable (window, "change-part-file", open);
  enable (window, "change-machine", open);
  enable (window, "edit", open);
  enable (window, "verdicts", open);
  enable (window, "fit", open);
  enable (window, "zoom-in", open);
  enable (window, "zoom-out", open);
  enable (window, "next-operation", has_setup && job->setups[setup].n_operations > 0);
  enable (window, "previous-operation", has_setup && job->setups[setup].n_operations > 0);
  enable (window, "open-example", example != NULL && g_file_test (example, G_FILE_TEST_EXISTS));
}

/* ------------------------------------------------------------------------------------------------
 * The application's */

static void
do_quit (GSimpleAction *action, GVariant *target, gpointer application)
{
  GList *windows = g_list_copy (gtk_application_get_windows (application));

  for (GList *w = windows; w != NULL; w = w->next)
    if (LW_IS_WINDOW (w->data))
      gtk_window_close (w->data);
  g_list_free (windows);
}

static void
do_about (GSimpleAction *action, GVariant *target, gpointer application)
{
  gtk_show_about_dialog (
      gtk_application_get_active_window (application), "program-name", "Leeway", "version",
      LW_VERSION, "logo-icon-name", "org.leeway_planner.Leeway", "license-type",
      GTK_LICENSE_GPL_3_0, "comments",
      _ ("Plans set-ups on five-axis gantry routers.\n\nIt plans; it does not guard. Prove each "
         "program out dry and slowly, hand on feed hold; measure every tool's length when it goes "
         "in; follow the machine's manual, local code and licensed people."),
      NULL);
}

static void
change_text_size (int percent)
{
  lw_preferences_set_text_size (percent);
  lw_appearance_apply ();
}

static void
do_larger (GSimpleAction *action, GVariant *target, gpointer application)
{
  change_text_size (lw_preferences_get_text_size () + LW_TEXT_STEP);
}

static void
do_smaller (GSimpleAction *action, GVariant *target, gpointer application)
{
  change_text_size (lw_preferences_get_text_size () - LW_TEXT_STEP);
}

static void
do_usual (GSimpleAction *action, GVariant *target, gpointer application)
{
  change_text_size (100);
}

static void
do_appearance (GSimpleAction *action, GVariant *state, gpointer application)
{
  g_simple_action_set_state (action, state);
  lw_preferences_set_appearance (lw_appearance_from_word (g_variant_get_string (state, NULL)));
  lw_appearance_apply ();
}

void
lw_actions_install_for_application (GtkApplication *application)
{
  static const GActionEntry own[] = {
    { "quit", do_quit, NULL, NULL, NULL, { 0 } },
    { "about", do_about, NULL, NULL, NULL, { 0 } },
    { "text-larger", do_larger, NULL, NULL, NULL, { 0 } },
    { "text-smaller", do_smaller, NULL, NULL, NULL, { 0 } },
    { "text-usual", do_usual, NULL, NULL, NULL, { 0 } },
    { "appearance", NULL, "s", "'light'", do_appearance, { 0 } },
  };
  GAction *appearance;

  g_action_map_add_action_entries (G_ACTION_MAP (application), own, G_N_ELEMENTS (own),
                                   application);
  appearance = g_action_map_lookup_action (G_ACTION_MAP (application), "appearance");
  g_simple_action_set_state (
      G_SIMPLE_ACTION (appearance),
      g_variant_new_string (lw_appearance_get_word (lw_preferences_get_appearance ())));
  lw_shortcuts_bind (application);
}
