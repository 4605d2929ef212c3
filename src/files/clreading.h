/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "files/clarc.h"
#include "files/clstatement.h"
#include "files/program.h"

/* Private to the reader of CL data (cldata.h): what it knows so far, and what its statements do. */

/* Places of one program: 400 MB. */
#define LW_CL_MOST_RECORDS 4000000

typedef struct {
  bool known; /* one was described: CYCLE/ON takes it up again */
  bool on;
  double depth, clear; /* mm */
} LwClCycle;

typedef struct {
  const char *name; /* of the file, in messages */
  LwClWarnings warnings;
  GArray *records; /* LwProgramRecord */
  GArray *tools;   /* LwProgramTool */
  LwProgram *program;
  LwBox3 box;

  double told_mm;  /* what the caller says a unit is; 0: nothing */
  double unit_mm;  /* in force; 0: unknown */
  bool says_units; /* by UNITS */

  int at; /* line of the present statement */
  bool has_tip, has_axis;
  LwVec3 tip, axis;
  bool multax, multax_was_off;
  int rapid_line; /* of a RAPID whose motion is still to come; 0: none */
  LwClCircle circle;
  int circle_line; /* of a CIRCLE whose motion is still to come; 0: none */
  LwClCycle cycle;
  bool has_from;
  LwVec3 from_tip, from_axis;
  int tool;
  LwProgramTool cutter;       /* sizes given before a tool is loaded */
  double feed, per_turn, rpm; /* mm/min, mm a turn, 1/min; NAN: not known */
  bool said_six, said_axis, said_early;
  bool finished;
} LwClReading;

/* Sets LW_ERROR_DATA "file:line: …" and answers false. */
bool lw_cl_fail (const LwClReading *reading, GError **error, const char *format, ...)
    G_GNUC_PRINTF (3, 4);
/* A sentence for the present line: "Line 12: …". */
void lw_cl_warn (LwClReading *reading, const char *format, ...) G_GNUC_PRINTF (2, 3);
/* The same, and the path may be another from here on (lost), or the machine may move besides it. */
void lw_cl_lose (LwClReading *reading, const char *format, ...) G_GNUC_PRINTF (2, 3);
void lw_cl_leave_open (LwClReading *reading, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* Whether a piece of a list is a number rather than a word, by how it begins. */
bool lw_cl_is_number (const char *text);
/* A number as written, D taken as an exponent too; an error when it is none. */
bool lw_cl_number (const LwClReading *reading, const char *text, double *value, GError **error);
/* The same as a length, which comes out in mm; an error while units are not known, or too far out.
 */
bool lw_cl_length (const LwClReading *reading, const char *text, double *mm, GError **error);

/* What statements do; each answers false with an error set. */
bool lw_cl_from (LwClReading *reading, const LwClStatement *statement, GError **error);
bool lw_cl_goto (LwClReading *reading, const LwClStatement *statement, GError **error);
bool lw_cl_godlta (LwClReading *reading, const LwClStatement *statement, GError **error);
bool lw_cl_gohome (LwClReading *reading, const LwClStatement *statement, GError **error);
bool lw_cl_circle (LwClReading *reading, const LwClStatement *statement, GError **error);
bool lw_cl_rapid (LwClReading *reading, const LwClStatement *statement, GError **error);
bool lw_cl_multax (LwClReading *reading, const LwClStatement *statement, GError **error);
bool lw_cl_tlaxis (LwClReading *reading, const LwClStatement *statement, GError **error);
bool lw_cl_cycle (LwClReading *reading, const LwClStatement *statement, GError **error);
