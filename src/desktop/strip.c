/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/strip.h"

#include <glib/gi18n.h>

#include "base/text.h"
#include "desktop/anglescale.h"

struct _LwStrip {
  GtkWidget parent;
  /* children */
  GtkWidget *box, *tilt_scale, *heading_dial, *tilt_entry, *heading_entry;
  GtkWidget *tilt_title, *heading_title, *ends, *branch, *swing;
  LwView *view; /* owned */
};

G_DEFINE_FINAL_TYPE (LwStrip, lw_strip, GTK_TYPE_WIDGET)

/* ------------------------------------------------------------------------------------------------
 * Words */

static char *
say_end (const LwMachine *machine, const LwTiltEnd *end)
{
  g_autofree char *limit = lw_limit_to_text (machine, end->limit, false);
  g_autofree char *angle =
      lw_format_angle (end->tilt, end->tilt >= 0 ? LW_ROUND_DOWN : LW_ROUND_UP);

  return g_strdup_printf (_ ("%s travel ends at %s"), limit, angle);
}

static char *
say_ends (const LwMachine *machine, const LwTiltEnd *low, const LwTiltEnd *high)
{
  g_autofree char *one = high->met ? say_end (machine, high) : NULL;
  g_autofree char *other = low->met ? say_end (machine, low) : NULL;

  if (one != NULL && other != NULL)
    return g_strdup_printf (_ ("at this tip %s, %s"), one, other);
  if (one != NULL || other != NULL)
    return g_strdup_printf (_ ("at this tip %s"), one != NULL ? one : other);
  return g_strdup (_ ("at this tip travel allows every tilt"));
}

/* The way to the same tool axis by the tilt of the other sign. */
static char *
say_other_branch (const LwScene *scene)
{
  const LwMachine *machine = scene->job->machine;
  const LwTravel *limits = &machine->travel[LW_AXIS_C];
  LwBranches branches =
      lw_head_solve (&machine->head, lw_head_get_tool_axis (&machine->head, scene->c, scene->t));

  for (int i = 0; i < branches.n && !branches.c_free; i++) {
    double c = branches.branch[i].c, t = branches.branch[i].t;
    g_autofree char *c_text = NULL, *t_text = NULL;

    if (t * scene->t > 0)
      continue;
    if (c > limits->high)
      c -= 2 * LW_PI;
    else if (c < limits->low)
      c += 2 * LW_PI;
    c_text = lw_format_angle (c, LW_ROUND_NEAREST);
    t_text = lw_format_angle (t, LW_ROUND_NEAREST);
    if (c < limits->low || c > limits->high || t < machine->travel[LW_AXIS_TILT].low
        || t > machine->travel[LW_AXIS_TILT].high)
      return g_strdup (_ ("no other way to this attitude"));
    return g_strdup_printf (_ ("also %s, tilt %s"), c_text, t_text);
  }
  return g_strdup (branches.c_free ? _ ("straight down: any heading") : "");
}

static char *
say_swing (const LwScene *scene)
{
  const LwTool *tool = lw_scene_get_tool (scene);
  g_autofree char *swing =
      lw_format_length (scene->job->machine->head.pivot_length + lw_scene_get_tip_length (scene),
                        scene->unit, LW_ROUND_UP);

  return tool != NULL ? g_strdup_printf (_ ("T%d %s · swing %s"), tool->number, tool->name, swing)
                      : g_strdup_printf (_ ("no tool · swing of the gauge face %s"), swing);
}

/* ------------------------------------------------------------------------------------------------
 * Showing */

static void
set_entry (GtkWidget *entry, double angle)
{
  g_autofree char *text = lw_format_angle (angle, LW_ROUND_NEAREST);

  if (gtk_widget_get_state_flags (entry) & GTK_STATE_FLAG_FOCUS_WITHIN)
    return; /* someone is typing */
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
}

static void
show_tilt (LwStrip *self, const LwScene *scene)
{
  const LwMachine *machine = scene->job->machine;
  const LwTravel *limits = &machine->travel[LW_AXIS_TILT];
  LwTiltEnd low = { 0 }, high = { 0 };
  g_autofree char *ends = NULL, *title = NULL;
  LwAxisFace face = { .low = limits->low, .high = limits->high, .value = scene->t };

  lw_reach_get_tilt_ends (machine, lw_scene_get_table (scene), lw_scene_get_tip_length (scene),
                          scene->tip, scene->c, &low, &high);
  face.end_low = low.met ? low.tilt : -INFINITY;
  face.end_high = high.met ? high.tilt : INFINITY;
  lw_angle_scale_set_face (LW_ANGLE_SCALE (self->tilt_scale), &face);
  set_entry (self->tilt_entry, scene->t);
  title = g_strdup_printf (_ ("Tilt %s"), lw_machine_get_letter (machine, LW_AXIS_TILT));
  gtk_label_set_text (GTK_LABEL (self->tilt_title), title);
  ends = say_ends (machine, &low, &high);
  gtk_label_set_text (GTK_LABEL (self->ends), ends);
  if (scene->t < face.end_low || scene->t > face.end_high)
    gtk_widget_add_css_class (self->ends, "does-not-fit");
  else
    gtk_widget_remove_css_class (self->ends, "does-not-fit");
}

static void
show_heading (LwStrip *self, const LwScene *scene)
{
  const LwTravel *limits = &scene->job->machine->travel[LW_AXIS_C];
  g_autofree char *branch = say_other_branch (scene), *swing = say_swing (scene);
  LwAxisFace face = { .low = limits->low,
                      .high = limits->high,
                      .value = scene->c,
                      .end_low = -INFINITY,
                      .end_high = INFINITY };

  lw_angle_scale_set_face (LW_ANGLE_SCALE (self->heading_dial), &face);
  set_entry (self->heading_entry, scene->c);
  gtk_label_set_text (GTK_LABEL (self->branch), branch);
  gtk_label_set_text (GTK_LABEL (self->swing), swing);
}

static void
show (LwStrip *self)
{
  LwScene scene;
  bool any = lw_view_get_scene (self->view, &scene);

  gtk_widget_set_sensitive (self->box, any);
  if (!any)
    return;
  show_tilt (self, &scene);
  show_heading (self, &scene);
}

/* ------------------------------------------------------------------------------------------------
 * Turning */

static void
set_attitude (LwStrip *self, const double *c, const double *t)
{
  LwScene scene;

  if (lw_view_get_scene (self->view, &scene))
    lw_view_set_attitude (self->view, c != NULL ? *c : scene.c, t != NULL ? *t : scene.t);
}

static void
tilt_turned (LwAngleScale *scale, double value, LwStrip *self)
{
  set_attitude (self, NULL, &value);
}

static void
heading_turned (LwAngleScale *scale, double value, LwStrip *self)
{
  set_attitude (self, &value, NULL);
}

/* "72", "72.0°", "−72,5": the number typed, in radians. Minus may be typed either way. */
static bool
read_angle (GtkWidget *entry, double *angle)
{
  g_autoptr (GString) text = g_string_new (gtk_editable_get_text (GTK_EDITABLE (entry)));
  double degrees;

  g_string_replace (text, "°", "", 0);
  g_string_replace (text, "−", "-", 0);
  if (!lw_number_from_text (text->str, '.', &degrees)
      && !lw_number_from_text (text->str, ',', &degrees))
    return false;
  *angle = lw_radians (degrees);
  return true;
}

/* What can't be read, or is outside of the axis' travel, is marked and nothing turns. */
static void
take_entry (LwStrip *self, GtkWidget *entry)
{
  bool tilt = entry == self->tilt_entry, good;
  g_autofree char *before = NULL;
  LwScene scene;
  double angle;

  if (!lw_view_get_scene (self->view, &scene))
    return;
  before = lw_format_angle (tilt ? scene.t : scene.c, LW_ROUND_NEAREST);
  if (g_strcmp0 (before, gtk_editable_get_text (GTK_EDITABLE (entry))) == 0)
    return; /* nothing was typed: keep what the rounded text does not show */
  good = read_angle (entry, &angle);
  if (good) {
    const LwTravel *travel = &scene.job->machine->travel[tilt ? LW_AXIS_TILT : LW_AXIS_C];

    good = angle >= travel->low - 1e-12 && angle <= travel->high + 1e-12;
  }
  gtk_accessible_update_state (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_STATE_INVALID,
                               good ? GTK_ACCESSIBLE_INVALID_FALSE : GTK_ACCESSIBLE_INVALID_TRUE,
                               -1);
  if (!good) {
    gtk_widget_add_css_class (entry, "error");
    return;
  }
  gtk_widget_remove_css_class (entry, "error");
  set_attitude (self, tilt ? NULL : &angle, tilt ? &angle : NULL);
}

static void
entry_activated (GtkWidget *entry, LwStrip *self)
{
  take_entry (self, entry);
}

static void
entry_left (GtkEventControllerFocus *controller, LwStrip *self)
{
  GtkWidget *entry = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller));

  take_entry (self, entry);
  gtk_widget_remove_css_class (entry, "error");
  show (self);
}

/* ------------------------------------------------------------------------------------------------
 * Making */

static GtkWidget *
make_label (const char *css_class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (label, css_class);
  return label;
}

static GtkWidget *
make_entry (LwStrip *self, const char *name)
{
  GtkWidget *entry = gtk_entry_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 7);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 7);
  gtk_widget_add_css_class (entry, "angle");
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (entry, "activate", G_CALLBACK (entry_activated), self);
  g_signal_connect (focus, "leave", G_CALLBACK (entry_left), self);
  gtk_widget_add_controller (entry, focus);
  return entry;
}

static GtkWidget *
make_column (GtkWidget *const *children, int n, bool expand)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand (box, expand);
  for (int i = 0; i < n; i++)
    gtk_box_append (GTK_BOX (box), children[i]);
  return box;
}

static void
lw_strip_init (LwStrip *self)
{
  GtkWidget *box;

  self->tilt_title = make_label ("heading");
  self->heading_title = make_label ("heading");
  gtk_label_set_text (GTK_LABEL (self->heading_title), _ ("Heading C"));
  self->ends = make_label ("dim-label");
  self->branch = make_label ("dim-label");
  self->swing = make_label ("dim-label");
  gtk_label_set_width_chars (GTK_LABEL (self->branch), 22);
  self->tilt_entry = make_entry (self, _ ("Tilt in degrees"));
  self->heading_entry = make_entry (self, _ ("Heading in degrees"));
  self->tilt_scale = lw_angle_scale_new (FALSE, _ ("Tilt"));
  self->heading_dial = lw_angle_scale_new (TRUE, _ ("Heading"));
  gtk_widget_set_hexpand (self->tilt_scale, TRUE);
  gtk_widget_set_valign (self->heading_dial, GTK_ALIGN_CENTER);
  g_signal_connect (self->tilt_scale, "turned", G_CALLBACK (tilt_turned), self);
  g_signal_connect (self->heading_dial, "turned", G_CALLBACK (heading_turned), self);

  box = self->box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 16);
  gtk_box_append (GTK_BOX (box),
                  make_column ((GtkWidget *[]){ self->tilt_title, self->tilt_entry }, 2, false));
  gtk_box_append (GTK_BOX (box),
                  make_column ((GtkWidget *[]){ self->tilt_scale, self->ends }, 2, true));
  gtk_box_append (GTK_BOX (box), self->heading_dial);
  gtk_box_append (GTK_BOX (box),
                  make_column ((GtkWidget *[]){ self->heading_title, self->heading_entry,
                                                self->branch, self->swing },
                               4, false));
  gtk_widget_set_parent (box, GTK_WIDGET (self));
}

static void
dispose (GObject *object)
{
  LwStrip *self = LW_STRIP (object);

  if (self->view != NULL)
    g_signal_handlers_disconnect_by_data (self->view, self);
  g_clear_object (&self->view);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (lw_strip_parent_class)->dispose (object);
}

static void
lw_strip_class_init (LwStripClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "attitude-strip");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

GtkWidget *
lw_strip_new (LwView *view)
{
  LwStrip *self = g_object_new (LW_TYPE_STRIP, NULL);

  self->view = g_object_ref (view);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Attitude of the tool"), -1);
  g_signal_connect_swapped (view, "changed", G_CALLBACK (show), self);
  show (self);
  return GTK_WIDGET (self);
}
