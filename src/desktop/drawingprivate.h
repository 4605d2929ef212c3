/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "desktop/drawing.h"
#include "desktop/drawingitem.h"
#include "draw/painter.h"

/* The drawing's insides, shared by drawing.c (showing), drawinglayers.c (layers), drawinginput.c
 * and drawingkeys.c (pointer, wheel and keys) and drawingitems.c (accessible children). */

/* What a press of the pointer has hold of. */
typedef enum {
  LW_HOLD_NOTHING,
  LW_HOLD_PAPER, /* pans */
  LW_HOLD_PART,
  LW_HOLD_TIP,
  LW_HOLD_CUT, /* the section's line in the plan view */
} LwHold;

typedef struct {
  LwHold hold;
  LwSeen seen;
  double x, y;  /* where it was pressed, px */
  LwVec3 start; /* at of the part, tip, or section y in y */
  int placed;
  bool moved;
  double last_dx, last_dy;
} LwGrip;

struct _LwDrawing {
  GtkWidget parent;
  LwView *view; /* owned */
  LwPainter *painter;
  LwViewport viewport;
  bool fitted;

  GskRenderNode *nodes[2][LW_N_LAYERS]; /* by LwSeen; NULL: to be drawn again */
  GskRenderNode *readout;

  /* what the nodes show */
  LwScene shown;
  LwJob *shown_job;                  /* reference */
  LwOperationVerdict *shown_verdict; /* reference */

  GPtrArray *items; /* LwDrawingItem, children */

  bool picking, space_down, pointer_in;
  double pointer_x, pointer_y;
  LwGrip grip;
  double pinch_scale;
  GTask *asked; /* for the workable places of the part that is dragged; NULL: not asked */
};

/* drawinglayers.c */
void lw_drawing_forget_layers (LwDrawing *drawing, guint layers); /* bits of LwLayer */
void lw_drawing_compare_scene (LwDrawing *drawing, const LwScene *scene);
void lw_drawing_snapshot_layers (LwDrawing *drawing, GtkSnapshot *snapshot, const LwScene *scene);
#define LW_ALL_LAYERS ((1u << LW_N_LAYERS) - 1)

/* drawingreadout.c */
void lw_drawing_forget_readout (LwDrawing *drawing);
void lw_drawing_snapshot_readout (LwDrawing *drawing, GtkSnapshot *snapshot, const LwScene *scene);

/* drawingitems.c */
void lw_drawing_update_items (LwDrawing *drawing, const LwScene *scene);
void lw_drawing_allocate_items (LwDrawing *drawing);
void lw_drawing_clear_items (LwDrawing *drawing);

/* drawingworkable.c: asked when a part begins to be dragged, ended when it is let go. */
void lw_drawing_ask_workable (LwDrawing *drawing, const LwScene *scene, int placed);
void lw_drawing_end_workable (LwDrawing *drawing);

/* drawingkeys.c: wheel, pinch and keys */
void lw_drawing_init_keys (LwDrawing *drawing);

/* drawinginput.c: press, drag, hover */
void lw_drawing_init_input (LwDrawing *drawing);
/* Moves the selected part, or the tip, by whole steps as the arrow keys do. */
void lw_drawing_nudge_part (LwDrawing *drawing, int placed, LwSeen seen, double right, double up);
void lw_drawing_nudge_tip (LwDrawing *drawing, double right, double up);

/* The viewport changed: everything is drawn again. */
void lw_drawing_viewport_changed (LwDrawing *drawing);
