/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "job/job.h"

/* Jobs and meshes made for tests. */

/* A binary STL of a lat-long ellipsoid with half axes a, b, c about center, rows × 2 rows quads. */
void jobs_write_ellipsoid (const char *path, int rows, LwVec3 half, LwVec3 center);
/* A binary STL of a box. */
void jobs_write_block (const char *path, LwVec3 low, LwVec3 high);

/* Reads the text of a job, in which ` stands for " (so that C strings stay legible); file names are
 * relative to folder. Aborts with the message when it is no job. */
LwJob *jobs_read (const char *folder, const char *text);

/* A folder of its own for a test; removed with jobs_remove_folder(). New string. */
char *jobs_make_folder (void);
void jobs_remove_folder (char *folder);
