/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "files/meshfile.h"
#include "files/programstore.h"

/* Meshes by path and unit, each read once and shared; read again when the file's size or time of
 * change differs. Safe from any thread. */
typedef struct _LwMeshStore LwMeshStore;

typedef enum {
  LW_MESH_READY,
  LW_MESH_LOADING,    /* not read yet */
  LW_MESH_MISSING,    /* no such file */
  LW_MESH_UNREADABLE, /* there, but not a mesh we can read */
  LW_MESH_ALTERED,    /* its SHA-256 is not the one the job was made with; mesh is set */
  LW_MESH_NO_UNITS,   /* nobody said what its numbers are: not read */
} LwMeshState;

typedef struct {
  LwMesh *mesh; /* a reference, or NULL */
  LwMeshState state;
  char *message; /* what is wrong, a sentence; NULL when ready */
  char sha256[65];
  char **warnings; /* NULL-terminated; never NULL */
} LwMeshEntry;

LwMeshStore *lw_mesh_store_new (void);
LwMeshStore *lw_mesh_store_ref (LwMeshStore *store);
void lw_mesh_store_unref (LwMeshStore *store);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LwMeshStore, lw_mesh_store_unref)

/* Fills entry. wait: reads the file now if need be (progress may be NULL); else a mesh not read yet
 * is LW_MESH_LOADING. sha256 (may be NULL) is what the job expects. */
void lw_mesh_store_get (LwMeshStore *store, const char *path, double unit_mm, const char *sha256,
                        bool wait, LwProgress *progress, LwMeshEntry *entry);
void lw_mesh_entry_clear (LwMeshEntry *entry);
void lw_mesh_entry_copy (LwMeshEntry *entry, const LwMeshEntry *from);

/* The tool paths of the same jobs; lives as long as the store. */
LwProgramStore *lw_mesh_store_get_programs (LwMeshStore *store);

/* Lets go of meshes and programs that nobody has asked for since the last call (after another job
 * was opened: twice, with the new job's asked for in between). */
void lw_mesh_store_trim (LwMeshStore *store);
