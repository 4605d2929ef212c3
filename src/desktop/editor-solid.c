/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>
#include <string.h>

#include "desktop/editors.h"

char *
lw_edit_dup_length (LwForm *form, double mm)
{
  return lw_format_length (mm, lw_view_get_unit (lw_form_get_view (form)), LW_ROUND_NEAREST);
}

char *
lw_dup_size (LwVec3 size, LwUnit unit)
{
  g_autofree char *x = lw_format_length_bare (size.x, unit, LW_ROUND_NEAREST);
  g_autofree char *y = lw_format_length_bare (size.y, unit, LW_ROUND_NEAREST);
  g_autofree char *z = lw_format_length (size.z, unit, LW_ROUND_NEAREST);

  return g_strdup_printf ("%s × %s × %s", x, y, z);
}

/* Kinds with numbers of their own, in the order of LwSolidKind; a hull's points and a mesh come
 * with the file. */
static const char *const words[] = { "box",     "cylinder", "frustum", "sphere",
                                     "capsule", "hull",     "mesh",    NULL };
static const char *const labels[] = { N_ ("Box"),     N_ ("Cylinder"),
                                      N_ ("Frustum"), N_ ("Sphere"),
                                      N_ ("Capsule"), N_ ("Hull"),
                                      N_ ("Mesh"),    NULL };
#define N_PLAIN 5

char *
lw_edit_dup_solid_summary (LwForm *form, const LwSolid *solid)
{
  LwBox3 box = lw_solid_get_box (solid);
  g_autofree char *size = NULL;

  if (!(box.low.x <= box.high.x))
    return g_strdup (_ (labels[solid->kind]));
  size = lw_dup_size (lw_vec3_sub (box.high, box.low), lw_view_get_unit (lw_form_get_view (form)));
  return g_strdup_printf ("%s %s", _ (labels[solid->kind]), size);
}

static JsonNode *
new_solid (const char *kind, LwBox3 box)
{
  LwVec3 center = lw_vec3_scale (lw_vec3_add (box.low, box.high), 0.5);
  LwVec3 foot = lw_vec3 (center.x, center.y, box.low.z);
  LwVec3 top = lw_vec3 (center.x, center.y, box.high.z);
  double radius = fmax (1, fmin (box.high.x - box.low.x, box.high.y - box.low.y) / 2);
  JsonObject *object = json_object_new ();
  JsonNode *node = json_node_init_object (json_node_alloc (), object);

  json_object_set_member (object, "kind", lw_json_new_string (kind));
  if (g_str_equal (kind, "box")) {
    json_object_set_member (object, "min_mm", lw_json_new_vec3 (box.low));
    json_object_set_member (object, "max_mm", lw_json_new_vec3 (box.high));
  } else if (g_str_equal (kind, "sphere")) {
    json_object_set_member (object, "center_mm", lw_json_new_vec3 (center));
    json_object_set_member (object, "radius_mm", lw_json_new_number (radius));
  } else {
    bool frustum = g_str_equal (kind, "frustum");

    json_object_set_member (object, "from_mm", lw_json_new_vec3 (foot));
    json_object_set_member (object, "to_mm", lw_json_new_vec3 (top));
    json_object_set_member (object, frustum ? "r_from_mm" : "radius_mm",
                            lw_json_new_number (radius));
    if (frustum)
      json_object_set_member (object, "r_to_mm", lw_json_new_number (radius));
  }
  json_object_unref (object);
  return node;
}

static const LwSolid *
get_solid (LwForm *form)
{
  const LwJob *job = lw_document_get_job (lw_form_get_document (form));
  LwSubject subject = lw_form_get_subject (form);

  if (subject.kind == LW_SUBJECT_FIXTURE)
    return &job->setups[subject.setup].fixtures[subject.index].solid;
  return &job->machine->bodies[subject.index].solid;
}

/* Another kind begins in the box of the one before. */
static bool
apply_kind (LwForm *form, const LwField *field, JsonNode *value, GError **error)
{
  LwBox3 box = lw_solid_get_box (get_solid (form));
  g_autofree char *path = g_strndup (field->path, strlen (field->path) - strlen (".kind"));

  if (!(box.low.x <= box.high.x))
    box = (LwBox3){ { 0, 0, 0 }, { 100, 100, 100 } };
  return lw_document_set (lw_form_get_document (form), path,
                          new_solid (json_node_get_string (value), box), _ ("Change kind of solid"),
                          NULL, error);
}

static void
build_numbers (LwForm *form, const LwSolid *solid, const char *path)
{
  switch (solid->kind) {
  case LW_SOLID_BOX:
    lw_form_place (form, _ ("Lower corner"), "%s.min_mm", path);
    lw_form_place (form, _ ("Upper corner"), "%s.max_mm", path);
    break;
  case LW_SOLID_CYLINDER:
  case LW_SOLID_CAPSULE:
    lw_form_place (form, _ ("From"), "%s.from_mm", path);
    lw_form_place (form, _ ("To"), "%s.to_mm", path);
    lw_form_length (form, _ ("Radius"), "%s.radius_mm", path);
    break;
  case LW_SOLID_FRUSTUM:
    lw_form_place (form, _ ("From"), "%s.from_mm", path);
    lw_form_length (form, _ ("Radius there"), "%s.r_from_mm", path);
    lw_form_place (form, _ ("To"), "%s.to_mm", path);
    lw_form_length (form, _ ("Radius there"), "%s.r_to_mm", path);
    break;
  case LW_SOLID_SPHERE:
    lw_form_place (form, _ ("Center"), "%s.center_mm", path);
    lw_form_length (form, _ ("Radius"), "%s.radius_mm", path);
    break;
  case LW_SOLID_HULL:
    for (int i = 0; i < solid->n_points; i++) {
      g_autofree char *label = g_strdup_printf (_ ("Point %d"), i + 1);

      lw_form_place (form, label, "%s.points_mm[%d]", path, i);
    }
    break;
  case LW_SOLID_MESH:
    lw_form_text (form, _ ("File"), "%s.file", path);
    break;
  }
}

void
lw_edit_solid_build (LwForm *form, const LwSolid *solid, const char *path)
{
  const char *kinds[N_PLAIN + 2] = { NULL }, *names[N_PLAIN + 2] = { NULL };

  for (int i = 0; i < N_PLAIN; i++) {
    kinds[i] = words[i];
    names[i] = labels[i];
  }
  if (solid->kind >= N_PLAIN) {
    kinds[N_PLAIN] = words[solid->kind];
    names[N_PLAIN] = labels[solid->kind];
  }
  lw_form_choice (form, _ ("Shape"), kinds, names, "%s.kind", path)->apply = apply_kind;
  build_numbers (form, solid, path);
  lw_form_place (form, _ ("Moved by"), "%s.at_mm", path)->absent = "0";
}
