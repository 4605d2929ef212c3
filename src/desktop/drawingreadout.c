/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "base/text.h"
#include "desktop/drawingprivate.h"

/* px the readout takes: right of the elevation's title, or in the plan's lower left corner where
 * the title leaves no room. */
#define WIDTH       360
#define HEIGHT      20
#define COLUMN      62
#define TITLE_WIDTH 315

void
lw_drawing_forget_readout (LwDrawing *self)
{
  g_clear_pointer (&self->readout, gsk_render_node_unref);
}

static LwVec3
get_place (LwDrawing *self, const LwScene *scene)
{
  LwSeen seen = lw_viewport_get_seen (&self->viewport, self->pointer_y);
  double depth = seen == LW_SEEN_FROM_ABOVE ? scene->tip_height : scene->section_y;

  return lw_viewport_unproject (&self->viewport, seen, self->pointer_x, self->pointer_y, depth);
}

static char *
say_tilt (const LwScene *scene, LwVec3 place)
{
  double tilt = lw_reach_get_largest_tilt (scene->job->machine, lw_scene_get_table (scene),
                                           lw_scene_get_tip_length (scene), place);
  g_autofree char *angle = NULL;

  if (!(tilt >= 0))
    return g_strdup (_ ("out of reach for some headings"));
  angle = lw_format_angle (tilt, LW_ROUND_DOWN);
  return g_strdup_printf (_ ("every heading up to tilt %s"), angle);
}

/* Places of their own for each number, so that nothing jumps while they change. */
static void
draw (LwDrawing *self, cairo_t *cr, const LwScene *scene, double right, double top)
{
  static const char letters[] = "XYZ";
  LwVec3 place = get_place (self, scene);
  g_autofree char *tilt = say_tilt (scene, place);
  LwPainter *p = self->painter;

  lw_style_set_ink (&p->style, cr, LW_INK_FAINT);
  lw_labels_draw (p->labels, cr, tilt, LW_TEXT_SMALL, right - WIDTH + 3 * COLUMN + 4, top, 0, 0,
                  false);
  lw_style_set_ink (&p->style, cr, LW_INK_TEXT);
  for (int i = 0; i < 3; i++) {
    g_autofree char *number =
        lw_format_length_bare (lw_vec3_get (place, i), scene->unit, LW_ROUND_NEAREST);
    char letter[2] = { letters[i], 0 };
    double x = right - WIDTH + COLUMN * i;

    lw_labels_draw (p->labels, cr, letter, LW_TEXT_SMALL, x, top, 0, 0, false);
    lw_labels_draw (p->labels, cr, number, LW_TEXT_SMALL, x + COLUMN - 10, top, 1, 0, false);
  }
}

void
lw_drawing_snapshot_readout (LwDrawing *self, GtkSnapshot *snapshot, const LwScene *scene)
{
  const LwViewport *v = &self->viewport;
  bool beside = v->width >= WIDTH + TITLE_WIDTH;
  double right = beside ? v->width - 10 : fmin (v->width, WIDTH + 10);
  double top = beside ? v->elevation.y0 + 5 : v->plan.y1 - HEIGHT;

  if (!self->pointer_in)
    return;
  if (self->readout == NULL) {
    cairo_t *cr;

    self->readout =
        gsk_cairo_node_new (&GRAPHENE_RECT_INIT (right - WIDTH - 4, top - 1, WIDTH + 8, HEIGHT));
    cr = gsk_cairo_node_get_draw_context (self->readout);
    lw_style_set_ink_faded (&self->painter->style, cr, LW_INK_PAPER, 0.9);
    cairo_paint (cr);
    draw (self, cr, scene, right, top);
    cairo_destroy (cr);
  }
  gtk_snapshot_append_node (snapshot, self->readout);
}
