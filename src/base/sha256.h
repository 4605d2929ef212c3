/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <stddef.h>

/* SHA-256 (FIPS 180-4) of size bytes as 64 lower-case hexadecimal digits and a zero byte. */
void lw_sha256 (const void *bytes, size_t size, char hex[65]);
