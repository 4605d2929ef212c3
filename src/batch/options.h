/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/error.h"
#include "base/text.h"

/* Exit statuses (sysexits.h above 63). */
typedef enum {
  LW_EXIT_FITS = 0, /* or done and in order */
  LW_EXIT_DOES_NOT_FIT = 1,
  LW_EXIT_NOT_CHECKED = 2,
  LW_EXIT_TIGHT = 3,
  LW_EXIT_USAGE = 64,
  LW_EXIT_DATA = 65,
  LW_EXIT_NO_INPUT = 66,
  LW_EXIT_NO_OUTPUT = 74,
} LwExit;

/* Says an error on standard error ("leeway-batch: …") and answers the exit status it stands for. */
int lw_batch_fail (const GError *error);

/* An option of a verb. It takes the next n_values arguments as they are, so that "-200" is a
 * number. */
typedef struct {
  const char *name; /* "--at" */
  int n_values;     /* 0: a flag */
  bool needed;
} LwOptionSpec;

/* The arguments of a verb. --json, --unit and --threads are known to every verb. */
typedef struct _LwOptions LwOptions;

/* argv[0] is the verb. specs end with an entry whose name is NULL. Anything that is no option is an
 * operand; n_operands is how many there must be, or −n for n or more. NULL with LW_ERROR_USAGE. */
LwOptions *lw_options_parse (int argc, char **argv, const LwOptionSpec *specs, int n_operands,
                             GError **error);
void lw_options_free (LwOptions *options);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LwOptions, lw_options_free)

int lw_options_get_n_operands (const LwOptions *options);
const char *lw_options_get_operand (const LwOptions *options, int index);

bool lw_options_has (const LwOptions *options, const char *name);
/* Value of an option as it was written; NULL when the option is not there. */
const char *lw_options_get_text (const LwOptions *options, const char *name, int index);

/* Value of an option as a number. Sets LW_ERROR_USAGE and answers false when it is none, or out of
 * low … high. The option must be there. */
bool lw_options_get_number (const LwOptions *options, const char *name, int index, double low,
                            double high, double *value, GError **error);
/* The same for a length in the unit asked, which comes out in mm; low and high are mm. */
bool lw_options_get_length (const LwOptions *options, const char *name, int index, double low,
                            double high, double *value_mm, GError **error);

bool lw_options_get_json (const LwOptions *options);
/* What lengths on the command line and in words are in. Keys that end in _mm are mm always. */
LwUnit lw_options_get_unit (const LwOptions *options);
/* Threads asked for; 0 when not. */
int lw_options_get_threads (const LwOptions *options);
