/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>

/* Failures of the outside world. The message names the file, the place in it and what was
 * expected, ready to be shown. Programmer errors are asserts; outcomes of geometry are statuses. */
#define LW_ERROR (lw_error_quark ())

typedef enum {
  LW_ERROR_USAGE,     /* a command was given wrongly: exit 64 */
  LW_ERROR_DATA,      /* a file's content is not what it should be: exit 65 */
  LW_ERROR_MISSING,   /* a file, or a thing named in one, is not there: exit 66 */
  LW_ERROR_WRITE,     /* could not write: exit 74 */
  LW_ERROR_CANCELLED, /* the caller asked to stop */
} LwError;

GQuark lw_error_quark (void);
