/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/text.h"

/* What a person set for all windows, in $XDG_CONFIG_HOME/leeway/settings.ini. A file that can't be
 * read gives the defaults; what can't be written is lost with the program. */

typedef enum {
  LW_APPEARANCE_LIGHT,
  LW_APPEARANCE_DARK,
  LW_APPEARANCE_CONTRAST,
  LW_APPEARANCE_CONTRAST_DARK,
  LW_N_APPEARANCES,
} LwAppearance;

LwUnit lw_preferences_get_unit (void);
void lw_preferences_set_unit (LwUnit unit);

LwAppearance lw_preferences_get_appearance (void);
void lw_preferences_set_appearance (LwAppearance appearance);
/* "light", "dark", "contrast", "contrast-dark"; LIGHT for any other word. */
const char *lw_appearance_get_word (LwAppearance appearance);
LwAppearance lw_appearance_from_word (const char *word);

/* Percent of the system's text size: 80 … 200 in steps of LW_TEXT_STEP. */
#define LW_TEXT_STEP 10
int lw_preferences_get_text_size (void);
void lw_preferences_set_text_size (int percent);
