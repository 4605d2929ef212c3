/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/error.h"
#include "files/program.h"

/* Reads a tool path in whatever format we know (today CL data in words). unit_mm: millimetres to a
 * unit, for files that don't say; 0: not told. sha256 gets that of the file. Errors name the file
 * and what was expected. */
LwProgram *lw_program_load (const char *path, double unit_mm, char sha256[65], GError **error);

/* Whether the file is a tool path by its content; an error only when it can't be read. */
bool lw_program_is_likely (const char *path, bool *likely, GError **error);
