/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <assimp/cimport.h>
#include <assimp/postprocess.h>
#include <assimp/scene.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "bench.h"
#include "files/filebytes.h"
#include "files/meshfile.h"
#include "files/stl.h"
#include "shape/outline.h"
#include "shape/patch.h"
#include "shape/tree.h"
#include "shapes.h"

/* Meshes here are wavy rings: closed, curved, in the order in which a tessellator writes them. */
#define SIDE_5M 1581 /* 2 × 1581² = 4 999 122 triangles, a file of 250 MB */
#define N_5M    (2u * SIDE_5M * SIDE_5M)
#define WAVE    20

static void
insist (bool right, const char *what)
{
  if (right)
    return;
  fprintf (stderr, "bench-mesh: %s\n", what);
  abort ();
}

/* ------------------------------------------------------------------------------------------------
 * The file, written row by row so that its writing takes no memory to speak of. It is read again
 * and again, so it is warm. */

static void
write_row (FILE *file, uint32_t i)
{
  uint32_t i1 = (i + 1) % SIDE_5M;
  char *row = g_malloc0 (100 * SIDE_5M);

  for (uint32_t j = 0; j < SIDE_5M; j++) {
    uint32_t j1 = (j + 1) % SIDE_5M;
    char *at = row + 100 * (size_t)j;
    float quad[4][3];

    shape_ring_point (i, j, SIDE_5M, SIDE_5M, WAVE, quad[0]);
    shape_ring_point (i1, j, SIDE_5M, SIDE_5M, WAVE, quad[1]);
    shape_ring_point (i1, j1, SIDE_5M, SIDE_5M, WAVE, quad[2]);
    shape_ring_point (i, j1, SIDE_5M, SIDE_5M, WAVE, quad[3]);
    memcpy (at + 12, quad[0], 36);
    memcpy (at + 62, quad[0], 12);
    memcpy (at + 74, quad[2], 24);
  }
  insist (fwrite (row, 100, SIDE_5M, file) == SIDE_5M, "the file could not be written");
  g_free (row);
}

static void *
write_5m (void)
{
  char *path = NULL;
  int fd = g_file_open_tmp ("bench-XXXXXX.stl", &path, NULL);
  FILE *file = fdopen (fd, "wb");
  char head[84] = "wavy ring";
  uint32_t count = GUINT32_TO_LE (N_5M);

  insist (fd >= 0 && file, "no temporary file");
  memcpy (head + 80, &count, 4);
  fwrite (head, 1, sizeof head, file);
  for (uint32_t i = 0; i < SIDE_5M; i++)
    write_row (file, i);
  insist (fclose (file) == 0, "the file could not be written");
  return path;
}

static void
remove_5m (void *prepared)
{
  g_unlink (prepared);
  g_free (prepared);
}

/* ------------------------------------------------------------------------------------------------
 * Reading. */

/* Read, welded and known: box, area, volume, faults. */
static double
read_5m (void *prepared)
{
  g_autoptr (GPtrArray) warnings = g_ptr_array_new_with_free_func (g_free);
  LwFileBytes file;
  LwMesh *mesh;

  insist (lw_file_bytes_read (&file, prepared, NULL), "the file could not be read");
  mesh = lw_stl_parse ("ring", file.bytes, file.size, 1, warnings, NULL, NULL);
  insist (mesh && lw_mesh_get_n_triangles (mesh) == N_5M, "triangles are missing");
  insist (lw_mesh_get_n_points (mesh) == N_5M / 2, "not all points were welded");
  insist (lw_mesh_get_facts (mesh)->closed, "the ring is not closed");
  lw_file_bytes_clear (&file);
  lw_mesh_unref (mesh);
  return N_5M;
}

/* The same with the SHA-256 and the tree: what opening a job takes. */
static double
load_5m (void *prepared)
{
  LwMeshFile file;

  insist (lw_mesh_file_load (&file, prepared, 1, NULL, NULL), "the file could not be loaded");
  insist (lw_mesh_get_tree (file.mesh)->n_triangles == N_5M, "the tree lacks triangles");
  lw_mesh_file_clear (&file);
  return N_5M;
}

static double
read_5m_with_assimp (void *prepared)
{
  const struct aiScene *scene = aiImportFile (prepared, aiProcess_JoinIdenticalVertices);

  insist (scene && scene->mNumMeshes == 1 && scene->mMeshes[0]->mNumFaces == N_5M,
          "assimp did not read the file");
  insist (scene->mMeshes[0]->mNumVertices < 2 * N_5M, "assimp did not join");
  aiReleaseImport (scene);
  return N_5M;
}

typedef struct {
  double seconds, megabytes;
} Cost;

/* Once, in a process of its own. */
static Cost
measure_apart (double (*work) (void *), void *prepared)
{
  struct rusage usage;
  double seconds;
  int ends[2], status;
  pid_t child;

  insist (pipe (ends) == 0, "no pipe");
  fflush (stdout);
  child = fork ();
  if (child == 0) {
    gint64 start = g_get_monotonic_time ();

    work (prepared);
    seconds = (double)(g_get_monotonic_time () - start) / G_USEC_PER_SEC;
    insist (write (ends[1], &seconds, sizeof seconds) == sizeof seconds, "no pipe");
    _exit (0);
  }
  insist (child > 0 && wait4 (child, &status, 0, &usage) == child && status == 0, "a child failed");
  insist (read (ends[0], &seconds, sizeof seconds) == sizeof seconds, "no pipe");
  close (ends[0]);
  close (ends[1]);
  return (Cost){ seconds, (double)usage.ru_maxrss / 1024 };
}

/* Side by side; answers how many times as fast. */
static double
against_assimp (void *prepared)
{
  Cost ours = measure_apart (read_5m, prepared);
  Cost theirs = measure_apart (read_5m_with_assimp, prepared);

  fprintf (stderr,
           "mesh/against-assimp: %.2f s and %.0f MB beside %.2f s and %.0f MB: %.1f times as fast "
           "with 1/%.1f of the memory\n",
           ours.seconds, ours.megabytes, theirs.seconds, theirs.megabytes,
           theirs.seconds / ours.seconds, theirs.megabytes / ours.megabytes);
  return theirs.seconds / ours.seconds;
}

/* ------------------------------------------------------------------------------------------------
 * What derives from a mesh. */

static void *
make_ring (uint32_t side)
{
  Shape shape = shape_ring (side, side, WAVE);
  LwMesh *mesh = shape_to_mesh (&shape);

  shape_clear (&shape);
  return mesh;
}

static void *
make_1m (void)
{
  return make_ring (707);
}

static void *
make_500k (void)
{
  return make_ring (500);
}

static void
drop (void *prepared)
{
  lw_mesh_unref (prepared);
}

static double
grow_tree (void *prepared)
{
  LwTree *tree = lw_tree_new (prepared);
  double n = tree->n_triangles;

  lw_tree_free (tree);
  return n;
}

static double
draw_outline (void *prepared)
{
  LwLines visible, hidden;

  lw_outline_compute (prepared, lw_mat3_turn (lw_vec3_unit (lw_vec3 (1, 1, 0)), 0.9),
                      lw_vec3 (0, 0, 0), lw_radians (25), &visible, &hidden);
  insist (visible.n_lines > 1000 && hidden.n_lines > 100, "lines are missing");
  lw_lines_clear (&visible);
  lw_lines_clear (&hidden);
  return lw_mesh_get_n_triangles (prepared);
}

static double
cut_section (void *prepared)
{
  LwLines lines;

  lw_section_compute (prepared, lw_mat3_identity (), lw_vec3 (0, 0, 0), lw_vec3 (0, 1, 0), 3,
                      lw_vec3 (1, 0, 0), lw_vec3 (0, 0, 1), &lines);
  insist (lines.n_lines > 1000, "lines are missing");
  lw_lines_clear (&lines);
  return lw_mesh_get_n_triangles (prepared);
}

static double
find_nearest (void *prepared)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  int n = 20000;

  for (int i = 0; i < n; i++) {
    LwVec3 p =
        lw_vec3 (g_rand_double_range (rand, -1300, 1300), g_rand_double_range (rand, -1300, 1300),
                 g_rand_double_range (rand, -300, 300));

    insist (lw_patch_nearest (prepared, p, NULL) != LW_NO_TRIANGLE, "nothing is nearest");
  }
  return n;
}

const BenchScene bench_mesh[] = {
  { "mesh/read-5m", "triangles", write_5m, read_5m, remove_5m, 5 },
  { "mesh/load-5m-sha256-tree", "triangles", write_5m, load_5m, remove_5m, 5 },
  { "mesh/against-assimp", "times as fast", write_5m, against_assimp, remove_5m, 1 },
  { "mesh/tree-1m", "triangles", make_1m, grow_tree, drop, 9 },
  { "mesh/outline-500k", "triangles", make_500k, draw_outline, drop, 15 },
  { "mesh/section-500k", "triangles", make_500k, cut_section, drop, 15 },
  { "mesh/nearest-500k", "points", make_500k, find_nearest, drop, 5 },
  { 0 },
};
