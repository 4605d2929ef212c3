/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>
#include <string.h>

#include "session/edit.h"

/* What is new in a job: first values that the strict reader takes, to be changed by the planner. */

static JsonNode *
new_array (const double *values, int n)
{
  JsonArray *array = json_array_new ();
  JsonNode *node = json_node_init_array (json_node_alloc (), array);

  for (int i = 0; i < n; i++)
    json_array_add_element (array, lw_json_new_number (values[i]));
  json_array_unref (array);
  return node;
}

static JsonNode *
number (double value)
{
  return lw_json_new_number (value);
}

static JsonNode *
text (const char *value)
{
  return lw_json_new_string (value);
}

static JsonNode *
vec3 (double x, double y, double z)
{
  return lw_json_new_vec3 (lw_vec3 (x, y, z));
}

static bool
is_taken (LwEdit *edit, const char *array, const char *key, const char *name)
{
  for (int i = 0; i < lw_edit_count (edit, "%s", array); i++)
    if (g_strcmp0 (lw_edit_get_string (edit, "%s[%d].%s", array, i, key), name) == 0)
      return true;
  return false;
}

/* "riser", "riser 2", "riser 3": a number at the end of the name is counted on. */
static char *
dup_free_name (LwEdit *edit, const char *array, const char *key, const char *wanted)
{
  g_autofree char *stem = g_strdup (wanted);
  gsize length = strlen (stem);
  char separator = ' ';

  if (!is_taken (edit, array, key, wanted))
    return g_strdup (wanted);
  while (length > 0 && g_ascii_isdigit (stem[length - 1]))
    length--;
  if (length > 1 && length < strlen (stem) && strchr (" -", stem[length - 1]) != NULL) {
    separator = stem[length - 1];
    stem[length - 1] = '\0';
  }
  for (int i = 2;; i++) {
    g_autofree char *name = g_strdup_printf ("%s%c%d", stem, separator, i);

    if (!is_taken (edit, array, key, name))
      return g_steal_pointer (&name);
  }
}

/* Appends; makes the array where there is none. */
static int
append (LwEdit *edit, JsonNode *element, const char *array)
{
  int n = lw_edit_count (edit, "%s", array);

  if (lw_edit_get (edit, "%s", array) == NULL)
    lw_edit_set (edit, new_array (NULL, 0), "%s", array);
  lw_edit_set (edit, element, "%s[%d]", array, n);
  return n;
}

int
lw_edit_add_setup (LwEdit *edit)
{
  g_autofree char *first = g_strdup_printf (_ ("Set-up %d"), lw_edit_count (edit, "setups") + 1);
  g_autofree char *name = dup_free_name (edit, "setups", "name", first);

  return append (edit,
                 lw_json_new_object ("name", text (name), "table",
                                     text (lw_edit_get_string (edit, "machine.tables[0].name")),
                                     "placed", new_array (NULL, 0), "operations",
                                     new_array (NULL, 0), NULL),
                 "setups");
}

int
lw_edit_add_placed (LwEdit *edit, int setup, int part)
{
  const LwJob *job = lw_document_get_job (edit->document);
  const LwPart *of = part < job->n_parts ? &job->parts[part] : NULL;
  g_autofree char *array = g_strdup_printf ("setups[%d].placed", setup);
  const char *part_id = lw_edit_get_string (edit, "parts[%d].id", part);
  g_autofree char *first = g_strdup_printf ("%s-1", part_id);
  g_autofree char *id = dup_free_name (edit, array, "id", first);
  LwVec3 at = { 0 };

  if (of != NULL && of->mesh.mesh != NULL)
    at = lw_vec3_negate (lw_mesh_get_facts (of->mesh.mesh)->box.low);
  return append (edit,
                 lw_json_new_object ("id", text (id), "part", text (part_id), "yaw_deg", number (0),
                                     "at_mm", vec3 (at.x, at.y, at.z), NULL),
                 array);
}

int
lw_edit_add_operation (LwEdit *edit, int setup)
{
  g_autofree char *array = g_strdup_printf ("setups[%d].operations", setup);
  g_autofree char *first =
      g_strdup_printf (_ ("Operation %d"), lw_edit_count (edit, "%s", array) + 1);
  g_autofree char *name = dup_free_name (edit, array, "name", first);
  JsonNode *tool = lw_edit_get (edit, "tools[0].number");

  g_assert (tool != NULL);
  return append (edit,
                 lw_json_new_object (
                     "name", text (name), "on",
                     text (lw_edit_get_string (edit, "setups[%d].placed[0].id", setup)), "tool",
                     json_node_ref (tool), "region",
                     lw_json_new_object ("facing", vec3 (0, 0, 1), "within_deg", number (60), NULL),
                     "attitude",
                     lw_json_new_object ("rule", text ("along"), "direction", vec3 (0, 0, 1), NULL),
                     NULL),
                 array);
}

static JsonNode *
new_box (double x, double y, double z)
{
  return lw_json_new_object ("kind", text ("box"), "min_mm", vec3 (0, 0, 0), "max_mm",
                             vec3 (x, y, z), NULL);
}

int
lw_edit_add_fixture (LwEdit *edit, int setup)
{
  g_autofree char *array = g_strdup_printf ("setups[%d].fixture", setup);
  g_autofree char *name = dup_free_name (edit, array, "name", _ ("riser 1"));

  return append (edit,
                 lw_json_new_object ("name", text (name), "zone", text ("no"), "solid",
                                     new_box (100, 100, 100), NULL),
                 array);
}

static int
find_free_number (LwEdit *edit)
{
  int free_number = 1;

  for (int i = 0; i < lw_edit_count (edit, "tools"); i++)
    free_number =
        MAX (free_number, (int)json_node_get_int (lw_edit_get (edit, "tools[%d].number", i)) + 1);
  return free_number;
}

static JsonNode *
new_segment (const char *is, double from, double to, double d_from, double d_to)
{
  return lw_json_new_object ("is", text (is), "from_mm", number (from), "to_mm", number (to),
                             "d_from_mm", number (d_from), "d_to_mm", number (d_to), NULL);
}

int
lw_edit_add_tool (LwEdit *edit)
{
  int tool = append (edit,
                     lw_json_new_object ("number", number (find_free_number (edit)), "name",
                                         text (_ ("Ball 10")), "tip_length_mm", number (150),
                                         "stick_out_mm", number (60), "tip", text ("ball"),
                                         "corner_radius_mm", number (5), "segments",
                                         new_array (NULL, 0), NULL),
                     "tools");

  lw_edit_set (edit, new_segment ("holder", 0, 90, 50, 36), "tools[%d].segments[0]", tool);
  lw_edit_set (edit, new_segment ("shank", 90, 120, 10, 10), "tools[%d].segments[1]", tool);
  lw_edit_set (edit, new_segment ("cutting", 120, 150, 10, 10), "tools[%d].segments[2]", tool);
  return tool;
}

int
lw_edit_add_block (LwEdit *edit, LwVec3 size_mm)
{
  g_autofree char *id = dup_free_name (edit, "parts", "id", _ ("block"));

  return append (edit,
                 lw_json_new_object ("id", text (id), "block_mm", lw_json_new_vec3 (size_mm), NULL),
                 "parts");
}

int
lw_edit_add_mesh (LwEdit *edit, const char *id, const char *file, const char *units,
                  const char *sha256)
{
  g_autofree char *name = dup_free_name (edit, "parts", "id", id);

  return append (edit,
                 lw_json_new_object ("id", text (name), "mesh", text (file), "mesh_units",
                                     text (units), "sha256", text (sha256), NULL),
                 "parts");
}

int
lw_edit_add_body (LwEdit *edit)
{
  g_autofree char *name = dup_free_name (edit, "machine.bodies", "name", _ ("body 1"));

  return append (edit,
                 lw_json_new_object ("name", text (name), "role", text ("obstacle"), "zone",
                                     text ("unknown"), "carried_by", text ("b"), "solid",
                                     new_box (100, 100, 100), NULL),
                 "machine.bodies");
}

int
lw_edit_add_table (LwEdit *edit)
{
  g_autofree char *name = dup_free_name (edit, "machine.tables", "name", _ ("table 2"));

  return append (edit,
                 lw_json_new_object ("name", text (name), "origin_machine_mm", vec3 (0, 0, 0),
                                     "size_mm", new_array ((double[]){ 1000, 1000 }, 2), NULL),
                 "machine.tables");
}

int
lw_edit_add_coupled (LwEdit *edit)
{
  const LwJob *job = lw_document_get_job (edit->document);
  const char *tilt = lw_machine_get_letter (job->machine, LW_AXIS_TILT);

  return append (edit,
                 lw_json_new_object (
                     "axis", text (tilt), "low_deg", number (-90), "high_deg", number (90), "when",
                     lw_json_new_object ("axis", text ("Z"), "above_mm", number (0), NULL), NULL),
                 "machine.limits_when");
}

/* ------------------------------------------------------------------------------------------------
 * Copies */

/* Moves the last element of an array to index. */
static void
bring_last_to (LwEdit *edit, const char *array, int index)
{
  for (int i = lw_edit_count (edit, "%s", array) - 1; i > index; i--)
    lw_edit_move (edit, array, i, -1);
}

int
lw_edit_duplicate (LwEdit *edit, const char *array, int index, const char *key)
{
  JsonNode *node = lw_edit_get (edit, "%s[%d]", array, index);
  g_autofree char *old = g_strdup (lw_edit_get_string (edit, "%s[%d].%s", array, index, key));
  g_autofree char *name = dup_free_name (edit, array, key, old);
  int last;

  if (node == NULL)
    return index;
  last = append (edit, json_node_ref (node), array);
  lw_edit_set (edit, text (name), "%s[%d].%s", array, last, key);
  bring_last_to (edit, array, index + 1);
  return index + 1;
}

int
lw_edit_duplicate_tool (LwEdit *edit, int tool)
{
  int last = append (edit, json_node_ref (lw_edit_get (edit, "tools[%d]", tool)), "tools");

  lw_edit_set (edit, number (find_free_number (edit)), "tools[%d].number", last);
  /* what was measured and stored belongs to the one that it was copied from */
  if (lw_edit_get (edit, "tools[%d].measured_mm", last) != NULL)
    lw_edit_set (edit, NULL, "tools[%d].measured_mm", last);
  if (lw_edit_get (edit, "tools[%d].stored_offset_mm", last) != NULL)
    lw_edit_set (edit, NULL, "tools[%d].stored_offset_mm", last);
  return last;
}
