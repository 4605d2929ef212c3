/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "plan/contact.h"

LwCutter
lw_cutter_of_tool (const LwTool *tool)
{
  LwCutter cutter = { lw_tool_get_cutter_radius (tool), 0 };

  if (tool->tip == LW_TIP_BALL)
    cutter.corner = cutter.radius;
  else if (tool->tip == LW_TIP_CORNER)
    cutter.corner = tool->corner_radius;
  return cutter;
}

LwVec3
lw_flank_to_tip (LwCutter cutter, LwVec3 normal, LwVec3 axis, double below)
{
  LwVec3 side = lw_vec3_unit (lw_vec3_add_scaled (normal, axis, -lw_vec3_dot (normal, axis)));

  return lw_vec3_add_scaled (lw_vec3_scale (side, cutter.radius), axis, -below);
}
