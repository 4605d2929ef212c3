/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "desktop/editors.h"
#include "session/library.h"

static const char *const at_words[] = { "pivot", "gauge", NULL };
static const char *const at_labels[] = { N_ ("Pivot"), N_ ("Gauge face, head straight down"),
                                         NULL };
static const char *const hood_words[] = { "", "none fitted", NULL };
static const char *const hood_labels[] = { N_ ("Among the bodies, or not known"),
                                           N_ ("None fitted"), NULL };

static void
on_replace (LwForm *form, const LwField *field)
{
  gtk_widget_activate_action (GTK_WIDGET (form), "win.change-machine", NULL);
}

static void
on_keep (LwForm *form, const LwField *field)
{
  GError *error = NULL;

  lw_library_save_machine (lw_document_get_job (lw_form_get_document (form))->machine, &error);
  lw_form_set_error (form, error);
}

static void
on_add_table (LwForm *form, const LwField *field)
{
  LwEdit edit;
  int added;

  lw_edit_begin (&edit, lw_form_get_document (form));
  added = lw_edit_add_table (&edit);
  if (lw_form_commit (form, &edit, _ ("Add table")))
    lw_form_open (form, (LwSubject){ LW_SUBJECT_TABLE, 0, added });
}

static void
on_add_body (LwForm *form, const LwField *field)
{
  LwEdit edit;
  int added;

  lw_edit_begin (&edit, lw_form_get_document (form));
  added = lw_edit_add_body (&edit);
  if (lw_form_commit (form, &edit, _ ("Add body")))
    lw_form_open (form, (LwSubject){ LW_SUBJECT_BODY, 0, added });
}

static void
build_head (LwForm *form)
{
  LwField *field;

  lw_form_section (form, _ ("Head"));
  lw_form_direction (form, _ ("Tilt axis at C 0"), "head.tilt_axis");
  lw_form_length (form, _ ("Pivot length"), "head.pivot_length_mm");
  lw_form_place (form, _ ("C axis to tilt axis"), "head.c_to_tilt_mm")->absent = "0";
  lw_form_place (form, _ ("Tilt axis to spindle"), "head.tilt_to_spindle_mm")->absent = "0";
  field = lw_form_choice (form, _ ("Travels stated at"), at_words, at_labels, "head.travels_at");
  if (field->value == NULL)
    lw_field_take_value (field, lw_json_new_string ("pivot"));
}

static void
build_tables (LwForm *form, const LwJob *job)
{
  lw_form_section (form, _ ("Tables"));
  for (int i = 0; i < job->machine->n_tables; i++) {
    const LwTable *table = &job->machine->tables[i];
    g_autofree char *x = lw_edit_dup_length (form, table->size[0]);
    g_autofree char *y = lw_edit_dup_length (form, table->size[1]);
    g_autofree char *summary = g_strdup_printf ("%s × %s", x, y);

    lw_form_link (form, table->name, summary, (LwSubject){ LW_SUBJECT_TABLE, 0, i });
  }
  lw_form_buttons (form, _ ("Add table"), on_add_table);
}

static const char *
get_role (LwRole role)
{
  return role == LW_ROLE_HEAD        ? _ ("head")
         : role == LW_ROLE_STRUCTURE ? _ ("structure")
                                     : _ ("obstacle");
}

static void
build_bodies (LwForm *form, const LwJob *job)
{
  lw_form_section (form, _ ("Bodies"));
  for (int i = 0; i < job->machine->n_bodies; i++) {
    const LwBody *body = &job->machine->bodies[i];
    g_autofree char *solid = lw_edit_dup_solid_summary (form, &body->solid);
    g_autofree char *summary = g_strdup_printf ("%s · %s", get_role (body->role), solid);

    lw_form_link (form, body->name, summary, (LwSubject){ LW_SUBJECT_BODY, 0, i });
  }
  lw_form_choice (form, _ ("Hood and hoses"), hood_words, hood_labels, "hood_and_hoses");
  lw_form_buttons (form, _ ("Add body"), on_add_body);
}

void
lw_edit_machine_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  g_autofree char *summary = lw_machine_dup_summary (job->machine);
  LwField *field;

  for (int i = 0; job->machine->notes != NULL && job->machine->notes[i] != NULL; i++)
    lw_form_note (form, job->machine->notes[i]);
  lw_form_text (form, _ ("Name"), "name")->absent = _ ("none");
  lw_form_text (form, _ ("Short name"), "id")->absent = _ ("none");
  field = lw_form_number (form, _ ("Revision"), "", "revision");
  field->whole = true;
  field->absent = "0";
  lw_form_text (form, _ ("Axes in order"), "structure");
  lw_form_link (form, _ ("Axes"), summary, (LwSubject){ LW_SUBJECT_AXES, 0, 0 });
  lw_form_link (form, _ ("Spindle, magazine, zones"), "",
                (LwSubject){ LW_SUBJECT_EQUIPMENT, 0, 0 });
  build_head (form);
  build_tables (form, job);
  build_bodies (form, job);
  lw_form_section (form, _ ("Machine file"));
  lw_form_note (form, _ ("The job carries its own copy of the machine. Changes here change this "
                         "job only."));
  field = lw_form_buttons (form, _ ("Other machine…"), on_replace);
  lw_field_add_button (field, _ ("Keep in shop library"), on_keep);
}
