/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "base/text.h"
#include "desktop/drawingprivate.h"
#include "draw/layers.h"

static void
part_chosen (LwDrawingItem *item, LwDrawing *self)
{
  if (lw_drawing_item_get_kind (item) == LW_ITEM_PART)
    lw_view_select_placed (self->view, lw_drawing_item_get_index (item));
}

static void
item_nudged (LwDrawingItem *item, int right, int up, LwDrawing *self)
{
  if (lw_drawing_item_get_kind (item) == LW_ITEM_PART)
    lw_drawing_nudge_part (self, lw_drawing_item_get_index (item), LW_SEEN_FROM_ABOVE, right, up);
  else
    lw_drawing_nudge_tip (self, right, up);
}

void
lw_drawing_clear_items (LwDrawing *self)
{
  for (guint i = 0; i < self->items->len; i++)
    gtk_widget_unparent (self->items->pdata[i]);
  g_ptr_array_set_size (self->items, 0);
}

static void
add_item (LwDrawing *self, LwDrawingItemKind kind, int index)
{
  GtkWidget *item = lw_drawing_item_new (kind, index);

  g_signal_connect (item, "chosen", G_CALLBACK (part_chosen), self);
  g_signal_connect (item, "nudged", G_CALLBACK (item_nudged), self);
  gtk_widget_set_parent (item, GTK_WIDGET (self));
  g_ptr_array_add (self->items, item);
}

static char *
say_place (const LwScene *scene, LwVec3 at)
{
  g_autofree char *x = lw_format_length_bare (at.x, scene->unit, LW_ROUND_NEAREST);
  g_autofree char *y = lw_format_length_bare (at.y, scene->unit, LW_ROUND_NEAREST);
  g_autofree char *z = lw_format_length (at.z, scene->unit, LW_ROUND_NEAREST);

  return g_strdup_printf (_ ("at %s, %s, %s, table frame"), x, y, z);
}

static void
describe (LwDrawingItem *item, const LwScene *scene)
{
  const LwSetup *setup = lw_scene_get_setup (scene);
  g_autofree char *name = NULL, *words = NULL;
  const LwPlaced *placed;

  switch (lw_drawing_item_get_kind (item)) {
  case LW_ITEM_PART:
    placed = &setup->placed[lw_drawing_item_get_index (item)];
    name = g_strdup_printf (_ ("Part %s"), placed->id);
    words = say_place (scene, placed->at);
    break;
  case LW_ITEM_HEAD:
    name = g_strdup (_ ("Head"));
    words = lw_pose_dup_words (scene);
    break;
  case LW_ITEM_TIP:
  default:
    name = g_strdup (_ ("Tip of the tool"));
    words = say_place (scene, scene->tip);
  }
  lw_drawing_item_set_words (item, name, words);
}

void
lw_drawing_update_items (LwDrawing *self, const LwScene *scene)
{
  const LwSetup *setup = lw_scene_get_setup (scene);
  int n_placed = setup != NULL ? setup->n_placed : 0;

  if ((int)self->items->len != n_placed + 2) {
    lw_drawing_clear_items (self);
    for (int i = 0; i < n_placed; i++)
      add_item (self, LW_ITEM_PART, i);
    add_item (self, LW_ITEM_HEAD, 0);
    add_item (self, LW_ITEM_TIP, 0);
  }
  for (guint i = 0; i < self->items->len; i++)
    describe (self->items->pdata[i], scene);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

static LwRect
get_item_rect (LwDrawing *self, LwDrawingItem *item, const LwScene *scene)
{
  const LwViewport *v = &self->viewport;
  LwPoint tip = lw_viewport_project (v, LW_SEEN_FROM_ABOVE, scene->tip);
  const LwPlaced *placed;
  LwBox3 box;

  switch (lw_drawing_item_get_kind (item)) {
  case LW_ITEM_PART:
    placed = &lw_scene_get_setup (scene)->placed[lw_drawing_item_get_index (item)];
    box = lw_placed_get_box (scene->job, placed);
    if (lw_box3_is_empty (box))
      box = (LwBox3){ placed->at, placed->at };
    return lw_viewport_project_box (v, LW_SEEN_FROM_ABOVE, box);
  case LW_ITEM_HEAD:
    return lw_head_get_rect (scene, v, LW_SEEN_FROM_FRONT);
  case LW_ITEM_TIP:
  default:
    return (LwRect){ tip.x - 10, tip.y - 10, tip.x + 10, tip.y + 10 };
  }
}

void
lw_drawing_allocate_items (LwDrawing *self)
{
  LwScene scene;

  if (!lw_view_get_scene (self->view, &scene))
    return;
  for (guint i = 0; i < self->items->len; i++) {
    GtkWidget *item = self->items->pdata[i];
    LwRect r = get_item_rect (self, LW_DRAWING_ITEM (item), &scene);
    double x0 = fmin (fmax (r.x0, 0), self->viewport.width);
    double y0 = fmin (fmax (r.y0, 0), self->viewport.height);
    int width = (int)fmax (1, fmin (r.x1, self->viewport.width) - x0);
    int height = (int)fmax (1, fmin (r.y1, self->viewport.height) - y0), minimum;
    GskTransform *move =
        gsk_transform_translate (NULL, &GRAPHENE_POINT_INIT ((float)floor (x0), (float)floor (y0)));

    gtk_widget_measure (item, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
    gtk_widget_allocate (item, MAX (width, minimum), MAX (height, minimum), -1, move);
  }
}
