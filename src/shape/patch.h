/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "shape/mesh.h"

/* Marks in in_patch (one bool a triangle, all false at first) the triangle nearest to seed (mm, the
 * mesh's frame) and everything that is reached from it over edges whose two facets turn by no more
 * than crease_rad. */
void lw_patch_grow (LwMesh *mesh, LwVec3 seed_mm, double crease_rad, bool *in_patch);
