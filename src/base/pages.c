/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/pages.h"

#include <glib.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

#define SMALL ((size_t)1 << 18)

void *
lw_pages_new (size_t bytes)
{
  void *pages;

  if (bytes < SMALL) {
    size_t lines = (bytes + 64) / 64 * 64;

    pages = aligned_alloc (64, lines);
    g_assert (pages);
    return memset (pages, 0, lines);
  }
  pages = mmap (NULL, bytes, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (pages == MAP_FAILED)
    g_error ("out of memory: %" G_GSIZE_FORMAT " bytes", bytes);
  /* A hint: without huge pages it is only slower. */
  (void)madvise (pages, bytes, MADV_HUGEPAGE);
  return pages;
}

void
lw_pages_free (void *pages, size_t bytes)
{
  if (!pages)
    return;
  if (bytes < SMALL)
    free (pages);
  else
    munmap (pages, bytes);
}
