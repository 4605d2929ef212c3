/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>
#include <string.h>

#include "job/reading.h"

/* Reserves of a first job: the planner's to change, shown in the job list. */
#define FIRST_TRAVEL_RESERVE_MM  10
#define FIRST_ROTARY_RESERVE_DEG 3
#define FIRST_GAP_RESERVE_MM     10

/* A first place is rounded to this, away from the table in Z. */
#define PLACE_STEP_MM 0.001

/* With element as its only one, or empty for NULL. */
static JsonNode *
new_array (JsonNode *element)
{
  JsonArray *array = json_array_new ();
  JsonNode *node = json_node_init_array (json_node_alloc (), array);

  if (element != NULL)
    json_array_add_element (array, element);
  json_array_unref (array);
  return node;
}

/* "half-hull" from ".../half-hull.stl.gz". */
static char *
dup_part_id (const char *mesh_path)
{
  char *name = g_path_get_basename (mesh_path);
  char *dot;

  if (g_str_has_suffix (name, ".gz"))
    name[strlen (name) - 3] = '\0';
  dot = strrchr (name, '.');
  if (dot != NULL && dot != name)
    *dot = '\0';
  return name;
}

static LwVec3
get_first_place (const LwTable *table, LwBox3 box)
{
  LwVec3 center = lw_box3_center (box);

  return lw_vec3 (round ((table->size[0] / 2 - center.x) / PLACE_STEP_MM) * PLACE_STEP_MM,
                  round ((table->size[1] / 2 - center.y) / PLACE_STEP_MM) * PLACE_STEP_MM,
                  ceil (-box.low.z / PLACE_STEP_MM) * PLACE_STEP_MM + 0.0);
}

static JsonNode *
new_setup_node (const LwTable *table, const char *part_id, LwBox3 box)
{
  g_autofree char *copy_id = g_strdup_printf ("%s-1", part_id);
  JsonNode *placed = lw_json_new_object (
      "id", lw_json_new_string (copy_id), "part", lw_json_new_string (part_id), "yaw_deg",
      lw_json_new_number (0), "at_mm", lw_json_new_vec3 (get_first_place (table, box)), NULL);

  return lw_json_new_object ("name", lw_json_new_string (_ ("Set-up 1")), "table",
                             lw_json_new_string (table->name), "placed", new_array (placed),
                             "operations", new_array (NULL), NULL);
}

static JsonNode *
new_job_node (const LwMachine *machine, const char *part_id, JsonNode *part, LwBox3 box)
{
  JsonNode *reserves =
      lw_json_new_object ("travel_mm", lw_json_new_number (FIRST_TRAVEL_RESERVE_MM), "rotary_deg",
                          lw_json_new_number (FIRST_ROTARY_RESERVE_DEG), "gap_mm",
                          lw_json_new_number (FIRST_GAP_RESERVE_MM), NULL);

  return lw_json_new_object (
      "format", lw_json_new_string ("leeway-job"), "version", lw_json_new_number (LW_JOB_VERSION),
      "title", lw_json_new_string (part_id), "machine", json_node_ref (machine->node), "parts",
      new_array (part), "setups", new_array (new_setup_node (&machine->tables[0], part_id, box)),
      "tools", new_array (NULL), "reserves", reserves, NULL);
}

LwJob *
lw_job_new (const LwMachine *machine, const char *mesh_path, const char *units, const char *folder,
            LwMeshStore *store, LwProgress *progress, GError **error)
{
  g_autofree char *name = g_path_get_basename (mesh_path);
  g_autofree char *part_id = dup_part_id (mesh_path);
  g_autofree char *file = lw_path_make_relative (mesh_path, folder);
  double unit_mm = units != NULL ? lw_length_unit_to_mm (units) : 0;
  g_autoptr (JsonNode) node = NULL;
  LwMeshEntry entry;
  LwJob *job = NULL;

  if (!(unit_mm > 0)) {
    g_set_error (error, LW_ERROR, LW_ERROR_USAGE, _ ("%s: the units of the mesh must be given"),
                 name);
    return NULL;
  }
  lw_mesh_store_get (store, mesh_path, unit_mm, NULL, true, progress, &entry);
  if (entry.mesh == NULL) {
    if (!lw_progress_set_error_if_cancelled (progress, error))
      g_set_error (error, LW_ERROR,
                   entry.state == LW_MESH_MISSING ? LW_ERROR_MISSING : LW_ERROR_DATA, "%s",
                   entry.message);
  } else {
    JsonNode *part = lw_json_new_object (
        "id", lw_json_new_string (part_id), "mesh", lw_json_new_string (file), "mesh_units",
        lw_json_new_string (units), "sha256", lw_json_new_string (entry.sha256), NULL);

    node = new_job_node (machine, part_id, part, lw_mesh_get_facts (entry.mesh)->box);
    job = lw_job_read (part_id, folder, node, store, true, progress, error);
  }
  lw_mesh_entry_clear (&entry);
  return job;
}
