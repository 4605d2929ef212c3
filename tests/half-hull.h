/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "base/sha256.h"
#include "job/job.h"

/* The example job of docs/files.md on a mesh made here: half an ellipsoid of 2600 × 1100 × 400 mm,
 * deck down on z = 0, its lower corner at the origin. */

#define HALF_HULL_LENGTH 2600.0
#define HALF_HULL_WIDTH  1100.0
#define HALF_HULL_HEIGHT 400.0

typedef struct {
  char *folder;
  char *mesh; /* path of half-hull.stl */
  char *path; /* path of half-hull.leeway */
} HalfHull;

static inline LwVec3
half_hull_point (int i, int j, int n)
{
  double azimuth = 2 * LW_PI * (i % n) / n, height = LW_PI / 2 * j / n;

  return lw_vec3 (HALF_HULL_LENGTH / 2 * (1 + cos (height) * cos (azimuth)),
                  HALF_HULL_WIDTH / 2 * (1 + cos (height) * sin (azimuth)),
                  j == n ? HALF_HULL_HEIGHT : HALF_HULL_HEIGHT * sin (height));
}

static inline void
half_hull_put (GByteArray *stl, LwVec3 a, LwVec3 b, LwVec3 c)
{
  const float numbers[] = {
    0,          0,          0,          (float)a.x, (float)a.y, (float)a.z,
    (float)b.x, (float)b.y, (float)b.z, (float)c.x, (float)c.y, (float)c.z
  };
  const guint16 attribute = 0;
  guint32 count;

  g_byte_array_append (stl, (const guint8 *)numbers, sizeof numbers);
  g_byte_array_append (stl, (const guint8 *)&attribute, sizeof attribute);
  memcpy (&count, stl->data + 80, sizeof count);
  count++;
  memcpy (stl->data + 80, &count, sizeof count);
}

/* A binary STL, closed. */
static inline GByteArray *
half_hull_make_stl (int n)
{
  GByteArray *stl = g_byte_array_new ();
  LwVec3 middle = { HALF_HULL_LENGTH / 2, HALF_HULL_WIDTH / 2, 0 };

  g_byte_array_set_size (stl, 84);
  memset (stl->data, 0, 84);
  for (int i = 0; i < n; i++) {
    half_hull_put (stl, middle, half_hull_point (i + 1, 0, n), half_hull_point (i, 0, n));
    for (int j = 0; j < n; j++) {
      LwVec3 a = half_hull_point (i, j, n), b = half_hull_point (i + 1, j, n);
      LwVec3 c = half_hull_point (i + 1, j + 1, n), d = half_hull_point (i, j + 1, n);

      if (j + 1 < n) {
        half_hull_put (stl, a, b, c);
        half_hull_put (stl, a, c, d);
      } else {
        half_hull_put (stl, a, b, lw_vec3 (middle.x, middle.y, HALF_HULL_HEIGHT));
      }
    }
  }
  return stl;
}

static inline void
half_hull_write (const char *path, const void *bytes, gsize size)
{
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, (const char *)bytes, (gssize)size, &error);
  g_assert_no_error (error);
}

/* Text of the example job, for a mesh of that SHA-256. */
static inline char *
half_hull_dup_text (const char *sha256)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "half-hull.leeway.in", NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) halves = NULL;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  halves = g_strsplit (text, "@sha256@", 2);
  g_assert_cmpint (g_strv_length (halves), ==, 2);
  return g_strjoin (sha256, halves[0], halves[1], NULL);
}

/* Mesh and job in a fresh folder. */
static inline void
half_hull_set_up (HalfHull *hull)
{
  g_autoptr (GByteArray) stl = half_hull_make_stl (24);
  g_autofree char *text = NULL;
  char sha256[65];

  lw_sha256 (stl->data, stl->len, sha256);
  text = half_hull_dup_text (sha256);
  hull->folder = g_dir_make_tmp ("leeway-test-XXXXXX", NULL);
  g_assert_nonnull (hull->folder);
  hull->mesh = g_build_filename (hull->folder, "half-hull.stl", NULL);
  hull->path = g_build_filename (hull->folder, "half-hull.leeway", NULL);
  half_hull_write (hull->mesh, stl->data, stl->len);
  half_hull_write (hull->path, text, strlen (text));
}

static inline void
half_hull_remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL) {
    g_autofree char *inside = g_build_filename (path, name, NULL);

    half_hull_remove_tree (inside);
  }
  g_remove (path);
}

static inline void
half_hull_clear (HalfHull *hull)
{
  half_hull_remove_tree (hull->folder);
  g_free (hull->folder);
  g_free (hull->mesh);
  g_free (hull->path);
}

/* The job, with its mesh read. */
static inline LwJob *
half_hull_load (const HalfHull *hull, LwMeshStore *store)
{
  g_autoptr (GError) error = NULL;
  LwJob *job = lw_job_load (hull->path, store, true, NULL, &error);

  g_assert_no_error (error);
  g_assert_nonnull (job);
  return job;
}
