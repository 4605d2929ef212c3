/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <math.h>

/* Fails, printing both values and their difference, unless |got − want| ≤ within. Not a number is
 * near nothing. */
#define assert_near(got, want, within) \
  near_check (G_STRLOC, G_STRFUNC, #got, (got), (want), (within))

static inline void
near_check (const char *where, const char *function, const char *what, double got, double want,
            double within)
{
  if (fabs (got - want) <= within)
    return;
  g_printerr ("%s (%s): %s is %.17g, wanted %.17g within %g (off by %g)\n", where, function, what,
              got, want, within, got - want);
  g_test_message ("%s is %.17g, wanted %.17g within %g (off by %g)", what, got, want, within,
                  got - want);
  g_test_fail ();
}

/* The same for three numbers in a row: a point, a direction. */
#define assert_near3(got, want, within)                                                  \
  G_STMT_START                                                                           \
  {                                                                                      \
    for (int near_i_ = 0; near_i_ < 3; near_i_++)                                        \
      near_check (G_STRLOC, G_STRFUNC, #got, (got)[near_i_], (want)[near_i_], (within)); \
  }                                                                                      \
  G_STMT_END
