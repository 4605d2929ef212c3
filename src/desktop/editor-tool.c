/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "desktop/editors.h"
#include "desktop/tool-view.h"
#include "tool/stretch.h"

static const char *const tip_words[] = { "flat", "ball", "corner", "drill", NULL };
static const char *const tip_labels[] = { N_ ("Flat"), N_ ("Ball"), N_ ("Corner radius"),
                                          N_ ("Drill"), NULL };
static const char *const segment_words[] = { "holder", "shank", "cutting", NULL };
static const char *const segment_labels[] = { N_ ("Holder"), N_ ("Shank"), N_ ("Cutting"), NULL };

static int
get_tool (LwForm *form)
{
  return lw_form_get_subject (form).index;
}

/* ------------------------------------------------------------------------------------------------
 * Edits */

static bool
apply_number (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_renumber_tool (&edit, get_tool (form), (int)json_node_get_double (value));
  return lw_edit_commit (&edit, _ ("Renumber tool"), NULL, error);
}

/* A tool without segments is only as long as it says; one with segments is stretched. */
static bool
apply_length (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwDocument *document = lw_form_get_document (form);
  const LwJob *job = lw_document_get_job (document);
  const LwTool *tool = &job->tools[get_tool (form)];
  g_autofree char *path = g_strdup_printf ("tools[%d]", get_tool (form));
  JsonNode *stretched;

  if (tool->n_segments == 0)
    return lw_document_set (document, field->path, json_node_ref (value), _ ("Change tip length"),
                            NULL, error);
  stretched =
      lw_tool_stretch (tool, lw_json_get (job->node, path), json_node_get_double (value), error);
  return stretched != NULL
         && lw_document_set (document, path, stretched, _ ("Change tip length"), NULL, error);
}

/* The corner radius and the point's angle belong to some forms only. */
static bool
apply_tip (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  const LwJob *job = lw_document_get_job (lw_form_get_document (form));
  int i = get_tool (form);
  double radius = lw_tool_get_cutter_radius (&job->tools[i]);
  const char *word = json_node_get_string (value);
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_set (&edit, json_node_ref (value), "tools[%d].tip", i);
  lw_edit_set (&edit, NULL, "tools[%d].corner_radius_mm", i);
  lw_edit_set (&edit, NULL, "tools[%d].point_deg", i);
  if (g_str_equal (word, "corner"))
    lw_edit_set (&edit, lw_json_new_number (isnan (radius) ? 1 : radius / 4),
                 "tools[%d].corner_radius_mm", i);
  if (g_str_equal (word, "drill"))
    lw_edit_set (&edit, lw_json_new_number (118), "tools[%d].point_deg", i);
  return lw_edit_commit (&edit, _ ("Change form of tip"), NULL, error);
}

static bool
apply_segment_length (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_set_segment_length (&edit, get_tool (form), field->index, json_node_get_double (value));
  return lw_edit_commit (&edit, _ ("Change segment length"), NULL, error);
}

static bool
apply_segment_kind (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_set_segment_kind (&edit, get_tool (form), field->index, json_node_get_string (value));
  return lw_edit_commit (&edit, _ ("Change kind of segment"), NULL, error);
}

/* A ball's corner radius, where it is given, is half the end's diameter. */
static bool
apply_diameter (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  int i = get_tool (form);
  const LwTool *tool = &lw_document_get_job (lw_form_get_document (form))->tools[i];
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_set (&edit, json_node_ref (value), "%s", field->path);
  if (tool->tip == LW_TIP_BALL && field->index == tool->n_segments - 1
      && g_str_has_suffix (field->path, "d_to_mm")
      && lw_edit_get (&edit, "tools[%d].corner_radius_mm", i) != NULL)
    lw_edit_set (&edit, lw_json_new_number (json_node_get_double (value) / 2),
                 "tools[%d].corner_radius_mm", i);
  return lw_edit_commit (&edit, _ ("Change diameter"), NULL, error);
}

static void
on_remove_segment (LwForm *form, const LwField *field)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_remove_segment (&edit, get_tool (form), field->index);
  lw_form_commit (form, &edit, _ ("Remove segment"));
}

static void
on_add_segment (LwForm *form, const LwField *field)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_add_segment (&edit, get_tool (form), field->index);
  lw_form_commit (form, &edit, _ ("Add segment"));
}

static void
remove_tool (LwForm *form)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_remove_tool (&edit, get_tool (form));
  lw_form_commit (form, &edit, _ ("Remove tool"));
}

static void
on_remove (LwForm *form, const LwField *field)
{
  const LwJob *job = lw_document_get_job (lw_form_get_document (form));

  lw_edit_ask_remove (form, lw_edit_dup_dependents_of_tool (job, get_tool (form)), remove_tool);
}

static void
on_duplicate (LwForm *form, const LwField *field)
{
  LwEdit edit;
  int copy;

  lw_edit_begin (&edit, lw_form_get_document (form));
  copy = lw_edit_duplicate_tool (&edit, get_tool (form));
  if (lw_form_commit (form, &edit, _ ("Duplicate tool")))
    lw_form_open (form, (LwSubject){ LW_SUBJECT_TOOL, 0, copy });
}

/* ------------------------------------------------------------------------------------------------
 * Fields */

#define KIND_WIDTH   84
#define REMOVE_WIDTH 30

static void
build_head_line (LwForm *form)
{
  const char *unit = lw_unit_get_symbol (lw_view_get_unit (lw_form_get_view (form)));
  const char *const titles[] = { _ ("long"), _ ("⌀ upper"), _ ("⌀ lower") };

  lw_field_make_cell (lw_form_note (form, ""), true, KIND_WIDTH);
  for (int i = 0; i < 3; i++) {
    g_autofree char *text = g_strdup_printf ("%s, %s", titles[i], unit);

    lw_field_make_cell (lw_form_note (form, text), false, 0);
  }
  lw_field_make_cell (lw_form_note (form, ""), false, REMOVE_WIDTH);
}

static void
tune_cell (LwField *field, LwFieldApply apply, int i)
{
  field->apply = apply;
  field->index = i;
}

static void
build_segment (LwForm *form, const LwSegment *segment, int i)
{
  LwField *field;

  field = lw_form_choice (form, _ ("Kind"), segment_words, segment_labels, "segments[%d].is", i);
  tune_cell (lw_field_make_cell (field, true, KIND_WIDTH), apply_segment_kind, i);
  field = lw_form_length (form, _ ("Length"), "segments[%d].to_mm", i);
  lw_field_take_value (
      field, lw_json_new_number (lw_round (segment->to - segment->from, 6, LW_ROUND_NEAREST)));
  tune_cell (lw_field_make_cell (field, false, 0), apply_segment_length, i);
  field = lw_form_length (form, _ ("Upper diameter"), "segments[%d].d_from_mm", i);
  tune_cell (lw_field_make_cell (field, false, 0), apply_diameter, i);
  field = lw_form_length (form, _ ("Lower diameter"), "segments[%d].d_to_mm", i);
  tune_cell (lw_field_make_cell (field, false, 0), apply_diameter, i);
  field = lw_form_buttons (form, "−", on_remove_segment);
  lw_field_make_cell (field, false, REMOVE_WIDTH)->index = i;
  field->text = g_strdup_printf (_ ("Remove segment %d"), i + 1);
}

static void
build_segments (LwForm *form, const LwTool *tool)
{
  LwField *field;

  lw_form_section (form, _ ("Segments, from the gauge line down"));
  if (tool->n_segments > 0)
    build_head_line (form);
  else
    lw_form_note (form, _ ("Without segments the tool has no shape: gaps can't be checked."));
  for (int i = 0; i < tool->n_segments; i++)
    build_segment (form, &tool->segments[i], i);
  field = lw_form_buttons (form, _ ("Add segment"), on_add_segment);
  field->index = tool->n_segments;
}

static void
build_lengths (LwForm *form, const LwTool *tool)
{
  LwField *field;

  lw_form_section (form, _ ("Lengths from the gauge line"));
  field = lw_form_length (form, _ ("Tip length"), "tip_length_mm");
  field->apply = apply_length;
  if (field->value == NULL && isfinite (tool->tip_length))
    lw_field_take_value (field, lw_json_new_number (tool->tip_length));
  lw_form_length (form, _ ("Measured"), "measured_mm")->absent = _ ("not measured");
  lw_form_length (form, _ ("Stored offset"), "stored_offset_mm")->absent = _ ("not known");
  if (isfinite (tool->measured))
    lw_form_note (form, _ ("The verdict uses the measured length. Changing the shape takes it out: "
                           "it was the other tool's."));
}

void
lw_edit_tool_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  const LwTool *tool = &job->tools[subject.index];
  LwField *field;

  lw_form_widget (form, _ ("Tool, drawn to scale"), lw_tool_view_make)->index = subject.index;
  field = lw_form_number (form, _ ("Number"), "", "number");
  field->whole = true;
  field->apply = apply_number;
  lw_form_text (form, _ ("Name"), "name")->absent = _ ("none");
  lw_form_choice (form, _ ("Tip"), tip_words, tip_labels, "tip")->apply = apply_tip;
  if (tool->tip == LW_TIP_CORNER)
    lw_form_length (form, _ ("Corner radius"), "corner_radius_mm");
  if (tool->tip == LW_TIP_DRILL)
    lw_form_angle (form, _ ("Point angle"), "point_deg");
  build_lengths (form, tool);
  build_segments (form, tool);
  field = lw_form_buttons (form, _ ("Duplicate"), on_duplicate);
  lw_field_add_button (field, _ ("Remove tool"), on_remove);
}
