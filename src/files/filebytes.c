/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/filebytes.h"

#include <errno.h>
#include <fcntl.h>
#include <gio/gio.h>
#include <glib/gi18n.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/pages.h"
#include "base/parallel.h"

#define PART ((size_t)4 << 20) /* bytes read at a time */

/* STL text shrinks to a twentieth, a regular one to a fiftieth. */
#define MOST_GROWTH 250

void
lw_file_bytes_clear (LwFileBytes *file)
{
  lw_pages_free (file->bytes, file->size);
  *file = (LwFileBytes){ 0 };
}

/* ------------------------------------------------------------------------------------------------
 * Reading. */

typedef struct {
  int fd;
  LwFileBytes *file;
  atomic_int error; /* errno of a part; -1 when the file became shorter */
} Reading;

static void
read_part (size_t chunk, size_t begin, size_t end, void *data)
{
  Reading *work = data;
  size_t at = begin;

  while (at < end) {
    ssize_t n = pread (work->fd, work->file->bytes + at, end - at, (off_t)at);

    if (n > 0)
      at += (size_t)n;
    else if (n == 0 || errno != EINTR) {
      work->error = n == 0 ? -1 : errno;
      return;
    }
  }
}

static bool
set_read_error (GError **error, const char *path, int number)
{
  g_autofree char *name = g_filename_display_name (path);

  if (number < 0)
    g_set_error (error, LW_ERROR, LW_ERROR_DATA,
                 _ ("%s: the file became shorter while it was read"), name);
  else
    g_set_error (error, LW_ERROR, LW_ERROR_MISSING, _ ("%s: cannot be read: %s"), name,
                 g_strerror (number));
  return false;
}

static bool
read_open_file (LwFileBytes *file, int fd, const char *path, GError **error)
{
  Reading work = { .fd = fd, .file = file };
  struct stat about;

  if (fstat (fd, &about) != 0)
    return set_read_error (error, path, errno);
  if (!S_ISREG (about.st_mode)) {
    g_autofree char *name = g_filename_display_name (path);

    g_set_error (error, LW_ERROR, LW_ERROR_MISSING,
                 S_ISDIR (about.st_mode) ? _ ("%s: a folder, expected a file")
                                         : _ ("%s: not a regular file"),
                 name);
    return false;
  }
  file->size = (gsize)about.st_size;
  file->bytes = lw_pages_new (file->size);
  lw_parallel_for (file->size, PART, read_part, &work, NULL);
  if (work.error == 0)
    return true;
  lw_file_bytes_clear (file);
  return set_read_error (error, path, work.error);
}

bool
lw_file_bytes_read (LwFileBytes *file, const char *path, GError **error)
{
  /* Without O_NONBLOCK opening a pipe would wait for a writer. */
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  bool done;

  *file = (LwFileBytes){ 0 };
  if (fd < 0)
    return set_read_error (error, path, errno);
  done = read_open_file (file, fd, path, error);
  close (fd);
  return done;
}

/* ------------------------------------------------------------------------------------------------
 * Unpacking. */

bool
lw_file_bytes_are_gzip (const LwFileBytes *file)
{
  return file->size >= 3 && memcmp (file->bytes, "\x1f\x8b\x08", 3) == 0;
}

static bool
grow (LwFileBytes *file, gsize used, gsize most)
{
  LwFileBytes bigger = { .size = MIN (MAX (2 * file->size, 1 << 16), most) };

  if (used == most)
    return false;
  bigger.bytes = lw_pages_new (bigger.size);
  if (used > 0)
    memcpy (bigger.bytes, file->bytes, used);
  lw_file_bytes_clear (file);
  *file = bigger;
  return true;
}

/* All members of a gzip file; used counts the bytes that came out. */
static bool
unpack_all (const LwFileBytes *packed, LwFileBytes *out, gsize *used, LwProgress *progress,
            GError **error)
{
  g_autoptr (GZlibDecompressor) gzip = g_zlib_decompressor_new (G_ZLIB_COMPRESSOR_FORMAT_GZIP);
  gsize at = 0, most = packed->size * MOST_GROWTH;

  for (;;) {
    gsize took, gave;
    GConverterResult result;

    if (*used == out->size && !grow (out, *used, most)) {
      g_set_error (error, LW_ERROR, LW_ERROR_DATA, _ ("unpacks to more than %d times its size"),
                   MOST_GROWTH);
      return false;
    }
    result = g_converter_convert (G_CONVERTER (gzip), packed->bytes + at, packed->size - at,
                                  out->bytes + *used, MIN (out->size - *used, PART),
                                  G_CONVERTER_INPUT_AT_END, &took, &gave, error);
    if (result == G_CONVERTER_ERROR)
      return false;
    at += took;
    *used += gave;
    if (lw_progress_is_cancelled (progress))
      return !lw_progress_set_error_if_cancelled (progress, error);
    if (result != G_CONVERTER_FINISHED)
      continue;
    if (at == packed->size)
      return true;
    g_converter_reset (G_CONVERTER (gzip)); /* members may follow one another */
  }
}

bool
lw_file_bytes_unpack (const LwFileBytes *packed, LwFileBytes *unpacked, const char *name,
                      LwProgress *progress, GError **error)
{
  g_autoptr (GError) cause = NULL;
  LwFileBytes out = { 0 };
  gsize used = 0;

  *unpacked = (LwFileBytes){ 0 };
  if (!unpack_all (packed, &out, &used, progress, &cause)) {
    lw_file_bytes_clear (&out);
    if (cause->domain == LW_ERROR && cause->code == LW_ERROR_CANCELLED)
      g_propagate_error (error, g_steal_pointer (&cause));
    else
      g_set_error (error, LW_ERROR, LW_ERROR_DATA, _ ("%s: cannot be unpacked as gzip: %s"), name,
                   cause->message);
    return false;
  }
  unpacked->bytes = lw_pages_new (used);
  unpacked->size = used;
  memcpy (unpacked->bytes, out.bytes, used);
  lw_file_bytes_clear (&out);
  return true;
}
