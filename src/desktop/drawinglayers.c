/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <string.h>

#include "desktop/drawingprivate.h"
#include "draw/layers.h"

#define BIT(layer) (1u << (layer))
/* What belongs to the tip's and the tool's state. */
#define POSE_LAYERS \
  (BIT (LW_LAYER_LOST) | BIT (LW_LAYER_REACH) | BIT (LW_LAYER_HEAD) | BIT (LW_LAYER_TEXT))

/* px around the head for its marker and what binds. */
#define HEAD_ROOM 14

void
lw_drawing_forget_layers (LwDrawing *self, guint layers)
{
  for (int seen = 0; seen < 2; seen++)
    for (int layer = 0; layer < LW_N_LAYERS; layer++)
      if (layers & BIT (layer))
        g_clear_pointer (&self->nodes[seen][layer], gsk_render_node_unref);
}

static guint
find_changed (const LwScene *a, const LwScene *b)
{
  guint layers = 0;

  if (a->job != b->job || a->setup != b->setup)
    return LW_ALL_LAYERS;
  if (a->operation != b->operation || a->placed != b->placed)
    layers |= BIT (LW_LAYER_PARTS) | BIT (LW_LAYER_TEXT);
  if (a->tool != b->tool || a->c != b->c || a->t != b->t || a->tip_height != b->tip_height)
    layers |= POSE_LAYERS;
  if (memcmp (&a->tip, &b->tip, sizeof a->tip) != 0)
    layers |= BIT (LW_LAYER_HEAD) | BIT (LW_LAYER_TEXT);
  if (a->section_y != b->section_y)
    layers |= BIT (LW_LAYER_PARTS) | BIT (LW_LAYER_REACH) | BIT (LW_LAYER_TEXT);
  if (a->unit != b->unit)
    layers |= BIT (LW_LAYER_TEXT);
  if (a->show_workable != b->show_workable
      || memcmp (&a->workable, &b->workable, sizeof a->workable) != 0)
    layers |= BIT (LW_LAYER_HEAD) | BIT (LW_LAYER_TEXT);
  return layers;
}

/* A moved pose moves what stands on the bed of a machine whose table moves. */
static guint
with_bed (const LwScene *scene, guint layers)
{
  const LwStructure *structure = &scene->job->machine->structure;
  bool bed_moves = false;

  for (LwAxis axis = LW_AXIS_X; axis <= LW_AXIS_Z; axis++)
    bed_moves |= lw_structure_moves (structure, LW_CARRIER_BED, axis);
  return bed_moves && (layers & BIT (LW_LAYER_HEAD)) ? layers | BIT (LW_LAYER_PAPER) : layers;
}

void
lw_drawing_compare_scene (LwDrawing *self, const LwScene *scene)
{
  LwOperationVerdict *verdict = (LwOperationVerdict *)lw_scene_get_verdict (scene);
  guint layers = find_changed (&self->shown, scene);

  if (verdict != self->shown_verdict) {
    layers |= BIT (LW_LAYER_PARTS);
    g_clear_pointer (&self->shown_verdict, lw_operation_verdict_unref);
    if (verdict != NULL)
      self->shown_verdict = lw_operation_verdict_ref (verdict);
  }
  if (scene->job != self->shown_job) {
    g_clear_pointer (&self->shown_job, lw_job_unref);
    self->shown_job = lw_job_ref ((LwJob *)scene->job);
  }
  self->shown = *scene;
  if (layers == 0)
    return;
  lw_drawing_forget_layers (self, with_bed (scene, layers));
  lw_drawing_forget_readout (self);
}

static LwRect
get_bounds (LwDrawing *self, const LwScene *scene, LwSeen seen, LwLayer layer)
{
  LwRect area = lw_viewport_get_area (&self->viewport, seen), r;
  LwPoint tip;

  if (layer != LW_LAYER_HEAD || scene->show_workable)
    return area;
  r = lw_head_get_rect (scene, &self->viewport, seen);
  tip = lw_viewport_project (&self->viewport, seen, scene->tip);
  r = (LwRect){ fmin (r.x0, tip.x) - HEAD_ROOM, fmin (r.y0, tip.y) - HEAD_ROOM,
                fmax (r.x1, tip.x) + HEAD_ROOM, fmax (r.y1, tip.y) + HEAD_ROOM };
  lw_limit_add_rect (scene, &self->viewport, seen, &r);
  return (LwRect){ floor (fmax (r.x0, area.x0)), floor (fmax (r.y0, area.y0)),
                   ceil (fmin (r.x1, area.x1)), ceil (fmin (r.y1, area.y1)) };
}

static GskRenderNode *
make_node (LwDrawing *self, const LwScene *scene, LwSeen seen, LwLayer layer)
{
  LwRect r = get_bounds (self, scene, seen, layer);
  GskRenderNode *node = gsk_cairo_node_new (
      &GRAPHENE_RECT_INIT (r.x0, r.y0, fmax (0, r.x1 - r.x0), fmax (0, r.y1 - r.y0)));
  cairo_t *cr = gsk_cairo_node_get_draw_context (node);

  if (seen == LW_SEEN_FROM_ABOVE)
    lw_plan_draw (cr, self->painter, scene, &self->viewport, layer);
  else
    lw_elevation_draw (cr, self->painter, scene, &self->viewport, layer);
  cairo_destroy (cr);
  return node;
}

void
lw_drawing_snapshot_layers (LwDrawing *self, GtkSnapshot *snapshot, const LwScene *scene)
{
  for (LwSeen seen = LW_SEEN_FROM_ABOVE; seen <= LW_SEEN_FROM_FRONT; seen++)
    for (LwLayer layer = 0; layer < LW_N_LAYERS; layer++) {
      GskRenderNode **node = &self->nodes[seen][layer];

      if (*node == NULL)
        *node = make_node (self, scene, seen, layer);
      gtk_snapshot_append_node (snapshot, *node);
    }
}
