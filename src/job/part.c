/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>
#include <string.h>

#include "base/sha256.h"
#include "job/reading.h"

/* kg/m³: from the lightest foam to beyond the heaviest metal. */
#define LEAST_DENSITY 1
#define MOST_DENSITY  30000

void
lw_part_clear (LwPart *part)
{
  g_free (part->id);
  g_free (part->mesh_file);
  g_free (part->mesh_units);
  g_free (part->sha256);
  g_free (part->material);
  for (int i = 0; i < part->n_bolts; i++)
    g_free (part->bolts[i].thread);
  g_free (part->bolts);
  lw_mesh_entry_clear (&part->mesh);
}

/* ------------------------------------------------------------------------------------------------
 * Block */

static void
put_quad (float **corner, const LwVec3 p[4])
{
  static const int order[] = { 0, 1, 2, 0, 2, 3 };

  for (int i = 0; i < 6; i++) {
    *(*corner)++ = (float)p[order[i]].x;
    *(*corner)++ = (float)p[order[i]].y;
    *(*corner)++ = (float)p[order[i]].z;
  }
}

/* The four sides between a rectangle low … high at z0 and at z1, seen from outside; exchanging z0
 * and z1 turns them inwards. */
static void
put_walls (float **corner, LwVec3 low, LwVec3 high, double z0, double z1)
{
  const double x[] = { low.x, high.x, high.x, low.x };
  const double y[] = { low.y, low.y, high.y, high.y };

  for (int i = 0; i < 4; i++) {
    int j = (i + 1) % 4;

    put_quad (corner,
              (LwVec3[]){
                  { x[i], y[i], z0 }, { x[j], y[j], z0 }, { x[j], y[j], z1 }, { x[i], y[i], z1 } });
  }
}

/* A level rectangle; up: its outside is above. */
static void
put_level (float **corner, LwVec3 low, LwVec3 high, double z, bool up)
{
  LwVec3 a = { low.x, low.y, z }, b = { high.x, low.y, z };
  LwVec3 c = { high.x, high.y, z }, d = { low.x, high.y, z };

  put_quad (corner, up ? (LwVec3[]){ a, b, c, d } : (LwVec3[]){ a, d, c, b });
}

/* The rim between the outer rectangle and the pocket's, corner to corner. */
static void
put_rim (float **corner, LwVec3 size, double walls)
{
  const double x[] = { 0, size.x, size.x, 0 }, y[] = { 0, 0, size.y, size.y };
  const double u[] = { walls, size.x - walls, size.x - walls, walls };
  const double v[] = { walls, walls, size.y - walls, size.y - walls };

  for (int i = 0; i < 4; i++) {
    int j = (i + 1) % 4;

    put_quad (corner, (LwVec3[]){ { x[i], y[i], size.z },
                                  { x[j], y[j], size.z },
                                  { u[j], v[j], size.z },
                                  { u[i], v[i], size.z } });
  }
}

/* A block with an open pocket from above, lower corner at the origin. */
static LwMesh *
new_pocket_mesh (LwVec3 size, double walls, double depth)
{
  enum { TRIANGLES = 8 + 2 + 8 + 8 + 2 };
  float *corners = g_new (float, TRIANGLES * 9);
  float *corner = corners;
  LwVec3 low = { walls, walls, 0 }, high = { size.x - walls, size.y - walls, 0 };

  put_walls (&corner, lw_vec3 (0, 0, 0), size, 0, size.z);
  put_level (&corner, lw_vec3 (0, 0, 0), size, 0, false);
  put_rim (&corner, size, walls);
  put_walls (&corner, low, high, size.z, size.z - depth);
  put_level (&corner, low, high, size.z - depth, true);
  g_assert (corner == corners + TRIANGLES * 9);
  return lw_mesh_new (corners, TRIANGLES, 1, NULL, 0);
}

static void
make_block_mesh (LwPart *part)
{
  const double numbers[] = { part->block.x, part->block.y, part->block.z, part->walls,
                             part->depth };
  bool pocket = !isnan (part->walls);

  part->mesh.mesh = pocket ? new_pocket_mesh (part->block, part->walls, part->depth)
                           : lw_mesh_new_block (part->block);
  part->mesh.state = LW_MESH_READY;
  part->mesh.warnings = g_new0 (char *, 1);
  lw_sha256 (numbers, sizeof numbers[0] * (pocket ? 5 : 3), part->mesh.sha256);
}

static void
read_block (LwPart *part, LwIn *in)
{
  bool walls = lw_in_has (in, "walls_mm"), depth = lw_in_has (in, "depth_mm");

  part->is_block = true;
  part->block = lw_read_size (in, "block_mm");
  part->walls = lw_read_length_or (in, "walls_mm", NAN);
  part->depth = lw_read_length_or (in, "depth_mm", NAN);
  if (lw_in_failed (in))
    return;
  if (walls != depth)
    lw_in_fail (in, walls ? "walls_mm" : "depth_mm",
                _ ("a pocket needs both “walls_mm” and “depth_mm”"));
  else if (walls && !(part->walls > 0 && 2 * part->walls < fmin (part->block.x, part->block.y)))
    lw_in_fail (in, "walls_mm", _ ("must be above 0 and leave a pocket between the walls"));
  else if (depth && !(part->depth > 0 && part->depth < part->block.z))
    lw_in_fail (in, "depth_mm", _ ("must be above 0 and less than the block's height"));
}

/* ------------------------------------------------------------------------------------------------
 * Mesh */

static void
get_mesh (LwMeshEntry *entry, const LwPart *part, const LwJobReading *reading)
{
  g_autofree char *path = g_canonicalize_filename (part->mesh_file, reading->folder);

  lw_mesh_store_get (reading->store, path, lw_length_unit_to_mm (part->mesh_units), part->sha256,
                     reading->wait, reading->progress, entry);
}

bool
lw_part_refresh_mesh (LwPart *part, const LwJobReading *reading)
{
  LwMeshEntry now;

  if (part->is_block || part->mesh_units == NULL)
    return false;
  get_mesh (&now, part, reading);
  if (now.mesh == part->mesh.mesh && now.state == part->mesh.state
      && g_strcmp0 (now.message, part->mesh.message) == 0) {
    lw_mesh_entry_clear (&now);
    return false;
  }
  lw_mesh_entry_clear (&part->mesh);
  part->mesh = now;
  return true;
}

static void
read_mesh_keys (LwPart *part, LwIn *in)
{
  part->mesh_file = lw_in_string (in, "mesh");
  part->mesh_units = lw_in_string_or_null (in, "mesh_units");
  part->sha256 = lw_read_sha256_or_null (in, "sha256");
  if (part->mesh_units != NULL && !(lw_length_unit_to_mm (part->mesh_units) > 0))
    lw_in_fail (in, "mesh_units",
                _ ("must be a length unit (“mm”, “cm”, “m”, “in”, “ft”), is “%s”"),
                part->mesh_units);
}

/* The same part of the earlier job, when the tree shares it. */
static const LwPart *
find_earlier (JsonNode *node, const LwJobReading *reading)
{
  const LwJob *earlier = reading->earlier;

  for (int i = 0; earlier != NULL && i < earlier->n_parts; i++)
    if (earlier->parts[i].node == node && g_str_equal (earlier->folder, reading->folder))
      return &earlier->parts[i];
  return NULL;
}

static void
attach_mesh (LwPart *part, const LwJobReading *reading)
{
  const LwPart *earlier = find_earlier (part->node, reading);

  if (earlier != NULL) {
    lw_mesh_entry_copy (&part->mesh, &earlier->mesh);
  } else if (part->is_block) {
    make_block_mesh (part);
  } else if (part->mesh_units == NULL) {
    part->mesh.state = LW_MESH_NO_UNITS;
    part->mesh.message = g_strdup (_ ("The units of the mesh must be given."));
    part->mesh.warnings = g_new0 (char *, 1);
  } else {
    get_mesh (&part->mesh, part, reading);
  }
}

static void
read_bolts (LwPart *part, LwIn *in)
{
  int n = lw_in_array (in, "bolts", false);

  part->bolts = g_new0 (LwBolt, n);
  part->n_bolts = n;
  for (int i = 0; i < n && !lw_in_failed (in); i++) {
    lw_in_element (in, "bolts", i);
    part->bolts[i].at = lw_in_place (in, "at_mm");
    part->bolts[i].thread = lw_read_text_or_null (in, "thread");
    lw_in_leave (in);
  }
}

void
lw_part_read (LwPart *part, LwIn *in, JsonNode *node, const LwJobReading *reading)
{
  bool has_mesh = lw_in_has (in, "mesh"), has_block = lw_in_has (in, "block_mm");

  *part = (LwPart){ .node = node, .walls = NAN, .depth = NAN };
  part->id = lw_in_string (in, "id");
  if (has_mesh == has_block && !lw_in_failed (in))
    lw_in_fail (in, NULL, _ ("must have either “mesh” or “block_mm”"));
  if (has_block)
    read_block (part, in);
  else
    read_mesh_keys (part, in);
  part->material = lw_read_text_or_null (in, "material");
  part->density = lw_in_number_or (in, "density_kg_m3", LEAST_DENSITY, MOST_DENSITY, NAN);
  read_bolts (part, in);
  if (!lw_in_failed (in))
    attach_mesh (part, reading);
}
