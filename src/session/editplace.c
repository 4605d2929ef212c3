/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/text.h"
#include "session/edit.h"

#define PLACE_DECIMALS 6 /* of mm */

/* A quarter turn about a coordinate axis: (x, y, z) → next axis takes the one after it. */
static LwMat3
get_quarter (int axis)
{
  switch (axis) {
  case 0:
    return (LwMat3){ { 1, 0, 0 }, { 0, 0, 1 }, { 0, -1, 0 } };
  case 1:
    return (LwMat3){ { 0, 0, -1 }, { 0, 1, 0 }, { 1, 0, 0 } };
  default:
    return (LwMat3){ { 0, 1, 0 }, { -1, 0, 0 }, { 0, 0, 1 } };
  }
}

/* Rows of a rotation, as the file has it. */
static JsonNode *
new_rotation (LwMat3 m)
{
  JsonArray *rows = json_array_new ();
  JsonNode *node = json_node_init_array (json_node_alloc (), rows);

  for (int i = 0; i < 3; i++)
    json_array_add_element (rows,
                            lw_json_new_vec3 (lw_vec3 (lw_vec3_get (m.c0, i), lw_vec3_get (m.c1, i),
                                                       lw_vec3_get (m.c2, i))));
  json_array_unref (rows);
  return node;
}

void
lw_edit_turn_placed (LwEdit *edit, int setup, int placed, int axis)
{
  const LwJob *job = lw_document_get_job (edit->document);
  const LwPlaced *old = &job->setups[setup].placed[placed];
  LwPlaced turned = *old;
  LwBox3 before = lw_placed_get_box (job, old), after;
  LwMat3 yaw = lw_mat3_multiply (old->turn, lw_mat3_transpose (old->rotation));

  turned.rotation = lw_mat3_multiply (get_quarter (axis), old->rotation);
  turned.turn = lw_mat3_multiply (yaw, turned.rotation);
  lw_edit_set (edit, new_rotation (turned.rotation), "setups[%d].placed[%d].rotation", setup,
               placed);
  after = lw_placed_get_box (job, &turned);
  if (!(before.low.x <= before.high.x) || !(after.low.x <= after.high.x))
    return; /* its mesh is not there */
  for (int i = 0; i < 3; i++) {
    double at = lw_vec3_get (old->at, i) + lw_vec3_get (before.low, i) - lw_vec3_get (after.low, i);

    lw_edit_set (edit, lw_json_new_number (lw_round (at, PLACE_DECIMALS, LW_ROUND_NEAREST)),
                 "setups[%d].placed[%d].at_mm[%d]", setup, placed, i);
  }
}
