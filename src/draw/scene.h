/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/text.h"
#include "plan/reach.h"
#include "plan/verdict.h"

/* What a picture shows: a snapshot, borrowed for the length of one call. */
typedef struct {
  const LwJob *job;
  const LwJobVerdict *verdict; /* may be NULL */
  int setup;
  int operation;     /* selected, −1: none */
  int placed;        /* selected copy of a part, −1: none */
  int tool;          /* index of the tool in the spindle, −1: none */
  double c, t;       /* attitude shown, rad */
  LwVec3 tip;        /* where the tip is shown, table frame */
  double tip_height; /* the height the reach rectangles belong to, table frame */
  double section_y;  /* the elevation's cut, table frame */
  LwUnit unit;
  bool show_workable; /* while a part is dragged: the exact box of workable positions of its `at` */
  LwBox3 workable;
} LwScene;

/* Which of the two views, in projection (ISO 5456-2): the elevation is seen from the front, where
 * Y is low. */
typedef enum {
  LW_SEEN_FROM_ABOVE, /* right X, up Y */
  LW_SEEN_FROM_FRONT, /* right X, up Z */
} LwSeen;

const LwSetup *lw_scene_get_setup (const LwScene *scene);
const LwTable *lw_scene_get_table (const LwScene *scene);
/* The selected copy of a part, or the only one; NULL when there is none. */
const LwPlaced *lw_scene_get_placed (const LwScene *scene);
/* NULL when the spindle is empty. */
const LwTool *lw_scene_get_tool (const LwScene *scene);
/* The length the reach is drawn for; 0, the gauge face, with an empty spindle. */
double lw_scene_get_tip_length (const LwScene *scene);
/* Verdict on the selected operation; NULL while there is none. */
const LwOperationVerdict *lw_scene_get_verdict (const LwScene *scene);

/* Machine pose in which the tip stands where it is shown, at another attitude. */
LwPose lw_scene_get_pose (const LwScene *scene, double c, double t);
/* Travel of the pivot, table frame. */
LwBox3 lw_scene_get_travel (const LwScene *scene);
/* Where a body of the machine stands at a pose: table = turn · local + at. */
void lw_scene_place_body (const LwScene *scene, const LwBody *body, const LwPose *pose,
                          LwMat3 *turn, LwVec3 *at);
/* Where the gauge line stands at a pose and how the tool lies: from the gauge line along `down`. */
void lw_scene_place_tool (const LwScene *scene, const LwPose *pose, LwVec3 *gauge, LwVec3 *down);
/* Everything on the table, with the table: for fitting a picture to it. */
LwBox3 lw_scene_get_box (const LwScene *scene);
