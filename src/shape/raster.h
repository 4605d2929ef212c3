/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "shape/mesh.h"

/* A coarse picture of how near the surface of a mesh comes to a viewer who looks down −z, one pixel
 * a place: enough to say what is well hidden. */

#define LW_RASTER_PIXELS 1024 /* along the longer side of the picture */

typedef struct {
  int width, height;
  double left, bottom; /* mm; of the corner of pixel 0, 0 */
  double per_mm;       /* pixels to a millimeter */
  float *depths;       /* z in mm, −∞ where there is nothing; rows from the bottom */
} LwRaster;

/* Draws the triangles whose drawn is not 0 (all where it is NULL); points are the mesh's in the
 * viewer's frame, mm. Pixels belong to what covers their centers. */
LwRaster *lw_raster_new (const LwMesh *mesh, const LwVec3 *points, const uint8_t *drawn);
void lw_raster_free (LwRaster *raster);

/* Every pixel takes the furthest of itself and the eight around it: what is left lies behind
 * everything that comes near, so no edge is hidden by the surface that it bounds. */
void lw_raster_erode (LwRaster *raster);

/* Whether a place lies deeper than the eroded surface by more than LW_HIDDEN_PIXELS pixels. */
bool lw_raster_hides (const LwRaster *raster, LwVec3 place);
