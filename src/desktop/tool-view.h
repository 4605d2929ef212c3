/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "desktop/form.h"

/* The picture of the tool of the form's subject (field->index), following the job. */
GtkWidget *lw_tool_view_make (LwForm *form, const LwField *field);
