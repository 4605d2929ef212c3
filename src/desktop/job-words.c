/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/job-words.h"

#include <glib/gi18n.h>

#include "desktop/editors.h"
#include "desktop/mark.h"

static void
item_free (gpointer data)
{
  LwJobItem *item = data;

  g_free (item->title);
  g_free (item->summary);
  g_free (item);
}

/* Takes title and summary. */
static LwJobItem *
add (GPtrArray *items, LwSubject subject, char *title, char *summary)
{
  LwJobItem *item = g_new0 (LwJobItem, 1);

  *item = (LwJobItem){ subject, title, summary, LW_MARK_NONE, false };
  g_ptr_array_add (items, item);
  return item;
}

static void
add_machine (GPtrArray *items, const LwJob *job)
{
  g_autofree char *summary = lw_machine_dup_summary (job->machine);
  const char *name = job->machine->name;

  add (items, (LwSubject){ LW_SUBJECT_MACHINE, 0, 0 }, g_strdup (_ ("Machine")),
       name != NULL ? g_strdup_printf ("%s · %s", name, summary) : g_strdup (summary))
      ->strong = true;
}

static void
add_part (GPtrArray *items, const LwJob *job, int i, LwUnit unit)
{
  const LwPart *part = &job->parts[i];
  g_autofree char *size = NULL;
  LwJobItem *item;

  if (part->mesh.mesh != NULL) {
    LwBox3 box = lw_mesh_get_facts (part->mesh.mesh)->box;

    size = lw_dup_size (lw_vec3_sub (box.high, box.low), unit);
  } else if (part->mesh.state == LW_MESH_LOADING) {
    size = g_strdup (_ ("reading …"));
  } else {
    size = g_strdup (_ ("file missing or not readable"));
  }
  if (part->mesh.state == LW_MESH_ALTERED) {
    g_autofree char *plain = g_steal_pointer (&size);

    size = g_strdup_printf (_ ("%s · file was changed"), plain);
  }
  item = add (items, (LwSubject){ LW_SUBJECT_PART, 0, i }, g_strdup (_ ("Part")),
              g_strdup_printf ("%s · %s", part->id, size));
  item->strong = true;
  if (part->mesh.state != LW_MESH_READY && part->mesh.state != LW_MESH_LOADING)
    item->mark = LW_VERDICT_NOT_CHECKED;
}

/* ------------------------------------------------------------------------------------------------
 * Set-up */

static char *
dup_rule (const LwAttitude *attitude)
{
  double degrees = lw_degrees (attitude->lean);
  bool whole = fabs (degrees - round (degrees)) < 0.05;
  g_autofree char *number = lw_format_fixed (degrees, whole ? 0 : 1, LW_ROUND_NEAREST);
  g_autofree char *lean = g_strconcat (number, "°", NULL);

  switch (attitude->rule) {
  case LW_RULE_NORMAL:
    return attitude->lean > 0 ? g_strdup_printf (_ ("normal, lean ≤ %s"), lean)
                              : g_strdup (_ ("normal"));
  case LW_RULE_FLANK:
    return attitude->lean > 0 ? g_strdup_printf (_ ("flank, lean ≤ %s"), lean)
                              : g_strdup (_ ("flank"));
  case LW_RULE_PROBE:
    return g_strdup (_ ("probe"));
  case LW_RULE_PROGRAM:
    return g_strdup (_ ("program"));
  case LW_RULE_ALONG:
  default:
    return g_strdup (_ ("along"));
  }
}

static void
add_operation (GPtrArray *items, LwView *view, const LwJob *job, int setup, int i)
{
  const LwOperation *operation = &job->setups[setup].operations[i];
  const LwTool *tool = &job->tools[operation->tool];
  const LwOperationVerdict *verdict = lw_view_get_verdict (view, setup, i);
  g_autofree char *rule = dup_rule (&operation->attitude);
  LwJobItem *item =
      add (items, (LwSubject){ LW_SUBJECT_OPERATION, setup, i }, g_strdup (operation->name),
           g_strdup_printf ("T%d %s · %s", tool->number, tool->name, rule));

  item->mark = verdict != NULL                                        ? (int)verdict->verdict
               : lw_checker_is_cancelled (lw_view_get_checker (view)) ? LW_VERDICT_NOT_CHECKED
                                                                      : LW_MARK_CHECKING;
}

static void
add_placed (GPtrArray *items, const LwJob *job, int setup, int i, LwUnit unit)
{
  const LwPlaced *placed = &job->setups[setup].placed[i];
  g_autofree char *x = lw_format_length_bare (placed->at.x, unit, LW_ROUND_NEAREST);
  g_autofree char *y = lw_format_length_bare (placed->at.y, unit, LW_ROUND_NEAREST);
  g_autofree char *z = lw_format_length (placed->at.z, unit, LW_ROUND_NEAREST);
  g_autofree char *yaw = lw_format_angle (placed->yaw, LW_ROUND_NEAREST);

  add (items, (LwSubject){ LW_SUBJECT_PLACED, setup, i }, g_strdup (placed->id),
       placed->yaw != 0 ? g_strdup_printf (_ ("at %s, %s, %s, yaw %s"), x, y, z, yaw)
                        : g_strdup_printf (_ ("at %s, %s, %s"), x, y, z));
}

static void
add_setup (GPtrArray *items, LwView *view, const LwJob *job, int i)
{
  const LwSetup *setup = &job->setups[i];
  LwUnit unit = lw_view_get_unit (view);

  add (items, (LwSubject){ LW_SUBJECT_SETUP, i, 0 },
       g_strdup_printf (_ ("Set-up %d · %s"), i + 1, setup->name),
       g_strdup_printf (_ ("table “%s”"), job->machine->tables[setup->table].name))
      ->strong = true;
  for (int k = 0; k < setup->n_placed; k++)
    add_placed (items, job, i, k, unit);
  for (int k = 0; k < setup->n_operations; k++)
    add_operation (items, view, job, i, k);
  add (items, (LwSubject){ LW_SUBJECT_FIXTURES, i, 0 }, g_strdup (_ ("Fixture")),
       setup->n_fixtures == 0
           ? g_strdup (_ ("none yet"))
           : g_strdup_printf (g_dngettext (NULL, "%d body", "%d bodies", (gulong)setup->n_fixtures),
                              setup->n_fixtures));
}

/* ------------------------------------------------------------------------------------------------
 */

static void
add_tool (GPtrArray *items, const LwJob *job, int i, LwUnit unit)
{
  const LwTool *tool = &job->tools[i];
  double length = lw_tool_get_length (tool);
  g_autofree char *text = isnan (length) ? g_strdup (_ ("no length"))
                                         : lw_format_length (length, unit, LW_ROUND_NEAREST);

  add (items, (LwSubject){ LW_SUBJECT_TOOL, 0, i }, g_strdup_printf ("T%d", tool->number),
       g_strdup_printf ("%s · %s", tool->name, text));
}

static void
add_reserves (GPtrArray *items, const LwJob *job, LwUnit unit)
{
  g_autofree char *travel = lw_format_length (job->reserves.travel, unit, LW_ROUND_NEAREST);
  g_autofree char *rotary = lw_format_angle (job->reserves.rotary, LW_ROUND_NEAREST);
  g_autofree char *gap = lw_format_length (job->reserves.gap, unit, LW_ROUND_NEAREST);

  add (items, (LwSubject){ LW_SUBJECT_JOB, 0, 0 }, g_strdup (_ ("Reserves")),
       g_strdup_printf (_ ("travel %s, turns %s, gap %s"), travel, rotary, gap))
      ->strong = true;
}

GPtrArray *
lw_job_words_list (LwView *view)
{
  GPtrArray *items = g_ptr_array_new_with_free_func (item_free);
  const LwJob *job = lw_document_get_job (lw_view_get_document (view));
  LwUnit unit = lw_view_get_unit (view);

  if (job == NULL)
    return items;
  add_machine (items, job);
  for (int i = 0; i < job->n_parts; i++)
    add_part (items, job, i, unit);
  for (int i = 0; i < job->n_setups; i++)
    add_setup (items, view, job, i);
  if (job->n_tools > 0)
    add (items, (LwSubject){ LW_SUBJECT_NONE, 0, 0 }, g_strdup (_ ("Tools")), NULL)->strong = true;
  for (int i = 0; i < job->n_tools; i++)
    add_tool (items, job, i, unit);
  add_reserves (items, job, unit);
  return items;
}
