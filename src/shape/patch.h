/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "shape/mesh.h"

/* A patch: what a person means by pointing at a face. Marks in in_patch (one a triangle) the
 * triangle nearest to the seed (mm, the mesh's frame) and all that is reached from it over edges
 * whose two facets turn by no more than crease_rad, either way; the others are unmarked. Open and
 * many-sided edges end it. Answers false for a mesh without triangles. */
bool lw_patch_grow (LwMesh *mesh, LwVec3 seed_mm, double crease_rad, bool *in_patch);

/* The triangle nearest to a point (of several, the lowest number), LW_NO_TRIANGLE for a mesh
 * without any; its distance in mm (may be NULL). */
uint32_t lw_patch_nearest (LwMesh *mesh, LwVec3 point_mm, double *distance_mm);

/* Distance of a point to a triangle, which may be thin but not without area. */
double lw_triangle_distance (const LwVec3 corners[3], LwVec3 point);
