/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/job-list.h"

#include <glib/gi18n.h>

#include "desktop/job-row.h"
#include "desktop/job-words.h"

struct _LwJobList {
  GtkWidget parent_instance;

  GtkWidget *box, *scroll, *list; /* template */

  LwView *view;
  GPtrArray *rows; /* LwJobRow, borrowed */
  LwSubject selected;
  int setup, operation, placed, tool; /* the view's, as last seen */
  bool updating;
};

G_DEFINE_FINAL_TYPE (LwJobList, lw_job_list, GTK_TYPE_WIDGET)

enum {
  CHOSEN,
  EDIT,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

LwSubject
lw_job_list_get_selected (LwJobList *self)
{
  return self->selected;
}

/* ------------------------------------------------------------------------------------------------
 * Rows */

static void
on_edit (LwJobRow *row, LwJobList *self)
{
  LwSubject subject = lw_job_row_get_subject (row);

  gtk_list_box_select_row (GTK_LIST_BOX (self->list), GTK_LIST_BOX_ROW (row));
  g_signal_emit (self, signals[EDIT], 0, &subject);
}

static void
make_rows (LwJobList *self, GPtrArray *items)
{
  for (guint i = 0; i < self->rows->len; i++)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), g_ptr_array_index (self->rows, i));
  g_ptr_array_set_size (self->rows, 0);
  for (guint i = 0; i < items->len; i++) {
    GtkWidget *row = lw_job_row_new (g_ptr_array_index (items, i));

    g_signal_connect (row, "edit", G_CALLBACK (on_edit), self);
    g_ptr_array_add (self->rows, row);
    gtk_list_box_append (GTK_LIST_BOX (self->list), row);
  }
}

static bool
fits_rows (LwJobList *self, GPtrArray *items)
{
  if (items->len != self->rows->len)
    return false;
  for (guint i = 0; i < items->len; i++) {
    const LwJobItem *item = g_ptr_array_index (items, i);

    if (!lw_subject_equal (item->subject,
                           lw_job_row_get_subject (g_ptr_array_index (self->rows, i))))
      return false;
  }
  return true;
}

static void
show_selection (LwJobList *self)
{
  bool updating = self->updating;

  self->updating = true;
  for (guint i = 0; i < self->rows->len; i++)
    if (self->selected.kind != LW_SUBJECT_NONE
        && lw_subject_equal (self->selected,
                             lw_job_row_get_subject (g_ptr_array_index (self->rows, i)))) {
      gtk_list_box_select_row (GTK_LIST_BOX (self->list), g_ptr_array_index (self->rows, i));
      self->updating = updating;
      return;
    }
  gtk_list_box_unselect_all (GTK_LIST_BOX (self->list));
  self->updating = updating;
}

/* ------------------------------------------------------------------------------------------------
 * Selection */

/* A selection made elsewhere (in the drawing, on a card) moves the list's. */
static void
follow_selection (LwJobList *self)
{
  LwScene scene;

  if (!lw_view_get_scene (self->view, &scene)) {
    self->selected = (LwSubject){ LW_SUBJECT_NONE, 0, 0 };
    return;
  }
  if (scene.operation >= 0 && (scene.setup != self->setup || scene.operation != self->operation))
    self->selected = (LwSubject){ LW_SUBJECT_OPERATION, scene.setup, scene.operation };
  else if (scene.operation < 0 && scene.placed >= 0 && scene.placed != self->placed
           && scene.setup == self->setup)
    self->selected = (LwSubject){ LW_SUBJECT_PLACED, scene.setup, scene.placed };
  self->setup = scene.setup;
  self->operation = scene.operation;
  self->placed = scene.placed;
  self->tool = scene.tool;
  if (!lw_subject_exists (self->selected, scene.job))
    self->selected = (LwSubject){ LW_SUBJECT_NONE, 0, 0 };
}

static void
follow (LwJobList *self)
{
  g_autoptr (GPtrArray) items = lw_job_words_list (self->view);
  bool fits = fits_rows (self, items);
  LwSubject before = self->selected;

  self->updating = true;
  if (!fits)
    make_rows (self, items);
  for (guint i = 0; i < items->len; i++)
    lw_job_row_update (g_ptr_array_index (self->rows, i), g_ptr_array_index (items, i));
  self->updating = false;
  follow_selection (self);
  if (!fits || !lw_subject_equal (before, self->selected))
    show_selection (self);
}

/* The view takes what it can show of a subject; its answer is not another choice. */
static void
select_in_view (LwJobList *self, LwSubject subject)
{
  LwScene scene;

  switch (subject.kind) {
  case LW_SUBJECT_OPERATION:
    lw_view_select_setup (self->view, subject.setup);
    lw_view_select_operation (self->view, subject.index);
    break;
  case LW_SUBJECT_PLACED:
    lw_view_select_setup (self->view, subject.setup);
    lw_view_select_placed (self->view, subject.index);
    break;
  case LW_SUBJECT_SETUP:
  case LW_SUBJECT_FIXTURES:
    lw_view_select_setup (self->view, subject.setup);
    break;
  case LW_SUBJECT_TOOL:
    lw_view_select_tool (self->view, subject.index);
    break;
  default:
    break;
  }
  if (lw_view_get_scene (self->view, &scene)) {
    self->setup = scene.setup;
    self->operation = scene.operation;
    self->placed = scene.placed;
  }
}

static void
on_selected (GtkListBox *list, GtkListBoxRow *row, LwJobList *self)
{
  LwSubject subject;

  if (self->updating || row == NULL || self->view == NULL)
    return;
  subject = lw_job_row_get_subject (LW_JOB_ROW (row));
  select_in_view (self, subject);
  self->selected = subject;
  show_selection (self);
  g_signal_emit (self, signals[CHOSEN], 0, &subject);
}

static void
on_activated (GtkListBox *list, GtkListBoxRow *row, LwJobList *self)
{
  LwSubject subject = lw_job_row_get_subject (LW_JOB_ROW (row));

  g_signal_emit (self, signals[EDIT], 0, &subject);
}

void
lw_job_list_select (LwJobList *self, LwSubject subject)
{
  self->selected = subject;
  show_selection (self);
}

/* ------------------------------------------------------------------------------------------------
 * Object */

static void
lw_job_list_dispose (GObject *object)
{
  LwJobList *self = LW_JOB_LIST (object);

  if (self->view != NULL)
    g_signal_handlers_disconnect_by_data (self->view, self);
  g_clear_object (&self->view);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->rows, g_ptr_array_unref);
  G_OBJECT_CLASS (lw_job_list_parent_class)->dispose (object);
}

static void
lw_job_list_class_init (LwJobListClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  GType type = G_OBJECT_CLASS_TYPE (class);

  G_OBJECT_CLASS (class)->dispose = lw_job_list_dispose;
  signals[CHOSEN] = g_signal_new ("chosen", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, G_TYPE_POINTER);
  signals[EDIT] = g_signal_new ("edit", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                1, G_TYPE_POINTER);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/leeway_planner/Leeway/ui/job-list.ui");
  gtk_widget_class_bind_template_child (widget_class, LwJobList, box);
  gtk_widget_class_bind_template_child (widget_class, LwJobList, scroll);
  gtk_widget_class_bind_template_child (widget_class, LwJobList, list);
  gtk_widget_class_bind_template_callback (widget_class, on_selected);
  gtk_widget_class_bind_template_callback (widget_class, on_activated);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
lw_job_list_init (LwJobList *self)
{
  self->rows = g_ptr_array_new ();
  self->setup = self->operation = self->placed = self->tool = -1;
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
lw_job_list_new (LwView *view)
{
  LwJobList *self = LW_JOB_LIST (g_object_new (LW_TYPE_JOB_LIST, NULL));

  self->view = g_object_ref (view);
  g_signal_connect_swapped (view, "changed", G_CALLBACK (follow), self);
  follow (self);
  return GTK_WIDGET (self);
}
