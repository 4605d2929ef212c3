/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <json-glib/json-glib.h>
#include <stdbool.h>

#include "base/error.h"
#include "base/file.h"
#include "base/in.h"
#include "base/vec.h"

/* Strict JSON. Bytes pass a scanner of ours first (RFC 8259: no comments, no duplicate keys, UTF-8,
 * finite numbers, at most LW_JSON_DEPTH levels), because json-glib keeps the last of duplicate keys
 * in silence, reads hexadecimal and comments, and recurses without a bound. */

#define LW_JSON_DEPTH 64

/* Parses text of length bytes. name stands for the file in messages ("job.leeway:12:5: …").
 * Columns count characters. Integers come back as doubles or ints (json-glib's choice): read them
 * with LwIn. The tree is immutable. Returns NULL and sets LW_ERROR_DATA on any fault. */
JsonNode *lw_json_parse (const char *name, const char *text, gsize length, GError **error);

/* As above from a file; LW_ERROR_MISSING when it can't be opened. */
JsonNode *lw_json_load (const char *path, GError **error);

/* Text of a node: two-space indent, arrays of numbers on one line, arrays of those too where the
 * line holds them in 100 bytes, members in their order, numbers by lw_number_to_text(), '\n' at the
 * end. Same node, same bytes, in every locale. Numbers must be finite; bytes of a string that are
 * not UTF-8 show as U+FFFD. */
char *lw_json_to_text (JsonNode *node);

/* The text by lw_file_save(). */
bool lw_json_save (JsonNode *node, const char *path, GError **error);

/* ------------------------------------------------------------------------------------------------
 * Edits. A path is like "setups[0].operations[2].attitude.lean_deg"; a key that holds other than
 * letters, digits, '_', '-' or '\'' can't be named. Nodes are never changed: an edit returns a new
 * tree. */

/* A tree like root in which the value at path is value (taken, also on failure; NULL removes the
 * member or element; an index one past the end appends). Nodes that the edit does not touch are
 * shared with root, which is how an edit of a big tree stays cheap and what did not change is told
 * by its pointer; the new tree is immutable (json-glib's sense), value and what is shared with it.
 * Take references to nodes only: json-glib counts those of its objects and arrays not atomically.
 * What is missing on the way is made: objects, and arrays where their first element [0] is given.
 * Removing a member that is not there changes nothing. Returns NULL and sets LW_ERROR_DATA when the
 * path does not fit the tree. */
JsonNode *lw_json_with (JsonNode *root, const char *path, JsonNode *value, GError **error);

/* The node at path, borrowed, or NULL. "" is the root. */
JsonNode *lw_json_get (JsonNode *root, const char *path);

JsonNode *lw_json_new_number (double value);
JsonNode *lw_json_new_string (const char *value);
JsonNode *lw_json_new_bool (bool value);
JsonNode *lw_json_new_vec3 (LwVec3 value);
/* An object of pairs (name, node taken) up to NULL. */
JsonNode *lw_json_new_object (const char *first, ...) G_GNUC_NULL_TERMINATED;
