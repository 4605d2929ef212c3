/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "session/document.h"

/* A document on the demo job, its mesh read. */
static inline LwDocument *
demo_open (void)
{
  g_autoptr (LwMeshStore) store = lw_mesh_store_new ();
  LwDocument *document = lw_document_new (store);
  g_autofree char *path =
      g_build_filename (g_getenv ("LEEWAY_DATA_DIR"), "demo", "trough-mold.leeway", NULL);
  g_autoptr (GError) error = NULL;

  g_assert_true (lw_document_open (document, path, &error));
  g_assert_no_error (error);
  lw_document_load_meshes_async (document);
  while (lw_document_is_loading (document))
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpint (lw_document_get_job (document)->parts[0].mesh.state, ==, LW_MESH_READY);
  return document;
}
