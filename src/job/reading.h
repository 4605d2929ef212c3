/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/json.h"
#include "job/job.h"

/* Private to src/job.
 *
 * Reads that several parts of a job share. Each records its error in the reader. */

/* value made a unit vector in *unit; false where it is shorter than LW_DIRECTION_MIN. */
bool lw_make_direction (LwVec3 value, LwVec3 *unit);

/* A needed direction, made a unit vector; shorter than LW_DIRECTION_MIN is an error. */
LwVec3 lw_read_direction (LwIn *in, const char *key);

/* Three needed lengths, mm, each above 0 and not above LW_FAR_MM. */
LwVec3 lw_read_size (LwIn *in, const char *key);

/* 64 hexadecimal digits, brought to lower case; NULL when absent. New string. */
char *lw_read_sha256_or_null (LwIn *in, const char *key);

/* A text that is not empty; NULL when absent. New string. */
char *lw_read_text_or_null (LwIn *in, const char *key);

/* A length of 0 … LW_FAR_MM. */
double lw_read_length_or (LwIn *in, const char *key, double absent_mm);

/* Points, none further than LW_FAR_MM from the origin; new array, NULL when absent. */
LwVec3 *lw_read_places (LwIn *in, const char *key, int *n, bool need);

/* {"low", "high"} in degrees between −limit and limit, low not above high; given back in radians.
 * Answers whether it is there. */
bool lw_read_range_deg (LwIn *in, const char *key, double limit, double *low, double *high);

/* Index of id among n_ids known so far, or −1. NULL is never among them. */
int lw_find_name (const char *const *names, int n_names, const char *name);

/* An error at key when name is among the names read so far ("… is used twice"). */
void lw_read_expect_new (LwIn *in, const char *key, const char *const *names, int n_names,
                         const char *name);

/* “a”, “b” for a message; the text for none when there is none. New string. */
char *lw_list_names (const char *const *names, int n_names, const char *none);

/* What of a job is shared when it is read again after an edit. */
typedef struct {
  const char *folder;
  LwMeshStore *store;
  bool wait;
  LwProgress *progress;
  const LwJob *earlier; /* or NULL */
} LwJobReading;

void lw_part_read (LwPart *part, LwIn *in, JsonNode *node, const LwJobReading *reading);
void lw_part_clear (LwPart *part);
/* Asks the store again; answers whether the entry became another. */
bool lw_part_refresh_mesh (LwPart *part, const LwJobReading *reading);
/* Gets the tool path of a rule `program`; the second asks the store again and answers whether the
 * entry became another. */
void lw_operation_attach_program (LwOperation *operation, const LwJobReading *reading);
bool lw_operation_refresh_program (LwOperation *operation, const LwJobReading *reading);
/* Reads set-up index of the job, whose machine, parts, tools and earlier set-ups are there. */
void lw_setup_read (LwSetup *setup, LwIn *in, const LwJob *job, int index,
                    const LwJobReading *reading);
void lw_setup_clear (LwSetup *setup);

/* lw_job_read() with what an earlier job shares. */
LwJob *lw_job_read_tree (const char *name, JsonNode *node, const LwJobReading *reading,
                         GError **error);

/* path, which is absolute, as seen from folder ("../meshes/hull.stl"); absolute where they share
 * nothing but the root. New string. */
char *lw_path_make_relative (const char *path, const char *folder);
