/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "session/document.h"

/* Several changes of a job that become one step of its history, or none. Steps work on the tree;
 * the whole is read once, strictly, at the end. After a failed step the others do nothing. */
typedef struct {
  LwDocument *document;
  JsonNode *root;
  GError *error;
} LwEdit;

/* On the present job of document, which must have one. */
void lw_edit_begin (LwEdit *edit, LwDocument *document);
/* Sets the value (taken; NULL removes it) at a path (base/json.h). */
void lw_edit_set (LwEdit *edit, JsonNode *value, const char *path_format, ...) G_GNUC_PRINTF (3, 4);
/* Borrowed, or NULL. */
JsonNode *lw_edit_get (LwEdit *edit, const char *path_format, ...) G_GNUC_PRINTF (2, 3);
/* Number of elements of an array, 0 where there is none. */
int lw_edit_count (LwEdit *edit, const char *path_format, ...) G_GNUC_PRINTF (2, 3);
/* A string member; "" where there is none. */
const char *lw_edit_get_string (LwEdit *edit, const char *path_format, ...) G_GNUC_PRINTF (2, 3);

/* Ends the edit. False with the strict reader's error when the result is no job; the document is as
 * it was then. */
bool lw_edit_commit (LwEdit *edit, const char *name, const char *coalesce, GError **error);

/* ------------------------------------------------------------------------------------------------
 * Names, followed wherever the job refers to them. */

void lw_edit_rename_part (LwEdit *edit, int part, const char *id);
void lw_edit_rename_placed (LwEdit *edit, int setup, int placed, const char *id);
void lw_edit_rename_operation (LwEdit *edit, int setup, int operation, const char *name);
void lw_edit_rename_table (LwEdit *edit, int table, const char *name);
void lw_edit_rename_body (LwEdit *edit, int body, const char *name);
void lw_edit_renumber_tool (LwEdit *edit, int tool, int number);

/* ------------------------------------------------------------------------------------------------
 * Removing, with what leans on it: a part takes its copies along, a copy and a tool their
 * operations, a table its set-ups. */

void lw_edit_remove_part (LwEdit *edit, int part);
void lw_edit_remove_placed (LwEdit *edit, int setup, int placed);
void lw_edit_remove_operation (LwEdit *edit, int setup, int operation);
void lw_edit_remove_tool (LwEdit *edit, int tool);
void lw_edit_remove_table (LwEdit *edit, int table);

/* What would go along, in words for a question ("Rough hull, Finish hull"); NULL when nothing. */
char *lw_edit_dup_dependents_of_part (const LwJob *job, int part);
char *lw_edit_dup_dependents_of_placed (const LwJob *job, int setup, int placed);
char *lw_edit_dup_dependents_of_tool (const LwJob *job, int tool);
char *lw_edit_dup_dependents_of_table (const LwJob *job, int table);

/* ------------------------------------------------------------------------------------------------
 * Adding. Each answers the index of what was added; names are made unique. */

int lw_edit_add_setup (LwEdit *edit);
/* A copy of a part on a set-up's table, at the table's datum corner, lowest point on the face. */
int lw_edit_add_placed (LwEdit *edit, int setup, int part);
/* The whole of the set-up's first part with the job's first tool, straight down. There must be
 * both. */
int lw_edit_add_operation (LwEdit *edit, int setup);
/* An upright 100 mm box. */
int lw_edit_add_fixture (LwEdit *edit, int setup);
/* A ball 10 in a plain holder, with the next free number. */
int lw_edit_add_tool (LwEdit *edit);
/* A plain block, for planning before there is a model. */
int lw_edit_add_block (LwEdit *edit, LwVec3 size_mm);
/* file as the job is to name it (relative to its folder). */
int lw_edit_add_mesh (LwEdit *edit, const char *id, const char *file, const char *units,
                      const char *sha256);
int lw_edit_add_body (LwEdit *edit);
int lw_edit_add_table (LwEdit *edit);
int lw_edit_add_coupled (LwEdit *edit);

/* A copy of an element behind it, under a new name (member `key`, "name" or "id"). */
int lw_edit_duplicate (LwEdit *edit, const char *array, int index, const char *key);
int lw_edit_duplicate_tool (LwEdit *edit, int tool);
/* Exchanges an element with its neighbor (by −1 or +1), when there is one. */
void lw_edit_move (LwEdit *edit, const char *array, int index, int by);

/* Turns a placed part by a quarter about an axis of the frame that it stands in at yaw 0 (0 X, 1 Y,
 * 2 Z), counter-clockwise seen against the axis; the lower corner of its box stays. */
void lw_edit_turn_placed (LwEdit *edit, int setup, int placed, int axis);

/* ------------------------------------------------------------------------------------------------
 * Tools: lengths along the axis hang together. Each keeps segments in line and brings tip length
 * and stick-out along; a measured length is taken out, since it was another tool's. */

void lw_edit_set_segment_length (LwEdit *edit, int tool, int segment, double length_mm);
/* A segment before the given one (or at the end), of the kind and diameter of its neighbor. */
void lw_edit_add_segment (LwEdit *edit, int tool, int before);
void lw_edit_remove_segment (LwEdit *edit, int tool, int segment);
void lw_edit_set_segment_kind (LwEdit *edit, int tool, int segment, const char *kind);
