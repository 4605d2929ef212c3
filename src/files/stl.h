/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/error.h"
#include "shape/mesh.h"

/* STL, binary and ASCII, from memory. name stands for the file in messages; warnings collects
 * sentences (char *, g_free). */
LwMesh *lw_stl_parse (const char *name, const char *bytes, gsize size, double unit_mm,
                      GPtrArray *warnings, LwProgress *progress, GError **error);
