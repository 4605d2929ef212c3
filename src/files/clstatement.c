/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/clstatement.h"

#include <glib/gi18n.h>
#include <string.h>

#define LIKELY_LINES 200

struct _LwClReader {
  char *name;
  const char *at, *end;
  const char *line_end; /* of the line that at is in */
  int line;             /* of at */
  GString *raw;         /* the statement without its blanks, upper case; cut up in place */
  LwClStatement statement;
  LwClWarnings *warnings;
};

void
lw_cl_warnings_add (LwClWarnings *warnings, char *sentence)
{
  if (warnings->n++ < LW_CL_MOST_WARNINGS)
    g_ptr_array_add (warnings->told, sentence);
  else
    g_free (sentence);
}

static void
find_line_end (LwClReader *reader)
{
  const char *p = reader->at;

  while (p < reader->end && *p != '\n' && *p != '\r')
    p++;
  reader->line_end = p;
}

LwClReader *
lw_cl_reader_new (const char *name, const char *bytes, gsize size, LwClWarnings *warnings)
{
  LwClReader *reader = g_new0 (LwClReader, 1);
  static const char mark[] = "\xef\xbb\xbf";

  reader->name = g_strdup (name);
  reader->at = bytes;
  reader->end = bytes + size;
  reader->line = 1;
  reader->raw = g_string_new (NULL);
  reader->statement.list = g_ptr_array_new ();
  reader->warnings = warnings;
  if (size >= 3 && memcmp (bytes, mark, 3) == 0)
    reader->at += 3;
  find_line_end (reader);
  return reader;
}

void
lw_cl_reader_free (LwClReader *reader)
{
  g_free (reader->statement.text);
  g_ptr_array_unref (reader->statement.list);
  g_string_free (reader->raw, TRUE);
  g_free (reader->name);
  g_free (reader);
}

/* Past the end of the present line: LF, CR LF or CR. */
static void
step_line (LwClReader *reader)
{
  const char *p = reader->line_end;

  if (p < reader->end && *p == '\r' && p + 1 < reader->end && p[1] == '\n')
    p++;
  reader->at = p < reader->end ? p + 1 : p;
  reader->line++;
  find_line_end (reader);
}

static bool
fail (const LwClReader *reader, int line, const char *what, GError **error)
{
  g_set_error (error, LW_ERROR, LW_ERROR_DATA, "%s:%d: %s", reader->name, line, what);
  return false;
}

/* ------------------------------------------------------------------------------------------------
 * Text */

/* The text word at p, or NULL. */
static const char *
get_text_word (const char *p, const char *end)
{
  static const char *const words[] = { "PARTNO", "PPRINT", "INSERT", "REMARK", "LETTER" };

  if (end - p < 6 || (end - p > 6 && g_ascii_isalnum (p[6])))
    return NULL;
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_ascii_strncasecmp (p, words[i], 6) == 0)
      return words[i];
  return NULL;
}

static void
take_text (LwClReader *reader, const char *word)
{
  const char *end = reader->line_end, *p = reader->at + 6;
  const char *comment = p;
  g_autofree char *bytes = NULL;

  while (comment < end && !(comment[0] == '$' && comment + 1 < end && comment[1] == '$'))
    comment++;
  bytes = g_strndup (p, (gsize)(comment - p));
  g_strstrip (bytes);
  if (bytes[0] == '/')
    memmove (bytes, bytes + 1, strlen (bytes));
  g_strstrip (bytes);
  if (g_str_has_suffix (bytes, "$"))
    lw_cl_warnings_add (
        reader->warnings,
        g_strdup_printf (_ ("Line %d: text does not go on over “$”; the next line is read as a "
                            "statement."),
                         reader->line));
  reader->statement.word = word;
  reader->statement.text = g_utf8_make_valid (bytes, -1);
  step_line (reader);
}

/* ------------------------------------------------------------------------------------------------
 * Words and numbers */

static void
pass_comment (LwClReader *reader)
{
  const char *last = reader->line_end;

  while (last > reader->at && (last[-1] == ' ' || last[-1] == '\t'))
    last--;
  if (last - reader->at >= 4 && last[-1] == '$' && last[-2] != '$')
    lw_cl_warnings_add (
        reader->warnings,
        g_strdup_printf (_ ("Line %d: a comment does not go on over “$”; the next line is read as "
                            "a statement."),
                         reader->line));
}

typedef enum { PIECE_FAILED, PIECE_ENDS, PIECE_GOES_ON } Piece;

/* Takes what of the present line belongs to the statement. */
static Piece
take_piece (LwClReader *reader, GError **error)
{
  const char *end = reader->line_end;

  for (; reader->at < end; reader->at++) {
    char c = *reader->at;

    if (c == '$' && reader->at + 1 < end && reader->at[1] == '$') {
      pass_comment (reader);
      break;
    }
    if (c == '$') {
      step_line (reader);
      return PIECE_GOES_ON;
    }
    if (c == ';') {
      reader->at++;
      return PIECE_ENDS;
    }
    if (c == ' ' || c == '\t')
      continue;
    if (c < ' ' || c > '~') {
      fail (reader, reader->line,
            c == 0 ? _ ("a zero byte; expected plain text (ASCII or UTF-8)")
                   : _ ("a character that is none of the language's outside a text or comment"),
            error);
      return PIECE_FAILED;
    }
    g_string_append_c (reader->raw, g_ascii_toupper (c));
    if (reader->raw->len > LW_CL_MOST) {
      fail (reader, reader->statement.line, _ ("the statement is too long"), error);
      return PIECE_FAILED;
    }
  }
  step_line (reader);
  return PIECE_ENDS;
}

/* WORD/a,b,c into its pieces. */
static void
split (LwClReader *reader)
{
  LwClStatement *statement = &reader->statement;
  char *slash = strchr (reader->raw->str, '/');

  statement->word = reader->raw->str;
  if (slash == NULL)
    return;
  *slash = '\0';
  for (char *at = slash + 1; at != NULL;) {
    char *comma = strchr (at, ',');

    if (comma != NULL)
      *comma++ = '\0';
    g_ptr_array_add (statement->list, at);
    at = comma;
  }
}

static bool
take_statement (LwClReader *reader, GError **error)
{
  Piece piece;

  while ((piece = take_piece (reader, error)) == PIECE_GOES_ON)
    if (reader->at >= reader->end)
      return fail (reader, reader->statement.line, _ ("the file ends inside this statement"),
                   error);
  if (piece == PIECE_FAILED)
    return false;
  split (reader);
  return true;
}

const LwClStatement *
lw_cl_reader_next (LwClReader *reader, GError **error)
{
  LwClStatement *statement = &reader->statement;

  g_string_truncate (reader->raw, 0);
  g_ptr_array_set_size (statement->list, 0);
  g_clear_pointer (&statement->text, g_free);
  while (reader->at < reader->end) {
    const char *word;

    while (reader->at < reader->end && (*reader->at == ' ' || *reader->at == '\t'))
      reader->at++;
    statement->line = reader->line;
    word = get_text_word (reader->at, reader->line_end);
    if (word != NULL) {
      take_text (reader, word);
      return statement;
    }
    if (!take_statement (reader, error))
      return NULL;
    if (statement->word[0] != '\0' || statement->list->len > 0)
      return statement;
  }
  return NULL;
}

bool
lw_cl_is_likely (const char *bytes, gsize size)
{
  static const char *const words[] = { "UNITS",  "MACHIN", "MULTAX", "LOADTL", "CUTTER",
                                       "SPINDL", "FEDRAT", "FROM",   "GOTO",   "GODLTA",
                                       "COOLNT", "TLAXIS", "CYCLE" };
  g_autoptr (GPtrArray) told = g_ptr_array_new_with_free_func (g_free);
  LwClWarnings warnings = { told, 0 };
  g_autoptr (LwClReader) reader = lw_cl_reader_new ("", bytes, size, &warnings);
  const LwClStatement *statement;

  while (reader->line <= LIKELY_LINES && (statement = lw_cl_reader_next (reader, NULL)) != NULL) {
    if (strcmp (statement->word, "PARTNO") == 0)
      return true;
    for (gsize i = 0; statement->list->len > 0 && i < G_N_ELEMENTS (words); i++)
      if (strcmp (statement->word, words[i]) == 0)
        return true;
  }
  return false;
}
