/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/shortcuts.h"

#include <glib/gi18n.h>

typedef struct {
  const char *action; /* NULL begins a group of the list; "" is not bound here, only listed */
  const char *title;
  const char *keys; /* accelerators, apart by blanks */
} Key;

static const Key table[] = {
  { NULL, N_ ("Job"), NULL },
  { "win.new", N_ ("New job"), "<Control>n" },
  { "win.open", N_ ("Open"), "<Control>o" },
  { "win.save", N_ ("Save"), "<Control>s" },
  { "win.save-as", N_ ("Save as"), "<Control><Shift>s" },
  { "win.close", N_ ("Close window"), "<Control>w" },
  { "app.quit", N_ ("Quit"), "<Control>q" },
  { NULL, N_ ("Editing"), NULL },
  { "win.undo", N_ ("Undo"), "<Control>z" },
  { "win.redo", N_ ("Redo"), "<Control><Shift>z <Control>y" },
  { "win.edit", N_ ("Edit what is chosen in the job list"), "<Control>e F2" },
  { "win.verdicts", N_ ("Back to the verdicts"), "<Control>Return" },
  { "win.add-operation", N_ ("Add operation"), "<Control><Shift>o" },
  { "win.add-tool", N_ ("Add tool"), "<Control><Shift>t" },
  { "", N_ ("Step a number, by ten with Shift"), "Up Down" },
  { NULL, N_ ("View"), NULL },
  { "win.next-operation", N_ ("Next operation"), "<Alt>Down" },
  { "win.previous-operation", N_ ("Previous operation"), "<Alt>Up" },
  { "win.unit", N_ ("Millimeters or inches"), "<Control>u" },
  { "win.fit", N_ ("Show everything"), "<Control>0" },
  { "win.zoom-in", N_ ("Zoom in"), "<Control>plus <Control>equal <Control>KP_Add" },
  { "win.zoom-out", N_ ("Zoom out"), "<Control>minus <Control>KP_Subtract" },
  { "app.text-larger", N_ ("Larger text"), "<Control><Alt>plus <Control><Alt>equal" },
  { "app.text-smaller", N_ ("Smaller text"), "<Control><Alt>minus" },
  { "win.shortcuts", N_ ("Keyboard shortcuts"), "<Control>question F1" },
};

void
lw_shortcuts_bind (GtkApplication *application)
{
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    g_auto (GStrv) keys = NULL;

    if (table[i].action == NULL || *table[i].action == '\0')
      continue;
    keys = g_strsplit (table[i].keys, " ", -1);
    gtk_application_set_accels_for_action (application, table[i].action, (const char *const *)keys);
  }
}

/* The list, as a description for GtkBuilder: its classes take children in no other way in GTK 4.8.
 */
static char *
describe (void)
{
  GString *ui = g_string_new ("<interface><object class='GtkShortcutsWindow' id='window'>"
                              "<property name='modal'>1</property><child>"
                              "<object class='GtkShortcutsSection'>"
                              "<property name='section-name'>all</property>"
                              "<property name='max-height'>14</property>");
  bool in_group = false;

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    g_autofree char *title = g_markup_escape_text (_ (table[i].title), -1);
    g_autofree char *keys = table[i].keys != NULL ? g_markup_escape_text (table[i].keys, -1) : NULL;

    if (table[i].action == NULL) {
      g_string_append (ui, in_group ? "</object></child>" : "");
      g_string_append_printf (ui,
                              "<child><object class='GtkShortcutsGroup'>"
                              "<property name='title'>%s</property>",
                              title);
      in_group = true;
    } else {
      g_string_append_printf (ui,
                              "<child><object class='GtkShortcutsShortcut'>"
                              "<property name='title'>%s</property>"
                              "<property name='accelerator'>%s</property></object></child>",
                              title, keys);
    }
  }
  g_string_append (ui, "</object></child></object></child></object></interface>");
  return g_string_free (ui, FALSE);
}

void
lw_shortcuts_show (GtkWindow *parent)
{
  g_autofree char *ui = describe ();
  g_autoptr (GtkBuilder) builder = gtk_builder_new_from_string (ui, -1);
  GtkWindow *window = GTK_WINDOW (gtk_builder_get_object (builder, "window"));

  gtk_window_set_transient_for (window, parent);
  gtk_window_present (window);
}
