/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "base/text.h"
#include "draw/dimension.h"
#include "draw/layers.h"
#include "draw/reaches.h"

#define SEEN LW_SEEN_FROM_ABOVE

/* px from the table's left edge to the dimension lines of reach and part. */
#define LINE_REACH 26
#define LINE_PART  54

static void
draw_title (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v, LwPlacer *placer)
{
  g_autofree char *height = lw_format_length (scene->tip_height, scene->unit, LW_ROUND_NEAREST);
  g_autofree char *words =
      g_strdup_printf (_ ("table frame, %s · reach for a tip %s above the table"),
                       lw_unit_get_symbol (scene->unit), height);
  double x = v->plan.x0 + 14, y = v->plan.y0 + 12, w, h;

  lw_labels_get_size (p->labels, C_ ("view", "Plan"), LW_TEXT_TITLE, &w, &h);
  lw_style_set_ink (&p->style, cr, LW_INK_TEXT);
  lw_labels_draw (p->labels, cr, C_ ("view", "Plan"), LW_TEXT_TITLE, x, y, 0, 0, false);
  lw_style_set_ink (&p->style, cr, LW_INK_FAINT);
  lw_labels_draw (p->labels, cr, words, LW_TEXT_SMALL, x + w + 14, y + 1, 0, 0, false);
  lw_placer_take (placer, (LwRect){ v->plan.x0, v->plan.y0, v->plan.x1, y + h });
}

/* One chain from table edge over part to table edge; the longest first, so that it gets its place.
 */
static void
draw_chain (cairo_t *cr, LwPainter *p, const LwScene *scene, LwPlacer *placer, bool upright,
            const double mm[4], const double px[4], double line, double object)
{
  static const int order[] = { 1, 0, 2 };

  for (int k = 0; k < 3; k++) {
    int i = order[k];
    g_autofree char *text = lw_format_length_bare (mm[i + 1] - mm[i], scene->unit,
                                                   i == 1 ? LW_ROUND_UP : LW_ROUND_DOWN);

    lw_dimension_draw (p, cr, placer,
                       &(LwDimension){ .upright = upright,
                                       .from = px[i],
                                       .to = px[i + 1],
                                       .line = line,
                                       .object_from = object,
                                       .object_to = object,
                                       .text = text,
                                       .ink = LW_INK_FAINT,
                                       .text_ink = LW_INK_FAINT });
  }
}

/* Where the part stands on the table: above it, and outermost on its left. */
static void
draw_part_dimensions (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v,
                      LwPlacer *placer)
{
  const LwTable *table = lw_scene_get_table (scene);
  const LwPlaced *placed = lw_scene_get_placed (scene);
  LwRect t = lw_plan_get_table (scene, v), out, r;
  LwBox3 box;
  double line_x, line_y;

  if (placed == NULL)
    return;
  box = lw_placed_get_box (scene->job, placed);
  if (lw_box3_is_empty (box))
    return;
  r = lw_viewport_project_box (v, SEEN, box);
  out = lw_viewport_project_box (v, SEEN, lw_scene_get_travel (scene));
  line_y = fmin (t.y0, out.y0) - 16;
  line_x = fmin (t.x0, out.x0) - LINE_PART;
  if (line_y < v->plan.y0 + LW_TITLE_HEIGHT + 18) {
    line_y = v->plan.y0 + LW_TITLE_HEIGHT + 18;
    lw_margin_lay (cr, p, (LwRect){ v->plan.x0, v->plan.y0, v->plan.x1, line_y + 6 });
  }
  draw_chain (cr, p, scene, placer, false, (double[]){ 0, box.low.x, box.high.x, table->size[0] },
              (double[]){ t.x0, r.x0, r.x1, t.x1 }, line_y, fmin (t.y0, out.y0));
  if (line_x < v->plan.x0 + 20) {
    line_x = v->plan.x0 + 20;
    lw_margin_lay (cr, p, (LwRect){ v->plan.x0, line_y, v->plan.x0 + 50, v->plan.y1 });
  }
  draw_chain (cr, p, scene, placer, true, (double[]){ 0, box.low.y, box.high.y, table->size[1] },
              (double[]){ t.y1, r.y1, r.y0, t.y0 }, line_x, fmin (t.x0, out.x0));
}

/* The width left at the present tilt, and the other tilts' names. */
static void
draw_reach_text (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v,
                 const LwReaches *reaches, LwPlacer *placer)
{
  for (int i = 0; i < LW_N_REACHES; i++) {
    const LwReachShown *shown = &reaches->shown[i];
    g_autofree char *angle =
        lw_format_fixed (lw_degrees (shown->tilt), shown->present ? 1 : 0, LW_ROUND_NEAREST);
    LwRect r;

    if (!shown->drawn)
      continue;
    r = lw_viewport_project_box (v, SEEN, shown->box);
    if (shown->present) {
      double mm = shown->box.high.y - shown->box.low.y;
      g_autofree char *width = lw_format_length_bare (mm, scene->unit, LW_ROUND_DOWN);
      g_autofree char *text = g_strdup_printf (_ ("%s at %s°"), width, angle);
      LwRect t = lw_plan_get_table (scene, v);
      LwRect travel = lw_viewport_project_box (v, SEEN, lw_scene_get_travel (scene));

      lw_dimension_draw (
          p, cr, placer,
          &(LwDimension){ .upright = true,
                          .from = r.y1,
                          .to = r.y0,
                          .line = fmax (fmin (t.x0, travel.x0) - LINE_REACH, v->plan.x0 + 44),
                          .object_from = r.x0,
                          .object_to = r.x0,
                          .text = text,
                          .ink = LW_INK_REACH,
                          .text_ink = LW_INK_REACH });
    } else {
      g_autofree char *text = g_strdup_printf ("%s°", angle);
      LwPlace places[] = { { r.x0 + 5, r.y0 + 2, 0, 0 },
                           { r.x0 + 40, r.y0 + 2, 0, 0 },
                           { r.x1 - 5, r.y0 + 2, 1, 0 },
                           { r.x0 + 5, r.y1 - 2, 0, 1 },
                           { r.x0 + 75, r.y0 + 2, 0, 0 } };

      lw_style_set_ink (&p->style, cr, LW_INK_FAINT);
      lw_labels_place (p->labels, cr, placer, text, LW_TEXT_SMALL, places, G_N_ELEMENTS (places),
                       false);
    }
  }
}

static void
draw_workable_text (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v,
                    LwPlacer *placer)
{
  LwBox3 swept;
  LwRect r;

  if (!lw_plan_get_workable (scene, &swept))
    return;
  r = lw_viewport_project_box (v, SEEN, swept);
  {
    LwPlace places[] = { { r.x1, r.y1 + 2, 1, 0 },
                         { r.x1, r.y0 - 2, 1, 1 },
                         { r.x0, r.y1 + 2, 0, 0 },
                         { r.x0, r.y0 - 2, 0, 1 },
                         { r.x1 - 4, r.y1 - 3, 1, 1 } };

    lw_style_set_ink (&p->style, cr, LW_INK_TEXT);
    lw_labels_place (p->labels, cr, placer, _ ("in here the part keeps its reserve of travel"),
                     LW_TEXT_SMALL, places, G_N_ELEMENTS (places), false);
  }
}

static char *
get_part_note (const LwScene *scene)
{
  const LwSetup *setup = lw_scene_get_setup (scene);

  for (int i = 0; setup != NULL && i < setup->n_placed; i++) {
    const LwPart *part = &scene->job->parts[setup->placed[i].part];

    if (part->mesh.state == LW_MESH_LOADING)
      return g_strdup_printf (_ ("%s is being read"), part->id);
    if (part->mesh.mesh == NULL)
      return g_strdup_printf (_ ("%s can't be drawn: %s"), part->id,
                              part->mesh.message != NULL ? part->mesh.message : "");
  }
  return NULL;
}

/* Under the table, left: what isn't drawn and why. */
static void
draw_notes (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v,
            const LwReaches *reaches, LwPlacer *placer)
{
  LwRect t = lw_plan_get_table (scene, v);
  LwRect travel = lw_viewport_project_box (v, SEEN, lw_scene_get_travel (scene));
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *part = get_part_note (scene);
  double x = fmax (v->plan.x0 + 14, fmin (t.x0, travel.x0));
  double y = fmin (fmax (t.y1, travel.y1) + 4, v->plan.y1 - 2 - 1.4 * p->style.text);

  if (lw_scene_get_tool (scene) == NULL)
    g_string_append (text, _ ("no tool: reach of the gauge face"));
  if (part != NULL)
    g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", part);
  for (int i = 0; i < LW_N_REACHES; i++)
    if (reaches->shown[i].note != NULL)
      g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", reaches->shown[i].note);
  lw_style_set_ink (&p->style, cr, LW_INK_FAINT);
  if (text->len > 0)
    lw_labels_place (p->labels, cr, placer, text->str, LW_TEXT_SMALL,
                     (LwPlace[]){ { x, y, 0, 0 }, { v->plan.x0 + 14, y, 0, 0 } }, 2, false);
}

static void
draw_cut_letters (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v,
                  LwPlacer *placer)
{
  LwRect t = lw_plan_get_table (scene, v);
  double y = lw_viewport_get_up (v, SEEN, scene->section_y) - 14;

  lw_style_set_ink (&p->style, cr, LW_INK_TEXT);
  for (int i = 0; i < 2; i++) {
    double x = i == 0 ? t.x0 - 14 : t.x1 + 14;

    lw_labels_place (p->labels, cr, placer, "A", LW_TEXT_STRONG, &(LwPlace){ x, y - 1, 0.5, 1 }, 1,
                     false);
  }
}

void
lw_plan_draw_text (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v)
{
  LwReaches reaches = lw_reaches_get (scene);
  LwPoint tip = lw_viewport_project (v, SEEN, scene->tip);
  LwPlacer placer;

  lw_placer_start (&placer, v->plan);
  lw_placer_take (&placer, (LwRect){ tip.x - 10, tip.y - 10, tip.x + 10, tip.y + 10 });
  lw_placer_take (&placer, lw_head_get_present_rect (scene, v, SEEN));
  placer.backing = p->style.inks[LW_INK_PAPER];
  placer.backing.a = 0.85;
  cairo_save (cr);
  lw_field_clip (cr, v, SEEN);
  draw_part_dimensions (cr, p, scene, v, &placer);
  draw_cut_letters (cr, p, scene, v, &placer);
  draw_reach_text (cr, p, scene, v, &reaches, &placer);
  cairo_restore (cr);
  draw_title (cr, p, scene, v, &placer);
  draw_notes (cr, p, scene, v, &reaches, &placer);
  draw_workable_text (cr, p, scene, v, &placer);
  lw_marker_draw_text (cr, p, scene, v, SEEN, &placer);
  lw_reaches_clear (&reaches);
}
