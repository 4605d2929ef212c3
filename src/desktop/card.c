/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/card.h"

#include <glib/gi18n.h>

#include "desktop/mark.h"

struct _LwCard {
  GtkListBoxRow parent_instance;

  GtkWidget *mark, *name, *reason, *place, *share, *offer, *mends, *mending; /* template */

  LwView *view;
  int index;
  int rank;
  LwOperationVerdict *shown; /* whose mends are on show; a reference */
  LwUnit shown_unit;
};

G_DEFINE_FINAL_TYPE (LwCard, lw_card, GTK_TYPE_LIST_BOX_ROW)

int
lw_card_get_index (LwCard *card)
{
  return card->index;
}

int
lw_card_get_rank (LwCard *card)
{
  return card->rank;
}

static void
set_text (GtkWidget *label, const char *text)
{
  bool any = text != NULL && *text != '\0';

  gtk_widget_set_visible (label, any);
  if (any)
    gtk_label_set_text (GTK_LABEL (label), text);
}

/* ------------------------------------------------------------------------------------------------
 * Words */

/* "heading 0.0°, tilt 72.0°; tip 3192.0, 760.0, 75.0 mm (table frame)" */
static char *
dup_place (const LwWitness *at, LwUnit unit)
{
  g_autofree char *c = lw_format_angle (at->pose.c, LW_ROUND_NEAREST);
  g_autofree char *t = lw_format_angle (at->pose.t, LW_ROUND_NEAREST);
  g_autofree char *x = lw_format_length_bare (at->tip.x, unit, LW_ROUND_NEAREST);
  g_autofree char *y = lw_format_length_bare (at->tip.y, unit, LW_ROUND_NEAREST);
  g_autofree char *z = lw_format_length (at->tip.z, unit, LW_ROUND_NEAREST);

  return g_strdup_printf (_ ("tightest at tip %s, %s, %s (table frame), heading %s, tilt %s"), x, y,
                          z, c, t);
}

static char *
dup_place_without (LwVec3 at, LwUnit unit)
{
  g_autofree char *x = lw_format_length_bare (at.x, unit, LW_ROUND_NEAREST);
  g_autofree char *y = lw_format_length_bare (at.y, unit, LW_ROUND_NEAREST);
  g_autofree char *z = lw_format_length (at.z, unit, LW_ROUND_NEAREST);

  return g_strdup_printf (_ ("first at %s, %s, %s (table frame)"), x, y, z);
}

static char *
dup_share (const LwOperationVerdict *verdict)
{
  g_autofree char *percent = NULL;

  if (!verdict->judged)
    return NULL;
  if (verdict->n_unreachable == 0)
    return g_strdup (_ ("all of the region within reach"));
  percent = lw_format_fixed (100 * verdict->reachable_share, 1, LW_ROUND_DOWN);
  return g_strdup_printf (_ ("%s %% of the region within reach; gaps not checked"), percent);
}

/* Sentences begin with a capital. */
static char *
dup_sentence (char *text)
{
  g_autofree char *owned = text;
  g_autofree char *first = NULL;

  if (owned == NULL || *owned == '\0')
    return g_strdup ("");
  first = g_utf8_strup (owned, g_utf8_next_char (owned) - owned);
  return g_strconcat (first, g_utf8_next_char (owned), NULL);
}

/* ------------------------------------------------------------------------------------------------
 * Mends */

static void
follow_mend (GtkWidget *button, LwCard *card)
{
  int i = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "index"));
  G_GNUC_UNUSED g_autoptr (LwCard) kept = g_object_ref (card);
  LwOperationVerdict *verdict = lw_operation_verdict_ref (card->shown);
  const LwMend *mend = &verdict->mends[i];
  LwDocument *document = lw_view_get_document (card->view);
  g_autofree char *text =
      dup_sentence (lw_mend_to_text (lw_document_get_job (document), mend, card->shown_unit));
  g_autoptr (GError) error = NULL;

  /* The button goes with its verdict; removed with the focus on it, it would hand the focus to
   * another card, which would then be selected. */
  gtk_widget_grab_focus (GTK_WIDGET (card));
  if (!lw_document_set (document, mend->path, json_node_ref (mend->edit), text, NULL, &error)) {
    set_text (card->mending, error->message);
  } else { /* to where it is tightest now */
    lw_view_select_setup (card->view, verdict->setup);
    lw_view_select_operation (card->view, verdict->operation);
  }
  lw_operation_verdict_unref (verdict);
}

static void
add_mend (LwCard *card, int i)
{
  const LwMend *mend = &card->shown->mends[i];
  const LwJob *job = lw_document_get_job (lw_view_get_document (card->view));
  g_autofree char *words = lw_mend_to_text (job, mend, card->shown_unit);
  g_autofree char *text = g_strconcat ("→ ", words, NULL);
  GtkWidget *button = gtk_button_new_with_label (text);
  GtkWidget *label = gtk_button_get_child (GTK_BUTTON (button));

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_add_css_class (button, "mend");
  gtk_widget_set_tooltip_text (button, _ ("Do this. Undo takes it back."));
  g_object_set_data (G_OBJECT (button), "index", GINT_TO_POINTER (i));
  g_signal_connect (button, "clicked", G_CALLBACK (follow_mend), card);
  gtk_box_append (GTK_BOX (card->mends), button);
}

static int
count_enough (const LwOperationVerdict *verdict)
{
  int n = 0;

  for (int i = 0; i < verdict->n_mends; i++)
    n += verdict->mends[i].enough;
  return n;
}

static void
show_mends (LwCard *card, LwOperationVerdict *verdict)
{
  LwUnit unit = lw_view_get_unit (card->view);
  GtkWidget *child;
  int enough;

  if (verdict == card->shown && unit == card->shown_unit)
    return;
  if (verdict != NULL)
    lw_operation_verdict_ref (verdict);
  if (card->shown != NULL)
    lw_operation_verdict_unref (card->shown);
  card->shown = verdict;
  card->shown_unit = unit;
  while ((child = gtk_widget_get_first_child (card->mends)) != NULL)
    gtk_box_remove (GTK_BOX (card->mends), child);
  if (verdict == NULL || verdict->n_mends == 0) {
    gtk_widget_set_visible (card->offer, FALSE);
    return;
  }
  enough = count_enough (verdict);
  set_text (card->offer, enough == verdict->n_mends
                             ? (enough == 1 ? _ ("This mends it, judged again in full:")
                                            : _ ("Each of these mends it, judged again in full:"))
                             : _ ("Judged again in full:"));
  for (int i = 0; i < verdict->n_mends; i++)
    add_mend (card, i);
}

/* ------------------------------------------------------------------------------------------------
 * Card */

static void
show_verdict (LwCard *card, const LwJob *job, const LwOperationVerdict *verdict)
{
  LwUnit unit = lw_view_get_unit (card->view);
  const LwWitness *at = lw_view_get_tightest (card->view, verdict);
  g_autofree char *reason = dup_sentence (lw_operation_verdict_dup_reason (job, verdict, unit));
  g_autofree char *place = NULL;
  g_autofree char *share = dup_sentence (dup_share (verdict));

  if (verdict->judged && !verdict->takes_attitudes)
    place = dup_sentence (dup_place_without (verdict->without_at, unit));
  else if (at != NULL)
    place = dup_sentence (dup_place (at, unit));
  set_text (card->reason, reason);
  set_text (card->place, place);
  set_text (card->share, share);
}

static void
name_card (LwCard *card, const char *name, int state)
{
  const char *classes[] = { "card", lw_mark_get_class (state), NULL };
  const char *reason =
      gtk_widget_get_visible (card->reason) ? gtk_label_get_text (GTK_LABEL (card->reason)) : "";
  g_autofree char *label = g_strdup_printf ("%s: %s. %s", name, lw_mark_get_word (state), reason);

  gtk_widget_set_css_classes (GTK_WIDGET (card), classes);
  gtk_accessible_update_property (GTK_ACCESSIBLE (card), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

static void
find_operation (const LwJob *job, int index, int *setup, int *operation)
{
  *setup = 0;
  *operation = index;
  while (*operation >= job->setups[*setup].n_operations)
    *operation -= job->setups[(*setup)++].n_operations;
}

void
lw_card_update (LwCard *card)
{
  LwChecker *checker = lw_view_get_checker (card->view);
  const LwJob *job = lw_document_get_job (lw_view_get_document (card->view));
  LwOperationVerdict *verdict = lw_checker_get_verdict (checker)->operations[card->index];
  int state = verdict != NULL ? (int)verdict->verdict : LW_MARK_CHECKING;
  g_autofree char *name = NULL;
  int setup, operation;

  find_operation (job, card->index, &setup, &operation);
  name = job->n_setups > 1 ? g_strdup_printf ("%s · %s", job->setups[setup].name,
                                              job->setups[setup].operations[operation].name)
                           : g_strdup (job->setups[setup].operations[operation].name);
  if (verdict == NULL && lw_checker_is_cancelled (checker))
    state = LW_VERDICT_NOT_CHECKED;
  if (state >= 0)
    card->rank = state;
  gtk_label_set_text (GTK_LABEL (card->name), name);
  lw_mark_set (LW_MARK (card->mark), state);
  if (verdict != NULL) {
    show_verdict (card, job, verdict);
  } else {
    set_text (card->reason, lw_mark_get_word (state));
    set_text (card->place, NULL);
    set_text (card->share, NULL);
  }
  show_mends (card, verdict);
  set_text (card->mending, lw_checker_is_mending (checker, card->index)
                               ? _ ("Looking for what would mend it …")
                               : NULL);
  name_card (card, name, state);
}

static void
lw_card_dispose (GObject *object)
{
  LwCard *card = LW_CARD (object);

  g_clear_pointer (&card->shown, lw_operation_verdict_unref);
  g_clear_object (&card->view);
  G_OBJECT_CLASS (lw_card_parent_class)->dispose (object);
}

static void
lw_card_class_init (LwCardClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = lw_card_dispose;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/leeway_planner/Leeway/ui/card.ui");
  gtk_widget_class_bind_template_child (widget_class, LwCard, mark);
  gtk_widget_class_bind_template_child (widget_class, LwCard, name);
  gtk_widget_class_bind_template_child (widget_class, LwCard, reason);
  gtk_widget_class_bind_template_child (widget_class, LwCard, place);
  gtk_widget_class_bind_template_child (widget_class, LwCard, share);
  gtk_widget_class_bind_template_child (widget_class, LwCard, offer);
  gtk_widget_class_bind_template_child (widget_class, LwCard, mends);
  gtk_widget_class_bind_template_child (widget_class, LwCard, mending);
}

static void
lw_card_init (LwCard *card)
{
  g_type_ensure (LW_TYPE_MARK);
  gtk_widget_init_template (GTK_WIDGET (card));
  card->rank = LW_VERDICT_NOT_CHECKED;
}

GtkWidget *
lw_card_new (LwView *view, int index)
{
  LwCard *card = LW_CARD (g_object_new (LW_TYPE_CARD, NULL));

  card->view = g_object_ref (view);
  card->index = index;
  return GTK_WIDGET (card);
}
