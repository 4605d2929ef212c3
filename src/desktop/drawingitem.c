/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/drawingitem.h"

struct _LwDrawingItem {
  GtkWidget parent;
  LwDrawingItemKind kind;
  int index;
  char *name, *description;
};

G_DEFINE_FINAL_TYPE (LwDrawingItem, lw_drawing_item, GTK_TYPE_WIDGET)

enum { CHOSEN, NUDGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
activate_select (GtkWidget *widget, const char *action, GVariant *parameter)
{
  g_signal_emit (widget, signals[CHOSEN], 0);
}

static void
activate_move (GtkWidget *widget, const char *action, GVariant *parameter)
{
  int right = g_str_has_suffix (action, "right") - g_str_has_suffix (action, "left");
  int up = g_str_has_suffix (action, "up") - g_str_has_suffix (action, "down");

  g_signal_emit (widget, signals[NUDGED], 0, right, up);
}

static void
dispose (GObject *object)
{
  LwDrawingItem *self = LW_DRAWING_ITEM (object);

  g_clear_pointer (&self->name, g_free);
  g_clear_pointer (&self->description, g_free);
  G_OBJECT_CLASS (lw_drawing_item_parent_class)->dispose (object);
}

static void
lw_drawing_item_class_init (LwDrawingItemClass *class)
{
  static const struct {
    guint key;
    const char *action;
  } keys[] = { { GDK_KEY_Left, "item.move-left" }, { GDK_KEY_Right, "item.move-right" },
               { GDK_KEY_Up, "item.move-up" },     { GDK_KEY_Down, "item.move-down" },
               { GDK_KEY_Return, "item.select" },  { GDK_KEY_space, "item.select" } };
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = dispose;
  gtk_widget_class_set_css_name (widget_class, "drawing-item");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_widget_class_install_action (widget_class, "item.select", NULL, activate_select);
  gtk_widget_class_install_action (widget_class, "item.move-left", NULL, activate_move);
  gtk_widget_class_install_action (widget_class, "item.move-right", NULL, activate_move);
  gtk_widget_class_install_action (widget_class, "item.move-up", NULL, activate_move);
  gtk_widget_class_install_action (widget_class, "item.move-down", NULL, activate_move);
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_widget_class_add_binding_action (widget_class, keys[i].key, 0, keys[i].action, NULL);
  signals[CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 0);
  signals[NUDGED] = g_signal_new ("nudged", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 2, G_TYPE_INT, G_TYPE_INT);
}

static void
lw_drawing_item_init (LwDrawingItem *self)
{
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE); /* the drawing takes the pointer */
}

GtkWidget *
lw_drawing_item_new (LwDrawingItemKind kind, int index)
{
  LwDrawingItem *self = g_object_new (LW_TYPE_DRAWING_ITEM, NULL);

  self->kind = kind;
  self->index = index;
  return GTK_WIDGET (self);
}

LwDrawingItemKind
lw_drawing_item_get_kind (LwDrawingItem *self)
{
  return self->kind;
}

int
lw_drawing_item_get_index (LwDrawingItem *self)
{
  return self->index;
}

void
lw_drawing_item_set_words (LwDrawingItem *self, const char *name, const char *description)
{
  if (g_strcmp0 (name, self->name) != 0) {
    g_free (self->name);
    self->name = g_strdup (name);
    gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  }
  if (g_strcmp0 (description, self->description) != 0) {
    g_free (self->description);
    self->description = g_strdup (description);
    gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                    description, -1);
  }
}
