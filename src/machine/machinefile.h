/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "machine/machine.h"

/* Members `axes` and `limits_when`, as stated. The structure is known. */
void lw_machine_read_axes (LwMachine *machine, LwIn *in);
void lw_machine_read_coupled (LwMachine *machine, LwIn *in);

/* What a machine file says of its travels and head before both are brought to the form used. */
typedef struct {
  LwHead head;   /* as stated; n is a unit vector */
  bool at_gauge; /* travels are the gauge face's with the head straight down */
} LwStatedHead;

/* Brings head, travels, coupled limits and bodies to the pivot and the form e·n = e.z = s.z = 0
 * (DESIGN.md §3), so that no tip, body or limit changes place, and says so in the notes. */
void lw_machine_bring_to_pivot (LwMachine *machine, const LwStatedHead *stated);
