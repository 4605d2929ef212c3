/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

#include "desktop/subject.h"
#include "desktop/view.h"

#define LW_TYPE_JOB_LIST (lw_job_list_get_type ())
G_DECLARE_FINAL_TYPE (LwJobList, lw_job_list, LW, JOB_LIST, GtkWidget)

/* The job in words, one row a thing. Choosing a row selects it in the view; signals "chosen"
 * (LwSubject *) then, and "edit" (LwSubject *) for a double click, Return or the row's pencil. */
GtkWidget *lw_job_list_new (LwView *view);
/* Selects the subject's row without a signal. */
void lw_job_list_select (LwJobList *list, LwSubject subject);
LwSubject lw_job_list_get_selected (LwJobList *list);
