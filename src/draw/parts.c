/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/layers.h"
#include "draw/silhouette.h"

static void
trace_at (cairo_t *cr, const LwPath *path, const LwViewport *v, LwSeen seen, LwVec3 at)
{
  LwPoint px = lw_viewport_project (v, seen, at);

  lw_path_trace (path, cr, v->scale, px.x, px.y);
}

static void
draw_fixture (cairo_t *cr, LwPainter *p, const LwFixture *fixture, const LwViewport *v, LwSeen seen)
{
  LwPath path = { 0 };

  if (!lw_silhouette_add_solid (&path, seen, &fixture->solid, lw_mat3_identity (),
                                lw_vec3 (0, 0, 0)))
    return;
  cairo_new_path (cr);
  trace_at (cr, &path, v, seen, lw_vec3 (0, 0, 0));
  lw_style_set_ink (&p->style, cr, LW_INK_HEAD);
  cairo_fill_preserve (cr);
  lw_style_set_ink (&p->style, cr, LW_INK_OUTLINE);
  lw_style_set_line (&p->style, cr, LW_LINE_THIN);
  cairo_set_line_width (cr, 1.2 * p->style.thin);
  cairo_stroke (cr);
  lw_path_clear (&path);
}

/* Fixture bodies in front of the parts (higher, or nearer in the elevation) are drawn after them.
 */
static void
draw_fixtures (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v, LwSeen seen,
               bool in_front)
{
  const LwSetup *setup = lw_scene_get_setup (scene);
  LwBox3 parts = lw_box3_empty ();
  LwVec3 middle;

  for (int i = 0; i < setup->n_placed; i++)
    parts = lw_box3_unite (parts, lw_placed_get_box (scene->job, &setup->placed[i]));
  middle = lw_box3_center (parts);
  for (int i = 0; i < setup->n_fixtures; i++) {
    LwBox3 box = lw_solid_get_box (&setup->fixtures[i].solid);
    bool front = seen == LW_SEEN_FROM_ABOVE ? box.high.z > middle.z : box.high.y < parts.low.y;

    if ((!lw_box3_is_empty (parts) && front) == in_front)
      draw_fixture (cr, p, &setup->fixtures[i], v, seen);
  }
}

static void
draw_stock (cairo_t *cr, LwPainter *p, const LwPlaced *placed, const LwViewport *v, LwSeen seen)
{
  LwSolid block = { .kind = LW_SOLID_BOX,
                    .rotation = lw_mat3_identity (),
                    .a = placed->stock_at,
                    .b = lw_vec3_add (placed->stock_at, placed->stock_size) };
  LwPath path = { 0 };

  lw_silhouette_add_solid (&path, seen, &block, placed->turn, placed->at);
  cairo_new_path (cr);
  trace_at (cr, &path, v, seen, lw_vec3 (0, 0, 0));
  lw_style_set_ink (&p->style, cr, LW_INK_FAINT);
  lw_style_set_line (&p->style, cr, LW_LINE_MOVING);
  cairo_stroke (cr);
  lw_path_clear (&path);
}

static void
draw_lines (cairo_t *cr, LwPainter *p, const LwOutline *outline, const LwPlaced *placed,
            const LwViewport *v, LwSeen seen, bool hidden_too)
{
  if (hidden_too) {
    cairo_new_path (cr);
    trace_at (cr, &outline->hidden, v, seen, placed->at);
    lw_style_set_ink_faded (&p->style, cr, LW_INK_FAINT, 0.8);
    lw_style_set_line (&p->style, cr, LW_LINE_HIDDEN);
    cairo_stroke (cr);
  }
  cairo_new_path (cr);
  trace_at (cr, &outline->visible, v, seen, placed->at);
  lw_style_set_ink (&p->style, cr, LW_INK_OUTLINE);
  lw_style_set_line (&p->style, cr, LW_LINE_VISIBLE);
  if (hidden_too)
    cairo_stroke (cr);
  else { /* behind a section */
    cairo_set_line_width (cr, p->style.thin);
    cairo_stroke (cr);
  }
}

static void
draw_section (cairo_t *cr, LwPainter *p, LwMesh *mesh, const LwPlaced *placed, const LwScene *scene,
              const LwViewport *v)
{
  LwVec3 at = lw_vec3 (placed->at.x, 0, placed->at.z);
  const LwPath *cut = lw_outlines_get_section (p->outlines, mesh, placed->turn,
                                               scene->section_y - placed->at.y, v->scale);

  if (cut->closed) {
    cairo_new_path (cr);
    cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
    trace_at (cr, cut, v, LW_SEEN_FROM_FRONT, at);
    lw_style_set_ink (&p->style, cr, LW_INK_PAPER);
    cairo_fill_preserve (cr);
    lw_style_hatch (&p->style, cr, LW_INK_HATCH, 0.8, true);
    cairo_set_fill_rule (cr, CAIRO_FILL_RULE_WINDING);
  }
  cairo_new_path (cr);
  trace_at (cr, cut, v, LW_SEEN_FROM_FRONT, at);
  lw_style_set_ink (&p->style, cr, LW_INK_OUTLINE);
  lw_style_set_line (&p->style, cr, LW_LINE_VISIBLE);
  cairo_stroke (cr);
}

static void
draw_part (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwPlaced *placed,
           const LwViewport *v, LwSeen seen)
{
  LwMesh *mesh = scene->job->parts[placed->part].mesh.mesh;
  const LwOutline *outline;
  LwBox3 box;

  if (placed->has_stock)
    draw_stock (cr, p, placed, v, seen);
  if (mesh == NULL)
    return;
  outline = lw_outlines_get (p->outlines, mesh, placed->turn, seen, v->scale);
  cairo_new_path (cr);
  trace_at (cr, &outline->face, v, seen, placed->at);
  lw_style_set_ink (&p->style, cr, LW_INK_PART);
  cairo_fill (cr);
  box = lw_placed_get_box (scene->job, placed);
  if (seen == LW_SEEN_FROM_ABOVE
      || !(scene->section_y > box.low.y && scene->section_y < box.high.y)) {
    draw_lines (cr, p, outline, placed, v, seen, true);
    return;
  }
  draw_lines (cr, p, outline, placed, v, seen, false);
  draw_section (cr, p, mesh, placed, scene, v);
}

/* ------------------------------------------------------------------------------------------------
 * The selected operation's region */

static LwVerdictKind
judge_item (const LwOperationVerdict *verdict, uint32_t item)
{
  float slack;

  if (verdict == NULL || !verdict->judged || verdict->items == NULL || item >= verdict->n_items)
    return LW_VERDICT_NOT_CHECKED;
  slack = verdict->items[item].slack;
  return isnan (slack) || slack < 0 ? LW_VERDICT_DOES_NOT_FIT
         : slack < 1                ? LW_VERDICT_TIGHT
                                    : LW_VERDICT_FITS;
}

/* A piece of a loop is two items, one for the attitude of either end. */
static LwVerdictKind
judge_loop_piece (const LwOperationVerdict *verdict, uint32_t piece)
{
  return MIN (judge_item (verdict, 2 * piece), judge_item (verdict, 2 * piece + 1));
}

static void
draw_points (cairo_t *cr, LwPainter *p, const LwOperation *operation, const LwPlaced *placed,
             const LwOperationVerdict *verdict, const LwViewport *v, LwSeen seen)
{
  for (int i = 0; i < operation->region.n_points; i++) {
    const LwRegionPoint *point = &operation->region.points[i];
    LwPoint px = lw_viewport_project (v, seen, lw_placed_to_table (placed, point->at));
    double d = isnan (point->diameter) ? 0 : point->diameter, r = fmax (3, v->scale * d / 2);

    cairo_new_path (cr);
    cairo_arc (cr, px.x, px.y, r, 0, 2 * LW_PI);
    lw_style_set_ink (&p->style, cr, LW_INK_HEAD);
    cairo_fill_preserve (cr);
    cairo_move_to (cr, px.x - r - 3, px.y);
    cairo_line_to (cr, px.x + r + 3, px.y);
    cairo_move_to (cr, px.x, px.y - r - 3);
    cairo_line_to (cr, px.x, px.y + r + 3);
    lw_style_set_ink (&p->style, cr, lw_style_get_verdict_ink (judge_item (verdict, i)));
    lw_style_set_line (&p->style, cr, LW_LINE_THIN);
    cairo_set_line_width (cr, 1.3 * p->style.thin);
    cairo_stroke (cr);
  }
}

static void
draw_loop (cairo_t *cr, LwPainter *p, const LwOperation *operation, const LwPlaced *placed,
           const LwOperationVerdict *verdict, const LwViewport *v, LwSeen seen)
{
  const LwRegion *region = &operation->region;
  int n = region->n_loop - !region->loop_closed;

  lw_style_set_line (&p->style, cr, LW_LINE_VISIBLE);
  cairo_set_line_width (cr, 1.8 * p->style.thick);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  for (int i = 0; i < n; i++) {
    LwVec3 a = lw_placed_to_table (placed, region->loop[i]);
    LwVec3 b = lw_placed_to_table (placed, region->loop[(i + 1) % region->n_loop]);
    LwPoint pa = lw_viewport_project (v, seen, a), pb = lw_viewport_project (v, seen, b);

    cairo_new_path (cr);
    cairo_move_to (cr, pa.x, pa.y);
    cairo_line_to (cr, pb.x, pb.y);
    lw_style_set_ink (&p->style, cr, lw_style_get_verdict_ink (judge_loop_piece (verdict, i)));
    cairo_stroke (cr);
  }
}

static void
draw_unreachable (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwPlaced *placed,
                  LwOperationVerdict *verdict, const LwViewport *v, LwSeen seen)
{
  LwMesh *mesh = scene->job->parts[placed->part].mesh.mesh;
  const LwPatch *patch;

  if (mesh == NULL || !verdict->judged || verdict->triangles == NULL || verdict->n_unreachable == 0)
    return;
  patch = lw_outlines_get_patch (p->outlines, verdict, mesh, placed->turn, seen, 0, v->scale);
  cairo_new_path (cr);
  trace_at (cr, &patch->face, v, seen, placed->at);
  lw_style_set_ink_faded (&p->style, cr, LW_INK_DOES_NOT_FIT, 0.10);
  cairo_fill_preserve (cr);
  lw_style_hatch (&p->style, cr, LW_INK_DOES_NOT_FIT, 0.8, false);
  cairo_new_path (cr);
  trace_at (cr, &patch->rim, v, seen, placed->at);
  lw_style_set_ink (&p->style, cr, LW_INK_DOES_NOT_FIT);
  lw_style_set_line (&p->style, cr, LW_LINE_VISIBLE);
  cairo_set_line_width (cr, 1.7 * p->style.thick);
  cairo_stroke (cr);
}

static void
draw_operation (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v, LwSeen seen)
{
  const LwSetup *setup = lw_scene_get_setup (scene);
  const LwOperationVerdict *verdict = lw_scene_get_verdict (scene);
  const LwOperation *operation;
  const LwPlaced *placed;

  if (scene->operation < 0 || scene->operation >= setup->n_operations)
    return;
  operation = &setup->operations[scene->operation];
  placed = &setup->placed[operation->placed];
  draw_points (cr, p, operation, placed, verdict, v, seen);
  draw_loop (cr, p, operation, placed, verdict, v, seen);
  if (verdict != NULL)
    draw_unreachable (cr, p, scene, placed, (LwOperationVerdict *)verdict, v, seen);
}

void
lw_parts_draw (cairo_t *cr, LwPainter *p, const LwScene *scene, const LwViewport *v, LwSeen seen)
{
  const LwSetup *setup = lw_scene_get_setup (scene);

  if (setup == NULL)
    return;
  draw_fixtures (cr, p, scene, v, seen, false);
  for (int i = 0; i < setup->n_placed; i++)
    draw_part (cr, p, scene, &setup->placed[i], v, seen);
  draw_fixtures (cr, p, scene, v, seen, true);
  draw_operation (cr, p, scene, v, seen);
}
