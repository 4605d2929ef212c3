/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "desktop/drawingprivate.h"
#include "desktop/theme.h"

G_DEFINE_FINAL_TYPE (LwDrawing, lw_drawing, GTK_TYPE_WIDGET)

/* Zoom of one step by key. */
#define ZOOM_STEP 1.25

void
lw_drawing_viewport_changed (LwDrawing *self)
{
  lw_drawing_forget_layers (self, LW_ALL_LAYERS);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
lw_drawing_fit (LwDrawing *self)
{
  int width = gtk_widget_get_width (GTK_WIDGET (self));
  int height = gtk_widget_get_height (GTK_WIDGET (self));
  LwScene scene;

  if (width <= 0 || height <= 0 || !lw_view_get_scene (self->view, &scene))
    return;
  self->viewport = lw_viewport_fit (&scene, width, height);
  self->fitted = true;
  lw_drawing_viewport_changed (self);
}

void
lw_drawing_zoom (LwDrawing *self, double factor)
{
  lw_viewport_zoom (&self->viewport, factor, self->viewport.width / 2,
                    (self->viewport.plan.y0 + self->viewport.plan.y1) / 2);
  self->fitted = false;
  lw_drawing_viewport_changed (self);
}

void
lw_drawing_set_picking (LwDrawing *self, gboolean picking)
{
  self->picking = picking;
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), picking ? "crosshair" : NULL);
}

/* ------------------------------------------------------------------------------------------------
 * Showing */

static void
scene_changed (LwDrawing *self)
{
  LwScene scene;

  if (lw_view_get_scene (self->view, &scene)) {
    bool another = self->shown_job == NULL;

    lw_drawing_compare_scene (self, &scene);
    lw_drawing_update_items (self, &scene);
    if (another)
      lw_drawing_fit (self);
  } else {
    lw_drawing_clear_items (self);
    lw_drawing_forget_layers (self, LW_ALL_LAYERS);
    g_clear_pointer (&self->shown_job, lw_job_unref);
  }
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
take_style (LwDrawing *self)
{
  LwStyle style = lw_theme_get_style (GTK_WIDGET (self));

  if (style.theme == self->painter->style.theme && style.sharpness == self->painter->style.sharpness
      && style.text == self->painter->style.text)
    return;
  lw_painter_set_style (self->painter, style);
  lw_drawing_forget_layers (self, LW_ALL_LAYERS);
}

static void
snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  LwDrawing *self = LW_DRAWING (widget);
  LwScene scene;

  take_style (self);
  if (lw_view_get_scene (self->view, &scene)) {
    lw_drawing_compare_scene (self, &scene);
    gtk_snapshot_push_clip (
        snapshot, &GRAPHENE_RECT_INIT (0, 0, self->viewport.width, self->viewport.height));
    lw_drawing_snapshot_layers (self, snapshot, &scene);
    lw_drawing_snapshot_readout (self, snapshot, &scene);
    gtk_snapshot_pop (snapshot);
  }
  for (guint i = 0; i < self->items->len; i++)
    gtk_widget_snapshot_child (widget, self->items->pdata[i], snapshot);
}

static void
size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  LwDrawing *self = LW_DRAWING (widget);
  LwScene scene;

  if (width != self->viewport.width || height != self->viewport.height) {
    if ((self->fitted || self->viewport.width == 0) && lw_view_get_scene (self->view, &scene)) {
      self->viewport = lw_viewport_fit (&scene, width, height);
      self->fitted = true;
    } else if (self->viewport.width > 0)
      lw_viewport_resize (&self->viewport, width, height);
    lw_drawing_forget_layers (self, LW_ALL_LAYERS);
  }
  lw_drawing_allocate_items (self);
}

static void
measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
         int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 320 : 280;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 760 : 640;
  *minimum_baseline = *natural_baseline = -1;
}

/* ------------------------------------------------------------------------------------------------
 * Actions */

static void
activate_fit (GtkWidget *widget, const char *action, GVariant *parameter)
{
  lw_drawing_fit (LW_DRAWING (widget));
}

static void
activate_zoom (GtkWidget *widget, const char *action, GVariant *parameter)
{
  lw_drawing_zoom (LW_DRAWING (widget),
                   g_str_has_suffix (action, "in") ? ZOOM_STEP : 1 / ZOOM_STEP);
}

static void
dispose (GObject *object)
{
  LwDrawing *self = LW_DRAWING (object);

  if (self->view != NULL)
    g_signal_handlers_disconnect_by_data (self->view, self);
  lw_drawing_end_workable (self);
  lw_drawing_clear_items (self);
  lw_drawing_forget_layers (self, LW_ALL_LAYERS);
  lw_drawing_forget_readout (self);
  g_clear_pointer (&self->shown_job, lw_job_unref);
  g_clear_pointer (&self->shown_verdict, lw_operation_verdict_unref);
  g_clear_object (&self->view);
  G_OBJECT_CLASS (lw_drawing_parent_class)->dispose (object);
}

static void
finalize (GObject *object)
{
  LwDrawing *self = LW_DRAWING (object);

  lw_painter_free (self->painter);
  g_ptr_array_unref (self->items);
  G_OBJECT_CLASS (lw_drawing_parent_class)->finalize (object);
}

static void
lw_drawing_class_init (LwDrawingClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = dispose;
  G_OBJECT_CLASS (class)->finalize = finalize;
  widget_class->snapshot = snapshot;
  widget_class->size_allocate = size_allocate;
  widget_class->measure = measure;
  gtk_widget_class_set_css_name (widget_class, "drawing");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_install_action (widget_class, "drawing.fit", NULL, activate_fit);
  gtk_widget_class_install_action (widget_class, "drawing.zoom-in", NULL, activate_zoom);
  gtk_widget_class_install_action (widget_class, "drawing.zoom-out", NULL, activate_zoom);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_f, 0, "drawing.fit", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_plus, GDK_CONTROL_MASK,
                                       "drawing.zoom-in", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_equal, GDK_CONTROL_MASK,
                                       "drawing.zoom-in", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_KP_Add, GDK_CONTROL_MASK,
                                       "drawing.zoom-in", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_minus, GDK_CONTROL_MASK,
                                       "drawing.zoom-out", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_KP_Subtract, GDK_CONTROL_MASK,
                                       "drawing.zoom-out", NULL);
  g_signal_new ("picked", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                G_TYPE_NONE, 5, G_TYPE_INT, G_TYPE_UINT, G_TYPE_DOUBLE, G_TYPE_DOUBLE,
                G_TYPE_DOUBLE);
}

static void
lw_drawing_init (LwDrawing *self)
{
  self->painter = lw_painter_new (lw_style_get (LW_THEME_LIGHT));
  self->items = g_ptr_array_new ();
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  lw_drawing_init_input (self);
  lw_drawing_init_keys (self);
}

GtkWidget *
lw_drawing_new (LwView *view)
{
  LwDrawing *self = g_object_new (LW_TYPE_DRAWING, NULL);

  self->view = g_object_ref (view);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Drawing: plan view and elevation"), -1);
  g_signal_connect_swapped (view, "changed", G_CALLBACK (scene_changed), self);
  scene_changed (self);
  return GTK_WIDGET (self);
}
