/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "session/library.h"

#include <glib/gi18n.h>

#include "config.h"
#include "session/filestate.h"

#define SUFFIX ".leeway-machine"

char *
lw_library_dup_data_path (const char *name)
{
  const char *folders[] = { g_getenv ("LEEWAY_DATA_DIR"), LW_SOURCE_DATA_DIR, LW_DATA_DIR };

  for (gsize i = 0; i < G_N_ELEMENTS (folders); i++)
    if (folders[i] != NULL && g_file_test (folders[i], G_FILE_TEST_IS_DIR))
      return g_build_filename (folders[i], name, NULL);
  return g_build_filename (LW_DATA_DIR, name, NULL);
}

static void
library_machine_free (gpointer data)
{
  LwLibraryMachine *item = (LwLibraryMachine *)data;

  g_clear_pointer (&item->machine, lw_machine_unref);
  g_free (item->path);
  g_free (item->problem);
  g_free (item);
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
  return g_strcmp0 (*(const char *const *)a, *(const char *const *)b);
}

static GPtrArray *
list_files (const char *folder)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, SUFFIX))
      g_ptr_array_add (names, g_build_filename (folder, name, NULL));
  g_ptr_array_sort (names, compare_names);
  return names;
}

static bool
has_id (GPtrArray *list, const char *id)
{
  for (guint i = 0; id != NULL && i < list->len; i++) {
    const LwLibraryMachine *item = (const LwLibraryMachine *)g_ptr_array_index (list, i);

    if (item->machine != NULL && g_strcmp0 (item->machine->id, id) == 0)
      return true;
  }
  return false;
}

static void
add_folder (GPtrArray *list, const char *folder, bool shipped)
{
  g_autoptr (GPtrArray) files = list_files (folder);

  for (guint i = 0; i < files->len; i++) {
    g_autoptr (GError) error = NULL;
    LwLibraryMachine *item = g_new0 (LwLibraryMachine, 1);

    item->path = g_strdup ((const char *)g_ptr_array_index (files, i));
    item->machine = lw_machine_load (item->path, &error);
    item->problem = error != NULL ? g_strdup (error->message) : NULL;
    item->shipped = shipped;
    if (shipped && item->machine != NULL && has_id (list, item->machine->id))
      library_machine_free (item);
    else
      g_ptr_array_add (list, item);
  }
}

GPtrArray *
lw_library_list_machines (void)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (library_machine_free);
  g_autofree char *own = lw_dup_data_path ("machines");
  g_autofree char *shipped = lw_library_dup_data_path ("machines");

  add_folder (list, own, false);
  add_folder (list, shipped, true);
  return list;
}

/* A file name of a machine's id: letters, digits, '-' and '_' stay, anything else becomes '-'. */
static char *
dup_file_name (const char *id)
{
  g_autofree char *safe = g_strdup (id);

  g_strcanon (safe, G_CSET_A_2_Z G_CSET_a_2_z G_CSET_DIGITS "-_", '-');
  return g_strconcat ("machines/", safe, SUFFIX, NULL);
}

bool
lw_library_save_machine (const LwMachine *machine, GError **error)
{
  const char *id = machine->id != NULL ? machine->id : machine->name;
  g_autofree char *name = id != NULL ? dup_file_name (id) : NULL;
  g_autofree char *path = name != NULL ? lw_dup_data_path (name) : NULL;

  if (path == NULL) {
    g_set_error (error, LW_ERROR, LW_ERROR_USAGE, _ ("the machine needs an id or a name first"));
    return false;
  }
  return lw_json_save (machine->node, path, error);
}
