/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdbool.h>

/* Numbers as text, the same in every locale. */

#define LW_NUMBER_SIZE 32

/* The shortest of %.15g, %.16g, %.17g that reads back as the same double; -0 becomes 0. The value
 * must be finite. Returns buffer. */
char *lw_number_to_text (double value, char buffer[LW_NUMBER_SIZE]);

/* Reads a whole text as one finite decimal number: sign, digits, point, exponent; blanks around it
 * are allowed, hexadecimal, "inf", "nan" and anything after the number are not. decimal is '.' or
 * ','; U+2212 is taken as a minus too, so that what we show can be pasted back. Answers whether it
 * was one; *value is left alone if not. */
bool lw_number_from_text (const char *text, char decimal, double *value);

/* How a number is rounded for people: towards the safe side. */
typedef enum {
  LW_ROUND_NEAREST,
  LW_ROUND_DOWN, /* leeway, gap, what is allowed at most */
  LW_ROUND_UP,   /* what is needed at least, stopping */
} LwRound;

/* The value rounded to decimals (0 to 9) digits after the point. A value within a hundredth of the
 * last digit's unit of a rounding step (LW_ROUND_STEP) is taken as that step, so 10.1 stays 10.1;
 * but a negative value never rounds up to 0 with LW_ROUND_DOWN, nor a positive one down to 0 with
 * LW_ROUND_UP, unless it is noise (LW_ROUND_ZERO): what fails must not read "0.0". */
double lw_round (double value, int decimals, LwRound how);

/* Fixed text with decimals digits after the point ("−12.5", U+2212 as minus), for people; "∞" for
 * an infinite value, "–" for none (NaN). Returns a new string. */
char *lw_format_fixed (double value, int decimals, LwRound how);

/* What people read lengths in. Files and the engine are always millimetres. */
typedef enum {
  LW_UNIT_MM,
  LW_UNIT_INCH,
} LwUnit;

/* A length of value_mm as "123.4 mm" (one decimal) or "4.858 in" (three decimals), rounded how. */
char *lw_format_length (double value_mm, LwUnit unit, LwRound how);
/* The same without the unit, for columns and dimensions. */
char *lw_format_length_bare (double value_mm, LwUnit unit, LwRound how);
/* "72.0°", from radians. */
char *lw_format_angle (double angle_rad, LwRound how);

/* "mm" or "in". */
const char *lw_unit_get_symbol (LwUnit unit);
double lw_unit_from_mm (LwUnit unit, double value_mm);
double lw_unit_to_mm (LwUnit unit, double value);
