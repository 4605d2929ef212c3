/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "desktop/editors.h"

static const char *const unit_words[] = { "mm", "cm", "m", "in", "ft", NULL };
static const char *const unit_labels[] = { N_ ("millimeters"), N_ ("centimeters"), N_ ("meters"),
                                           N_ ("inches"),      N_ ("feet"),        NULL };

static int
get_part (LwForm *form)
{
  return lw_form_get_subject (form).index;
}

static bool
apply_id (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_rename_part (&edit, get_part (form), json_node_get_string (value));
  return lw_edit_commit (&edit, _ ("Rename part"), NULL, error);
}

static void
remove_part (LwForm *form)
{
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_remove_part (&edit, get_part (form));
  lw_form_commit (form, &edit, _ ("Remove part"));
}

static void
on_remove (LwForm *form, const LwField *field)
{
  const LwJob *job = lw_document_get_job (lw_form_get_document (form));

  lw_edit_ask_remove (form, lw_edit_dup_dependents_of_part (job, get_part (form)), remove_part);
}

/* The present file is the right one after all: its hash is taken over. */
static void
on_accept (LwForm *form, const LwField *field)
{
  const LwJob *job = lw_document_get_job (lw_form_get_document (form));
  const LwPart *part = &job->parts[get_part (form)];
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_set (&edit, lw_json_new_string (part->mesh.sha256), "parts[%d].sha256", get_part (form));
  lw_form_commit (form, &edit, _ ("Accept changed part file"));
  lw_document_load_meshes_async (lw_form_get_document (form));
}

static void
on_replace (LwForm *form, const LwField *field)
{
  gtk_widget_activate_action (GTK_WIDGET (form), "win.change-part-file", "i", get_part (form));
}

static bool
apply_units (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwDocument *document = lw_form_get_document (form);
  bool done = lw_document_set (document, field->path, json_node_ref (value),
                               _ ("Change part units"), NULL, error);

  if (done)
    lw_document_load_meshes_async (document);
  return done;
}

/* ------------------------------------------------------------------------------------------------
 * Fields */

static void
build_facts (LwForm *form, const LwMeshEntry *entry)
{
  LwUnit unit = lw_view_get_unit (lw_form_get_view (form));

  if (entry->message != NULL)
    lw_form_note (form, entry->message);
  if (entry->mesh != NULL) {
    const LwMeshFacts *facts = lw_mesh_get_facts (entry->mesh);
    g_autofree char *size = lw_dup_size (lw_vec3_sub (facts->box.high, facts->box.low), unit);
    g_autofree char *text = g_strdup_printf (facts->closed ? _ ("%s, %u triangles, closed")
                                                           : _ ("%s, %u triangles, not closed"),
                                             size, lw_mesh_get_n_triangles (entry->mesh));

    lw_form_note (form, text);
  }
  for (int i = 0; entry->warnings != NULL && entry->warnings[i] != NULL; i++)
    lw_form_note (form, entry->warnings[i]);
}

static void
build_block (LwForm *form, const LwPart *part)
{
  lw_form_place (form, _ ("Block"), "block_mm");
  if (!isnan (part->walls)) {
    lw_form_length (form, _ ("Walls"), "walls_mm");
    lw_form_length (form, _ ("Pocket depth"), "depth_mm");
  }
}

static void
build_mesh (LwForm *form, const LwPart *part)
{
  lw_form_note (form, part->mesh_file);
  lw_form_choice (form, _ ("Its numbers are"), unit_words, unit_labels, "mesh_units")->apply =
      apply_units;
  build_facts (form, &part->mesh);
  if (part->mesh.state == LW_MESH_ALTERED)
    lw_form_buttons (form, _ ("Accept the changed file"), on_accept);
  lw_form_buttons (form, _ ("Other file…"), on_replace);
}

/* kg, of the volume and the density. */
static void
build_mass (LwForm *form, const LwPart *part)
{
  const LwMeshFacts *facts = part->mesh.mesh != NULL ? lw_mesh_get_facts (part->mesh.mesh) : NULL;
  g_autofree char *mass = NULL;
  g_autofree char *text = NULL;

  if (facts == NULL || !facts->closed || isnan (part->density))
    return;
  mass = lw_format_fixed (fabs (facts->volume) * 1e-9 * part->density, 1, LW_ROUND_UP);
  text = g_strdup_printf (_ ("Mass %s kg, finished"), mass);
  lw_form_note (form, text);
}

void
lw_edit_part_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  const LwPart *part = &job->parts[subject.index];

  lw_form_text (form, _ ("Name"), "id")->apply = apply_id;
  if (part->is_block)
    build_block (form, part);
  else
    build_mesh (form, part);
  lw_form_section (form, _ ("Material"));
  lw_form_text (form, _ ("Material"), "material")->absent = _ ("not given");
  lw_form_number (form, _ ("Density"), "kg/m³", "density_kg_m3")->absent = _ ("not given");
  build_mass (form, part);
  lw_form_buttons (form, _ ("Remove part"), on_remove);
}
