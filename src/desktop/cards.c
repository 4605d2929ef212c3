/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/cards.h"

#include <glib/gi18n.h>

#include "desktop/card.h"

struct _LwCards {
  GtkWidget parent_instance;

  GtkWidget *scroll, *list, *none; /* template */

  LwView *view;
  GPtrArray *cards; /* LwCard, borrowed */
  int selected;     /* index of the card that is selected, −1: none */
  bool updating;
};

G_DEFINE_FINAL_TYPE (LwCards, lw_cards, GTK_TYPE_WIDGET)

static int
compare (GtkListBoxRow *a, GtkListBoxRow *b, gpointer data)
{
  int by_rank = lw_card_get_rank (LW_CARD (a)) - lw_card_get_rank (LW_CARD (b));

  return by_rank != 0 ? by_rank : lw_card_get_index (LW_CARD (a)) - lw_card_get_index (LW_CARD (b));
}

static void
set_count (LwCards *self, int n)
{
  if ((int)self->cards->len == n)
    return;
  for (guint i = 0; i < self->cards->len; i++)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), g_ptr_array_index (self->cards, i));
  g_ptr_array_set_size (self->cards, 0);
  self->selected = -1;
  for (int i = 0; i < n; i++) {
    GtkWidget *card = lw_card_new (self->view, i);

    g_ptr_array_add (self->cards, card);
    gtk_list_box_append (GTK_LIST_BOX (self->list), card);
  }
}

static void
show_selected (LwCards *self)
{
  LwScene scene;
  int selected = -1;

  if (lw_view_get_scene (self->view, &scene))
    selected = lw_checker_find (lw_view_get_checker (self->view), scene.setup, scene.operation);
  if (selected == self->selected)
    return;
  self->selected = selected;
  if (selected >= 0 && selected < (int)self->cards->len)
    gtk_list_box_select_row (GTK_LIST_BOX (self->list), g_ptr_array_index (self->cards, selected));
  else
    gtk_list_box_unselect_all (GTK_LIST_BOX (self->list));
}

static void
follow (LwCards *self)
{
  const LwJobVerdict *verdict = lw_checker_get_verdict (lw_view_get_checker (self->view));

  self->updating = true;
  set_count (self, verdict != NULL ? verdict->n_operations : 0);
  for (guint i = 0; i < self->cards->len; i++)
    lw_card_update (g_ptr_array_index (self->cards, i));
  gtk_list_box_invalidate_sort (GTK_LIST_BOX (self->list));
  gtk_widget_set_visible (self->none, self->cards->len == 0);
  show_selected (self);
  self->updating = false;
}

static void
on_selected (GtkListBox *list, GtkListBoxRow *row, LwCards *self)
{
  const LwJob *job;
  int operation, setup = 0;

  if (self->updating || row == NULL || self->view == NULL)
    return;
  job = lw_document_get_job (lw_view_get_document (self->view));
  operation = lw_card_get_index (LW_CARD (row));
  self->selected = operation;
  while (operation >= job->setups[setup].n_operations)
    operation -= job->setups[setup++].n_operations;
  lw_view_select_setup (self->view, setup);
  lw_view_select_operation (self->view, operation);
}

/* Once more on the selected card: back to its place, after the attitude was turned away. */
static void
on_activated (GtkListBox *list, GtkListBoxRow *row, LwCards *self)
{
  on_selected (list, row, self);
}

static void
lw_cards_dispose (GObject *object)
{
  LwCards *self = LW_CARDS (object);

  if (self->view != NULL)
    g_signal_handlers_disconnect_by_data (self->view, self);
  g_clear_object (&self->view);
  g_clear_pointer (&self->scroll, gtk_widget_unparent);
  g_clear_pointer (&self->cards, g_ptr_array_unref);
  G_OBJECT_CLASS (lw_cards_parent_class)->dispose (object);
}

static void
lw_cards_class_init (LwCardsClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = lw_cards_dispose;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/leeway_planner/Leeway/ui/cards.ui");
  gtk_widget_class_bind_template_child (widget_class, LwCards, scroll);
  gtk_widget_class_bind_template_child (widget_class, LwCards, list);
  gtk_widget_class_bind_template_child (widget_class, LwCards, none);
  gtk_widget_class_bind_template_callback (widget_class, on_selected);
  gtk_widget_class_bind_template_callback (widget_class, on_activated);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
lw_cards_init (LwCards *self)
{
  self->cards = g_ptr_array_new ();
  self->selected = -1;
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_list_box_set_sort_func (GTK_LIST_BOX (self->list), compare, NULL, NULL);
}

GtkWidget *
lw_cards_new (LwView *view)
{
  LwCards *self = LW_CARDS (g_object_new (LW_TYPE_CARDS, NULL));

  self->view = g_object_ref (view);
  g_signal_connect_swapped (view, "changed", G_CALLBACK (follow), self);
  follow (self);
  return GTK_WIDGET (self);
}
