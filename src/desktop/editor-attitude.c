/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "desktop/editors.h"

static const char *const rules[] = { "along", "normal", "flank", "probe", "program", NULL };
static const char *const rule_labels[] = { N_ ("Along a fixed direction"),
                                           N_ ("Normal to the surface"),
                                           N_ ("Cutter's flank on the surface"),
                                           N_ ("Probing"),
                                           N_ ("From a program"),
                                           NULL };

static const LwOperation *
get_operation (LwForm *form)
{
  LwSubject subject = lw_form_get_subject (form);

  return &lw_document_get_job (lw_form_get_document (form))
              ->setups[subject.setup]
              .operations[subject.index];
}

static bool
all_points_have_axes (const LwRegion *region)
{
  for (int i = 0; i < region->n_points; i++)
    if (lw_vec3_length (region->points[i].axis) == 0)
      return false;
  return region->n_points > 0;
}

/* Another rule keeps what it shares with the one before: direction, lean, heading and tilt ranges.
 */
static bool
apply_rule (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  static const char *const keys[] = { "direction", "lean_min_deg", "lean_deg",
                                      "below_mm",  "file",         "sha256" };
  static const char *const kept[][3] = { { "direction" },
                                         { "lean_min_deg", "lean_deg" },
                                         { "direction", "lean_deg", "below_mm" },
                                         { "direction" },
                                         { "file", "sha256" } };
  g_autofree char *path = lw_subject_dup_path (lw_form_get_subject (form));
  int rule = 0;
  LwEdit edit;

  while (rules[rule + 1] != NULL && !g_str_equal (rules[rule], json_node_get_string (value)))
    rule++;
  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_set (&edit, json_node_ref (value), "%s.attitude.rule", path);
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++) {
    bool keep = false;

    for (int k = 0; k < 3; k++)
      keep |= g_strcmp0 (kept[rule][k], keys[i]) == 0;
    if (!keep)
      lw_edit_set (&edit, NULL, "%s.attitude.%s", path, keys[i]);
  }
  if (rule != LW_RULE_NORMAL && rule != LW_RULE_PROGRAM
      && !(rule != LW_RULE_FLANK && all_points_have_axes (&get_operation (form)->region))
      && lw_edit_get (&edit, "%s.attitude.direction", path) == NULL)
    lw_edit_set (&edit, lw_json_new_vec3 (lw_vec3 (0, 0, 1)), "%s.attitude.direction", path);
  return lw_edit_commit (&edit, _ ("Change attitude rule"), NULL, error);
}

/* ------------------------------------------------------------------------------------------------
 * Ranges of heading and tilt */

static bool
set_range (LwForm *form, const char *key, LwAxis axis, bool on, GError **error)
{
  const LwMachine *machine = lw_document_get_job (lw_form_get_document (form))->machine;
  const LwTravel *travel = &machine->travel[axis];
  g_autofree char *path = lw_subject_dup_path (lw_form_get_subject (form));
  bool endless = !isfinite (travel->low) || !isfinite (travel->high);
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  if (on) {
    lw_edit_set (&edit,
                 lw_json_new_number (
                     endless ? -180 : lw_round (lw_degrees (travel->low), 6, LW_ROUND_NEAREST)),
                 "%s.attitude.%s.low", path, key);
    lw_edit_set (&edit,
                 lw_json_new_number (
                     endless ? 180 : lw_round (lw_degrees (travel->high), 6, LW_ROUND_NEAREST)),
                 "%s.attitude.%s.high", path, key);
  } else {
    lw_edit_set (&edit, NULL, "%s.attitude.%s", path, key);
  }
  return lw_edit_commit (&edit, _ ("Change allowed range"), NULL, error);
}

static bool
apply_heading (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  return set_range (form, "heading_deg", LW_AXIS_C, json_node_get_boolean (value), error);
}

static bool
apply_tilt (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  return set_range (form, "tilt_deg", LW_AXIS_TILT, json_node_get_boolean (value), error);
}

static void
build_range (LwForm *form, const char *label, const char *key, bool on, LwFieldApply apply)
{
  lw_form_switch (form, label, "attitude.%s", key)->apply = apply;
  if (!on)
    return;
  lw_form_angle (form, _ ("From"), "attitude.%s.low", key);
  lw_form_angle (form, _ ("To"), "attitude.%s.high", key);
}

/* ------------------------------------------------------------------------------------------------
 * Fields */

static void
build_rule (LwForm *form, const LwAttitude *attitude)
{
  switch (attitude->rule) {
  case LW_RULE_ALONG:
  case LW_RULE_PROBE:
    lw_form_direction (form, _ ("Tip to spindle"), "attitude.direction")->absent = _ ("points'");
    break;
  case LW_RULE_NORMAL:
    lw_form_angle (form, _ ("Lean at least"), "attitude.lean_min_deg")->absent = "0";
    lw_form_angle (form, _ ("Lean at most"), "attitude.lean_deg")->absent = "0";
    break;
  case LW_RULE_FLANK:
    lw_form_direction (form, _ ("Tip to spindle"), "attitude.direction");
    lw_form_angle (form, _ ("Lean at most"), "attitude.lean_deg")->absent = "0";
    lw_form_length (form, _ ("End stands below"), "attitude.below_mm")->absent = "0";
    break;
  case LW_RULE_PROGRAM:
    lw_form_text (form, _ ("Program file"), "attitude.file");
    break;
  }
}

void
lw_edit_attitude_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  const LwAttitude *attitude = &job->setups[subject.setup].operations[subject.index].attitude;
  bool program = attitude->rule == LW_RULE_PROGRAM;
  const char *words[G_N_ELEMENTS (rules)] = { NULL };

  /* a program can't be chosen without a file: only what the job has already is offered */
  for (int i = 0; i < (program ? 5 : 4); i++)
    words[i] = rules[i];
  lw_form_section (form, _ ("Attitude of the tool"));
  lw_form_choice (form, _ ("Rule"), words, rule_labels, "attitude.rule")->apply = apply_rule;
  build_rule (form, attitude);
  build_range (form, _ ("Only some headings"), "heading_deg", attitude->has_heading, apply_heading);
  build_range (form, _ ("Only some tilts"), "tilt_deg", attitude->has_tilt, apply_tilt);
}
