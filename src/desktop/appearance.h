/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

/* Dresses every window of the program by the preferences: theme, text size, and our style sheet in
 * the inks of the drawing. Call again after a preference changed. */
void lw_appearance_apply (void);
