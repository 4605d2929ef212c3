/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/stl.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "files/stltext.h"

#define HEAD   84 /* 80 bytes of anything and a 32-bit count */
#define RECORD 50 /* normal, three corners, attribute word: 12 floats and 2 bytes */
#define NORMAL 12 /* bytes of the normal, which we do not use: corners tell the same */

static size_t
promised_count (const char *bytes)
{
  uint32_t count;

  memcpy (&count, bytes + 80, sizeof count);
  return GUINT32_FROM_LE (count);
}

/* With a count that fits the size there is no doubt. Without, the first records must at least look
 * like coordinates of something that can be made. */
static bool
looks_like_records (const char *bytes, gsize size)
{
  gsize n = MIN ((size - HEAD) / RECORD, 64), good = 0;

  for (gsize i = 0; i < n; i++) {
    bool plausible = true;

    for (int j = 0; j < 9; j++) {
      float value;

      memcpy (&value, bytes + HEAD + i * RECORD + NORMAL + 4 * j, sizeof value);
      plausible = plausible && fabsf (value) < 1e9f;
    }
    good += plausible;
  }
  return n > 0 && 2 * good >= n;
}

/* How many records to read from a file whose count and size disagree, with what to say about it. */
static size_t
judge_count (size_t promised, gsize size, GPtrArray *warnings)
{
  size_t held = (size - HEAD) / RECORD, rest = (size - HEAD) % RECORD;
  char *said;

  if (rest == 0) {
    said = g_strdup_printf (_ ("The head promises %zu triangles, the file's size is that of %zu, "
                               "which were read: the count is wrong or the file is cut off."),
                            promised, held);
  } else if (promised > held || promised == 0) {
    said = g_strdup_printf (_ ("The file is cut off in the middle of a triangle: the head promises "
                               "%zu triangles, the %zu complete ones were read. Part of the shape "
                               "may be missing."),
                            promised, held);
  } else {
    said =
        g_strdup_printf (_ ("%zu bytes after the last of the %zu triangles that the head promises "
                            "were not read."),
                         size - HEAD - promised * RECORD, promised);
    held = promised;
  }
  g_ptr_array_add (warnings, said);
  return held;
}

static LwMesh *
parse_binary (const char *name, const char *bytes, gsize size, double unit_mm, GPtrArray *warnings,
              LwProgress *progress, GError **error)
{
  size_t count = promised_count (bytes);
  LwMesh *mesh;

  if (size != HEAD + count * RECORD)
    count = judge_count (count, size, warnings);
  if (count == 0) {
    g_set_error (error, LW_ERROR, LW_ERROR_DATA, _ ("%s: the STL file holds no triangle"), name);
    return NULL;
  }
  if (count > LW_MESH_MAX_TRIANGLES) {
    g_set_error (error, LW_ERROR, LW_ERROR_DATA,
                 _ ("%s: %zu triangles, more than the %d that can be held"), name, count,
                 LW_MESH_MAX_TRIANGLES);
    return NULL;
  }
  lw_progress_start (progress, 8 * (long long)count);
  mesh = lw_mesh_new_from_corners ((LwCorners){ bytes + HEAD + NORMAL, RECORD, (uint32_t)count },
                                   unit_mm, NULL, 0, progress);
  if (!mesh)
    lw_progress_set_error_if_cancelled (progress, error);
  return mesh;
}

LwMesh *
lw_stl_parse (const char *name, const char *bytes, gsize size, double unit_mm, GPtrArray *warnings,
              LwProgress *progress, GError **error)
{
  if (size == 0) {
    g_set_error (error, LW_ERROR, LW_ERROR_DATA, _ ("%s: the file is empty, expected STL"), name);
    return NULL;
  }
  if (size >= HEAD && size == HEAD + promised_count (bytes) * RECORD)
    return parse_binary (name, bytes, size, unit_mm, warnings, progress, error);
  if (lw_stl_is_text (bytes, size))
    return lw_stl_parse_text (name, bytes, size, unit_mm, warnings, progress, error);
  if (size >= 2 && (memcmp (bytes, "\xff\xfe", 2) == 0 || memcmp (bytes, "\xfe\xff", 2) == 0)) {
    g_set_error (error, LW_ERROR, LW_ERROR_DATA,
                 _ ("%s: text in UTF-16; expected STL, whose text has one byte a character"), name);
    return NULL;
  }
  if (lw_stl_has_text_only (bytes, size)) {
    g_set_error (error, LW_ERROR, LW_ERROR_DATA,
                 _ ("%s: a text that does not begin with \"solid\"; expected STL"), name);
    return NULL;
  }
  if (size < HEAD + RECORD || !looks_like_records (bytes, size)) {
    g_set_error (
        error, LW_ERROR, LW_ERROR_DATA,
        _ ("%s: neither STL text, which begins with \"solid\", nor binary STL, whose size is "
           "84 bytes and 50 more for each triangle"),
        name);
    return NULL;
  }
  return parse_binary (name, bytes, size, unit_mm, warnings, progress, error);
}
