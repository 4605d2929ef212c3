/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "machine/machinefile.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/text.h"
#include "base/tolerances.h"

#define FORMAT_VERSION    1
#define MAX_HEAD_MM       10000
#define MAX_RAPID         1e7
#define MAX_TOLERANCE_MM  1000
#define BODY_TOLERANCE_MM 5
#define TILT_FAR_DEG      360

/* ------------------------------------------------------------------------------------------------
 * Head. */

static void
read_tilt_axis (LwHead *head, char letter, LwIn *in)
{
  LwVec3 axis = lw_in_vec3 (in, "tilt_axis");
  LwVec3 n = lw_vec3_unit (axis);

  if (lw_in_failed (in))
    return;
  if (!(lw_vec3_length (axis) > LW_DIRECTION_MIN))
    lw_in_fail (in, "tilt_axis", _ ("must be a direction, is zero"));
  else if (!(hypot (n.x, n.y) >= LW_TILT_AXIS_MIN))
    lw_in_fail (in, "tilt_axis", _ ("must not point along Z, where C turns already"));
  else if (letter == 'B' && !(hypot (n.x, n.z) <= LW_TILT_LETTER_TOL))
    lw_in_fail (in, "tilt_axis",
                _ ("must point along Y for an axis B; an inclined axis has a letter of its own, "
                   "like D"));
  else if (letter == 'A' && !(hypot (n.y, n.z) <= LW_TILT_LETTER_TOL))
    lw_in_fail (in, "tilt_axis",
                _ ("must point along X for an axis A; an inclined axis has a letter of its own, "
                   "like D"));
  head->n = n;
}

static LwVec3
read_offset (LwIn *in, const char *key)
{
  LwVec3 offset = lw_in_vec3_or (in, key, lw_vec3 (0, 0, 0));

  for (int i = 0; i < 3; i++)
    if (fabs (lw_vec3_get (offset, i)) > MAX_HEAD_MM)
      lw_in_fail (in, key, _ ("must not be above %d mm"), MAX_HEAD_MM);
  return offset;
}

static void
read_head (LwMachine *machine, LwStatedHead *stated, LwIn *in)
{
  static const char *const at_words[] = { "pivot", "gauge", NULL };

  if (!lw_in_enter (in, "head", true))
    return;
  read_tilt_axis (&stated->head, machine->structure.tilt_letter, in);
  stated->head.pivot_length = lw_in_number (in, "pivot_length_mm", lw_above (0), MAX_HEAD_MM);
  stated->head.e = read_offset (in, "c_to_tilt_mm");
  stated->head.s = read_offset (in, "tilt_to_spindle_mm");
  stated->at_gauge = lw_in_word (in, "travels_at", at_words, 0) == 1;
  if (!lw_in_failed (in)) {
    LwHead head = stated->head;
    LwVec3 shift;

    lw_head_normalize (&head, &shift);
    if (!(head.pivot_length > 0))
      lw_in_fail (in, "tilt_to_spindle_mm",
                  _ ("lies so high in Z that no length is left from the tilt axis to the gauge "
                     "line"));
  }
  lw_in_leave (in);
}

/* ------------------------------------------------------------------------------------------------
 * Tables and bodies. */

static void
read_tables (LwMachine *machine, LwIn *in)
{
  int n = lw_in_array (in, "tables", true);

  if (!lw_in_failed (in) && n == 0)
    lw_in_fail (in, "tables", _ ("must hold a table"));
  machine->tables = g_new0 (LwTable, n);
  machine->n_tables = n;
  for (int i = 0; i < n; i++) {
    lw_in_element (in, "tables", i);
    lw_table_read (&machine->tables[i], in);
    for (int other = 0; other < i && !lw_in_failed (in); other++)
      if (strcmp (machine->tables[other].name, machine->tables[i].name) == 0)
        lw_in_fail (in, "name", _ ("must differ from that of tables[%d]"), other);
    lw_in_leave (in);
  }
}

/* What a body may ride on: anything of the structure but the tool, which is the job's. */
static LwCarrier
read_carrier (LwMachine *machine, LwIn *in)
{
  g_autofree char *word = lw_in_string (in, "carried_by");
  LwCarrier carrier;

  if (lw_in_failed (in))
    return LW_CARRIER_BED;
  carrier = lw_structure_find (&machine->structure, word);
  if (carrier >= 0 && carrier != LW_CARRIER_TOOL)
    return carrier;
  lw_in_fail (in, "carried_by",
              _ ("must be a word of the structure %s other than t, as written there, is \"%s\""),
              machine->structure.code, word);
  return LW_CARRIER_BED;
}

/* A body on the work is in a table's frame: with several, it has to say whose. */
static int
read_body_table (LwMachine *machine, const LwBody *body, LwIn *in)
{
  g_autofree char *name = NULL;
  const LwTable *table;

  if (body->carrier != LW_CARRIER_WORK)
    return 0;
  name = lw_in_text_or_null (in, "table");
  if (lw_in_failed (in) || (!name && machine->n_tables == 1))
    return 0;
  table = name ? lw_machine_find_table (machine, name) : NULL;
  if (!name)
    lw_in_fail (in, "table", _ ("must name the table in whose frame a body on the work is given"));
  else if (!table)
    lw_in_fail (in, "table", _ ("must name one of the tables, is \"%s\""), name);
  return table ? (int)(table - machine->tables) : 0;
}

static void
read_body (LwMachine *machine, int index, LwIn *in)
{
  static const char *const roles[] = { "head", "structure", "obstacle", NULL };
  static const char *const zones[] = { "unknown", "no", "yes", NULL };
  LwBody *body = &machine->bodies[index];

  body->name = lw_in_string (in, "name");
  for (int other = 0; other < index && !lw_in_failed (in); other++)
    if (strcmp (machine->bodies[other].name, body->name) == 0)
      lw_in_fail (in, "name", _ ("must differ from that of bodies[%d]"), other);
  body->role = (LwRole)lw_in_word (in, "role", roles, LW_ROLE_STRUCTURE);
  body->zone = (LwZone)lw_in_word (in, "zone", zones, LW_ZONE_UNKNOWN);
  body->carrier = read_carrier (machine, in);
  body->table = read_body_table (machine, body, in);
  body->tolerance = lw_in_number_or (in, "tolerance_mm", 0, MAX_TOLERANCE_MM, BODY_TOLERANCE_MM);
  lw_solid_read (&body->solid, in, "solid");
}

static void
read_bodies (LwMachine *machine, LwIn *in)
{
  static const char *const hood_words[] = { "none fitted", NULL };
  int n = lw_in_array (in, "bodies", false);

  machine->bodies = g_new0 (LwBody, n);
  machine->n_bodies = n;
  for (int i = 0; i < n; i++) {
    lw_in_element (in, "bodies", i);
    read_body (machine, i, in);
    lw_in_leave (in);
  }
  if (lw_in_has (in, "hood_and_hoses"))
    machine->no_hood_or_hoses = lw_in_word (in, "hood_and_hoses", hood_words, -1) == 0;
}

/* Each zone of a body's own shape must name one that is there. */
static void
check_zones (LwMachine *machine, LwIn *in)
{
  for (int i = 0; i < machine->zones.n_shapes && !lw_in_failed (in); i++) {
    const char *body = machine->zones.shapes[i].body;
    g_autofree char *key = g_strdup_printf ("zones.shapes[%d].body", i);

    if (body && lw_machine_find_body (machine, body) < 0)
      lw_in_fail (in, key, _ ("must name one of the bodies, is \"%s\""), body);
  }
}

/* ------------------------------------------------------------------------------------------------
 */

static void
read_title (LwMachine *machine, LwIn *in)
{
  static const char *const format_words[] = { "leeway-machine", NULL };
  int version;

  lw_in_word (in, "format", format_words, -1);
  version = lw_in_int (in, "version", 1, G_MAXINT);
  if (!lw_in_failed (in) && version > FORMAT_VERSION)
    lw_in_fail (in, "version",
                _ ("is %d, newer than this program reads (%d): refused rather than half read"),
                version, FORMAT_VERSION);
  machine->name = lw_in_text_or_null (in, "name");
  machine->id = lw_in_text_or_null (in, "id");
  machine->revision = lw_in_int_or (in, "revision", 0, G_MAXINT, 0);
  if (!machine->name)
    machine->name = g_strdup (machine->id ? machine->id : _ ("unnamed machine"));
  if (!machine->id)
    machine->id = g_strdup (machine->name);
}

static void
read_structure (LwMachine *machine, LwIn *in)
{
  g_autofree char *code = lw_in_string (in, "structure");
  g_autoptr (GError) error = NULL;

  if (!lw_in_failed (in) && !lw_structure_parse (&machine->structure, code, &error))
    lw_in_fail (in, "structure", "%s", error->message);
}

static void
read_all (LwMachine *machine, LwIn *in)
{
  LwStatedHead stated = { 0 };

  read_title (machine, in);
  read_structure (machine, in);
  if (lw_in_failed (in)) /* everything below needs the structure */
    return;
  lw_machine_read_axes (machine, in);
  lw_machine_read_coupled (machine, in);
  read_head (machine, &stated, in);
  read_tables (machine, in);
  lw_spindle_read (&machine->spindle, in);
  lw_magazine_read (&machine->magazine, in);
  lw_zones_read (&machine->zones, in);
  read_bodies (machine, in);
  check_zones (machine, in);
  if (!lw_in_failed (in))
    lw_machine_bring_to_pivot (machine, &stated);
}

LwMachine *
lw_machine_read (LwIn *in, JsonNode *node)
{
  g_autoptr (LwMachine) machine = g_new0 (LwMachine, 1);

  machine->ref_count = 1;
  machine->node = json_node_ref (node);
  read_all (machine, in);
  return lw_in_failed (in) ? NULL : g_steal_pointer (&machine);
}

LwMachine *
lw_machine_load (const char *path, GError **error)
{
  g_autoptr (JsonNode) node = lw_json_load (path, error);
  g_autoptr (LwMachine) machine = NULL;
  LwIn *in;

  if (!node)
    return NULL;
  in = lw_in_new (path, "", node);
  machine = lw_machine_read (in, node);
  if (!lw_in_finish (in, error))
    return NULL;
  return g_steal_pointer (&machine);
}
