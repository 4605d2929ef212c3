/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

#include "desktop/job-words.h"

#define LW_TYPE_JOB_ROW (lw_job_row_get_type ())
G_DECLARE_FINAL_TYPE (LwJobRow, lw_job_row, LW, JOB_ROW, GtkListBoxRow)

/* A row of the job list. Signal "edit" (): its pencil was pressed. */
GtkWidget *lw_job_row_new (const LwJobItem *item);
void lw_job_row_update (LwJobRow *row, const LwJobItem *item);
LwSubject lw_job_row_get_subject (LwJobRow *row);
