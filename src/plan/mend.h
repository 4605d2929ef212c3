/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "plan/verdict.h"

void lw_mend_clear (LwMend *mend);
