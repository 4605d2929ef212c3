/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <stddef.h>

/* Zeroed memory for big tables, on huge pages where the system has them (random access into some
 * 100 MB is bound by the TLB otherwise), and given back to the system at once when freed. Small
 * sizes come from the heap. Aligned to 64 bytes. Never NULL: running out of memory aborts as
 * g_malloc does. */
void *lw_pages_new (size_t bytes);
/* bytes as asked for. NULL is allowed. */
void lw_pages_free (void *pages, size_t bytes);
