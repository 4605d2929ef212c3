/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>

/* Results remembered by what went into them. Holds LW_MEMO_LIMIT of them at most; the one longest
 * not asked for goes first. Safe from any thread. */
typedef struct _LwMemo LwMemo;

#define LW_MEMO_LIMIT 256

/* ref gives a reference of its own to whoever asks, unref gives it back: a result may be dropped
 * here while another thread still reads it. ref is called inside a lock: it only counts. */
LwMemo *lw_memo_new (gpointer (*ref) (gpointer result), void (*unref) (gpointer result));
void lw_memo_free (LwMemo *memo);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LwMemo, lw_memo_free)

/* One key of several identities (texts, NULL allowed), SHA-256 as 64 digits. Where one text ends
 * and the next begins is part of it. */
void lw_memo_key (const char *const *identities, int n, char key[65]);

/* A reference to the result under key, or NULL. */
gpointer lw_memo_lookup (LwMemo *memo, const char *key);
/* Remembers a reference of its own, in an earlier one's place. */
void lw_memo_remember (LwMemo *memo, const char *key, gpointer result);
int lw_memo_get_count (LwMemo *memo);
