/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "desktop/editors.h"

/* Bodies of the machine and of the fixture. */

static const char *const zone_words[] = { "", "yes", "no", "unknown", NULL };
static const char *const zone_labels[] = { N_ ("Unknown (counts as no)"), N_ ("Yes"), N_ ("No"),
                                           N_ ("Unknown (counts as no)"), NULL };

static bool
apply_body_name (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_rename_body (&edit, lw_form_get_subject (form).index, json_node_get_string (value));
  return lw_edit_commit (&edit, _ ("Rename body"), NULL, error);
}

static void
remove_it (LwForm *form)
{
  g_autofree char *path = lw_subject_dup_path (lw_form_get_subject (form));
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_set (&edit, NULL, "%s", path);
  lw_form_commit (form, &edit, _ ("Remove body"));
}

static void
on_remove (LwForm *form, const LwField *field)
{
  lw_edit_ask_remove (form, NULL, remove_it);
}

static void
on_duplicate (LwForm *form, const LwField *field)
{
  LwSubject subject = lw_form_get_subject (form);
  g_autofree char *array = subject.kind == LW_SUBJECT_BODY
                               ? g_strdup ("machine.bodies")
                               : g_strdup_printf ("setups[%d].fixture", subject.setup);
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  subject.index = lw_edit_duplicate (&edit, array, subject.index, "name");
  if (lw_form_commit (form, &edit, _ ("Duplicate body")))
    lw_form_open (form, subject);
}

static LwField *
add_zone (LwForm *form)
{
  /* absent and "unknown" read the same: offer whichever the file has */
  JsonNode *node = NULL;
  LwField *field = lw_form_choice (form, _ ("In a control zone"), zone_words, zone_labels, "zone");

  node = field->value;
  g_clear_pointer (&field->words[node != NULL ? 0 : 3], g_free);
  g_clear_pointer (&field->labels[node != NULL ? 0 : 3], g_free);
  if (node != NULL)
    for (int i = 0; i < 3; i++) {
      field->words[i] = field->words[i + 1];
      field->labels[i] = field->labels[i + 1];
    }
  field->words[3] = field->labels[3] = NULL;
  return field;
}

static void
add_carrier (LwForm *form, const LwStructure *structure)
{
  const char *words[LW_N_AXES + 3] = { NULL };
  const char *labels[LW_N_AXES + 3] = { NULL };
  int n = 0;

  for (int i = 0; i < structure->n_chain && n < LW_N_AXES + 2; i++) {
    if (structure->chain[i] == (LwCarrier)LW_CARRIER_TOOL)
      continue;
    words[n] = lw_structure_get_word (structure, structure->chain[i]);
    labels[n] = structure->chain[i] == (LwCarrier)LW_CARRIER_BED    ? N_ ("The standing part (b)")
                : structure->chain[i] == (LwCarrier)LW_CARRIER_WORK ? N_ ("The table (w)")
                                                                    : words[n];
    n++;
  }
  lw_form_choice (form, _ ("Carried by"), words, labels, "carried_by");
}

static void
add_foot (LwForm *form)
{
  LwField *field = lw_form_buttons (form, _ ("Duplicate"), on_duplicate);

  lw_field_add_button (field, _ ("Remove body"), on_remove);
}

void
lw_edit_body_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  static const char *const roles[] = { "head", "structure", "obstacle", NULL };
  static const char *const role_labels[] = { N_ ("Part of the head"), N_ ("Part of the machine"),
                                             N_ ("Obstacle"), NULL };
  const LwBody *body = &job->machine->bodies[subject.index];

  lw_form_text (form, _ ("Name"), "name")->apply = apply_body_name;
  lw_form_choice (form, _ ("Role"), roles, role_labels, "role");
  add_carrier (form, &job->machine->structure);
  add_zone (form);
  lw_form_length (form, _ ("Tolerance"), "tolerance_mm")->absent = "5";
  lw_form_section (form, _ ("Solid"));
  lw_form_note (form, body->carrier == LW_AXIS_C || body->carrier == LW_AXIS_TILT
                          ? _ ("From the pivot, head straight down, C at 0.")
                      : body->carrier == (LwCarrier)LW_CARRIER_WORK
                          ? _ ("Table frame.")
                          : _ ("Machine frame, with all axes at zero."));
  lw_edit_solid_build (form, &body->solid, "solid");
  add_foot (form);
}

void
lw_edit_fixture_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  const LwFixture *fixture = &job->setups[subject.setup].fixtures[subject.index];

  lw_form_text (form, _ ("Name"), "name");
  add_zone (form);
  lw_form_length (form, _ ("May be cut"), "may_be_cut_mm")->absent = "0";
  lw_form_length (form, _ ("Tolerance"), "tolerance_mm")->absent = "5";
  lw_form_section (form, _ ("Solid"));
  lw_form_note (form, _ ("Table frame."));
  lw_edit_solid_build (form, &fixture->solid, "solid");
  add_foot (form);
}

static void
on_add_fixture (LwForm *form, const LwField *field)
{
  LwSubject subject = lw_form_get_subject (form);
  LwEdit edit;
  int added;

  lw_edit_begin (&edit, lw_form_get_document (form));
  added = lw_edit_add_fixture (&edit, subject.setup);
  if (lw_form_commit (form, &edit, _ ("Add fixture body")))
    lw_form_open (form, (LwSubject){ LW_SUBJECT_FIXTURE, subject.setup, added });
}

void
lw_edit_fixtures_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  const LwSetup *setup = &job->setups[subject.setup];

  if (setup->n_fixtures == 0)
    lw_form_note (form, _ ("Nothing holds the part yet. What stands beside or under it belongs "
                           "here: risers, clamps, vises."));
  for (int i = 0; i < setup->n_fixtures; i++) {
    g_autofree char *summary = lw_edit_dup_solid_summary (form, &setup->fixtures[i].solid);

    lw_form_link (form, setup->fixtures[i].name, summary,
                  (LwSubject){ LW_SUBJECT_FIXTURE, subject.setup, i });
  }
  lw_form_buttons (form, _ ("Add fixture body"), on_add_fixture);
}
