/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "jobs.h"

/* The job that tests and scenes of drawings are made with: a 3600 × 1800 table with a hole grid
 * under a B head, one part "p" from part.stl in the folder, one block "b" with bolts, one tool. */
static const char pictures_job[] =
    "{`format`:`leeway-job`,`version`:1,`title`:`pictures`,`machine`:"
    "{`format`:`leeway-machine`,`version`:1,`name`:`Test`,`id`:`test`,`revision`:1,"
    "`structure`:`w b X Y Z C B t`,`axes`:{`X`:{`low_mm`:0,`high_mm`:3600},"
    "`Y`:{`low_mm`:0,`high_mm`:2200},`Z`:{`low_mm`:0,`high_mm`:1000},"
    "`C`:{`low_deg`:-220,`high_deg`:220},`B`:{`low_deg`:-110,`high_deg`:110}},"
    "`head`:{`tilt_axis`:[0,1,0],`pivot_length_mm`:250},"
    "`tables`:[{`name`:`main`,`origin_machine_mm`:[0,200,-180],`size_mm`:[3600,1800],"
    "`thickness_mm`:40,`holes`:{`thread`:`M12`,`first_mm`:[50,50],`pitch_mm`:[50,50],"
    "`count`:[71,35],`depth_mm`:30},`locating`:[{`name`:`L1`,`at_mm`:[100,100],`diameter_mm`:12}]}]"
    ","
    "`bodies`:[{`name`:`spindle`,`role`:`head`,`carried_by`:`B`,`solid`:{`kind`:`cylinder`,"
    "`from_mm`:[0,0,80],`to_mm`:[0,0,-250],`radius_mm`:95}},"
    "{`name`:`yoke`,`role`:`head`,`carried_by`:`C`,`solid`:{`kind`:`cylinder`,"
    "`from_mm`:[0,0,190],`to_mm`:[0,0,230],`radius_mm`:170}},"
    "{`name`:`ram`,`role`:`head`,`carried_by`:`Z`,`solid`:{`kind`:`box`,"
    "`min_mm`:[-150,-150,230],`max_mm`:[150,150,900]}}]},"
    "`parts`:[{`id`:`p`,`mesh`:`part.stl`,`mesh_units`:`mm`},"
    "{`id`:`b`,`block_mm`:[400,300,200],`bolts`:[{`at_mm`:[30,20,0],`thread`:`M12`},"
    "{`at_mm`:[370,20,0],`thread`:`M16`}]}],"
    "`tools`:[{`number`:7,`name`:`Router 10`,`tip_length_mm`:214,`stick_out_mm`:108,`tip`:`flat`,"
    "`segments`:[{`is`:`holder`,`from_mm`:0,`to_mm`:42,`d_from_mm`:63,`d_to_mm`:63},"
    "{`is`:`holder`,`from_mm`:42,`to_mm`:106,`d_from_mm`:40,`d_to_mm`:32},"
    "{`is`:`shank`,`from_mm`:106,`to_mm`:174,`d_from_mm`:10,`d_to_mm`:10},"
    "{`is`:`cutting`,`from_mm`:174,`to_mm`:214,`d_from_mm`:10,`d_to_mm`:10}]}],"
    "`reserves`:{`travel_mm`:10,`rotary_deg`:3,`gap_mm`:10},"
    "`setups`:[{`name`:`s`,`table`:`main`,`riser_heights_mm`:[60,120],"
    "`placed`:[{`id`:`p-1`,`part`:`p`,`at_mm`:[1800,900,320]},"
    "{`id`:`b-1`,`part`:`b`,`yaw_deg`:90,`at_mm`:[3300,100,60]}],"
    "`operations`:[{`name`:`o`,`on`:`p-1`,`tool`:7,`region`:{`all`:true},"
    "`attitude`:{`rule`:`normal`,`lean_deg`:20},"
    "`stroke`:{`approach_mm`:10,`retreat_mm`:50}}]}]}";
