/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Linked into every test program: enters the locale of the environment before main, and aborts
 * where LEEWAY_TEST_DECIMAL asks for another decimal sign than that locale has. Without this a
 * missing locale would fall back to "C" and the run under decimal commas would prove nothing. */
__attribute__ ((constructor)) static void
enter_locale (void)
{
  setlocale (LC_ALL, "");
  const char *wanted = getenv ("LEEWAY_TEST_DECIMAL");
  const char *found = localeconv ()->decimal_point;
  if (wanted != NULL && strcmp (wanted, found) != 0) {
    fprintf (stderr, "this run needs a locale with decimal \"%s\", but it is \"%s\"\n", wanted,
             found);
    abort ();
  }
}
