/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/text.h"

/* A length or plain number as an entry shows it: all the digits that it has. New string. */
char *lw_number_for_entry (double value, bool is_length, LwUnit unit);
/* What was typed, as the file has it (mm). A unit of length may stand behind it and then counts
 * ("12 in"). False with the reason. */
bool lw_number_from_entry (const char *text, bool is_length, LwUnit unit, double *value,
                           GError **error);
