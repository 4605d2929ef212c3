/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "base/tolerances.h"
#include "plan/verdict.h"

/* Verdicts and mends in words. Leeways are rounded down, shortfalls and needs up. */

const char *
lw_verdict_get_word (LwVerdictKind verdict)
{
  static const char *const words[] = { "does-not-fit", "not-checked", "tight", "fits" };

  return words[verdict];
}

const char *
lw_verdict_get_label (LwVerdictKind verdict)
{
  switch (verdict) {
  case LW_VERDICT_DOES_NOT_FIT:
    return _ ("Does not fit");
  case LW_VERDICT_TIGHT:
    return _ ("Tight");
  case LW_VERDICT_FITS:
    return _ ("Fits");
  case LW_VERDICT_NOT_CHECKED:
  default:
    return _ ("Not checked");
  }
}

const char *const *
lw_verdict_get_proven (const LwJobVerdict *verdict)
{
  static const char *const none[] = { NULL };
  static const char *const travel[] = { "travel", "rotary", NULL };

  for (int i = 0; i < verdict->n_operations; i++) {
    const LwOperationVerdict *operation = verdict->operations[i];

    if (operation == NULL || !operation->judged || operation->n_unreachable > 0
        || operation->open != NULL)
      return none;
  }
  return verdict->n_operations > 0 ? travel : none;
}

/* "33.3 mm" beyond, or the leeway left, by kind. */
static char *
format_leeway (double value, bool linear, LwUnit unit)
{
  LwRound how = value < 0 ? LW_ROUND_UP : LW_ROUND_DOWN;

  return linear ? lw_format_length (fabs (value), unit, how) : lw_format_angle (fabs (value), how);
}

static char *
describe_shortfall (const LwMachine *machine, double value, LwLimit limit, bool linear, LwUnit unit)
{
  g_autofree char *amount = format_leeway (value, linear, unit);
  g_autofree char *end = lw_limit_to_text (machine, limit, false);

  return linear ? g_strdup_printf (_ ("%s short of %s travel"), amount, end)
                : g_strdup_printf (_ ("%s beyond %s"), amount, end);
}

static char *
describe_leeway (const LwMachine *machine, const LwLeeway *leeway, LwUnit unit)
{
  g_autofree char *travel = format_leeway (leeway->travel, true, unit);
  g_autofree char *rotary =
      isfinite (leeway->rotary) ? format_leeway (leeway->rotary, false, unit) : NULL;
  g_autofree char *end = lw_limit_to_text (machine, leeway->travel_limit, false);
  g_autofree char *turn = lw_limit_to_text (machine, leeway->rotary_limit, false);

  if (rotary == NULL)
    return g_strdup_printf (_ ("leeway %s to %s"), travel, end);
  return g_strdup_printf (_ ("leeway %s to %s, %s to %s"), travel, end, rotary, turn);
}

static char *
describe_failure (const LwJob *job, const LwLeeway *leeway, LwUnit unit)
{
  bool travel = leeway->travel < -LW_INSIDE_TOL, rotary = leeway->rotary < -LW_INSIDE_TOL;
  g_autofree char *first = NULL;
  g_autofree char *second = NULL;

  if (travel)
    first = describe_shortfall (job->machine, leeway->travel, leeway->travel_limit, true, unit);
  if (rotary)
    second = describe_shortfall (job->machine, leeway->rotary, leeway->rotary_limit, false, unit);
  if (travel && rotary)
    return g_strdup_printf (_ ("%s and %s"), first, second);
  return g_strdup (travel ? first : second);
}

/* What keeps it from "fits". */
static char *
describe_open (const LwOperationVerdict *verdict)
{
  return verdict->open != NULL ? g_strdup_printf (_ ("%s; gaps not checked"), verdict->open)
                               : g_strdup (_ ("gaps not checked"));
}

char *
lw_operation_verdict_dup_reason (const LwJob *job, const LwOperationVerdict *verdict, LwUnit unit)
{
  g_autofree char *leeway = NULL;
  g_autofree char *open = NULL;

  if (!verdict->judged)
    return g_strdup (verdict->missing);
  if (!verdict->takes_attitudes)
    return g_strdup (_ ("the head can take none of the allowed attitudes at part of the region"));
  if (verdict->n_unreachable > 0)
    return describe_failure (job, &verdict->leeway, unit);
  leeway = describe_leeway (job->machine, &verdict->leeway, unit);
  open = describe_open (verdict);
  if (!verdict->within_reserves)
    return g_strdup_printf (_ ("%s, inside the reserve; %s"), leeway, open);
  return g_strdup_printf ("%s; %s", leeway, open);
}

static const LwOperation *
get_operation (const LwJob *job, const LwOperationVerdict *verdict)
{
  return &job->setups[verdict->setup].operations[verdict->operation];
}

static const LwOperationVerdict *
find_first (const LwJobVerdict *verdict, LwVerdictKind kind)
{
  for (int i = 0; i < verdict->n_operations; i++)
    if (verdict->operations[i] != NULL && verdict->operations[i]->verdict == kind)
      return verdict->operations[i];
  return NULL;
}

static int
count_busy (const LwJobVerdict *verdict)
{
  int n = 0;

  for (int i = 0; i < verdict->n_operations; i++)
    n += verdict->operations[i] == NULL;
  return n;
}

char *
lw_job_verdict_dup_sentence (const LwJob *job, const LwJobVerdict *verdict, LwUnit unit)
{
  const LwOperationVerdict *first = find_first (verdict, verdict->verdict);
  g_autofree char *reason = NULL;

  if (verdict->n_operations == 0)
    return g_strdup (_ ("There is no operation to check yet."));
  if (verdict->verdict != LW_VERDICT_DOES_NOT_FIT && count_busy (verdict) > 0)
    return g_strdup (_ ("Checking …"));
  for (int i = 0; verdict->verdict == LW_VERDICT_NOT_CHECKED && i < verdict->n_operations; i++)
    if (verdict->operations[i] != NULL
        && (!verdict->operations[i]->judged || verdict->operations[i]->open != NULL)) {
      first = verdict->operations[i];
      break;
    }
  if (verdict->verdict == LW_VERDICT_NOT_CHECKED && first->judged && first->open == NULL)
    return g_strdup (
        _ ("Travel and rotary limits hold for every operation. Gaps are not checked."));
  reason = lw_operation_verdict_dup_reason (job, first, unit);
  return g_strdup_printf (_ ("%s: %s."), get_operation (job, first)->name, reason);
}

/* ---------------------------------------------------------------------------------------------- */

static char *
describe_direction (LwVec3 by, LwUnit unit)
{
  GString *text = g_string_new (NULL);
  static const char *const ends[3][2] = { { "X−", "X+" }, { "Y−", "Y+" }, { "Z−", "Z+" } };

  for (int axis = 0; axis < 3; axis++) {
    double value = lw_vec3_get (by, axis);
    g_autofree char *amount = NULL;

    if (value == 0)
      continue;
    amount = lw_format_length (fabs (value), unit, LW_ROUND_UP);
    if (text->len > 0)
      g_string_append (text, _ (" and "));
    g_string_append_printf (text, _ ("%s towards %s"), amount, ends[axis][value > 0]);
  }
  return g_string_free (text, FALSE);
}

static char *
describe_mend (const LwJob *job, const LwMend *mend, LwUnit unit)
{
  g_autofree char *value = NULL;

  switch (mend->kind) {
  case LW_MEND_MOVE:
    value = describe_direction (mend->by, unit);
    return g_strdup_printf (_ ("move the part %s"), value);
  case LW_MEND_RISER:
    value = lw_format_length (fabs (mend->by.z), unit, LW_ROUND_UP);
    return g_strdup_printf (
        mend->by.z > 0 ? _ ("stand the part %s higher") : _ ("stand the part %s lower"), value);
  case LW_MEND_LENGTH_MAX:
    value = lw_format_length (mend->value, unit, LW_ROUND_DOWN);
    return g_strdup_printf (_ ("tip length at most %s"), value);
  case LW_MEND_LENGTH_MIN:
    value = lw_format_length (mend->value, unit, LW_ROUND_UP);
    return g_strdup_printf (_ ("tip length at least %s"), value);
  case LW_MEND_LEAN:
  default:
    value = lw_format_angle (mend->value, LW_ROUND_UP);
    return g_strdup_printf (_ ("allow a lean up to %s"), value);
  }
}

char *
lw_mend_to_text (const LwJob *job, const LwMend *mend, LwUnit unit)
{
  g_autofree char *what = describe_mend (job, mend, unit);
  g_autofree char *text = NULL;

  if (mend->enough) {
    text = g_strdup (what);
  } else {
    g_autofree char *left = mend->remains.travel < 0 || mend->remains.rotary < 0
                                ? describe_failure (job, &mend->remains, unit)
                                : describe_leeway (job->machine, &mend->remains, unit);

    text = g_strdup_printf (_ ("%s: not enough alone, still %s"), what, left);
  }
  if (mend->breaks == NULL)
    return g_steal_pointer (&text);
  return g_strdup_printf (_ ("%s; but then “%s” does not fit"), text, mend->breaks);
}
