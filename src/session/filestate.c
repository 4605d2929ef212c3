/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "session/filestate.h"

#include <glib/gi18n.h>
#include <string.h>
#include <sys/stat.h>

#include "base/sha256.h"

static bool
look (LwFileState *state, const char *path)
{
  struct stat info;

  if (stat (path, &info) != 0)
    return false;
  state->size = info.st_size;
  state->inode = info.st_ino;
  state->changed_ns = info.st_mtim.tv_sec * G_GINT64_CONSTANT (1000000000) + info.st_mtim.tv_nsec;
  return true;
}

bool
lw_file_state_read (LwFileState *state, const char *path, char **text, gsize *length,
                    GError **error)
{
  g_autoptr (GError) reason = NULL;

  *state = (LwFileState){ 0 };
  /* the look comes first: a change between the two is noticed later */
  look (state, path);
  if (!g_file_get_contents (path, text, length, &reason)) {
    g_set_error (error, LW_ERROR, LW_ERROR_MISSING, _ ("%s: can't be read: %s"), path,
                 reason->message);
    return false;
  }
  lw_sha256 (*text, *length, state->sha256);
  return true;
}

void
lw_file_state_of_saved (LwFileState *state, const char *path, const char *text, gsize length)
{
  *state = (LwFileState){ 0 };
  lw_sha256 (text, length, state->sha256);
  /* someone may have been quicker */
  if (!look (state, path) || state->size != (gint64)length)
    state->changed_ns = 0;
}

LwFileChange
lw_file_state_compare (LwFileState *state, const char *path)
{
  LwFileState now = { 0 };
  g_autofree char *text = NULL;
  gsize length;

  if (!look (&now, path))
    return LW_FILE_GONE;
  if (state->changed_ns != 0 && now.size == state->size && now.inode == state->inode
      && now.changed_ns == state->changed_ns)
    return LW_FILE_SAME;
  if (!lw_file_state_read (&now, path, &text, &length, NULL)
      || !g_str_equal (now.sha256, state->sha256))
    return LW_FILE_CHANGED;
  *state = now;
  return LW_FILE_SAME;
}

static char *
dup_own_path (const char *base, const char *name)
{
  char *path = g_build_filename (base, "leeway", name, NULL);
  g_autofree char *folder = g_path_get_dirname (path);

  g_mkdir_with_parents (folder, 0700);
  return path;
}

char *
lw_dup_state_path (const char *name)
{
  return dup_own_path (g_get_user_state_dir (), name);
}

char *
lw_dup_data_path (const char *name)
{
  return dup_own_path (g_get_user_data_dir (), name);
}
