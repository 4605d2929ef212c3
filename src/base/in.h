/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <json-glib/json-glib.h>
#include <stdbool.h>

#include "base/error.h"
#include "base/vec.h"

/* LwIn: a strict reader over a parsed tree. It keeps the path to where it stands and the first
 * error; after an error every read answers a default and does nothing, so a reader of a record is a
 * straight list of reads with one look at the error at its end. Leaving an object reports the first
 * key that nobody asked for (but for those that begin with "x-"). Messages read
 *   job.leeway: machine.axes.B.high_deg: must be a number above -110, is "ninety"
 * Defaults after an error: 0, false, the value for absent, "" (new) for a needed string, index 0
 * for a needed word, NULL for what may be NULL. */

typedef struct _LwIn LwIn;

/* Begins at the root, which must be an object. name stands for the file, prefix for where the tree
 * hangs ("machine" or ""), both copied. */
LwIn *lw_in_new (const char *name, const char *prefix, JsonNode *root);

/* Ends the root object and frees. Answers whether all went well; moves the error out. */
bool lw_in_finish (LwIn *in, GError **error);

bool lw_in_failed (LwIn *in);

/* Records an error at the present place, or at key below it (NULL for the place itself). */
void lw_in_fail (LwIn *in, const char *key, const char *format, ...) G_GNUC_PRINTF (3, 4);

/* Path of key below the present place ("setups[0].name"); new string. */
char *lw_in_dup_path (LwIn *in, const char *key);

/* Whether the present object has key; counts as asking for it. */
bool lw_in_has (LwIn *in, const char *key);

/* Marks key as known and leaves its content alone. Borrowed node or NULL. */
JsonNode *lw_in_skip (LwIn *in, const char *key);

/* Steps into an object member; answers whether it did. need: absent is an error. */
bool lw_in_enter (LwIn *in, const char *key, bool need);
/* Back out of an object entered, or of an array's element. After an error it does nothing, so it
 * may follow an enter that failed (but not one that found nothing where nothing was needed). */
void lw_in_leave (LwIn *in);

/* Array members: the count, or 0 when absent (an error with need). Then lw_in_element() steps into
 * element i, which must be an object; leave it with lw_in_leave(). */
int lw_in_array (LwIn *in, const char *key, bool need);
void lw_in_element (LwIn *in, const char *key, int index);

/* Numbers. low and high are inclusive limits (±INFINITY for none). For "above x" and "below x" give
 * lw_above (x) and lw_below (x): the message then says so. A whole number may be written "5.0". */
static inline double
lw_above (double x)
{
  return nextafter (x, INFINITY);
}

static inline double
lw_below (double x)
{
  return nextafter (x, -INFINITY);
}

double lw_in_number (LwIn *in, const char *key, double low, double high);
double lw_in_number_or (LwIn *in, const char *key, double low, double high, double absent);
int lw_in_int (LwIn *in, const char *key, int low, int high);
int lw_in_int_or (LwIn *in, const char *key, int low, int high, int absent);
bool lw_in_bool_or (LwIn *in, const char *key, bool absent);

/* Strings, new: one that is needed and not empty; one that may be empty, NULL when absent. */
char *lw_in_string (LwIn *in, const char *key);
char *lw_in_string_or_null (LwIn *in, const char *key);
/* One of a NULL-terminated list of words: its index; absent for absent (-1: it is needed). */
int lw_in_word (LwIn *in, const char *key, const char *const *words, int absent);
/* Array of strings: NULL-terminated, new; NULL when absent. */
char **lw_in_strings_or_null (LwIn *in, const char *key);

/* Fixed-length number arrays; false when absent (an error with need). */
bool lw_in_numbers (LwIn *in, const char *key, double *values, int n, bool need);
LwVec3 lw_in_vec3 (LwIn *in, const char *key);
LwVec3 lw_in_vec3_or (LwIn *in, const char *key, LwVec3 absent);
/* An array of 3-element arrays; *n is set; new array, NULL when absent (an error with need). */
LwVec3 *lw_in_points (LwIn *in, const char *key, int *n, bool need);
/* [[row], [row], [row]], a proper rotation: determinant +1 and orthonormal within LW_ROTATION_TOL,
 * else an error. */
LwMat3 lw_in_rotation_or (LwIn *in, const char *key, LwMat3 absent);
