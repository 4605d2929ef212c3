/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/preferences.h"

#define GROUP    "window"
#define SMALLEST 80
#define LARGEST  200
#define USUAL    100

static GKeyFile *settings; /* main thread; read once */

static char *
dup_path (void)
{
  return g_build_filename (g_get_user_config_dir (), "leeway", "settings.ini", NULL);
}

static GKeyFile *
get_settings (void)
{
  if (settings == NULL) {
    g_autofree char *path = dup_path ();

    settings = g_key_file_new ();
    g_key_file_load_from_file (settings, path, G_KEY_FILE_KEEP_COMMENTS, NULL);
  }
  return settings;
}

static void
save (void)
{
  g_autofree char *path = dup_path ();
  g_autofree char *folder = g_path_get_dirname (path);
  g_autoptr (GError) error = NULL;

  g_mkdir_with_parents (folder, 0700);
  if (!g_key_file_save_to_file (get_settings (), path, &error))
    g_message ("settings not kept: %s", error->message);
}

LwUnit
lw_preferences_get_unit (void)
{
  g_autofree char *word = g_key_file_get_string (get_settings (), GROUP, "unit", NULL);

  return g_strcmp0 (word, "in") == 0 ? LW_UNIT_INCH : LW_UNIT_MM;
}

void
lw_preferences_set_unit (LwUnit unit)
{
  g_key_file_set_string (get_settings (), GROUP, "unit", unit == LW_UNIT_INCH ? "in" : "mm");
  save ();
}

static const char *const appearance_words[] = { "light", "dark", "contrast", "contrast-dark" };

const char *
lw_appearance_get_word (LwAppearance appearance)
{
  return appearance_words[appearance];
}

LwAppearance
lw_appearance_from_word (const char *word)
{
  for (int i = 0; i < LW_N_APPEARANCES; i++)
    if (g_strcmp0 (word, appearance_words[i]) == 0)
      return (LwAppearance)i;
  return LW_APPEARANCE_LIGHT;
}

LwAppearance
lw_preferences_get_appearance (void)
{
  g_autofree char *word = g_key_file_get_string (get_settings (), GROUP, "appearance", NULL);

  return lw_appearance_from_word (word);
}

void
lw_preferences_set_appearance (LwAppearance appearance)
{
  g_key_file_set_string (get_settings (), GROUP, "appearance", appearance_words[appearance]);
  save ();
}

int
lw_preferences_get_text_size (void)
{
  int percent = g_key_file_get_integer (get_settings (), GROUP, "text_percent", NULL);

  return percent == 0 ? USUAL : CLAMP (percent, SMALLEST, LARGEST);
}

void
lw_preferences_set_text_size (int percent)
{
  g_key_file_set_integer (get_settings (), GROUP, "text_percent",
                          CLAMP (percent, SMALLEST, LARGEST));
  save ();
}
