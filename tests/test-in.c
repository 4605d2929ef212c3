/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <string.h>

#include "base/json.h"
#include "near.h"

/* A reader over text, hung at prefix. */
static LwIn *
begin_at (const char *prefix, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (JsonNode) node = lw_json_parse ("job.leeway", text, strlen (text), &error);

  g_assert_no_error (error);
  return lw_in_new ("job.leeway", prefix, node);
}

static LwIn *
begin (const char *text)
{
  return begin_at ("", text);
}

static void
assert_well (LwIn *in)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (lw_in_finish (in, &error));
  g_assert_no_error (error);
}

static void
assert_message (LwIn *in, const char *want)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (lw_in_failed (in));
  g_assert_false (lw_in_finish (in, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
  g_assert_cmpstr (error->message, ==, want);
}

static void
test_reads (void)
{
  static const char *const words[] = { "none", "some", NULL };
  LwIn *in = begin ("{\"n\": 2.5, \"i\": 3, \"i2\": 4.0, \"s\": \"text\", \"b\": false, \"w\": "
                    "\"some\", \"l\": [\"a\", \"b\"], \"v\": [1, 2, 3.5], \"p\": [[1, 2, 3], "
                    "[4, 5, 6]], \"e\": \"\", \"k\": {\"any\": [{}]}, \"x-mine\": null}");
  g_autofree char *s = lw_in_string (in, "s");
  g_autofree char *e = lw_in_string_or_null (in, "e");
  g_auto (GStrv) l = lw_in_strings_or_null (in, "l");
  int n;
  g_autofree LwVec3 *p = lw_in_points (in, "p", &n, true);
  LwVec3 v = lw_in_vec3 (in, "v");

  assert_near (lw_in_number (in, "n", 0, 2.5), 2.5, 0); /* both limits belong to the range */
  assert_near (lw_in_number (in, "n", 2.5, 3), 2.5, 0);
  g_assert_cmpint (lw_in_int (in, "i", 3, 3), ==, 3);
  g_assert_cmpint (lw_in_int (in, "i2", 0, G_MAXINT), ==, 4);
  g_assert_cmpstr (s, ==, "text");
  g_assert_cmpstr (e, ==, "");
  g_assert_false (lw_in_bool_or (in, "b", true));
  g_assert_cmpint (lw_in_word (in, "w", words, -1), ==, 1);
  g_assert_cmpuint (g_strv_length (l), ==, 2);
  g_assert_cmpstr (l[1], ==, "b");
  g_assert_cmpint (n, ==, 2);
  assert_near (p[1].y, 5, 0);
  assert_near (v.z, 3.5, 0);
  g_assert_nonnull (lw_in_skip (in, "k"));
  assert_well (in);
}

static void
test_absent (void)
{
  static const char *const words[] = { "none", "some", NULL };
  LwIn *in = begin ("{}");
  double values[2] = { 7, 7 };
  int n = 7;

  assert_near (lw_in_number_or (in, "n", 0, 1, 42), 42, 0);
  g_assert_true (isnan (lw_in_number_or (in, "n", 0, 1, NAN)));
  g_assert_cmpint (lw_in_int_or (in, "i", 0, 1, 42), ==, 42);
  g_assert_true (lw_in_bool_or (in, "b", true));
  g_assert_null (lw_in_string_or_null (in, "s"));
  g_assert_null (lw_in_strings_or_null (in, "l"));
  g_assert_cmpint (lw_in_word (in, "w", words, 1), ==, 1);
  g_assert_false (lw_in_numbers (in, "v", values, 2, false));
  g_assert_null (lw_in_points (in, "p", &n, false));
  g_assert_cmpint (n, ==, 0);
  assert_near (lw_in_vec3_or (in, "v", lw_vec3 (1, 2, 3)).z, 3, 0);
  assert_near (lw_in_rotation_or (in, "r", lw_mat3_identity ()).c1.y, 1, 0);
  g_assert_cmpint (lw_in_array (in, "a", false), ==, 0);
  g_assert_false (lw_in_enter (in, "o", false));
  g_assert_false (lw_in_has (in, "h"));
  g_assert_null (lw_in_skip (in, "k"));
  assert_well (in);
}

/* ------------------------------------------------------------------------------------------------
 * Messages of single reads: each reads the key "v". */

static void
read_number (LwIn *in)
{
  assert_near (lw_in_number (in, "v", -INFINITY, INFINITY), 0, 0);
}

static void
read_range (LwIn *in)
{
  assert_near (lw_in_number (in, "v", 0, 180), 0, 0);
}

static void
read_positive (LwIn *in)
{
  assert_near (lw_in_number_or (in, "v", lw_above (0), INFINITY, 9), 0, 0);
}

static void
read_above (LwIn *in)
{
  assert_near (lw_in_number (in, "v", lw_above (-110), 110), 0, 0);
}

static void
read_below (LwIn *in)
{
  assert_near (lw_in_number (in, "v", 0, lw_below (90)), 0, 0);
}

static void
read_least (LwIn *in)
{
  assert_near (lw_in_number (in, "v", 0.1, INFINITY), 0, 0);
}

static void
read_most (LwIn *in)
{
  assert_near (lw_in_number (in, "v", -INFINITY, 5), 0, 0);
}

static void
read_int (LwIn *in)
{
  g_assert_cmpint (lw_in_int (in, "v", 1, G_MAXINT), ==, 0);
}

static void
read_bool (LwIn *in)
{
  g_assert_true (lw_in_bool_or (in, "v", true));
}

static void
read_string (LwIn *in)
{
  g_autofree char *string = lw_in_string (in, "v");

  g_assert_cmpstr (string, ==, "");
}

static void
read_string_or_null (LwIn *in)
{
  g_assert_null (lw_in_string_or_null (in, "v"));
}

static void
read_word (LwIn *in)
{
  static const char *const words[] = { "flat", "ball", NULL };

  g_assert_cmpint (lw_in_word (in, "v", words, -1), ==, 0);
}

static void
read_only_word (LwIn *in)
{
  static const char *const words[] = { "leeway-job", NULL };

  g_assert_cmpint (lw_in_word (in, "v", words, -1), ==, 0);
}

static void
read_strings (LwIn *in)
{
  g_assert_null (lw_in_strings_or_null (in, "v"));
}

static void
read_vec3 (LwIn *in)
{
  lw_in_vec3 (in, "v");
}

static void
read_points (LwIn *in)
{
  int n;

  g_assert_null (lw_in_points (in, "v", &n, true));
  g_assert_cmpint (n, ==, 0);
}

static void
read_rotation (LwIn *in)
{
  LwMat3 m = lw_in_rotation_or (in, "v", lw_mat3_identity ());

  assert_near (m.c0.x, 1, 0);
  assert_near (m.c0.y, 0, 0);
}

static void
read_object (LwIn *in)
{
  g_assert_false (lw_in_enter (in, "v", true));
}

static void
read_array (LwIn *in)
{
  g_assert_cmpint (lw_in_array (in, "v", true), ==, 0);
}

static void
read_elements (LwIn *in)
{
  for (int i = 0, n = lw_in_array (in, "v", true); i < n && !lw_in_failed (in); i++) {
    lw_in_element (in, "v", i);
    lw_in_leave (in);
  }
}

static void
test_messages (void)
{
  static const struct {
    void (*read) (LwIn *in);
    const char *text, *message;
  } cases[] = {
    { read_number, "{}", "must be a number, is missing" },
    { read_number, "{\"v\": null}", "must be a number, is null" },
    { read_number, "{\"v\": \"2\"}", "must be a number, is \"2\"" },
    { read_number, "{\"v\": true}", "must be a number, is true" },
    { read_number, "{\"v\": [1, 2]}", "must be a number, is an array of 2" },
    { read_number, "{\"v\": {}}", "must be a number, is an object" },
    { read_range, "{\"v\": 180.5}", "must be a number from 0 to 180, is 180.5" },
    { read_range, "{\"v\": -1}", "must be a number from 0 to 180, is -1" },
    { read_positive, "{\"v\": 0}", "must be a number above 0, is 0" },
    { read_above, "{\"v\": \"ninety\"}",
      "must be a number above -110 and not above 110, is \"ninety\"" },
    { read_above, "{\"v\": -110}", "must be a number above -110 and not above 110, is -110" },
    { read_below, "{\"v\": 90}", "must be a number not below 0 and below 90, is 90" },
    { read_least, "{\"v\": 0}", "must be a number not below 0.1, is 0" },
    { read_most, "{\"v\": 5.25}", "must be a number not above 5, is 5.25" },
    { read_int, "{\"v\": 0}", "must be a whole number not below 1, is 0" },
    { read_int, "{\"v\": 1.5}", "must be a whole number not below 1, is 1.5" },
    { read_int, "{\"v\": 2147483648}", "must be a whole number not below 1, is 2147483648" },
    { read_bool, "{\"v\": 1}", "must be true or false, is 1" },
    { read_string, "{\"v\": \"\"}", "must be a text that is not empty, is \"\"" },
    { read_string, "{}", "must be a text that is not empty, is missing" },
    { read_string_or_null, "{\"v\": 3}", "must be a text, is 3" },
    { read_word, "{\"v\": \"round\"}", "must be one of \"flat\", \"ball\", is \"round\"" },
    { read_word, "{}", "must be one of \"flat\", \"ball\", is missing" },
    { read_only_word, "{\"v\": \"a\\nb\"}", "must be \"leeway-job\", is \"a b\"" },
    { read_only_word, "{\"v\": \"ääääääääääääääääääääääääääääääääääääääääääää\"}",
      "must be \"leeway-job\", is \"ääääääääääääääääääääääääääääääääääääääää…\"" },
    { read_strings, "{\"v\": \"a\"}", "must be an array of texts, is \"a\"" },
    { read_strings, "{\"v\": [\"a\", 1]}", "[1]: must be a text, is 1" },
    { read_vec3, "{\"v\": [1, 2]}", "must be an array of 3 numbers, is an array of 2" },
    { read_vec3, "{\"v\": 1}", "must be an array of 3 numbers, is 1" },
    { read_vec3, "{\"v\": [1, \"2\", 3]}", "[1]: must be a number, is \"2\"" },
    { read_points, "{\"v\": [[1, 2, 3], [1, 2]]}",
      "[1]: must be an array of 3 numbers, is an array of 2" },
    { read_points, "{\"v\": [[1, 2, 3], [1, 2, null]]}", "[1][2]: must be a number, is null" },
    { read_points, "{}", "must be an array of points, is missing" },
    { read_rotation, "{\"v\": [[1, 0, 0], [0, 1, 0]]}",
      "must be three rows of three numbers, is an array of 2" },
    { read_rotation, "{\"v\": [[1, 0, 0], [0, 1, 0], [0, 0, -1]]}",
      "must be a rotation, is a mirroring (its determinant is -1)" },
    { read_rotation, "{\"v\": [[1, 0, 0], [0, 1, 0], [0, 0, 1.0001]]}",
      "must be a rotation: its rows of length 1 and square to each other" },
    { read_rotation, "{\"v\": [[0, 0, 0], [0, 0, 0], [0, 0, 0]]}",
      "must be a rotation: its rows of length 1 and square to each other" },
    { read_object, "{}", "must be an object, is missing" },
    { read_object, "{\"v\": []}", "must be an object, is an array of 0" },
    { read_array, "{\"v\": {}}", "must be an array, is an object" },
    { read_array, "{}", "must be an array, is missing" },
    { read_elements, "{\"v\": [{}, 4]}", "[1]: must be an object, is 4" },
    { read_elements, "{\"v\": [{}, {\"z\": 1}]}", NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    LwIn *in = begin (cases[i].text);
    const char *message = cases[i].message;
    g_autofree char *want =
        message == NULL
            ? g_strdup ("job.leeway: v[1].z: is not a key that belongs here; these do: none")
            : g_strconcat ("job.leeway: v", message[0] == '[' ? "" : ": ", message, NULL);
    cases[i].read (in);
    assert_message (in, want);
  }
}

/* ------------------------------------------------------------------------------------------------
 * Places. */

static const char machine[] =
    "{\"machine\": {\"axes\": {\"B\": {\"low_deg\": -110, \"high_deg\": \"ninety\"}}}}";

static void
test_path (void)
{
  LwIn *in = begin (machine);

  g_assert_true (lw_in_enter (in, "machine", true));
  g_assert_true (lw_in_enter (in, "axes", true));
  g_assert_true (lw_in_enter (in, "B", true));
  lw_in_number (in, "high_deg", lw_above (lw_in_number (in, "low_deg", -360, 0)), INFINITY);
  lw_in_leave (in);
  lw_in_leave (in);
  lw_in_leave (in);
  assert_message (in, "job.leeway: machine.axes.B.high_deg: must be a number above -110, is "
                      "\"ninety\"");
}

static void
test_prefix (void)
{
  LwIn *in = begin_at ("machine", "{\"bodies\": [{}, {\"name\": \"ram\"}]}");

  g_assert_cmpint (lw_in_array (in, "bodies", true), ==, 2);
  lw_in_element (in, "bodies", 1);
  g_autofree char *path = lw_in_dup_path (in, "name");
  g_autofree char *here = lw_in_dup_path (in, NULL);
  g_assert_cmpstr (path, ==, "machine.bodies[1].name");
  g_assert_cmpstr (here, ==, "machine.bodies[1]");
  lw_in_fail (in, "name", "must be %s", "another");
  lw_in_fail (in, "name", "a second error is not kept");
  assert_message (in, "job.leeway: machine.bodies[1].name: must be another");
}

static void
test_fail_at_root (void)
{
  LwIn *in = begin ("{}");

  lw_in_fail (in, NULL, "has %d faults", 3);
  assert_message (in, "job.leeway: has 3 faults");
  assert_message (begin ("[1]"), "job.leeway: must be an object, is an array of 1");
  assert_message (lw_in_new ("job.leeway", "machine", NULL),
                  "job.leeway: machine: must be an object, is missing");
}

static void
test_unknown (void)
{
  g_autoptr (GError) error = NULL;
  LwIn *in = begin ("{\"o\": {\"a\": 1, \"x-a\": 2, \"c\": 3, \"d\": 4}}");

  lw_in_enter (in, "o", true);
  lw_in_number (in, "a", 0, 9);
  lw_in_has (in, "b");
  lw_in_leave (in);
  assert_message (in, "job.leeway: o.c: is not a key that belongs here; these do: a, b");

  in = begin ("{\"a\": 1, \"lean\": 2}");
  lw_in_number (in, "a", 0, 9);
  g_assert_false (lw_in_finish (in, &error)); /* the root's own keys, at the end */
  g_assert_cmpstr (error->message, ==,
                   "job.leeway: lean: is not a key that belongs here; these do: a");
}

/* After an error nothing is read, entered or left, and no later error takes its place. */
static void
test_after_error (void)
{
  static const char *const words[] = { "a", "b", NULL };
  LwIn *in =
      begin ("{\"n\": \"no\", \"m\": 3, \"s\": \"t\", \"o\": {\"u\": 1}, \"a\": [{}], \"p\": "
             "[[1, 2, 3]], \"l\": [\"t\"], \"r\": [[0, 1, 0], [-1, 0, 0], [0, 0, 1]]}");
  int n;

  lw_in_number (in, "n", 0, 1);
  assert_near (lw_in_number (in, "m", 0, 9), 0, 0);
  assert_near (lw_in_number_or (in, "m", 0, 9, 8), 8, 0);
  g_assert_cmpint (lw_in_int (in, "m", 0, 9), ==, 0);
  g_assert_cmpint (lw_in_word (in, "s", words, -1), ==, 0);
  g_assert_cmpint (lw_in_word (in, "s", words, 1), ==, 1);
  g_autofree char *s = lw_in_string (in, "s");
  g_assert_cmpstr (s, ==, "");
  g_assert_null (lw_in_string_or_null (in, "s"));
  g_assert_null (lw_in_strings_or_null (in, "l"));
  g_assert_null (lw_in_points (in, "p", &n, true));
  g_assert_false (lw_in_has (in, "m"));
  g_assert_null (lw_in_skip (in, "m"));
  g_assert_cmpint (lw_in_array (in, "a", true), ==, 0);
  lw_in_element (in, "a", 0);
  lw_in_leave (in);
  g_assert_false (lw_in_enter (in, "o", true));
  lw_in_leave (in);
  lw_in_leave (in);
  assert_near (lw_in_rotation_or (in, "r", lw_mat3_identity ()).c0.x, 1, 0);
  assert_message (in, "job.leeway: n: must be a number from 0 to 1, is \"no\"");
}

/* Rows as they are written: the first row gives x. Six typed decimals pass. */
static void
test_rotation (void)
{
  LwIn *in = begin ("{\"r\": [[0.866025, -0.5, 0], [0.5, 0.866025, 0], [0, 0, 1]]}");
  LwMat3 m = lw_in_rotation_or (in, "r", lw_mat3_identity ());
  LwVec3 v = lw_mat3_apply (m, lw_vec3 (0, 1, 0));

  assert_near (v.x, -0.5, 0);
  assert_near (v.y, 0.866025, 0);
  assert_well (in);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/in/reads", test_reads);
  g_test_add_func ("/in/absent", test_absent);
  g_test_add_func ("/in/messages", test_messages);
  g_test_add_func ("/in/path", test_path);
  g_test_add_func ("/in/prefix", test_prefix);
  g_test_add_func ("/in/fail-at-root", test_fail_at_root);
  g_test_add_func ("/in/unknown", test_unknown);
  g_test_add_func ("/in/after-error", test_after_error);
  g_test_add_func ("/in/rotation", test_rotation);
  return g_test_run ();
}
