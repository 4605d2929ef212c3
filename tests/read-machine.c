/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <stdio.h>

#include "machine/machine.h"

/* Reads machine files, one a line of standard input; prints "ok" or the error for each. */
int
main (void)
{
  char path[4096];

  while (fgets (path, sizeof path, stdin)) {
    g_autoptr (GError) error = NULL;
    g_autoptr (LwMachine) machine = lw_machine_load (g_strchomp (path), &error);

    printf ("%s\n", machine ? "ok" : error->message);
  }
  return 0;
}
