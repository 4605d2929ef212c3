/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/meshfile.h"

#include <glib/gi18n.h>
#include <pthread.h>
#include <string.h>

#include "base/parallel.h"
#include "base/sha256.h"
#include "base/text.h"
#include "base/tolerances.h"
#include "files/filebytes.h"
#include "files/stl.h"

void
lw_mesh_file_clear (LwMeshFile *file)
{
  g_clear_pointer (&file->mesh, lw_mesh_unref);
  g_clear_pointer (&file->warnings, g_strfreev);
  file->sha256[0] = 0;
}

double
lw_length_unit_to_mm (const char *word)
{
  static const struct {
    const char *word;
    double mm;
  } units[] = { { "mm", 1 },      { "cm", 10 },    { "m", 1000 },  { "in", 25.4 },
                { "inch", 25.4 }, { "ft", 304.8 }, { "um", 0.001 } };

  for (gsize i = 0; i < G_N_ELEMENTS (units); i++) {
    if (strcmp (word, units[i].word) == 0)
      return units[i].mm;
  }
  return 0;
}

/* ------------------------------------------------------------------------------------------------
 * What a person should know of the mesh. */

static void
warn_of_size (GPtrArray *warnings, const LwMeshFacts *facts)
{
  LwVec3 size = lw_box3_size (facts->box);
  double largest = fmax (size.x, fmax (size.y, size.z));
  g_autofree char *text = NULL;

  if (largest >= LW_PART_SMALL_MM && largest <= LW_PART_LARGE_MM)
    return;
  text = lw_format_length (largest, LW_UNIT_MM, LW_ROUND_NEAREST);
  g_ptr_array_add (warnings,
                   g_strdup_printf (_ ("The largest side is %s: is the unit right?"), text));
}

static void
warn_of_facts (GPtrArray *warnings, const LwMeshFacts *facts)
{
  uint32_t n;

  if ((n = facts->not_finite) > 0)
    g_ptr_array_add (
        warnings, g_strdup_printf (
                      ngettext ("%u triangle was left out: its coordinates are not finite.",
                                "%u triangles were left out: their coordinates are not finite.", n),
                      n));
  if ((n = facts->zero_area) > 0)
    g_ptr_array_add (
        warnings, g_strdup_printf (ngettext ("%u triangle was left out: it has no area.",
                                             "%u triangles were left out: they have no area.", n),
                                   n));
  if ((n = facts->duplicates) > 0)
    g_ptr_array_add (
        warnings, g_strdup_printf (
                      ngettext ("%u triangle was left out: it has the corners of another.",
                                "%u triangles were left out: they have the corners of others.", n),
                      n));
  if ((n = facts->open_edges) > 0)
    g_ptr_array_add (
        warnings, g_strdup_printf (
                      ngettext ("The surface is not closed (%u open edge): it has no volume.",
                                "The surface is not closed (%u open edges): it has no volume.", n),
                      n));
  if (facts->inward)
    g_ptr_array_add (
        warnings,
        g_strdup (facts->closed
                      ? _ ("All facets point inwards: the signed volume is negative.")
                      : _ ("The facets of the open surface point inwards, as those of a cavity do. "
                           "If it is none, they are the wrong way round.")));
}

/* ------------------------------------------------------------------------------------------------
 * Reading. */

/* Formats that are told apart by how they begin, so that the refusal can name them. */
static const char *
known_format (const LwFileBytes *file)
{
  static const struct {
    const char *begin;
    gsize size;
    const char *format;
  } formats[] = {
    { "PK\3\4", 4, N_ ("a zip archive (3MF?)") },
    { "ISO-10303-21", 12, N_ ("STEP") },
    { "ply", 3, N_ ("PLY") },
    { "glTF", 4, N_ ("glTF") },
    { "%PDF", 4, N_ ("PDF") },
    { "\x89PNG", 4, N_ ("a PNG picture") },
    { "\xff\xd8\xff", 3, N_ ("a JPEG picture") },
    { "<?xml", 5, N_ ("XML") },
    { "mtllib", 6, N_ ("OBJ") },
    { "v ", 2, N_ ("OBJ") },
    { "OFF", 3, N_ ("OFF") },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (formats); i++) {
    if (file->size > formats[i].size
        && memcmp (file->bytes, formats[i].begin, formats[i].size) == 0)
      return formats[i].format;
  }
  return NULL;
}

static LwMesh *
parse (const LwFileBytes *file, const char *name, double unit_mm, GPtrArray *warnings,
       LwProgress *progress, GError **error)
{
  g_autoptr (GError) cause = NULL;
  const char *format = known_format (file);
  LwMesh *mesh = lw_stl_parse (name, file->bytes, file->size, unit_mm, warnings, progress, &cause);

  if (!mesh && format && g_error_matches (cause, LW_ERROR, LW_ERROR_DATA))
    g_set_error (error, LW_ERROR, LW_ERROR_DATA, _ ("%s: the file is %s; expected STL"), name,
                 _ (format));
  else if (!mesh)
    g_propagate_error (error, g_steal_pointer (&cause));
  return mesh;
}

static LwMesh *
unpack_and_parse (const LwFileBytes *file, const char *name, double unit_mm, GPtrArray *warnings,
                  LwProgress *progress, GError **error)
{
  LwFileBytes unpacked;
  LwMesh *mesh;

  if (!lw_file_bytes_are_gzip (file))
    return parse (file, name, unit_mm, warnings, progress, error);
  if (!lw_file_bytes_unpack (file, &unpacked, name, progress, error))
    return NULL;
  mesh = parse (&unpacked, name, unit_mm, warnings, progress, error);
  lw_file_bytes_clear (&unpacked);
  return mesh;
}

typedef struct {
  const LwFileBytes *file;
  char *hex;
} Digest;

static void *
digest_thread (void *data)
{
  Digest *digest = data;

  lw_sha256 (digest->file->bytes, digest->file->size, digest->hex);
  return NULL;
}

/* The digest is one long chain: it runs beside everything else. */
static LwMesh *
digest_and_parse (LwMeshFile *out, const LwFileBytes *file, const char *name, double unit_mm,
                  GPtrArray *warnings, LwProgress *progress, GError **error)
{
  Digest digest = { file, out->sha256 };
  pthread_t thread;
  bool beside =
      lw_parallel_get_threads () > 1 && pthread_create (&thread, NULL, digest_thread, &digest) == 0;
  LwMesh *mesh = unpack_and_parse (file, name, unit_mm, warnings, progress, error);

  if (beside)
    pthread_join (thread, NULL);
  else if (mesh)
    digest_thread (&digest);
  return mesh;
}

bool
lw_mesh_file_load (LwMeshFile *file, const char *path, double unit_mm, LwProgress *progress,
                   GError **error)
{
  g_autoptr (GPtrArray) warnings = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *name = g_filename_display_name (path);
  LwFileBytes bytes;

  *file = (LwMeshFile){ 0 };
  if (!lw_file_bytes_read (&bytes, path, error))
    return false;
  file->mesh =
      digest_and_parse (file, &bytes, name, unit_mm > 0 ? unit_mm : 1, warnings, progress, error);
  lw_file_bytes_clear (&bytes);
  if (!file->mesh)
    return false;
  if (lw_mesh_get_n_triangles (file->mesh) == 0) {
    g_set_error (error, LW_ERROR, LW_ERROR_DATA,
                 _ ("%s: none of the %u triangles has finite coordinates and an area"), name,
                 lw_mesh_get_facts (file->mesh)->read);
    lw_mesh_file_clear (file);
    return false;
  }
  warn_of_facts (warnings, lw_mesh_get_facts (file->mesh));
  if (unit_mm > 0)
    warn_of_size (warnings, lw_mesh_get_facts (file->mesh));
  g_ptr_array_add (warnings, NULL);
  file->warnings = (char **)g_ptr_array_steal (warnings, NULL);
  return true;
}
