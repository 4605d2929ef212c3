/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/window.h"

#include <glib/gi18n.h>

#include "desktop/actions.h"
#include "desktop/cards.h"
#include "desktop/drawing.h"
#include "desktop/editor.h"
#include "desktop/files.h"
#include "desktop/job-list.h"
#include "desktop/preferences.h"
#include "desktop/strip.h"
#include "desktop/verdict-head.h"
#include "session/recent.h"

#define SAVED_REFRESH_S 30

struct _LwWindow {
  GtkApplicationWindow parent_instance;

  /* template */
  GtkWidget *content, *left, *middle, *right, *right_stack, *hint, *switcher;
  GtkWidget *title, *saved, *unit, *undo, *redo, *welcome_recent;
  GMenu *recent_menu;

  /* children made with the view */
  GtkWidget *job_list, *drawing, *strip, *cards, *editor;

  /* owned */
  LwDocument *document;
  LwChecker *checker;
  LwView *view;
  LwJournal *journal;

  int picking; /* LwPickPurpose that a place is wanted for, −1: none */
  guint saved_timer;
};

G_DEFINE_FINAL_TYPE (LwWindow, lw_window, GTK_TYPE_APPLICATION_WINDOW)

LwDocument *
lw_window_get_document (LwWindow *window)
{
  return window->document;
}

LwView *
lw_window_get_view (LwWindow *window)
{
  return window->view;
}

LwJournal *
lw_window_get_journal (LwWindow *window)
{
  return window->journal;
}

LwSubject
lw_window_get_chosen (LwWindow *window)
{
  return lw_job_list_get_selected (LW_JOB_LIST (window->job_list));
}

void
lw_window_settle (LwWindow *window)
{
  gtk_window_set_focus (GTK_WINDOW (window), NULL);
}

void
lw_window_fit (LwWindow *window)
{
  lw_drawing_fit (LW_DRAWING (window->drawing));
}

void
lw_window_zoom (LwWindow *window, double factor)
{
  lw_drawing_zoom (LW_DRAWING (window->drawing), factor);
}

void
lw_window_open (LwWindow *window, const char *path)
{
  lw_files_open (window, path);
}

/* ------------------------------------------------------------------------------------------------
 * The bar on top */

static char *
dup_saved_state (LwWindow *window)
{
  gint64 saved_at = lw_document_get_saved_at (window->document);
  gint64 minutes = (g_get_real_time () - saved_at) / (60 * G_USEC_PER_SEC);

  if (lw_document_is_modified (window->document))
    return g_strdup (_ ("not saved"));
  if (saved_at == 0)
    return g_strdup ("");
  if (minutes < 1)
    return g_strdup (_ ("saved"));
  if (minutes < 60)
    return g_strdup_printf (
        g_dngettext (NULL, "saved %d minute ago", "saved %d minutes ago", (gulong)minutes),
        (int)minutes);
  if (minutes < 24 * 60)
    return g_strdup_printf (
        g_dngettext (NULL, "saved %d hour ago", "saved %d hours ago", (gulong)(minutes / 60)),
        (int)(minutes / 60));
  return g_strdup (_ ("saved"));
}

static void
show_saved_state (LwWindow *window)
{
  g_autofree char *text = dup_saved_state (window);

  gtk_label_set_text (GTK_LABEL (window->saved), text);
}

static gboolean
on_saved_timer (gpointer data)
{
  show_saved_state (LW_WINDOW (data));
  return G_SOURCE_CONTINUE;
}

/* "Undo: Move part" */
static void
show_tip (GtkWidget *button, const char *word, const char *edit)
{
  g_autofree char *text = edit != NULL ? g_strdup_printf ("%s: %s", word, edit) : g_strdup (word);

  gtk_widget_set_tooltip_text (button, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
}

static void
show_title (LwWindow *window)
{
  bool open = lw_document_get_job (window->document) != NULL;
  const char *title = open ? lw_document_get_title (window->document) : "";
  g_autofree char *full = open ? g_strdup_printf ("%s – Leeway", title) : g_strdup ("Leeway");

  gtk_label_set_text (GTK_LABEL (window->title), title);
  gtk_widget_set_tooltip_text (window->title, lw_document_get_path (window->document));
  gtk_window_set_title (GTK_WINDOW (window), full);
  show_saved_state (window);
  show_tip (window->undo, _ ("Undo"), lw_document_get_undo_name (window->document));
  show_tip (window->redo, _ ("Redo"), lw_document_get_redo_name (window->document));
}

static void
on_document_changed (LwWindow *window)
{
  bool open = lw_document_get_job (window->document) != NULL;

  show_title (window);
  gtk_stack_set_visible_child_name (GTK_STACK (window->content), open ? "job" : "welcome");
  gtk_widget_set_visible (window->switcher, open);
  lw_actions_update (window);
}

static void
on_view_changed (LwWindow *window)
{
  LwUnit unit = lw_view_get_unit (window->view);

  gtk_button_set_label (GTK_BUTTON (window->unit), lw_unit_get_symbol (unit));
  lw_actions_update (window);
}

/* ------------------------------------------------------------------------------------------------
 * Recent files */

static void
add_recent_button (LwWindow *window, const LwRecentFile *file)
{
  g_autofree char *folder = g_path_get_dirname (file->path);
  g_autofree char *text = g_strdup_printf ("%s  ·  %s", file->title, folder);
  GtkWidget *button = gtk_button_new_with_label (text);
  GtkWidget *label = gtk_button_get_child (GTK_BUTTON (button));

  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_MIDDLE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "win.open-file");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", file->path);
  gtk_box_append (GTK_BOX (window->welcome_recent), button);
}

void
lw_window_update_recent (LwWindow *window)
{
  g_autoptr (GPtrArray) files = lw_recent_list (NULL);
  GtkWidget *child;

  g_menu_remove_all (window->recent_menu);
  while ((child = gtk_widget_get_first_child (window->welcome_recent)) != NULL)
    gtk_box_remove (GTK_BOX (window->welcome_recent), child);
  for (guint i = 0; files != NULL && i < files->len; i++) {
    const LwRecentFile *file = g_ptr_array_index (files, i);
    g_autoptr (GMenuItem) item = g_menu_item_new (file->title, NULL);

    g_menu_item_set_action_and_target (item, "win.open-file", "s", file->path);
    g_menu_append_item (window->recent_menu, item);
    add_recent_button (window, file);
  }
}

/* ------------------------------------------------------------------------------------------------
 * The right column */

void
lw_window_edit (LwWindow *window, LwSubject subject)
{
  bool edits = lw_subject_exists (subject, lw_document_get_job (window->document));

  lw_window_cancel_pick (window);
  if (edits)
    lw_editor_show (LW_EDITOR (window->editor), subject);
  gtk_stack_set_visible_child_name (GTK_STACK (window->right_stack), edits ? "editor" : "cards");
}

static bool
is_editing (LwWindow *window)
{
  return g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (window->right_stack)), "editor")
         == 0;
}

/* An open editor follows the job list. */
static void
on_chosen (LwWindow *window, const LwSubject *subject)
{
  if (is_editing (window))
    lw_window_edit (window, *subject);
}

static void
on_edit (LwWindow *window, const LwSubject *subject)
{
  lw_window_edit (window, *subject);
  gtk_widget_child_focus (window->editor, GTK_DIR_TAB_FORWARD);
}

static void
on_editor_closed (LwWindow *window)
{
  lw_window_edit (window, (LwSubject){ LW_SUBJECT_NONE, 0, 0 });
}

/* ------------------------------------------------------------------------------------------------
 * Picking */

static void
on_pick (LwWindow *window, int purpose)
{
  window->picking = purpose;
  lw_drawing_set_picking (LW_DRAWING (window->drawing), TRUE);
  gtk_widget_set_visible (window->hint, TRUE);
}

bool
lw_window_cancel_pick (LwWindow *window)
{
  if (window->picking < 0)
    return false;
  window->picking = -1;
  lw_drawing_set_picking (LW_DRAWING (window->drawing), FALSE);
  gtk_widget_set_visible (window->hint, FALSE);
  return true;
}

static void
on_picked (LwWindow *window, int placed, guint triangle, double x, double y, double z)
{
  const LwJob *job = lw_document_get_job (window->document);
  LwSubject subject = lw_editor_get_subject (LW_EDITOR (window->editor));
  const LwSetup *setup = &job->setups[subject.setup];
  const LwMesh *mesh;
  int purpose = window->picking;

  lw_window_cancel_pick (window);
  if (purpose < 0 || subject.kind != LW_SUBJECT_OPERATION || placed >= setup->n_placed
      || setup->operations[subject.index].placed != placed)
    return;
  mesh = job->parts[setup->placed[placed].part].mesh.mesh;
  if (mesh != NULL)
    lw_editor_take_pick (LW_EDITOR (window->editor), purpose, lw_vec3 (x, y, z),
                         lw_mesh_get_normal (mesh, triangle, NULL));
}

static gboolean
on_key (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state,
        LwWindow *window)
{
  return key == GDK_KEY_Escape && lw_window_cancel_pick (window) ? GDK_EVENT_STOP
                                                                 : GDK_EVENT_PROPAGATE;
}

static void
on_cancel_pick (LwWindow *window)
{
  lw_window_cancel_pick (window);
}

/* ------------------------------------------------------------------------------------------------
 * Files from outside */

static gboolean
on_drop (GtkDropTarget *target, const GValue *value, double x, double y, LwWindow *window)
{
  GSList *files = g_value_get_boxed (value);
  g_autofree char *path = files != NULL ? g_file_get_path (G_FILE (files->data)) : NULL;

  if (path == NULL)
    return FALSE;
  lw_window_open (window, path);
  return TRUE;
}

static void
on_active (LwWindow *window)
{
  if (gtk_window_is_active (GTK_WINDOW (window)))
    lw_files_look_at_disk (window);
}

static gboolean
lw_window_close_request (GtkWindow *window)
{
  lw_window_settle (LW_WINDOW (window));
  if (lw_files_may_close (LW_WINDOW (window)))
    return GTK_WINDOW_CLASS (lw_window_parent_class)->close_request (window);
  return GDK_EVENT_STOP;
}

/* ------------------------------------------------------------------------------------------------
 * Object */

static void
make_children (LwWindow *window)
{
  window->job_list = lw_job_list_new (window->view);
  window->drawing = lw_drawing_new (window->view);
  window->strip = lw_strip_new (window->view);
  window->cards = lw_cards_new (window->view);
  window->editor = lw_editor_new (window->view);
  gtk_widget_set_vexpand (window->job_list, TRUE);
  gtk_box_append (GTK_BOX (window->left), window->job_list);
  gtk_overlay_set_child (GTK_OVERLAY (window->middle), window->drawing);
  gtk_widget_set_vexpand (window->middle, TRUE);
  gtk_widget_add_css_class (window->strip, "strip");
  gtk_widget_insert_after (window->strip, gtk_widget_get_parent (window->middle), window->middle);
  gtk_box_prepend (GTK_BOX (window->right), lw_verdict_head_new (window->view));
  gtk_stack_add_named (GTK_STACK (window->right_stack), window->cards, "cards");
  gtk_stack_add_named (GTK_STACK (window->right_stack), window->editor, "editor");
  g_signal_connect_swapped (window->job_list, "chosen", G_CALLBACK (on_chosen), window);
  g_signal_connect_swapped (window->job_list, "edit", G_CALLBACK (on_edit), window);
  g_signal_connect_swapped (window->editor, "closed", G_CALLBACK (on_editor_closed), window);
  g_signal_connect_swapped (window->editor, "pick", G_CALLBACK (on_pick), window);
  g_signal_connect_swapped (window->drawing, "picked", G_CALLBACK (on_picked), window);
}

static void
add_controllers (LwWindow *window)
{
  GtkDropTarget *drop = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  GtkEventController *key = gtk_event_controller_key_new ();

  g_signal_connect (drop, "drop", G_CALLBACK (on_drop), window);
  gtk_widget_add_controller (GTK_WIDGET (window), GTK_EVENT_CONTROLLER (drop));
  gtk_event_controller_set_propagation_phase (key, GTK_PHASE_CAPTURE);
  g_signal_connect (key, "key-pressed", G_CALLBACK (on_key), window);
  gtk_widget_add_controller (GTK_WIDGET (window), key);
}

static void
lw_window_dispose (GObject *object)
{
  LwWindow *window = LW_WINDOW (object);

  g_clear_handle_id (&window->saved_timer, g_source_remove);
  if (window->document != NULL)
    g_signal_handlers_disconnect_by_data (window->document, window);
  if (window->view != NULL)
    g_signal_handlers_disconnect_by_data (window->view, window);
  g_clear_pointer (&window->journal, lw_journal_free);
  g_clear_object (&window->view);
  g_clear_object (&window->checker);
  g_clear_object (&window->document);
  G_OBJECT_CLASS (lw_window_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *class)
{
  gtk_widget_class_bind_template_child (class, LwWindow, content);
  gtk_widget_class_bind_template_child (class, LwWindow, left);
  gtk_widget_class_bind_template_child (class, LwWindow, middle);
  gtk_widget_class_bind_template_child (class, LwWindow, right);
  gtk_widget_class_bind_template_child (class, LwWindow, right_stack);
  gtk_widget_class_bind_template_child (class, LwWindow, hint);
  gtk_widget_class_bind_template_child (class, LwWindow, switcher);
  gtk_widget_class_bind_template_child (class, LwWindow, title);
  gtk_widget_class_bind_template_child (class, LwWindow, saved);
  gtk_widget_class_bind_template_child (class, LwWindow, unit);
  gtk_widget_class_bind_template_child (class, LwWindow, undo);
  gtk_widget_class_bind_template_child (class, LwWindow, redo);
  gtk_widget_class_bind_template_child (class, LwWindow, welcome_recent);
  gtk_widget_class_bind_template_child (class, LwWindow, recent_menu);
}

static void
lw_window_class_init (LwWindowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = lw_window_dispose;
  GTK_WINDOW_CLASS (class)->close_request = lw_window_close_request;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/leeway_planner/Leeway/ui/window.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, on_active);
  gtk_widget_class_bind_template_callback (widget_class, on_cancel_pick);
}

static void
lw_window_init (LwWindow *window)
{
  LwMeshStore *store = lw_mesh_store_new ();

  gtk_widget_init_template (GTK_WIDGET (window));
  window->picking = -1;
  window->document = lw_document_new (store);
  lw_mesh_store_unref (store);
  window->checker = lw_checker_new (window->document);
  window->view = lw_view_new (window->document, window->checker);
  window->journal = lw_journal_new (window->document);
  lw_view_set_unit (window->view, lw_preferences_get_unit ());
  make_children (window);
  add_controllers (window);
  lw_actions_install (window);
  g_signal_connect_swapped (window->document, "changed", G_CALLBACK (on_document_changed), window);
  g_signal_connect_swapped (window->view, "changed", G_CALLBACK (on_view_changed), window);
  window->saved_timer = g_timeout_add_seconds (SAVED_REFRESH_S, on_saved_timer, window);
  lw_window_update_recent (window);
  on_document_changed (window);
  on_view_changed (window);
}

GtkWidget *
lw_window_new (GtkApplication *application)
{
  return GTK_WIDGET (g_object_new (LW_TYPE_WINDOW, "application", application, NULL));
}
