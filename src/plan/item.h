/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "plan/judge.h"

/* One thing to be judged with one attitude: a triangle, a point, a piece of a program's path, or a
 * piece of a loop seen from one of its ends. */
typedef struct {
  LwVec3 contacts[3]; /* table frame */
  int n_contacts;
  LwVec3 normal; /* part frame */
  LwVec3 own;    /* a point's or path's own axis, part frame */
  double weight;
  double stroke_low; /* mm */
} LwJudgeItem;

void lw_judge_get_item (const LwJudge *judge, uint32_t item, LwJudgeItem *out);

/* The way of greatest slack to stand at an item. */
LwChoice lw_judge_choose_at (const LwJudge *judge, const LwJudgeItem *item);
