/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/anglescale.h"

#include <glib/gi18n.h>

#include "base/text.h"
#include "desktop/theme.h"

struct _LwAngleScale {
  GtkScale parent;
  gboolean dial;
  gboolean setting; /* the value is changed by us */
  LwAxisFace face;
  LwLabels *labels;
};

G_DEFINE_FINAL_TYPE (LwAngleScale, lw_angle_scale, GTK_TYPE_SCALE)

enum { TURNED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* px */
#define DIAL_SIZE    76
#define SCALE_WIDTH  200
#define SCALE_HEIGHT 50

/* "72.0 degrees": a value's change is no event for a screen reader, a description's is. */
static void
describe (LwAngleScale *self)
{
  g_autofree char *number = lw_format_fixed (lw_degrees (self->face.value), 1, LW_ROUND_NEAREST);
  g_autofree char *text = g_strdup_printf (_ ("%s degrees"), number);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text,
                                  GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, text, -1);
}

static void
turn_to (LwAngleScale *self, double value)
{
  g_signal_emit (self, signals[TURNED], 0, fmin (fmax (value, self->face.low), self->face.high));
}

static void
turn_to_place (LwAngleScale *self, double x, double y)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self));
  double height = gtk_widget_get_height (GTK_WIDGET (self)), value;

  if (self->dial)
    value = lw_heading_dial_get_value (&self->face, width, height, x, y);
  else
    value = lw_tilt_scale_get_value (&self->face, width, x);
  turn_to (self, lw_radians (round (10 * lw_degrees (value)) / 10));
}

static void
drag_begin (GtkGestureDrag *gesture, double x, double y, gpointer data)
{
  LwAngleScale *self = data;

  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  gtk_widget_grab_focus (GTK_WIDGET (self));
  turn_to_place (self, x, y);
}

static void
drag_update (GtkGestureDrag *gesture, double dx, double dy, gpointer data)
{
  double x, y;

  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  turn_to_place (data, x + dx, y + dy);
}

static gboolean
key_pressed (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state,
             gpointer data)
{
  LwAngleScale *self = data;
  double step = lw_radians (state & GDK_SHIFT_MASK ? 0.1 : 1), by = 0;

  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  switch (key) {
  case GDK_KEY_Right:
  case GDK_KEY_Up:
  case GDK_KEY_KP_Right:
  case GDK_KEY_KP_Up:
    by = step;
    break;
  case GDK_KEY_Left:
  case GDK_KEY_Down:
  case GDK_KEY_KP_Left:
  case GDK_KEY_KP_Down:
    by = -step;
    break;
  case GDK_KEY_Page_Up:
  case GDK_KEY_KP_Page_Up:
    by = lw_radians (15);
    break;
  case GDK_KEY_Page_Down:
  case GDK_KEY_KP_Page_Down:
    by = -lw_radians (15);
    break;
  case GDK_KEY_Home:
  case GDK_KEY_KP_Home:
    turn_to (self, 0);
    return TRUE;
  default:
    return FALSE;
  }
  /* To tenths, so that many steps don't add up to 59.999. */
  turn_to (self, lw_radians (round (10 * lw_degrees (self->face.value + by)) / 10));
  return TRUE;
}

/* A screen reader set the value, or the base class did (scrolling). */
static void
value_changed (GtkRange *range, gpointer data)
{
  LwAngleScale *self = LW_ANGLE_SCALE (range);

  if (!self->setting)
    turn_to (self, lw_radians (gtk_range_get_value (range)));
}

void
lw_angle_scale_set_face (LwAngleScale *self, const LwAxisFace *face)
{
  GtkAdjustment *adjustment = gtk_range_get_adjustment (GTK_RANGE (self));
  double low = isfinite (face->low) ? face->low : -LW_PI;
  double high = isfinite (face->high) ? face->high : LW_PI;
  bool moved = face->value != self->face.value;

  self->face = *face;
  self->face.low = low;
  self->face.high = high;
  self->setting = TRUE;
  gtk_adjustment_configure (adjustment, lw_degrees (face->value), lw_degrees (low),
                            lw_degrees (high), 1, 15, 0);
  self->setting = FALSE;
  if (moved)
    describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
         int *minimum_baseline, int *natural_baseline)
{
  LwAngleScale *self = LW_ANGLE_SCALE (widget);

  if (self->dial)
    *minimum = *natural = DIAL_SIZE;
  else if (orientation == GTK_ORIENTATION_HORIZONTAL) {
    *minimum = SCALE_WIDTH;
    *natural = 2 * SCALE_WIDTH;
  } else
    *minimum = *natural = SCALE_HEIGHT;
  *minimum_baseline = *natural_baseline = -1;
}

static void
snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  LwAngleScale *self = LW_ANGLE_SCALE (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  LwStyle style = lw_theme_get_style (widget);
  cairo_t *cr;

  self->face.focused = gtk_widget_has_visible_focus (widget);
  lw_labels_set_font (self->labels, NULL, style.text);
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  if (self->dial)
    lw_heading_dial_draw (cr, &style, self->labels, &self->face, width, height);
  else
    lw_tilt_scale_draw (cr, &style, self->labels, &self->face, width, height);
  cairo_destroy (cr);
}

static void
finalize (GObject *object)
{
  lw_labels_free (LW_ANGLE_SCALE (object)->labels);
  G_OBJECT_CLASS (lw_angle_scale_parent_class)->finalize (object);
}

static void
lw_angle_scale_class_init (LwAngleScaleClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = finalize;
  widget_class->measure = measure;
  widget_class->snapshot = snapshot;
  gtk_widget_class_set_css_name (widget_class, "anglescale");
  signals[TURNED] = g_signal_new ("turned", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 1, G_TYPE_DOUBLE);
}

static void
lw_angle_scale_init (LwAngleScale *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->face = (LwAxisFace){ .low = -LW_PI, .high = LW_PI, .value = 0 };
  self->labels = lw_labels_new (12);
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (drag), GTK_PHASE_CAPTURE);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begin), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_update), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect (self, "value-changed", G_CALLBACK (value_changed), NULL);
}

GtkWidget *
lw_angle_scale_new (gboolean dial, const char *name)
{
  /* The adjustment has to be there when the accessible is made: a construct property. */
  GtkAdjustment *adjustment = gtk_adjustment_new (0, -180, 180, 1, 15, 0);
  LwAngleScale *self = g_object_new (LW_TYPE_ANGLE_SCALE, "adjustment", adjustment, "draw-value",
                                     FALSE, "focusable", TRUE, NULL);

  self->dial = dial;
  gtk_widget_set_focus_on_click (GTK_WIDGET (self), TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  describe (self);
  return GTK_WIDGET (self);
}
