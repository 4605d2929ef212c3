/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "machine/machine.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/text.h"
#include "base/tolerances.h"

LwMachine *
lw_machine_ref (LwMachine *machine)
{
  g_atomic_int_inc (&machine->ref_count);
  return machine;
}

static void
free_bodies (LwMachine *machine)
{
  for (int i = 0; i < machine->n_bodies; i++) {
    g_free (machine->bodies[i].name);
    lw_solid_clear (&machine->bodies[i].solid);
  }
  g_free (machine->bodies);
}

void
lw_machine_unref (LwMachine *machine)
{
  if (!g_atomic_int_dec_and_test (&machine->ref_count))
    return;
  for (int i = 0; i < machine->n_coupled; i++)
    g_free (machine->coupled[i].why);
  for (int i = 0; i < machine->n_tables; i++)
    lw_table_clear (&machine->tables[i]);
  free_bodies (machine);
  lw_spindle_clear (&machine->spindle);
  lw_zones_clear (&machine->zones);
  g_free (machine->coupled);
  g_free (machine->tables);
  g_free (machine->name);
  g_free (machine->id);
  g_strfreev (machine->notes);
  g_clear_pointer (&machine->node, json_node_unref);
  g_free (machine);
}

const LwTable *
lw_machine_find_table (const LwMachine *machine, const char *name)
{
  for (int i = 0; i < machine->n_tables; i++)
    if (strcmp (machine->tables[i].name, name) == 0)
      return &machine->tables[i];
  return NULL;
}

int
lw_machine_find_body (const LwMachine *machine, const char *name)
{
  for (int i = 0; i < machine->n_bodies; i++)
    if (strcmp (machine->bodies[i].name, name) == 0)
      return i;
  return -1;
}

const char *
lw_machine_get_letter (const LwMachine *machine, LwAxis axis)
{
  static const char *const linear[] = { "X", "Y", "Z" };

  return axis <= LW_AXIS_Z ? linear[axis] : lw_structure_get_word (&machine->structure, (int)axis);
}

bool
lw_machine_knows_hood_and_hoses (const LwMachine *machine)
{
  if (machine->no_hood_or_hoses)
    return true;
  for (int i = 0; i < machine->n_bodies; i++) {
    g_autofree char *name = g_utf8_strdown (machine->bodies[i].name, -1);

    if (machine->bodies[i].role == LW_ROLE_HEAD && (strstr (name, "hood") || strstr (name, "hose")))
      return true;
  }
  return false;
}

/* "±110°", "−30° … 110°" */
static char *
range_to_text (const LwTravel *travel)
{
  g_autofree char *low = NULL, *high = NULL;

  if (isinf (travel->low) || isinf (travel->high))
    return g_strdup (_ ("endless"));
  low = lw_format_angle (travel->low, LW_ROUND_NEAREST);
  high = lw_format_angle (travel->high, LW_ROUND_NEAREST);
  if (fabs (travel->low + travel->high) < LW_INSIDE_TOL)
    return g_strconcat ("±", high, NULL);
  return g_strconcat (low, " … ", high, NULL);
}

static char *
size_to_text (const LwTravel *travel)
{
  return lw_format_fixed (travel->high - travel->low, 0, LW_ROUND_DOWN);
}

char *
lw_machine_dup_summary (const LwMachine *machine)
{
  const LwTravel *travel = machine->travel;
  g_autofree char *tilt = range_to_text (&travel[LW_AXIS_TILT]);
  g_autofree char *heading = range_to_text (&travel[LW_AXIS_C]);
  g_autofree char *x = size_to_text (&travel[LW_AXIS_X]);
  g_autofree char *y = size_to_text (&travel[LW_AXIS_Y]);
  g_autofree char *z = size_to_text (&travel[LW_AXIS_Z]);

  /* Translators: tilt axis letter and range, range of C, travels of X, Y, Z. */
  return g_strdup_printf (_ ("%s head %s, C %s, %s × %s × %s mm"),
                          lw_machine_get_letter (machine, LW_AXIS_TILT), tilt, heading, x, y, z);
}
