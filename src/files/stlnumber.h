/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdbool.h>

/* Reads a word of size bytes as a number, with a decimal point in every locale; "nan", "inf",
 * "1.#INF" and what is too large are not finite. Correctly rounded to double, then to float, as
 * strtod and a cast do. Answers false when the word is no number. */
bool lw_stl_number (const char *word, gsize size, float *value);
