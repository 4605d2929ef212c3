/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "batch/options.h"
#include "machine/travel.h"

/* Pieces of answers that several verbs share. Lengths in JSON are mm and angles degrees, both
 * rounded to nine decimals, which is finer than what a double holds of the sums behind them. */

void lw_answer_add_number (JsonBuilder *builder, const char *key, double value);
void lw_answer_add_string (JsonBuilder *builder, const char *key, const char *value);
void lw_answer_add_vec3 (JsonBuilder *builder, const char *key, LwVec3 value);
/* [X, Y, Z, C, T] of the pivot, and as the machine's displays show them. */
void lw_answer_add_pose (JsonBuilder *builder, const LwMachine *machine, const LwPose *pose);

/* Prints the object on standard output; takes it. */
void lw_answer_print (JsonBuilder *builder);

/* The machine's first table, or the one that --table names. */
const LwTable *lw_answer_find_table (const LwMachine *machine, const LwOptions *options,
                                     GError **error);

/* "X 724.4, Y 840.9, Z 481.8 mm"; new string. */
char *lw_answer_point_to_text (LwVec3 point, LwUnit unit);
/* "travel 12.3 mm to X+, rotary 65.0° to B−"; new string. */
char *lw_answer_leeway_to_text (const LwMachine *machine, const LwLeeway *leeway, LwUnit unit);
/* What reading the machine changed in form, a line each. */
void lw_answer_print_notes (const LwMachine *machine);
