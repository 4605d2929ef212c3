/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/theme.h"

#include <string.h>

static bool
is_high_contrast (GtkWidget *widget)
{
  g_autofree char *name = NULL, *lower = NULL;

  g_object_get (gtk_widget_get_settings (widget), "gtk-theme-name", &name, NULL);
  lower = name != NULL ? g_ascii_strdown (name, -1) : NULL;
  return lower != NULL
         && (strstr (lower, "highcontrast") != NULL || g_str_has_prefix (lower, "hc")
             || g_str_has_suffix (lower, "-hc"));
}

/* gtk-xft-dpi counts in 1024ths; 96 is the size that texts are made for. */
static double
get_text_scale (GtkWidget *widget)
{
  int dpi = 0;

  g_object_get (gtk_widget_get_settings (widget), "gtk-xft-dpi", &dpi, NULL);
  return dpi > 0 ? dpi / (96.0 * 1024) : 1;
}

LwStyle
lw_theme_get_style (GtkWidget *widget)
{
  LwStyle style;
  GdkRGBA letters;
  bool dark, contrast = is_high_contrast (widget);

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &letters);
  dark = 0.2126 * letters.red + 0.7152 * letters.green + 0.0722 * letters.blue > 0.5;
  if (contrast)
    style = lw_style_get (dark ? LW_THEME_CONTRAST_DARK : LW_THEME_CONTRAST);
  else
    style = lw_style_get (dark ? LW_THEME_DARK : LW_THEME_LIGHT);
  style.sharpness = gtk_widget_get_scale_factor (widget);
  style.text *= get_text_scale (widget);
  return style;
}
