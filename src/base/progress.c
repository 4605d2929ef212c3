/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/progress.h"

#include <glib/gi18n.h>

#include "base/error.h"

void
lw_progress_start (LwProgress *progress, long long total)
{
  if (progress == NULL)
    return;
  atomic_store (&progress->done, 0);
  atomic_store (&progress->total, total);
}

bool
lw_progress_step (LwProgress *progress, long long done)
{
  if (progress == NULL)
    return false;
  atomic_fetch_add (&progress->done, done);
  return atomic_load (&progress->cancelled);
}

bool
lw_progress_is_cancelled (LwProgress *progress)
{
  return progress != NULL && atomic_load (&progress->cancelled);
}

void
lw_progress_cancel (LwProgress *progress)
{
  if (progress != NULL)
    atomic_store (&progress->cancelled, true);
}

double
lw_progress_get_share (LwProgress *progress)
{
  if (progress == NULL)
    return 0;

  long long done = atomic_load (&progress->done);
  long long total = atomic_load (&progress->total);

  return total > 0 ? CLAMP ((double)done / (double)total, 0.0, 1.0) : 0;
}

bool
lw_progress_set_error_if_cancelled (LwProgress *progress, GError **error)
{
  if (!lw_progress_is_cancelled (progress))
    return false;
  g_set_error_literal (error, LW_ERROR, LW_ERROR_CANCELLED, _ ("Stopped before it was done"));
  return true;
}
