/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>
#include <string.h>

#include "desktop/editors.h"
#include "desktop/number.h"

static int
get_setup (LwForm *form)
{
  return lw_form_get_subject (form).setup;
}

static LwUnit
get_unit (LwForm *form)
{
  return lw_view_get_unit (lw_form_get_view (form));
}

/* ------------------------------------------------------------------------------------------------
 * Riser heights: "60, 120, 200" */

static JsonNode *
new_heights_text (LwForm *form, const LwSetup *setup)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (int i = 0; i < setup->n_riser_heights; i++) {
    g_autofree char *height = lw_number_for_entry (setup->riser_heights[i], true, get_unit (form));

    g_string_append_printf (text, "%s%s", i > 0 ? "  " : "", height);
  }
  return setup->n_riser_heights > 0 ? lw_json_new_string (text->str) : NULL;
}

static bool
apply_heights (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  g_auto (GStrv) texts =
      g_strsplit_set (value != NULL ? json_node_get_string (value) : "", " ;", -1);
  JsonArray *array = json_array_new ();
  g_autoptr (JsonNode) node = json_node_init_array (json_node_alloc (), array);
  g_autofree char *path = g_strdup_printf ("setups[%d].riser_heights_mm", get_setup (form));
  double height;

  json_array_unref (array);
  for (int i = 0; texts[i] != NULL; i++) {
    if (*texts[i] == '\0')
      continue;
    if (!lw_number_from_entry (texts[i], true, get_unit (form), &height, error))
      return false;
    json_array_add_element (array, lw_json_new_number (height));
  }
  return lw_document_set (lw_form_get_document (form), path,
                          json_array_get_length (array) > 0 ? json_node_ref (node) : NULL,
                          _ ("Change riser heights"), NULL, error);
}

/* ------------------------------------------------------------------------------------------------
 * Other edits */

static bool
apply_offset (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  const LwJob *job = lw_document_get_job (lw_form_get_document (form));
  const LwSetup *setup = &job->setups[get_setup (form)];
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  if (json_node_get_boolean (value)) {
    lw_edit_set (&edit, lw_json_new_string ("G54"), "setups[%d].work_offset.name",
                 get_setup (form));
    lw_edit_set (&edit, lw_json_new_vec3 (job->machine->tables[setup->table].origin),
                 "setups[%d].work_offset.machine_mm", get_setup (form));
  } else {
    lw_edit_set (&edit, NULL, "setups[%d].work_offset", get_setup (form));
  }
  return lw_edit_commit (&edit, _ ("Change work offset"), NULL, error);
}

static bool
apply_place (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  const LwJob *job = lw_document_get_job (lw_form_get_document (form));
  LwEdit edit;
  int added = -1;

  lw_edit_begin (&edit, lw_form_get_document (form));
  for (int i = 0; i < job->n_parts; i++)
    if (g_str_equal (job->parts[i].id, json_node_get_string (value)))
      added = lw_edit_add_placed (&edit, get_setup (form), i);
  if (!lw_edit_commit (&edit, _ ("Place a part"), NULL, error))
    return false;
  lw_form_open (form, (LwSubject){ LW_SUBJECT_PLACED, get_setup (form), added });
  return true;
}

static void
remove_setup (LwForm *form)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_set (&edit, NULL, "setups[%d]", get_setup (form));
  lw_form_commit (form, &edit, _ ("Remove set-up"));
}

static void
on_remove (LwForm *form, const LwField *field)
{
  const LwSetup *setup =
      &lw_document_get_job (lw_form_get_document (form))->setups[get_setup (form)];
  g_autoptr (GString) names = g_string_new (NULL);

  for (int i = 0; i < setup->n_operations; i++)
    g_string_append_printf (names, "%s%s", i > 0 ? ", " : "", setup->operations[i].name);
  lw_edit_ask_remove (form, names->len > 0 ? g_strdup (names->str) : NULL, remove_setup);
}

static void
on_duplicate (LwForm *form, const LwField *field)
{
  LwEdit edit;
  int copy;

  lw_edit_begin (&edit, lw_form_get_document (form));
  copy = lw_edit_duplicate (&edit, "setups", get_setup (form), "name");
  if (lw_form_commit (form, &edit, _ ("Duplicate set-up")))
    lw_form_open (form, (LwSubject){ LW_SUBJECT_SETUP, copy, 0 });
}

/* ------------------------------------------------------------------------------------------------
 * Fields */

static void
build_offset (LwForm *form, const LwJob *job, const LwSetup *setup)
{
  const char *tilt = lw_machine_get_letter (job->machine, LW_AXIS_TILT);

  lw_form_section (form, _ ("Work offset"));
  lw_form_switch (form, _ ("Work zero is set"), "work_offset")->apply = apply_offset;
  if (!setup->work_offset.exists)
    return;
  lw_form_text (form, _ ("Name"), "work_offset.name");
  lw_form_text (form, _ ("Datum on the part"), "work_offset.datum")->absent = _ ("not given");
  lw_form_place (form, _ ("Machine frame"), "work_offset.machine_mm");
  lw_form_angle (form, _ ("C when set"), "work_offset.c_deg")->absent = "0";
  {
    g_autofree char *label = g_strdup_printf (_ ("%s when set"), tilt);

    lw_form_angle (form, label, "work_offset.tilt_deg")->absent = "0";
  }
}

static void
build_placed (LwForm *form, const LwJob *job, const LwSetup *setup, int index)
{
  g_autofree const char **ids = g_new0 (const char *, job->n_parts + 1);
  LwField *field;

  lw_form_section (form, _ ("Parts on the table"));
  for (int i = 0; i < setup->n_placed; i++) {
    LwVec3 at = setup->placed[i].at;
    g_autofree char *x = lw_format_length_bare (at.x, get_unit (form), LW_ROUND_NEAREST);
    g_autofree char *y = lw_format_length_bare (at.y, get_unit (form), LW_ROUND_NEAREST);
    g_autofree char *z = lw_format_length (at.z, get_unit (form), LW_ROUND_NEAREST);
    g_autofree char *summary = g_strdup_printf (_ ("at %s, %s, %s (table frame)"), x, y, z);

    lw_form_link (form, setup->placed[i].id, summary, (LwSubject){ LW_SUBJECT_PLACED, index, i });
  }
  for (int i = 0; i < job->n_parts; i++)
    ids[i] = job->parts[i].id;
  field = lw_form_choice (form, _ ("Place a part"), ids, ids, "placed");
  lw_field_take_value (field, NULL);
  field->apply = apply_place;
}

void
lw_edit_setup_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  const LwSetup *setup = &job->setups[subject.setup];
  g_autofree const char **tables = g_new0 (const char *, job->machine->n_tables + 1);
  g_autofree char *label = NULL;
  LwField *field;

  for (int i = 0; i < job->machine->n_tables; i++)
    tables[i] = job->machine->tables[i].name;
  lw_form_text (form, _ ("Name"), "name");
  lw_form_choice (form, _ ("Table"), tables, tables, "table");
  label = g_strdup_printf (_ ("Risers there are, %s"), lw_unit_get_symbol (get_unit (form)));
  field = lw_form_text (form, label, "riser_heights_mm");
  lw_field_take_value (field, new_heights_text (form, setup));
  field->absent = _ ("none");
  field->apply = apply_heights;
  build_placed (form, job, setup, subject.setup);
  build_offset (form, job, setup);
  field = lw_form_buttons (form, _ ("Duplicate"), on_duplicate);
  if (job->n_setups > 1)
    lw_field_add_button (field, _ ("Remove set-up"), on_remove);
}
