/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "draw/painter.h"

/* The reach outlines of a picture: at 30, 60, 90° and at the present tilt, each only where it
 * exists at the scene's tip height. */

#define LW_N_REACHES 4 /* the present one last */

typedef struct {
  double tilt;  /* rad, not negative */
  bool present; /* the tilt shown */
  bool drawn;   /* it exists at the tip height */
  LwBox3 box;   /* table frame */
  char *note;   /* why it isn't drawn, translated; NULL when it is, or when it needs no word */
} LwReachShown;

typedef struct {
  LwReachShown shown[LW_N_REACHES];
} LwReaches;

LwReaches lw_reaches_get (const LwScene *scene);
void lw_reaches_clear (LwReaches *reaches);

/* The present one, or NULL when it isn't drawn. */
const LwReachShown *lw_reaches_get_present (const LwReaches *reaches);
