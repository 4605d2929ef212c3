/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "job/job.h"

/* A slow verdict on a surface operation, written from the formulas of DESIGN §3 and nothing else of
 * the engine's planning: every triangle, three corners, both ends of the stroke, every axis, both
 * branches, every turn of C, with plain trigonometry. */
typedef struct {
  double share;  /* by area */
  double travel; /* mm, least over the triangles at their best candidate */
  double rotary; /* rad */
  int n;         /* triangles in the region */
  int n_without; /* triangles with no attitude */
} Reference;

Reference reference_judge (const LwJob *job, int setup, int operation);
