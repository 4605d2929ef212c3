/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "desktop/editors.h"

static int
get_table (LwForm *form)
{
  return lw_form_get_subject (form).index;
}

static bool
apply_name (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_rename_table (&edit, get_table (form), json_node_get_string (value));
  return lw_edit_commit (&edit, _ ("Rename table"), NULL, error);
}

/* A grid to begin with: ten holes along each side. */
static bool
apply_holes (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  int i = get_table (form);
  const LwTable *table = &lw_document_get_job (lw_form_get_document (form))->machine->tables[i];
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  if (!json_node_get_boolean (value)) {
    lw_edit_set (&edit, NULL, "machine.tables[%d].holes", i);
  } else {
    lw_edit_set (&edit, lw_json_new_string ("M12"), "machine.tables[%d].holes.thread", i);
    for (int k = 0; k < 2; k++) {
      double pitch = lw_round (table->size[k] / 10, 0, LW_ROUND_DOWN);

      lw_edit_set (&edit, lw_json_new_number (pitch / 2), "machine.tables[%d].holes.first_mm[%d]",
                   i, k);
      lw_edit_set (&edit, lw_json_new_number (pitch), "machine.tables[%d].holes.pitch_mm[%d]", i,
                   k);
      lw_edit_set (&edit, lw_json_new_number (10), "machine.tables[%d].holes.count[%d]", i, k);
    }
  }
  return lw_edit_commit (&edit, _ ("Change hole grid"), NULL, error);
}

static void
on_add_locating (LwForm *form, const LwField *field)
{
  int i = get_table (form);
  const LwTable *table = &lw_document_get_job (lw_form_get_document (form))->machine->tables[i];
  g_autofree char *name = g_strdup_printf ("L%d", table->n_locating + 1);
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_set (&edit, lw_json_new_string (name), "machine.tables[%d].locating[%d].name", i,
               table->n_locating);
  for (int k = 0; k < 2; k++)
    lw_edit_set (&edit, lw_json_new_number (0), "machine.tables[%d].locating[%d].at_mm[%d]", i,
                 table->n_locating, k);
  lw_form_commit (form, &edit, _ ("Add locating hole"));
}

static void
on_remove_locating (LwForm *form, const LwField *field)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_set (&edit, NULL, "machine.tables[%d].locating[%d]", get_table (form), field->index);
  lw_form_commit (form, &edit, _ ("Remove locating hole"));
}

static void
remove_table (LwForm *form)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_remove_table (&edit, get_table (form));
  lw_form_commit (form, &edit, _ ("Remove table"));
}

static void
on_remove (LwForm *form, const LwField *field)
{
  const LwJob *job = lw_document_get_job (lw_form_get_document (form));

  lw_edit_ask_remove (form, lw_edit_dup_dependents_of_table (job, get_table (form)), remove_table);
}

static LwField *
add_pair (LwField *field)
{
  field->n = 2;
  return field;
}

static void
build_holes (LwForm *form, const LwTable *table)
{
  LwField *field;

  lw_form_section (form, _ ("Tapped holes"));
  field = lw_form_switch (form, _ ("Hole grid (holds, does not locate)"), "holes");
  field->apply = apply_holes;
  if (!table->holes.exists)
    return;
  lw_form_text (form, _ ("Thread"), "holes.thread");
  add_pair (lw_form_length (form, _ ("First at"), "holes.first_mm"));
  add_pair (lw_form_length (form, _ ("Pitch"), "holes.pitch_mm"));
  field = add_pair (lw_form_number (form, _ ("Count"), "", "holes.count"));
  field->whole = true;
  lw_form_length (form, _ ("Depth"), "holes.depth_mm")->absent = _ ("not given");
}

static void
build_locating (LwForm *form, const LwTable *table)
{
  lw_form_section (form, _ ("Locating holes"));
  for (int i = 0; i < table->n_locating; i++) {
    lw_form_text (form, _ ("Name"), "locating[%d].name", i);
    add_pair (lw_form_length (form, _ ("At, table frame"), "locating[%d].at_mm", i));
    lw_form_length (form, _ ("Diameter"), "locating[%d].diameter_mm", i)->absent = _ ("not given");
    lw_form_length (form, _ ("Clearance"), "locating[%d].clearance_mm", i)->absent =
        _ ("not given");
    lw_form_buttons (form, _ ("Remove this hole"), on_remove_locating)->index = i;
  }
  lw_form_buttons (form, _ ("Add locating hole"), on_add_locating);
}

void
lw_edit_table_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  const LwTable *table = &job->machine->tables[subject.index];

  lw_form_text (form, _ ("Name"), "name")->apply = apply_name;
  lw_form_place (form, _ ("Origin, machine frame"), "origin_machine_mm");
  add_pair (lw_form_length (form, _ ("Size"), "size_mm"));
  lw_form_length (form, _ ("Thickness"), "thickness_mm")->absent = _ ("not given");
  lw_form_number (form, _ ("Load at most"), "kg", "max_load_kg")->absent = _ ("not given");
  build_holes (form, table);
  build_locating (form, table);
  if (job->machine->n_tables > 1)
    lw_form_buttons (form, _ ("Remove table"), on_remove);
}
