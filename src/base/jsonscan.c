/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/jsonscan.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "base/json.h"

/* A descent by the grammar. Each scan_ function takes its part from p on, or records the fault with
 * the place of p and answers false. */
typedef struct {
  const char *name;
  const char *begin, *p, *end;
  int depth;
  GString *string; /* the string scanned last, unescaped */
  GError **error;
} Scan;

static bool scan_value (Scan *scan);

static void
find_place (const Scan *scan, const char *p, int *line, int *column)
{
  const char *line_begin = scan->begin;

  *line = 1;
  for (const char *c = scan->begin; c < p; c++)
    if (*c == '\n') {
      (*line)++;
      line_begin = c + 1;
    }
  *column = (int)g_utf8_strlen (line_begin, p - line_begin) + 1;
}

G_GNUC_PRINTF (2, 3)
static bool
fail (Scan *scan, const char *format, ...)
{
  int line, column;
  va_list args;

  find_place (scan, scan->p, &line, &column);
  va_start (args, format);
  g_autofree char *what = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error (scan->error, LW_ERROR, LW_ERROR_DATA, "%s:%d:%d: %s", scan->name, line, column,
               what);
  return false;
}

/* What stands at p, for messages. New string. */
static char *
describe_here (const Scan *scan)
{
  if (scan->p == scan->end)
    return g_strdup (_ ("the end of the file"));

  gunichar c = g_utf8_get_char (scan->p);
  if (!g_unichar_isprint (c))
    return g_strdup_printf ("U+%04X", c);

  char buffer[7] = "";

  g_unichar_to_utf8 (c, buffer);
  return g_strdup_printf ("“%s”", buffer);
}

static bool
fail_expected (Scan *scan, const char *expected)
{
  g_autofree char *found = describe_here (scan);

  if (scan->p < scan->end && (*scan->p == '/' || *scan->p == '#'))
    return fail (scan, _ ("expected %s, found %s; comments are not allowed"), expected, found);
  return fail (scan, _ ("expected %s, found %s"), expected, found);
}

static bool
is_here (const Scan *scan, char c)
{
  return scan->p < scan->end && *scan->p == c;
}

static bool
is_digit_here (const Scan *scan)
{
  return scan->p < scan->end && g_ascii_isdigit (*scan->p);
}

static void
skip_blanks (Scan *scan)
{
  while (scan->p < scan->end && strchr (" \t\r\n", *scan->p) != NULL && *scan->p != '\0')
    scan->p++;
}

/* ------------------------------------------------------------------------------------------------
 */

static bool
scan_hex (Scan *scan, gunichar *code)
{
  *code = 0;
  for (int i = 0; i < 4; i++, scan->p++) {
    if (scan->p == scan->end || !g_ascii_isxdigit (*scan->p))
      return fail_expected (scan, _ ("four hexadecimal digits after \\u"));
    *code = *code * 16 + (gunichar)g_ascii_xdigit_value (*scan->p);
  }
  return true;
}

/* After "\u". */
static bool
scan_unicode_escape (Scan *scan)
{
  const char *start = scan->p - 2;
  gunichar code, low = 0;

  if (!scan_hex (scan, &code))
    return false;
  if (code >= 0xD800 && code < 0xDC00) {
    if (scan->end - scan->p >= 2 && scan->p[0] == '\\' && scan->p[1] == 'u') {
      scan->p += 2;
      if (!scan_hex (scan, &low))
        return false;
    }
    if (low < 0xDC00 || low > 0xDFFF) {
      scan->p = start;
      return fail (scan, _ ("half of a surrogate pair stands alone"));
    }
    code = 0x10000 + ((code - 0xD800) << 10) + (low - 0xDC00);
  } else if (code >= 0xDC00 && code <= 0xDFFF) {
    scan->p = start;
    return fail (scan, _ ("half of a surrogate pair stands alone"));
  } else if (code == 0) {
    scan->p = start;
    return fail (scan, _ ("a zero character is not allowed"));
  }
  g_string_append_unichar (scan->string, code);
  return true;
}

static bool
scan_escape (Scan *scan)
{
  static const char escapes[] = "\"\\/bfnrt", meant[] = "\"\\/\b\f\n\r\t";

  scan->p++;
  if (is_here (scan, 'u')) {
    scan->p++;
    return scan_unicode_escape (scan);
  }

  const char *which = scan->p < scan->end ? strchr (escapes, *scan->p) : NULL;
  if (which == NULL || *which == '\0')
    return fail_expected (scan, _ ("one of \" \\ / b f n r t u after \\"));
  g_string_append_c (scan->string, meant[which - escapes]);
  scan->p++;
  return true;
}

static bool
scan_string (Scan *scan)
{
  const char *start = scan->p++;

  g_string_truncate (scan->string, 0);
  while (!is_here (scan, '"')) {
    if (scan->p == scan->end) {
      scan->p = start;
      return fail (scan, _ ("the string that begins here has no end"));
    }
    if ((guchar)*scan->p < 0x20)
      return fail (scan,
                   _ ("a control character (U+%04X) in a string must be written as an escape"),
                   (guchar)*scan->p);
    if (*scan->p == '\\') {
      if (!scan_escape (scan))
        return false;
    } else {
      g_string_append_c (scan->string, *scan->p++);
    }
  }
  scan->p++;
  return true;
}

/* ------------------------------------------------------------------------------------------------
 */

static bool
scan_digits (Scan *scan)
{
  if (!is_digit_here (scan))
    return fail_expected (scan, _ ("a digit"));
  while (is_digit_here (scan))
    scan->p++;
  return true;
}

static bool
check_range (Scan *scan, const char *start, bool is_integer)
{
  g_autofree char *text = g_strndup (start, (gsize)(scan->p - start));
  bool well;

  if (is_integer) {
    errno = 0;
    g_ascii_strtoll (text, NULL, 10);
    well = errno == 0;
  } else {
    well = isfinite (g_ascii_strtod (text, NULL));
  }
  if (well)
    return true;
  scan->p = start;
  return fail (scan, _ ("the number is beyond the range that can be read"));
}

static bool
scan_number (Scan *scan)
{
  const char *start = scan->p;
  bool is_integer = true;

  if (*scan->p == '-')
    scan->p++;
  if (is_here (scan, '0')) {
    scan->p++;
    if (is_digit_here (scan))
      return fail (scan, _ ("a number must not begin with a zero digit"));
    if (is_here (scan, 'x') || is_here (scan, 'X'))
      return fail (scan, _ ("a number must be decimal, not hexadecimal"));
  } else if (!scan_digits (scan)) {
    return false;
  }
  if (is_here (scan, '.')) {
    is_integer = false;
    scan->p++;
    if (!scan_digits (scan))
      return false;
  }
  if (is_here (scan, 'e') || is_here (scan, 'E')) {
    is_integer = false;
    scan->p++;
    if (is_here (scan, '+') || is_here (scan, '-'))
      scan->p++;
    if (!scan_digits (scan))
      return false;
  }
  return check_range (scan, start, is_integer);
}

/* ------------------------------------------------------------------------------------------------
 */

static bool
scan_word (Scan *scan, const char *word)
{
  gsize length = strlen (word);

  if ((gsize)(scan->end - scan->p) < length || memcmp (scan->p, word, length) != 0)
    return fail_expected (scan, _ ("a value"));
  scan->p += length;
  if (scan->p < scan->end && (g_ascii_isalnum (*scan->p) || *scan->p == '_'))
    return fail_expected (scan, _ ("the end of a value"));
  return true;
}

/* The key, the colon and the value of one member; keys holds those of the object so far. */
static bool
scan_member (Scan *scan, GHashTable *keys)
{
  const char *start = scan->p;

  if (!is_here (scan, '"'))
    return fail_expected (scan, _ ("a key in double quotes"));
  if (!scan_string (scan))
    return false;
  if (scan->string->len == 0) {
    scan->p = start;
    return fail (scan, _ ("a key must not be empty"));
  }
  if (!g_hash_table_add (keys, g_strdup (scan->string->str))) {
    scan->p = start;
    return fail (scan, _ ("the key “%s” is there twice"), scan->string->str);
  }
  skip_blanks (scan);
  if (!is_here (scan, ':'))
    return fail_expected (scan, _ ("“:” after a key"));
  scan->p++;
  return scan_value (scan);
}

/* Members or elements up to the closing bracket; keys is NULL in an array. */
static bool
scan_items (Scan *scan, GHashTable *keys, char closing)
{
  scan->p++;
  skip_blanks (scan);
  if (is_here (scan, closing)) {
    scan->p++;
    return true;
  }
  for (;;) {
    skip_blanks (scan);
    if (!(keys != NULL ? scan_member (scan, keys) : scan_value (scan)))
      return false;
    skip_blanks (scan);
    if (is_here (scan, closing)) {
      scan->p++;
      return true;
    }
    if (!is_here (scan, ','))
      return fail_expected (scan, keys != NULL ? _ ("“,” or “}”") : _ ("“,” or “]”"));
    scan->p++;
  }
}

static bool
scan_container (Scan *scan)
{
  if (scan->depth == LW_JSON_DEPTH)
    return fail (scan, _ ("must not be nested deeper than %d levels"), LW_JSON_DEPTH);
  scan->depth++;

  bool is_object = *scan->p == '{';
  GHashTable *keys =
      is_object ? g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL) : NULL;
  bool well = scan_items (scan, keys, is_object ? '}' : ']');

  g_clear_pointer (&keys, g_hash_table_unref);
  scan->depth--;
  return well;
}

static bool
scan_value (Scan *scan)
{
  skip_blanks (scan);
  if (scan->p == scan->end)
    return fail_expected (scan, _ ("a value"));
  switch (*scan->p) {
  case '{':
  case '[':
    return scan_container (scan);
  case '"':
    return scan_string (scan);
  case 't':
    return scan_word (scan, "true");
  case 'f':
    return scan_word (scan, "false");
  case 'n':
    return scan_word (scan, "null");
  default:
    if (*scan->p == '-' || g_ascii_isdigit (*scan->p))
      return scan_number (scan);
    return fail_expected (scan, _ ("a value"));
  }
}

static bool
scan_text (Scan *scan)
{
  const char *bad;

  if (!g_utf8_validate_len (scan->begin, (gsize)(scan->end - scan->begin), &bad)) {
    scan->p = bad;
    return fail (scan, _ ("must be UTF-8 text, found the byte 0x%02X"), (guchar)*bad);
  }
  if (scan->end - scan->begin >= 3 && memcmp (scan->begin, "\xEF\xBB\xBF", 3) == 0)
    return fail (scan, _ ("must not begin with a byte order mark"));
  if (!scan_value (scan))
    return false;
  skip_blanks (scan);
  return scan->p == scan->end || fail_expected (scan, _ ("nothing more after the value"));
}

bool
lw_json_scan (const char *name, const char *text, gsize length, GError **error)
{
  g_autoptr (GString) string = g_string_new (NULL);
  Scan scan = { .name = name, .string = string, .error = error };

  scan.begin = scan.p = length > 0 ? text : ""; /* text may be NULL then */
  scan.end = scan.begin + length;
  return scan_text (&scan);
}
