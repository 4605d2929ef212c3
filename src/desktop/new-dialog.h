/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "desktop/window.h"

/* Asks for a machine, a part's file and the units of its numbers, which are never guessed: the size
 * that comes of each is shown before. */

/* A new job; mesh_path may be NULL. */
void lw_new_dialog_show (LwWindow *window, const char *mesh_path);
/* Another part for the present job, or another file for a part of it (index, −1: another part). */
void lw_new_dialog_show_part (LwWindow *window, int part);
/* Another machine for the present job. */
void lw_new_dialog_show_machine (LwWindow *window);
