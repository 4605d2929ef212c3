/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "jobs.h"

#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>

static void
put_triangle (FILE *file, LwVec3 a, LwVec3 b, LwVec3 c)
{
  LwVec3 all[4] = { { 0, 0, 0 }, a, b, c };
  const char attribute[2] = { 0, 0 };

  for (int i = 0; i < 4; i++) {
    float narrow[3] = { (float)all[i].x, (float)all[i].y, (float)all[i].z };

    fwrite (narrow, sizeof narrow, 1, file);
  }
  fwrite (attribute, 2, 1, file);
}

static FILE *
begin_stl (const char *path, guint32 n)
{
  FILE *file = g_fopen (path, "wb");
  char header[80] = "made by a test";

  g_assert_nonnull (file);
  fwrite (header, sizeof header, 1, file);
  fwrite (&n, sizeof n, 1, file);
  return file;
}

void
jobs_write_ellipsoid (const char *path, int rows, LwVec3 half, LwVec3 center)
{
  int columns = 2 * rows;
  FILE *file = begin_stl (path, (guint32)(2 * columns * (rows - 1)));

  for (int i = 0; i < rows; i++)
    for (int k = 0; k < columns; k++) {
      LwVec3 p[2][2];

      for (int di = 0; di < 2; di++)
        for (int dk = 0; dk < 2; dk++) {
          double polar = LW_PI * (i + di) / rows,
                 round = 2 * LW_PI * ((k + dk) % columns) / columns;
          double ring = i + di == 0 || i + di == rows ? 0 : sin (polar);

          p[di][dk] =
              lw_vec3 (center.x + half.x * ring * cos (round),
                       center.y + half.y * ring * sin (round), center.z + half.z * cos (polar));
        }
      if (i > 0)
        put_triangle (file, p[0][0], p[1][1], p[0][1]);
      if (i < rows - 1)
        put_triangle (file, p[0][0], p[1][0], p[1][1]);
    }
  fclose (file);
}

void
jobs_write_block (const char *path, LwVec3 low, LwVec3 high)
{
  FILE *file = begin_stl (path, 12);

  for (int axis = 0; axis < 3; axis++)
    for (int side = 0; side < 2; side++) {
      int u = (axis + 1) % 3, v = (axis + 2) % 3;
      LwVec3 p[4];

      for (int i = 0; i < 4; i++) {
        p[i] = side ? high : low;
        lw_vec3_set (&p[i], u, lw_vec3_get (i == 1 || i == 2 ? high : low, u));
        lw_vec3_set (&p[i], v, lw_vec3_get (i >= 2 ? high : low, v));
      }
      put_triangle (file, p[0], p[side ? 1 : 2], p[side ? 2 : 1]);
      put_triangle (file, p[0], p[side ? 2 : 3], p[side ? 3 : 2]);
    }
  fclose (file);
}

LwJob *
jobs_read (const char *folder, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (LwMeshStore) store = lw_mesh_store_new ();
  g_autofree char *json = g_strdelimit (g_strdup (text), "`", '"');
  JsonNode *node = lw_json_parse ("test.leeway", json, strlen (json), &error);
  LwJob *job;

  g_assert_no_error (error);
  job = lw_job_read ("test.leeway", folder, node, store, true, NULL, &error);
  g_assert_no_error (error);
  json_node_unref (node);
  return job;
}

char *
jobs_make_folder (void)
{
  g_autoptr (GError) error = NULL;
  char *folder = g_dir_make_tmp ("leeway-XXXXXX", &error);

  g_assert_no_error (error);
  return folder;
}

void
jobs_remove_folder (char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL) {
    g_autofree char *path = g_build_filename (folder, name, NULL);

    g_remove (path);
  }
  g_rmdir (folder);
  g_free (folder);
}
