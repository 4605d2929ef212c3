/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/stltext.h"

#include <glib/gi18n.h>
#include <string.h>

#include "files/stlnumber.h"

typedef struct {
  const char *text;
  gsize size;
} Word;

typedef struct {
  const char *name; /* of the file, in messages */
  const char *start, *at, *end;
  LwProgress *progress;
  GError **error;
  GPtrArray *warnings;

  float *corners;
  size_t n, room; /* triangles */
  GArray *pieces; /* LwMeshPiece */
  bool one_line;  /* without any line end: names run to the next keyword */
  bool in_solid;
  uint32_t not_ended;
  bool cut_off, cancelled;
} Parser;

/* ------------------------------------------------------------------------------------------------
 * Words. */

static inline bool
is_blank (char c)
{
  return c == ' ' || (c >= '\t' && c <= '\r');
}

static inline bool
is_line_end (char c)
{
  return c == '\n' || c == '\r';
}

/* The word after the blanks; size 0 at the end. */
static inline Word
next_word (Parser *parser)
{
  const char *at = parser->at, *from;

  while (at < parser->end && is_blank (*at))
    at++;
  from = at;
  while (at < parser->end && !is_blank (*at))
    at++;
  parser->at = at;
  return (Word){ from, (gsize)(at - from) };
}

static inline Word
peek_word (Parser *parser)
{
  const char *at = parser->at;
  Word word = next_word (parser);

  parser->at = at;
  return word;
}

static inline bool
word_is (Word word, const char *keyword)
{
  gsize i = 0;

  for (; i < word.size && keyword[i]; i++) {
    if ((word.text[i] | 0x20) != keyword[i])
      return false;
  }
  return i == word.size && !keyword[i];
}

static bool
take (Parser *parser, const char *keyword)
{
  const char *at = parser->at;

  if (word_is (next_word (parser), keyword))
    return true;
  parser->at = at;
  return false;
}

/* "endfacet", or in two words. */
static bool
take_end (Parser *parser, const char *keyword)
{
  const char *at = parser->at;
  Word word = next_word (parser);

  if (word.size > 3 && word_is ((Word){ word.text, 3 }, "end")
      && word_is ((Word){ word.text + 3, word.size - 3 }, keyword))
    return true;
  if (word_is (word, "end") && take (parser, keyword))
    return true;
  parser->at = at;
  return false;
}

static int
line_of (const Parser *parser, const char *place)
{
  int line = 1;

  for (const char *at = parser->start; at < place; at++) {
    bool crlf = *at == '\r' && at + 1 < parser->end && at[1] == '\n';

    line += is_line_end (*at) && !crlf;
  }
  return line;
}

/* What stands there, made fit for a message. */
static char *
show_word (Word word)
{
  g_autofree char *bytes = g_strndup (word.text, MIN (word.size, 40));

  return g_utf8_make_valid (bytes, -1);
}

/* A word that runs into the end of the file and may be the beginning of what belongs there. */
static bool
is_fragment (const Parser *parser, Word word)
{
  static const char *const keywords[] = { "solid",  "facet",   "normal",   "outer",   "loop",
                                          "vertex", "endloop", "endfacet", "endsolid" };

  if (word.text + word.size != parser->end)
    return false;
  for (gsize i = 0; i < G_N_ELEMENTS (keywords); i++) {
    if (g_ascii_strncasecmp (word.text, keywords[i], word.size) == 0)
      return true;
  }
  for (gsize i = 0; i < word.size; i++) {
    if (!strchr ("+-.0123456789eE", word.text[i]))
      return false;
  }
  return true;
}

/* Answers false, with the error set or cut_off. */
static bool
fail (Parser *parser, const char *expected)
{
  Word word = peek_word (parser);
  g_autofree char *found = NULL;

  parser->cut_off = is_fragment (parser, word);
  if (parser->cut_off)
    return false;
  found = show_word (word);
  g_set_error (parser->error, LW_ERROR, LW_ERROR_DATA, _ ("%s: line %d: expected %s, found \"%s\""),
               parser->name, line_of (parser, word.text), expected, found);
  return false;
}

/* ------------------------------------------------------------------------------------------------
 * The grammar. A function that answers false has set the error, or cut_off at the file's end. */

static bool
take_numbers (Parser *parser, float out[3])
{
  for (int i = 0; i < 3; i++) {
    const char *at = parser->at;
    Word word = next_word (parser);

    if (!lw_stl_number (word.text, word.size, &out[i])) {
      parser->at = at;
      return fail (parser, _ ("a number with a decimal point"));
    }
  }
  return true;
}

static bool
expect (Parser *parser, const char *keyword)
{
  g_autofree char *quoted = NULL;

  if (take (parser, keyword))
    return true;
  quoted = g_strdup_printf ("\"%s\"", keyword);
  return fail (parser, quoted);
}

static void
add_triangle (Parser *parser, const float corners[9])
{
  if (parser->n == parser->room) {
    parser->room = parser->room ? 2 * parser->room : 1024;
    parser->corners = g_renew (float, parser->corners, 9 * parser->room);
  }
  memcpy (parser->corners + 9 * parser->n, corners, 9 * sizeof (float));
  parser->n++;
}

/* After the word "facet". */
static bool
parse_facet (Parser *parser)
{
  float normal[3], corners[9];

  if (!expect (parser, "normal") || !take_numbers (parser, normal) || !expect (parser, "outer")
      || !expect (parser, "loop"))
    return false;
  for (int i = 0; i < 3; i++) {
    if (!expect (parser, "vertex") || !take_numbers (parser, corners + 3 * i))
      return false;
  }
  /* Without a word after it, the last number itself may be cut off. */
  if (!take_end (parser, "loop"))
    return fail (parser, _ ("\"endloop\" after three corners"));
  if (!take_end (parser, "facet"))
    parser->not_ended++;
  if (parser->n >= LW_MESH_MAX_TRIANGLES)
    return fail (parser, _ ("fewer triangles than that"));
  add_triangle (parser, corners);
  return true;
}

static char *
dup_utf8 (Word word)
{
  GString *utf8;

  if (g_utf8_validate_len (word.text, word.size, NULL))
    return g_strndup (word.text, word.size);
  utf8 = g_string_sized_new (word.size + 16);
  for (gsize i = 0; i < word.size; i++)
    g_string_append_unichar (utf8, (guchar)word.text[i]); /* Latin-1 is the first 256 of Unicode */
  return g_string_free (utf8, FALSE);
}

static bool
at_facet (Parser *parser)
{
  const char *at = parser->at;
  bool yes = take (parser, "facet") && take (parser, "normal");

  parser->at = at;
  return yes;
}

static bool
at_solid_word (Parser *parser)
{
  const char *at = parser->at;
  bool yes = take_end (parser, "solid") || take (parser, "solid");

  parser->at = at;
  return yes;
}

static void
skip_blanks_of_line (Parser *parser)
{
  while (parser->at < parser->end && is_blank (*parser->at) && !is_line_end (*parser->at))
    parser->at++;
}

static bool
at_line_end (Parser *parser)
{
  skip_blanks_of_line (parser);
  return parser->at == parser->end || is_line_end (*parser->at);
}

/* A name runs to the end of its line; where the whole file is one line, to what must follow. */
static Word
take_name (Parser *parser)
{
  Word name;

  skip_blanks_of_line (parser);
  name = (Word){ parser->at, 0 };
  while (!at_line_end (parser) && !at_facet (parser)
         && !(parser->one_line && at_solid_word (parser))) {
    Word word = next_word (parser);

    name.size = (gsize)(word.text + word.size - name.text);
  }
  return name;
}

static void
end_solid (Parser *parser)
{
  LwMeshPiece *piece = &g_array_index (parser->pieces, LwMeshPiece, parser->pieces->len - 1);

  piece->count = (uint32_t)parser->n - piece->first;
  if (piece->count == 0)
    g_ptr_array_add (parser->warnings,
                     g_strdup_printf (_ ("The solid \"%s\" is empty."), piece->name));
  parser->in_solid = false;
}

static void
begin_solid (Parser *parser)
{
  LwMeshPiece piece = { .first = (uint32_t)parser->n };

  piece.name = dup_utf8 (take_name (parser));
  g_array_append_val (parser->pieces, piece);
  parser->in_solid = true;
}

static bool
parse_solids (Parser *parser)
{
  const char *told = parser->at;

  while (peek_word (parser).size > 0) {
    if (parser->in_solid && take (parser, "facet")) {
      if (!parse_facet (parser))
        return false;
    } else if (parser->in_solid && take_end (parser, "solid")) {
      end_solid (parser);
      take_name (parser);
    } else if (!parser->in_solid && take (parser, "solid")) {
      begin_solid (parser);
    } else {
      return fail (parser, parser->in_solid ? _ ("\"facet\" or \"endsolid\"") : _ ("\"solid\""));
    }
    if (parser->at - told > (1 << 20)) {
      parser->cancelled = lw_progress_step (parser->progress, parser->at - told);
      if (parser->cancelled)
        return false;
      told = parser->at;
    }
  }
  return true;
}

static void
warn_about_ends (Parser *parser)
{
  if (parser->cut_off)
    g_ptr_array_add (parser->warnings,
                     g_strdup_printf (_ ("The file is cut off: only the %zu triangles that are "
                                         "complete were read. Part of the shape is missing."),
                                      parser->n));
  if (parser->not_ended > 0)
    g_ptr_array_add (
        parser->warnings,
        g_strdup_printf (ngettext ("The word \"endfacet\" is missing once.",
                                   "The word \"endfacet\" is missing %u times.", parser->not_ended),
                         parser->not_ended));
  if (parser->in_solid && !parser->cut_off)
    g_ptr_array_add (parser->warnings,
                     g_strdup (_ ("The last \"endsolid\" is missing: the file may be cut off.")));
  if (parser->in_solid)
    end_solid (parser);
}

static const char *
skip_byte_order_mark (const char *bytes, gsize size)
{
  return size >= 3 && memcmp (bytes, "\xef\xbb\xbf", 3) == 0 ? bytes + 3 : bytes;
}

/* Some programs fill the last block with zeros, or end a text with Ctrl-Z. */
static gsize
trim_end (const char *bytes, gsize size)
{
  while (size > 0 && (bytes[size - 1] == 0 || bytes[size - 1] == 0x1a))
    size--;
  return size;
}

bool
lw_stl_has_text_only (const char *bytes, gsize size)
{
  gsize n = MIN (trim_end (bytes, size), 1024);

  for (gsize i = 0; i < n; i++) {
    if ((guchar)bytes[i] < 0x20 && !is_blank (bytes[i]))
      return false;
  }
  return n > 0;
}

bool
lw_stl_is_text (const char *bytes, gsize size)
{
  Parser parser = { .at = skip_byte_order_mark (bytes, size),
                    .end = bytes + trim_end (bytes, size) };

  return parser.at < parser.end && take (&parser, "solid") && lw_stl_has_text_only (bytes, size);
}

static void
clear_piece (gpointer data)
{
  LwMeshPiece *piece = data;

  g_free (piece->name);
}

static LwMesh *
make_mesh (Parser *parser, double unit_mm)
{
  LwCorners corners = { (const char *)parser->corners, 9 * sizeof (float), (uint32_t)parser->n };
  uint32_t n_pieces = parser->pieces->len;
  LwMeshPiece *pieces = g_memdup2 (parser->pieces->data, n_pieces * sizeof (LwMeshPiece));
  LwMesh *mesh;

  g_array_set_clear_func (parser->pieces, NULL); /* the mesh has the names now */
  mesh = lw_mesh_new_from_corners (corners, unit_mm, pieces, n_pieces, parser->progress);
  if (!mesh)
    lw_progress_set_error_if_cancelled (parser->progress, parser->error);
  return mesh;
}

LwMesh *
lw_stl_parse_text (const char *name, const char *bytes, gsize size, double unit_mm,
                   GPtrArray *warnings, LwProgress *progress, GError **error)
{
  Parser parser = { .name = name,
                    .start = bytes,
                    .at = skip_byte_order_mark (bytes, size),
                    .end = bytes + trim_end (bytes, size),
                    .progress = progress,
                    .error = error,
                    .warnings = warnings };
  LwMesh *mesh = NULL;

  parser.pieces = g_array_new (FALSE, FALSE, sizeof (LwMeshPiece));
  g_array_set_clear_func (parser.pieces, clear_piece);
  parser.one_line = !memchr (bytes, '\n', size) && !memchr (bytes, '\r', size);
  /* Welding takes about a thirtieth of what reading does. */
  lw_progress_start (progress, (long long)size + (long long)size / 30);
  if (parse_solids (&parser) || parser.cut_off) {
    warn_about_ends (&parser);
    if (parser.n == 0)
      g_set_error (error, LW_ERROR, LW_ERROR_DATA, _ ("%s: the STL file holds no triangle"), name);
    else
      mesh = make_mesh (&parser, unit_mm);
  } else if (parser.cancelled) {
    lw_progress_set_error_if_cancelled (progress, error);
  }
  g_array_unref (parser.pieces);
  g_free (parser.corners);
  return mesh;
}
