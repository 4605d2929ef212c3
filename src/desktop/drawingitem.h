/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

/* A thing in the drawing as a screen reader and the keyboard find it: a transparent child over its
 * place, with a name and actions. GTK 4.8 has no virtual children. */
#define LW_TYPE_DRAWING_ITEM (lw_drawing_item_get_type ())
G_DECLARE_FINAL_TYPE (LwDrawingItem, lw_drawing_item, LW, DRAWING_ITEM, GtkWidget)

typedef enum {
  LW_ITEM_PART,
  LW_ITEM_HEAD,
  LW_ITEM_TIP,
} LwDrawingItemKind;

GtkWidget *lw_drawing_item_new (LwDrawingItemKind kind, int index);

LwDrawingItemKind lw_drawing_item_get_kind (LwDrawingItem *item);
int lw_drawing_item_get_index (LwDrawingItem *item);
/* name: what it is; description: where it stands. Sent only when they differ from the last. */
void lw_drawing_item_set_words (LwDrawingItem *item, const char *name, const char *description);

/* Signals: "chosen" (), "nudged" (int right, int up): by its actions item.select, item.move-left,
 * -right, -up, -down, which are also arrow keys and Return. */
