/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/json.h"
#include "machine/equipment.h"
#include "machine/head.h"
#include "machine/structure.h"
#include "machine/table.h"
#include "shape/solid.h"

/* Travel of one axis, brought to the pivot: mm or radians. */
typedef struct {
  double low, high; /* ±INFINITY when endless (a C without limits) */
  double rapid;     /* mm/s or rad/s, NAN when not given */
  double accel;     /* mm/s² or rad/s², NAN when not given */
} LwTravel;

/* "While `when` is above (or below) `threshold`, `axis` stays in low … high." */
typedef struct {
  LwAxis axis;
  double low, high; /* mm or rad; ±INFINITY where a side is free */
  LwAxis when;
  bool above;       /* else below */
  double threshold; /* mm or rad, brought to the pivot */
  char *why;
} LwCoupledLimit;

typedef enum {
  LW_ROLE_HEAD,
  LW_ROLE_STRUCTURE,
  LW_ROLE_OBSTACLE,
} LwRole;

typedef enum {
  LW_ZONE_UNKNOWN, /* counts as no */
  LW_ZONE_NO,
  LW_ZONE_YES,
} LwZone;

/* A body, in the frame of what carries it with the *pivot's* axis values at zero (shifted on
 * reading where the file's travels are stated elsewhere): bed and linear slides in the machine
 * frame, C with the pivot as origin, the tilt axis with pivot + e, the work in the table frame. */
typedef struct {
  char *name;
  LwRole role;
  LwZone zone;
  LwCarrier carrier;
  double tolerance; /* mm */
  int table;        /* whose frame a body on the work is in; 0 for others */
  LwSolid solid;
  LwVec3 shift; /* to be added to the solid's place, mm */
} LwBody;

/* A machine: immutable and reference-counted. Angles in radians, lengths in mm. */
typedef struct {
  int ref_count;
  JsonNode *node; /* as read, x- keys and all */
  char *name, *id;
  int revision;
  LwStructure structure;
  LwHead head;
  LwTravel travel[LW_N_AXES];
  LwVec3
      stated_to_pivot; /* display of the linear axes + this = pivot; 0 when stated at the pivot */
  LwCoupledLimit *coupled;
  int n_coupled;
  LwTable *tables;
  int n_tables;
  LwBody *bodies;
  int n_bodies;
  LwSpindle spindle;
  LwMagazine magazine;
  LwZones zones;
  bool no_hood_or_hoses; /* the file states that none is fitted */
  char **notes;          /* NULL-terminated: what reading brought to the form used, in words */
} LwMachine;

/* Whether gaps of the head can be judged: its hood and hoses are stated to be none, or a body of
 * role head is named for them ("dust hood", "hoses, right"). Nothing else in a file says so. */
bool lw_machine_knows_hood_and_hoses (const LwMachine *machine);

/* From a file, or from the object the reader stands in (a job's snapshot). NULL with an error. */
LwMachine *lw_machine_load (const char *path, GError **error);
LwMachine *lw_machine_read (LwIn *in, JsonNode *node);
LwMachine *lw_machine_ref (LwMachine *machine);
void lw_machine_unref (LwMachine *machine);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LwMachine, lw_machine_unref)

/* NULL when there is none of that name. */
const LwTable *lw_machine_find_table (const LwMachine *machine, const char *name);

/* -1 when there is none of that name. */
int lw_machine_find_body (const LwMachine *machine, const char *name);

/* Letter of an axis on this machine: "X" … "C", "B" or "A" (or the inclined axis' own letter). */
const char *lw_machine_get_letter (const LwMachine *machine, LwAxis axis);

/* "B head ±110.0°, C ±220.0°, 3600 × 2200 × 1000 mm", translated; new string. */
char *lw_machine_dup_summary (const LwMachine *machine);
