/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "shape/mesh.h"

/* Fills box, area, volume and inward of the facts of a mesh whose edges are known. Sums are added
 * in chunk order. Answers false when cancelled; steps progress by the mesh's triangles. */
bool lw_mesh_measure (const LwMesh *mesh, LwMeshFacts *facts, LwProgress *progress);

/* Twice the area along the normal, in file units: differences of floats are exact there, so it is
 * not zero for any triangle that was kept. */
LwVec3 lw_mesh_get_file_normal (const LwMesh *mesh, uint32_t triangle);
