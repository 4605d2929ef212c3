/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "half-hull.h"

#include <pthread.h>

#include "job/job.h"

/* The job file against its schema, against noise, and read from two threads. */

typedef struct {
  HalfHull hull;
  LwMeshStore *store;
  char *text;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  half_hull_set_up (&f->hull);
  f->store = lw_mesh_store_new ();
  g_file_get_contents (f->hull.path, &f->text, NULL, &error);
  g_assert_no_error (error);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_free (f->text);
  lw_mesh_store_unref (f->store);
  half_hull_clear (&f->hull);
}

/* ------------------------------------------------------------------------------------------------
 * Mutations of the tree */

typedef struct {
  char *path;
  JsonNode *node; /* borrowed */
} Place;

static void
place_free (gpointer data)
{
  g_free (((Place *)data)->path);
  g_free (data);
}

static void
collect (GPtrArray *places, const char *path, JsonNode *node)
{
  Place *place = g_new0 (Place, 1);

  place->path = g_strdup (path);
  place->node = node;
  g_ptr_array_add (places, place);
  if (JSON_NODE_HOLDS_OBJECT (node)) {
    JsonObjectIter iter;
    const char *key;
    JsonNode *member;

    json_object_iter_init_ordered (&iter, json_node_get_object (node));
    while (json_object_iter_next_ordered (&iter, &key, &member)) {
      g_autofree char *below = g_strconcat (path, path[0] != '\0' ? "." : "", key, NULL);

      collect (places, below, member);
    }
  } else if (JSON_NODE_HOLDS_ARRAY (node)) {
    JsonArray *array = json_node_get_array (node);

    for (guint i = 0; i < json_array_get_length (array); i++) {
      g_autofree char *below = g_strdup_printf ("%s[%u]", path, i);

      collect (places, below, json_array_get_element (array, i));
    }
  }
}

/* A value to put in a node's place; NULL removes it. */
static JsonNode *
mutate (const Place *place, GRand *rand)
{
  static const double numbers[] = { 0, -1, 1, 0.5, 45, 91, 200, -400, 1e5, 1e7, -1e7 };
  static const char *const texts[] = {
    "", "b", "yes", "mm", "along", "normal", "ball", "X", "x-y"
  };

  switch (g_rand_int_range (rand, 0, 9)) {
  case 0:
  case 1:
    return NULL;
  case 2:
  case 3:
  case 4:
    return lw_json_new_number (numbers[g_rand_int_range (rand, 0, G_N_ELEMENTS (numbers))]);
  case 5:
    return lw_json_new_string (texts[g_rand_int_range (rand, 0, G_N_ELEMENTS (texts))]);
  case 6:
    return lw_json_new_bool (g_rand_boolean (rand));
  case 7:
    return json_node_init_null (json_node_alloc ());
  default:
    return json_node_ref (place->node);
  }
}

/* One edit somewhere in the tree: what stands there gets another value, goes, or (in an object)
 * gets a stranger for a neighbor. */
static JsonNode *
mutate_tree (JsonNode *root, GPtrArray *places, GRand *rand)
{
  const Place *place =
      (const Place *)g_ptr_array_index (places, g_rand_int_range (rand, 1, (int)places->len));
  static const char *const strangers[] = { "x-note", "colour", "after", "lean_deg", "at_mm" };
  g_autofree char *path = NULL;
  g_autoptr (GError) error = NULL;
  JsonNode *mutated;

  if (JSON_NODE_HOLDS_OBJECT (place->node) && g_rand_int_range (rand, 0, 3) > 0)
    path = g_strconcat (place->path, ".",
                        strangers[g_rand_int_range (rand, 0, G_N_ELEMENTS (strangers))], NULL);
  else
    path = g_strdup (place->path);
  mutated = lw_json_with (root, path, mutate (place, rand), &error);
  /* removing what is not there is no edit */
  return mutated != NULL ? mutated : json_node_ref (root);
}

/* ------------------------------------------------------------------------------------------------
 * Schema against reader */

#define N_MUTATED 200

/* What the reader asks for and a schema can't say: the only messages with which it may refuse a
 * file that the schema accepts. */
static const char *const beyond_schema[] = {
  /* names, ids and numbers that differ */
  "is used twice",
  "must differ from",
  /* references */
  "no table “",
  "no part “",
  "no placed part “",
  "no tool ",
  "no operation “",
  "would come after itself",
  /* one value against another */
  "must not be below “low”",
  "must not be below “min”",
  "must not be above “lean_deg”",
  "must be above low_",
  "must be above min_mm in ",
  "must be above from_mm",
  "must be above the rpm of the point before",
  "must not be below s1_kw",
  "leave a pocket between the walls",
  "less than the block's height",
  "must hold one normal a point",
  /* a rotation is more than nine numbers, a solid more than two points */
  "must be a rotation",
  "must be another point than from_mm",
  "span a volume",
  "must be above 0 mm where r_from_mm is 0",
  /* what leans on the structure or the table */
  "must point along ",
  "must be a word of the structure",
  "must be an axis of the structure",
  "must be another axis than",
  "must be a place on the table",
  "puts the last hole beyond the table",
  /* tool lengths and radii that tell one story */
  "where the segment before ends",
  "where the last segment ends",
  "from the end of the last holder segment to the tip",
  "half the cutting end's diameter",
  "must not be a holder below",
  "must be above 0 where d_from_mm is 0",
};

static bool
is_beyond_schema (const char *message)
{
  for (gsize i = 0; i < G_N_ELEMENTS (beyond_schema); i++)
    if (strstr (message, beyond_schema[i]) != NULL)
      return true;
  return false;
}

static char **
ask_schema (char **files)
{
  g_autofree char *script = g_test_build_filename (G_TEST_DIST, "schema_verdicts.py", NULL);
  g_autofree char *schema =
      g_test_build_filename (G_TEST_DIST, "..", "data", "schema", "leeway-job.schema.json", NULL);
  g_autoptr (GPtrArray) words = g_ptr_array_new ();
  g_autofree char *out = NULL;
  g_autofree char *err = NULL;
  g_autoptr (GError) error = NULL;
  int status;

  g_ptr_array_add (words, (gpointer) "/usr/bin/python3"); /* the one Debian's jsonschema is for */
  g_ptr_array_add (words, script);
  g_ptr_array_add (words, schema);
  for (int i = 0; files[i] != NULL; i++)
    g_ptr_array_add (words, files[i]);
  g_ptr_array_add (words, NULL);
  g_spawn_sync (NULL, (char **)words->pdata, NULL, G_SPAWN_DEFAULT, NULL, NULL, &out, &err, &status,
                &error);
  g_assert_no_error (error);
  if (!g_spawn_check_wait_status (status, NULL))
    g_error ("%s", err);
  return g_strsplit (out, "\n", -1);
}

static void
compare_verdicts (const char *file, const char *reader, const char *schema)
{
  bool schema_accepts = g_str_has_prefix (schema, "accepts");

  if (schema_accepts == (reader == NULL))
    return;
  if (schema_accepts && is_beyond_schema (reader))
    return;
  g_test_message ("%s: the reader says \"%s\", the schema %s", file,
                  reader != NULL ? reader : "accepts", schema);
  g_test_fail ();
}

static void
test_schema (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (JsonNode) root = lw_json_parse ("example", f->text, strlen (f->text), &error);
  g_autoptr (GPtrArray) places = g_ptr_array_new_with_free_func (place_free);
  g_autoptr (GRand) rand = g_rand_new_with_seed (21);
  g_auto (GStrv) files = g_new0 (char *, N_MUTATED + 2);
  g_auto (GStrv) readers = g_new0 (char *, N_MUTATED + 2);
  g_auto (GStrv) schemas = NULL;
  int refused = 0;

  g_assert_no_error (error);
  collect (places, "", root);
  for (int i = 0; i <= N_MUTATED; i++) {
    g_autoptr (JsonNode) mutated = i == 0 ? json_node_ref (root) : mutate_tree (root, places, rand);
    g_autoptr (GError) fault = NULL;
    g_autofree char *text = NULL;
    g_autofree char *name = g_strdup_printf ("mutated-%03d.leeway", i);
    g_autoptr (LwJob) job = NULL;

    files[i] = g_build_filename (f->hull.folder, name, NULL);
    text = lw_json_to_text (mutated);
    half_hull_write (files[i], text, strlen (text));
    job = lw_job_load (files[i], f->store, false, NULL, &fault);
    g_assert_true ((job == NULL) == (fault != NULL));
    if (job == NULL) {
      g_assert_error (fault, LW_ERROR, LW_ERROR_DATA);
      g_assert_true (g_str_has_prefix (fault->message, files[i]));
      refused++;
    }
    readers[i] = g_strdup (fault != NULL ? fault->message : "");
  }
  schemas = ask_schema (files);
  g_assert_cmpstr (schemas[0], ==, "accepts");
  for (int i = 0; i <= N_MUTATED; i++)
    compare_verdicts (files[i], readers[i][0] != '\0' ? readers[i] : NULL, schemas[i]);
  g_test_message ("%d of %d refused", refused, N_MUTATED);
  g_assert_cmpint (refused, >, N_MUTATED / 2);
  g_assert_cmpint (refused, <, N_MUTATED);
}

/* ------------------------------------------------------------------------------------------------
 * Noise */

static void
disturb (GByteArray *bytes, GRand *rand)
{
  static const char tokens[] = "{}[]\",:0123456789eE+-.\\u\n tfn";
  guint at = (guint)g_rand_int_range (rand, 0, (int)bytes->len);

  switch (g_rand_int_range (rand, 0, 5)) {
  case 0:
    bytes->data[at] = (guint8)g_rand_int_range (rand, 0, 256);
    break;
  case 1:
    bytes->data[at] = (guint8)tokens[g_rand_int_range (rand, 0, sizeof tokens - 1)];
    break;
  case 2:
    g_byte_array_remove_index (bytes, at);
    break;
  case 3:
    g_byte_array_set_size (bytes, MAX (at, 1));
    break;
  default: {
    guint from = (guint)g_rand_int_range (rand, 0, (int)bytes->len);
    guint length = (guint)g_rand_int_range (rand, 1, 40);

    length = MIN (length, bytes->len - MAX (at, from));
    memmove (bytes->data + at, bytes->data + from, length);
  }
  }
}

/* Whatever the bytes: a job that reads back the same, or an error that names the file. */
static void
test_noise (Fixture *f, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5000);
  int read = 0;

  for (int i = 0; i < 5000; i++) {
    g_autoptr (GByteArray) bytes = g_byte_array_new ();
    g_autoptr (GError) error = NULL;
    g_autoptr (JsonNode) node = NULL;
    g_autoptr (LwJob) job = NULL;
    int n = g_rand_int_range (rand, 1, 4);

    g_byte_array_append (bytes, (const guint8 *)f->text, (guint)strlen (f->text));
    for (int k = 0; k < n; k++)
      disturb (bytes, rand);
    node = lw_json_parse ("noise.leeway", (const char *)bytes->data, bytes->len, &error);
    if (node != NULL)
      job = lw_job_read ("noise.leeway", f->hull.folder, node, f->store, false, NULL, &error);
    g_assert_true ((job == NULL) == (error != NULL));
    if (job == NULL) {
      g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
      g_assert_true (g_str_has_prefix (error->message, "noise.leeway:"));
    } else {
      g_autofree char *text = lw_job_to_text (job);
      g_autofree char *again_text = NULL;
      g_autoptr (JsonNode) again_node = lw_json_parse ("again", text, strlen (text), &error);
      g_autoptr (LwJob) again =
          lw_job_read ("again", f->hull.folder, again_node, f->store, false, NULL, &error);

      g_assert_no_error (error);
      again_text = lw_job_to_text (again);
      g_assert_cmpstr (text, ==, again_text);
      read++;
    }
  }
  g_test_message ("%d of 5000 were still jobs", read);
  g_assert_cmpint (read, >, 10);
  g_assert_cmpint (read, <, 4000);
}

/* ------------------------------------------------------------------------------------------------
 * Threads */

typedef struct {
  LwJob *job;
  int edits;
  double sum;
} Reader;

/* Edits of its own, each from the job that both share. */
static void *
edit_often (void *data)
{
  Reader *reader = (Reader *)data;

  for (int i = 0; i < reader->edits; i++) {
    g_autoptr (LwJob) job = lw_job_with (reader->job, "setups[0].placed[0].yaw_deg",
                                         lw_json_new_number (i % 360), NULL);
    g_autoptr (LwJob) read = lw_job_with_meshes (job, NULL);
    g_autofree char *text = lw_job_to_text (read);

    reader->sum += read->setups[0].placed[0].yaw + (double)strlen (text)
                   + lw_mesh_get_facts (read->parts[0].mesh.mesh)->area
                   + (double)strlen (read->setups[0].operations[0].key);
  }
  return NULL;
}

static void
test_threads (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (LwJob) job = lw_job_load (f->hull.path, f->store, false, NULL, &error);
  Reader readers[2] = { { job, 200, 0 }, { job, 200, 0 } };
  pthread_t threads[2];

  g_assert_no_error (error);
  for (int i = 0; i < 2; i++)
    g_assert_cmpint (pthread_create (&threads[i], NULL, edit_often, &readers[i]), ==, 0);
  for (int i = 0; i < 2; i++)
    pthread_join (threads[i], NULL);
  g_assert_cmpfloat (readers[0].sum, ==, readers[1].sum);
  g_assert_cmpint (job->ref_count, ==, 1);
}

#define ADD(name, func) g_test_add ("/jobfile/" name, Fixture, NULL, set_up, func, tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("schema", test_schema);
  ADD ("noise", test_noise);
  ADD ("threads", test_threads);
  return g_test_run ();
}
