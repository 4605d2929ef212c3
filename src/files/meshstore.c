/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/meshstore.h"

#include <glib/gi18n.h>
#include <string.h>

#include "files/filestore.h"

struct _LwMeshStore {
  int ref_count;
  LwFileStore *files;
  LwProgramStore *programs;
};

static gpointer
load (const char *path, double unit_mm, LwProgress *progress, GError **error)
{
  LwMeshFile *file = g_new0 (LwMeshFile, 1);

  if (!lw_mesh_file_load (file, path, unit_mm, progress, error))
    g_clear_pointer (&file, g_free);
  return file;
}

static void
free_file (gpointer value)
{
  LwMeshFile *file = (LwMeshFile *)value;

  lw_mesh_file_clear (file);
  g_free (file);
}

LwMeshStore *
lw_mesh_store_new (void)
{
  static const LwStoredKind meshes = { load, free_file };
  LwMeshStore *store = g_new0 (LwMeshStore, 1);

  store->ref_count = 1;
  store->files = lw_file_store_new (&meshes);
  store->programs = lw_program_store_new ();
  return store;
}

LwMeshStore *
lw_mesh_store_ref (LwMeshStore *store)
{
  g_atomic_int_inc (&store->ref_count);
  return store;
}

void
lw_mesh_store_unref (LwMeshStore *store)
{
  if (!g_atomic_int_dec_and_test (&store->ref_count))
    return;
  lw_file_store_free (store->files);
  lw_program_store_free (store->programs);
  g_free (store);
}

LwProgramStore *
lw_mesh_store_get_programs (LwMeshStore *store)
{
  return store->programs;
}

typedef struct {
  const char *path, *sha256;
  LwMeshEntry *entry;
} Asked;

static void
take_mesh (const Asked *asked, const LwMeshFile *file)
{
  LwMeshEntry *entry = asked->entry;

  entry->mesh = lw_mesh_ref (file->mesh);
  memcpy (entry->sha256, file->sha256, sizeof entry->sha256);
  entry->warnings = g_strdupv (file->warnings);
  if (asked->sha256 == NULL || g_ascii_strcasecmp (asked->sha256, file->sha256) == 0)
    return;
  entry->state = LW_MESH_ALTERED;
  entry->message = g_strdup_printf (
      _ ("%s is not the file this job was made with: its SHA-256 differs."), asked->path);
}

static void
fill_entry (LwStoredState state, gconstpointer value, const char *message, gpointer data)
{
  const Asked *asked = (const Asked *)data;
  LwMeshEntry *entry = asked->entry;

  switch (state) {
  case LW_STORED_READY:
    entry->state = LW_MESH_READY;
    take_mesh (asked, (const LwMeshFile *)value);
    break;
  case LW_STORED_LOADING:
    entry->state = LW_MESH_LOADING;
    entry->message = g_strdup (_ ("The mesh is not read yet."));
    break;
  case LW_STORED_MISSING:
    entry->state = LW_MESH_MISSING;
    entry->message = g_strdup_printf (_ ("There is no file %s."), asked->path);
    break;
  case LW_STORED_UNREADABLE:
    entry->state = LW_MESH_UNREADABLE;
    entry->message = g_strdup (message);
    break;
  }
}

void
lw_mesh_store_get (LwMeshStore *store, const char *path, double unit_mm, const char *sha256,
                   bool wait, LwProgress *progress, LwMeshEntry *entry)
{
  Asked asked = { path, sha256, entry };

  *entry = (LwMeshEntry){ 0 };
  lw_file_store_get (store->files, path, unit_mm, wait, progress, fill_entry, &asked);
  if (entry->warnings == NULL)
    entry->warnings = g_new0 (char *, 1);
}

void
lw_mesh_entry_clear (LwMeshEntry *entry)
{
  g_clear_pointer (&entry->mesh, lw_mesh_unref);
  g_clear_pointer (&entry->message, g_free);
  g_clear_pointer (&entry->warnings, g_strfreev);
}

void
lw_mesh_entry_copy (LwMeshEntry *entry, const LwMeshEntry *from)
{
  *entry = *from;
  if (from->mesh != NULL)
    entry->mesh = lw_mesh_ref (from->mesh);
  entry->message = g_strdup (from->message);
  entry->warnings = from->warnings != NULL ? g_strdupv (from->warnings) : g_new0 (char *, 1);
}

void
lw_mesh_store_trim (LwMeshStore *store)
{
  lw_file_store_trim (store->files);
  lw_program_store_trim (store->programs);
}
