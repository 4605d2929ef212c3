/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "session/history.h"

typedef struct {
  LwJob *job;
  char *name;     /* of the edit that led here; NULL for the first */
  char *coalesce; /* NULL: nothing joins it */
  guint64 stamp;
} State;

struct _LwHistory {
  GPtrArray *states;
  guint present;
  guint64 last_stamp;
};

static void
state_free (gpointer data)
{
  State *state = (State *)data;

  lw_job_unref (state->job);
  g_free (state->name);
  g_free (state->coalesce);
  g_free (state);
}

static State *
get_state (const LwHistory *history, guint index)
{
  return (State *)g_ptr_array_index (history->states, index);
}

static void
append (LwHistory *history, LwJob *job, const char *name, const char *coalesce)
{
  State *state = g_new0 (State, 1);

  state->job = lw_job_ref (job);
  state->name = g_strdup (name);
  state->coalesce = g_strdup (coalesce);
  state->stamp = ++history->last_stamp;
  g_ptr_array_add (history->states, state);
  history->present = history->states->len - 1;
}

LwHistory *
lw_history_new (LwJob *job, const LwHistory *follows)
{
  LwHistory *history = g_new0 (LwHistory, 1);

  history->states = g_ptr_array_new_with_free_func (state_free);
  history->last_stamp = follows != NULL ? follows->last_stamp : 0;
  append (history, job, NULL, NULL);
  return history;
}

void
lw_history_free (LwHistory *history)
{
  g_ptr_array_unref (history->states);
  g_free (history);
}

LwJob *
lw_history_get_job (const LwHistory *history)
{
  return get_state (history, history->present)->job;
}

guint64
lw_history_get_stamp (const LwHistory *history)
{
  return get_state (history, history->present)->stamp;
}

void
lw_history_put (LwHistory *history, LwJob *job)
{
  State *state = get_state (history, history->present);
  LwJob *before = state->job;

  state->job = lw_job_ref (job);
  lw_job_unref (before);
}

void
lw_history_add (LwHistory *history, LwJob *job, const char *name, const char *coalesce)
{
  State *state = get_state (history, history->present);
  guint undone = history->states->len - 1 - history->present;

  if (undone > 0)
    g_ptr_array_remove_range (history->states, history->present + 1, undone);
  if (undone == 0 && coalesce != NULL && g_strcmp0 (coalesce, state->coalesce) == 0) {
    lw_history_put (history, job);
    state->stamp = ++history->last_stamp;
    return;
  }
  append (history, job, name, coalesce);
  if (history->states->len > LW_HISTORY_LIMIT + 1) {
    g_ptr_array_remove_index (history->states, 0);
    history->present--;
  }
}

void
lw_history_end_coalescing (LwHistory *history)
{
  g_clear_pointer (&get_state (history, history->present)->coalesce, g_free);
}

bool
lw_history_undo (LwHistory *history)
{
  if (history->present == 0)
    return false;
  lw_history_end_coalescing (history);
  history->present--;
  lw_history_end_coalescing (history);
  return true;
}

bool
lw_history_redo (LwHistory *history)
{
  if (history->present + 1 == history->states->len)
    return false;
  history->present++;
  lw_history_end_coalescing (history);
  return true;
}

const char *
lw_history_get_undo_name (const LwHistory *history)
{
  return history->present > 0 ? get_state (history, history->present)->name : NULL;
}

const char *
lw_history_get_redo_name (const LwHistory *history)
{
  return history->present + 1 < history->states->len
             ? get_state (history, history->present + 1)->name
             : NULL;
}
