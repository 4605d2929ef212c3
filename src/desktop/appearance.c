/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/appearance.h"

#include <gtk/gtk.h>

#include "desktop/preferences.h"
#include "draw/style.h"

static const LwTheme themes[LW_N_APPEARANCES] = {
  [LW_APPEARANCE_LIGHT] = LW_THEME_LIGHT,
  [LW_APPEARANCE_DARK] = LW_THEME_DARK,
  [LW_APPEARANCE_CONTRAST] = LW_THEME_CONTRAST,
  [LW_APPEARANCE_CONTRAST_DARK] = LW_THEME_CONTRAST_DARK,
};

/* What stands around the drawing: window and side columns, cards, lines, the selected row. */
static const char *const surfaces[LW_N_THEMES] = {
  [LW_THEME_LIGHT] = "@define-color lw_window #f1f0ec; @define-color lw_card #ffffff;"
                     "@define-color lw_line #d9d8d2; @define-color lw_selected #dfe7ef;",
  [LW_THEME_DARK] = "@define-color lw_window #272c31; @define-color lw_card #31373d;"
                    "@define-color lw_line #444c54; @define-color lw_selected #3a4a5a;",
  [LW_THEME_CONTRAST] = "@define-color lw_window #ffffff; @define-color lw_card #ffffff;"
                        "@define-color lw_line #000000; @define-color lw_selected #cfe3f2;",
  [LW_THEME_CONTRAST_DARK] = "@define-color lw_window #000000; @define-color lw_card #000000;"
                             "@define-color lw_line #ffffff; @define-color lw_selected #12405e;",
};

static void
define_ink (GString *css, const LwStyle *style, const char *name, LwInk ink)
{
  LwColor c = style->inks[ink];

  g_string_append_printf (css, "@define-color lw_%s #%02x%02x%02x;\n", name, (int)(c.r * 255 + 0.5),
                          (int)(c.g * 255 + 0.5), (int)(c.b * 255 + 0.5));
}

static char *
make_colors (LwTheme theme)
{
  LwStyle style = lw_style_get (theme);
  GString *css = g_string_new (surfaces[theme]);

  define_ink (css, &style, "paper", LW_INK_PAPER);
  define_ink (css, &style, "text", LW_INK_TEXT);
  define_ink (css, &style, "faint", LW_INK_FAINT);
  define_ink (css, &style, "accent", LW_INK_REACH);
  define_ink (css, &style, "fits", LW_INK_FITS);
  define_ink (css, &style, "tight", LW_INK_TIGHT_TEXT);
  define_ink (css, &style, "does_not_fit", LW_INK_DOES_NOT_FIT_TEXT);
  define_ink (css, &style, "not_checked", LW_INK_NOT_CHECKED);
  return g_string_free (css, FALSE);
}

static void
load (GtkCssProvider **provider, const char *css)
{
  if (*provider == NULL) {
    *provider = gtk_css_provider_new ();
    gtk_style_context_add_provider_for_display (gdk_display_get_default (),
                                                GTK_STYLE_PROVIDER (*provider),
                                                GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  }
  gtk_css_provider_load_from_data (*provider, css, -1);
}

/* The size that the system wants, before ours is laid on it. */
static int
get_system_dpi (GtkSettings *settings)
{
  static int dpi = 0;

  if (dpi == 0)
    g_object_get (settings, "gtk-xft-dpi", &dpi, NULL);
  return dpi > 0 ? dpi : 96 * 1024;
}

/* GTK_THEME, where it is set, wins over settings: then only our colors follow it. */
static LwTheme
choose_theme (void)
{
  const char *forced = g_getenv ("GTK_THEME");

  if (forced != NULL && g_str_has_suffix (forced, ":dark"))
    return LW_THEME_DARK;
  return themes[lw_preferences_get_appearance ()];
}

void
lw_appearance_apply (void)
{
  static GtkCssProvider *colors = NULL, *rules = NULL;
  GtkSettings *settings = gtk_settings_get_default ();
  LwTheme theme = choose_theme ();
  bool dark = theme == LW_THEME_DARK || theme == LW_THEME_CONTRAST_DARK;
  bool contrast = theme == LW_THEME_CONTRAST || theme == LW_THEME_CONTRAST_DARK;
  g_autofree char *css = make_colors (theme);
  int dpi = get_system_dpi (settings);

  g_object_set (settings, "gtk-theme-name",
                !contrast ? "Default"
                : dark    ? "HighContrastInverse"
                          : "HighContrast",
                "gtk-application-prefer-dark-theme", (gboolean)dark, "gtk-xft-dpi",
                (int)((gint64)dpi * lw_preferences_get_text_size () / 100), NULL);
  load (&colors, css);
  if (rules == NULL) {
    rules = gtk_css_provider_new ();
    gtk_css_provider_load_from_resource (rules, "/org/leeway_planner/Leeway/ui/style.css");
    gtk_style_context_add_provider_for_display (gdk_display_get_default (),
                                                GTK_STYLE_PROVIDER (rules),
                                                GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  }
}
