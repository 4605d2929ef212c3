/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/subject.h"

#include <glib/gi18n.h>

bool
lw_subject_equal (LwSubject a, LwSubject b)
{
  return a.kind == b.kind && a.setup == b.setup && a.index == b.index;
}

/* How many of its kind there are; −1 where there is just one. */
static int
count (LwSubject subject, const LwJob *job)
{
  const LwSetup *setup = subject.setup < job->n_setups ? &job->setups[subject.setup] : NULL;

  switch (subject.kind) {
  case LW_SUBJECT_TABLE:
    return job->machine->n_tables;
  case LW_SUBJECT_BODY:
    return job->machine->n_bodies;
  case LW_SUBJECT_PART:
    return job->n_parts;
  case LW_SUBJECT_TOOL:
    return job->n_tools;
  case LW_SUBJECT_PLACED:
    return setup != NULL ? setup->n_placed : 0;
  case LW_SUBJECT_FIXTURE:
    return setup != NULL ? setup->n_fixtures : 0;
  case LW_SUBJECT_OPERATION:
    return setup != NULL ? setup->n_operations : 0;
  case LW_SUBJECT_SETUP:
  case LW_SUBJECT_FIXTURES:
    return setup != NULL ? -1 : 0;
  default:
    return -1;
  }
}

bool
lw_subject_exists (LwSubject subject, const LwJob *job)
{
  int n;

  if (job == NULL || subject.kind == LW_SUBJECT_NONE)
    return false;
  n = count (subject, job);
  return n < 0 || (subject.index >= 0 && subject.index < n);
}

char *
lw_subject_dup_path (LwSubject subject)
{
  switch (subject.kind) {
  case LW_SUBJECT_MACHINE:
  case LW_SUBJECT_AXES:
  case LW_SUBJECT_EQUIPMENT:
    return g_strdup ("machine");
  case LW_SUBJECT_TABLE:
    return g_strdup_printf ("machine.tables[%d]", subject.index);
  case LW_SUBJECT_BODY:
    return g_strdup_printf ("machine.bodies[%d]", subject.index);
  case LW_SUBJECT_PART:
    return g_strdup_printf ("parts[%d]", subject.index);
  case LW_SUBJECT_SETUP:
  case LW_SUBJECT_FIXTURES:
    return g_strdup_printf ("setups[%d]", subject.setup);
  case LW_SUBJECT_PLACED:
    return g_strdup_printf ("setups[%d].placed[%d]", subject.setup, subject.index);
  case LW_SUBJECT_FIXTURE:
    return g_strdup_printf ("setups[%d].fixture[%d]", subject.setup, subject.index);
  case LW_SUBJECT_OPERATION:
    return g_strdup_printf ("setups[%d].operations[%d]", subject.setup, subject.index);
  case LW_SUBJECT_TOOL:
    return g_strdup_printf ("tools[%d]", subject.index);
  case LW_SUBJECT_JOB:
  case LW_SUBJECT_NONE:
  default:
    return g_strdup ("");
  }
}

char *
lw_subject_dup_title (LwSubject subject, const LwJob *job)
{
  const LwSetup *setup = job->setups + subject.setup; /* looked at for what is in a set-up only */

  g_return_val_if_fail (lw_subject_exists (subject, job), g_strdup (""));
  switch (subject.kind) {
  case LW_SUBJECT_MACHINE:
    return g_strdup (job->machine->name != NULL ? job->machine->name : _ ("Machine"));
  case LW_SUBJECT_AXES:
    return g_strdup (_ ("Axes"));
  case LW_SUBJECT_EQUIPMENT:
    return g_strdup (_ ("Spindle, magazine, zones"));
  case LW_SUBJECT_TABLE:
    return g_strdup_printf (_ ("Table “%s”"), job->machine->tables[subject.index].name);
  case LW_SUBJECT_BODY:
    return g_strdup (job->machine->bodies[subject.index].name);
  case LW_SUBJECT_PART:
    return g_strdup_printf (_ ("Part “%s”"), job->parts[subject.index].id);
  case LW_SUBJECT_SETUP:
    return g_strdup (setup->name);
  case LW_SUBJECT_PLACED:
    return g_strdup_printf (_ ("Place of “%s”"), setup->placed[subject.index].id);
  case LW_SUBJECT_FIXTURES:
    return g_strdup_printf (_ ("Fixture of “%s”"), setup->name);
  case LW_SUBJECT_FIXTURE:
    return g_strdup (setup->fixtures[subject.index].name);
  case LW_SUBJECT_OPERATION:
    return g_strdup (setup->operations[subject.index].name);
  case LW_SUBJECT_TOOL:
    return g_strdup_printf ("T%d · %s", job->tools[subject.index].number,
                            job->tools[subject.index].name);
  case LW_SUBJECT_JOB:
    return g_strdup (_ ("Title and reserves"));
  case LW_SUBJECT_NONE:
  default:
    return g_strdup ("");
  }
}
