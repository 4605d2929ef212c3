/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "base/parallel.h"
#include "batch/answer.h"
#include "batch/verbs.h"
#include "files/meshfile.h"
#include "files/programfile.h"

static const LwOptionSpec specs[] = { { "--units", 1, false }, { NULL } };

/* What a file turned out to be. */
typedef struct {
  const char *path;
  const char *units; /* as told; NULL: not told */
  double unit_mm;    /* 0: not told */
  LwMeshFile mesh;   /* its mesh is NULL for a program */
  LwProgram *program;
} Import;

static void
import_clear (Import *import)
{
  lw_mesh_file_clear (&import->mesh);
  g_clear_pointer (&import->program, lw_program_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Import, import_clear)

static bool
read_units (Import *import, const LwOptions *options, GError **error)
{
  import->units = lw_options_get_text (options, "--units", 0);
  if (import->units == NULL)
    return true;
  import->unit_mm = lw_length_unit_to_mm (import->units);
  if (import->unit_mm > 0)
    return true;
  g_set_error (error, LW_ERROR, LW_ERROR_USAGE,
               _ ("--units must be a length unit (mm, cm, m, in, ft), is \"%s\""), import->units);
  return false;
}

static bool
is_named_mesh (const char *path)
{
  g_autofree char *lower = g_ascii_strdown (path, -1);

  return g_str_has_suffix (lower, ".stl") || g_str_has_suffix (lower, ".stl.gz");
}

static bool
load_mesh (Import *import, GError **error)
{
  g_autoptr (GError) cause = NULL;

  if (lw_mesh_file_load (&import->mesh, import->path, import->unit_mm, NULL, &cause))
    return true;
  if (g_error_matches (cause, LW_ERROR, LW_ERROR_DATA) && !is_named_mesh (import->path))
    g_set_error (error, LW_ERROR, LW_ERROR_DATA,
                 _ ("%s (or a program: CL data in the words of ISO 4343)"), cause->message);
  else
    g_propagate_error (error, g_steal_pointer (&cause));
  return false;
}

/* By its content but for what is named as a mesh. */
static bool
load (Import *import, GError **error)
{
  char sha256[65];
  bool program = false;

  if (!is_named_mesh (import->path) && !lw_program_is_likely (import->path, &program, error))
    return false;
  if (!program)
    return load_mesh (import, error);
  import->program = lw_program_load (import->path, import->unit_mm, sha256, error);
  return import->program != NULL;
}

/* ------------------------------------------------------------------------------------------------
 * JSON */

static void
add_count (JsonBuilder *builder, const char *key, gint64 count)
{
  json_builder_set_member_name (builder, key);
  json_builder_add_int_value (builder, count);
}

static void
add_box (JsonBuilder *builder, const char *key, const LwBox3 *box)
{
  json_builder_set_member_name (builder, key);
  if (box == NULL) {
    json_builder_add_null_value (builder);
    return;
  }
  json_builder_begin_object (builder);
  lw_answer_add_vec3 (builder, "min", box->low);
  lw_answer_add_vec3 (builder, "max", box->high);
  json_builder_end_object (builder);
}

static void
begin_warnings (JsonBuilder *builder, char **warnings)
{
  json_builder_set_member_name (builder, "warnings");
  json_builder_begin_array (builder);
  for (int i = 0; warnings[i] != NULL; i++)
    json_builder_add_string_value (builder, warnings[i]);
}

static const char *
get_no_units_warning (void)
{
  return _ ("The units of the file are not known: tell them (--units).");
}

static void
add_mesh (JsonBuilder *builder, const Import *import)
{
  const LwMesh *mesh = import->mesh.mesh;
  const LwMeshFacts *facts = lw_mesh_get_facts (mesh);
  bool told = import->units != NULL;

  lw_answer_add_string (builder, "kind", "mesh");
  add_count (builder, "triangles", lw_mesh_get_n_triangles (mesh));
  add_count (builder, "points", lw_mesh_get_n_points (mesh));
  add_box (builder, "box_mm", told ? &facts->box : NULL);
  if (!told)
    add_box (builder, "box_file_units", &facts->box);
  lw_answer_add_number (builder, "volume_mm3", told && facts->closed ? facts->volume : NAN);
  lw_answer_add_number (builder, "area_mm2", told ? facts->area : NAN);
  lw_answer_add_string (builder, "units", import->units);
  lw_answer_add_string (builder, "sha256", import->mesh.sha256);
  begin_warnings (builder, import->mesh.warnings);
  if (!told)
    json_builder_add_string_value (builder, get_no_units_warning ());
  json_builder_end_array (builder);
}

static void
add_tools (JsonBuilder *builder, const LwProgram *program)
{
  json_builder_set_member_name (builder, "tools");
  json_builder_begin_array (builder);
  for (guint i = 0; i < program->n_tools; i++) {
    const LwProgramTool *tool = &program->tools[i];

    json_builder_begin_object (builder);
    add_count (builder, "number", tool->number);
    lw_answer_add_number (builder, "length_mm", tool->length);
    lw_answer_add_number (builder, "diameter_mm", tool->diameter);
    lw_answer_add_number (builder, "corner_radius_mm", tool->corner_radius);
    add_count (builder, "line", tool->line);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
}

static const char *
get_unit_word (const Import *import)
{
  return import->units != NULL ? import->units : import->program->unit_mm == 1 ? "mm" : "in";
}

static void
add_program (JsonBuilder *builder, const Import *import)
{
  const LwProgram *program = import->program;

  lw_answer_add_string (builder, "kind", "program");
  lw_answer_add_string (builder, "title", program->title);
  add_count (builder, "records", program->n_statements);
  add_count (builder, "points", program->n_records);
  add_count (builder, "arcs", program->n_arcs);
  add_count (builder, "holes", program->n_drills);
  add_tools (builder, program);
  add_box (builder, "box_mm", &program->box);
  lw_answer_add_string (builder, "units", get_unit_word (import));
  json_builder_set_member_name (builder, "followed");
  json_builder_add_boolean_value (builder, program->lost == NULL && program->open == NULL);
  begin_warnings (builder, program->warnings);
  json_builder_end_array (builder);
}

static void
print_json (const Import *import)
{
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);
  if (import->program != NULL)
    add_program (builder, import);
  else
    add_mesh (builder, import);
  json_builder_end_object (builder);
  lw_answer_print (builder);
}

/* ------------------------------------------------------------------------------------------------
 * Words */

/* "X 0.0 to 20.0"; without a unit the file's own numbers. */
static void
print_box (const LwBox3 *box, LwUnit unit, bool told)
{
  for (int axis = 0; axis < 3; axis++) {
    LwUnit as = told ? unit : LW_UNIT_MM;
    double low = lw_vec3_get (box->low, axis), high = lw_vec3_get (box->high, axis);
    g_autofree char *from = lw_format_length_bare (low, as, LW_ROUND_DOWN);
    g_autofree char *to = lw_format_length_bare (high, as, LW_ROUND_UP);
    g_autofree char *size = lw_format_length_bare (high - low, as, LW_ROUND_UP);

    g_print (_ ("    %c %s to %s: %s %s\n"), "XYZ"[axis], from, to, size,
             told ? lw_unit_get_symbol (unit) : _ ("file units"));
  }
}

static void
print_warnings (char **warnings)
{
  for (int i = 0; warnings[i] != NULL; i++)
    g_print (_ ("note: %s\n"), warnings[i]);
}

/* In liters, or cubic inches. */
static char *
format_volume (double mm3, LwUnit unit)
{
  bool inch = unit == LW_UNIT_INCH;
  double inch_mm = lw_unit_to_mm (LW_UNIT_INCH, 1);
  g_autofree char *bare =
      lw_format_fixed (inch ? mm3 / (inch_mm * inch_mm * inch_mm) : mm3 / 1e6, 3, LW_ROUND_NEAREST);

  return g_strconcat (bare, inch ? " in³" : " l", NULL);
}

static void
print_mesh (const Import *import, LwUnit unit)
{
  const LwMesh *mesh = import->mesh.mesh;
  const LwMeshFacts *facts = lw_mesh_get_facts (mesh);
  bool told = import->units != NULL;

  g_print (_ ("%s: a mesh of %u triangles on %u points\n"), import->path,
           lw_mesh_get_n_triangles (mesh), lw_mesh_get_n_points (mesh));
  print_box (&facts->box, unit, told);
  if (told && facts->closed) {
    g_autofree char *volume = format_volume (facts->volume, unit);

    g_print (_ ("    volume %s\n"), volume);
  }
  print_warnings (import->mesh.warnings);
  if (!told)
    g_print (_ ("note: %s\n"), get_no_units_warning ());
}

static void
print_program (const Import *import, LwUnit unit)
{
  const LwProgram *program = import->program;

  g_print (_ ("%s: a program of %u places"), import->path, program->n_statements);
  if (program->title != NULL)
    g_print (" (%s)", program->title);
  g_print ("\n");
  print_box (&program->box, unit, true);
  for (guint i = 0; i < program->n_tools; i++) {
    const LwProgramTool *tool = &program->tools[i];
    g_autofree char *length = lw_format_length (tool->length, unit, LW_ROUND_NEAREST);

    g_print (isfinite (tool->length) ? _ ("    tool %d, length %s\n") : _ ("    tool %d\n"),
             tool->number, length);
  }
  print_warnings (program->warnings);
}

int
lw_batch_import (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (LwOptions) options = lw_options_parse (argc, argv, specs, 1, &error);
  g_auto (Import) import = { 0 };

  if (options == NULL || !read_units (&import, options, &error))
    return lw_batch_fail (error);
  lw_parallel_set_threads (lw_options_get_threads (options));
  import.path = lw_options_get_operand (options, 0);
  if (!load (&import, &error))
    return lw_batch_fail (error);
  if (lw_options_get_json (options))
    print_json (&import);
  else if (import.program != NULL)
    print_program (&import, lw_options_get_unit (options));
  else
    print_mesh (&import, lw_options_get_unit (options));
  return LW_EXIT_FITS;
}
