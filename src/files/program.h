/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/vec.h"

/* How the tip comes to a record. */
typedef enum {
  LW_RECORD_FROM,  /* it stands there: no motion */
  LW_RECORD_GOTO,  /* straight, at feed */
  LW_RECORD_RAPID, /* at rapid; how is the control's own */
  LW_RECORD_ARC,   /* straight: a chord of an arc */
  LW_RECORD_DRILL, /* a place of a cycle: see depth and clear */
} LwRecordKind;

/* A place of a tool path. Part frame (the program's own coordinates), mm. */
typedef struct {
  int line; /* of the file, from 1; a statement over several lines counts at its first */
  LwRecordKind kind;
  bool ends; /* the place a statement names; false: between the chords of an arc */
  int tool;  /* number last loaded; −1: none yet */
  LwVec3 tip;
  LwVec3 axis; /* unit, tip towards spindle */
  double feed; /* mm/min; NAN: not given, or not known without the speed */
  double
      depth; /* LW_RECORD_DRILL: how far below the place the tip goes along the axis, mm; else 0 */
  double clear; /* LW_RECORD_DRILL: how far above it the tip comes and goes, mm; else 0 */
} LwProgramRecord;

typedef struct {
  int line; /* where it is first loaded */
  int number;
  double length;        /* as loaded, mm; NAN: not given */
  double diameter;      /* mm; NAN: not given */
  double corner_radius; /* mm; NAN: not given */
} LwProgramTool;

/* A tool path as it was read. Immutable and reference-counted. */
typedef struct {
  int ref_count;
  char *title;    /* PARTNO's text; NULL: none */
  double unit_mm; /* millimetres to the unit of the first coordinate */
  LwProgramRecord *records;
  guint n_records;
  guint n_statements;     /* records that end a statement: places as the file names them */
  guint n_arcs, n_drills; /* statements */
  LwProgramTool *tools;   /* each number once, in the order they are loaded */
  guint n_tools;
  LwBox3 box;      /* of all tips, the drilled depths and clearances along; empty: no record */
  char **warnings; /* NULL-terminated, translated, each a sentence that names its line */
  char *lost;      /* the first statement after which the path may be another than was read; NULL:
                      none. A path that is lost can't be judged */
  char *open;      /* the first statement that may move the machine besides the path; NULL: none. A
                      path with something open is at best not checked */
} LwProgram;

LwProgram *lw_program_ref (LwProgram *program);
void lw_program_unref (LwProgram *program);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LwProgram, lw_program_unref)

/* Where the tip stands before and after a record's own stroke: the place itself, for a drilled one
 * `clear` above it. */
static inline LwVec3
lw_program_record_get_stand (const LwProgramRecord *record)
{
  return lw_vec3_add_scaled (record->tip, record->axis, record->clear);
}
