/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "draw/scene.h"
#include "session/checker.h"

#define LW_TYPE_VIEW (lw_view_get_type ())
G_DECLARE_FINAL_TYPE (LwView, lw_view, LW, VIEW, GObject)

/* What the window shows of a document: selection, attitude, tip, unit. Never part of the job.
 * Signal "changed" (after any change of these, of the job or of the verdict). */
LwView *lw_view_new (LwDocument *document, LwChecker *checker);

LwDocument *lw_view_get_document (LwView *view);
LwChecker *lw_view_get_checker (LwView *view);

/* Fills the scene from job, verdict and view; borrowed until the next change. Answers false when no
 * job is open. Indices are inside the job, or −1. */
bool lw_view_get_scene (LwView *view, LwScene *scene);

/* NULL while no job is open, or the operation's verdict is still being worked out. Borrowed. */
const LwOperationVerdict *lw_view_get_verdict (LwView *view, int setup, int operation);

/* Where a verdict of the present job is tightest, in units of the reserves; NULL when there is no
 * such place. Borrowed. */
const LwWitness *lw_view_get_tightest (LwView *view, const LwOperationVerdict *verdict);

void lw_view_select_setup (LwView *view, int setup);
/* Selecting an operation also takes its placed part and tool, and moves tip and attitude to its
 * tightest place when its verdict knows one. */
void lw_view_select_operation (LwView *view, int operation);
void lw_view_select_placed (LwView *view, int placed);
void lw_view_select_tool (LwView *view, int tool);
void lw_view_set_attitude (LwView *view, double c_rad,
                           double t_rad); /* brought inside the limits */
void lw_view_set_tip (LwView *view, LwVec3 tip);
void lw_view_set_section_y (LwView *view, double y_mm);
void lw_view_set_unit (LwView *view, LwUnit unit);
LwUnit lw_view_get_unit (LwView *view);
void lw_view_set_workable (LwView *view, bool show, LwBox3 box);
