/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "plan/judge.h"

#include <stdatomic.h>

#include "base/parallel.h"
#include "base/tolerances.h"
#include "plan/item.h"

typedef struct {
  const LwJudge *judge;
  LwItem *items;
  LwJudgement *chunks;
} Run;

static void
add_choice (const LwJudge *judge, LwJudgement *sum, uint32_t i, const LwJudgeItem *item,
            const LwChoice *choice)
{
  sum->weight += item->weight;
  if (choice->candidate < 0) {
    sum->n_unreachable++;
    sum->without = MIN (sum->without, i);
    return;
  }
  if (choice->travel >= -LW_INSIDE_TOL && choice->rotary >= -LW_INSIDE_TOL)
    sum->reachable += item->weight;
  else
    sum->n_unreachable++;
  if (choice->travel < sum->least.travel) {
    sum->least.travel = choice->travel;
    sum->travel_item = i;
  }
  if (choice->rotary < sum->least.rotary) {
    sum->least.rotary = choice->rotary;
    sum->rotary_item = i;
  }
  sum->pivots = lw_box3_unite (
      sum->pivots, lw_judge_get_pivots (judge, choice, item->contacts, item->n_contacts));
}

static LwJudgement
empty_judgement (const LwJudge *judge)
{
  return (LwJudgement){ .without = judge->n_items,
                        .least = { .travel = INFINITY, .rotary = INFINITY },
                        .pivots = lw_box3_empty () };
}

static void
judge_chunk (size_t chunk, size_t begin, size_t end, void *data)
{
  Run *run = data;
  LwJudgement sum = empty_judgement (run->judge);

  for (uint32_t i = (uint32_t)begin; i < end; i++) {
    LwJudgeItem item;
    LwChoice choice;

    lw_judge_get_item (run->judge, i, &item);
    choice = lw_judge_choose_at (run->judge, &item);
    add_choice (run->judge, &sum, i, &item, &choice);
    if (run->items != NULL)
      run->items[i] = (LwItem){
        (float)choice.slack,
        choice.candidate < 0 ? LW_NO_CANDIDATE : (unsigned char)choice.candidate,
        (unsigned char)choice.branch,
      };
  }
  run->chunks[chunk] = sum;
}

static void
add_judgement (LwJudgement *sum, const LwJudgement *chunk)
{
  sum->weight += chunk->weight;
  sum->reachable += chunk->reachable;
  sum->n_unreachable += chunk->n_unreachable;
  sum->without = MIN (sum->without, chunk->without);
  if (chunk->least.travel < sum->least.travel) {
    sum->least.travel = chunk->least.travel;
    sum->travel_item = chunk->travel_item;
  }
  if (chunk->least.rotary < sum->least.rotary) {
    sum->least.rotary = chunk->least.rotary;
    sum->rotary_item = chunk->rotary_item;
  }
  sum->pivots = lw_box3_unite (sum->pivots, chunk->pivots);
}

/* Which limits bind at the two tightest items. */
static void
name_limits (const LwJudge *judge, LwJudgement *judgement)
{
  uint32_t items[2] = { judgement->travel_item, judgement->rotary_item };

  for (int i = 0; i < 2; i++) {
    LwVec3 contacts[3];
    int n;
    LwChoice choice = lw_judge_choose (judge, items[i], contacts, &n);
    LwBox3 pivots = lw_judge_get_pivots (judge, &choice, contacts, n);
    LwLeeway leeway = lw_travel_get_leeway_of_box (judge->machine, &pivots, choice.c, choice.t,
                                                   &judge->job->reserves);

    if (i == 0)
      judgement->least.travel_limit = leeway.travel_limit;
    else
      judgement->least.rotary_limit = leeway.rotary_limit;
  }
}

bool
lw_judge_run (const LwJudge *judge, LwJudgement *judgement, LwItem *items, LwProgress *progress)
{
  size_t n_chunks = (judge->n_items + LW_CHUNK - 1) / LW_CHUNK;
  g_autofree LwJudgement *chunks = g_new (LwJudgement, MAX (n_chunks, 1));
  Run run = { judge, items, chunks };

  if (!lw_parallel_for (judge->n_items, LW_CHUNK, judge_chunk, &run, progress))
    return false;
  *judgement = empty_judgement (judge);
  for (size_t i = 0; i < n_chunks; i++)
    add_judgement (judgement, &chunks[i]);
  if (isfinite (judgement->least.travel))
    name_limits (judge, judgement);
  return true;
}

bool
lw_judge_within_reserves (const LwJudge *judge, double travel, double rotary)
{
  const LwReserves *reserves = &judge->job->reserves;

  return travel - judge->placed->tolerance >= reserves->travel - LW_INSIDE_TOL
         && rotary >= reserves->rotary - LW_INSIDE_TOL;
}

typedef struct {
  const LwJudge *judge;
  atomic_bool broken;
} Quick;

static void
look_for_break (size_t chunk, size_t begin, size_t end, void *data)
{
  Quick *quick = data;

  for (uint32_t i = (uint32_t)begin; i < end && !atomic_load (&quick->broken); i++) {
    LwJudgeItem item;
    LwChoice choice;

    lw_judge_get_item (quick->judge, i, &item);
    choice = lw_judge_choose_at (quick->judge, &item);
    if (choice.candidate < 0
        || !lw_judge_within_reserves (quick->judge, choice.travel, choice.rotary))
      atomic_store (&quick->broken, true);
  }
}

bool
lw_judge_keeps_reserves (const LwJudge *judge, bool *keeps, LwProgress *progress)
{
  Quick quick = { .judge = judge };

  *keeps = false;
  if (!lw_parallel_for (judge->n_items, LW_CHUNK, look_for_break, &quick, progress))
    return false;
  *keeps = judge->n_items > 0 && !atomic_load (&quick.broken);
  return true;
}

LwBox3
lw_judge_get_moves (const LwJudge *judge, LwBox3 travel, LwBox3 pivots)
{
  double keep = judge->job->reserves.travel + judge->placed->tolerance;
  LwVec3 in = { keep, keep, keep };

  return (LwBox3){ lw_vec3_sub (lw_vec3_add (travel.low, in), pivots.low),
                   lw_vec3_sub (lw_vec3_sub (travel.high, in), pivots.high) };
}
