/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>

#include "base/json.h"
#include "near.h"

/* A small job in the shape of the real ones, for edits and mutations. */
static const char sample[] =
    "{\n"
    "  \"format\": \"leeway-job\", \"version\": 1, \"title\": \"Half h\\u00fcll \\ud83d\\ude80\",\n"
    "  \"axes\": {\"X'\": {\"low_mm\": -0.5, \"high_mm\": 3600}, \"B\": {\"low_deg\": -110}},\n"
    "  \"setups\": [{\"name\": \"First\", \"rotation\": [[1, 0, 0], [0, 1, 0], [0, 0, 1]],\n"
    "    \"operations\": [{\"name\": \"a\", \"tool\": 4}, {\"name\": \"b\", \"tool\": 7}]}],\n"
    "  \"empty\": [], \"none\": {}, \"yes\": true, \"no\": false, \"null\": null,\n"
    "  \"x-note\": {\"any\": [1e-300, 2.5E+3, 9007199254740993, \"\\\"\\\\\\/\\b\\f\\n\\r\\t\"]}\n"
    "}\n";

static JsonNode *
parse (const char *text)
{
  g_autoptr (GError) error = NULL;
  JsonNode *node = lw_json_parse ("t.json", text, strlen (text), &error);

  g_assert_no_error (error);
  g_assert_nonnull (node);
  return node;
}

/* Copied to a block of its own length, so that a read beyond the end shows. */
static char *
parse_message (const char *text, gsize length)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *tight = g_memdup2 (text, length);
  g_autoptr (JsonNode) node = lw_json_parse ("t.json", tight, length, &error);

  if (node != NULL) {
    g_assert_no_error (error);
    return NULL;
  }
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
  return g_strdup (error->message);
}

static void
assert_fault (const char *text, const char *want)
{
  g_autofree char *message = parse_message (text, strlen (text));

  g_assert_cmpstr (message, ==, want);
}

static void
test_faults (void)
{
  static const struct {
    const char *text, *message;
  } faults[] = {
    { "", "t.json:1:1: expected a value, found the end of the file" },
    { "\n  \n", "t.json:3:1: expected a value, found the end of the file" },
    { "{\"a\": 1,\n \"b\": 2,\n \"a\": 3}", "t.json:3:2: the key “a” is there twice" },
    { "{\"a\": 1, \"\\u0061\": 3}", "t.json:1:10: the key “a” is there twice" },
    { "{\"\": 1}", "t.json:1:2: a key must not be empty" },
    { "{\"a\": 0x10}", "t.json:1:8: a number must be decimal, not hexadecimal" },
    { "{\"a\": 1} // why",
      "t.json:1:10: expected nothing more after the value, found “/”; comments are not allowed" },
    { "/* why */ {}", "t.json:1:1: expected a value, found “/”; comments are not allowed" },
    { "[1, # one\n2]", "t.json:1:5: expected a value, found “#”; comments are not allowed" },
    { "[1,\n 1e400]", "t.json:2:2: the number is beyond the range that can be read" },
    { "[-1e400]", "t.json:1:2: the number is beyond the range that can be read" },
    { "[9223372036854775808]", "t.json:1:2: the number is beyond the range that can be read" },
    { "[-9223372036854775809]", "t.json:1:2: the number is beyond the range that can be read" },
    { "[\"\\ud800\"]", "t.json:1:3: half of a surrogate pair stands alone" },
    { "[\"\\udc00\"]", "t.json:1:3: half of a surrogate pair stands alone" },
    { "[\"\\ud800\\u0041\"]", "t.json:1:3: half of a surrogate pair stands alone" },
    { "[\"\\u0000\"]", "t.json:1:3: a zero character is not allowed" },
    { "[\"\\u12g4\"]", "t.json:1:7: expected four hexadecimal digits after \\u, found “g”" },
    { "[\"\\x\"]", "t.json:1:4: expected one of \" \\ / b f n r t u after \\, found “x”" },
    { "\xEF\xBB\xBF{}", "t.json:1:1: must not begin with a byte order mark" },
    { "[1, 2,]", "t.json:1:7: expected a value, found “]”" },
    { "{\"a\": 1,}", "t.json:1:9: expected a key in double quotes, found “}”" },
    { "[1 2]", "t.json:1:4: expected “,” or “]”, found “2”" },
    { "{\"a\" 1}", "t.json:1:6: expected “:” after a key, found “1”" },
    { "{\"a\": 1 \"b\": 2}", "t.json:1:9: expected “,” or “}”, found “\"”" },
    { "{a: 1}", "t.json:1:2: expected a key in double quotes, found “a”" },
    { "['a']", "t.json:1:2: expected a value, found “'”" },
    { "[01]", "t.json:1:3: a number must not begin with a zero digit" },
    { "[+1]", "t.json:1:2: expected a value, found “+”" },
    { "[.5]", "t.json:1:2: expected a value, found “.”" },
    { "[1.]", "t.json:1:4: expected a digit, found “]”" },
    { "[1e]", "t.json:1:4: expected a digit, found “]”" },
    { "[-]", "t.json:1:3: expected a digit, found “]”" },
    { "[1,5", "t.json:1:5: expected “,” or “]”, found the end of the file" },
    { "[NaN]", "t.json:1:2: expected a value, found “N”" },
    { "[Infinity]", "t.json:1:2: expected a value, found “I”" },
    { "[nul]", "t.json:1:2: expected a value, found “n”" },
    { "[nullx]", "t.json:1:6: expected the end of a value, found “x”" },
    { "[True]", "t.json:1:2: expected a value, found “T”" },
    { "{} {}", "t.json:1:4: expected nothing more after the value, found “{”" },
    { "[\"äöü\", \"a\tb\"]",
      "t.json:1:11: a control character (U+0009) in a string must be written as an escape" },
    { "[1,\n\"abc]", "t.json:2:1: the string that begins here has no end" },
    { "[1,\n\"abc]\n",
      "t.json:2:6: a control character (U+000A) in a string must be written as an escape" },
    { "[\"\xC3\"]", "t.json:1:3: must be UTF-8 text, found the byte 0xC3" },
    { "[1]\v", "t.json:1:4: expected nothing more after the value, found U+000B" },
    { "{\r\n\"a\": ?}", "t.json:2:6: expected a value, found “?”" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (faults); i++)
    assert_fault (faults[i].text, faults[i].message);
}

static void
test_zero_byte (void)
{
  g_autofree char *message = parse_message ("[1]\0", 4);

  g_assert_cmpstr (message, ==, "t.json:1:4: must be UTF-8 text, found the byte 0x00");
}

static void
test_depth (void)
{
  for (int depth = 60; depth <= 200000; depth = depth < 70 ? depth + 1 : depth * 5) {
    g_autoptr (GString) arrays = g_string_new (NULL);
    g_autoptr (GString) objects = g_string_new (NULL);
    for (int i = 0; i < depth; i++) {
      g_string_append_c (arrays, '[');
      g_string_append (objects, "{\"a\":");
    }
    g_string_append_c (objects, '1');
    for (int i = 0; i < depth; i++) {
      g_string_append_c (arrays, ']');
      g_string_append_c (objects, '}');
    }
    g_autofree char *array_message = parse_message (arrays->str, arrays->len);
    g_autofree char *object_message = parse_message (objects->str, objects->len);
    if (depth <= LW_JSON_DEPTH) {
      g_assert_null (array_message);
      g_assert_null (object_message);
    } else {
      g_assert_cmpstr (array_message, ==, "t.json:1:65: must not be nested deeper than 64 levels");
      g_assert_cmpstr (object_message, ==,
                       "t.json:1:321: must not be nested deeper than 64 levels");
    }
  }

  g_autofree char *bomb = g_strnfill (200000, '[');
  assert_fault (bomb, "t.json:1:65: must not be nested deeper than 64 levels");
}

static void
test_values (void)
{
  g_autoptr (JsonNode) root = parse (sample);
  JsonNode *any = lw_json_get (root, "x-note.any");

  g_assert_nonnull (any);
  g_assert_cmpstr (json_node_get_string (lw_json_get (root, "title")), ==, "Half hüll 🚀");
  g_assert_cmpstr (json_node_get_string (lw_json_get (root, "x-note.any[3]")), ==,
                   "\"\\/\b\f\n\r\t");
  assert_near (json_node_get_double (lw_json_get (root, "axes.X'.low_mm")), -0.5, 0);
  assert_near (json_node_get_double (lw_json_get (root, "x-note.any[0]")), 1e-300, 0);
  assert_near (json_node_get_double (lw_json_get (root, "x-note.any[1]")), 2500, 0);
  g_assert_cmpint (json_node_get_int (lw_json_get (root, "x-note.any[2]")), ==, 9007199254740993);
  g_assert_cmpint (json_node_get_int (lw_json_get (root, "setups[0].operations[1].tool")), ==, 7);
  g_assert_true (lw_json_get (root, "") == root);
  g_assert_null (lw_json_get (root, "setups[1]"));
  g_assert_null (lw_json_get (root, "setups.name"));
  g_assert_null (lw_json_get (root, "version.x"));
  g_assert_null (lw_json_get (root, "version[0]"));
  g_assert_null (lw_json_get (root, "a..b"));
}

/* ------------------------------------------------------------------------------------------------
 * Text. */

static void
test_text (void)
{
  g_autoptr (JsonNode) root = parse (sample);
  g_autofree char *text = lw_json_to_text (root);
  g_autoptr (JsonNode) again = parse (text);
  g_autofree char *text_again = lw_json_to_text (again);

  g_assert_cmpstr (text, ==,
                   "{\n"
                   "  \"format\": \"leeway-job\",\n"
                   "  \"version\": 1,\n"
                   "  \"title\": \"Half hüll 🚀\",\n"
                   "  \"axes\": {\n"
                   "    \"X'\": {\n"
                   "      \"low_mm\": -0.5,\n"
                   "      \"high_mm\": 3600\n"
                   "    },\n"
                   "    \"B\": {\n"
                   "      \"low_deg\": -110\n"
                   "    }\n"
                   "  },\n"
                   "  \"setups\": [\n"
                   "    {\n"
                   "      \"name\": \"First\",\n"
                   "      \"rotation\": [[1, 0, 0], [0, 1, 0], [0, 0, 1]],\n"
                   "      \"operations\": [\n"
                   "        {\n"
                   "          \"name\": \"a\",\n"
                   "          \"tool\": 4\n"
                   "        },\n"
                   "        {\n"
                   "          \"name\": \"b\",\n"
                   "          \"tool\": 7\n"
                   "        }\n"
                   "      ]\n"
                   "    }\n"
                   "  ],\n"
                   "  \"empty\": [],\n"
                   "  \"none\": {},\n"
                   "  \"yes\": true,\n"
                   "  \"no\": false,\n"
                   "  \"null\": null,\n"
                   "  \"x-note\": {\n"
                   "    \"any\": [\n"
                   "      1e-300,\n"
                   "      2500,\n"
                   "      9007199254740993,\n"
                   "      \"\\\"\\\\/\\b\\f\\n\\r\\t\"\n"
                   "    ]\n"
                   "  }\n"
                   "}\n");
  g_assert_cmpstr (text_again, ==, text);
}

static void
test_text_rows (void)
{
  g_autoptr (JsonNode) root = parse (
      "{\"p\": [[1000.125, 2000.25, 3000.5], [1000.125, 2000.25, 3000.5], [1000.125, 2000.25, "
      "3000.5], [1.5, 2, 3]], \"s\": \"\\u0001\\u007f\"}");
  g_autofree char *text = lw_json_to_text (root);

  g_assert_cmpstr (text, ==,
                   "{\n"
                   "  \"p\": [\n"
                   "    [1000.125, 2000.25, 3000.5],\n"
                   "    [1000.125, 2000.25, 3000.5],\n"
                   "    [1000.125, 2000.25, 3000.5],\n"
                   "    [1.5, 2, 3]\n"
                   "  ],\n"
                   "  \"s\": \"\\u0001\x7F\"\n"
                   "}\n");
}

/* Any finite double comes back with the same bits, in whatever form it is written. */
static void
test_text_numbers (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);

  for (int i = 0; i < 5000; i++) {
    double value = g_rand_double_range (rand, -1, 1) * pow (10, g_rand_int_range (rand, -300, 300));
    if (i % 3 == 0)
      value = trunc (g_rand_double_range (rand, -1, 1) * pow (10, g_rand_int_range (rand, 0, 25)));
    g_autoptr (JsonNode) node = lw_json_new_number (value);
    g_autofree char *text = lw_json_to_text (node);
    g_autoptr (JsonNode) again = parse (text);
    g_autofree char *text_again = lw_json_to_text (again);
    assert_near (json_node_get_double (again), value, 0);
    g_assert_cmpstr (text_again, ==, text);
  }
}

static void
test_bad_utf8_string (void)
{
  g_autoptr (JsonNode) node = lw_json_new_string ("a\xFF");
  g_autofree char *text = lw_json_to_text (node);

  g_assert_cmpstr (text, ==, "\"a\xEF\xBF\xBD\"\n");
}

static void
test_save (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("leeway-json-XXXXXX", &error);
  g_autofree char *path = g_build_filename (folder, "a.json", NULL);
  g_autoptr (JsonNode) root = parse (sample);

  g_assert_true (lw_json_save (root, path, &error));
  g_autoptr (JsonNode) again = lw_json_load (path, &error);
  g_assert_no_error (error);
  g_assert_true (json_node_equal (root, again));
  g_unlink (path);
  g_assert_null (lw_json_load (path, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_MISSING);
  g_rmdir (folder);
}

/* ------------------------------------------------------------------------------------------------
 * Edits. */

static void
assert_edit (const char *text, const char *path, JsonNode *value, const char *want)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (JsonNode) root = parse (text);
  g_autofree char *before = lw_json_to_text (root);
  g_autoptr (JsonNode) edited = lw_json_with (root, path, value, &error);
  g_autofree char *after = lw_json_to_text (root);

  g_assert_no_error (error);
  g_assert_cmpstr (before, ==, after);

  g_autoptr (JsonNode) wanted = parse (want);
  g_autofree char *edited_text = lw_json_to_text (edited);
  g_autofree char *wanted_text = lw_json_to_text (wanted); /* the order of the keys too */
  g_assert_cmpstr (edited_text, ==, wanted_text);
}

static void
test_edit (void)
{
  assert_edit ("{\"a\": 1, \"b\": 2}", "a", lw_json_new_number (5), "{\"a\": 5, \"b\": 2}");
  assert_edit ("{\"a\": 1}", "b", lw_json_new_bool (true), "{\"a\": 1, \"b\": true}");
  assert_edit ("{\"a\": 1, \"b\": 2, \"c\": 3}", "b", NULL, "{\"a\": 1, \"c\": 3}");
  assert_edit ("{\"a\": 1}", "b", NULL, "{\"a\": 1}");
  assert_edit ("{\"a\": 1}", "b.c.d", NULL, "{\"a\": 1}");
  assert_edit ("{\"a\": [1, 2, 3]}", "a[1]", NULL, "{\"a\": [1, 3]}");
  assert_edit ("{\"a\": [1, 2, 3]}", "a[2]", lw_json_new_string ("x"), "{\"a\": [1, 2, \"x\"]}");
  assert_edit ("{\"a\": [1]}", "a[1]", lw_json_new_vec3 (lw_vec3 (1, -2.5, 0)),
               "{\"a\": [1, [1, -2.5, 0]]}");
  assert_edit ("{}", "a.b[0].c", lw_json_new_number (1), "{\"a\": {\"b\": [{\"c\": 1}]}}");
  assert_edit ("{\"a\": [{\"b\": 1, \"c\": {\"d-e\": 1}}]}", "a[0].c.d-e", lw_json_new_number (2),
               "{\"a\": [{\"b\": 1, \"c\": {\"d-e\": 2}}]}");
  assert_edit ("{\"axes\": {\"X'\": {\"low_mm\": 0}}}", "axes.X'.low_mm", lw_json_new_number (-1),
               "{\"axes\": {\"X'\": {\"low_mm\": -1}}}");
  assert_edit ("[[1, 2], [3]]", "[1][0]", lw_json_new_number (4), "[[1, 2], [4]]");
  assert_edit ("{\"a\": 1}", "", lw_json_new_number (2), "2");
}

static void
test_edit_faults (void)
{
  static const char *const paths[] = {
    "a..b",   ".a",    "a.",     "a[",    "a[]", "a[0", "a[x]",
    "a[0]b",  "a[-1]", "a b",    "a[0].", "[0]", "n.b", "n[0]",
    "a.b",    "a[3]",  "a[4].b", "o[0]",  "ä",   "a/b", "a[99999999999999999999]",
    "a[0][0]"
  };
  static const char text[] = "{\"a\": [1, 2], \"n\": 1, \"o\": {}}";
  g_autoptr (JsonNode) root = parse (text);
  g_autofree char *before = lw_json_to_text (root);

  for (gsize i = 0; i < G_N_ELEMENTS (paths); i++) {
    g_autoptr (GError) error = NULL;
    if (lw_json_with (root, paths[i], lw_json_new_number (1), &error) != NULL)
      g_error ("the path “%s” was taken", paths[i]);
    g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
    g_assert_nonnull (strstr (error->message, paths[i]));
  }

  g_autoptr (GError) error = NULL;
  g_assert_null (lw_json_with (root, "a[2]", NULL, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
  g_clear_error (&error);
  g_assert_null (lw_json_with (root, "", NULL, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);

  g_autofree char *after = lw_json_to_text (root);
  g_assert_cmpstr (before, ==, after);
}

static void
assert_all_immutable (JsonNode *node)
{
  g_assert_true (json_node_is_immutable (node));
  if (JSON_NODE_HOLDS_OBJECT (node)) {
    g_autoptr (GList) values = json_object_get_values (json_node_get_object (node));
    g_assert_true (json_object_is_immutable (json_node_get_object (node)));
    for (GList *l = values; l != NULL; l = l->next)
      assert_all_immutable (l->data);
  } else if (JSON_NODE_HOLDS_ARRAY (node)) {
    JsonArray *array = json_node_get_array (node);
    g_assert_true (json_array_is_immutable (array));
    for (guint i = 0; i < json_array_get_length (array); i++)
      assert_all_immutable (json_array_get_element (array, i));
  }
}

/* Nothing of an edited tree can be changed, so that what it shares with the old one is safe there.
 */
static void
test_edit_shares_nothing_mutable (void)
{
  static const char *const paths[] = { "version", "setups[0].operations[1].name", "x-note.any[4]",
                                       "setups[0].rotation[1][1]", "none.a" };

  for (gsize i = 0; i < G_N_ELEMENTS (paths); i++) {
    g_autoptr (GError) error = NULL;
    JsonNode *root = parse (sample);
    g_autofree char *before = lw_json_to_text (root);
    g_autoptr (JsonNode) edited = lw_json_with (root, paths[i], lw_json_new_number (3), &error);
    g_assert_no_error (error);
    assert_all_immutable (root);
    assert_all_immutable (edited);

    g_autofree char *after = lw_json_to_text (root);
    g_assert_cmpstr (before, ==, after);

    json_node_unref (root); /* the new tree lives on alone */
    g_autofree char *text = lw_json_to_text (edited);
    g_autoptr (JsonNode) again = parse (text);
    assert_near (json_node_get_double (lw_json_get (again, paths[i])), 3, 0);
  }
}

/* What did not change is the same node; what lies on the path is another. */
static void
test_edit_shares_the_rest (void)
{
  static const char *const same[] = { "axes", "x-note", "setups[0].rotation",
                                      "setups[0].operations[0]", "setups[0].operations[1].name" };
  static const char *const other[] = { "", "setups", "setups[0]", "setups[0].operations",
                                       "setups[0].operations[1]" };
  g_autoptr (GError) error = NULL;
  g_autoptr (JsonNode) root = parse (sample);
  g_autoptr (JsonNode) edited =
      lw_json_with (root, "setups[0].operations[1].tool", lw_json_new_number (9), &error);

  g_assert_no_error (error);
  for (gsize i = 0; i < G_N_ELEMENTS (same); i++)
    g_assert_true (lw_json_get (root, same[i]) == lw_json_get (edited, same[i]));
  for (gsize i = 0; i < G_N_ELEMENTS (other); i++)
    g_assert_true (lw_json_get (root, other[i]) != lw_json_get (edited, other[i]));
}

/* ------------------------------------------------------------------------------------------------
 */

static void
mutate (GString *text, GRand *rand)
{
  static const char pieces[] = "{}[]\",:0123456789.-+eE\\u/* \n\t\xC3\xFF\xEFtnf'x";
  gsize at = (gsize)g_rand_int_range (rand, 0, (int)text->len);
  gsize wanted = (gsize)g_rand_int_range (rand, 1, 20);
  gsize length = MIN (wanted, text->len - at);
  g_autofree char *piece = g_strndup (text->str + at, length);

  switch (g_rand_int_range (rand, 0, 6)) {
  case 0:
    text->str[at] = (char)g_rand_int_range (rand, 0, 256);
    break;
  case 1:
    text->str[at] = pieces[g_rand_int_range (rand, 0, sizeof pieces - 1)];
    break;
  case 2:
    g_string_erase (text, (gssize)at, (gssize)length);
    break;
  case 3:
    g_string_insert_len (text, g_rand_int_range (rand, 0, (int)text->len), piece, -1);
    break;
  case 4:
    g_string_insert_c (text, (gssize)at, pieces[g_rand_int_range (rand, 0, sizeof pieces - 1)]);
    break;
  default:
    g_string_truncate (text, at);
    break;
  }
}

/* Mutations of a valid text never crash. What is taken can be written, and read again as the same;
 * what is not has a message with its place. Both must come about, else the test proves little. */
static void
test_mutations (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  int n_good = 0, n_bad = 0;

  for (int i = 0; i < 20000; i++) {
    g_autoptr (GString) text = g_string_new (sample);
    g_autoptr (GError) error = NULL;
    for (int n = g_rand_int_range (rand, 1, 4); n > 0 && text->len > 0; n--)
      mutate (text, rand);
    g_autofree char *tight = g_memdup2 (text->str, text->len);
    g_autoptr (JsonNode) node = lw_json_parse ("t.json", tight, text->len, &error);
    if (node == NULL) {
      int line = 0, column = 0;
      g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
      g_assert_cmpint (sscanf (error->message, "t.json:%d:%d: ", &line, &column), ==, 2);
      g_assert_cmpint (line, >=, 1);
      g_assert_cmpint (column, >=, 1);
      n_bad++;
      continue;
    }
    g_autofree char *written = lw_json_to_text (node);
    g_autoptr (JsonNode) again = parse (written);
    g_autofree char *written_again = lw_json_to_text (again);
    g_assert_cmpstr (written, ==, written_again);
    n_good++;
  }
  g_assert_cmpint (n_good, >, 1000);
  g_assert_cmpint (n_bad, >, 10000);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/json/faults", test_faults);
  g_test_add_func ("/json/zero-byte", test_zero_byte);
  g_test_add_func ("/json/depth", test_depth);
  g_test_add_func ("/json/values", test_values);
  g_test_add_func ("/json/text", test_text);
  g_test_add_func ("/json/text-rows", test_text_rows);
  g_test_add_func ("/json/text-numbers", test_text_numbers);
  g_test_add_func ("/json/bad-utf8-string", test_bad_utf8_string);
  g_test_add_func ("/json/save", test_save);
  g_test_add_func ("/json/edit", test_edit);
  g_test_add_func ("/json/edit-faults", test_edit_faults);
  g_test_add_func ("/json/edit-shares-nothing-mutable", test_edit_shares_nothing_mutable);
  g_test_add_func ("/json/edit-shares-the-rest", test_edit_shares_the_rest);
  g_test_add_func ("/json/mutations", test_mutations);
  return g_test_run ();
}
