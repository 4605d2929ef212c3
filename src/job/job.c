/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "job/job.h"

#include <glib/gi18n.h>

#include "job/reading.h"

#define MOST_RESERVE_MM  10000
#define MOST_RESERVE_DEG 180

LwJob *
lw_job_ref (LwJob *job)
{
  g_atomic_int_inc (&job->ref_count);
  return job;
}

void
lw_job_unref (LwJob *job)
{
  if (!g_atomic_int_dec_and_test (&job->ref_count))
    return;
  for (int i = 0; i < job->n_parts; i++)
    lw_part_clear (&job->parts[i]);
  for (int i = 0; i < job->n_setups; i++)
    lw_setup_clear (&job->setups[i]);
  for (int i = 0; i < job->n_tools; i++)
    lw_tool_clear (&job->tools[i]);
  g_free (job->parts);
  g_free (job->setups);
  g_free (job->tools);
  g_clear_pointer (&job->machine, lw_machine_unref);
  g_free (job->name);
  g_free (job->folder);
  g_free (job->title);
  lw_mesh_store_unref (job->store);
  json_node_unref (job->node);
  g_free (job);
}

/* ------------------------------------------------------------------------------------------------
 * Reading */

static void
read_format (LwIn *in)
{
  g_autofree char *format = lw_in_string (in, "format");
  int version;

  if (format != NULL && !g_str_equal (format, "leeway-job")) {
    lw_in_fail (in, "format", _ ("must be “leeway-job”, is “%s”"), format);
    return;
  }
  version = lw_in_int (in, "version", 1, G_MAXINT);
  if (!lw_in_failed (in) && version > LW_JOB_VERSION)
    lw_in_fail (in, "version",
                _ ("is %d, made by a newer program: this one reads versions up to %d"), version,
                LW_JOB_VERSION);
}

static void
read_machine (LwJob *job, LwIn *in, const LwJob *earlier)
{
  JsonNode *node;

  if (!lw_in_has (in, "machine")) {
    if (lw_in_enter (in, "machine", true)) /* says that it is missing */
      lw_in_leave (in);
    return;
  }
  node = lw_in_skip (in, "machine");
  if (earlier != NULL && node != NULL
      && node == json_object_get_member (json_node_get_object (earlier->node), "machine")) {
    job->machine = lw_machine_ref (earlier->machine);
    return;
  }
  if (!lw_in_enter (in, "machine", true))
    return;
  job->machine = lw_machine_read (in, node);
  lw_in_leave (in);
  g_assert (job->machine != NULL || lw_in_failed (in));
}

static JsonNode *
get_element (LwIn *in, const char *key, int index)
{
  return json_array_get_element (json_node_get_array (lw_in_skip (in, key)), (guint)index);
}

static void
read_parts (LwJob *job, LwIn *in, const LwJobReading *reading)
{
  int n = lw_in_array (in, "parts", true);
  g_autofree const char **ids = g_new0 (const char *, n);

  job->parts = g_new0 (LwPart, n);
  job->n_parts = n;
  for (int i = 0; i < n && !lw_in_failed (in); i++) {
    JsonNode *node = get_element (in, "parts", i);

    lw_in_element (in, "parts", i);
    if (!lw_in_failed (in))
      lw_part_read (&job->parts[i], in, node, reading);
    lw_read_expect_new (in, "id", ids, i, job->parts[i].id);
    lw_in_leave (in);
    ids[i] = job->parts[i].id;
  }
}

static void
read_tools (LwJob *job, LwIn *in)
{
  int n = lw_in_array (in, "tools", true);

  job->tools = g_new0 (LwTool, n);
  for (int i = 0; i < n && !lw_in_failed (in); i++) {
    LwTool *tool = &job->tools[i];

    lw_in_element (in, "tools", i);
    lw_tool_read (tool, in);
    if (!lw_in_failed (in) && lw_job_find_tool (job, tool->number) >= 0)
      lw_in_fail (in, "number", _ ("tool %d is used twice"), tool->number);
    lw_in_leave (in);
    job->n_tools = i + 1;
  }
}

static void
read_setups (LwJob *job, LwIn *in, const LwJobReading *reading)
{
  int n = lw_in_array (in, "setups", true);
  g_autofree const char **names = g_new0 (const char *, n);

  job->setups = g_new0 (LwSetup, n);
  job->n_setups = n;
  for (int i = 0; i < n && !lw_in_failed (in); i++) {
    lw_in_element (in, "setups", i);
    if (!lw_in_failed (in))
      lw_setup_read (&job->setups[i], in, job, i, reading);
    lw_read_expect_new (in, "name", names, i, job->setups[i].name);
    lw_in_leave (in);
    names[i] = job->setups[i].name;
  }
}

static void
read_reserves (LwReserves *reserves, LwIn *in)
{
  if (!lw_in_enter (in, "reserves", true))
    return;
  reserves->travel = lw_in_number (in, "travel_mm", 0, MOST_RESERVE_MM);
  reserves->rotary = lw_radians (lw_in_number (in, "rotary_deg", 0, MOST_RESERVE_DEG));
  reserves->gap = lw_in_number (in, "gap_mm", 0, MOST_RESERVE_MM);
  lw_in_leave (in);
}

/* In the order of what leans on what; each step does nothing after a failed one. */
static void
read_content (LwJob *job, LwIn *in, const LwJobReading *reading)
{
  read_format (in);
  job->title = lw_in_string_or_null (in, "title");
  if (!lw_in_failed (in))
    read_machine (job, in, reading->earlier);
  if (!lw_in_failed (in))
    read_parts (job, in, reading);
  if (!lw_in_failed (in))
    read_tools (job, in);
  if (!lw_in_failed (in))
    read_setups (job, in, reading);
  if (!lw_in_failed (in))
    read_reserves (&job->reserves, in);
}

LwJob *
lw_job_read_tree (const char *name, JsonNode *node, const LwJobReading *reading, GError **error)
{
  g_autoptr (LwJob) job = NULL;
  LwIn *in;

  if (!JSON_NODE_HOLDS_OBJECT (node)) {
    g_set_error (error, LW_ERROR, LW_ERROR_DATA, _ ("%s: must be a JSON object"), name);
    return NULL;
  }
  job = g_new0 (LwJob, 1);
  job->ref_count = 1;
  job->node = json_node_ref (node);
  job->store = lw_mesh_store_ref (reading->store);
  job->name = g_strdup (name);
  job->folder = g_strdup (reading->folder);

  in = lw_in_new (name, "", node);
  read_content (job, in, reading);
  if (!lw_in_finish (in, error))
    return NULL;
  return g_steal_pointer (&job);
}

LwJob *
lw_job_read (const char *name, const char *folder, JsonNode *node, LwMeshStore *store, bool wait,
             LwProgress *progress, GError **error)
{
  LwJobReading reading = { folder, store, wait, progress, NULL };
  g_autoptr (LwJob) job = lw_job_read_tree (name, node, &reading, error);

  if (job == NULL || lw_progress_set_error_if_cancelled (progress, error))
    return NULL;
  return g_steal_pointer (&job);
}

LwJob *
lw_job_load (const char *path, LwMeshStore *store, bool wait, LwProgress *progress, GError **error)
{
  g_autoptr (JsonNode) node = lw_json_load (path, error);
  g_autofree char *full = g_canonicalize_filename (path, NULL);
  g_autofree char *folder = g_path_get_dirname (full);

  if (node == NULL)
    return NULL;
  return lw_job_read (path, folder, node, store, wait, progress, error);
}

/* ------------------------------------------------------------------------------------------------
 * Edits */

LwJob *
lw_job_with_node (const LwJob *job, JsonNode *node, GError **error)
{
  LwJobReading reading = { job->folder, job->store, false, NULL, job };

  return lw_job_read_tree (job->name, node, &reading, error);
}

LwJob *
lw_job_with (const LwJob *job, const char *path, JsonNode *value, GError **error)
{
  g_autoptr (JsonNode) node = lw_json_with (job->node, path, value, error);

  return node != NULL ? lw_job_with_node (job, node, error) : NULL;
}

LwJob *
lw_job_with_machine (const LwJob *job, const LwMachine *machine, GError **error)
{
  return lw_job_with (job, "machine", json_node_ref (machine->node), error);
}

/* The tree was read before, so reading it again can't fail. */
static LwJob *
copy_job (const LwJob *job)
{
  g_autoptr (GError) error = NULL;
  LwJob *copy = lw_job_with_node (job, job->node, &error);

  g_assert (copy != NULL);
  return copy;
}

static LwJob *
refresh_meshes (LwJob *job, bool wait, LwProgress *progress)
{
  LwJobReading reading = { job->folder, job->store, wait, progress, NULL };
  g_autoptr (LwJob) copy = copy_job (job);
  bool changed = false;

  for (int i = 0; i < copy->n_parts; i++)
    changed |= lw_part_refresh_mesh (&copy->parts[i], &reading);
  for (int i = 0; i < copy->n_setups; i++)
    for (int k = 0; k < copy->setups[i].n_operations; k++)
      changed |= lw_operation_refresh_program (&copy->setups[i].operations[k], &reading);
  return changed ? g_steal_pointer (&copy) : lw_job_ref (job);
}

LwJob *
lw_job_with_meshes (LwJob *job, LwProgress *progress)
{
  return refresh_meshes (job, true, progress);
}

LwJob *
lw_job_with_meshes_at_hand (LwJob *job)
{
  return refresh_meshes (job, false, NULL);
}

bool
lw_job_is_loading (const LwJob *job)
{
  for (int i = 0; i < job->n_parts; i++)
    if (job->parts[i].mesh.state == LW_MESH_LOADING)
      return true;
  for (int i = 0; i < job->n_setups; i++)
    for (int k = 0; k < job->setups[i].n_operations; k++)
      if (job->setups[i].operations[k].program.state == LW_PROGRAM_LOADING)
        return true;
  return false;
}

/* ------------------------------------------------------------------------------------------------
 * Writing, finding */

char *
lw_job_to_text (const LwJob *job)
{
  return lw_json_to_text (job->node);
}

bool
lw_job_save (const LwJob *job, const char *path, GError **error)
{
  return lw_json_save (job->node, path, error);
}

const LwSetup *
lw_job_find_setup (const LwJob *job, const char *name)
{
  for (int i = 0; i < job->n_setups; i++)
    if (g_strcmp0 (job->setups[i].name, name) == 0)
      return &job->setups[i];
  return NULL;
}

int
lw_job_find_tool (const LwJob *job, int number)
{
  for (int i = 0; i < job->n_tools; i++)
    if (job->tools[i].number == number)
      return i;
  return -1;
}
