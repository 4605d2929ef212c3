/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "draw/painter.h"

/* Parts of pictures that plan view and elevation share. seen tells which it is; cr is clipped to
 * the view's area by the caller. */

/* The view's paper; what follows is clipped to its field. */
void lw_paper_lay (cairo_t *cr, LwPainter *painter, const LwViewport *viewport, LwSeen seen);

/* Clips to what lies below the view's title. */
void lw_field_clip (cairo_t *cr, const LwViewport *viewport, LwSeen seen);

/* A margin of paper at the view's edge: dimensions stand there when the drawing runs beyond it. */
void lw_margin_lay (cairo_t *cr, LwPainter *painter, LwRect rect);

/* Bodies of the machine that stand still on the table's side (obstacles, structure). */
void lw_machine_draw_standing (cairo_t *cr, LwPainter *painter, const LwScene *scene,
                               const LwViewport *viewport, LwSeen seen);

/* Head and tool where they are, faintly at other tilts, and structure that moves. */
void lw_head_draw (cairo_t *cr, LwPainter *painter, const LwScene *scene,
                   const LwViewport *viewport, LwSeen seen);
/* What lw_head_draw() covers, px: the tight bounds of its layer. */
LwRect lw_head_get_rect (const LwScene *scene, const LwViewport *viewport, LwSeen seen);

/* Tool and tilting bodies at the present attitude alone: what labels keep clear of. */
LwRect lw_head_get_present_rect (const LwScene *scene, const LwViewport *viewport, LwSeen seen);

/* The limit that is nearest or passed, as a line across the view, when it shows there. */
void lw_limit_draw (cairo_t *cr, LwPainter *painter, const LwScene *scene,
                    const LwViewport *viewport, LwSeen seen);
/* Grows a rectangle by that line. */
void lw_limit_add_rect (const LwScene *scene, const LwViewport *viewport, LwSeen seen,
                        LwRect *rect);
void lw_limit_draw_text (cairo_t *cr, LwPainter *painter, const LwScene *scene,
                         const LwViewport *viewport, LwSeen seen, LwPlacer *placer);

/* The tip's marker: a ring with a cross in the color of the pose's leeway. */
void lw_marker_draw (cairo_t *cr, LwPainter *painter, const LwScene *scene,
                     const LwViewport *viewport, LwSeen seen);
/* "X+ travel short by 33.3 mm" beside the head. */
void lw_marker_draw_text (cairo_t *cr, LwPainter *painter, const LwScene *scene,
                          const LwViewport *viewport, LwSeen seen, LwPlacer *placer);

/* How the shown pose stands to the limits: verdict of its leeway alone, and words for it (new),
 * "X+ travel short by 33.3 mm". */
LwVerdictKind lw_pose_judge (const LwScene *scene, LwLeeway *leeway);
char *lw_pose_dup_words (const LwScene *scene);

/* Fixture and parts with what of the selected operation's region can't be reached. */
void lw_parts_draw (cairo_t *cr, LwPainter *painter, const LwScene *scene,
                    const LwViewport *viewport, LwSeen seen);

/* The plan view's texts and dimensions, and where its table lies, px. */
void lw_plan_draw_text (cairo_t *cr, LwPainter *painter, const LwScene *scene,
                        const LwViewport *viewport);
LwRect lw_plan_get_table (const LwScene *scene, const LwViewport *viewport);
/* What the part sweeps over all its workable places, table frame; false when that isn't shown. */
bool lw_plan_get_workable (const LwScene *scene, LwBox3 *swept);
