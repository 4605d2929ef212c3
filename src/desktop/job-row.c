/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/job-row.h"

#include <glib/gi18n.h>

#include "desktop/mark.h"

struct _LwJobRow {
  GtkListBoxRow parent_instance;

  GtkWidget *mark, *texts, *title, *summary, *edit; /* template */

  LwSubject subject;
};

G_DEFINE_FINAL_TYPE (LwJobRow, lw_job_row, GTK_TYPE_LIST_BOX_ROW)

static guint edit_signal;

LwSubject
lw_job_row_get_subject (LwJobRow *row)
{
  return row->subject;
}

static void
on_edit (LwJobRow *row)
{
  g_signal_emit (row, edit_signal, 0);
}

void
lw_job_row_update (LwJobRow *row, const LwJobItem *item)
{
  const char *word = lw_mark_get_word (item->mark);
  g_autofree char *name = g_strdup_printf ("%s%s%s%s%s", item->title, *word != '\0' ? ": " : "",
                                           word, item->summary != NULL ? ", " : "",
                                           item->summary != NULL ? item->summary : "");

  gtk_label_set_text (GTK_LABEL (row->title), item->title);
  gtk_label_set_text (GTK_LABEL (row->summary), item->summary != NULL ? item->summary : "");
  gtk_widget_set_visible (row->summary, item->summary != NULL);
  lw_mark_set (LW_MARK (row->mark), item->mark);
  gtk_widget_set_visible (row->mark, item->mark != LW_MARK_NONE);
  gtk_widget_set_tooltip_text (GTK_WIDGET (row), item->summary);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

static void
lw_job_row_class_init (LwJobRowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  edit_signal = g_signal_new ("edit", G_OBJECT_CLASS_TYPE (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                              NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/leeway_planner/Leeway/ui/job-row.ui");
  gtk_widget_class_bind_template_child (widget_class, LwJobRow, mark);
  gtk_widget_class_bind_template_child (widget_class, LwJobRow, texts);
  gtk_widget_class_bind_template_child (widget_class, LwJobRow, title);
  gtk_widget_class_bind_template_child (widget_class, LwJobRow, summary);
  gtk_widget_class_bind_template_child (widget_class, LwJobRow, edit);
  gtk_widget_class_bind_template_callback (widget_class, on_edit);
}

static void
lw_job_row_init (LwJobRow *row)
{
  g_type_ensure (LW_TYPE_MARK);
  gtk_widget_init_template (GTK_WIDGET (row));
}

GtkWidget *
lw_job_row_new (const LwJobItem *item)
{
  LwJobRow *row = LW_JOB_ROW (g_object_new (LW_TYPE_JOB_ROW, NULL));
  bool heading = item->subject.kind == LW_SUBJECT_NONE;
  g_autofree char *edit = g_strdup_printf (_ ("Edit %s"), item->title);

  row->subject = item->subject;
  gtk_widget_set_visible (row->edit, !heading);
  gtk_list_box_row_set_selectable (GTK_LIST_BOX_ROW (row), !heading);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), !heading);
  if (item->strong) {
    gtk_widget_add_css_class (GTK_WIDGET (row), "strong");
    gtk_label_set_wrap (GTK_LABEL (row->summary), TRUE);
    gtk_label_set_lines (GTK_LABEL (row->summary), 2);
  }
  if (item->subject.kind == LW_SUBJECT_TOOL) {
    gtk_widget_add_css_class (GTK_WIDGET (row), "tool");
    gtk_orientable_set_orientation (GTK_ORIENTABLE (row->texts), GTK_ORIENTATION_HORIZONTAL);
    gtk_label_set_width_chars (GTK_LABEL (row->title), 4);
  }
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->edit), GTK_ACCESSIBLE_PROPERTY_LABEL, edit,
                                  -1);
  return GTK_WIDGET (row);
}
