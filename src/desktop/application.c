/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/application.h"

#include "desktop/actions.h"
#include "desktop/appearance.h"
#include "desktop/files.h"
#include "desktop/window.h"

#define APPLICATION_ID "org.leeway_planner.Leeway"

struct _LwApplication {
  GtkApplication parent_instance;
  bool looked_for_leftovers;
};

G_DEFINE_FINAL_TYPE (LwApplication, lw_application, GTK_TYPE_APPLICATION)

static void
lw_application_startup (GApplication *application)
{
  G_APPLICATION_CLASS (lw_application_parent_class)->startup (application);
  lw_appearance_apply ();
  lw_actions_install_for_application (GTK_APPLICATION (application));
}

/* A window that nobody has used yet, or a new one. */
static LwWindow *
get_free_window (LwApplication *self)
{
  for (GList *w = gtk_application_get_windows (GTK_APPLICATION (self)); w != NULL; w = w->next)
    if (LW_IS_WINDOW (w->data)
        && lw_document_get_job (lw_window_get_document (LW_WINDOW (w->data))) == NULL)
      return LW_WINDOW (w->data);
  return LW_WINDOW (lw_window_new (GTK_APPLICATION (self)));
}

static void
present (LwApplication *self, LwWindow *window)
{
  gtk_window_present (GTK_WINDOW (window));
  if (self->looked_for_leftovers)
    return;
  self->looked_for_leftovers = true;
  lw_files_offer_leftovers (window);
}

static void
lw_application_activate (GApplication *application)
{
  LwApplication *self = LW_APPLICATION (application);
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (self));

  present (self,
           window != NULL && LW_IS_WINDOW (window) ? LW_WINDOW (window) : get_free_window (self));
}

static void
lw_application_open (GApplication *application, GFile **files, int n_files, const char *hint)
{
  LwApplication *self = LW_APPLICATION (application);

  for (int i = 0; i < n_files; i++) {
    LwWindow *window = get_free_window (self);
    g_autofree char *path = g_file_get_path (files[i]);

    present (self, window);
    if (path != NULL)
      lw_window_open (window, path);
  }
}

static void
lw_application_class_init (LwApplicationClass *class)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (class);

  application_class->startup = lw_application_startup;
  application_class->activate = lw_application_activate;
  application_class->open = lw_application_open;
}

static void
lw_application_init (LwApplication *self)
{
}

LwApplication *
lw_application_new (void)
{
  return LW_APPLICATION (g_object_new (LW_TYPE_APPLICATION, "application-id", APPLICATION_ID,
                                       "flags", G_APPLICATION_HANDLES_OPEN, NULL));
}
