/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>

/* The path of a file in a folder of sample files that need not exist: LEEWAY_SHARED, or "shared"
 * beside the checkout. NULL where it does not; the test then goes on without it (no skip: what it
 * must prove it proves with files of its own). Free with g_free. */
static inline char *
test_sample (const char *name)
{
  const char *shared = g_getenv ("LEEWAY_SHARED");
  char *path = shared != NULL
                   ? g_build_filename (shared, name, NULL)
                   : g_test_build_filename (G_TEST_DIST, "..", "..", "shared", name, NULL);
  if (g_file_test (path, G_FILE_TEST_EXISTS))
    return path;
  g_test_message ("no sample %s", path);
  g_free (path);
  return NULL;
}
