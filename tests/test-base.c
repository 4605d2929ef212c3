/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <float.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/csv.h"
#include "base/file.h"
#include "base/parallel.h"
#include "base/sha256.h"
#include "base/text.h"
#include "base/vec.h"
#include "near.h"

/* ------------------------------------------------------------------------------------------------
 * Numbers as text. */

static double
random_double (GRand *rand)
{
  union {
    guint64 bits;
    double value;
  } u;

  do
    u.bits = (guint64)g_rand_int (rand) << 32 | g_rand_int (rand);
  while (!isfinite (u.value));
  return u.value;
}

static void
check_number_text (double value)
{
  char text[LW_NUMBER_SIZE], shorter[64];
  double read;

  lw_number_to_text (value, text);
  g_assert_null (strchr (text, ','));
  g_assert_true (lw_number_from_text (text, '.', &read));
  g_assert_true (read == value);
  g_assert_true (!signbit (read) || value < 0);
  for (int digits = 15; digits < 17; digits++) {
    char format[] = { '%', '.', '1', (char)('0' + digits - 10), 'g', '\0' };
    g_ascii_formatd (shorter, sizeof shorter, format, value);
    if (g_ascii_strtod (shorter, NULL) == value && value != 0) {
      g_assert_cmpstr (text, ==, shorter);
      return;
    }
  }
}

static void
test_number_text (void)
{
  static const struct {
    double value;
    const char *text;
  } known[] = { { 0, "0" },        { -0.0, "0" },        { 3600, "3600" },
                { -110, "-110" },  { 0.1, "0.1" },       { 1e-300, "1e-300" },
                { 1e22, "1e+22" }, { 180.02, "180.02" }, { 1.0 / 3, "0.3333333333333333" } };
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  char text[LW_NUMBER_SIZE];

  for (gsize i = 0; i < G_N_ELEMENTS (known); i++)
    g_assert_cmpstr (lw_number_to_text (known[i].value, text), ==, known[i].text);
  for (int i = 0; i < 30000; i++) {
    check_number_text (random_double (rand));
    check_number_text (g_rand_double_range (rand, -5000, 5000));
    check_number_text (g_rand_int_range (rand, -10000000, 10000000) / 1000.0);
  }
  check_number_text (DBL_MAX);
  check_number_text (DBL_MIN);
  check_number_text (0x1p-1074);
  check_number_text (0x1p63);
}

static void
test_number_from_text (void)
{
  static const struct {
    const char *text;
    char decimal;
    double value;
  } good[] = { { "12", '.', 12 },        { "-12.5", '.', -12.5 }, { "  +3.25\t", '.', 3.25 },
               { ".5", '.', 0.5 },       { "5.", '.', 5 },        { "1e3", '.', 1000 },
               { "2.5E-2", '.', 0.025 }, { "12,5", ',', 12.5 },   { "−12,5", ',', -12.5 },
               { "007", '.', 7 },        { "1e-400", '.', 0 },    { "12.5\r", '.', 12.5 } };
  static const struct {
    const char *text;
    char decimal;
  } bad[] = { { "", '.' },      { " ", '.' },        { "-", '.' },     { ".", '.' },
              { "1,5", '.' },   { "1.5", ',' },      { "0x10", '.' },  { "inf", '.' },
              { "nan", '.' },   { "1e", '.' },       { "1e400", '.' }, { "12 mm", '.' },
              { "1 2", '.' },   { "--1", '.' },      { "1.2.3", '.' }, { "1.000,5", ',' },
              { "1e+", '.' },   { "INFINITY", '.' }, { "1d5", '.' },   { "e5", '.' },
              { "1_000", '.' }, { "0b1", '.' },      { "1.5.", '.' },  { "+-1", '.' } };

  for (gsize i = 0; i < G_N_ELEMENTS (good); i++) {
    double value = NAN;
    g_assert_true (lw_number_from_text (good[i].text, good[i].decimal, &value));
    assert_near (value, good[i].value, 0);
  }
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++) {
    double value = 42;
    if (lw_number_from_text (bad[i].text, bad[i].decimal, &value))
      g_error ("“%s” was taken as a number", bad[i].text);
    assert_near (value, 42, 0);
  }
}

/* Rounded down is never above the value, up never below, but for a hundredth of a unit; and nearest
 * within half a unit. Known steps stay where they are. */
static void
test_round (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (2);

  for (int i = 0; i < 100000; i++) {
    int decimals = g_rand_int_range (rand, 0, 5);
    double unit = pow (10, -decimals), slack = 0.0101 * unit;
    double value = g_rand_double_range (rand, -1, 1) * pow (10, g_rand_int_range (rand, -6, 5));
    double down = lw_round (value, decimals, LW_ROUND_DOWN);
    double up = lw_round (value, decimals, LW_ROUND_UP);
    double nearest = lw_round (value, decimals, LW_ROUND_NEAREST);
    g_assert_true (down <= value + slack && down > value - unit - slack);
    g_assert_true (up >= value - slack && up < value + unit + slack);
    assert_near (nearest, value, 0.5 * unit + 1e-9);
    if (value < -1e-7)
      g_assert_true (down < 0);
    if (value > 1e-7)
      g_assert_true (up > 0);

    double step = g_rand_int_range (rand, -100000, 100000) / pow (10, decimals);
    for (LwRound how = LW_ROUND_NEAREST; how <= LW_ROUND_UP; how++)
      assert_near (lw_round (nextafter (step, value), decimals, how), step, 0);
  }
  assert_near (lw_round (10.0999, 1, LW_ROUND_DOWN), 10.1, 0);
  assert_near (lw_round (10.0989, 1, LW_ROUND_DOWN), 10.0, 0);
  assert_near (lw_round (9.97, 1, LW_ROUND_DOWN), 9.9, 0);
  assert_near (lw_round (9.93, 1, LW_ROUND_UP), 10, 0);
  assert_near (lw_round (1e300, 3, LW_ROUND_DOWN), 1e300, 0);
}

static void
assert_takes (char *got, const char *want)
{
  g_assert_cmpstr (got, ==, want);
  g_free (got);
}

static void
test_format (void)
{
  assert_takes (lw_format_fixed (-12.5, 1, LW_ROUND_NEAREST), "−12.5");
  assert_takes (lw_format_fixed (-0.04, 1, LW_ROUND_NEAREST), "0.0");
  assert_takes (lw_format_fixed (-0.0004, 1, LW_ROUND_DOWN), "−0.1"); /* it fails: never "0.0" */
  assert_takes (lw_format_fixed (-1e-12, 1, LW_ROUND_DOWN), "0.0");
  assert_takes (lw_format_fixed (0.0004, 1, LW_ROUND_UP), "0.1");
  assert_takes (lw_format_fixed (1234567.25, 0, LW_ROUND_DOWN), "1234567");
  assert_takes (lw_format_fixed (INFINITY, 1, LW_ROUND_DOWN), "∞");
  assert_takes (lw_format_fixed (-INFINITY, 1, LW_ROUND_DOWN), "−∞");
  assert_takes (lw_format_fixed (NAN, 1, LW_ROUND_DOWN), "–");
  assert_takes (lw_format_length (123.46, LW_UNIT_MM, LW_ROUND_DOWN), "123.4 mm");
  assert_takes (lw_format_length (123.41, LW_UNIT_MM, LW_ROUND_UP), "123.5 mm");
  assert_takes (lw_format_length (123.4, LW_UNIT_INCH, LW_ROUND_DOWN), "4.858 in");
  assert_takes (lw_format_length_bare (25.4, LW_UNIT_INCH, LW_ROUND_UP), "1.000");
  assert_takes (lw_format_angle (lw_radians (72), LW_ROUND_DOWN), "72.0°");
  assert_takes (lw_format_angle (lw_radians (-90.26), LW_ROUND_DOWN), "−90.3°");
  assert_near (lw_unit_to_mm (LW_UNIT_INCH, 2), 50.8, 1e-12);
  assert_near (lw_unit_from_mm (LW_UNIT_INCH, 50.8), 2, 1e-12);

  char *huge = lw_format_fixed (-DBL_MAX, 9, LW_ROUND_DOWN);
  g_assert_cmpuint (strlen (huge), >, 309);
  g_free (huge);
}

/* ------------------------------------------------------------------------------------------------
 * Tables. */

static LwCsv *
parse_csv (const char *text, char delimiter, char decimal, GError **error)
{
  return lw_csv_parse ("t.csv", text, strlen (text), delimiter, decimal, error);
}

static void
test_csv (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (LwCsv) csv = parse_csv ("\xEF\xBB\xBFname , x_mm,\"a \"\"b\"\"\"\r\n"
                                     "\r\n"
                                     "\"one, two\r\nthree\",1.5,\r\n"
                                     "four,abc,\"\"",
                                     ',', '.', &error);
  double value = 0;

  g_assert_no_error (error);
  g_assert_cmpint (lw_csv_get_n_rows (csv), ==, 2);
  g_assert_cmpint (lw_csv_find_column (csv, "x_mm"), ==, 1);
  g_assert_cmpint (lw_csv_find_column (csv, "a \"b\""), ==, 2);
  g_assert_cmpint (lw_csv_find_column (csv, "y"), ==, -1);
  g_assert_cmpstr (lw_csv_get_text (csv, 0, 0), ==, "one, two\r\nthree");
  g_assert_cmpstr (lw_csv_get_text (csv, 1, 2), ==, "");
  g_assert_cmpint (lw_csv_get_line (csv, 0), ==, 3);
  g_assert_cmpint (lw_csv_get_line (csv, 1), ==, 5);
  g_assert_true (lw_csv_get_number (csv, 0, 1, &value, &error));
  assert_near (value, 1.5, 0);
  g_assert_false (lw_csv_get_number (csv, 1, 1, &value, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
  g_assert_cmpstr (error->message, ==, "t.csv:5: x_mm must be a number (decimal point), is “abc”");
  g_clear_error (&error);
  g_assert_cmpint (lw_csv_need_column (csv, "y", &error), ==, -1);
  g_assert_cmpstr (error->message, ==,
                   "t.csv:1: needs a column “y”; there are “name”, “x_mm”, “a \"b\"”");
}

static void
test_csv_decimal_comma (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (LwCsv) csv = parse_csv ("number;stored_mm\n4;180,02\n7;166.5\n", ';', ',', &error);
  double value = 0;

  g_assert_no_error (error);
  g_assert_true (lw_csv_get_number (csv, 0, 1, &value, &error));
  assert_near (value, 180.02, 0);
  g_assert_false (lw_csv_get_number (csv, 1, 1, &value, &error));
  g_assert_nonnull (strstr (error->message, "decimal comma"));
}

static void
test_csv_faults (void)
{
  static const struct {
    const char *text, *message;
  } faults[] = {
    { "", "t.csv:1: must begin with a header line, is empty" },
    { "\n\n", "t.csv:1: must begin with a header line, is empty" },
    { "a,b\n1\n", "t.csv:2: must have 2 cells as the header has, has 1 (delimiter “,”)" },
    { "a,b\n1,2\n\n1,2,3", "t.csv:4: must have 2 cells as the header has, has 3 (delimiter “,”)" },
    { "a,a\n", "t.csv:1: the column “a” is there twice" },
    { "a,\n", "t.csv:1: column 2 has no name" },
    { "a\n\"x\n\ny", "t.csv:2: the quoted cell that begins here has no end" },
    { "a\n\"x\"y\n", "t.csv:2: a cell must end behind its closing quote" },
    { "a\nx\"y\n", "t.csv:2: a quote stands inside a cell that has none around it" },
    { "a\n1\r2\n", "t.csv:2: a carriage return stands inside a line" },
    { "a\n1\n\xFF\n", "t.csv:3: must be UTF-8 text" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (faults); i++) {
    g_autoptr (GError) error = NULL;
    g_assert_null (parse_csv (faults[i].text, ',', '.', &error));
    g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
    g_assert_cmpstr (error->message, ==, faults[i].message);
  }
  for (const char *pair = ",,a;x.\"."; *pair != '\0'; pair += 2) {
    g_autoptr (GError) error = NULL;
    g_autoptr (LwCsv) csv = parse_csv ("a\n", pair[0], pair[1], &error);
    bool is_good = pair[0] == 'x';
    g_assert_true ((csv != NULL) == is_good);
    if (!is_good)
      g_assert_error (error, LW_ERROR, LW_ERROR_USAGE);
  }
}

/* ------------------------------------------------------------------------------------------------
 * SHA-256. */

static void
test_sha256 (void)
{
  /* FIPS 180-2, appendix B, and the empty message of NIST's SHA test vectors (CAVP). */
  static const struct {
    const char *text, *hex;
  } known[] = {
    { "", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855" },
    { "abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" },
    { "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
      "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1" },
  };
  g_autofree char *million = g_strnfill (1000000, 'a');
  char hex[65];

  for (gsize i = 0; i < G_N_ELEMENTS (known); i++) {
    lw_sha256 (known[i].text, strlen (known[i].text), hex);
    g_assert_cmpstr (hex, ==, known[i].hex);
  }
  lw_sha256 (million, 1000000, hex);
  g_assert_cmpstr (hex, ==, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

/* Every length about the borders of blocks, at every alignment, against GLib. */
static void
test_sha256_lengths (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  guint8 bytes[400];
  char hex[65];

  for (gsize i = 0; i < sizeof bytes; i++)
    bytes[i] = (guint8)g_rand_int (rand);
  for (gsize length = 0; length < 350; length++) {
    const guint8 *begin = bytes + length % 33;
    g_autofree char *want = g_compute_checksum_for_data (G_CHECKSUM_SHA256, begin, length);
    lw_sha256 (begin, length, hex);
    g_assert_cmpstr (hex, ==, want);
  }
}

/* ------------------------------------------------------------------------------------------------
 * Files. */

static char *
make_folder (void)
{
  g_autoptr (GError) error = NULL;
  char *folder = g_dir_make_tmp ("leeway-base-XXXXXX", &error);

  g_assert_no_error (error);
  return folder;
}

static void
assert_content (const char *path, const char *want)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *got = NULL;
  gsize size;

  g_assert_true (lw_file_load (path, &got, &size, &error));
  g_assert_no_error (error);
  g_assert_cmpstr (got, ==, want);
  g_assert_cmpuint (size, ==, strlen (want));
}

static int
count_entries (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  int n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static void
test_file_save (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "a.leeway", NULL);
  g_autofree char *link = g_build_filename (folder, "link", NULL);
  struct stat status;

  g_assert_true (lw_file_save (path, "one", 3, &error));
  assert_content (path, "one");
  g_assert_cmpint (g_chmod (path, 0640), ==, 0);
  g_assert_cmpint (symlink ("a.leeway", link), ==, 0);
  g_assert_true (lw_file_save (link, "two", 3, &error));
  assert_content (path, "two");
  g_assert_cmpint (lstat (link, &status), ==, 0);
  g_assert_true (S_ISLNK (status.st_mode));
  g_assert_cmpint (stat (path, &status), ==, 0);
  g_assert_cmpint (status.st_mode & 07777, ==, 0640);
  g_assert_true (lw_file_save (path, "", 0, &error));
  assert_content (path, "");
  g_assert_no_error (error);
  g_assert_cmpint (count_entries (folder), ==, 2); /* no temporary file is left */
  g_unlink (link);
  g_unlink (path);
  g_rmdir (folder);
}

static void
assert_no_save (const char *path)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (lw_file_save (path, "x", 1, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_WRITE);
  g_assert_nonnull (strstr (error->message, path));
}

static void
test_file_faults (void)
{
  g_autofree char *folder = make_folder ();
  g_autofree char *inside = g_build_filename (folder, "none", "a.leeway", NULL);
  g_autoptr (GError) error = NULL;
  char *bytes = NULL;
  gsize size;

  assert_no_save (folder);
  assert_no_save (inside);
  assert_no_save ("/dev/null");
  g_assert_cmpint (count_entries (folder), ==, 0);
  g_assert_false (lw_file_load (inside, &bytes, &size, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_MISSING);
  g_assert_nonnull (strstr (error->message, "a.leeway"));
  g_rmdir (folder);
}

/* The write fails half way (a limit on the size of files stands for a full disk): the old content
 * stands, and nothing is left beside it. */
static void
test_file_full (void)
{
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "a.leeway", NULL);
  g_autofree char *big = g_strnfill (200000, 'x');
  g_autoptr (GError) error = NULL;
  struct rlimit before, small;

  g_assert_true (lw_file_save (path, "old", 3, &error));
  signal (SIGXFSZ, SIG_IGN);
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &before), ==, 0);
  small = (struct rlimit){ 65536, before.rlim_max };
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &small), ==, 0);

  bool saved = lw_file_save (path, big, 200000, &error);

  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &before), ==, 0);
  signal (SIGXFSZ, SIG_DFL);
  g_assert_false (saved);
  g_assert_error (error, LW_ERROR, LW_ERROR_WRITE);
  assert_content (path, "old");
  g_assert_cmpint (count_entries (folder), ==, 1);
  g_unlink (path);
  g_rmdir (folder);
}

/* ------------------------------------------------------------------------------------------------
 * Threads. */

#define N_ITEMS 100001

typedef struct {
  double sums[N_ITEMS / 1000 + 1];
  atomic_int visits;
  LwProgress *progress;
  size_t cancel_at;
} Sums;

static void
add_chunk (size_t chunk, size_t begin, size_t end, void *data)
{
  Sums *sums = data;

  for (size_t i = begin; i < end; i++)
    sums->sums[chunk] += 1.0 / (double)(i + 1);
  atomic_fetch_add (&sums->visits, (int)(end - begin));
  if (chunk == sums->cancel_at)
    lw_progress_cancel (sums->progress);
}

static double
sum_on (int threads)
{
  Sums sums = { .cancel_at = G_MAXSIZE };
  LwProgress progress = { 0 };
  double total = 0;

  lw_parallel_set_threads (threads);
  lw_progress_start (&progress, N_ITEMS);
  g_assert_true (lw_parallel_for (N_ITEMS, 1000, add_chunk, &sums, &progress));
  lw_parallel_set_threads (0);
  for (gsize i = 0; i < G_N_ELEMENTS (sums.sums); i++)
    total += sums.sums[i];
  g_assert_cmpint (sums.visits, ==, N_ITEMS);
  assert_near (lw_progress_get_share (&progress), 1, 0);
  return total;
}

static void
test_parallel_same_bits (void)
{
  double alone = sum_on (1);

  for (int threads = 0; threads <= 16; threads++)
    assert_near (sum_on (threads), alone, 0);
  assert_near (alone, log (N_ITEMS) + 0.57721566490153286, 1e-5); /* harmonic number */
}

static void
test_parallel_cancel (void)
{
  for (int threads = 1; threads <= 4; threads++) {
    LwProgress progress = { 0 };
    Sums sums = { .progress = &progress, .cancel_at = 3 };
    g_autoptr (GError) error = NULL;
    lw_parallel_set_threads (threads);
    lw_progress_start (&progress, N_ITEMS);
    g_assert_false (lw_progress_set_error_if_cancelled (&progress, &error));
    g_assert_false (lw_parallel_for (N_ITEMS, 1000, add_chunk, &sums, &progress));
    g_assert_cmpint (sums.visits, <, N_ITEMS);
    g_assert_true (lw_progress_set_error_if_cancelled (&progress, &error));
    g_assert_error (error, LW_ERROR, LW_ERROR_CANCELLED);
  }
  lw_parallel_set_threads (0);
}

static void
count_inside (size_t chunk, size_t begin, size_t end, void *data)
{
  atomic_fetch_add ((atomic_int *)data, (int)(end - begin));
}

static void
go_parallel_inside (size_t chunk, size_t begin, size_t end, void *data)
{
  g_assert_true (lw_parallel_for (10, 3, count_inside, data, NULL));
}

static void
test_parallel_edges (void)
{
  atomic_int count = 0;

  g_assert_true (lw_parallel_for (0, LW_CHUNK, count_inside, &count, NULL));
  g_assert_cmpint (count, ==, 0);
  g_assert_true (lw_parallel_for (1, LW_CHUNK, count_inside, &count, NULL));
  g_assert_cmpint (count, ==, 1);
  g_assert_true (lw_parallel_for (LW_CHUNK, LW_CHUNK, count_inside, &count, NULL));
  g_assert_cmpint (count, ==, 1 + LW_CHUNK);
  count = 0;
  lw_parallel_set_threads (4);
  g_assert_true (lw_parallel_for (8, 1, go_parallel_inside, &count, NULL));
  g_assert_cmpint (count, ==, 80);
  lw_parallel_set_threads (-5);
  g_assert_cmpint (lw_parallel_get_threads (), >=, 1);
  lw_parallel_set_threads (0);
}

static void
test_progress_null (void)
{
  g_autoptr (GError) error = NULL;

  lw_progress_start (NULL, 10);
  lw_progress_cancel (NULL);
  g_assert_false (lw_progress_step (NULL, 5));
  g_assert_false (lw_progress_is_cancelled (NULL));
  g_assert_false (lw_progress_set_error_if_cancelled (NULL, &error));
  assert_near (lw_progress_get_share (NULL), 0, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/base/text/number", test_number_text);
  g_test_add_func ("/base/text/number-from", test_number_from_text);
  g_test_add_func ("/base/text/round", test_round);
  g_test_add_func ("/base/text/format", test_format);
  g_test_add_func ("/base/csv/table", test_csv);
  g_test_add_func ("/base/csv/decimal-comma", test_csv_decimal_comma);
  g_test_add_func ("/base/csv/faults", test_csv_faults);
  g_test_add_func ("/base/sha256/known", test_sha256);
  g_test_add_func ("/base/sha256/lengths", test_sha256_lengths);
  g_test_add_func ("/base/file/save", test_file_save);
  g_test_add_func ("/base/file/faults", test_file_faults);
  g_test_add_func ("/base/file/full", test_file_full);
  g_test_add_func ("/base/parallel/same-bits", test_parallel_same_bits);
  g_test_add_func ("/base/parallel/cancel", test_parallel_cancel);
  g_test_add_func ("/base/parallel/edges", test_parallel_edges);
  g_test_add_func ("/base/progress/null", test_progress_null);
  return g_test_run ();
}
