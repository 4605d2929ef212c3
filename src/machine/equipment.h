/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/json.h"
#include "shape/solid.h"

/* What hangs on a machine beside its axes: spindle, magazine and the control's zones. */

typedef struct {
  double rpm;
  double s1, s6; /* kW: continuous, and at the S6 duty; s6 NAN when not given */
} LwPowerPoint;

typedef struct {
  bool exists;
  char *interface;     /* "HSK-A63"; NULL when not given */
  double max_rpm;      /* NAN when not given */
  double s6_duty;      /* share of the cycle under load, 0 … 1; NAN when not given */
  LwPowerPoint *curve; /* rising rpm; beyond its last point nothing is known */
  int n_curve;
} LwSpindle;

typedef struct {
  bool exists;
  int pockets;                   /* 0 when not given */
  double max_length;             /* mm, gauge line to tip; NAN when not given */
  double max_diameter, max_mass; /* mm, kg; NAN when not given */
  bool has_change_at;
  double change_at[5]; /* X, Y, Z as the displays show them (mm), C and tilt (rad) */
} LwMagazine;

/* What the control holds against its zones. */
typedef enum {
  LW_ZONES_ACT_ON_UNKNOWN,
  LW_ZONES_ACT_ON_AXES,
  LW_ZONES_ACT_ON_TIP,
  LW_ZONES_ACT_ON_TOOL,
  LW_ZONES_ACT_ON_HEAD,
} LwZonesActOn;

typedef enum {
  LW_MOVES_AUTOMATIC = 1 << 0,
  LW_MOVES_JOG = 1 << 1,
  LW_MOVES_HANDWHEEL = 1 << 2,
  LW_MOVES_HOMING = 1 << 3,
} LwZoneMoves;

/* A zone of another shape than its body's own. */
typedef struct {
  char *name;
  char *body;    /* name of the body whose solid it is, or NULL: */
  LwSolid solid; /* in the machine frame */
  double margin; /* mm; NAN: the zones' margin */
} LwZoneShape;

typedef struct {
  bool exists;
  LwZonesActOn act_on;
  unsigned moves; /* LwZoneMoves during which they are watched; 0 when not given */
  double margin;  /* mm; NAN when not given */
  LwZoneShape *shapes;
  int n_shapes;
} LwZones;

/* Each reads a member of the object that the reader stands in, and leaves exists false when it is
 * absent. */
void lw_spindle_read (LwSpindle *spindle, LwIn *in);
void lw_magazine_read (LwMagazine *magazine, LwIn *in);
void lw_zones_read (LwZones *zones, LwIn *in);

void lw_spindle_clear (LwSpindle *spindle);
void lw_zones_clear (LwZones *zones);

/* A number above 0 and not above high, or NAN when absent. */
double lw_in_positive_or_nan (LwIn *in, const char *key, double high);

/* A text that is not empty; NULL when absent. */
char *lw_in_text_or_null (LwIn *in, const char *key);
