/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>
#include <string.h>

#include "desktop/editors.h"

static const LwOperation *
get_operation (LwForm *form)
{
  LwSubject subject = lw_form_get_subject (form);

  return &lw_document_get_job (lw_form_get_document (form))
              ->setups[subject.setup]
              .operations[subject.index];
}

static bool
apply_name (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwSubject subject = lw_form_get_subject (form);
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_rename_operation (&edit, subject.setup, subject.index, json_node_get_string (value));
  return lw_edit_commit (&edit, _ ("Rename operation"), NULL, error);
}

/* ------------------------------------------------------------------------------------------------
 * After: one switch an operation */

static bool
comes_after (const LwOperation *operation, const char *name)
{
  return operation->after != NULL && g_strv_contains ((const char *const *)operation->after, name);
}

static bool
apply_after (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwSubject subject = lw_form_get_subject (form);
  const LwJob *job = lw_document_get_job (lw_form_get_document (form));
  const LwSetup *setup = &job->setups[subject.setup];
  const LwOperation *operation = &setup->operations[subject.index];
  g_autofree char *path = lw_subject_dup_path (subject);
  JsonArray *names = json_array_new ();
  JsonNode *node = json_node_init_array (json_node_alloc (), names);
  bool any;
  LwEdit edit;

  for (int i = 0; i < setup->n_operations; i++)
    if (i == field->index ? json_node_get_boolean (value)
                          : comes_after (operation, setup->operations[i].name))
      json_array_add_element (names, lw_json_new_string (setup->operations[i].name));
  any = json_array_get_length (names) > 0;
  json_array_unref (names);
  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_set (&edit, any ? json_node_ref (node) : NULL, "%s.after", path);
  if (!any)
    lw_edit_set (&edit, NULL, "%s.against", path);
  json_node_unref (node);
  return lw_edit_commit (&edit, _ ("Change order"), NULL, error);
}

static bool
apply_against (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  return lw_document_set (lw_form_get_document (form), field->path,
                          json_node_get_boolean (value) ? lw_json_new_string ("part") : NULL,
                          _ ("Change what is left of the stock"), NULL, error);
}

static void
build_after (LwForm *form, const LwSetup *setup, int index)
{
  const LwOperation *operation = &setup->operations[index];
  bool any = operation->after != NULL && operation->after[0] != NULL;
  LwField *field;

  if (setup->n_operations < 2)
    return;
  lw_form_section (form, _ ("Comes after"));
  for (int i = 0; i < setup->n_operations; i++) {
    if (i == index)
      continue;
    field = lw_form_switch (form, setup->operations[i].name, "after");
    lw_field_take_value (field,
                         lw_json_new_bool (comes_after (operation, setup->operations[i].name)));
    field->apply = apply_after;
    field->index = i;
  }
  if (!any)
    return;
  field = lw_form_switch (form, _ ("The stock is gone by then"), "against");
  lw_field_take_value (field, lw_json_new_bool (operation->against_part));
  field->apply = apply_against;
}

/* ------------------------------------------------------------------------------------------------
 * Foot */

static void
remove_operation (LwForm *form)
{
  LwSubject subject = lw_form_get_subject (form);
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_remove_operation (&edit, subject.setup, subject.index);
  lw_form_commit (form, &edit, _ ("Remove operation"));
}

static void
on_remove (LwForm *form, const LwField *field)
{
  lw_edit_ask_remove (form, NULL, remove_operation);
}

static void
on_duplicate (LwForm *form, const LwField *field)
{
  LwSubject subject = lw_form_get_subject (form);
  g_autofree char *array = g_strdup_printf ("setups[%d].operations", subject.setup);
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  subject.index = lw_edit_duplicate (&edit, array, subject.index, "name");
  if (lw_form_commit (form, &edit, _ ("Duplicate operation")))
    lw_form_open (form, subject);
}

static void
move (LwForm *form, int by)
{
  LwSubject subject = lw_form_get_subject (form);
  g_autofree char *array = g_strdup_printf ("setups[%d].operations", subject.setup);
  int n = lw_document_get_job (lw_form_get_document (form))->setups[subject.setup].n_operations;
  LwEdit edit;

  if (subject.index + by < 0 || subject.index + by >= n)
    return;
  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_move (&edit, array, subject.index, by);
  subject.index += by;
  if (lw_form_commit (form, &edit, _ ("Move operation")))
    lw_form_open (form, subject);
}

static void
on_up (LwForm *form, const LwField *field)
{
  move (form, -1);
}

static void
on_down (LwForm *form, const LwField *field)
{
  move (form, 1);
}

/* ------------------------------------------------------------------------------------------------
 * Fields */

static void
build_stroke (LwForm *form)
{
  lw_form_section (form, _ ("Stroke, along the tool axis"));
  lw_form_length (form, _ ("Approach"), "stroke.approach_mm")->absent = "5";
  lw_form_length (form, _ ("Depth"), "stroke.depth_mm")->absent = "0";
  lw_form_length (form, _ ("Breakthrough"), "stroke.breakthrough_mm")->absent = "0";
  lw_form_length (form, _ ("Retreat"), "stroke.retreat_mm")->absent = "50";
}

static void
build_tool_choice (LwForm *form, const LwJob *job)
{
  g_auto (GStrv) numbers = g_new0 (char *, job->n_tools + 1);
  g_auto (GStrv) names = g_new0 (char *, job->n_tools + 1);

  for (int i = 0; i < job->n_tools; i++) {
    numbers[i] = g_strdup_printf ("%d", job->tools[i].number);
    names[i] = g_strdup_printf ("T%d · %s", job->tools[i].number, job->tools[i].name);
  }
  lw_form_choice (form, _ ("Tool"), (const char *const *)numbers, (const char *const *)names,
                  "tool")
      ->numeric = true;
}

void
lw_edit_operation_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  const LwSetup *setup = &job->setups[subject.setup];
  g_autofree const char **placed = g_new0 (const char *, setup->n_placed + 1);
  const LwOperation *operation = get_operation (form);
  LwField *field;

  for (int i = 0; i < setup->n_placed; i++)
    placed[i] = setup->placed[i].id;
  lw_form_text (form, _ ("Name"), "name")->apply = apply_name;
  lw_form_choice (form, _ ("On"), placed, placed, "on");
  build_tool_choice (form, job);
  lw_form_link (form, _ ("The tool's shape and lengths"), "",
                (LwSubject){ LW_SUBJECT_TOOL, 0, operation->tool });
  lw_edit_region_build (form, job, subject);
  lw_edit_attitude_build (form, job, subject);
  build_stroke (form);
  build_after (form, setup, subject.index);
  field = lw_form_buttons (form, _ ("Up"), on_up);
  lw_field_add_button (field, _ ("Down"), on_down);
  lw_field_add_button (field, _ ("Duplicate"), on_duplicate);
  lw_field_add_button (field, _ ("Remove"), on_remove);
}
