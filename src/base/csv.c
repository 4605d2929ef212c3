/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/csv.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/file.h"
#include "base/text.h"

struct _LwCsv {
  char *name;
  char decimal;
  int n_columns;
  GPtrArray *cells; /* row by row, the header first */
  GArray *lines;    /* of each row, the header first */
};

typedef struct {
  LwCsv *csv;
  char delimiter;
  const char *p, *end;
  int line;
  GError **error;
} Parse;

static bool
fail (Parse *parse, int line, const char *what)
{
  g_set_error (parse->error, LW_ERROR, LW_ERROR_DATA, "%s:%d: %s", parse->csv->name, line, what);
  return false;
}

/* How many bytes end the line at p: 0 (none), 1 or 2. */
static int
line_end_length (const Parse *parse)
{
  if (parse->p < parse->end && *parse->p == '\n')
    return 1;
  return parse->end - parse->p >= 2 && parse->p[0] == '\r' && parse->p[1] == '\n' ? 2 : 0;
}

static bool
is_cell_end (const Parse *parse)
{
  return parse->p == parse->end || *parse->p == parse->delimiter || line_end_length (parse) > 0;
}

static bool
parse_quoted (Parse *parse, GString *cell)
{
  int first_line = parse->line;

  parse->p++;
  for (;; parse->p++) {
    if (parse->p == parse->end)
      return fail (parse, first_line, _ ("the quoted cell that begins here has no end"));
    if (*parse->p == '"') {
      if (parse->end - parse->p < 2 || parse->p[1] != '"')
        break;
      parse->p++;
    }
    parse->line += *parse->p == '\n';
    g_string_append_c (cell, *parse->p);
  }
  parse->p++;
  return is_cell_end (parse)
         || fail (parse, parse->line, _ ("a cell must end behind its closing quote"));
}

static bool
parse_plain (Parse *parse, GString *cell)
{
  for (; !is_cell_end (parse); parse->p++) {
    if (*parse->p == '"')
      return fail (parse, parse->line, _ ("a quote stands inside a cell that has none around it"));
    if (*parse->p == '\r')
      return fail (parse, parse->line, _ ("a carriage return stands inside a line"));
    g_string_append_c (cell, *parse->p);
  }
  return true;
}

/* One row up to the end of its line; *n_cells counts. */
static bool
parse_row (Parse *parse, int *n_cells)
{
  for (*n_cells = 1;; (*n_cells)++) {
    g_autoptr (GString) cell = g_string_new (NULL);
    bool is_quoted = parse->p < parse->end && *parse->p == '"';
    if (!(is_quoted ? parse_quoted (parse, cell) : parse_plain (parse, cell)))
      return false;
    g_ptr_array_add (parse->csv->cells, g_strdup (cell->str));
    if (parse->p == parse->end || *parse->p != parse->delimiter)
      break;
    parse->p++;
  }
  if (parse->p < parse->end) {
    parse->p += line_end_length (parse);
    parse->line++;
  }
  return true;
}

static bool
check_header (Parse *parse, int line)
{
  LwCsv *csv = parse->csv;

  for (int i = 0; i < csv->n_columns; i++) {
    char *header = g_strstrip (g_ptr_array_index (csv->cells, i));
    g_autofree char *what = NULL;
    if (header[0] == '\0')
      what = g_strdup_printf (_ ("column %d has no name"), i + 1);
    else if (lw_csv_find_column (csv, header) != i)
      what = g_strdup_printf (_ ("the column “%s” is there twice"), header);
    if (what != NULL)
      return fail (parse, line, what);
  }
  return true;
}

static bool
parse_rows (Parse *parse)
{
  LwCsv *csv = parse->csv;

  while (parse->p < parse->end) {
    int line = parse->line, n_cells, end_length = line_end_length (parse);
    if (end_length > 0) {
      parse->p += end_length;
      parse->line++;
      continue;
    }
    if (!parse_row (parse, &n_cells))
      return false;
    g_array_append_val (csv->lines, line);
    if (csv->lines->len == 1) {
      csv->n_columns = n_cells;
      if (!check_header (parse, line))
        return false;
    } else if (n_cells != csv->n_columns) {
      g_autofree char *what =
          g_strdup_printf (_ ("must have %d cells as the header has, has %d (delimiter “%c”)"),
                           csv->n_columns, n_cells, parse->delimiter);
      return fail (parse, line, what);
    }
  }
  return csv->lines->len > 0 || fail (parse, 1, _ ("must begin with a header line, is empty"));
}

static bool
check_text (Parse *parse)
{
  const char *bad;

  if (g_utf8_validate_len (parse->p, (gsize)(parse->end - parse->p), &bad)) {
    if (parse->end - parse->p >= 3 && memcmp (parse->p, "\xEF\xBB\xBF", 3) == 0)
      parse->p += 3;
    return true;
  }

  int line = 1;

  for (const char *c = parse->p; c < bad; c++)
    line += *c == '\n';
  return fail (parse, line, _ ("must be UTF-8 text"));
}

LwCsv *
lw_csv_parse (const char *name, const char *text, gsize length, char delimiter, char decimal,
              GError **error)
{
  if ((decimal != '.' && decimal != ',') || delimiter == decimal || delimiter == '\0'
      || strchr ("\"\r\n", delimiter) != NULL || (guchar)delimiter > 0x7F) {
    g_set_error (error, LW_ERROR, LW_ERROR_USAGE,
                 _ ("%s: the decimal sign must be “.” or “,”, and the delimiter another character, "
                    "no quote"),
                 name);
    return NULL;
  }

  g_autoptr (LwCsv) csv = g_new0 (LwCsv, 1);
  Parse parse = { .csv = csv, .delimiter = delimiter, .line = 1, .error = error };

  parse.p = length > 0 ? text : ""; /* text may be NULL then */
  parse.end = parse.p + length;
  csv->name = g_strdup (name);
  csv->decimal = decimal;
  csv->cells = g_ptr_array_new_with_free_func (g_free);
  csv->lines = g_array_new (FALSE, FALSE, sizeof (int));
  if (!check_text (&parse) || !parse_rows (&parse))
    return NULL;
  return g_steal_pointer (&csv);
}

LwCsv *
lw_csv_load (const char *path, char delimiter, char decimal, GError **error)
{
  g_autofree char *name = g_filename_display_name (path);
  g_autofree char *text = NULL;
  gsize length;

  if (!lw_file_load (path, &text, &length, error))
    return NULL;
  return lw_csv_parse (name, text, length, delimiter, decimal, error);
}

void
lw_csv_free (LwCsv *csv)
{
  if (csv == NULL)
    return;
  g_free (csv->name);
  g_ptr_array_unref (csv->cells);
  g_array_unref (csv->lines);
  g_free (csv);
}

int
lw_csv_get_n_rows (const LwCsv *csv)
{
  return (int)csv->lines->len - 1;
}

int
lw_csv_find_column (const LwCsv *csv, const char *header)
{
  for (int i = 0; i < csv->n_columns; i++)
    if (strcmp (g_ptr_array_index (csv->cells, i), header) == 0)
      return i;
  return -1;
}

int
lw_csv_need_column (const LwCsv *csv, const char *header, GError **error)
{
  int column = lw_csv_find_column (csv, header);

  if (column < 0) {
    g_autoptr (GString) there = g_string_new (NULL);
    for (int i = 0; i < csv->n_columns; i++)
      g_string_append_printf (there, "%s“%s”", i > 0 ? ", " : "",
                              (char *)g_ptr_array_index (csv->cells, i));
    g_set_error (error, LW_ERROR, LW_ERROR_DATA, _ ("%s:%d: needs a column “%s”; there are %s"),
                 csv->name, lw_csv_get_line (csv, -1), header, there->str);
  }
  return column;
}

const char *
lw_csv_get_text (const LwCsv *csv, int row, int column)
{
  g_assert (row >= -1 && row < lw_csv_get_n_rows (csv));
  g_assert (column >= 0 && column < csv->n_columns);
  return g_ptr_array_index (csv->cells, (row + 1) * csv->n_columns + column);
}

bool
lw_csv_get_number (const LwCsv *csv, int row, int column, double *value, GError **error)
{
  const char *text = lw_csv_get_text (csv, row, column);

  if (lw_number_from_text (text, csv->decimal, value))
    return true;
  g_set_error (error, LW_ERROR, LW_ERROR_DATA,
               csv->decimal == ',' ? _ ("%s:%d: %s must be a number (decimal comma), is “%s”")
                                   : _ ("%s:%d: %s must be a number (decimal point), is “%s”"),
               csv->name, lw_csv_get_line (csv, row), lw_csv_get_text (csv, -1, column), text);
  return false;
}

int
lw_csv_get_line (const LwCsv *csv, int row)
{
  g_assert (row >= -1 && row < lw_csv_get_n_rows (csv));
  return g_array_index (csv->lines, int, row + 1);
}
