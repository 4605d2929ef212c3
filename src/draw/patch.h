/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "draw/path.h"
#include "draw/scene.h"

/* A set of triangles seen along an axis: what it covers, and its rim, in a picture's axes, mm, the
 * part's `at` at the origin. */
typedef struct {
  LwPath face; /* closed; fill by the nonzero rule */
  LwPath rim;  /* edges beyond which the set does not go on */
} LwPatch;

/* Face and rim of triangles (all of them for NULL). */
void lw_patch_compute (LwMesh *mesh, LwMat3 turn, LwSeen seen, const uint32_t *triangles,
                       uint32_t n_triangles, LwPatch *patch);
void lw_patch_clear (LwPatch *patch);
