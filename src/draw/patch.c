/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/patch.h"

#include <string.h>

void
lw_patch_clear (LwPatch *patch)
{
  lw_path_clear (&patch->face);
  lw_path_clear (&patch->rim);
}

typedef struct {
  LwMesh *mesh;
  const uint32_t *corners, *neighbors;
  uint8_t *state; /* of each triangle: 0 not in the patch, 1 seen from outside, 2 from inside */
  LwPoint *points;
  GArray *face, *rim; /* LwEdge */
} Build;

static LwPoint *
project_points (LwMesh *mesh, LwMat3 turn, LwSeen seen)
{
  uint32_t n = lw_mesh_get_n_points (mesh);
  const float *p = lw_mesh_get_points (mesh);
  double unit = lw_mesh_get_unit_mm (mesh);
  LwVec3 right = lw_mat3_apply_transposed (turn, lw_vec3 (1, 0, 0));
  LwVec3 up = lw_mat3_apply_transposed (turn, seen == LW_SEEN_FROM_ABOVE ? lw_vec3 (0, 1, 0)
                                                                         : lw_vec3 (0, 0, 1));
  LwPoint *points = g_new (LwPoint, n);

  right = lw_vec3_scale (right, unit);
  up = lw_vec3_scale (up, unit);
  for (uint32_t i = 0; i < n; i++, p += 3)
    points[i] = (LwPoint){ right.x * p[0] + right.y * p[1] + right.z * p[2],
                           up.x * p[0] + up.y * p[1] + up.z * p[2] };
  return points;
}

static uint8_t
get_state (const Build *b, uint32_t triangle)
{
  const uint32_t *c = b->corners + 3 * (size_t)triangle;
  LwPoint p = b->points[c[0]], q = b->points[c[1]], r = b->points[c[2]];

  return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x) >= 0 ? 1 : 2;
}

/* Every triangle is run counter-clockwise in the picture; edges run both ways cancel. What is left
 * bounds the patch as a sum: the winding number of a place is the number of triangles that cover
 * it. */
static void
add_triangle (Build *b, uint32_t triangle)
{
  const uint32_t *c = b->corners + 3 * (size_t)triangle;
  uint8_t state = b->state[triangle];

  for (int i = 0; i < 3; i++) {
    uint32_t other = b->neighbors[3 * (size_t)triangle + i], from = c[i], to = c[(i + 1) % 3];
    uint8_t beyond = other == LW_NO_TRIANGLE ? 0 : b->state[other];
    LwEdge edge = state == 1 ? (LwEdge){ from, to } : (LwEdge){ to, from };

    if (beyond != state)
      g_array_append_val (b->face, edge);
    if (beyond == 0)
      g_array_append_val (b->rim, edge);
  }
}

static LwPath
make_rim (const Build *b)
{
  LwLines lines = { g_new (double, 4 * MAX (1, b->rim->len)), b->rim->len };
  LwPath path;

  for (guint i = 0; i < b->rim->len; i++) {
    LwEdge edge = g_array_index (b->rim, LwEdge, i);
    LwPoint p = b->points[edge.from], q = b->points[edge.to];

    memcpy (lines.points + 4 * i, (double[]){ p.x, p.y, q.x, q.y }, 4 * sizeof (double));
  }
  path = lw_path_chain_lines (&lines);
  g_free (lines.points);
  return path;
}

void
lw_patch_compute (LwMesh *mesh, LwMat3 turn, LwSeen seen, const uint32_t *triangles,
                  uint32_t n_triangles, LwPatch *patch)
{
  uint32_t n = lw_mesh_get_n_triangles (mesh), count = triangles != NULL ? n_triangles : n;
  Build b = { .mesh = mesh,
              .corners = lw_mesh_get_triangles (mesh),
              .neighbors = lw_mesh_get_neighbors (mesh),
              .state = g_new0 (uint8_t, MAX (1, n)),
              .points = project_points (mesh, turn, seen),
              .face = g_array_new (FALSE, FALSE, sizeof (LwEdge)),
              .rim = g_array_new (FALSE, FALSE, sizeof (LwEdge)) };

  for (uint32_t i = 0; i < count; i++) {
    uint32_t triangle = triangles != NULL ? triangles[i] : i;

    b.state[triangle] = get_state (&b, triangle);
  }
  for (uint32_t i = 0; i < count; i++)
    add_triangle (&b, triangles != NULL ? triangles[i] : i);
  patch->face = lw_path_chain_loops ((LwEdge *)b.face->data, b.face->len, b.points);
  patch->rim = make_rim (&b);
  g_array_unref (b.face);
  g_array_unref (b.rim);
  g_free (b.points);
  g_free (b.state);
}
