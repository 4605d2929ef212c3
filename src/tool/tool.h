/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/json.h"
#include "base/text.h"

typedef enum {
  LW_TIP_FLAT,
  LW_TIP_BALL,
  LW_TIP_CORNER,
  LW_TIP_DRILL,
  LW_TIP_UNKNOWN, /* the file does not say */
} LwTipForm;

typedef enum {
  LW_SEGMENT_HOLDER,
  LW_SEGMENT_SHANK,
  LW_SEGMENT_CUTTING,
} LwSegmentKind;

/* A piece of the tool along its axis, from the gauge line (0) to the tip, mm. */
typedef struct {
  LwSegmentKind kind;
  double from, to;
  double d_from, d_to;
} LwSegment;

/* A tool in its holder. Values as in the file (mm); NAN where the file has none. */
typedef struct {
  int number;
  char *name;
  double tip_length;    /* gauge line to the furthest point */
  double stored_offset; /* what the control holds, or NAN */
  double measured;      /* what was measured when it went in, or NAN */
  double stick_out;     /* holder nose to tip, or NAN */
  LwTipForm tip;
  double corner_radius; /* mm; 0 for a flat end; NAN where the file has none and it is needed */
  double point_angle;   /* rad, whole angle of a drill's point; NAN where the file has none */
  LwSegment *segments;  /* owned */
  int n_segments;
} LwTool;

/* Reads the object the reader stands in. Checks that the segments follow each other from 0 to the
 * tip length and that the stick-out runs from the last holder segment, else an error. */
void lw_tool_read (LwTool *tool, LwIn *in);
void lw_tool_clear (LwTool *tool);

/* The length the verdict uses: measured where there is one, else the tip length. */
double lw_tool_get_length (const LwTool *tool);

/* Radius at the cutting end (mm), NAN for a tool without a cutting segment. */
double lw_tool_get_cutter_radius (const LwTool *tool);

/* Height of a drill's point: radius / tan(half the point angle); 0 for other forms. */
double lw_tool_get_point_length (const LwTool *tool);

/* The tip lengths the tool can be given by stretching the shank segment next to the holder, mm.
 * Without such a shank low = high = the tip length. high is INFINITY: what the shank may be is
 * known to the shop. */
void lw_tool_get_length_range (const LwTool *tool, double *low, double *high);

/* One line for lists: "ball 16.0 · 180.0 mm", in the unit asked. New string. */
char *lw_tool_dup_summary (const LwTool *tool, LwUnit unit);
