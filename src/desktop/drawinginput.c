/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "desktop/drawingprivate.h"
#include "draw/pick.h"
#include "draw/snap.h"

/* px within which the pointer has hold of the tip's marker or of the section line's ends. */
#define HOLD_TIP 10
#define HOLD_CUT 12
/* px a press may wander and still be a click. */
#define CLICK_SLOP 4

/* ------------------------------------------------------------------------------------------------
 * Edits */

static bool
set_place (LwDrawing *self, int setup, int placed, LwVec3 at, const char *coalesce)
{
  g_autofree char *path = g_strdup_printf ("setups[%d].placed[%d].at_mm", setup, placed);
  g_autoptr (GError) error = NULL;

  if (lw_document_set (lw_view_get_document (self->view), path, lw_json_new_vec3 (at),
                       _ ("Move part"), coalesce, &error))
    return true;
  gtk_widget_error_bell (GTK_WIDGET (self));
  g_message ("%s", error->message);
  return false;
}

void
lw_drawing_nudge_part (LwDrawing *self, int placed, LwSeen seen, double right, double up)
{
  double step;
  LwScene scene;
  const LwSetup *setup;
  LwVec3 at;

  if (!lw_view_get_scene (self->view, &scene))
    return;
  setup = lw_scene_get_setup (&scene);
  if (setup == NULL || placed < 0 || placed >= setup->n_placed)
    return;
  step = scene.unit == LW_UNIT_INCH ? 1.27 : 1;
  at = setup->placed[placed].at;
  at.x += step * right;
  if (seen == LW_SEEN_FROM_ABOVE)
    at.y += step * up;
  else
    at.z += step * up;
  lw_view_select_placed (self->view, placed);
  set_place (self, scene.setup, placed, at, "nudge-part");
}

void
lw_drawing_nudge_tip (LwDrawing *self, double right, double up)
{
  LwScene scene;

  if (!lw_view_get_scene (self->view, &scene))
    return;
  lw_view_set_tip (self->view, lw_vec3_add (scene.tip, lw_vec3 (right, up, 0)));
}

/* ------------------------------------------------------------------------------------------------
 * Press, drag, release */

static LwHold
find_hold (LwDrawing *self, const LwScene *scene, double x, double y, LwSeen seen, LwPick *pick)
{
  const LwViewport *v = &self->viewport;
  LwPoint tip = lw_viewport_project (v, seen, scene->tip);
  double cut = lw_viewport_get_up (v, LW_SEEN_FROM_ABOVE, scene->section_y);
  double left = v->x0 - 14;
  double right = v->x0 + v->scale * lw_scene_get_table (scene)->size[0] + 14;

  if (hypot (x - tip.x, y - tip.y) <= HOLD_TIP)
    return LW_HOLD_TIP;
  if (seen == LW_SEEN_FROM_ABOVE && fabs (y - cut + 6) <= HOLD_CUT
      && (fabs (x - left) <= HOLD_CUT || fabs (x - right) <= HOLD_CUT))
    return LW_HOLD_CUT;
  if (pick != NULL && lw_pick_facet (scene, v, seen, x, y, pick))
    return LW_HOLD_PART;
  return LW_HOLD_PAPER;
}

static void
press (LwDrawing *self, double x, double y, bool only_pan)
{
  LwSeen seen = lw_viewport_get_seen (&self->viewport, y);
  LwGrip *grip = &self->grip;
  LwScene scene;
  LwPick pick = { .placed = -1 };

  *grip = (LwGrip){ .hold = LW_HOLD_NOTHING, .seen = seen, .x = x, .y = y, .placed = -1 };
  if (!lw_view_get_scene (self->view, &scene))
    return;
  grip->hold =
      only_pan || self->space_down ? LW_HOLD_PAPER : find_hold (self, &scene, x, y, seen, &pick);
  grip->placed = pick.placed;
  if (self->picking)
    grip->hold = LW_HOLD_PAPER; /* the click counts, not the drag */
  if (grip->hold == LW_HOLD_PART)
    grip->start = lw_scene_get_setup (&scene)->placed[pick.placed].at;
  else if (grip->hold == LW_HOLD_TIP)
    grip->start = scene.tip;
  else if (grip->hold == LW_HOLD_CUT)
    grip->start = lw_vec3 (0, scene.section_y, 0);
}

static void
drag_part (LwDrawing *self, const LwScene *scene, LwVec3 to, bool unsnapped)
{
  const LwSetup *setup = lw_scene_get_setup (scene);
  const LwPlaced *placed;
  LwSnap snap;

  if (setup == NULL || self->grip.placed < 0 || self->grip.placed >= setup->n_placed)
    return;
  placed = &setup->placed[self->grip.placed];
  snap = lw_snap_part (scene, placed, to, self->grip.seen, unsnapped);
  if (snap.at.x == placed->at.x && snap.at.y == placed->at.y && snap.at.z == placed->at.z)
    return;
  set_place (self, scene->setup, self->grip.placed, snap.at, "drag-part");
}

static LwVec3
round_place (LwVec3 place, LwUnit unit)
{
  double step = unit == LW_UNIT_INCH ? 0.127 : 0.1;

  return lw_vec3 (step * round (place.x / step), step * round (place.y / step),
                  step * round (place.z / step));
}

static void
drag (LwDrawing *self, double dx, double dy, GdkModifierType state)
{
  LwGrip *grip = &self->grip;
  LwScene scene;
  double mm = 1 / self->viewport.scale;
  LwVec3 by = grip->seen == LW_SEEN_FROM_ABOVE ? lw_vec3 (dx * mm, -dy * mm, 0)
                                               : lw_vec3 (dx * mm, 0, -dy * mm);

  if (!grip->moved && hypot (dx, dy) < CLICK_SLOP)
    return;
  if (!lw_view_get_scene (self->view, &scene))
    return;
  if (!grip->moved && grip->hold == LW_HOLD_PART) {
    lw_drawing_ask_workable (self, &scene, grip->placed);
    lw_view_select_placed (self->view, grip->placed);
  }
  grip->moved = true;
  switch (grip->hold) {
  case LW_HOLD_PART:
    drag_part (self, &scene, lw_vec3_add (grip->start, by), (state & GDK_ALT_MASK) != 0);
    break;
  case LW_HOLD_TIP:
    lw_view_set_tip (self->view, round_place (lw_vec3_add (grip->start, by), scene.unit));
    break;
  case LW_HOLD_CUT:
    lw_view_set_section_y (self->view, round_place (lw_vec3_add (grip->start, by), scene.unit).y);
    break;
  case LW_HOLD_PAPER:
    lw_viewport_pan (&self->viewport, grip->seen, dx - grip->last_dx, dy - grip->last_dy);
    self->fitted = false;
    lw_drawing_viewport_changed (self);
    break;
  case LW_HOLD_NOTHING:
  default:
    break;
  }
  grip->last_dx = dx;
  grip->last_dy = dy;
}

static void
click (LwDrawing *self)
{
  LwGrip *grip = &self->grip;
  LwScene scene;
  LwPick pick;

  if (!lw_view_get_scene (self->view, &scene))
    return;
  if (self->picking) {
    if (lw_pick_facet (&scene, &self->viewport, grip->seen, grip->x, grip->y, &pick))
      g_signal_emit_by_name (self, "picked", pick.placed, pick.triangle, pick.part.x, pick.part.y,
                             pick.part.z);
    else
      gtk_widget_error_bell (GTK_WIDGET (self));
  } else if (grip->hold == LW_HOLD_PART)
    lw_view_select_placed (self->view, grip->placed);
}

static void
release (LwDrawing *self)
{
  if (!self->grip.moved)
    click (self);
  else if (self->grip.hold == LW_HOLD_PART)
    lw_document_end_coalescing (lw_view_get_document (self->view));
  self->grip.hold = LW_HOLD_NOTHING;
  lw_drawing_end_workable (self);
}

static void
drag_begin (GtkGestureDrag *gesture, double x, double y, LwDrawing *self)
{
  guint button = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture));

  gtk_widget_grab_focus (GTK_WIDGET (self));
  press (self, x, y, button == GDK_BUTTON_MIDDLE);
}

static void
drag_update (GtkGestureDrag *gesture, double dx, double dy, LwDrawing *self)
{
  GdkModifierType state =
      gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  drag (self, dx, dy, state);
}

static void
drag_end (GtkGestureDrag *gesture, double dx, double dy, LwDrawing *self)
{
  release (self);
}

static void
pressed (GtkGestureClick *gesture, int n_press, double x, double y, LwDrawing *self)
{
  LwScene scene;
  LwPick pick;

  if (n_press == 2 && !self->picking && lw_view_get_scene (self->view, &scene)
      && find_hold (self, &scene, x, y, lw_viewport_get_seen (&self->viewport, y), &pick)
             == LW_HOLD_PAPER)
    lw_drawing_fit (self);
}

/* ------------------------------------------------------------------------------------------------
 * Hover */

static void
hover (GtkEventControllerMotion *controller, double x, double y, LwDrawing *self)
{
  LwScene scene;

  self->pointer_x = x;
  self->pointer_y = y;
  self->pointer_in = true;
  lw_drawing_forget_readout (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (self->picking || !lw_view_get_scene (self->view, &scene))
    return;
  switch (find_hold (self, &scene, x, y, lw_viewport_get_seen (&self->viewport, y), NULL)) {
  case LW_HOLD_TIP:
    gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "move");
    break;
  case LW_HOLD_CUT:
    gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "ns-resize");
    break;
  default:
    gtk_widget_set_cursor (GTK_WIDGET (self), NULL);
  }
}

static void
leave (GtkEventControllerMotion *controller, LwDrawing *self)
{
  self->pointer_in = false;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
add_drag (LwDrawing *self, guint button)
{
  GtkGesture *gesture = gtk_gesture_drag_new ();

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (gesture), button);
  g_signal_connect (gesture, "drag-begin", G_CALLBACK (drag_begin), self);
  g_signal_connect (gesture, "drag-update", G_CALLBACK (drag_update), self);
  g_signal_connect (gesture, "drag-end", G_CALLBACK (drag_end), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (gesture));
}

void
lw_drawing_init_input (LwDrawing *self)
{
  GtkGesture *clicks = gtk_gesture_click_new ();
  GtkEventController *motion = gtk_event_controller_motion_new ();

  add_drag (self, GDK_BUTTON_PRIMARY);
  add_drag (self, GDK_BUTTON_MIDDLE);
  g_signal_connect (clicks, "pressed", G_CALLBACK (pressed), self);
  g_signal_connect (motion, "enter", G_CALLBACK (hover), self);
  g_signal_connect (motion, "motion", G_CALLBACK (hover), self);
  g_signal_connect (motion, "leave", G_CALLBACK (leave), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (clicks));
  gtk_widget_add_controller (GTK_WIDGET (self), motion);
}
