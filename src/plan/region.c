/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "plan/region.h"

#include <glib/gi18n.h>

#include "base/tolerances.h"
#include "shape/patch.h"

static bool
has_surface (const LwRegion *region)
{
  return region->all || region->has_facing || region->has_box || region->has_patch
         || region->named != NULL;
}

/* Whether projections of box [−half, half] and of corners on axis are apart by more than −touch. */
static bool
is_apart (LwVec3 axis, const LwVec3 corners[3], LwVec3 half, double touch)
{
  double length = lw_vec3_length (axis);
  double reach = fabs (axis.x) * half.x + fabs (axis.y) * half.y + fabs (axis.z) * half.z;
  double p0 = lw_vec3_dot (axis, corners[0]);
  double p1 = lw_vec3_dot (axis, corners[1]);
  double p2 = lw_vec3_dot (axis, corners[2]);
  double low = fmin (p0, fmin (p1, p2)), high = fmax (p0, fmax (p1, p2));

  if (length < LW_DIRECTION_MIN)
    return false;
  return low >= reach - touch * length || high <= -reach + touch * length;
}

/* Separating axes of a triangle and a box: three of the box, the triangle's normal, nine edge
 * products (Akenine-Möller, J. Graphics Tools 6(1), 2001). Touching is not overlapping, but in the
 * directions in which the box or the triangle is flat. */
static bool
triangle_reaches_into_box (const LwVec3 given[3], LwBox3 box, double touch)
{
  LwVec3 center = lw_box3_center (box);
  LwVec3 half = lw_vec3_scale (lw_box3_size (box), 0.5);
  LwVec3 corners[3], edges[3];
  LwVec3 axes[3] = { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };

  for (int i = 0; i < 3; i++)
    corners[i] = lw_vec3_sub (given[i], center);
  for (int i = 0; i < 3; i++)
    edges[i] = lw_vec3_sub (corners[(i + 1) % 3], corners[i]);

  for (int i = 0; i < 3; i++) {
    double a = lw_vec3_get (corners[0], i), b = lw_vec3_get (corners[1], i),
           c = lw_vec3_get (corners[2], i);
    bool flat = lw_vec3_get (half, i) <= touch
                || fmax (a, fmax (b, c)) - fmin (a, fmin (b, c)) <= 2 * touch;

    if (is_apart (axes[i], corners, half, flat ? -touch : touch))
      return false;
  }
  if (is_apart (lw_vec3_cross (edges[0], edges[1]), corners, half, -touch))
    return false;
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      if (is_apart (lw_vec3_cross (axes[i], edges[j]), corners, half, -touch))
        return false;
  return true;
}

/* The triangles of the pieces of that name: [first, first + count) each. */
static bool
mark_named (const LwMesh *mesh, const char *name, bool *keep)
{
  bool found = false;

  for (uint32_t i = 0; i < lw_mesh_get_n_pieces (mesh); i++) {
    const LwMeshPiece *piece = lw_mesh_get_piece (mesh, i);

    if (g_strcmp0 (piece->name, name) != 0)
      continue;
    found = true;
    for (uint32_t t = piece->first; t < piece->first + piece->count; t++)
      keep[t] = true;
  }
  return found;
}

static const char *
mark_candidates (const LwRegion *region, LwMesh *mesh, bool *keep)
{
  uint32_t n = lw_mesh_get_n_triangles (mesh);

  if (region->named != NULL) {
    if (!mark_named (mesh, region->named, keep))
      return N_ ("the model has no piece of the name the region asks for");
  } else {
    memset (keep, true, n);
  }
  if (region->has_patch) {
    g_autofree bool *patch = g_new0 (bool, MAX (n, 1));

    lw_patch_grow (mesh, region->seed, region->crease, patch);
    for (uint32_t t = 0; t < n; t++)
      keep[t] = keep[t] && patch[t];
  }
  return NULL;
}

static bool
passes (const LwRegion *region, const LwMesh *mesh, uint32_t triangle, LwVec3 normal,
        double facing_cos, double touch)
{
  if (region->has_facing && lw_vec3_dot (normal, region->facing) < facing_cos)
    return false;
  if (region->has_box) {
    LwVec3 corners[3];

    lw_mesh_get_corners (mesh, triangle, corners);
    return triangle_reaches_into_box (corners, region->box, touch);
  }
  return true;
}

static void
resolve_surface (LwRegionItems *items, const LwRegion *region, LwMesh *mesh)
{
  uint32_t n = lw_mesh_get_n_triangles (mesh);
  g_autofree bool *keep = g_new0 (bool, MAX (n, 1));
  LwVec3 size = lw_box3_size (lw_mesh_get_facts (mesh)->box);
  double touch = LW_BOX_TOUCH * fmax (size.x, fmax (size.y, size.z));
  double facing_cos = cos (region->within) - LW_FACING_SLACK;

  items->reason = mark_candidates (region, mesh, keep);
  if (items->reason != NULL)
    return;

  items->triangles = g_new (uint32_t, MAX (n, 1));
  for (uint32_t t = 0; t < n; t++) {
    double area;
    LwVec3 normal;

    if (!keep[t])
      continue;
    normal = lw_mesh_get_normal (mesh, t, &area);
    if (!passes (region, mesh, t, normal, facing_cos, touch))
      continue;
    items->triangles[items->n_triangles++] = t;
    items->total += area;
  }
  if (items->n_triangles == 0)
    items->reason = N_ ("no facet of the part is in the region");
}

static double
measure_loop (const LwRegion *region)
{
  double length = 0;
  int n_pieces = region->loop_closed ? region->n_loop : region->n_loop - 1;

  for (int i = 0; i < n_pieces; i++)
    length +=
        lw_vec3_length (lw_vec3_sub (region->loop[(i + 1) % region->n_loop], region->loop[i]));
  return length;
}

LwRegionItems
lw_region_resolve (const LwRegion *region, const LwPart *part)
{
  LwRegionItems items = { 0 };

  if (region->n_points > 0) {
    items.total = region->n_points;
  } else if (region->n_loop > 0) {
    items.total = measure_loop (region);
    if (!(items.total > 0))
      items.reason = N_ ("the loop has no length");
  } else if (!has_surface (region)) {
    items.reason = N_ ("the region is empty");
  } else {
    resolve_surface (&items, region, part->mesh.mesh);
  }
  return items;
}

void
lw_region_items_clear (LwRegionItems *items)
{
  g_clear_pointer (&items->triangles, g_free);
  *items = (LwRegionItems){ 0 };
}
