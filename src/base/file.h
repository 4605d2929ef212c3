/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/error.h"

/* The bytes of a file, new, with a zero byte behind them; LW_ERROR_MISSING when it can't be read.
 */
bool lw_file_load (const char *path, char **bytes, gsize *size, GError **error);

/* Writes atomically and durably: a temporary file beside it, fsync, rename, fsync of the folder. A
 * link is followed, the mode of an old file kept. On failure LW_ERROR_WRITE says why and the old
 * file is untouched (but where only the folder's fsync fails: then it is the new one, and the
 * message says that a power cut may lose it). What is no ordinary file is refused. */
bool lw_file_save (const char *path, const char *bytes, gsize size, GError **error);
