/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/verdict-head.h"

#include <glib/gi18n.h>

#include "desktop/mark.h"

#define PROGRESS_MS 100
/* Checks shorter than this show no bar: it would only flicker. */
#define PATIENCE_MS 300

struct _LwVerdictHead {
  GtkWidget parent_instance;

  GtkWidget *box, *mark, *word, *sentence, *busy, *progress, *stop, *resume; /* template */

  LwView *view;
  guint timer;
  gint64 busy_since; /* monotonic µs, 0: not busy */
};

G_DEFINE_FINAL_TYPE (LwVerdictHead, lw_verdict_head, GTK_TYPE_WIDGET)

static gboolean
show_progress (gpointer data)
{
  LwVerdictHead *self = LW_VERDICT_HEAD (data);
  LwChecker *checker = lw_view_get_checker (self->view);

  if (g_get_monotonic_time () - self->busy_since >= PATIENCE_MS * 1000)
    gtk_widget_set_visible (self->busy, TRUE);
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress),
                                 CLAMP (lw_checker_get_share (checker), 0, 1));
  return G_SOURCE_CONTINUE;
}

static void
follow_busy (LwVerdictHead *self, LwChecker *checker)
{
  bool busy = lw_checker_is_busy (checker);

  gtk_widget_set_visible (self->resume, lw_checker_is_cancelled (checker));
  if (busy && self->timer == 0) {
    self->busy_since = g_get_monotonic_time ();
    self->timer = g_timeout_add (PROGRESS_MS, show_progress, self);
  } else if (!busy && self->timer != 0) {
    g_clear_handle_id (&self->timer, g_source_remove);
    gtk_widget_set_visible (self->busy, FALSE);
  }
}

/* What the mark shows: does not fit holds as soon as one operation does not. */
static int
get_state (LwChecker *checker, const LwJobVerdict *verdict)
{
  if (verdict->verdict != LW_VERDICT_NOT_CHECKED || !lw_checker_is_busy (checker))
    return (int)verdict->verdict;
  for (int i = 0; i < verdict->n_operations; i++)
    if (verdict->operations[i] == NULL)
      return LW_MARK_CHECKING;
  return (int)verdict->verdict;
}

static void
follow (LwVerdictHead *self)
{
  LwChecker *checker = lw_view_get_checker (self->view);
  const LwJobVerdict *verdict = lw_checker_get_verdict (checker);
  const LwJob *job = lw_document_get_job (lw_view_get_document (self->view));
  g_autofree char *sentence = NULL;
  const char *classes[] = { "verdict-word", NULL, NULL };
  int state;

  if (verdict == NULL || job == NULL)
    return;
  state = get_state (checker, verdict);
  sentence = lw_checker_is_cancelled (checker) && verdict->verdict == LW_VERDICT_NOT_CHECKED
                 ? g_strdup (_ ("Checking was stopped before it was through."))
                 : lw_job_verdict_dup_sentence (job, verdict, lw_view_get_unit (self->view));
  classes[1] = lw_mark_get_class (state);
  lw_mark_set (LW_MARK (self->mark), state);
  gtk_label_set_text (GTK_LABEL (self->word), lw_mark_get_word (state));
  gtk_widget_set_css_classes (self->word, classes);
  gtk_label_set_text (GTK_LABEL (self->sentence), state == LW_MARK_CHECKING ? "" : sentence);
  gtk_widget_set_visible (self->sentence, state != LW_MARK_CHECKING);
  follow_busy (self, checker);
}

static void
on_stop (LwVerdictHead *self)
{
  lw_checker_cancel (lw_view_get_checker (self->view));
}

static void
on_resume (LwVerdictHead *self)
{
  lw_checker_resume (lw_view_get_checker (self->view));
}

static void
lw_verdict_head_dispose (GObject *object)
{
  LwVerdictHead *self = LW_VERDICT_HEAD (object);

  g_clear_handle_id (&self->timer, g_source_remove);
  if (self->view != NULL)
    g_signal_handlers_disconnect_by_data (self->view, self);
  g_clear_object (&self->view);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (lw_verdict_head_parent_class)->dispose (object);
}

static void
lw_verdict_head_class_init (LwVerdictHeadClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = lw_verdict_head_dispose;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/leeway_planner/Leeway/ui/verdict-head.ui");
  gtk_widget_class_bind_template_child (widget_class, LwVerdictHead, box);
  gtk_widget_class_bind_template_child (widget_class, LwVerdictHead, mark);
  gtk_widget_class_bind_template_child (widget_class, LwVerdictHead, word);
  gtk_widget_class_bind_template_child (widget_class, LwVerdictHead, sentence);
  gtk_widget_class_bind_template_child (widget_class, LwVerdictHead, busy);
  gtk_widget_class_bind_template_child (widget_class, LwVerdictHead, progress);
  gtk_widget_class_bind_template_child (widget_class, LwVerdictHead, stop);
  gtk_widget_class_bind_template_child (widget_class, LwVerdictHead, resume);
  gtk_widget_class_bind_template_callback (widget_class, on_stop);
  gtk_widget_class_bind_template_callback (widget_class, on_resume);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
lw_verdict_head_init (LwVerdictHead *self)
{
  g_type_ensure (LW_TYPE_MARK);
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
lw_verdict_head_new (LwView *view)
{
  LwVerdictHead *self = LW_VERDICT_HEAD (g_object_new (LW_TYPE_VERDICT_HEAD, NULL));

  self->view = g_object_ref (view);
  g_signal_connect_swapped (view, "changed", G_CALLBACK (follow), self);
  follow (self);
  return GTK_WIDGET (self);
}
