/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/json.h"
#include "files/programstore.h"

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
  char *key;                 /* canonical text of it, a loop's coordinates as their SHA-256 */
  struct LwRegionHold *hold; /* owns what the pointers above lead to; shared between jobs */
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
  LwVec3 direction;      /* unit, tip towards spindle; along and probe: a point's own axis goes
                            before it */
  double lean_min, lean; /* rad */
  double below;          /* flank: how far the end stands below the contact, mm */
  char *file, *sha256;   /* program: relative to the job's folder */
  char *units;           /* program: of a file that does not say them itself; NULL: not given */
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
  bool against_part; /* "against": "part" with an "after": the stock is gone */
  char *key;         /* canonical JSON text of the operation, with the region's key in its region's
                        place: its identity for the verdict memo */
  LwProgramEntry program;       /* of a rule of that kind; else LW_PROGRAM_NONE */
  JsonNode *node;               /* where it was read from; borrowed from the job's tree */
  struct LwOperationHold *hold; /* owns the strings above; shared between jobs */
} LwOperation;

/* What an operation may refer to. */
typedef struct {
  const char *const *placed_ids;
  int n_placed;
  const int *tool_numbers;
  int n_tools;
} LwOperationScope;

/* Reads the object the reader stands in, which is node; a name or number not in scope is an error
 * at its key. earlier (may be NULL): an operation of an earlier job, whose region is shared rather
 * than read again where the tree shares it. */
void lw_operation_read (LwOperation *operation, LwIn *in, JsonNode *node,
                        const LwOperationScope *scope, const LwOperation *earlier);
/* The operation of an earlier job again, read from the same node; false when what it refers to is
 * not in scope (then it is to be read, for the message). */
bool lw_operation_share (LwOperation *operation, const LwOperation *earlier,
                         const LwOperationScope *scope);
void lw_operation_clear (LwOperation *operation);

/* The parts of an operation: members "region" and "attitude" of where the reader stands. */
void lw_region_read (LwRegion *region, LwIn *in, JsonNode *node);
void lw_region_share (LwRegion *region, const LwRegion *earlier);
void lw_region_clear (LwRegion *region);
void lw_attitude_read (LwAttitude *attitude, LwIn *in, const LwRegion *region);
