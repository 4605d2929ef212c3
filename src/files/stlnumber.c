/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/stlnumber.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/* A mantissa of up to 2⁵³ and a power of ten up to 10²² are exact doubles, so one multiplication or
 * division of them is rounded correctly (W. D. Clinger, How to Read Floating Point Numbers
 * Accurately, 1990); everything else goes to strtod. */

static bool
is_not_finite_word (const char *text, gsize size)
{
  static const char *const words[] = { "nan", "inf", "infinity" };
  gsize digits = 0;

  for (int i = 0; i < 3; i++) {
    if (size == strlen (words[i]) && g_ascii_strncasecmp (text, words[i], size) == 0)
      return true;
  }
  if (size > 4 && g_ascii_strncasecmp (text, "nan(", 4) == 0)
    return true;
  while (digits < size && g_ascii_isdigit (text[digits]))
    digits++;
  return digits > 0 && digits + 1 < size && text[digits] == '.' && text[digits + 1] == '#';
}

static double
read_slowly (const char *word, gsize size)
{
  char few[128];
  char *copy = size < sizeof few ? few : g_malloc (size + 1);
  double value;

  memcpy (copy, word, size);
  copy[size] = 0;
  value = g_ascii_strtod (copy, NULL);
  if (copy != few)
    g_free (copy);
  return value;
}

/* A decimal number taken apart: mantissa × 10^exponent. */
typedef struct {
  uint64_t mantissa;
  int digits; /* of the mantissa, without leading zeros */
  int exponent;
  bool any;
} Decimal;

static gsize
read_digits (Decimal *decimal, const char *text, gsize at, gsize size, bool fraction)
{
  for (; at < size; at++) {
    unsigned digit = (unsigned)(text[at] - '0');

    if (digit > 9)
      break;
    decimal->any = true;
    if (decimal->digits > 0 || digit > 0)
      decimal->digits++;
    if (decimal->digits <= 19)
      decimal->mantissa = 10 * decimal->mantissa + digit;
    decimal->exponent -= fraction;
  }
  return at;
}

/* Answers where it ends; size when it is all right. */
static gsize
read_exponent (Decimal *decimal, const char *text, gsize at, gsize size)
{
  int exponent = 0;
  bool negative;
  gsize from;

  if (at >= size || (text[at] | 0x20) != 'e')
    return at;
  at++;
  negative = at < size && text[at] == '-';
  if (at < size && (text[at] == '-' || text[at] == '+'))
    at++;
  for (from = at; at < size && g_ascii_isdigit (text[at]); at++)
    exponent = exponent < 100000 ? 10 * exponent + text[at] - '0' : exponent;
  decimal->exponent += negative ? -exponent : exponent;
  return at > from ? at : 0;
}

bool
lw_stl_number (const char *word, gsize size, float *value)
{
  static const double powers[] = { 1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                   1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                   1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22 };
  Decimal decimal = { 0 };
  gsize at = size > 0 && (word[0] == '-' || word[0] == '+') ? 1 : 0;
  bool negative = at == 1 && word[0] == '-';
  double magnitude;

  if (is_not_finite_word (word + at, size - at)) {
    *value = NAN;
    return true;
  }
  at = read_digits (&decimal, word, at, size, false);
  if (at < size && word[at] == '.')
    at = read_digits (&decimal, word, at + 1, size, true);
  if (!decimal.any || read_exponent (&decimal, word, at, size) != size)
    return false;
  if (decimal.digits > 19 || decimal.mantissa > (uint64_t)1 << 53 || ABS (decimal.exponent) > 22) {
    *value = (float)read_slowly (word, size);
    return true;
  }
  magnitude = (double)decimal.mantissa;
  magnitude = decimal.exponent < 0 ? magnitude / powers[-decimal.exponent]
                                   : magnitude * powers[decimal.exponent];
  *value = (float)(negative ? -magnitude : magnitude);
  return true;
}
