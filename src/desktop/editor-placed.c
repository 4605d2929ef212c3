/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "desktop/editors.h"
#include "desktop/number.h"

static const LwPlaced *
get_placed (LwForm *form)
{
  LwSubject subject = lw_form_get_subject (form);

  return &lw_document_get_job (lw_form_get_document (form))
              ->setups[subject.setup]
              .placed[subject.index];
}

static bool
apply_id (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwSubject subject = lw_form_get_subject (form);
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_rename_placed (&edit, subject.setup, subject.index, json_node_get_string (value));
  return lw_edit_commit (&edit, _ ("Rename copy"), NULL, error);
}

/* ------------------------------------------------------------------------------------------------
 * Turns */

static void
turn (LwForm *form, int axis)
{
  LwSubject subject = lw_form_get_subject (form);
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_turn_placed (&edit, subject.setup, subject.index, axis);
  lw_form_commit (form, &edit, _ ("Turn part"));
}

static void
on_turn_x (LwForm *form, const LwField *field)
{
  turn (form, 0);
}

static void
on_turn_y (LwForm *form, const LwField *field)
{
  turn (form, 1);
}

static void
on_turn_z (LwForm *form, const LwField *field)
{
  turn (form, 2);
}

/* Which way a part axis points on the table at yaw 0, in words: "+X", "−Z", "askew". */
static const char *
get_way (LwVec3 image)
{
  static const char *const names[3][2] = { { "−X", "+X" }, { "−Y", "+Y" }, { "−Z", "+Z" } };

  for (int i = 0; i < 3; i++)
    if (fabs (fabs (lw_vec3_get (image, i)) - 1) < 1e-6)
      return names[i][lw_vec3_get (image, i) > 0];
  return _ ("askew");
}

static void
build_turn (LwForm *form, const LwPlaced *placed)
{
  g_autofree char *text = g_strdup_printf (
      _ ("At yaw 0 the part's X points to %s, its Y to %s, its Z to %s (table frame)."),
      get_way (placed->rotation.c0), get_way (placed->rotation.c1), get_way (placed->rotation.c2));
  LwField *field;

  lw_form_section (form, _ ("How it lies"));
  lw_form_note (form, text);
  field = lw_form_buttons (form, _ ("¼ about X"), on_turn_x);
  lw_field_add_button (field, _ ("¼ about Y"), on_turn_y);
  lw_field_add_button (field, _ ("¼ about Z"), on_turn_z);
}

/* ------------------------------------------------------------------------------------------------
 * Height */

static bool
apply_height (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwSubject subject = lw_form_get_subject (form);
  LwDocument *document = lw_form_get_document (form);
  const LwPlaced *placed = get_placed (form);
  LwBox3 box = lw_placed_get_box (lw_document_get_job (document), placed);
  g_autofree char *path =
      g_strdup_printf ("setups[%d].placed[%d].at_mm[2]", subject.setup, subject.index);
  double z = placed->at.z + json_node_get_double (value) - box.low.z;

  return lw_document_set (document, path, lw_json_new_number (lw_round (z, 6, LW_ROUND_UP)),
                          _ ("Stand part on risers"), NULL, error);
}

static void
build_height (LwForm *form, const LwJob *job, const LwSetup *setup, const LwPlaced *placed)
{
  LwBox3 box = lw_placed_get_box (job, placed);
  int n = setup->n_riser_heights + 1;
  g_auto (GStrv) words = g_new0 (char *, n + 1);
  g_auto (GStrv) labels = g_new0 (char *, n + 1);
  LwField *field;

  if (!(box.low.z <= box.high.z))
    return;
  for (int i = 0; i < n; i++) {
    double height = i > 0 ? setup->riser_heights[i - 1] : 0;
    char text[LW_NUMBER_SIZE];
    g_autofree char *length = lw_edit_dup_length (form, height);

    words[i] = g_strdup (lw_number_to_text (height, text));
    labels[i] = i > 0 ? g_strdup_printf (_ ("risers, %s"), length) : g_strdup (_ ("the table"));
  }
  field = lw_form_choice (form, _ ("Lowest point on"), (const char *const *)words,
                          (const char *const *)labels, "at_mm");
  lw_field_take_value (field, lw_json_new_number (lw_round (box.low.z, 6, LW_ROUND_NEAREST)));
  field->numeric = true;
  field->apply = apply_height;
}

/* ------------------------------------------------------------------------------------------------
 * Stock */

/* A block around the part with 10 mm on all sides but below. */
static bool
apply_stock (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  const double extra = 10;
  LwSubject subject = lw_form_get_subject (form);
  const LwJob *job = lw_document_get_job (lw_form_get_document (form));
  const LwPlaced *placed = get_placed (form);
  const LwMesh *mesh = job->parts[placed->part].mesh.mesh;
  g_autofree char *path = lw_subject_dup_path (subject);
  LwBox3 box =
      mesh != NULL ? lw_mesh_get_facts (mesh)->box : (LwBox3){ { 0, 0, 0 }, { 100, 100, 100 } };
  LwVec3 low = lw_vec3 (box.low.x - extra, box.low.y - extra, box.low.z);
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  if (json_node_get_boolean (value)) {
    lw_edit_set (&edit,
                 lw_json_new_vec3 (lw_vec3 (box.high.x + extra - low.x, box.high.y + extra - low.y,
                                            box.high.z + extra - low.z)),
                 "%s.stock.block_mm", path);
    lw_edit_set (&edit, lw_json_new_vec3 (low), "%s.stock.at_mm", path);
  } else {
    lw_edit_set (&edit, NULL, "%s.stock", path);
  }
  return lw_edit_commit (&edit, _ ("Change stock"), NULL, error);
}

static void
build_stock (LwForm *form, const LwPlaced *placed)
{
  lw_form_section (form, _ ("Stock"));
  lw_form_switch (form, _ ("Comes as a larger block"), "stock")->apply = apply_stock;
  if (!placed->has_stock)
    return;
  lw_form_place (form, _ ("Block"), "stock.block_mm");
  lw_form_place (form, _ ("Lower corner, part frame"), "stock.at_mm");
}

/* ------------------------------------------------------------------------------------------------
 * Foot */

static void
remove_placed (LwForm *form)
{
  LwSubject subject = lw_form_get_subject (form);
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  lw_edit_remove_placed (&edit, subject.setup, subject.index);
  lw_form_commit (form, &edit, _ ("Take part off the table"));
}

static void
on_remove (LwForm *form, const LwField *field)
{
  LwSubject subject = lw_form_get_subject (form);
  const LwJob *job = lw_document_get_job (lw_form_get_document (form));

  lw_edit_ask_remove (form, lw_edit_dup_dependents_of_placed (job, subject.setup, subject.index),
                      remove_placed);
}

static void
on_duplicate (LwForm *form, const LwField *field)
{
  LwSubject subject = lw_form_get_subject (form);
  g_autofree char *array = g_strdup_printf ("setups[%d].placed", subject.setup);
  LwEdit edit;

  lw_edit_begin (&edit, lw_form_get_document (form));
  subject.index = lw_edit_duplicate (&edit, array, subject.index, "id");
  if (lw_form_commit (form, &edit, _ ("Place another copy")))
    lw_form_open (form, subject);
}

void
lw_edit_placed_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  const LwSetup *setup = &job->setups[subject.setup];
  const LwPlaced *placed = &setup->placed[subject.index];
  LwField *field;

  lw_form_text (form, _ ("Name"), "id")->apply = apply_id;
  lw_form_link (form, _ ("Part"), job->parts[placed->part].id,
                (LwSubject){ LW_SUBJECT_PART, 0, placed->part });
  lw_form_section (form, _ ("Place, table frame"));
  lw_form_place (form, _ ("Origin at"), "at_mm");
  build_height (form, job, setup, placed);
  lw_form_angle (form, _ ("Yaw"), "yaw_deg")->absent = "0";
  lw_form_length (form, _ ("Tolerance"), "tolerance_mm")->absent = "2";
  build_turn (form, placed);
  build_stock (form, placed);
  field = lw_form_buttons (form, _ ("Another copy"), on_duplicate);
  lw_field_add_button (field, _ ("Take off the table"), on_remove);
}
