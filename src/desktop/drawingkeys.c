/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/drawingprivate.h"

/* Zoom of one notch of the wheel. */
#define WHEEL_STEP 1.15

/* A wheel zooms about the pointer; a touchpad pans, and zooms with Ctrl. */
static gboolean
scroll (GtkEventControllerScroll *controller, double dx, double dy, LwDrawing *self)
{
  GdkModifierType state =
      gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (controller));
  bool wheel = gtk_event_controller_scroll_get_unit (controller) == GDK_SCROLL_UNIT_WHEEL;
  double step = wheel ? 1 : 0.1;

  self->fitted = false;
  if ((state & GDK_CONTROL_MASK) || (wheel && !(state & GDK_SHIFT_MASK)))
    lw_viewport_zoom (&self->viewport, pow (WHEEL_STEP, -dy * step), self->pointer_x,
                      self->pointer_y);
  else {
    double by = wheel ? 40 : 1;

    lw_viewport_pan (&self->viewport, lw_viewport_get_seen (&self->viewport, self->pointer_y),
                     wheel ? -by * (dx + dy) : -dx, wheel ? 0 : -dy);
  }
  lw_drawing_forget_readout (self);
  lw_drawing_viewport_changed (self);
  return TRUE;
}

static void
pinch_begin (GtkGesture *gesture, GdkEventSequence *sequence, LwDrawing *self)
{
  self->pinch_scale = 1;
}

static void
pinch (GtkGestureZoom *gesture, double scale, LwDrawing *self)
{
  double x, y;

  if (!gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &x, &y)) {
    x = self->viewport.width / 2;
    y = self->viewport.height / 3;
  }
  lw_viewport_zoom (&self->viewport, scale / self->pinch_scale, x, y);
  self->pinch_scale = scale;
  self->fitted = false;
  lw_drawing_viewport_changed (self);
}

static bool
nudge (LwDrawing *self, guint key, GdkModifierType state)
{
  double by = state & GDK_CONTROL_MASK ? 10 : state & GDK_SHIFT_MASK ? 0.1 : 1;
  int right = (key == GDK_KEY_Right || key == GDK_KEY_KP_Right)
              - (key == GDK_KEY_Left || key == GDK_KEY_KP_Left);
  int up =
      (key == GDK_KEY_Up || key == GDK_KEY_KP_Up) - (key == GDK_KEY_Down || key == GDK_KEY_KP_Down);
  LwScene scene;
  const LwPlaced *placed;

  if ((right == 0 && up == 0) || !lw_view_get_scene (self->view, &scene))
    return false;
  placed = lw_scene_get_placed (&scene);
  if (placed == NULL)
    return false;
  lw_drawing_nudge_part (self, (int)(placed - lw_scene_get_setup (&scene)->placed),
                         state & GDK_ALT_MASK ? LW_SEEN_FROM_FRONT : LW_SEEN_FROM_ABOVE, by * right,
                         by * up);
  return true;
}

static gboolean
key_pressed (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state,
             LwDrawing *self)
{
  if (key == GDK_KEY_space) {
    self->space_down = true;
    return gtk_widget_is_focus (GTK_WIDGET (self));
  }
  /* A child with the focus has its own arrows. */
  return gtk_widget_is_focus (GTK_WIDGET (self)) && nudge (self, key, state);
}

static void
key_released (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state,
              LwDrawing *self)
{
  if (key == GDK_KEY_space)
    self->space_down = false;
  else if (key == GDK_KEY_Left || key == GDK_KEY_Right || key == GDK_KEY_Up || key == GDK_KEY_Down)
    lw_document_end_coalescing (lw_view_get_document (self->view));
}

void
lw_drawing_init_keys (LwDrawing *self)
{
  GtkGesture *zoom = gtk_gesture_zoom_new ();
  GtkEventController *wheel =
      gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  GtkEventController *keys = gtk_event_controller_key_new ();

  g_signal_connect (wheel, "scroll", G_CALLBACK (scroll), self);
  g_signal_connect (zoom, "begin", G_CALLBACK (pinch_begin), self);
  g_signal_connect (zoom, "scale-changed", G_CALLBACK (pinch), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed), self);
  g_signal_connect (keys, "key-released", G_CALLBACK (key_released), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (zoom));
  gtk_widget_add_controller (GTK_WIDGET (self), wheel);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}
