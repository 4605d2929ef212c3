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

/* Reads a number at the start of a word of size bytes (decimal point in every locale; "nan", "inf",
 * "1.#INF" and what is too large are not finite). Correctly rounded to double, then to float, as
 * strtod and a cast do. Answers false when the word is no number. */
bool lw_stl_number (const char *word, gsize size, float *value);
