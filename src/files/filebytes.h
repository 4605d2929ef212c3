/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/error.h"
#include "base/progress.h"

/* A regular file's bytes, read into memory of our own: a file that another program writes to or
 * cuts short meanwhile can't change what was read. */
typedef struct {
  char *bytes; /* lw_pages of size */
  gsize size;
} LwFileBytes;

bool lw_file_bytes_read (LwFileBytes *file, const char *path, GError **error);
void lw_file_bytes_clear (LwFileBytes *file);

bool lw_file_bytes_are_gzip (const LwFileBytes *file);
/* Unpacks gzip; what grows beyond 250 times its size is refused. */
bool lw_file_bytes_unpack (const LwFileBytes *packed, LwFileBytes *unpacked, const char *name,
                           LwProgress *progress, GError **error);
