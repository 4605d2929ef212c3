/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/programstore.h"

#include <glib/gi18n.h>
#include <string.h>

#include "files/filestore.h"

typedef struct {
  LwProgram *program;
  char sha256[65];
} ProgramFile;

struct _LwProgramStore {
  LwFileStore *files;
};

static gpointer
load (const char *path, double unit_mm, LwProgress *progress, GError **error)
{
  ProgramFile *file = g_new0 (ProgramFile, 1);

  file->program = lw_program_load (path, unit_mm, file->sha256, error);
  if (file->program == NULL)
    g_clear_pointer (&file, g_free);
  return file;
}

static void
free_file (gpointer value)
{
  ProgramFile *file = (ProgramFile *)value;

  lw_program_unref (file->program);
  g_free (file);
}

LwProgramStore *
lw_program_store_new (void)
{
  static const LwStoredKind programs = { load, free_file };
  LwProgramStore *store = g_new0 (LwProgramStore, 1);

  store->files = lw_file_store_new (&programs);
  return store;
}

void
lw_program_store_free (LwProgramStore *store)
{
  lw_file_store_free (store->files);
  g_free (store);
}

typedef struct {
  const char *path, *sha256;
  LwProgramEntry *entry;
} Asked;

static void
take_program (const Asked *asked, const ProgramFile *file)
{
  LwProgramEntry *entry = asked->entry;

  entry->program = lw_program_ref (file->program);
  memcpy (entry->sha256, file->sha256, sizeof entry->sha256);
  if (asked->sha256 == NULL || g_ascii_strcasecmp (asked->sha256, file->sha256) == 0)
    return;
  entry->state = LW_PROGRAM_ALTERED;
  entry->message = g_strdup_printf (
      _ ("%s is not the file this job was made with: its SHA-256 differs."), asked->path);
}

static void
fill_entry (LwStoredState state, gconstpointer value, const char *message, gpointer data)
{
  const Asked *asked = (const Asked *)data;
  LwProgramEntry *entry = asked->entry;

  switch (state) {
  case LW_STORED_READY:
    entry->state = LW_PROGRAM_READY;
    take_program (asked, (const ProgramFile *)value);
    break;
  case LW_STORED_LOADING:
    entry->state = LW_PROGRAM_LOADING;
    entry->message = g_strdup (_ ("The program is not read yet."));
    break;
  case LW_STORED_MISSING:
    entry->state = LW_PROGRAM_MISSING;
    entry->message = g_strdup_printf (_ ("There is no file %s."), asked->path);
    break;
  case LW_STORED_UNREADABLE:
    entry->state = LW_PROGRAM_UNREADABLE;
    entry->message = g_strdup (message);
    break;
  }
}

void
lw_program_store_get (LwProgramStore *store, const char *path, double unit_mm, const char *sha256,
                      bool wait, LwProgress *progress, LwProgramEntry *entry)
{
  Asked asked = { path, sha256, entry };

  *entry = (LwProgramEntry){ 0 };
  lw_file_store_get (store->files, path, unit_mm, wait, progress, fill_entry, &asked);
}

void
lw_program_entry_clear (LwProgramEntry *entry)
{
  g_clear_pointer (&entry->program, lw_program_unref);
  g_clear_pointer (&entry->message, g_free);
}

void
lw_program_entry_copy (LwProgramEntry *entry, const LwProgramEntry *from)
{
  *entry = *from;
  if (from->program != NULL)
    entry->program = lw_program_ref (from->program);
  entry->message = g_strdup (from->message);
}

void
lw_program_store_trim (LwProgramStore *store)
{
  lw_file_store_trim (store->files);
}
