/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "shape/mesh.h"

/* Line drawings of a mesh. Lines come as pairs of points: 2 n_lines points of 2 doubles each, mm,
 * in the picture's own axes. */
typedef struct {
  double *points; /* x0 y0 x1 y1, … */
  uint32_t n_lines;
} LwLines;

void lw_lines_clear (LwLines *lines);

/* The visible outline seen along a direction: edges between a facet that faces the viewer and one
 * that does not (silhouette by sign), and edges sharper than crease_rad between two facing facets,
 * without what a coarse depth raster of the view hides (shape/raster.h: right to some pixels of
 * 1024 along the longer side), which goes to hidden. Open edges are drawn like a silhouette.
 * place maps part to picture space (rotation), at is added; the picture's axes are x, y of the
 * placed frame and the viewer looks down its −z. hidden may be NULL. */
void lw_outline_compute (LwMesh *mesh, LwMat3 place, LwVec3 at, double crease_rad, LwLines *visible,
                         LwLines *hidden);

/* The cut of a placed mesh with the plane n·p = d: lines in the plane, given as 3-D points
 * projected on the picture axes right and up (unit vectors in the plane). Chained so that
 * consecutive lines share ends, bit by bit; a chain closes where the mesh is closed (a many-sided
 * edge cuts it in two). Material is on the left, seen against n, where facets point outwards: outer
 * loops run counter-clockwise when right × up = n. What lies in the plane counts as above it. */
void lw_section_compute (LwMesh *mesh, LwMat3 place, LwVec3 at, LwVec3 normal, double d,
                         LwVec3 right, LwVec3 up, LwLines *lines);
