/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/json.h"

/* A point to be drilled or probed, part frame. */
typedef struct {
  LwVec3 at;       /* mm */
  LwVec3 axis;     /* unit, tip towards spindle; zero when the file has none */
  double diameter; /* mm, NAN when not given */
  double depth;    /* mm, NAN: the stroke's */
} LwRegionPoint;

/* Where an operation works, part frame. What is given together must all hold. */
typedef struct {
  bool all;
  bool has_facing;
  LwVec3 facing; /* unit */
  double within; /* rad */
  bool has_box;
  LwBox3 box; /* mm */
  bool has_patch;
  LwVec3 seed;   /* mm */
  double crease; /* rad */
  char *named;   /* a piece of the model, or NULL */
  LwRegionPoint *points;
  int n_points;
  LwVec3 *loop, *loop_normals; /* normals: unit, outward; NULL when not given */
  int n_loop;
  bool loop_closed;
} LwRegion;

typedef enum {
  LW_RULE_ALONG,
  LW_RULE_NORMAL,
  LW_RULE_FLANK,
  LW_RULE_PROBE,
  LW_RULE_PROGRAM,
} LwAttitudeRule;

/* Which attitudes are allowed. Directions in the part frame. */
typedef struct {
  LwAttitudeRule rule;
  bool has_direction;
  LwVec3 direction;      /* unit, tip towards spindle */
  double lean_min, lean; /* rad */
  double below;          /* flank: how far the end stands below the contact, mm */
  char *file, *sha256;   /* program */
  bool has_heading, has_tilt;
  double heading_low, heading_high; /* rad */
  double tilt_low, tilt_high;       /* rad */
} LwAttitude;

/* mm along the tool axis. */
typedef struct {
  double approach;     /* from above the contact; default 5 */
  double depth;        /* default 0 */
  double breakthrough; /* beyond the depth; default 0 */
  double retreat;      /* back above the contact; default 50 */
} LwStroke;

typedef struct {
  char *name;
  int placed; /* index into the set-up's placed parts */
  int tool;   /* index into the job's tools */
  LwRegion region;
  LwAttitude attitude;
  LwStroke stroke;
  char **after;      /* NULL-terminated, or NULL */
  bool against_part; /* "against": "part" */
  char *key;         /* canonical JSON text of the operation: its identity for the verdict memo */
} LwOperation;

/* Reads the object the reader stands in. placed_ids (NULL-terminated) and tool numbers are what it
 * may refer to; a name not among them is an error at its key. */
void lw_operation_read (LwOperation *operation, LwIn *in, const char *const *placed_ids,
                        const int *tool_numbers, int n_tools);
void lw_operation_clear (LwOperation *operation);
