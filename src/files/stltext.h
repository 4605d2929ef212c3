/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/error.h"
#include "shape/mesh.h"

/* Whether bytes read as text that begins with the word "solid". */
bool lw_stl_is_text (const char *bytes, gsize size);
/* Whether the first bytes hold nothing but characters of a text. */
bool lw_stl_has_text_only (const char *bytes, gsize size);

/* ASCII STL: words and numbers divided by blanks of any kind, keywords in any case, any number of
 * solids. Latin-1 names become UTF-8. */
LwMesh *lw_stl_parse_text (const char *name, const char *bytes, gsize size, double unit_mm,
                           GPtrArray *warnings, LwProgress *progress, GError **error);
