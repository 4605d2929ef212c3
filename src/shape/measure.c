/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "shape/measure.h"

#include "base/parallel.h"

/* What a chunk adds. */
typedef struct {
  LwBox3 box;    /* of its points */
  double area;   /* of its triangles, as the rest */
  double volume; /* signed, between the triangles and the origin */
  LwVec3 sum;    /* of area × normal */
} Part;

typedef struct {
  const LwMesh *mesh;
  LwVec3 origin; /* mm; near the mesh, so that little of the volume's sum cancels */
  Part *parts;
} Measure;

LwVec3
lw_mesh_get_file_normal (const LwMesh *mesh, uint32_t triangle)
{
  const float *points = lw_mesh_get_points (mesh);
  const uint32_t *numbers = lw_mesh_get_triangles (mesh) + 3 * (size_t)triangle;
  LwVec3 a = lw_mesh_point_at (points, 1, numbers[0]);
  LwVec3 b = lw_mesh_point_at (points, 1, numbers[1]);
  LwVec3 c = lw_mesh_point_at (points, 1, numbers[2]);

  return lw_vec3_cross (lw_vec3_sub (b, a), lw_vec3_sub (c, a));
}

static void
measure_points (size_t chunk, size_t begin, size_t end, void *data)
{
  Measure *work = data;
  const float *points = lw_mesh_get_points (work->mesh);
  double unit = lw_mesh_get_unit_mm (work->mesh);
  float low[3] = { INFINITY, INFINITY, INFINITY }, high[3] = { -INFINITY, -INFINITY, -INFINITY };

  for (size_t i = begin; i < end; i++) {
    for (int axis = 0; axis < 3; axis++) {
      float value = points[3 * i + axis];

      low[axis] = value < low[axis] ? value : low[axis];
      high[axis] = value > high[axis] ? value : high[axis];
    }
  }
  work->parts[chunk].box = (LwBox3){ { low[0] * unit, low[1] * unit, low[2] * unit },
                                     { high[0] * unit, high[1] * unit, high[2] * unit } };
}

static void
measure_triangles (size_t chunk, size_t begin, size_t end, void *data)
{
  Measure *work = data;
  const float *points = lw_mesh_get_points (work->mesh);
  const uint32_t *triangles = lw_mesh_get_triangles (work->mesh);
  double unit = lw_mesh_get_unit_mm (work->mesh), area = 0, volume = 0;
  LwVec3 sum = lw_vec3 (0, 0, 0);
  Part *part = &work->parts[chunk];

  for (size_t i = begin; i < end; i++) {
    LwVec3 n = lw_mesh_get_file_normal (work->mesh, (uint32_t)i);
    LwVec3 corner = lw_mesh_point_at (points, unit, triangles[3 * i]);

    area += lw_vec3_length (n);
    volume += lw_vec3_dot (lw_vec3_sub (corner, work->origin), n);
    sum = lw_vec3_add (sum, n);
  }
  part->area = area / 2 * unit * unit;
  part->volume = volume / 6 * unit * unit;
  part->sum = lw_vec3_scale (sum, unit * unit / 2);
}

/* Of a closed surface area × normal adds up to nothing, of an open one to what would close it. Seen
 * from an origin shifted by d, the signed volume is less by sum · d / 3: where that can't turn the
 * sign within the box, the sign means something. */
static bool
is_inward (const LwMeshFacts *facts, const Part *all)
{
  LwVec3 size = lw_box3_size (facts->box);
  double doubt =
      (fabs (all->sum.x) * size.x + fabs (all->sum.y) * size.y + fabs (all->sum.z) * size.z) / 6;

  return facts->closed ? all->volume < 0 : all->volume < -doubt;
}

bool
lw_mesh_measure (const LwMesh *mesh, LwMeshFacts *facts, LwProgress *progress)
{
  uint32_t n_points = lw_mesh_get_n_points (mesh), n = lw_mesh_get_n_triangles (mesh);
  size_t n_parts = MAX (n_points, n) / LW_CHUNK + 1;
  g_autofree Part *parts = g_new0 (Part, n_parts);
  Measure work = { .mesh = mesh, .parts = parts };
  Part all = { .box = lw_box3_empty () };

  for (size_t i = 0; i < n_parts; i++)
    parts[i].box = lw_box3_empty ();
  lw_parallel_for (n_points, LW_CHUNK, measure_points, &work, NULL);
  for (size_t i = 0; i < n_parts; i++)
    all.box = lw_box3_unite (all.box, parts[i].box);
  work.origin = lw_box3_center (all.box);
  if (!lw_parallel_for (n, LW_CHUNK, measure_triangles, &work, progress))
    return false;
  for (size_t i = 0; i < n_parts; i++) {
    all.area += parts[i].area;
    all.volume += parts[i].volume;
    all.sum = lw_vec3_add (all.sum, parts[i].sum);
  }
  facts->box = all.box;
  facts->area = all.area;
  facts->volume = facts->closed ? all.volume : 0;
  facts->inward = is_inward (facts, &all);
  return true;
}
