/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <math.h>
#include <string.h>

#include "shape/mesh.h"

/* Triangles for tests: 9 floats each, outward by winding. */
typedef struct {
  float *corners;
  uint32_t n;
} Shape;

static inline void
shape_clear (Shape *shape)
{
  g_free (shape->corners);
}

static inline LwMesh *
shape_to_mesh (const Shape *shape)
{
  float *corners = g_memdup2 (shape->corners, 9 * sizeof (float) * shape->n);

  return lw_mesh_new (corners, shape->n, 1, NULL, 0);
}

/* A block from the origin: what the sample files call the 100 × 60 × 40 box. */
static inline Shape
shape_block (double x, double y, double z)
{
  g_autoptr (LwMesh) mesh = lw_mesh_new_block (lw_vec3 (x, y, z));
  Shape shape = { g_new (float, 12 * 9), 12 };

  for (uint32_t i = 0; i < 36; i++)
    memcpy (shape.corners + 3 * (size_t)i,
            lw_mesh_get_points (mesh) + 3 * (size_t)lw_mesh_get_triangles (mesh)[i],
            3 * sizeof (float));
  return shape;
}

/* A ring (torus) about Z with a wavy tube: closed, curved both ways, and where it is cheap to say
 * which triangle comes next. across × around quads of two triangles. */
static inline void
shape_ring_point (uint32_t i, uint32_t j, uint32_t across, uint32_t around, double wave, float *out)
{
  double a = 2 * G_PI * i / across, b = 2 * G_PI * j / around;
  double r = 300 + wave * sin (9 * a) * cos (7 * b);

  out[0] = (float)((1000 + r * cos (b)) * cos (a));
  out[1] = (float)((1000 + r * cos (b)) * sin (a));
  out[2] = (float)(r * sin (b));
}

static inline Shape
shape_ring (uint32_t across, uint32_t around, double wave)
{
  Shape shape = { g_new (float, (size_t)2 * across * around * 9), 2 * across * around };
  float *points = g_new (float, (size_t)3 * across * around), *at = shape.corners;

  for (uint32_t i = 0; i < across * around; i++)
    shape_ring_point (i / around, i % around, across, around, wave, points + 3 * (size_t)i);
  for (uint32_t i = 0; i < across; i++) {
    for (uint32_t j = 0; j < around; j++) {
      uint32_t i1 = (i + 1) % across, j1 = (j + 1) % around;
      uint32_t quad[6] = { i * around + j, i1 * around + j,  i1 * around + j1,
                           i * around + j, i1 * around + j1, i * around + j1 };

      for (int k = 0; k < 6; k++, at += 3)
        memcpy (at, points + 3 * (size_t)quad[k], 3 * sizeof (float));
    }
  }
  g_free (points);
  return shape;
}

/* A ball of unit radius × radius about the origin: an octahedron whose faces were divided. */
static inline Shape
shape_ball (double radius, int divisions)
{
  uint32_t n = 8u * (uint32_t)divisions * (uint32_t)divisions;
  Shape shape = { g_new (float, (size_t)9 * n), n };
  float *at = shape.corners;

  for (int face = 0; face < 8; face++) {
    double sx = face & 1 ? -1 : 1, sy = face & 2 ? -1 : 1, sz = face & 4 ? -1 : 1;
    bool turn = sx * sy * sz < 0;

    for (int i = 0; i < divisions; i++) {
      for (int j = 0; j < 2 * (divisions - i) - 1; j++) {
        int k = j / 2, grid[3][2] = { { i, k }, { i + 1, k }, { i, k + 1 } };

        if (j % 2) {
          grid[0][0] = i + 1;
          grid[0][1] = k;
          grid[1][0] = i + 1;
          grid[1][1] = k + 1;
        }
        for (int c = 0; c < 3; c++, at += 3) {
          const int *g = grid[turn ? 2 - c : c];
          LwVec3 p = lw_vec3_unit (lw_vec3 (sx * g[0], sy * g[1], sz * (divisions - g[0] - g[1])));

          at[0] = (float)(radius * p.x);
          at[1] = (float)(radius * p.y);
          at[2] = (float)(radius * p.z);
        }
      }
    }
  }
  return shape;
}

/* Binary STL of a shape, with a count in its head of the caller's. */
static inline GByteArray *
shape_to_binary (const Shape *shape, const char *head, uint32_t count)
{
  GByteArray *bytes = g_byte_array_new ();
  char first[84] = { 0 }, record[50] = { 0 };

  for (int i = 0; i < 80 && head[i]; i++)
    first[i] = head[i];
  count = GUINT32_TO_LE (count);
  memcpy (first + 80, &count, 4);
  g_byte_array_append (bytes, (guint8 *)first, 84);
  for (uint32_t i = 0; i < shape->n; i++) {
    memcpy (record + 12, shape->corners + 9 * (size_t)i, 36);
    g_byte_array_append (bytes, (guint8 *)record, 50);
  }
  return bytes;
}
