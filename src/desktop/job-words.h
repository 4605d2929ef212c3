/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "desktop/subject.h"
#include "desktop/view.h"

/* One row of the job list. */
typedef struct {
  LwSubject subject;
  char *title;
  char *summary; /* may be NULL */
  int mark;      /* as lw_mark_set() */
  bool strong;   /* a title that begins a group */
} LwJobItem;

/* The rows of the job, in their order: an array of LwJobItem that owns them. */
GPtrArray *lw_job_words_list (LwView *view);
