/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdbool.h>
#include <stdint.h>

#include "base/progress.h"
#include "base/vec.h"
#include "shape/weld.h"

/* A triangle mesh: immutable, reference-counted, shared between threads. Points stay float32 as the
 * file had them; everything that is asked comes out in double millimetres (file value × unit). */
typedef struct _LwMesh LwMesh;

/* What is known of a mesh. Counts are of what the file held. */
typedef struct {
  LwBox3 box;          /* mm */
  double area;         /* mm² of the kept triangles */
  double volume;       /* mm³, signed: negative when the facets point inwards; 0 unless closed */
  bool inward;         /* the facets point inwards: the volume is negative; of an open surface: seen
                          from every point of its box, as in a cavity */
  bool closed;         /* every edge is run as often one way as the other, so volume is defined */
  uint32_t open_edges; /* half-edges without their counterpart */
  uint32_t many_sided; /* edges with more than two triangles: solids that touch along an edge */
  uint32_t not_finite; /* triangles left out: NaN or infinite coordinates */
  uint32_t zero_area;  /* triangles left out: no area */
  uint32_t duplicates; /* triangles left out: the same three points as an earlier one, whichever
                          way round */
  uint32_t read;       /* triangles read, before anything was left out */
} LwMeshFacts;

/* One named piece of a mesh (an ASCII STL's solid): triangles [first, first + count). */
typedef struct {
  char *name; /* UTF-8 */
  uint32_t first, count;
} LwMeshPiece;

/* Takes corners of n_triangles × 9 floats (in file units), welds equal bits (−0 = 0), numbers
 * points by first appearance, leaves out and counts what is not finite, has no area or stands
 * twice, keeps the order of the rest. unit_mm: millimetres to one file unit. Pieces (may be NULL)
 * count triangles as read and are renumbered; both arrays are taken (g_free). */
LwMesh *lw_mesh_new (float *corners, uint32_t n_triangles, double unit_mm, LwMeshPiece *pieces,
                     uint32_t n_pieces);
LwMesh *lw_mesh_ref (LwMesh *mesh);
void lw_mesh_unref (LwMesh *mesh);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LwMesh, lw_mesh_unref)

/* The same from triangles as they lie in a file, not more than LW_MESH_MAX_TRIANGLES; corners are
 * borrowed, pieces taken. Steps progress by 8 × corners.n; NULL when cancelled. */
LwMesh *lw_mesh_new_from_corners (LwCorners corners, double unit_mm, LwMeshPiece *pieces,
                                  uint32_t n_pieces, LwProgress *progress);

/* A box of lengths size with its lower corner at the origin, 12 triangles. */
LwMesh *lw_mesh_new_block (LwVec3 size_mm);

const LwMeshFacts *lw_mesh_get_facts (const LwMesh *mesh);
uint32_t lw_mesh_get_n_points (const LwMesh *mesh);
uint32_t lw_mesh_get_n_triangles (const LwMesh *mesh);
double lw_mesh_get_unit_mm (const LwMesh *mesh);
uint32_t lw_mesh_get_n_pieces (const LwMesh *mesh);
const LwMeshPiece *lw_mesh_get_piece (const LwMesh *mesh, uint32_t piece);

/* Raw arrays: 3 floats a point in file units, 3 point numbers a triangle. Borrowed. */
const float *lw_mesh_get_points (const LwMesh *mesh);
const uint32_t *lw_mesh_get_triangles (const LwMesh *mesh);

static inline LwVec3
lw_mesh_point_at (const float *points, double unit_mm, uint32_t point)
{
  const float *p = points + 3 * (size_t)point;

  return (LwVec3){ p[0] * unit_mm, p[1] * unit_mm, p[2] * unit_mm };
}

/* The three corners, mm. */
void lw_mesh_get_corners (const LwMesh *mesh, uint32_t triangle, LwVec3 corners[3]);
/* Outward unit normal by winding; area in mm² (may be NULL). */
LwVec3 lw_mesh_get_normal (const LwMesh *mesh, uint32_t triangle, double *area);

/* ------------------------------------------------------------------------------------------------
 * What derives from a mesh is built once, on first use, and lives as long as the mesh. All are safe
 * from any thread. */

/* For edge i of triangle t (from corner i to corner i+1): the triangle across it, at [3 t + i], or
 * LW_NO_TRIANGLE on an open or many-sided edge. Known from the start. */
#define LW_NO_TRIANGLE UINT32_MAX
const uint32_t *lw_mesh_get_neighbors (LwMesh *mesh);

/* Bounding-volume tree (shape/tree.h). */
typedef struct _LwTree LwTree;
const LwTree *lw_mesh_get_tree (LwMesh *mesh);
