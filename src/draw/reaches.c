/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/reaches.h"

#include <glib/gi18n.h>

static const double fixed_tilts[] = { 30, 60, 90 };

static char *
say_height (const LwScene *scene, double tilt, const LwBox3 *box)
{
  g_autofree char *angle = lw_format_angle (tilt, LW_ROUND_NEAREST);
  bool low = scene->tip_height < box->low.z;
  g_autofree char *height = lw_format_length (low ? box->low.z : box->high.z, scene->unit,
                                              low ? LW_ROUND_UP : LW_ROUND_DOWN);

  return g_strdup_printf (low ? _ ("%s: for a tip from %s above the table on")
                              : _ ("%s: for a tip up to %s above the table"),
                          angle, height);
}

static void
fill (const LwScene *scene, double tilt, LwReachShown *shown)
{
  LwReach reach = lw_reach_every_heading (scene->job->machine, lw_scene_get_table (scene),
                                          lw_scene_get_tip_length (scene), tilt);

  shown->tilt = fabs (tilt);
  if (!reach.exists) {
    g_autofree char *angle = lw_format_angle (fabs (tilt), LW_ROUND_NEAREST);

    shown->note = g_strdup_printf ("%s: %s", angle, reach.reason != NULL ? reach.reason : "");
  } else if (scene->tip_height < reach.box.low.z || scene->tip_height > reach.box.high.z)
    shown->note = say_height (scene, fabs (tilt), &reach.box);
  else {
    shown->drawn = true;
    shown->box = reach.box;
  }
  lw_reach_clear (&reach);
}

LwReaches
lw_reaches_get (const LwScene *scene)
{
  LwReaches reaches = { 0 };
  LwReachShown *present = &reaches.shown[LW_N_REACHES - 1];

  fill (scene, scene->t, present);
  present->present = true;
  for (int i = 0; i < LW_N_REACHES - 1; i++) {
    double tilt = lw_radians (fixed_tilts[i]);

    if (fabs (tilt - present->tilt) < lw_radians (0.5))
      reaches.shown[i].tilt = tilt; /* the present one says it */
    else
      fill (scene, tilt, &reaches.shown[i]);
  }
  return reaches;
}

void
lw_reaches_clear (LwReaches *reaches)
{
  for (int i = 0; i < LW_N_REACHES; i++)
    g_clear_pointer (&reaches->shown[i].note, g_free);
}

const LwReachShown *
lw_reaches_get_present (const LwReaches *reaches)
{
  const LwReachShown *present = &reaches->shown[LW_N_REACHES - 1];

  return present->drawn ? present : NULL;
}
