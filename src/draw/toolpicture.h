/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "draw/painter.h"

/* A tool to scale, hanging from its gauge line, with tip length, stick-out and cutter diameter. */
void lw_tool_picture_draw (cairo_t *cr, LwPainter *painter, const LwTool *tool, LwUnit unit,
                           double width, double height);
