/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "plan/candidates.h"
#include "plan/contact.h"
#include "plan/region.h"
#include "plan/track.h"
#include "plan/verdict.h"

/* An operation made ready to be judged for travel and rotary limits. What a mend would change
 * (shift, tip length, attitude) may be set between runs. */
typedef struct {
  const LwJob *job; /* borrowed, as all pointers here */
  const LwMachine *machine;
  const LwTable *table;
  const LwPlaced *placed;
  const LwPart *part;
  const LwOperation *operation;
  LwRegionItems region; /* owned */
  LwTrack track;        /* of a rule `program`, which then stands for the region; owned */
  char *reason;         /* what lw_judge_init() answered, where it is not a fixed text; owned */
  uint32_t n_items;
  LwBox3 travel; /* of the pivot, machine frame, mm */
  LwCandidateFan fan;
  LwCutter cutter;
  double tip_length;              /* mm */
  LwVec3 shift;                   /* of the part, table frame, mm */
  double stroke_low, stroke_high; /* the tip's way along the axis about the contact, mm */
} LwJudge;

/* The chosen way to stand at one item. */
typedef struct {
  double slack;          /* least leeway in units of its reserve; −INFINITY: no attitude */
  double travel, rotary; /* mm, rad */
  int candidate, branch;
  double c, t;       /* rad */
  LwVec3 axis;       /* tool axis, table frame */
  double stroke_low; /* how far the tip goes along the axis from the contact, mm */
  LwVec3 to_tip;     /* contact to tip, mm */
  LwVec3 to_pivot;   /* contact to pivot with the tip at the contact's, machine axes, mm */
} LwChoice;

typedef struct {
  double weight, reachable; /* mm², mm or count */
  uint32_t n_unreachable;
  uint32_t without; /* first item at which no attitude can be taken; n_items: none */
  LwLeeway least;
  uint32_t travel_item, rotary_item;
  LwBox3 pivots; /* of all items' strokes at their choice, machine frame */
} LwJudgement;

/* Answers NULL, or why the operation can't be judged (English, to be translated; what is translated
 * already stays as it is). Borrowed until lw_judge_clear(). */
const char *lw_judge_init (LwJudge *judge, const LwJob *job, int setup, int operation);
void lw_judge_clear (LwJudge *judge);

/* Judges every item. items: room for n_items, or NULL. False when cancelled. */
bool lw_judge_run (const LwJudge *judge, LwJudgement *judgement, LwItem *items,
                   LwProgress *progress);

/* Whether every item keeps the reserves; stops at the first that does not. False in *keeps when
 * undecided; answers false when cancelled. */
bool lw_judge_keeps_reserves (const LwJudge *judge, bool *keeps, LwProgress *progress);

/* Whether leeways keep their reserves once the placement's tolerance came off the travel. */
bool lw_judge_within_reserves (const LwJudge *judge, double travel, double rotary);

/* The choice at one item, its contact points (table frame, up to 3) and their number. */
LwChoice lw_judge_choose (const LwJudge *judge, uint32_t item, LwVec3 contacts[3], int *n_contacts);

/* Pivot positions of the whole stroke at an item, machine frame. */
LwBox3 lw_judge_get_pivots (const LwJudge *judge, const LwChoice *choice, const LwVec3 *contacts,
                            int n_contacts);

/* The moves of the part, mm, that keep pivots inside travel with the travel reserve and the
 * placement's tolerance; empty where there is none. */
LwBox3 lw_judge_get_moves (const LwJudge *judge, LwBox3 travel, LwBox3 pivots);
