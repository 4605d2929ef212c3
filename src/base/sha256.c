/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/sha256.h"

#include <glib.h>
#include <string.h>

void
lw_sha256 (const void *bytes, size_t size, char hex[65])
{
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);
  const guchar *at = bytes;

  for (size_t left = size; left > 0;) {
    size_t step = MIN (left, (size_t)1 << 30);
    g_checksum_update (checksum, at, (gssize)step);
    at += step;
    left -= step;
  }
  memcpy (hex, g_checksum_get_string (checksum), 65);
}
