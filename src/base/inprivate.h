/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/in.h"

/* Between in.c (places and errors) and inread.c (values). */

/* The member, borrowed, or NULL; from now on key is a known one. NULL after an error. */
JsonNode *lw_in_ask (LwIn *in, const char *key);

/* Steps into an object that stands at path (taken). */
void lw_in_push (LwIn *in, JsonNode *node, char *path);

/* Records "path: must be EXPECTED, is FOUND", unless there is an error already; found NULL is
 * "is missing". */
void lw_in_fail_expected (LwIn *in, const char *path, const char *expected, JsonNode *found);
