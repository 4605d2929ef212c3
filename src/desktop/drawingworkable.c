/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/drawingprivate.h"
#include "plan/workable.h"

/* The box of workable places while a part is dragged: worked out on the job as it was when the drag
 * began, beside the window. */

typedef struct {
  LwJob *job; /* reference */
  int setup, placed;
  LwProgress progress;
  LwWorkable workable;
} Question;

static void
question_free (gpointer data)
{
  Question *question = data;

  lw_job_unref (question->job);
  g_free (question);
}

static void
work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Question *question = data;

  g_task_return_boolean (task,
                         lw_workable_compute (question->job, question->setup, question->placed,
                                              &question->workable, &question->progress));
}

static void
answered (GObject *source, GAsyncResult *result, gpointer data)
{
  LwDrawing *self = LW_DRAWING (source);
  Question *question = g_task_get_task_data (G_TASK (result));

  if (self->asked != G_TASK (result) || !g_task_propagate_boolean (G_TASK (result), NULL))
    return; /* a later drag asked again, or the drag is over */
  if (question->workable.exists)
    lw_view_set_workable (self->view, true, question->workable.at);
}

void
lw_drawing_ask_workable (LwDrawing *self, const LwScene *scene, int placed)
{
  Question *question = g_new0 (Question, 1);

  lw_drawing_end_workable (self);
  question->job = lw_job_ref ((LwJob *)scene->job);
  question->setup = scene->setup;
  question->placed = placed;
  self->asked = g_task_new (self, NULL, answered, NULL);
  g_task_set_task_data (self->asked, question, question_free);
  g_task_run_in_thread (self->asked, work);
}

void
lw_drawing_end_workable (LwDrawing *self)
{
  if (self->asked == NULL)
    return;
  lw_progress_cancel (&((Question *)g_task_get_task_data (self->asked))->progress);
  g_clear_object (&self->asked);
  lw_view_set_workable (self->view, false, lw_box3_empty ());
}
