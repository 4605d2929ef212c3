/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "job/job.h"

/* What of a job a row of the list stands for and an editor edits. */
typedef enum {
  LW_SUBJECT_NONE,
  LW_SUBJECT_JOB, /* title and reserves */
  LW_SUBJECT_MACHINE,
  LW_SUBJECT_AXES,      /* of the machine: travels and coupled limits */
  LW_SUBJECT_EQUIPMENT, /* of the machine: spindle, magazine, zones */
  LW_SUBJECT_TABLE,     /* index */
  LW_SUBJECT_BODY,      /* index */
  LW_SUBJECT_PART,      /* index */
  LW_SUBJECT_SETUP,     /* setup */
  LW_SUBJECT_PLACED,    /* setup, index */
  LW_SUBJECT_FIXTURES,  /* setup: the list */
  LW_SUBJECT_FIXTURE,   /* setup, index */
  LW_SUBJECT_OPERATION, /* setup, index */
  LW_SUBJECT_TOOL,      /* index */
} LwSubjectKind;

typedef struct {
  LwSubjectKind kind;
  int setup, index;
} LwSubject;

bool lw_subject_equal (LwSubject a, LwSubject b);
/* Whether the job (may be NULL) has it. */
bool lw_subject_exists (LwSubject subject, const LwJob *job);
/* Its path in the job's tree (base/json.h), and a heading for it ("T7 · Router 10"). New strings.
 */
char *lw_subject_dup_path (LwSubject subject);
char *lw_subject_dup_title (LwSubject subject, const LwJob *job);
