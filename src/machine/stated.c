/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "machine/machinefile.h"

#include <glib/gi18n.h>

#include "base/text.h"
#include "base/tolerances.h"

/* How the frames lie (DESIGN.md §2 and §3). With the head straight down at c = 0:
 *
 *     gauge = old pivot + e + s − P ez       old pivot: the file's, on the C axis
 *     pivot = old pivot + d ez               d from lw_head_normalize()
 *
 * so display + stated_to_pivot = pivot, with stated_to_pivot = d ez, less (e + s − P ez) where the
 * displays show the gauge face. A body moves with the displays of the axes that carry it, thus in
 * terms of the pivot it stands at − stated_to_pivot along those; on C its origin moves from the old
 * pivot to the new one, on the tilt axis from old pivot + e to pivot + e'. */

static void
shift_bodies (LwMachine *machine, LwVec3 old_e, LwVec3 pivot_shift)
{
  LwVec3 tilt_shift = lw_vec3_sub (lw_vec3_sub (old_e, pivot_shift), machine->head.e);

  for (int i = 0; i < machine->n_bodies; i++) {
    LwBody *body = &machine->bodies[i];

    if (body->carrier == LW_AXIS_TILT)
      body->shift = tilt_shift;
    else if (body->carrier == LW_AXIS_C)
      body->shift = lw_vec3_negate (pivot_shift);
    else
      for (LwAxis axis = LW_AXIS_X; axis <= LW_AXIS_Z; axis++)
        if (lw_structure_moves (&machine->structure, body->carrier, axis))
          lw_vec3_set (&body->shift, (int)axis, -lw_vec3_get (machine->stated_to_pivot, (int)axis));
  }
}

static void
shift_limits (LwMachine *machine)
{
  for (LwAxis axis = LW_AXIS_X; axis <= LW_AXIS_Z; axis++) {
    double by = lw_vec3_get (machine->stated_to_pivot, (int)axis);

    machine->travel[axis].low += by;
    machine->travel[axis].high += by;
    for (int i = 0; i < machine->n_coupled; i++) {
      LwCoupledLimit *rule = &machine->coupled[i];

      if (rule->axis == axis) {
        rule->low += by;
        rule->high += by;
      }
      if (rule->when == axis)
        rule->threshold += by;
    }
  }
}

static char *
number (double value)
{
  char text[LW_NUMBER_SIZE];

  return g_strdup (lw_number_to_text (lw_round (value, 6, LW_ROUND_NEAREST), text));
}

static char *
triple (LwVec3 v)
{
  g_autofree char *x = number (v.x), *y = number (v.y), *z = number (v.z);

  return g_strdup_printf ("(%s, %s, %s) mm", x, y, z);
}

static void
note_form (GPtrArray *notes, const LwMachine *machine, LwVec3 pivot_shift)
{
  g_autofree char *e = triple (machine->head.e), *s = triple (machine->head.s);
  g_autofree char *length = number (machine->head.pivot_length), *up = number (pivot_shift.z);

  g_ptr_array_add (
      notes, g_strdup_printf (_ ("The head's numbers were brought to the form used here: C axis to "
                                 "tilt axis %s, tilt axis to spindle axis %s, pivot length %s mm, "
                                 "pivot moved by %s mm in Z. No tip, body or limit changed place."),
                              e, s, length, up));
}

static void
note_gauge (GPtrArray *notes, const LwMachine *machine)
{
  g_autofree char *by = triple (machine->stated_to_pivot);

  g_ptr_array_add (notes, g_strdup_printf (_ ("Travels are stated at the gauge face; they were "
                                              "brought to the pivot: display + %s = pivot."),
                                           by));
}

/* The change position is the control's business; one that its own travels don't reach is said. */
static void
note_change_at (GPtrArray *notes, const LwMachine *machine)
{
  const double *at = machine->magazine.change_at;

  for (LwAxis axis = LW_AXIS_X; machine->magazine.has_change_at && axis < LW_N_AXES; axis++) {
    double by = axis <= LW_AXIS_Z ? lw_vec3_get (machine->stated_to_pivot, (int)axis) : 0;
    double value = at[axis] + by;

    if (value < machine->travel[axis].low - LW_INSIDE_TOL
        || value > machine->travel[axis].high + LW_INSIDE_TOL)
      g_ptr_array_add (notes,
                       g_strdup_printf (_ ("The tool change position lies outside the limits "
                                           "of %s."),
                                        lw_machine_get_letter (machine, axis)));
  }
}

void
lw_machine_bring_to_pivot (LwMachine *machine, const LwStatedHead *stated)
{
  g_autoptr (GPtrArray) notes = g_ptr_array_new_with_free_func (g_free);
  LwVec3 gauge = lw_vec3_add (stated->head.e, stated->head.s), pivot_shift;

  gauge.z -= stated->head.pivot_length;
  machine->head = stated->head;
  if (lw_head_normalize (&machine->head, &pivot_shift))
    note_form (notes, machine, pivot_shift);
  machine->stated_to_pivot = pivot_shift;
  if (stated->at_gauge) {
    machine->stated_to_pivot = lw_vec3_sub (pivot_shift, gauge);
    note_gauge (notes, machine);
  }
  shift_limits (machine);
  shift_bodies (machine, stated->head.e, pivot_shift);
  note_change_at (notes, machine);
  g_ptr_array_add (notes, NULL);
  machine->notes = (char **)g_ptr_array_free (g_steal_pointer (&notes), FALSE);
}
