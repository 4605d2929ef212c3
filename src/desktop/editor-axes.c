/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "desktop/editors.h"

static bool
is_linear (LwAxis axis)
{
  return axis <= LW_AXIS_Z;
}

static void
build_linear (LwForm *form, const char *letter)
{
  LwField *field;

  lw_form_length (form, _ ("From"), "axes.%s.low_mm", letter);
  lw_form_length (form, _ ("To"), "axes.%s.high_mm", letter);
  field = lw_form_length (form, _ ("Rapid"), "axes.%s.rapid_mm_min", letter);
  field->per = "/min";
  field->absent = _ ("not given");
  field = lw_form_length (form, _ ("Acceleration"), "axes.%s.accel_mm_s2", letter);
  field->per = "/s²";
  field->absent = _ ("not given");
}

/* A heading without limits is endless. */
static void
build_rotary (LwForm *form, const char *letter, bool may_be_endless)
{
  const char *absent = may_be_endless ? _ ("endless") : NULL;

  lw_form_angle (form, _ ("From"), "axes.%s.low_deg", letter)->absent = absent;
  lw_form_angle (form, _ ("To"), "axes.%s.high_deg", letter)->absent = absent;
  lw_form_number (form, _ ("Rapid"), "°/s", "axes.%s.rapid_deg_s", letter)->absent =
      _ ("not given");
  lw_form_number (form, _ ("Acceleration"), "°/s²", "axes.%s.accel_deg_s2", letter)->absent =
      _ ("not given");
}

static void
build_axis (LwForm *form, const LwMachine *machine, LwAxis axis)
{
  const char *letter = lw_machine_get_letter (machine, axis);
  g_autofree char *title =
      g_strdup_printf (is_linear (axis) ? _ ("%s travel") : _ ("%s turn"), letter);

  lw_form_section (form, title);
  if (is_linear (axis))
    build_linear (form, letter);
  else
    build_rotary (form, letter, axis == LW_AXIS_C);
}

/* ------------------------------------------------------------------------------------------------
 * Coupled limits */

static void
set_limits_of (LwEdit *edit, int rule, const char *letter)
{
  static const char *const linear[] = { "X", "Y", "Z", NULL };
  bool mm = g_strv_contains (linear, letter);
  const char *keys[] = { "low_mm", "high_mm", "low_deg", "high_deg" };

  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    lw_edit_set (edit, NULL, "machine.limits_when[%d].%s", rule, keys[i]);
  lw_edit_set (edit, lw_json_new_number (mm ? 0 : -90), "machine.limits_when[%d].%s", rule,
               mm ? "low_mm" : "low_deg");
  lw_edit_set (edit, lw_json_new_number (mm ? 1000 : 90), "machine.limits_when[%d].%s", rule,
               mm ? "high_mm" : "high_deg");
}

static bool
apply_axis (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  set_limits_of (&edit, field->index, json_node_get_string (value));
  lw_edit_set (&edit, json_node_ref (value), "%s", field->path);
  return lw_edit_commit (&edit, _ ("Change limited axis"), NULL, error);
}

/* The condition is one key of four, by side and unit. */
static bool
set_condition (LwForm *form, int rule, const char *letter, bool above, double threshold,
               GError **error)
{
  static const char *const linear[] = { "X", "Y", "Z", NULL };
  const char *keys[] = { "above_mm", "below_mm", "above_deg", "below_deg" };
  int kept = (g_strv_contains (linear, letter) ? 0 : 2) + (above ? 0 : 1);
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    lw_edit_set (&edit, NULL, "machine.limits_when[%d].when.%s", rule, keys[i]);
  lw_edit_set (&edit, lw_json_new_string (letter), "machine.limits_when[%d].when.axis", rule);
  lw_edit_set (&edit, lw_json_new_number (threshold), "machine.limits_when[%d].when.%s", rule,
               keys[kept]);
  return lw_edit_commit (&edit, _ ("Change coupled limit"), NULL, error);
}

static const char *
get_condition_key (const LwMachine *machine, int rule)
{
  const LwCoupledLimit *limit = &machine->coupled[rule];

  if (is_linear (limit->when))
    return limit->above ? "above_mm" : "below_mm";
  return limit->above ? "above_deg" : "below_deg";
}

static double
get_threshold (LwForm *form, int rule)
{
  const LwJob *job = lw_document_get_job (lw_form_get_document (form));
  g_autofree char *path = g_strdup_printf ("machine.limits_when[%d].when.%s", rule,
                                           get_condition_key (job->machine, rule));
  JsonNode *node = lw_json_get (job->node, path);

  return node != NULL ? json_node_get_double (node) : 0;
}

static bool
apply_when_axis (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  const LwMachine *machine = lw_document_get_job (lw_form_get_document (form))->machine;

  return set_condition (form, field->index, json_node_get_string (value),
                        machine->coupled[field->index].above, 0, error);
}

static bool
apply_side (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  const LwMachine *machine = lw_document_get_job (lw_form_get_document (form))->machine;

  return set_condition (form, field->index,
                        lw_machine_get_letter (machine, machine->coupled[field->index].when),
                        g_str_equal (json_node_get_string (value), "above"),
                        get_threshold (form, field->index), error);
}

static void
on_remove_rule (LwForm *form, const LwField *field)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_set (&edit, NULL, "machine.limits_when[%d]", field->index);
  lw_form_commit (form, &edit, _ ("Remove coupled limit"));
}

static void
on_add_rule (LwForm *form, const LwField *field)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_add_coupled (&edit);
  lw_form_commit (form, &edit, _ ("Add coupled limit"));
}

static LwField *
add_axis_choice (LwForm *form, const char *label, const LwMachine *machine, const char *path)
{
  const char *letters[LW_N_AXES + 1] = { NULL };

  for (int i = 0; i < LW_N_AXES; i++)
    letters[i] = lw_machine_get_letter (machine, (LwAxis)i);
  return lw_form_choice (form, label, letters, letters, "%s", path);
}

static void
build_rule (LwForm *form, const LwMachine *machine, int i)
{
  static const char *const sides[] = { "above", "below", NULL };
  static const char *const side_labels[] = { N_ ("is above"), N_ ("is below"), NULL };
  const LwCoupledLimit *rule = &machine->coupled[i];
  g_autofree char *base = g_strdup_printf ("limits_when[%d]", i);
  g_autofree char *axis_path = g_strconcat (base, ".axis", NULL);
  g_autofree char *when_path = g_strconcat (base, ".when.axis", NULL);
  bool linear = is_linear (rule->axis);
  LwField *field;

  field = add_axis_choice (form, _ ("Limited axis"), machine, axis_path);
  field->apply = apply_axis;
  field->index = i;
  for (int side = 0; side < 2; side++) {
    const char *label = side == 0 ? _ ("From") : _ ("To");
    const char *key =
        side == 0 ? (linear ? "low_mm" : "low_deg") : (linear ? "high_mm" : "high_deg");

    field = linear ? lw_form_length (form, label, "%s.%s", base, key)
                   : lw_form_angle (form, label, "%s.%s", base, key);
    field->absent = _ ("free");
  }
  field = add_axis_choice (form, _ ("While"), machine, when_path);
  field->apply = apply_when_axis;
  field->index = i;
  field = lw_form_choice (form, "", sides, side_labels, "%s.when", base);
  lw_field_take_value (field, lw_json_new_string (rule->above ? "above" : "below"));
  field->apply = apply_side;
  field->index = i;
  field =
      is_linear (rule->when)
          ? lw_form_length (form, _ ("Value"), "%s.when.%s", base, get_condition_key (machine, i))
          : lw_form_angle (form, _ ("Value"), "%s.when.%s", base, get_condition_key (machine, i));
  field->index = i;
  lw_form_text (form, _ ("Why"), "%s.why", base)->absent = _ ("not given");
  lw_form_buttons (form, _ ("Remove this limit"), on_remove_rule)->index = i;
}

void
lw_edit_axes_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  lw_form_note (form, _ ("Values are what the machine's displays show."));
  for (LwAxis axis = LW_AXIS_X; axis <= LW_AXIS_TILT; axis++)
    build_axis (form, job->machine, axis);
  lw_form_section (form, _ ("Coupled limits"));
  lw_form_note (form, _ ("A limit that holds only while another axis stands somewhere."));
  for (int i = 0; i < job->machine->n_coupled; i++)
    build_rule (form, job->machine, i);
  lw_form_buttons (form, _ ("Add coupled limit"), on_add_rule);
}
