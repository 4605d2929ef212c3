/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "machine/table.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/tolerances.h"
#include "machine/equipment.h"

#define MAX_HOLES   10000
#define MAX_LOAD_KG 1e7

static void
read_size (LwIn *in, const char *key, double size[2])
{
  if (lw_in_numbers (in, key, size, 2, true))
    for (int i = 0; i < 2; i++)
      if (!(size[i] > 0 && size[i] <= LW_FAR_MM))
        lw_in_fail (in, key, _ ("must be two lengths above 0 mm and up to 1000 m"));
}

static void
read_on_table (LwIn *in, const char *key, const LwTable *table, double at[2])
{
  if (lw_in_numbers (in, key, at, 2, true))
    for (int i = 0; i < 2; i++)
      if (!(at[i] >= 0 && at[i] <= table->size[i]))
        lw_in_fail (in, key, _ ("must be a place on the table, within its size_mm"));
}

static void
read_holes (LwTable *table, LwIn *in)
{
  LwHoleGrid *holes = &table->holes;
  double count[2] = { 0 };

  holes->exists = true;
  holes->thread = lw_in_string (in, "thread");
  read_on_table (in, "first_mm", table, holes->first);
  read_size (in, "pitch_mm", holes->pitch);
  lw_in_numbers (in, "count", count, 2, true);
  holes->depth = lw_in_positive_or_nan (in, "depth_mm", LW_FAR_MM);
  for (int i = 0; i < 2 && !lw_in_failed (in); i++) {
    double last = holes->first[i] + holes->pitch[i] * (count[i] - 1);

    if (!(count[i] >= 1 && count[i] <= MAX_HOLES && count[i] == floor (count[i])))
      lw_in_fail (in, "count", _ ("must be two whole numbers from 1 to %d"), MAX_HOLES);
    else if (last > table->size[i] + LW_POINT_TOL)
      lw_in_fail (in, "count", _ ("puts the last hole beyond the table's size_mm in %c"), 'X' + i);
    holes->count[i] = (int)count[i];
  }
}

static void
read_locating (LwTable *table, LwIn *in)
{
  int n = lw_in_array (in, "locating", false);

  table->locating = g_new0 (LwLocatingHole, n);
  table->n_locating = n;
  for (int i = 0; i < n; i++) {
    LwLocatingHole *hole = &table->locating[i];

    lw_in_element (in, "locating", i);
    hole->name = lw_in_string (in, "name");
    read_on_table (in, "at_mm", table, hole->at);
    hole->diameter = lw_in_positive_or_nan (in, "diameter_mm", LW_FAR_MM);
    hole->clearance = lw_in_number_or (in, "clearance_mm", 0, LW_FAR_MM, NAN);
    for (int other = 0; other < i && !lw_in_failed (in); other++)
      if (strcmp (table->locating[other].name, hole->name) == 0)
        lw_in_fail (in, "name", _ ("must differ from that of locating[%d]"), other);
    lw_in_leave (in);
  }
}

void
lw_table_read (LwTable *table, LwIn *in)
{
  *table = (LwTable){ .thickness = NAN, .max_load = NAN };
  table->name = lw_in_string (in, "name");
  table->origin = lw_in_place (in, "origin_machine_mm");
  read_size (in, "size_mm", table->size);
  table->thickness = lw_in_positive_or_nan (in, "thickness_mm", LW_FAR_MM);
  table->max_load = lw_in_positive_or_nan (in, "max_load_kg", MAX_LOAD_KG);
  if (lw_in_enter (in, "holes", false)) {
    read_holes (table, in);
    lw_in_leave (in);
  }
  read_locating (table, in);
}

void
lw_table_clear (LwTable *table)
{
  for (int i = 0; i < table->n_locating; i++)
    g_free (table->locating[i].name);
  g_free (table->locating);
  g_free (table->holes.thread);
  g_free (table->name);
  *table = (LwTable){ 0 };
}
