/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/text.h"
#include "tool/tool.h"

/* A tool's JSON object with another tip length (mm): the shank segment next to the holder is
 * stretched, what stands after it moves along, the stick-out follows, and a measured length is
 * taken out, since it was the old tool's. What the control has stored stays. NULL with
 * LW_ERROR_DATA when the tool can't be given that length. New node. */
JsonNode *lw_tool_stretch (const LwTool *tool, JsonNode *node, double tip_length, GError **error);
