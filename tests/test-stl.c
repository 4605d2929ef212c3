/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/stl.h"

#include <errno.h>
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/parallel.h"
#include "files/meshfile.h"
#include "files/stlnumber.h"
#include "files/stltext.h"
#include "near.h"
#include "samples.h"
#include "shapes.h"

/* The block of most files here, closed, 12 triangles. */
#define VOLUME 240000.0
#define AREA   24800.0

/* ------------------------------------------------------------------------------------------------
 * Reading from memory. */

typedef struct {
  LwMesh *mesh;
  GPtrArray *warnings;
  GError *error;
} Read;

static Read
read_bytes (const void *bytes, gsize size)
{
  Read read = { .warnings = g_ptr_array_new_with_free_func (g_free) };
  /* A copy of just this size, so that a sanitizer sees every byte too far. */
  char *copy = g_malloc (size + (size == 0));

  memcpy (copy, bytes, size);
  read.mesh = lw_stl_parse ("part.stl", copy, size, 1, read.warnings, NULL, &read.error);
  g_assert_true ((read.mesh == NULL) == (read.error != NULL));
  g_free (copy);
  return read;
}

static Read
read_text (const char *text)
{
  return read_bytes (text, strlen (text));
}

static void
read_clear (Read *read)
{
  g_clear_pointer (&read->mesh, lw_mesh_unref);
  g_ptr_array_unref (read->warnings);
  g_clear_error (&read->error);
}

static void
assert_block (const Read *read, guint n_warnings)
{
  const LwMeshFacts *facts;

  g_assert_no_error (read->error);
  facts = lw_mesh_get_facts (read->mesh);
  g_assert_cmpuint (lw_mesh_get_n_triangles (read->mesh), ==, 12);
  g_assert_cmpuint (lw_mesh_get_n_points (read->mesh), ==, 8);
  g_assert_true (facts->closed);
  assert_near (facts->volume, VOLUME, 1e-6);
  assert_near (facts->area, AREA, 1e-6);
  assert_near (facts->box.low.x, 0, 0);
  assert_near (facts->box.high.x, 100, 0);
  assert_near (facts->box.high.y, 60, 0);
  assert_near (facts->box.high.z, 40, 0);
  for (guint i = 0; i < read->warnings->len; i++)
    g_test_message ("%s", (char *)read->warnings->pdata[i]);
  g_assert_cmpuint (read->warnings->len, ==, n_warnings);
}

static void
assert_says (const char *text, const char *words)
{
  if (!strstr (text, words))
    g_error ("\"%s\" does not say \"%s\"", text, words);
}

static void
assert_warns (const Read *read, guint i, const char *words)
{
  g_assert_cmpuint (i, <, read->warnings->len);
  assert_says (read->warnings->pdata[i], words);
}

static void
assert_refused (Read read, const char *words)
{
  g_assert_error (read.error, LW_ERROR, LW_ERROR_DATA);
  assert_says (read.error->message, "part.stl: ");
  assert_says (read.error->message, words);
  read_clear (&read);
}

/* ------------------------------------------------------------------------------------------------
 * Binary. */

static Read
read_binary_block (const char *head, uint32_t count, int extra)
{
  Shape block = shape_block (100, 60, 40);
  g_autoptr (GByteArray) bytes = shape_to_binary (&block, head, count);
  Read read;

  for (int i = 0; i < extra; i++)
    g_byte_array_append (bytes, (const guint8 *)"x", 1);
  if (extra < 0)
    g_byte_array_set_size (bytes, bytes->len - (guint)-extra);
  read = read_bytes (bytes->data, bytes->len);
  shape_clear (&block);
  return read;
}

/* The heads that readers trip over: the size decides before any word of the head does. */
static void
test_binary_heads (void)
{
  static const char *const heads[] = { "",
                                       "solid",
                                       "solid box exported as binary",
                                       "SOLID facet normal 0 0 1 outer loop",
                                       "COLOR=\x20\x80\xff\xff",
                                       "\xff\xfe\x80 not any encoding",
                                       "\xef\xbb\xbfsolid",
                                       "\x1f\x8b\x08" };

  for (gsize i = 0; i < G_N_ELEMENTS (heads); i++) {
    Read read = read_binary_block (heads[i], 12, 0);

    assert_block (&read, 0);
    read_clear (&read);
  }
}

static void
test_binary_attributes (void)
{
  Shape block = shape_block (100, 60, 40);
  g_autoptr (GByteArray) bytes = shape_to_binary (&block, "", 12);
  Read read;

  for (int i = 0; i < 12; i++) {
    bytes->data[84 + 50 * i + 48] = (guint8)(17 * i); /* colors of either kind, or a length */
    bytes->data[84 + 50 * i + 49] = i % 2 ? 0x80 : 0x4e;
    bytes->data[84 + 50 * i + 3] = 0x7f; /* a normal that is none: not used */
    bytes->data[84 + 50 * i + 2] = 0xc0;
  }
  read = read_bytes (bytes->data, bytes->len);
  assert_block (&read, 0);
  read_clear (&read);
  shape_clear (&block);
}

static void
test_binary_counts (void)
{
  static const uint32_t counts[] = { 0, 1, 6, 11, 13, 1000000, UINT32_MAX };

  for (gsize i = 0; i < G_N_ELEMENTS (counts); i++) {
    static const char *const heads[] = { "", "solid box" };

    for (int j = 0; j < 2; j++) {
      g_autofree char *count = g_strdup_printf ("promises %u triangles", counts[i]);
      Read read = read_binary_block (heads[j], counts[i], 0);

      assert_block (&read, 1);
      assert_warns (&read, 0, count);
      assert_warns (&read, 0, "of 12,");
      read_clear (&read);
    }
  }
}

static void
test_binary_cut_off (void)
{
  for (int missing = 1; missing < 50; missing += 12) {
    for (int triangles = 0; triangles <= 10; triangles += 5) {
      Read read = read_binary_block ("solid", 12, -(50 * triangles + missing));

      g_assert_no_error (read.error);
      g_assert_cmpuint (lw_mesh_get_n_triangles (read.mesh), ==, 11 - (uint32_t)triangles);
      g_assert_false (lw_mesh_get_facts (read.mesh)->closed);
      assert_warns (&read, 0, "cut off in the middle of a triangle");
      read_clear (&read);
    }
  }
}

static void
test_binary_trailing (void)
{
  for (int extra = 1; extra < 120; extra += 7) {
    Read read;

    if (extra % 50 == 0)
      continue;
    read = read_binary_block ("solid", 12, extra);
    assert_block (&read, 1);
    assert_warns (&read, 0, "after the last of the 12 triangles");
    read_clear (&read);
  }
}

static void
test_binary_too_small (void)
{
  char head[84] = "solid";

  assert_refused (read_bytes (head, 84), "holds no triangle");
  assert_refused (read_bytes ("", 0), "empty");
  assert_refused (read_bytes ("\1\2\3", 3), "neither STL text");
  assert_refused (read_bytes (head, 83), "holds no triangle"); /* text with zeros after it */
  memset (head, 1, sizeof head);
  assert_refused (read_bytes (head, 84), "neither STL text");
  assert_refused (read_binary_block ("", 12, -580), "neither STL text");
}

/* ------------------------------------------------------------------------------------------------
 * Text. The block again, with every freedom that writers take. */

typedef struct {
  const char *solid, *facet, *between, *vertex, *end_facet, *end_solid;
  const char *number; /* of printf */
} Style;

static const Style plain = { "solid box\n",
                             " facet normal 0 0 1\n  outer loop\n",
                             "\n",
                             "   vertex ",
                             "  endloop\n endfacet\n",
                             "endsolid box\n",
                             "%.6f" };

static GString *
write_block (const Style *style, GString *text)
{
  Shape block = shape_block (100, 60, 40);
  char number[32];

  g_string_append (text, style->solid);
  for (uint32_t i = 0; i < 12; i++) {
    g_string_append (text, style->facet);
    for (uint32_t j = 0; j < 9; j++) {
      if (j % 3 == 0)
        g_string_append (text, style->vertex);
      g_ascii_formatd (number, sizeof number, style->number, block.corners[9 * i + j]);
      g_string_append_printf (text, j % 3 == 2 ? "%s%s" : "%s ", number,
                              j % 3 == 2 ? style->between : "");
    }
    g_string_append (text, style->end_facet);
  }
  g_string_append (text, style->end_solid);
  shape_clear (&block);
  return text;
}

static Read
read_style (const Style *style)
{
  GString *text = write_block (style, g_string_new (NULL));
  Read read = read_bytes (text->str, text->len);

  g_string_free (text, TRUE);
  return read;
}

static void
test_text_styles (void)
{
  static const Style styles[] = {
    { "solid\n", "facet normal 0 0 1\nouter loop\n", "\n", "vertex ", "endloop\nendfacet\n",
      "endsolid\n", "%g" },
    { "SOLID BOX\r", "FACET NORMAL 0 0 1\r\r OUTER LOOP\r", "\r", "\tVERTEX\t",
      "\tENDLOOP\r\tENDFACET\r", "ENDSOLID BOX\r", "%E" },
    { "Solid Box\r\n", "Facet Normal 0 0 1\r\nOuter Loop\r\n", " \r\n", "Vertex ",
      "EndLoop\r\nEndFacet\r\n", "EndSolid", "%.9e" },
    { "solid box ", "facet normal 0 0 1 outer loop ", " ", "vertex ", "endloop endfacet ",
      "endsolid box", "%g" },
    { "solid ", "facet normal 0 0 1 outer loop ", " ", "vertex ", "endloop endfacet ", "endsolid",
      "%g" },
    { "solid box\n", "facet normal 0 0 1 outer loop\n", "\n", "vertex ", "end loop\nend facet\n",
      "end solid box\n", "%g" },
    { "\xef\xbb\xbfsolid box\n", "facet normal 0 0 1 outer loop\n", "\n", "vertex ",
      "endloop\nendfacet\n", "endsolid box\n", "%g" },
    { " \n\n solid box with a facet and a solid in its name\n",
      "facet normal nan 0 inf outer loop\n", "\n", "vertex ", "endloop\nendfacet\n",
      "endsolid box with a facet and a solid in its name\n", "%g" },
    { "solid box\n", "facet normal 0 0 1 outer loop\n", "\n", "vertex +", "endloop\nendfacet\n",
      "endsolid other name\n\x1a", "%.0f." },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (styles); i++) {
    Read read = read_style (&styles[i]);

    assert_block (&read, 0);
    g_assert_cmpuint (lw_mesh_get_n_pieces (read.mesh), ==, 1);
    g_assert_cmpuint (lw_mesh_get_piece (read.mesh, 0)->count, ==, 12);
    read_clear (&read);
  }
}

static void
test_text_names (void)
{
  static const struct {
    const char *line, *name;
  } names[] = {
    { "solid box\n", "box" },
    { "solid\n", "" },
    { "solid  front panel, 2nd  \r\n", "front panel, 2nd" },
    { "solid Moule c\xf4t\xe9 gauche \xd8"
      "250\n",
      "Moule c\xc3\xb4t\xc3\xa9 gauche \xc3\x98"
      "250" },
    { "solid Gr\xc3\xb6\xc3\x9f"
      "e\n",
      "Gr\xc3\xb6\xc3\x9f"
      "e" },
    { "solid endsolid\n", "endsolid" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++) {
    Style style = plain;
    Read read;

    style.solid = names[i].line;
    read = read_style (&style);
    assert_block (&read, 0);
    g_assert_cmpstr (lw_mesh_get_piece (read.mesh, 0)->name, ==, names[i].name);
    read_clear (&read);
  }
}

static void
test_text_missing_ends (void)
{
  Style style = plain;
  Read read;

  style.end_solid = "";
  read = read_style (&style);
  assert_block (&read, 1);
  assert_warns (&read, 0, "endsolid");
  read_clear (&read);
  style.end_facet = "endloop\n";
  read = read_style (&style);
  assert_block (&read, 2);
  assert_warns (&read, 0, "missing 12 times");
  read_clear (&read);
}

/* Cut off anywhere: no triangle that was not whole, and no last number that lost its digits. */
static void
test_text_cut_off (void)
{
  GString *text = write_block (&plain, g_string_new (NULL));
  gsize first_whole = (gsize)(strstr (text->str, "endloop") + strlen ("endloop") - text->str);
  Shape block = shape_block (100, 60, 40);

  for (gsize size = text->len - 15; size > 0; size -= size > 250 ? 3 : 1) {
    Read read = read_bytes (text->str, size);
    uint32_t n;

    if (!read.mesh) {
      g_assert_cmpuint (size, <, first_whole);
      g_assert_error (read.error, LW_ERROR, LW_ERROR_DATA);
      read_clear (&read);
      continue;
    }
    n = lw_mesh_get_n_triangles (read.mesh);
    g_assert_cmpuint (read.warnings->len, >=, 1);
    g_assert_cmpuint (n, <=, 12);
    for (uint32_t i = 0; i < 9 * n; i++)
      g_assert_true (
          lw_mesh_get_points (read.mesh)[3 * lw_mesh_get_triangles (read.mesh)[i / 3] + i % 3]
          == block.corners[i]);
    read_clear (&read);
  }
  shape_clear (&block);
  g_string_free (text, TRUE);
}

static void
test_text_several_solids (void)
{
  static const char triangle[] = "facet normal 0 0 1\nouter loop\nvertex %d 0 0\nvertex %d 1 0\n"
                                 "vertex %d 0 1\nendloop\nendfacet\n";
  GString *text = g_string_new ("solid first\n");
  Read read;

  g_string_append_printf (text, triangle, 1, 1, 1);
  g_string_append_printf (text, triangle, 2, 2, 2);
  g_string_append (text, "endsolid first\nsolid nothing\nendsolid nothing\nSolid Third\n");
  g_string_append_printf (text, triangle, 3, 3, 3);
  g_string_append (text, "endsolid\nsolid\n");
  g_string_append_printf (text, triangle, 4, 4, 4);
  g_string_append (text, "endsolid\n");
  read = read_text (text->str);
  g_assert_no_error (read.error);
  g_assert_cmpuint (lw_mesh_get_n_triangles (read.mesh), ==, 4);
  g_assert_cmpuint (lw_mesh_get_n_points (read.mesh), ==, 12);
  g_assert_cmpuint (lw_mesh_get_n_pieces (read.mesh), ==, 4);
  g_assert_cmpstr (lw_mesh_get_piece (read.mesh, 0)->name, ==, "first");
  g_assert_cmpuint (lw_mesh_get_piece (read.mesh, 0)->count, ==, 2);
  g_assert_cmpuint (lw_mesh_get_piece (read.mesh, 1)->count, ==, 0);
  g_assert_cmpstr (lw_mesh_get_piece (read.mesh, 2)->name, ==, "Third");
  g_assert_cmpuint (lw_mesh_get_piece (read.mesh, 2)->first, ==, 2);
  g_assert_cmpuint (lw_mesh_get_piece (read.mesh, 3)->first, ==, 3);
  g_assert_cmpuint (read.warnings->len, ==, 1);
  assert_warns (&read, 0, "\"nothing\" is empty");
  read_clear (&read);
  g_string_free (text, TRUE);
}

/* Two solids and an empty one, all on one line. */
static void
test_text_solids_of_one_line (void)
{
  Read read =
      read_text ("solid a b facet normal 0 0 1 outer loop vertex 0 0 0 vertex 1 0 0 vertex 0 1 0 "
                 "endloop endfacet endsolid a b solid c endsolid c solid d facet normal 0 0 "
                 "1 outer loop vertex 0 0 5 vertex 1 0 5 vertex 0 1 5 endloop endfacet "
                 "end solid d");

  g_assert_no_error (read.error);
  g_assert_cmpuint (lw_mesh_get_n_triangles (read.mesh), ==, 2);
  g_assert_cmpuint (lw_mesh_get_n_pieces (read.mesh), ==, 3);
  g_assert_cmpstr (lw_mesh_get_piece (read.mesh, 0)->name, ==, "a b");
  g_assert_cmpstr (lw_mesh_get_piece (read.mesh, 1)->name, ==, "c");
  g_assert_cmpstr (lw_mesh_get_piece (read.mesh, 2)->name, ==, "d");
  read_clear (&read);
}

static void
test_text_not_finite (void)
{
  static const char *const words[] = { "nan",     "-NaN",     "inf",   "-Infinity", "1.#INF",
                                       "-1.#IND", "1.#QNAN0", "1e999", "-1e39",     "nan(0x1)" };

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++) {
    GString *text = write_block (&plain, g_string_new (NULL));
    Read read;

    g_string_replace (text, "vertex 100.000000", "vertex X", 1);
    g_string_replace (text, "X", words[i], 1);
    read = read_text (text->str);
    g_assert_no_error (read.error);
    g_assert_cmpuint (lw_mesh_get_facts (read.mesh)->not_finite, ==, 1);
    g_assert_cmpuint (lw_mesh_get_n_triangles (read.mesh), ==, 11);
    assert_near (lw_mesh_get_facts (read.mesh)->box.high.x, 100, 0);
    read_clear (&read);
    g_string_free (text, TRUE);
  }
}

static void
test_text_errors (void)
{
  static const struct {
    const char *text, *says;
  } faults[] = {
    { "solid\nfacet normal 0 0 1\nouter loop\nvertex 1,5 0 0\n", "line 4: expected a number" },
    { "solid\rfacet normal 0 0 1\router loop\rvertex 0x10 0 0\r", "line 4: expected a number" },
    { "solid\r\nfacet normal 0 0 1\r\nouter loop\r\nvertex 1.5.2 0 0\r\n", "line 4: expected" },
    { "solid\nfacet normal 0 0 vertex\n", "line 2: expected a number with a decimal point, found "
                                          "\"vertex\"" },
    { "solid\nfacet outer loop\n", "line 2: expected \"normal\", found \"outer\"" },
    { "solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 0 0 0\nendloop\n",
      "line 6: expected \"vertex\", found \"endloop\"" },
    { "solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 1 1 0\nvertex 0 1 "
      "0\nendloop\n",
      "line 7: expected \"endloop\" after three corners, found \"vertex\"" },
    { "solid\nrubbish\n", "line 2: expected \"facet\" or \"endsolid\", found \"rubbish\"" },
    { "solid\nendsolid\nfacet normal 0 0 1\n", "line 3: expected \"solid\", found \"facet\"" },
    { "solid\nr\xfc"
      "bbish\n",
      "line 2: expected" },
    { "solid\n", "holds no triangle" },
    { "solid\nendsolid\n", "holds no triangle" },
    { "solid box\nfacet normal 0 0", "holds no triangle" },
    { "solidbox\nendsolid\n", "does not begin with \"solid\"" },
    { "v 0 0 0\nv 1 0 0\nf 1 2 3\n", "does not begin with \"solid\"" },
    { "\xff\xfes\n", "UTF-16" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (faults); i++)
    assert_refused (read_text (faults[i].text), faults[i].says);
}

/* ------------------------------------------------------------------------------------------------
 * Numbers, against strtod in the C locale. */

static char *
random_number_text (GRand *rand)
{
  int kind = g_rand_int_range (rand, 0, 6);
  char text[64];
  union {
    guint32 bits;
    float value;
  } any = { .bits = g_rand_int (rand) };
  GString *digits;

  if (kind == 0 && isfinite (any.value))
    return g_strdup (g_ascii_formatd (text, sizeof text, "%.9g", any.value));
  if (kind == 1)
    return g_strdup (
        g_ascii_formatd (text, sizeof text, "%.6f", g_rand_double_range (rand, -5000, 5000)));
  if (kind == 2)
    return g_strdup (
        g_ascii_formatd (text, sizeof text, "%e", g_rand_double_range (rand, -5000, 5000)));
  if (kind == 3)
    return g_strdup (
        g_ascii_formatd (text, sizeof text, "%.17g",
                         ldexp (g_rand_double (rand), g_rand_int_range (rand, -1070, 1020))));
  digits = g_string_new (g_rand_boolean (rand) ? "-" : "");
  for (int n = g_rand_int_range (rand, 1, kind == 4 ? 12 : 40); n > 0; n--)
    g_string_append_c (digits, (char)('0' + g_rand_int_range (rand, 0, 10)));
  if (g_rand_boolean (rand))
    g_string_insert_c (digits, g_rand_int_range (rand, 0, (gint32)digits->len + 1), '.');
  if (digits->str[0] == '.' && digits->str[1] == '-') {
    digits->str[0] = '-';
    digits->str[1] = '.';
  }
  if (digits->str[0] != '-' && g_rand_int_range (rand, 0, 8) == 0)
    g_string_prepend_c (digits, '+');
  if (g_rand_boolean (rand))
    g_string_append_printf (digits, "e%d", g_rand_int_range (rand, -50, 45));
  return g_string_free (digits, FALSE);
}

static void
test_numbers_against_strtod (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (17);

  for (int i = 0; i < 1000000; i++) {
    char *text = random_number_text (rand), *end;
    float want = (float)g_ascii_strtod (text, &end), got = -1;

    g_assert_true (*end == 0);
    if (!lw_stl_number (text, strlen (text), &got) || memcmp (&got, &want, sizeof got) != 0)
      g_error ("\"%s\" was read as %.9g, strtod says %.9g", text, got, want);
    g_free (text);
  }
}

static void
test_numbers_that_are_none (void)
{
  static const char *const words[] = { "",     ".",    "-",    "+.",  "e5",   "1e",   "1e+", "1,5",
                                       "1.2.", "0x1",  "1e5x", "--1", "+-1",  "1 2",  "1.#", "#",
                                       "na",   "nano", "i",    "1d5", "\xb2", "1e5.0" };
  float value;

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++) {
    if (lw_stl_number (words[i], strlen (words[i]), &value) && strcmp (words[i], "1.#") != 0)
      g_error ("\"%s\" was taken for %g", words[i], value);
  }
  g_assert_true (lw_stl_number ("-0", 2, &value) && value == 0);
  g_assert_true (lw_stl_number ("123456", 3, &value) && value == 123);
}

/* ------------------------------------------------------------------------------------------------
 * Files. */

static char *folder;

static char *
write_file (const char *name, const void *bytes, gsize size)
{
  char *path = g_build_filename (folder, name, NULL);

  g_assert_true (g_file_set_contents (path, bytes, (gssize)size, NULL));
  return path;
}

static char *
warnings_of (const LwMeshFile *file)
{
  return g_strjoinv ("\n", file->warnings);
}

static char *
write_shape (const char *name, const Shape *shape)
{
  g_autoptr (GByteArray) bytes = shape_to_binary (shape, "", shape->n);

  return write_file (name, bytes->data, bytes->len);
}

static void
test_file (void)
{
  Shape block = shape_block (100, 60, 40);
  g_autofree char *path = write_shape ("block.stl", &block), *text = NULL, *sum = NULL;
  g_autoptr (GError) error = NULL;
  LwProgress progress = { 0 };
  LwMeshFile file;

  g_assert_true (lw_mesh_file_load (&file, path, 25.4, &progress, &error));
  g_assert_no_error (error);
  assert_near (lw_mesh_get_facts (file.mesh)->volume, VOLUME * 25.4 * 25.4 * 25.4, 1e-3);
  assert_near (lw_progress_get_share (&progress), 1, 0);
  g_assert_cmpuint (g_strv_length (file.warnings), ==, 0);
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  sum = g_compute_checksum_for_data (G_CHECKSUM_SHA256, (guchar *)text, 84 + 600);
  g_assert_cmpstr (file.sha256, ==, sum);
  lw_mesh_file_clear (&file);
  shape_clear (&block);
}

static void
assert_file_warns (const char *path, double unit_mm, const char *words)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *warnings = NULL;
  LwMeshFile file;

  g_assert_true (lw_mesh_file_load (&file, path, unit_mm, NULL, &error));
  g_assert_no_error (error);
  warnings = warnings_of (&file);
  assert_says (warnings, words);
  lw_mesh_file_clear (&file);
}

static void
test_file_warnings (void)
{
  Shape block = shape_block (100, 60, 40);
  g_autofree char *good = write_shape ("good.stl", &block), *open = NULL, *inward = NULL;

  assert_file_warns (good, 0.001, "is the unit right?");
  assert_file_warns (good, 0.001, "0.1 mm");
  assert_file_warns (good, 1000, "is the unit right?");
  block.n = 11;
  open = write_shape ("open.stl", &block);
  assert_file_warns (open, 1, "not closed (3 open edges)");
  block.n = 12;
  for (int i = 0; i < 12; i++) {
    float first[3];

    memcpy (first, block.corners + 9 * i, sizeof first);
    memcpy (block.corners + 9 * i, block.corners + 9 * i + 3, sizeof first);
    memcpy (block.corners + 9 * i + 3, first, sizeof first);
  }
  inward = write_shape ("inward.stl", &block);
  assert_file_warns (inward, 1, "All facets point inwards: the signed volume is negative");
  memcpy (block.corners + 9, block.corners, 36);
  block.corners[18] = NAN;
  memset (block.corners + 27, 0, 36);
  g_free (write_shape ("inward.stl", &block));
  assert_file_warns (inward, 1, "1 triangle was left out: it has no area");
  assert_file_warns (inward, 1, "1 triangle was left out: its coordinates are not finite");
  assert_file_warns (inward, 1, "1 triangle was left out: it has the corners of another");
  shape_clear (&block);
}

static void
assert_load_fails (const char *path, int code, const char *words)
{
  g_autoptr (GError) error = NULL;
  LwMeshFile file;

  g_assert_false (lw_mesh_file_load (&file, path, 1, NULL, &error));
  g_assert_error (error, LW_ERROR, code);
  assert_says (error->message, path);
  assert_says (error->message, words);
}

static void
test_file_errors (void)
{
  g_autofree char *empty = write_file ("empty.stl", "", 0), *absent = NULL, *pipe = NULL;
  g_autofree char *zip = write_file ("part.stl", "PK\3\4 and so on", 14);
  g_autofree char *step = write_file ("part.stp", "ISO-10303-21;\nHEADER;\n", 22);
  g_autofree char *locked = write_file ("locked.stl", "solid", 5);
  float nothing[9] = { 0 };
  Shape flat = { nothing, 1 };
  g_autofree char *no_area = write_shape ("no-area.stl", &flat);

  assert_load_fails (folder, LW_ERROR_MISSING, "folder");
  absent = g_build_filename (folder, "absent.stl", NULL);
  assert_load_fails (absent, LW_ERROR_MISSING, g_strerror (ENOENT));
  assert_load_fails (empty, LW_ERROR_DATA, "empty");
  assert_load_fails (zip, LW_ERROR_DATA, "zip archive");
  assert_load_fails (step, LW_ERROR_DATA, "STEP");
  assert_load_fails (no_area, LW_ERROR_DATA, "none of the 1 triangles");
  pipe = g_build_filename (folder, "pipe.stl", NULL);
  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
  assert_load_fails (pipe, LW_ERROR_MISSING, "not a regular file");
  g_assert_cmpint (g_chmod (locked, 0), ==, 0);
  if (access (locked, R_OK) != 0) /* root may read it all the same */
    assert_load_fails (locked, LW_ERROR_MISSING, "cannot be read");
}

static GBytes *
pack (const void *bytes, gsize size)
{
  g_autoptr (GZlibCompressor) gzip = g_zlib_compressor_new (G_ZLIB_COMPRESSOR_FORMAT_GZIP, 9);
  g_autoptr (GOutputStream) memory = g_memory_output_stream_new_resizable ();
  g_autoptr (GOutputStream) stream = g_converter_output_stream_new (memory, G_CONVERTER (gzip));

  g_assert_true (g_output_stream_write_all (stream, bytes, size, NULL, NULL, NULL));
  g_assert_true (g_output_stream_close (stream, NULL, NULL));
  return g_memory_output_stream_steal_as_bytes (G_MEMORY_OUTPUT_STREAM (memory));
}

static void
test_gzip (void)
{
  Shape ring = shape_ring (40, 30, 20);
  g_autoptr (GByteArray) bytes = shape_to_binary (&ring, "solid", ring.n);
  g_autoptr (GBytes) packed = pack (bytes->data, bytes->len);
  g_autoptr (GBytes) half = pack (bytes->data, bytes->len / 2);
  g_autoptr (GBytes) rest = pack (bytes->data + bytes->len / 2, bytes->len - bytes->len / 2);
  g_autoptr (GByteArray) members = g_byte_array_new ();
  gsize size;
  const guint8 *data = g_bytes_get_data (packed, &size);
  g_autofree char *path = write_file ("ring.stl.gz", data, size), *two = NULL, *cut = NULL;
  g_autoptr (GError) error = NULL;
  LwMeshFile file;

  g_assert_true (lw_mesh_file_load (&file, path, 1, NULL, &error));
  g_assert_cmpuint (lw_mesh_get_n_triangles (file.mesh), ==, ring.n);
  lw_mesh_file_clear (&file);
  g_byte_array_append (members, g_bytes_get_data (half, NULL), (guint)g_bytes_get_size (half));
  g_byte_array_append (members, g_bytes_get_data (rest, NULL), (guint)g_bytes_get_size (rest));
  two = write_file ("two.stl.gz", members->data, members->len);
  g_assert_true (lw_mesh_file_load (&file, two, 1, NULL, &error));
  g_assert_cmpuint (lw_mesh_get_n_triangles (file.mesh), ==, ring.n);
  lw_mesh_file_clear (&file);
  for (gsize at = 3; at < size; at += size / 7) {
    cut = write_file ("cut.stl.gz", data, at);
    assert_load_fails (cut, LW_ERROR_DATA, "cannot be unpacked as gzip");
    g_clear_pointer (&cut, g_free);
  }
  shape_clear (&ring);
}

/* A file that would fill the memory: refused by how much it grows. */
static void
test_gzip_bomb (void)
{
  gsize size = (gsize)64 << 20;
  g_autofree char *zeros = g_malloc0 (size);
  g_autoptr (GBytes) packed = pack (zeros, size);
  g_autofree char *path =
      write_file ("bomb.stl.gz", g_bytes_get_data (packed, NULL), g_bytes_get_size (packed));

  assert_load_fails (path, LW_ERROR_DATA, "more than 250 times its size");
}

static void
test_threads (void)
{
  Shape ring = shape_ring (90, 80, 20);
  g_autofree char *path = write_shape ("threads.stl", &ring);
  LwMeshFile one, many;

  lw_parallel_set_threads (1);
  g_assert_true (lw_mesh_file_load (&one, path, 1, NULL, NULL));
  lw_parallel_set_threads (3);
  g_assert_true (lw_mesh_file_load (&many, path, 1, NULL, NULL));
  lw_parallel_set_threads (0);
  g_assert_cmpmem (lw_mesh_get_points (one.mesh), 12 * lw_mesh_get_n_points (one.mesh),
                   lw_mesh_get_points (many.mesh), 12 * lw_mesh_get_n_points (many.mesh));
  g_assert_cmpmem (lw_mesh_get_triangles (one.mesh), 12 * lw_mesh_get_n_triangles (one.mesh),
                   lw_mesh_get_triangles (many.mesh), 12 * lw_mesh_get_n_triangles (many.mesh));
  g_assert_cmpstr (one.sha256, ==, many.sha256);
  lw_mesh_file_clear (&one);
  lw_mesh_file_clear (&many);
  shape_clear (&ring);
}

static void
test_cancel (void)
{
  Shape ring = shape_ring (200, 100, 20);
  g_autofree char *path = write_shape ("cancel.stl", &ring);
  g_autoptr (GError) error = NULL;
  LwProgress progress = { 0 };
  LwMeshFile file;

  lw_progress_cancel (&progress);
  g_assert_false (lw_mesh_file_load (&file, path, 1, &progress, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_CANCELLED);
  shape_clear (&ring);
}

static void
test_units (void)
{
  assert_near (lw_length_unit_to_mm ("mm"), 1, 0);
  assert_near (lw_length_unit_to_mm ("cm"), 10, 0);
  assert_near (lw_length_unit_to_mm ("m"), 1000, 0);
  assert_near (lw_length_unit_to_mm ("in"), 25.4, 0);
  assert_near (lw_length_unit_to_mm ("ft"), 304.8, 0);
  assert_near (lw_length_unit_to_mm ("parsec"), 0, 0);
}

/* ------------------------------------------------------------------------------------------------
 * Anything at all: files bent at random are read or refused, never more. */

static void
bend (GRand *rand, GByteArray *bytes)
{
  static const char *const words[] = {
    "solid", "facet", "end", "vertex", "1e999", "nan", "\n", "\0"
  };

  for (int n = g_rand_int_range (rand, 1, 8); n > 0 && bytes->len > 1; n--) {
    guint at = (guint)g_rand_int_range (rand, 0, (gint32)bytes->len);
    const char *word = words[g_rand_int_range (rand, 0, G_N_ELEMENTS (words))];

    switch (g_rand_int_range (rand, 0, 5)) {
    case 0:
      bytes->data[at] = (guint8)g_rand_int (rand);
      break;
    case 1:
      bytes->data[at] ^= (guint8)(1 << g_rand_int_range (rand, 0, 8));
      break;
    case 2:
      g_byte_array_set_size (bytes, at + 1);
      break;
    case 3:
      g_byte_array_remove_range (bytes, at, MIN (bytes->len - at, 50));
      break;
    default:
      memcpy (bytes->data + at, word, MIN (strlen (word), bytes->len - at));
    }
  }
}

static void
fuzz (const guint8 *data, gsize size, int rounds, guint32 seed)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);

  for (int i = 0; i < rounds; i++) {
    g_autoptr (GByteArray) bytes = g_byte_array_new ();
    Read read;

    g_byte_array_append (bytes, data, (guint)size);
    bend (rand, bytes);
    read = read_bytes (bytes->data, bytes->len);
    if (read.mesh) {
      const LwMeshFacts *facts = lw_mesh_get_facts (read.mesh);

      g_assert_true (lw_mesh_get_n_triangles (read.mesh) == 0 || lw_vec3_finite (facts->box.low));
      g_assert_true (isfinite (facts->area) && isfinite (facts->volume));
      g_assert_cmpuint (facts->read, <=, bytes->len / 50 + 1);
    }
    read_clear (&read);
  }
}

static void
test_fuzz (void)
{
  Shape block = shape_block (100, 60, 40);
  g_autoptr (GByteArray) binary = shape_to_binary (&block, "solid", 12);
  GString *text = write_block (&plain, g_string_new (NULL));
  Style line = { "solid box ",
                 "facet normal 0 0 1 outer loop ",
                 " ",
                 "vertex ",
                 "endloop endfacet ",
                 "endsolid box",
                 "%g" };
  GString *one_line = write_block (&line, g_string_new (NULL));

  fuzz (binary->data, binary->len, 5000, 1);
  fuzz ((guint8 *)text->str, text->len, 5000, 2);
  fuzz ((guint8 *)one_line->str, one_line->len, 5000, 3);
  g_string_free (text, TRUE);
  g_string_free (one_line, TRUE);
  shape_clear (&block);
}

static void
test_fuzz_gzip (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);
  Shape block = shape_block (100, 60, 40);
  g_autoptr (GByteArray) binary = shape_to_binary (&block, "solid", 12);
  g_autoptr (GBytes) packed = pack (binary->data, binary->len);

  for (int i = 0; i < 500; i++) {
    g_autoptr (GByteArray) bytes = g_byte_array_new ();
    g_autoptr (GError) error = NULL;
    g_autofree char *path = NULL;
    LwMeshFile file;

    g_byte_array_append (bytes, g_bytes_get_data (packed, NULL), (guint)g_bytes_get_size (packed));
    bend (rand, bytes);
    path = write_file ("fuzz.stl.gz", bytes->data, bytes->len);
    if (lw_mesh_file_load (&file, path, 1, NULL, &error))
      lw_mesh_file_clear (&file);
    else
      g_assert_cmpint (error->domain, ==, LW_ERROR);
  }
  shape_clear (&block);
}

/* ------------------------------------------------------------------------------------------------
 * Sample files, where they lie beside the checkout: INDEX.tsv says what each holds. */

/* What the facts say under a name ("triangles=285 | …"). */
static double
fact (const char *facts, const char *name)
{
  g_autofree char *key = g_strconcat (name, "=", NULL);
  const char *at = strstr (facts, key);

  return at ? g_ascii_strtod (at + strlen (key), NULL) : NAN;
}

static void
fact_box (const char *facts, double box[6])
{
  char *at = strstr (facts, "bbox=[");

  g_assert_nonnull (at);
  at += 6;
  for (int i = 0; i < 6; i++) {
    if (i == 3) {
      g_assert_true (g_str_has_prefix (at, "]..["));
      at += 4;
    }
    box[i] = g_ascii_strtod (at, &at);
  }
}

static bool
load_sample (LwMeshFile *file, const char *name, double unit_mm)
{
  g_autofree char *inside = g_build_filename ("samples", name, NULL);
  g_autofree char *path = test_sample (inside);
  g_autoptr (GError) error = NULL;
  bool loaded;

  if (!path)
    return false;
  loaded = lw_mesh_file_load (file, path, unit_mm, NULL, &error);
  g_assert_no_error (error);
  return loaded;
}

/* Derived files say in words what their facts script could not tell. */
static void
check_sample (const char *name, const char *expected, const char *facts)
{
  bool is_block = strstr (expected, "volume 240000") && !strstr (expected, "minus 2");
  bool no_dups = !strstr (name, "d_zero_area");
  LwMeshFile file;
  const LwMeshFacts *known;
  double box[6] = { 0, 0, 0, 100, 60, 40 };

  if (!load_sample (&file, name, 1))
    return;
  known = lw_mesh_get_facts (file.mesh);
  if (!is_block)
    fact_box (facts, box);
  assert_near3 (&known->box.low.x, box, 1e-6 * (fabs (box[3]) + fabs (box[0])));
  assert_near3 (&known->box.high.x, box + 3, 1e-6 * (fabs (box[3]) + fabs (box[0])));
  if (is_block) {
    g_assert_cmpuint (lw_mesh_get_n_triangles (file.mesh), ==, 12);
    g_assert_cmpuint (lw_mesh_get_n_points (file.mesh), ==, 8);
    g_assert_true (known->closed);
    assert_near (known->volume, VOLUME, 1e-6);
    assert_near (known->area, AREA, 1e-6);
  } else {
    double left_out = fact (facts, "nonfinite_triangles");

    g_assert_cmpuint (lw_mesh_get_n_triangles (file.mesh), ==,
                      (uint32_t)(fact (facts, "triangles") - (isnan (left_out) ? 0 : left_out)));
    g_assert_cmpuint (lw_mesh_get_n_points (file.mesh), ==,
                      (uint32_t)fact (facts, "unique_vertices"));
    assert_near (known->area, fact (facts, "area"), 2e-6 * known->area);
    g_assert_true (known->closed == (strstr (facts, "closed_oriented=yes") != NULL));
    if (known->closed)
      assert_near (known->volume, fact (facts, "signed_volume"), 2e-6 * fabs (known->volume));
  }
  g_assert_true (no_dups || (known->duplicates == 4 && known->zero_area == 3 && known->read == 19));
  lw_mesh_file_clear (&file);
}

static void
test_samples (void)
{
  g_autofree char *index = test_sample ("samples/INDEX.tsv"), *text = NULL;
  g_auto (GStrv) lines = NULL;
  int checked = 0;

  if (!index)
    return;
  g_assert_true (g_file_get_contents (index, &text, NULL, NULL));
  lines = g_strsplit (text, "\n", -1);
  for (int i = 1; lines[i]; i++) {
    g_auto (GStrv) cells = g_strsplit (lines[i], "\t", -1);

    if (g_strv_length (cells) < 6 || !g_str_has_prefix (cells[0], "mesh/"))
      continue;
    if (!g_str_has_suffix (cells[0], ".stl") && !g_str_has_suffix (cells[0], ".STL"))
      continue;
    g_test_message ("%s", cells[0]);
    check_sample (cells[0], cells[4], cells[5]);
    checked++;
  }
  g_assert_cmpint (checked, >=, 20);
}

static void
test_real_files (void)
{
  LwMeshFile file;
  const LwMeshFacts *facts;
  g_autofree char *warnings = NULL;

  if (load_sample (&file, "real/towing-tank-hull.stl.gz", 1000)) {
    facts = lw_mesh_get_facts (file.mesh);
    g_assert_cmpuint (lw_mesh_get_n_triangles (file.mesh), ==, 116062);
    g_assert_cmpuint (lw_mesh_get_n_points (file.mesh), ==, 58033);
    g_assert_cmpuint (facts->zero_area, ==, 0);
    g_assert_true (facts->closed);
    assert_near (facts->area, 16.1846e6, 50);
    assert_near (facts->volume, 2.43631e9, 5e3);
    assert_near3 (&facts->box.low.x, ((double[]){ -113.5, -429.3, 0 }), 0.05);
    assert_near3 (&facts->box.high.x, ((double[]){ 6162.1, 429.3, 572.3 }), 0.05);
    lw_mesh_file_clear (&file);
  }
  if (load_sample (&file, "real/wigley.stl.gz", 1000)) {
    facts = lw_mesh_get_facts (file.mesh);
    g_assert_cmpuint (facts->read, ==, 12896);
    g_assert_cmpuint (lw_mesh_get_n_points (file.mesh), ==, 6645);
    warnings = warnings_of (&file);
    g_test_message ("%s", warnings);
    g_assert_true (facts->inward); /* open at the deck; signed volume −0.0041 m³ */
    assert_says (warnings, "inwards");
    lw_mesh_file_clear (&file);
  }
  if (load_sample (&file, "real/flange.stl.gz", 1000)) {
    g_assert_cmpuint (lw_mesh_get_n_triangles (file.mesh), ==, 6468);
    g_assert_cmpuint (lw_mesh_get_n_points (file.mesh), ==, 3228);
    g_assert_cmpuint (lw_mesh_get_n_pieces (file.mesh), ==, 4);
    g_assert_cmpstr (lw_mesh_get_piece (file.mesh, 3)->name, ==, "patch4");
    lw_mesh_file_clear (&file);
  }
}

static void
remove_folder (void)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir))) {
    g_autofree char *path = g_build_filename (folder, name, NULL);

    g_unlink (path);
  }
  g_rmdir (folder);
  g_free (folder);
}

int
main (int argc, char **argv)
{
  int result;

  g_test_init (&argc, &argv, NULL);
  folder = g_dir_make_tmp ("test-stl-XXXXXX", NULL);
  g_test_add_func ("/stl/binary-heads", test_binary_heads);
  g_test_add_func ("/stl/binary-attributes", test_binary_attributes);
  g_test_add_func ("/stl/binary-counts", test_binary_counts);
  g_test_add_func ("/stl/binary-cut-off", test_binary_cut_off);
  g_test_add_func ("/stl/binary-trailing", test_binary_trailing);
  g_test_add_func ("/stl/binary-too-small", test_binary_too_small);
  g_test_add_func ("/stl/text-styles", test_text_styles);
  g_test_add_func ("/stl/text-names", test_text_names);
  g_test_add_func ("/stl/text-missing-ends", test_text_missing_ends);
  g_test_add_func ("/stl/text-cut-off", test_text_cut_off);
  g_test_add_func ("/stl/text-several-solids", test_text_several_solids);
  g_test_add_func ("/stl/text-solids-of-one-line", test_text_solids_of_one_line);
  g_test_add_func ("/stl/text-not-finite", test_text_not_finite);
  g_test_add_func ("/stl/text-errors", test_text_errors);
  g_test_add_func ("/stl/numbers-against-strtod", test_numbers_against_strtod);
  g_test_add_func ("/stl/numbers-that-are-none", test_numbers_that_are_none);
  g_test_add_func ("/stl/file", test_file);
  g_test_add_func ("/stl/file-warnings", test_file_warnings);
  g_test_add_func ("/stl/file-errors", test_file_errors);
  g_test_add_func ("/stl/gzip", test_gzip);
  g_test_add_func ("/stl/gzip-bomb", test_gzip_bomb);
  g_test_add_func ("/stl/threads", test_threads);
  g_test_add_func ("/stl/cancel", test_cancel);
  g_test_add_func ("/stl/units", test_units);
  g_test_add_func ("/stl/fuzz", test_fuzz);
  g_test_add_func ("/stl/fuzz-gzip", test_fuzz_gzip);
  g_test_add_func ("/stl/samples", test_samples);
  g_test_add_func ("/stl/real-files", test_real_files);
  result = g_test_run ();
  remove_folder ();
  return result;
}
