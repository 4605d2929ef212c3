/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/mark.h"

#include <glib/gi18n.h>

#include "desktop/theme.h"

struct _LwMark {
  GtkWidget parent_instance;

  int size;
  int state;
};

G_DEFINE_FINAL_TYPE (LwMark, lw_mark, GTK_TYPE_WIDGET)

const char *
lw_mark_get_word (int state)
{
  if (state == LW_MARK_NONE)
    return "";
  return state == LW_MARK_CHECKING ? _ ("Checking …") : lw_verdict_get_label ((LwVerdictKind)state);
}

const char *
lw_mark_get_class (int state)
{
  return state >= 0 ? lw_verdict_get_word ((LwVerdictKind)state) : "not-checked";
}

/* Three dots in a ring of dashes. */
static void
draw_checking (const LwStyle *style, cairo_t *cr, double size)
{
  const double dash[] = { 2, 2 };

  lw_style_set_ink (style, cr, LW_INK_FAINT);
  cairo_set_line_width (cr, 1.2);
  cairo_set_dash (cr, dash, 2, 0);
  cairo_arc (cr, size / 2, size / 2, size / 2 - 1, 0, 2 * LW_PI);
  cairo_stroke (cr);
  for (int i = -1; i <= 1; i++) {
    cairo_arc (cr, size / 2 + i * size / 5, size / 2, size / 18, 0, 2 * LW_PI);
    cairo_fill (cr);
  }
}

static void
lw_mark_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  LwMark *mark = LW_MARK (widget);
  graphene_rect_t bounds = GRAPHENE_RECT_INIT (0, 0, (float)mark->size, (float)mark->size);
  LwStyle style = lw_theme_get_style (widget);
  cairo_t *cr;

  if (mark->state == LW_MARK_NONE)
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  if (mark->state == LW_MARK_CHECKING)
    draw_checking (&style, cr, mark->size);
  else
    lw_style_draw_mark (&style, cr, (LwVerdictKind)mark->state, mark->size / 2.0, mark->size / 2.0,
                        mark->size - 1);
  cairo_destroy (cr);
}

static void
lw_mark_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                 int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = LW_MARK (widget)->size;
}

void
lw_mark_set (LwMark *mark, int state)
{
  if (state == mark->state)
    return;
  mark->state = state;
  gtk_accessible_update_property (GTK_ACCESSIBLE (mark), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  lw_mark_get_word (state), -1);
  gtk_widget_queue_draw (GTK_WIDGET (mark));
}

static void
lw_mark_set_property (GObject *object, guint id, const GValue *value, GParamSpec *spec)
{
  LW_MARK (object)->size = g_value_get_int (value);
}

static void
lw_mark_class_init (LwMarkClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->set_property = lw_mark_set_property;
  g_object_class_install_property (
      G_OBJECT_CLASS (class), 1,
      g_param_spec_int ("size", NULL, NULL, 8, 128, 18,
                        G_PARAM_WRITABLE | G_PARAM_CONSTRUCT_ONLY | G_PARAM_STATIC_STRINGS));

  widget_class->snapshot = lw_mark_snapshot;
  widget_class->measure = lw_mark_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
lw_mark_init (LwMark *mark)
{
  mark->state = LW_MARK_NONE;
  gtk_widget_set_valign (GTK_WIDGET (mark), GTK_ALIGN_CENTER);
}

GtkWidget *
lw_mark_new (int size)
{
  return GTK_WIDGET (g_object_new (LW_TYPE_MARK, "size", size, NULL));
}
