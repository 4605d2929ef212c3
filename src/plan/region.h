/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "job/job.h"

/* A region resolved on its part's mesh. */
typedef struct {
  uint32_t *triangles; /* for surfaces: in the mesh's order; owned */
  uint32_t n_triangles;
  double total;       /* mm² of the triangles, count of points, mm of the loop */
  const char *reason; /* NULL, or why it can't be resolved (English; translate with _()) */
} LwRegionItems;

/* For regions of points and loops only `total` and `reason` are set. A region that is empty on its
 * mesh has a reason. */
LwRegionItems lw_region_resolve (const LwRegion *region, const LwPart *part);
void lw_region_items_clear (LwRegionItems *items);
