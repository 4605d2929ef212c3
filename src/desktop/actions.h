/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "desktop/window.h"

/* All that can be done in a window: installed here, enabled here, and bound to keys by one table.
 */
void lw_actions_install (LwWindow *window);
/* Enables what makes sense now. */
void lw_actions_update (LwWindow *window);

/* For the application: its own actions, and the keys of all. */
void lw_actions_install_for_application (GtkApplication *application);
