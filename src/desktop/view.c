/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/view.h"

struct _LwView {
  GObject parent_instance;

  LwDocument *document;
  LwChecker *checker;
  LwJob *job; /* what the indices belong to */

  int setup, operation, placed, tool;
  double c, t;
  LwVec3 tip;
  double section_y;
  LwUnit unit;
  bool show_workable;
  LwBox3 workable;
  bool awaits_place;   /* go to the selected operation's tightest place once it is known */
  bool awaits_verdict; /* nobody chose an operation yet: choose the first that does not fit */
};

G_DEFINE_FINAL_TYPE (LwView, lw_view, G_TYPE_OBJECT)

static guint changed_signal;

static void
emit_changed (LwView *view)
{
  g_signal_emit (view, changed_signal, 0);
}

static const LwSetup *
get_setup (LwView *view)
{
  return view->job != NULL && view->setup >= 0 ? &view->job->setups[view->setup] : NULL;
}

const LwOperationVerdict *
lw_view_get_verdict (LwView *view, int setup, int operation)
{
  int index = lw_checker_find (view->checker, setup, operation);

  return index >= 0 ? lw_checker_get_verdict (view->checker)->operations[index] : NULL;
}

/* ------------------------------------------------------------------------------------------------
 * Places */

/* Above the middle of what stands on the table. */
static void
go_to_rest (LwView *view)
{
  const LwSetup *setup = get_setup (view);
  LwBox3 box = { { 0, 0, 0 }, { 0, 0, 0 } };

  if (setup == NULL)
    return;
  if (setup->n_placed > 0)
    box = lw_placed_get_box (view->job, &setup->placed[MAX (view->placed, 0)]);
  if (setup->n_placed == 0 || !(box.low.x <= box.high.x)) {
    const LwTable *table = &view->job->machine->tables[setup->table];

    box = (LwBox3){ { 0, 0, 0 }, { table->size[0], table->size[1], 0 } };
  }
  view->tip = lw_vec3 ((box.low.x + box.high.x) / 2, (box.low.y + box.high.y) / 2, box.high.z);
  view->section_y = view->tip.y;
  view->c = view->t = 0;
}

const LwWitness *
lw_view_get_tightest (LwView *view, const LwOperationVerdict *verdict)
{
  const LwReserves *reserves = &view->job->reserves;
  bool travel = verdict->travel_at.exists, rotary = verdict->rotary_at.exists;

  if (travel && rotary)
    travel = !(lw_slack_of_rotary (verdict->leeway.rotary, reserves)
               < lw_slack_of_travel (verdict->leeway.travel, reserves));
  return travel ? &verdict->travel_at : rotary ? &verdict->rotary_at : NULL;
}

/* Answers whether the selected operation's tightest place is known. */
static bool
go_to_tightest (LwView *view)
{
  const LwOperationVerdict *verdict = lw_view_get_verdict (view, view->setup, view->operation);
  const LwWitness *at = verdict != NULL ? lw_view_get_tightest (view, verdict) : NULL;

  if (at == NULL)
    return verdict != NULL;
  view->tip = at->tip;
  view->section_y = at->contact.y;
  view->c = at->pose.c;
  view->t = at->pose.t;
  return true;
}

/* ------------------------------------------------------------------------------------------------
 * Selection */

static void
select_operation (LwView *view, int operation)
{
  const LwSetup *setup = get_setup (view);
  const LwOperation *selected;

  view->operation = operation;
  view->awaits_place = false;
  lw_checker_set_first (view->checker, view->setup, operation);
  if (operation < 0 || setup == NULL)
    return;
  selected = &setup->operations[operation];
  view->placed = selected->placed;
  view->tool = selected->tool;
  view->awaits_place = !go_to_tightest (view);
}

static void
begin_setup (LwView *view, int setup)
{
  const LwSetup *of;

  view->setup = setup;
  view->operation = -1;
  view->show_workable = false;
  of = get_setup (view);
  view->placed = of != NULL && of->n_placed > 0 ? 0 : -1;
  go_to_rest (view);
}

void
lw_view_select_setup (LwView *view, int setup)
{
  if (view->job == NULL || setup < 0 || setup >= view->job->n_setups)
    return;
  view->awaits_verdict = false;
  if (setup != view->setup)
    begin_setup (view, setup);
  emit_changed (view);
}

void
lw_view_select_operation (LwView *view, int operation)
{
  const LwSetup *setup = get_setup (view);

  if (setup == NULL || operation < -1 || operation >= setup->n_operations)
    return;
  view->awaits_verdict = false;
  select_operation (view, operation);
  emit_changed (view);
}

void
lw_view_select_placed (LwView *view, int placed)
{
  const LwSetup *setup = get_setup (view);

  if (setup == NULL || placed < -1 || placed >= setup->n_placed)
    return;
  view->awaits_verdict = false;
  view->placed = placed;
  if (view->operation >= 0 && setup->operations[view->operation].placed != placed)
    select_operation (view, -1);
  emit_changed (view);
}

void
lw_view_select_tool (LwView *view, int tool)
{
  const LwSetup *setup = get_setup (view);

  if (view->job == NULL || tool < -1 || tool >= view->job->n_tools)
    return;
  view->awaits_verdict = false;
  view->tool = tool;
  if (view->operation >= 0 && setup != NULL && setup->operations[view->operation].tool != tool)
    select_operation (view, -1);
  emit_changed (view);
}

/* ------------------------------------------------------------------------------------------------
 * Attitude, tip, the rest */

static double
clamp_to (const LwTravel *travel, double value)
{
  if (!isfinite (travel->low) && !isfinite (travel->high))
    return remainder (value, 2 * LW_PI);
  return CLAMP (value, travel->low, travel->high);
}

void
lw_view_set_attitude (LwView *view, double c_rad, double t_rad)
{
  if (view->job == NULL || !isfinite (c_rad) || !isfinite (t_rad))
    return;
  view->awaits_place = view->awaits_verdict = false;
  view->c = clamp_to (&view->job->machine->travel[LW_AXIS_C], c_rad);
  view->t = clamp_to (&view->job->machine->travel[LW_AXIS_TILT], t_rad);
  emit_changed (view);
}

void
lw_view_set_tip (LwView *view, LwVec3 tip)
{
  if (!lw_vec3_finite (tip))
    return;
  view->awaits_place = view->awaits_verdict = false;
  view->tip = tip;
  emit_changed (view);
}

void
lw_view_set_section_y (LwView *view, double y_mm)
{
  view->section_y = y_mm;
  emit_changed (view);
}

void
lw_view_set_unit (LwView *view, LwUnit unit)
{
  if (view->unit == unit)
    return;
  view->unit = unit;
  emit_changed (view);
}

LwUnit
lw_view_get_unit (LwView *view)
{
  return view->unit;
}

void
lw_view_set_workable (LwView *view, bool show, LwBox3 box)
{
  view->show_workable = show;
  view->workable = box;
  emit_changed (view);
}

LwDocument *
lw_view_get_document (LwView *view)
{
  return view->document;
}

LwChecker *
lw_view_get_checker (LwView *view)
{
  return view->checker;
}

bool
lw_view_get_scene (LwView *view, LwScene *scene)
{
  *scene = (LwScene){ 0 };
  if (view->job == NULL)
    return false;
  *scene = (LwScene){ .job = view->job,
                      .verdict = lw_checker_get_verdict (view->checker),
                      .setup = view->setup,
                      .operation = view->operation,
                      .placed = view->placed,
                      .tool = view->tool,
                      .c = view->c,
                      .t = view->t,
                      .tip = view->tip,
                      .tip_height = view->tip.z,
                      .section_y = view->section_y,
                      .unit = view->unit,
                      .show_workable = view->show_workable,
                      .workable = view->workable };
  return true;
}

/* ------------------------------------------------------------------------------------------------
 * Following the document */

/* Another job altogether, not an edit of the one before: an edit keeps the parts of the tree that
 * it does not touch. */
static bool
is_another (const LwJob *before, const LwJob *now)
{
  return before == NULL || now == NULL || before->store != now->store
         || lw_json_get (before->node, "format") != lw_json_get (now->node, "format");
}

static void
begin_job (LwView *view)
{
  view->awaits_verdict = true;
  view->awaits_place = false;
  view->tool = view->job != NULL && view->job->n_tools > 0 ? 0 : -1;
  begin_setup (view, view->job != NULL && view->job->n_setups > 0 ? 0 : -1);
}

static void
keep_indices (LwView *view, const LwJob *job)
{
  const LwSetup *setup;

  if (view->setup >= job->n_setups || view->setup < 0)
    begin_setup (view, job->n_setups - 1);
  setup = get_setup (view);
  view->tool = MIN (view->tool, job->n_tools - 1);
  if (view->tool < 0 && job->n_tools > 0)
    view->tool = 0;
  if (setup == NULL)
    return;
  view->placed = MIN (view->placed, setup->n_placed - 1);
  if (view->placed < 0 && setup->n_placed > 0)
    view->placed = 0;
  if (view->operation >= setup->n_operations)
    select_operation (view, setup->n_operations - 1);
  else if (view->operation >= 0) {
    view->placed = setup->operations[view->operation].placed;
    view->tool = setup->operations[view->operation].tool;
  }
}

/* What the indices point at goes with the job, so they are looked at before anybody is told. */
static void
take_job (LwView *view)
{
  LwJob *job = lw_document_get_job (view->document);
  LwJob *before = view->job;

  if (job == before)
    return;
  view->job = job != NULL ? lw_job_ref (job) : NULL;
  if (job == NULL || is_another (before, job))
    begin_job (view);
  else
    keep_indices (view, job);
  g_clear_pointer (&before, lw_job_unref);
}

/* Opened on a job that does not fit: show at once where. */
static void
choose_first (LwView *view)
{
  const LwSetup *setup = get_setup (view);

  if (setup == NULL || lw_checker_is_busy (view->checker) || lw_job_is_loading (view->job))
    return;
  view->awaits_verdict = false;
  for (LwVerdictKind kind = LW_VERDICT_DOES_NOT_FIT; kind <= LW_VERDICT_FITS; kind++)
    for (int i = 0; i < setup->n_operations; i++) {
      const LwOperationVerdict *verdict = lw_view_get_verdict (view, view->setup, i);

      if (verdict != NULL && verdict->verdict == kind) {
        select_operation (view, i);
        return;
      }
    }
}

static void
follow (LwView *view)
{
  take_job (view);
  if (view->job != NULL && view->awaits_verdict)
    choose_first (view);
  if (view->job != NULL && view->awaits_place)
    view->awaits_place = !go_to_tightest (view);
  emit_changed (view);
}

/* ------------------------------------------------------------------------------------------------
 * Object */

static void
lw_view_finalize (GObject *object)
{
  LwView *view = LW_VIEW (object);

  g_signal_handlers_disconnect_by_data (view->document, view);
  g_signal_handlers_disconnect_by_data (view->checker, view);
  g_object_unref (view->checker);
  g_object_unref (view->document);
  g_clear_pointer (&view->job, lw_job_unref);
  G_OBJECT_CLASS (lw_view_parent_class)->finalize (object);
}

static void
lw_view_class_init (LwViewClass *class)
{
  G_OBJECT_CLASS (class)->finalize = lw_view_finalize;
  changed_signal = g_signal_new ("changed", LW_TYPE_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 0);
}

static void
lw_view_init (LwView *view)
{
  view->setup = view->operation = view->placed = view->tool = -1;
}

LwView *
lw_view_new (LwDocument *document, LwChecker *checker)
{
  LwView *view = LW_VIEW (g_object_new (LW_TYPE_VIEW, NULL));

  view->document = g_object_ref (document);
  view->checker = g_object_ref (checker);
  g_signal_connect_swapped (document, "changed", G_CALLBACK (follow), view);
  g_signal_connect_swapped (checker, "changed", G_CALLBACK (follow), view);
  follow (view);
  return view;
}
