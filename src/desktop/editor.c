/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/editor.h"

#include <glib/gi18n.h>

#include "desktop/editors.h"

struct _LwEditor {
  GtkWidget parent_instance;

  GtkWidget *box, *back, *title, *scroll; /* template */

  LwForm *form;
  LwView *view;
  GArray *way; /* LwSubject: where it was opened from, the present one last */
};

G_DEFINE_FINAL_TYPE (LwEditor, lw_editor, GTK_TYPE_WIDGET)

enum {
  CLOSED,
  PICK,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static LwFormBuild
get_build (LwSubjectKind kind)
{
  static const LwFormBuild builds[] = {
    [LW_SUBJECT_JOB] = lw_edit_job_build,         [LW_SUBJECT_MACHINE] = lw_edit_machine_build,
    [LW_SUBJECT_AXES] = lw_edit_axes_build,       [LW_SUBJECT_EQUIPMENT] = lw_edit_equipment_build,
    [LW_SUBJECT_TABLE] = lw_edit_table_build,     [LW_SUBJECT_BODY] = lw_edit_body_build,
    [LW_SUBJECT_PART] = lw_edit_part_build,       [LW_SUBJECT_SETUP] = lw_edit_setup_build,
    [LW_SUBJECT_PLACED] = lw_edit_placed_build,   [LW_SUBJECT_FIXTURES] = lw_edit_fixtures_build,
    [LW_SUBJECT_FIXTURE] = lw_edit_fixture_build, [LW_SUBJECT_OPERATION] = lw_edit_operation_build,
    [LW_SUBJECT_TOOL] = lw_edit_tool_build,
  };

  return builds[kind];
}

LwSubject
lw_editor_get_subject (LwEditor *editor)
{
  if (editor->way->len == 0)
    return (LwSubject){ LW_SUBJECT_NONE, 0, 0 };
  return g_array_index (editor->way, LwSubject, editor->way->len - 1);
}

static void
show_title (LwEditor *editor)
{
  LwJob *job = lw_document_get_job (lw_view_get_document (editor->view));
  g_autofree char *title = lw_subject_dup_title (lw_editor_get_subject (editor), job);

  gtk_label_set_text (GTK_LABEL (editor->title), title);
}

static void
show_present (LwEditor *editor)
{
  LwSubject subject = lw_editor_get_subject (editor);
  GtkAdjustment *adjustment =
      gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (editor->scroll));

  show_title (editor);
  lw_form_show (editor->form, subject, get_build (subject.kind));
  gtk_adjustment_set_value (adjustment, 0);
}

/* Goes back to the nearest subject that still is there; out where there is none. */
static void
go_back (LwEditor *editor)
{
  LwJob *job = lw_document_get_job (lw_view_get_document (editor->view));

  do
    g_array_set_size (editor->way, MAX (editor->way->len, 1) - 1);
  while (editor->way->len > 0 && !lw_subject_exists (lw_editor_get_subject (editor), job));
  if (editor->way->len > 0)
    show_present (editor);
  else
    g_signal_emit (editor, signals[CLOSED], 0);
}

static void
follow (LwEditor *editor)
{
  LwJob *job = lw_document_get_job (lw_view_get_document (editor->view));

  if (editor->way->len == 0)
    return;
  if (lw_subject_exists (lw_editor_get_subject (editor), job))
    show_title (editor);
  else
    go_back (editor);
}

void
lw_editor_show (LwEditor *editor, LwSubject subject)
{
  if (editor->way->len == 1 && lw_subject_equal (subject, lw_editor_get_subject (editor)))
    return;
  g_array_set_size (editor->way, 0);
  g_array_append_val (editor->way, subject);
  show_present (editor);
}

/* A copy made from an editor takes its place; anything else is gone into. */
static void
on_open (LwEditor *editor, const LwSubject *subject)
{
  LwSubject wanted = *subject;

  if (editor->way->len > 0 && lw_editor_get_subject (editor).kind == wanted.kind)
    g_array_set_size (editor->way, editor->way->len - 1);
  g_array_append_val (editor->way, wanted);
  show_present (editor);
}

static void
on_leave (LwEditor *editor)
{
  if (editor->way->len > 0)
    go_back (editor);
}

static void
on_pick (LwEditor *editor, int purpose)
{
  g_signal_emit (editor, signals[PICK], 0, purpose);
}

void
lw_editor_take_pick (LwEditor *editor, int purpose, LwVec3 at, LwVec3 normal)
{
  if (lw_editor_get_subject (editor).kind == LW_SUBJECT_OPERATION)
    lw_edit_take_pick (editor->form, (LwPickPurpose)purpose, at, normal);
}

/* ------------------------------------------------------------------------------------------------
 * Object */

static void
lw_editor_dispose (GObject *object)
{
  LwEditor *editor = LW_EDITOR (object);

  if (editor->view != NULL)
    g_signal_handlers_disconnect_by_data (editor->view, editor);
  g_clear_object (&editor->view);
  g_clear_pointer (&editor->box, gtk_widget_unparent);
  g_clear_pointer (&editor->way, g_array_unref);
  G_OBJECT_CLASS (lw_editor_parent_class)->dispose (object);
}

static void
lw_editor_class_init (LwEditorClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = lw_editor_dispose;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/leeway_planner/Leeway/ui/editor.ui");
  gtk_widget_class_bind_template_child (widget_class, LwEditor, box);
  gtk_widget_class_bind_template_child (widget_class, LwEditor, back);
  gtk_widget_class_bind_template_child (widget_class, LwEditor, title);
  gtk_widget_class_bind_template_child (widget_class, LwEditor, scroll);
  gtk_widget_class_bind_template_callback (widget_class, on_leave);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  signals[CLOSED] = g_signal_new ("closed", LW_TYPE_EDITOR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 0);
  signals[PICK] = g_signal_new ("pick", LW_TYPE_EDITOR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 1, G_TYPE_INT);
}

static void
lw_editor_init (LwEditor *editor)
{
  editor->way = g_array_new (FALSE, FALSE, sizeof (LwSubject));
  gtk_widget_init_template (GTK_WIDGET (editor));
}

GtkWidget *
lw_editor_new (LwView *view)
{
  LwEditor *editor = LW_EDITOR (g_object_new (LW_TYPE_EDITOR, NULL));

  editor->view = g_object_ref (view);
  /* before the form, so that what is gone is left before its fields are built */
  g_signal_connect_swapped (view, "changed", G_CALLBACK (follow), editor);
  editor->form = LW_FORM (lw_form_new (view));
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (editor->scroll), GTK_WIDGET (editor->form));
  g_signal_connect_swapped (editor->form, "open", G_CALLBACK (on_open), editor);
  g_signal_connect_swapped (editor->form, "leave", G_CALLBACK (on_leave), editor);
  g_signal_connect_swapped (editor->form, "pick", G_CALLBACK (on_pick), editor);
  return GTK_WIDGET (editor);
}
