/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "draw/patch.h"

/* What is drawn of meshes, kept by mesh, turn and view: a part that is only moved keeps its lines.
 * All paths are relative to the part's `at`, mm, and simplified to 0.2 px at the scale asked for.
 * Borrowed until the next call. Main thread only. */
typedef struct _LwOutlines LwOutlines;

typedef struct {
  LwPath face;    /* closed: what the part covers, by the nonzero rule */
  LwPath visible; /* visible edges */
  LwPath hidden;  /* edges behind others */
} LwOutline;

LwOutlines *lw_outlines_new (void);
void lw_outlines_free (LwOutlines *outlines);

const LwOutline *lw_outlines_get (LwOutlines *outlines, LwMesh *mesh, LwMat3 turn, LwSeen seen,
                                  double scale);

/* The cut at right angles to Y, y mm from the part's `at`. Closed where the mesh is. */
const LwPath *lw_outlines_get_section (LwOutlines *outlines, LwMesh *mesh, LwMat3 turn, double y,
                                       double scale);

/* The triangles of a verdict with a slack below `below` (0: beyond a limit). The verdict is kept
 * alive as long as its patch. */
const LwPatch *lw_outlines_get_patch (LwOutlines *outlines, LwOperationVerdict *verdict,
                                      LwMesh *mesh, LwMat3 turn, LwSeen seen, double below,
                                      double scale);
