/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

/* Every tolerance of the engine, with its unit and its reason. */

/* A rotation in a file: largest error of an entry of RᵀR − 1 (no unit). Six typed decimals pass. */
#define LW_ROTATION_TOL 1e-5

/* A direction in a file must be this long at least before it is made a unit vector (no unit). */
#define LW_DIRECTION_MIN 1e-9

/* sin of the inclination below which an attitude counts as straight down (no unit): at 1 m from the
 * pivot the tip is within 1e-6 mm. There the heading is free. */
#define LW_STRAIGHT_DOWN 1e-9

/* cos t may leave [−1, 1] by this much through rounding and is brought back (no unit). */
#define LW_COSINE_SLACK 1e-12

/* A pose is inside a limit when its leeway is not below this (mm or rad): rounding of additions on
 * coordinates of some metres, far under any machine's resolution. */
#define LW_INSIDE_TOL 1e-9

/* sin 1°: a facet's normal nearer to Z than this takes azimuth 0 from X (DESIGN: candidates). */
#define LW_NEAR_Z 0.01745240643728351

/* A flank's direction has to stand off the surface's normal by this much (sine, no unit): nearer,
 * its projection into the surface is noise. */
#define LW_FLANK_MIN 1e-6

/* cos of the angle between tool axis and outward normal may be this far below 0 before the surface
 * counts as facing away (no unit): rounding of float32 facets. */
#define LW_FACING_SLACK 1e-6

/* A triangle belongs to a box region when it reaches this deep into it (share of the mesh's largest
 * side): touching from outside is not inside. */
#define LW_BOX_TOUCH 1e-6
/* An offset of a head below this (mm) counts as the form e·n = e.z = s.z = 0 already: rounding of
 * the projections on offsets of some hundred mm. */
#define LW_FORM_TOL 1e-9

/* Slack is ranked in steps of this (reserves), so that two ways that differ by rounding alone are
 * a tie. */
#define LW_SLACK_STEP 1e-9

/* sin of the least angle between tilt axis and Z (no unit; 1°): closer, the head can't be told from
 * one that turns about Z twice. */
#define LW_TILT_AXIS_MIN 0.0174524064372835

/* How far a B (A) axis as measured may point off ±Y (±X) in a file (no unit, sin of 0.5°):
 * squareness of real heads is far below, an axis that was meant to be inclined far above. */
#define LW_TILT_LETTER_TOL 0.00872653549837393

/* Nothing in a file may lie further out than this (mm; 1 km): a slipped unit, and doubles keep
 * 1e-9 mm up to here. */
#define LW_FAR_MM 1e6

/* Points closer than this (mm) are one place in a description typed by people. */
#define LW_POINT_TOL 1e-6

/* A rotary axis' end may lie this far out at most (degrees; five turns): cables of a head wind up
 * less, and the turns of one attitude stay countable. */
#define LW_FAR_DEG 1800

/* Lengths of one tool that a file gives twice may differ by this (mm): two typed decimals, half a
 * unit each. */
#define LW_TOOL_LENGTH_TOL 0.011

/* Slacks nearer to each other than this (no unit) are a tie, which goes to the earlier candidate:
 * what differs by rounding only must not choose the attitude. */
#define LW_TIE 1e-9

/* A triangle has no area when the sine between two of its edges is not above this (no unit):
 * rounding of the cross product in double; float coordinates that are not truly collinear give at
 * least some 1e-7 of their size over their length. */
#define LW_NO_AREA_SINE 1e-15

/* A tool axis in a program is made a unit vector without a word when its length is this near to 1
 * (no unit): three decimals of direction cosines. */
#define LW_AXIS_OFF_UNIT 0.01

/* Between this and its reciprocal (no unit) the length of a tool axis is odd, but still a
 * direction: read, and said. Beyond, the numbers are taken for something else (angles, a point): an
 * error. */
#define LW_AXIS_ODD 0.5

/* Where a program's arc begins and ends may lie off its circle by this (mm): coordinates of three
 * decimals, in inches, times the three numbers that make a circle. */
#define LW_ARC_OFF 0.05

/* How far the chords that stand for a program's arc may lie inside it (mm). */
#define LW_ARC_CHORD 0.01

/* An arc that ends this near to where it begins (mm) is a full circle. */
#define LW_ARC_CLOSED 1e-3

/* How far a head's offsets may bring the pivot (mm) between two places at which a turning move is
 * judged: what is missed in between stays below a hundredth of any sensible travel reserve. */
#define LW_TRACK_STRAY 0.2

/* Two tool axes nearer than this (rad) are the same: a pivot 10 m away moves by 1e-5 mm. */
#define LW_AXIS_SAME 1e-9

/* Between axes nearer to opposite than this (rad) there is no one shortest way. */
#define LW_AXIS_OPPOSITE 1e-6

/* Largest side of a part (mm) below or above which its unit is doubted: a part in meters read as
 * millimeters, or the other way round, falls outside on any machine of this kind. */
#define LW_PART_SMALL_MM 1.0
#define LW_PART_LARGE_MM 30000.0

/* cos of the turn between two facets may be this far below that of a crease's limit (no unit):
 * normals of coplanar facets differ by rounding of their float32 points. */
#define LW_CREASE_SLACK 1e-12

/* What people read: a value this near to a rounding step (share of the last digit's unit) is that
 * step, so that rounding of sums does not show as a whole digit. */
#define LW_ROUND_STEP 0.01

/* A value on the unsafe side of 0 by more than this (in the unit shown) never reads as 0. */
#define LW_ROUND_ZERO 1e-7

/* z of the unit normal up to which a facet counts as seen edge-on and not as facing (no unit):
 * walls parallel to the view stay so after a typed rotation of six decimals. */
#define LW_EDGE_ON 1e-6

/* An edge is hidden by what lies nearer by more than this (pixels of the outline's raster): the
 * slope of a surface within the pixel of an edge that it bounds, up to 60°. */
#define LW_HIDDEN_PIXELS 2.0

/* The quick arc cosine behind the bounds of a verdict is this near at least (rad): five times its
 * published error, so that a bound stays a bound. */
#define LW_ARC_ERROR 1e-7
