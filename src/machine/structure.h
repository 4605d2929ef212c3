/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/error.h"

typedef enum {
  LW_AXIS_X,
  LW_AXIS_Y,
  LW_AXIS_Z,
  LW_AXIS_C,
  LW_AXIS_TILT, /* B, A, or an inclined axis' own letter */
  LW_N_AXES,
} LwAxis;

/* What a body rides on. */
typedef enum {
  LW_CARRIER_WORK = LW_N_AXES, /* "w" */
  LW_CARRIER_BED,              /* "b" */
  LW_CARRIER_TOOL,             /* "t" */
} LwFixedCarrier;

/* An LwAxis or an LwFixedCarrier. */
typedef int LwCarrier;

/* The order of a machine's axes, from the work over the bed to the tool (the structural code of
 * ISO 10791 / ISO 230-1), e.g. "w b X Y Z C B t" or "w X' b Y Z C B t". */
typedef struct {
  char code[64];      /* as written, single blanks */
  LwCarrier chain[8]; /* from w to t */
  int n_chain;
  bool primed[LW_N_AXES]; /* moves the work */
  char tilt_letter;       /* 'B', 'A', 'D', … */
} LwStructure;

/* Parses a code. Refused with the reason: anything but X, Y, Z, each once, on either side of b,
 * then C and one tilt axis next to the tool, unprimed (no rotary tables, no B that carries A).
 * "(C1)" or
 * "(C)" before t, the spindle's own turning, is allowed and left out. */
bool lw_structure_parse (LwStructure *structure, const char *code, GError **error);

/* Word of a carrier as in the code: "b", "X'", "C", "B". Borrowed. */
const char *lw_structure_get_word (const LwStructure *structure, LwCarrier carrier);
/* -1 when the word is none of this structure's. */
LwCarrier lw_structure_find (const LwStructure *structure, const char *word);

/* Whether axis stands between the work and carrier: then a body on carrier moves in the table frame
 * by + the displayed value of axis. */
bool lw_structure_moves (const LwStructure *structure, LwCarrier carrier, LwAxis axis);

/* Whether two carriers are the same or neighbors in the chain: bodies on them are never a pair. */
bool lw_structure_are_neighbors (const LwStructure *structure, LwCarrier a, LwCarrier b);
