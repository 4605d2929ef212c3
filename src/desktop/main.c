/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>
#include <locale.h>

#include "config.h"
#include "desktop/application.h"

int
main (int argc, char **argv)
{
  g_autoptr (LwApplication) application = NULL;
  const char *folder =
      g_file_test (LW_LOCALE_DIR, G_FILE_TEST_IS_DIR) ? LW_LOCALE_DIR : LW_BUILD_LOCALE_DIR;

  setlocale (LC_ALL, "");
  bindtextdomain ("leeway", folder);
  bind_textdomain_codeset ("leeway", "UTF-8");
  textdomain ("leeway");
  g_set_application_name ("Leeway");
  application = lw_application_new ();
  return g_application_run (G_APPLICATION (application), argc, argv);
}
