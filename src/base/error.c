/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/error.h"

G_DEFINE_QUARK (lw - error - quark, lw_error)
