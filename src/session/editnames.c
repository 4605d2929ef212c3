/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "session/edit.h"

/* Names and numbers that other places of a job refer to: renamed and removed together with them. */

static JsonNode *
text (const char *value)
{
  return lw_json_new_string (value);
}

static bool is_text (LwEdit *edit, const char *value, const char *format, ...) G_GNUC_PRINTF (3, 4);

static bool
is_text (LwEdit *edit, const char *value, const char *format, ...)
{
  g_autofree char *path = NULL;
  va_list args;

  va_start (args, format);
  path = g_strdup_vprintf (format, args);
  va_end (args);
  return g_strcmp0 (lw_edit_get_string (edit, "%s", path), value) == 0;
}

void
lw_edit_rename_part (LwEdit *edit, int part, const char *id)
{
  g_autofree char *old = g_strdup (lw_edit_get_string (edit, "parts[%d].id", part));

  lw_edit_set (edit, text (id), "parts[%d].id", part);
  for (int i = 0; i < lw_edit_count (edit, "setups"); i++)
    for (int k = 0; k < lw_edit_count (edit, "setups[%d].placed", i); k++)
      if (is_text (edit, old, "setups[%d].placed[%d].part", i, k))
        lw_edit_set (edit, text (id), "setups[%d].placed[%d].part", i, k);
}

void
lw_edit_rename_placed (LwEdit *edit, int setup, int placed, const char *id)
{
  g_autofree char *old =
      g_strdup (lw_edit_get_string (edit, "setups[%d].placed[%d].id", setup, placed));

  lw_edit_set (edit, text (id), "setups[%d].placed[%d].id", setup, placed);
  for (int k = 0; k < lw_edit_count (edit, "setups[%d].operations", setup); k++)
    if (is_text (edit, old, "setups[%d].operations[%d].on", setup, k))
      lw_edit_set (edit, text (id), "setups[%d].operations[%d].on", setup, k);
}

void
lw_edit_rename_operation (LwEdit *edit, int setup, int operation, const char *name)
{
  g_autofree char *old =
      g_strdup (lw_edit_get_string (edit, "setups[%d].operations[%d].name", setup, operation));

  lw_edit_set (edit, text (name), "setups[%d].operations[%d].name", setup, operation);
  for (int k = 0; k < lw_edit_count (edit, "setups[%d].operations", setup); k++)
    for (int j = 0; j < lw_edit_count (edit, "setups[%d].operations[%d].after", setup, k); j++)
      if (is_text (edit, old, "setups[%d].operations[%d].after[%d]", setup, k, j))
        lw_edit_set (edit, text (name), "setups[%d].operations[%d].after[%d]", setup, k, j);
}

void
lw_edit_rename_table (LwEdit *edit, int table, const char *name)
{
  g_autofree char *old = g_strdup (lw_edit_get_string (edit, "machine.tables[%d].name", table));

  lw_edit_set (edit, text (name), "machine.tables[%d].name", table);
  for (int i = 0; i < lw_edit_count (edit, "setups"); i++)
    if (is_text (edit, old, "setups[%d].table", i))
      lw_edit_set (edit, text (name), "setups[%d].table", i);
  for (int i = 0; i < lw_edit_count (edit, "machine.bodies"); i++)
    if (is_text (edit, old, "machine.bodies[%d].table", i))
      lw_edit_set (edit, text (name), "machine.bodies[%d].table", i);
}

void
lw_edit_rename_body (LwEdit *edit, int body, const char *name)
{
  g_autofree char *old = g_strdup (lw_edit_get_string (edit, "machine.bodies[%d].name", body));

  lw_edit_set (edit, text (name), "machine.bodies[%d].name", body);
  for (int i = 0; i < lw_edit_count (edit, "machine.zones.shapes"); i++)
    if (is_text (edit, old, "machine.zones.shapes[%d].body", i))
      lw_edit_set (edit, text (name), "machine.zones.shapes[%d].body", i);
}

static int
get_int (LwEdit *edit, JsonNode *node)
{
  return node != NULL && JSON_NODE_HOLDS_VALUE (node) ? (int)json_node_get_int (node) : -1;
}

void
lw_edit_renumber_tool (LwEdit *edit, int tool, int number)
{
  int old = get_int (edit, lw_edit_get (edit, "tools[%d].number", tool));

  lw_edit_set (edit, lw_json_new_number (number), "tools[%d].number", tool);
  for (int i = 0; i < lw_edit_count (edit, "setups"); i++)
    for (int k = 0; k < lw_edit_count (edit, "setups[%d].operations", i); k++)
      if (get_int (edit, lw_edit_get (edit, "setups[%d].operations[%d].tool", i, k)) == old)
        lw_edit_set (edit, lw_json_new_number (number), "setups[%d].operations[%d].tool", i, k);
}

/* ------------------------------------------------------------------------------------------------
 * Removing */

/* Takes a name out of every "after"; an empty list goes, and with it "against": "part", which means
 * nothing without. */
static void
forget_operation (LwEdit *edit, int setup, const char *name)
{
  for (int k = 0; k < lw_edit_count (edit, "setups[%d].operations", setup); k++) {
    int n = lw_edit_count (edit, "setups[%d].operations[%d].after", setup, k);
    bool had = n > 0;

    for (int j = n - 1; j >= 0; j--)
      if (is_text (edit, name, "setups[%d].operations[%d].after[%d]", setup, k, j))
        lw_edit_set (edit, NULL, "setups[%d].operations[%d].after[%d]", setup, k, j);
    if (!had || lw_edit_count (edit, "setups[%d].operations[%d].after", setup, k) > 0)
      continue;
    lw_edit_set (edit, NULL, "setups[%d].operations[%d].after", setup, k);
    if (lw_edit_get (edit, "setups[%d].operations[%d].against", setup, k) != NULL)
      lw_edit_set (edit, NULL, "setups[%d].operations[%d].against", setup, k);
  }
}

void
lw_edit_remove_operation (LwEdit *edit, int setup, int operation)
{
  g_autofree char *name =
      g_strdup (lw_edit_get_string (edit, "setups[%d].operations[%d].name", setup, operation));

  lw_edit_set (edit, NULL, "setups[%d].operations[%d]", setup, operation);
  forget_operation (edit, setup, name);
}

void
lw_edit_remove_placed (LwEdit *edit, int setup, int placed)
{
  g_autofree char *id =
      g_strdup (lw_edit_get_string (edit, "setups[%d].placed[%d].id", setup, placed));

  for (int k = lw_edit_count (edit, "setups[%d].operations", setup) - 1; k >= 0; k--)
    if (is_text (edit, id, "setups[%d].operations[%d].on", setup, k))
      lw_edit_remove_operation (edit, setup, k);
  lw_edit_set (edit, NULL, "setups[%d].placed[%d]", setup, placed);
}

void
lw_edit_remove_part (LwEdit *edit, int part)
{
  g_autofree char *id = g_strdup (lw_edit_get_string (edit, "parts[%d].id", part));

  for (int i = 0; i < lw_edit_count (edit, "setups"); i++)
    for (int k = lw_edit_count (edit, "setups[%d].placed", i) - 1; k >= 0; k--)
      if (is_text (edit, id, "setups[%d].placed[%d].part", i, k))
        lw_edit_remove_placed (edit, i, k);
  lw_edit_set (edit, NULL, "parts[%d]", part);
}

void
lw_edit_remove_tool (LwEdit *edit, int tool)
{
  int number = get_int (edit, lw_edit_get (edit, "tools[%d].number", tool));

  for (int i = 0; i < lw_edit_count (edit, "setups"); i++)
    for (int k = lw_edit_count (edit, "setups[%d].operations", i) - 1; k >= 0; k--)
      if (get_int (edit, lw_edit_get (edit, "setups[%d].operations[%d].tool", i, k)) == number)
        lw_edit_remove_operation (edit, i, k);
  lw_edit_set (edit, NULL, "tools[%d]", tool);
}

void
lw_edit_remove_table (LwEdit *edit, int table)
{
  g_autofree char *name = g_strdup (lw_edit_get_string (edit, "machine.tables[%d].name", table));

  for (int i = lw_edit_count (edit, "setups") - 1; i >= 0; i--)
    if (is_text (edit, name, "setups[%d].table", i))
      lw_edit_set (edit, NULL, "setups[%d]", i);
  lw_edit_set (edit, NULL, "machine.tables[%d]", table);
}

/* ------------------------------------------------------------------------------------------------
 * What goes along */

static void
add_name (GString *names, const char *name)
{
  g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", name);
}

static char *
end_names (GString *names)
{
  bool none = names->len == 0;
  char *result = g_string_free (names, none);

  return none ? NULL : result;
}

char *
lw_edit_dup_dependents_of_placed (const LwJob *job, int setup, int placed)
{
  const LwSetup *in = &job->setups[setup];
  GString *names = g_string_new (NULL);

  for (int k = 0; k < in->n_operations; k++)
    if (in->operations[k].placed == placed)
      add_name (names, in->operations[k].name);
  return end_names (names);
}

char *
lw_edit_dup_dependents_of_part (const LwJob *job, int part)
{
  GString *names = g_string_new (NULL);

  for (int i = 0; i < job->n_setups; i++) {
    const LwSetup *setup = &job->setups[i];

    for (int k = 0; k < setup->n_placed; k++)
      if (setup->placed[k].part == part)
        add_name (names, setup->placed[k].id);
    for (int k = 0; k < setup->n_operations; k++)
      if (setup->placed[setup->operations[k].placed].part == part)
        add_name (names, setup->operations[k].name);
  }
  return end_names (names);
}

char *
lw_edit_dup_dependents_of_tool (const LwJob *job, int tool)
{
  GString *names = g_string_new (NULL);

  for (int i = 0; i < job->n_setups; i++)
    for (int k = 0; k < job->setups[i].n_operations; k++)
      if (job->setups[i].operations[k].tool == tool)
        add_name (names, job->setups[i].operations[k].name);
  return end_names (names);
}

char *
lw_edit_dup_dependents_of_table (const LwJob *job, int table)
{
  GString *names = g_string_new (NULL);

  for (int i = 0; i < job->n_setups; i++)
    if (job->setups[i].table == table)
      add_name (names, job->setups[i].name);
  return end_names (names);
}
