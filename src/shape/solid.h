/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/json.h"
#include "base/vec.h"
#include "shape/mesh.h"

typedef enum {
  LW_SOLID_BOX,
  LW_SOLID_CYLINDER, /* flat ends */
  LW_SOLID_FRUSTUM,
  LW_SOLID_SPHERE,
  LW_SOLID_CAPSULE,
  LW_SOLID_HULL,
  LW_SOLID_MESH,
} LwSolidKind;

/* A solid as its file gives it, mm, placed by rotation and at in the frame of what carries it. */
typedef struct {
  LwSolidKind kind;
  LwMat3 rotation;
  LwVec3 at;
  LwVec3 a, b;     /* box: lower and upper corner; cylinder, frustum, capsule: from and to; sphere:
                      center in a */
  double r_a, r_b; /* radii at a and b; equal but for a frustum */
  LwVec3 *points;  /* hull; owned */
  int n_points;
  char *file, *sha256; /* mesh; owned */
  double unit_mm;      /* mesh */
} LwSolid;

/* Reads member key (FORMATS: {"kind": …}). */
void lw_solid_read (LwSolid *solid, LwIn *in, const char *key);
void lw_solid_clear (LwSolid *solid);
/* Its box in the frame of what carries it; empty for a mesh solid. */
LwBox3 lw_solid_get_box (const LwSolid *solid);

/* A needed point, mm, no further than LW_FAR_MM from the origin. */
LwVec3 lw_in_place (LwIn *in, const char *key);
