/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/file.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

bool
lw_file_load (const char *path, char **bytes, gsize *size, GError **error)
{
  g_autoptr (GError) cause = NULL;

  if (g_file_get_contents (path, bytes, size, &cause))
    return true;
  g_set_error_literal (error, LW_ERROR, LW_ERROR_MISSING, cause->message); /* names the file */
  return false;
}

static bool
fail (const char *path, const char *what, int code, GError **error)
{
  g_autofree char *name = g_filename_display_name (path);

  g_set_error (error, LW_ERROR, LW_ERROR_WRITE, "%s: %s: %s", name, what, g_strerror (code));
  return false;
}

static bool
write_all (int fd, const char *bytes, gsize size)
{
  while (size > 0) {
    gssize written = write (fd, bytes, size);
    if (written < 0 && errno != EINTR)
      return false;
    if (written > 0) {
      bytes += written;
      size -= (gsize)written;
    }
  }
  return true;
}

/* Fills, syncs and closes the temporary file; errno tells of a failure. */
static bool
fill (int fd, const struct stat *old, const char *bytes, gsize size)
{
  bool well = (old == NULL || fchmod (fd, old->st_mode & 07777) == 0) && write_all (fd, bytes, size)
              && fsync (fd) == 0;
  int code = errno;

  if (close (fd) != 0 && well)
    return false;
  errno = code;
  return well;
}

/* Whether what stands at path may be replaced; *found tells whether anything does. */
static bool
may_replace (const char *path, struct stat *old, bool *found, GError **error)
{
  *found = stat (path, old) == 0;
  if (!*found)
    return errno == ENOENT || fail (path, _ ("can't be written"), errno, error);
  if (S_ISDIR (old->st_mode))
    return fail (path, _ ("can't be written"), EISDIR, error);
  if (!S_ISREG (old->st_mode))
    return fail (path, _ ("is not an ordinary file"), EINVAL, error);
  if (access (path, W_OK) != 0)
    return fail (path, _ ("can't be written"), errno, error);
  return true;
}

/* A file system that can't sync folders (EINVAL) has nothing to lose there. */
static bool
sync_folder (int folder)
{
  return fsync (folder) == 0 || errno == EINVAL || errno == ENOTSUP;
}

static bool
replace (const char *path, const struct stat *old, int folder, const char *bytes, gsize size,
         GError **error)
{
  g_autofree char *beside = g_strconcat (path, ".XXXXXX", NULL);
  int fd = g_mkstemp_full (beside, O_RDWR | O_CLOEXEC, 0666);

  if (fd < 0)
    return fail (path, _ ("can't be written"), errno, error);
  if (!fill (fd, old, bytes, size) || g_rename (beside, path) != 0) {
    int code = errno;
    g_unlink (beside);
    return fail (path, _ ("can't be written"), code, error);
  }
  if (!sync_folder (folder))
    return fail (path, _ ("is written, but a power cut may lose it"), errno, error);
  return true;
}

bool
lw_file_save (const char *path, const char *bytes, gsize size, GError **error)
{
  struct stat old;
  bool found;

  if (!may_replace (path, &old, &found, error))
    return false;

  /* realpath() allocates with malloc, GLib frees with free */
  g_autofree char *resolved = found ? realpath (path, NULL) : NULL;
  const char *target = resolved != NULL ? resolved : path;
  g_autofree char *folder_name = g_path_get_dirname (target);
  int folder = open (folder_name, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (folder < 0)
    return fail (path, _ ("its folder can't be opened"), errno, error);

  bool well = replace (target, found ? &old : NULL, folder, bytes, size, error);

  close (folder);
  return well;
}
