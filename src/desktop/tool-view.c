/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/tool-view.h"

#include "desktop/theme.h"
#include "draw/toolpicture.h"

#define HEIGHT 250

typedef struct {
  LwView *view;
  LwPainter *painter;
  int tool;
} ToolView;

static void
draw (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  ToolView *self = data;
  LwScene scene;

  if (!lw_view_get_scene (self->view, &scene) || self->tool >= scene.job->n_tools)
    return;
  lw_painter_set_style (self->painter, lw_theme_get_style (GTK_WIDGET (area)));
  lw_tool_picture_draw (cr, self->painter, &scene.job->tools[self->tool], scene.unit, width,
                        height);
}

static void
tool_view_free (gpointer data)
{
  ToolView *self = data;

  g_object_unref (self->view);
  lw_painter_free (self->painter);
  g_free (self);
}

GtkWidget *
lw_tool_view_make (LwForm *form, const LwField *field)
{
  GtkWidget *area = g_object_new (GTK_TYPE_DRAWING_AREA, "content-height", HEIGHT,
                                  "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  ToolView *self = g_new0 (ToolView, 1);

  self->view = g_object_ref (lw_form_get_view (form));
  self->painter = lw_painter_new (lw_style_get (LW_THEME_LIGHT));
  self->tool = field->index;
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw, self, tool_view_free);
  g_signal_connect_object (self->view, "changed", G_CALLBACK (gtk_widget_queue_draw), area,
                           G_CONNECT_SWAPPED);
  gtk_accessible_update_property (GTK_ACCESSIBLE (area), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  field->label, -1);
  return area;
}
