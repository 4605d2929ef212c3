/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "desktop/form.h"

/* Private to the editor: the tables of fields of each subject, one function a kind. */

/* What a place picked on the part is wanted for. */
typedef enum {
  LW_PICK_PATCH,  /* the surface around it becomes the region */
  LW_PICK_FACING, /* its normal becomes the region's direction */
  LW_PICK_POINT,  /* a point of the region more */
} LwPickPurpose;

void lw_edit_job_build (LwForm *form, const LwJob *job, LwSubject subject);
void lw_edit_machine_build (LwForm *form, const LwJob *job, LwSubject subject);
void lw_edit_axes_build (LwForm *form, const LwJob *job, LwSubject subject);
void lw_edit_equipment_build (LwForm *form, const LwJob *job, LwSubject subject);
void lw_edit_table_build (LwForm *form, const LwJob *job, LwSubject subject);
void lw_edit_body_build (LwForm *form, const LwJob *job, LwSubject subject);
void lw_edit_part_build (LwForm *form, const LwJob *job, LwSubject subject);
void lw_edit_setup_build (LwForm *form, const LwJob *job, LwSubject subject);
void lw_edit_placed_build (LwForm *form, const LwJob *job, LwSubject subject);
void lw_edit_fixtures_build (LwForm *form, const LwJob *job, LwSubject subject);
void lw_edit_fixture_build (LwForm *form, const LwJob *job, LwSubject subject);
void lw_edit_operation_build (LwForm *form, const LwJob *job, LwSubject subject);
void lw_edit_tool_build (LwForm *form, const LwJob *job, LwSubject subject);

/* Parts of the above. */
void lw_edit_region_build (LwForm *form, const LwJob *job, LwSubject subject);
void lw_edit_attitude_build (LwForm *form, const LwJob *job, LwSubject subject);
/* The fields of the solid at path (relative to the subject). */
void lw_edit_solid_build (LwForm *form, const LwSolid *solid, const char *path);
/* "box 100 × 100 × 120 mm" in the form's unit. New string. */
char *lw_edit_dup_solid_summary (LwForm *form, const LwSolid *solid);
/* A length in the form's unit: "2600.0 mm". New string. */
char *lw_edit_dup_length (LwForm *form, double mm);
/* Sizes "2600.0 × 1100.0 × 460.0 mm". New string. */
char *lw_dup_size (LwVec3 size, LwUnit unit);

/* Duplicate, remove and the like at the foot of an editor. */
/* Asks when something would go along (dependents, taken, may be NULL), then calls remove. */
void lw_edit_ask_remove (LwForm *form, char *dependents, void (*remove) (LwForm *form));

/* Takes a place picked on a part: part frame, mm, with the facet's outward normal. */
bool lw_edit_take_pick (LwForm *form, LwPickPurpose purpose, LwVec3 at, LwVec3 normal);
