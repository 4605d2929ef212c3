/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/error.h"
#include "files/program.h"

/* CL data as text: statements in the words of ISO 4342 and ISO 4343 (docs/programs.md says which,
 * and how each is read). name stands for the file in messages. unit_mm: millimetres to a unit, for
 * files without a UNITS statement; 0 when nobody told, which then is an error, as is a UNITS that
 * says another. Every error is LW_ERROR_DATA and names file and line. */
LwProgram *lw_cldata_parse (const char *name, const char *bytes, gsize size, double unit_mm,
                            GError **error);

/* Whether bytes look like CL data, without reading them all. */
bool lw_cldata_is_likely (const char *bytes, gsize size);
