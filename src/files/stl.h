/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/error.h"
#include "shape/mesh.h"

/* STL, binary and ASCII, from memory. name stands for the file in messages; warnings collects
 * sentences (char *, g_free) about the file's form; what the mesh itself lacks is in its facts.
 *
 * Binary when the size is that of the count in its head, whatever the head begins with; else ASCII
 * when it reads as text that begins with "solid"; else binary with a wrong count. The size decides
 * how many triangles there are, never the count. */
LwMesh *lw_stl_parse (const char *name, const char *bytes, gsize size, double unit_mm,
                      GPtrArray *warnings, LwProgress *progress, GError **error);
