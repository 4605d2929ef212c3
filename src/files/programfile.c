/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/programfile.h"

#include <glib/gi18n.h>

#include "base/sha256.h"
#include "files/cldata.h"
#include "files/filebytes.h"

/* Bytes of a program: ten million lines. */
#define MOST_BYTES ((gsize)1 << 29)

static LwProgram *
parse (const LwFileBytes *file, const char *name, double unit_mm, GError **error)
{
  if (file->size > MOST_BYTES) {
    g_set_error (error, LW_ERROR, LW_ERROR_DATA, _ ("%s: longer than 512 MB; expected a tool path"),
                 name);
    return NULL;
  }
  if (!lw_cldata_is_likely (file->bytes, file->size)) {
    g_set_error (error, LW_ERROR, LW_ERROR_DATA,
                 _ ("%s: expected CL data in the words of ISO 4343 (PARTNO, UNITS, GOTO …)"), name);
    return NULL;
  }
  return lw_cldata_parse (name, file->bytes, file->size, unit_mm, error);
}

LwProgram *
lw_program_load (const char *path, double unit_mm, char sha256[65], GError **error)
{
  g_autofree char *name = g_filename_display_name (path);
  LwFileBytes file;
  LwProgram *program;

  if (!lw_file_bytes_read (&file, path, error))
    return NULL;
  lw_sha256 (file.bytes, file.size, sha256);
  program = parse (&file, name, unit_mm, error);
  lw_file_bytes_clear (&file);
  return program;
}

bool
lw_program_is_likely (const char *path, bool *likely, GError **error)
{
  LwFileBytes file;

  if (!lw_file_bytes_read (&file, path, error))
    return false;
  *likely = lw_cldata_is_likely (file.bytes, file.size);
  lw_file_bytes_clear (&file);
  return true;
}
