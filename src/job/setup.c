/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "base/tolerances.h"
#include "job/reading.h"

/* mm: models are drawn too small more often than too large. */
#define FIXTURE_TOLERANCE_MM 5
#define PLACED_TOLERANCE_MM  2
#define MOST_TOLERANCE_MM    1000

#define MOST_YAW_DEG  360
#define MOST_TILT_DEG 360

void
lw_setup_clear (LwSetup *setup)
{
  for (int i = 0; i < setup->n_placed; i++)
    g_free (setup->placed[i].id);
  for (int i = 0; i < setup->n_fixtures; i++) {
    g_free (setup->fixtures[i].name);
    lw_solid_clear (&setup->fixtures[i].solid);
  }
  for (int i = 0; i < setup->n_operations; i++)
    lw_operation_clear (&setup->operations[i]);
  g_free (setup->placed);
  g_free (setup->fixtures);
  g_free (setup->operations);
  g_free (setup->name);
  g_free (setup->riser_heights);
  g_free (setup->work_offset.name);
  g_free (setup->work_offset.datum);
}

static void
read_table (LwSetup *setup, LwIn *in, const LwJob *job)
{
  const LwMachine *machine = job->machine;
  g_autofree char *name = lw_in_string (in, "table");
  g_autofree const char **names = g_new0 (const char *, machine->n_tables);
  g_autofree char *known = NULL;

  for (int i = 0; i < machine->n_tables; i++)
    names[i] = machine->tables[i].name;
  setup->table = lw_find_name (names, machine->n_tables, name);
  if (setup->table >= 0 || lw_in_failed (in))
    return;
  known = lw_list_names (names, machine->n_tables, _ ("none"));
  lw_in_fail (in, "table", _ ("no table “%s” on this machine (tables are %s)"), name, known);
}

static void
read_risers (LwSetup *setup, LwIn *in)
{
  JsonNode *node = lw_in_skip (in, "riser_heights_mm");
  int n;

  if (node == NULL || lw_in_failed (in))
    return;
  if (!JSON_NODE_HOLDS_ARRAY (node)) {
    lw_in_fail (in, "riser_heights_mm", _ ("must be a list of heights, mm"));
    return;
  }
  n = (int)json_array_get_length (json_node_get_array (node));
  setup->riser_heights = g_new0 (double, n);
  setup->n_riser_heights = n;
  lw_in_numbers (in, "riser_heights_mm", setup->riser_heights, n, true);
  for (int i = 0; i < n; i++)
    if (!(setup->riser_heights[i] >= 0 && setup->riser_heights[i] <= LW_FAR_MM))
      lw_in_fail (in, "riser_heights_mm", _ ("height %d must be from 0 to 1 000 000 mm"), i);
}

/* ------------------------------------------------------------------------------------------------
 * Placed parts */

static void
read_stock (LwPlaced *placed, LwIn *in)
{
  placed->has_stock = lw_in_enter (in, "stock", false);
  if (!placed->has_stock)
    return;
  placed->stock_size = lw_read_size (in, "block_mm");
  placed->stock_at = lw_in_place (in, "at_mm");
  lw_in_leave (in);
}

static int
read_part_of (LwIn *in, const LwJob *job)
{
  g_autofree char *id = lw_in_string (in, "part");
  g_autofree const char **ids = g_new0 (const char *, job->n_parts);
  g_autofree char *known = NULL;
  int part;

  for (int i = 0; i < job->n_parts; i++)
    ids[i] = job->parts[i].id;
  part = lw_find_name (ids, job->n_parts, id);
  if (part >= 0 || lw_in_failed (in))
    return part;
  known = lw_list_names (ids, job->n_parts, _ ("none"));
  lw_in_fail (in, "part", _ ("no part “%s” in this job (parts are %s)"), id, known);
  return part;
}

static void
read_placed (LwPlaced *placed, LwIn *in, const LwJob *job)
{
  placed->id = lw_in_string (in, "id");
  placed->part = read_part_of (in, job);
  placed->rotation = lw_in_rotation_or (in, "rotation", lw_mat3_identity ());
  placed->yaw = lw_radians (lw_in_number_or (in, "yaw_deg", -MOST_YAW_DEG, MOST_YAW_DEG, 0));
  placed->turn = lw_mat3_multiply (lw_mat3_turn_z (placed->yaw), placed->rotation);
  placed->at = lw_in_place (in, "at_mm");
  placed->tolerance =
      lw_in_number_or (in, "tolerance_mm", 0, MOST_TOLERANCE_MM, PLACED_TOLERANCE_MM);
  read_stock (placed, in);
}

/* The ids, borrowed; freed by the caller. */
static const char **
read_all_placed (LwSetup *setup, LwIn *in, const LwJob *job)
{
  int n = lw_in_array (in, "placed", false);
  const char **ids = g_new0 (const char *, n + 1);

  setup->placed = g_new0 (LwPlaced, n);
  setup->n_placed = n;
  for (int i = 0; i < n && !lw_in_failed (in); i++) {
    lw_in_element (in, "placed", i);
    read_placed (&setup->placed[i], in, job);
    lw_read_expect_new (in, "id", ids, i, setup->placed[i].id);
    lw_in_leave (in);
    ids[i] = setup->placed[i].id;
  }
  return ids;
}

/* ------------------------------------------------------------------------------------------------
 * Fixture, work offset */

static void
read_fixture (LwFixture *fixture, LwIn *in)
{
  static const char *const zones[] = { "unknown", "no", "yes", NULL };

  fixture->name = lw_in_string (in, "name");
  fixture->zone = (LwZone)lw_in_word (in, "zone", zones, LW_ZONE_UNKNOWN);
  fixture->may_be_cut = lw_read_length_or (in, "may_be_cut_mm", 0);
  fixture->tolerance =
      lw_in_number_or (in, "tolerance_mm", 0, MOST_TOLERANCE_MM, FIXTURE_TOLERANCE_MM);
  lw_solid_read (&fixture->solid, in, "solid");
}

static void
read_fixtures (LwSetup *setup, LwIn *in)
{
  int n = lw_in_array (in, "fixture", false);
  g_autofree const char **names = g_new0 (const char *, n);

  setup->fixtures = g_new0 (LwFixture, n);
  setup->n_fixtures = n;
  for (int i = 0; i < n && !lw_in_failed (in); i++) {
    lw_in_element (in, "fixture", i);
    read_fixture (&setup->fixtures[i], in);
    lw_read_expect_new (in, "name", names, i, setup->fixtures[i].name);
    lw_in_leave (in);
    names[i] = setup->fixtures[i].name;
  }
}

static void
read_work_offset (LwWorkOffset *offset, LwIn *in)
{
  offset->exists = lw_in_enter (in, "work_offset", false);
  if (!offset->exists)
    return;
  offset->name = lw_in_string (in, "name");
  offset->datum = lw_read_text_or_null (in, "datum");
  offset->machine = lw_in_place (in, "machine_mm");
  offset->c = lw_radians (lw_in_number_or (in, "c_deg", -LW_FAR_DEG, LW_FAR_DEG, 0));
  offset->tilt = lw_radians (lw_in_number_or (in, "tilt_deg", -MOST_TILT_DEG, MOST_TILT_DEG, 0));
  lw_in_leave (in);
}

/* ------------------------------------------------------------------------------------------------
 * Operations */

/* The operation of the earlier job's set-up that the tree shares; *same_place, when it is not
 * NULL, takes the one at the same place, whose region may be shared. */
static const LwOperation *
find_earlier (JsonNode *node, int setup, int operation, const LwJob *earlier,
              const LwOperation **same_place)
{
  const LwSetup *old =
      earlier != NULL && setup < earlier->n_setups ? &earlier->setups[setup] : NULL;

  *same_place = NULL;
  if (old == NULL)
    return NULL;
  if (operation < old->n_operations) {
    *same_place = &old->operations[operation];
    if ((*same_place)->node == node)
      return *same_place;
  }
  for (int i = 0; i < old->n_operations; i++)
    if (old->operations[i].node == node)
      return &old->operations[i];
  return NULL;
}

static void
read_operations (LwSetup *setup, LwIn *in, const LwOperationScope *scope, int index,
                 const LwJobReading *reading)
{
  int n = lw_in_array (in, "operations", false);
  JsonNode *list = lw_in_skip (in, "operations");
  g_autofree const char **names = g_new0 (const char *, n);

  setup->operations = g_new0 (LwOperation, n);
  setup->n_operations = n;
  for (int i = 0; i < n && !lw_in_failed (in); i++) {
    JsonNode *node = json_array_get_element (json_node_get_array (list), (guint)i);
    const LwOperation *same_place;
    const LwOperation *same = find_earlier (node, index, i, reading->earlier, &same_place);
    LwOperation *operation = &setup->operations[i];

    if (same == NULL || !lw_operation_share (operation, same, scope)) {
      lw_in_element (in, "operations", i);
      if (!lw_in_failed (in))
        lw_operation_read (operation, in, node, scope, same_place);
      if (!lw_in_failed (in))
        lw_operation_attach_program (operation, reading);
      lw_in_leave (in);
    }
    if (lw_find_name (names, i, operation->name) >= 0) {
      g_autofree char *key = g_strdup_printf ("operations[%d].name", i);

      lw_in_fail (in, key, _ ("“%s” is used twice"), operation->name);
    }
    names[i] = operation->name;
  }
}

static int
find_operation (const LwSetup *setup, const char *name)
{
  for (int i = 0; i < setup->n_operations; i++)
    if (g_strcmp0 (setup->operations[i].name, name) == 0)
      return i;
  return -1;
}

static bool
is_known_before (const LwJob *job, int index, const char *name)
{
  for (int i = 0; i < index; i++)
    if (find_operation (&job->setups[i], name) >= 0)
      return true;
  return false;
}

/* Whether following "after" from operation leads back to target. seen marks what was looked at. */
static bool
leads_to (const LwSetup *setup, int operation, int target, bool *seen)
{
  char **after = setup->operations[operation].after;

  if (seen[operation])
    return false;
  seen[operation] = true;
  for (int i = 0; after != NULL && after[i] != NULL; i++) {
    int before = find_operation (setup, after[i]);

    if (before == target || (before >= 0 && leads_to (setup, before, target, seen)))
      return true;
  }
  return false;
}

static void
check_after (const LwSetup *setup, LwIn *in, const LwJob *job, int index)
{
  for (int i = 0; i < setup->n_operations && !lw_in_failed (in); i++) {
    char **after = setup->operations[i].after;
    g_autofree bool *seen = after != NULL ? g_new0 (bool, setup->n_operations) : NULL;
    g_autofree char *key = g_strdup_printf ("operations[%d].after", i);

    if (after == NULL)
      continue;
    for (int k = 0; after[k] != NULL; k++)
      if (find_operation (setup, after[k]) < 0 && !is_known_before (job, index, after[k]))
        lw_in_fail (in, key, _ ("no operation “%s” in this set-up or one before it"), after[k]);
    if (!lw_in_failed (in) && leads_to (setup, i, i, seen))
      lw_in_fail (in, key, _ ("“%s” would come after itself"), setup->operations[i].name);
  }
}

void
lw_setup_read (LwSetup *setup, LwIn *in, const LwJob *job, int index, const LwJobReading *reading)
{
  g_autofree int *numbers = g_new0 (int, job->n_tools);
  g_autofree const char **ids = NULL;
  LwOperationScope scope;

  setup->name = lw_in_string (in, "name");
  read_table (setup, in, job);
  read_risers (setup, in);
  ids = read_all_placed (setup, in, job);
  read_fixtures (setup, in);
  read_work_offset (&setup->work_offset, in);
  for (int i = 0; i < job->n_tools; i++)
    numbers[i] = job->tools[i].number;
  scope = (LwOperationScope){ ids, setup->n_placed, numbers, job->n_tools };
  read_operations (setup, in, &scope, index, reading);
  check_after (setup, in, job, index);
}
