/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/error.h"
#include "shape/mesh.h"

/* A mesh read from a file, with all that a person should know of the reading. */
typedef struct {
  LwMesh *mesh;
  char sha256[65];
  char **warnings; /* NULL-terminated, translated, each a sentence; never NULL */
} LwMeshFile;

void lw_mesh_file_clear (LwMeshFile *file);

/* "mm", "in", "m", "cm", "ft" … to millimetres; 0 for a word we don't know. */
double lw_length_unit_to_mm (const char *word);

/* Reads a mesh in whatever format we know (today STL, also gzipped: .stl.gz). unit_mm: millimetres
 * to a file unit, told by the caller, never guessed; 0: not told, and "mm" are file units then.
 * Errors name the file and what was expected. */
bool lw_mesh_file_load (LwMeshFile *file, const char *path, double unit_mm, LwProgress *progress,
                        GError **error);
