/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/program.h"

LwProgram *
lw_program_ref (LwProgram *program)
{
  g_atomic_int_inc (&program->ref_count);
  return program;
}

void
lw_program_unref (LwProgram *program)
{
  if (!g_atomic_int_dec_and_test (&program->ref_count))
    return;
  g_free (program->title);
  g_free (program->records);
  g_free (program->tools);
  g_strfreev (program->warnings);
  g_free (program->lost);
  g_free (program->open);
  g_free (program);
}
