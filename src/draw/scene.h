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
