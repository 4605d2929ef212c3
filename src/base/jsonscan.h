/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/error.h"

/* Whether the bytes are strict JSON: RFC 8259 in UTF-8 without a byte order mark, no key twice in
 * an object and none empty, no zero character in a string, integers within 64 bits, other numbers
 * within the range of a double, at most LW_JSON_DEPTH levels. Else LW_ERROR_DATA; the message
 * begins with "name:line:column: ", both from 1, columns in characters. */
bool lw_json_scan (const char *name, const char *text, gsize length, GError **error);
