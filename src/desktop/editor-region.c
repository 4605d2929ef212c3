/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "desktop/editors.h"

/* First values of what is switched on, degrees. */
#define FIRST_WITHIN_DEG 30
#define FIRST_CREASE_DEG 20

static const LwOperation *
get_operation (LwForm *form)
{
  LwSubject subject = lw_form_get_subject (form);

  return &lw_document_get_job (lw_form_get_document (form))
              ->setups[subject.setup]
              .operations[subject.index];
}

static LwBox3
get_part_box (LwForm *form)
{
  LwSubject subject = lw_form_get_subject (form);
  const LwJob *job = lw_document_get_job (lw_form_get_document (form));
  const LwPlaced *placed = &job->setups[subject.setup].placed[get_operation (form)->placed];
  const LwMesh *mesh = job->parts[placed->part].mesh.mesh;

  return mesh != NULL ? lw_mesh_get_facts (mesh)->box : (LwBox3){ { 0, 0, 0 }, { 100, 100, 100 } };
}

typedef struct {
  LwEdit edit;
  char *path; /* of the region */
} RegionEdit;

static void
begin (RegionEdit *region, LwForm *form)
{
  g_autofree char *operation = lw_subject_dup_path (lw_form_get_subject (form));

  lw_edit_begin (&region->edit, lw_form_get_document (form));
  region->path = g_strconcat (operation, ".region", NULL);
}

/* A region has to select something: the whole part, when the last restriction went. */
static bool
end (RegionEdit *region, GError **error)
{
  JsonNode *node = lw_edit_get (&region->edit, "%s", region->path);

  if (node == NULL || json_object_get_size (json_node_get_object (node)) == 0)
    lw_edit_set (&region->edit, lw_json_new_bool (true), "%s.all", region->path);
  g_free (region->path);
  return lw_edit_commit (&region->edit, _ ("Change region"), NULL, error);
}

/* Something narrower than the whole part was chosen. */
static void
drop_all (RegionEdit *region)
{
  lw_edit_set (&region->edit, NULL, "%s.all", region->path);
}

static void
drop_facing (RegionEdit *region)
{
  lw_edit_set (&region->edit, NULL, "%s.facing", region->path);
  lw_edit_set (&region->edit, NULL, "%s.within_deg", region->path);
}

static void
set_facing (RegionEdit *region, LwVec3 direction)
{
  drop_all (region);
  lw_edit_set (&region->edit, lw_json_new_vec3 (direction), "%s.facing", region->path);
  if (lw_edit_get (&region->edit, "%s.within_deg", region->path) == NULL)
    lw_edit_set (&region->edit, lw_json_new_number (FIRST_WITHIN_DEG), "%s.within_deg",
                 region->path);
}

static void
set_patch (RegionEdit *region, LwVec3 seed)
{
  drop_all (region);
  lw_edit_set (&region->edit, lw_json_new_vec3 (seed), "%s.patch.seed_mm", region->path);
  if (lw_edit_get (&region->edit, "%s.patch.crease_deg", region->path) == NULL)
    lw_edit_set (&region->edit, lw_json_new_number (FIRST_CREASE_DEG), "%s.patch.crease_deg",
                 region->path);
}

static void
add_point (RegionEdit *region, LwVec3 at, LwVec3 axis)
{
  int n = lw_edit_count (&region->edit, "%s.points", region->path);

  drop_all (region);
  lw_edit_set (&region->edit, lw_json_new_vec3 (at), "%s.points[%d].at_mm", region->path, n);
  lw_edit_set (&region->edit, lw_json_new_vec3 (axis), "%s.points[%d].axis", region->path, n);
}

/* ------------------------------------------------------------------------------------------------
 * Switches */

static bool
apply_all (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  RegionEdit region;

  begin (&region, form);
  lw_edit_set (&region.edit, json_node_get_boolean (value) ? lw_json_new_bool (true) : NULL,
               "%s.all", region.path);
  return end (&region, error);
}

static bool
apply_facing (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  RegionEdit region;

  begin (&region, form);
  if (json_node_get_boolean (value)) {
    set_facing (&region, lw_vec3 (0, 0, 1));
  } else {
    drop_facing (&region);
  }
  return end (&region, error);
}

static bool
apply_box (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwBox3 box = get_part_box (form);
  RegionEdit region;

  begin (&region, form);
  if (json_node_get_boolean (value)) {
    drop_all (&region);
    lw_edit_set (&region.edit, lw_json_new_vec3 (box.low), "%s.box_mm.min", region.path);
    lw_edit_set (&region.edit, lw_json_new_vec3 (box.high), "%s.box_mm.max", region.path);
  } else {
    lw_edit_set (&region.edit, NULL, "%s.box_mm", region.path);
  }
  return end (&region, error);
}

static bool
apply_patch (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwBox3 box = get_part_box (form);
  RegionEdit region;

  begin (&region, form);
  if (json_node_get_boolean (value))
    set_patch (&region,
               lw_vec3 ((box.low.x + box.high.x) / 2, (box.low.y + box.high.y) / 2, box.high.z));
  else
    lw_edit_set (&region.edit, NULL, "%s.patch", region.path);
  return end (&region, error);
}

static bool
apply_points (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwBox3 box = get_part_box (form);
  RegionEdit region;

  begin (&region, form);
  if (json_node_get_boolean (value))
    add_point (&region,
               lw_vec3 ((box.low.x + box.high.x) / 2, (box.low.y + box.high.y) / 2, box.high.z),
               lw_vec3 (0, 0, 1));
  else
    lw_edit_set (&region.edit, NULL, "%s.points", region.path);
  return end (&region, error);
}

static bool
apply_loop (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  RegionEdit region;

  begin (&region, form);
  lw_edit_set (&region.edit, NULL, "%s.loop", region.path);
  return end (&region, error);
}

/* ------------------------------------------------------------------------------------------------
 * Buttons */

static void
on_pick_patch (LwForm *form, const LwField *field)
{
  lw_form_pick (form, LW_PICK_PATCH);
}

static void
on_pick_facing (LwForm *form, const LwField *field)
{
  lw_form_pick (form, LW_PICK_FACING);
}

static void
on_pick_point (LwForm *form, const LwField *field)
{
  lw_form_pick (form, LW_PICK_POINT);
}

static void
on_add_point (LwForm *form, const LwField *field)
{
  const LwRegion *of = &get_operation (form)->region;
  LwVec3 at = of->n_points > 0 ? of->points[of->n_points - 1].at : lw_vec3 (0, 0, 0);
  LwVec3 axis = of->n_points > 0 ? of->points[of->n_points - 1].axis : lw_vec3 (0, 0, 1);
  GError *error = NULL;
  RegionEdit region;

  if (lw_vec3_length (axis) == 0)
    axis = lw_vec3 (0, 0, 1);
  begin (&region, form);
  add_point (&region, at, axis);
  end (&region, &error);
  lw_form_set_error (form, error);
}

static void
on_remove_point (LwForm *form, const LwField *field)
{
  GError *error = NULL;
  RegionEdit region;

  begin (&region, form);
  if (lw_edit_count (&region.edit, "%s.points", region.path) > 1)
    lw_edit_set (&region.edit, NULL, "%s.points[%d]", region.path, field->index);
  else
    lw_edit_set (&region.edit, NULL, "%s.points", region.path);
  end (&region, &error);
  lw_form_set_error (form, error);
}

/* What was pointed at takes the place of the other way to choose a surface; a box stays. */
bool
lw_edit_take_pick (LwForm *form, LwPickPurpose purpose, LwVec3 at, LwVec3 normal)
{
  GError *error = NULL;
  RegionEdit region;
  bool done;

  at = lw_vec3 (lw_round (at.x, 2, LW_ROUND_NEAREST), lw_round (at.y, 2, LW_ROUND_NEAREST),
                lw_round (at.z, 2, LW_ROUND_NEAREST));
  normal =
      lw_vec3 (lw_round (normal.x, 6, LW_ROUND_NEAREST), lw_round (normal.y, 6, LW_ROUND_NEAREST),
               lw_round (normal.z, 6, LW_ROUND_NEAREST));
  begin (&region, form);
  if (purpose == LW_PICK_PATCH) {
    drop_facing (&region);
    set_patch (&region, at);
  } else if (purpose == LW_PICK_FACING) {
    lw_edit_set (&region.edit, NULL, "%s.patch", region.path);
    set_facing (&region, normal);
  } else {
    add_point (&region, at, normal);
  }
  done = end (&region, &error);
  lw_form_set_error (form, error);
  return done;
}

/* ------------------------------------------------------------------------------------------------
 * Fields */

static LwField *
add_switch (LwForm *form, const char *label, const char *path, bool on, LwFieldApply apply)
{
  LwField *field = lw_form_switch (form, label, "%s", path);

  lw_field_take_value (field, lw_json_new_bool (on));
  field->apply = apply;
  return field;
}

static void
build_points (LwForm *form, const LwRegion *region)
{
  add_switch (form, _ ("Single points (holes, datums)"), "region.points", region->n_points > 0,
              apply_points);
  for (int i = 0; i < region->n_points; i++) {
    g_autofree char *label = g_strdup_printf (_ ("Point %d"), i + 1);
    LwField *field;

    lw_form_place (form, label, "region.points[%d].at_mm", i);
    lw_form_direction (form, _ ("Axis, tip to spindle"), "region.points[%d].axis", i)->absent =
        _ ("rule's");
    lw_form_length (form, _ ("Depth"), "region.points[%d].depth_mm", i)->absent =
        _ ("as the stroke");
    field = lw_form_buttons (form, _ ("Remove this point"), on_remove_point);
    field->index = i;
  }
  if (region->n_points > 0) {
    LwField *field = lw_form_buttons (form, _ ("Add point"), on_add_point);

    lw_field_add_button (field, _ ("Pick point…"), on_pick_point);
  }
}

static void
build_surface (LwForm *form, const LwRegion *region)
{
  add_switch (form, _ ("Surface that faces a direction"), "region.facing", region->has_facing,
              apply_facing);
  if (region->has_facing) {
    lw_form_direction (form, _ ("Direction"), "region.facing");
    lw_form_angle (form, _ ("Within"), "region.within_deg");
  }
  add_switch (form, _ ("Inside a box"), "region.box_mm", region->has_box, apply_box);
  if (region->has_box) {
    lw_form_place (form, _ ("From"), "region.box_mm.min");
    lw_form_place (form, _ ("To"), "region.box_mm.max");
  }
  add_switch (form, _ ("Smooth surface around a place"), "region.patch", region->has_patch,
              apply_patch);
  if (region->has_patch) {
    lw_form_place (form, _ ("Place"), "region.patch.seed_mm");
    lw_form_angle (form, _ ("Ends at edges of"), "region.patch.crease_deg");
  }
}

void
lw_edit_region_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  const LwRegion *region = &job->setups[subject.setup].operations[subject.index].region;
  LwField *field;

  lw_form_section (form, _ ("Region, part frame"));
  field = lw_form_buttons (form, _ ("Pick surface…"), on_pick_patch);
  lw_field_add_button (field, _ ("Pick direction…"), on_pick_facing);
  add_switch (form, _ ("The whole part"), "region.all", region->all, apply_all);
  build_surface (form, region);
  build_points (form, region);
  if (region->n_loop > 0) {
    g_autofree char *text = g_strdup_printf (_ ("Along a curve of %d points"), region->n_loop);

    add_switch (form, text, "region.loop", true, apply_loop);
  }
  if (region->named != NULL)
    lw_form_text (form, _ ("Piece of the model"), "region.named")->absent = _ ("any");
  lw_form_note (form, _ ("What is ticked must all hold."));
}
