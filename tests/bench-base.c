/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib.h>
#include <stdlib.h>

#include "base/text.h"
#include "bench.h"

#define NUMBERS 200000

static void *
random_numbers (void)
{
  double *numbers = g_new (double, NUMBERS);
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  for (int i = 0; i < NUMBERS; i++)
    numbers[i] = g_rand_double_range (rand, -4000, 4000);
  return numbers;
}

static double
write_and_read_numbers (void *prepared)
{
  const double *numbers = prepared;
  for (int i = 0; i < NUMBERS; i++) {
    char text[LW_NUMBER_SIZE];
    double back;
    if (!lw_number_from_text (lw_number_to_text (numbers[i], text), '.', &back)
        || back != numbers[i])
      abort ();
  }
  return NUMBERS;
}

const BenchScene bench_base[] = {
  { .name = "base/number-text",
    .unit = "numbers",
    .prepare = random_numbers,
    .work = write_and_read_numbers,
    .finish = g_free },
  { 0 },
};
