/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "base/sha256.h"
#include "base/tolerances.h"
#include "job/operation.h"
#include "job/reading.h"

/* What a region's pointers lead to. A job's next edition takes it along unread, so that an edit
 * elsewhere does not pay for a trim of ten thousand points. */
struct LwRegionHold {
  int ref_count;
  char *named, *key;
  LwRegionPoint *points;
  LwVec3 *loop, *loop_normals;
};

static void
region_hold_unref (struct LwRegionHold *hold)
{
  if (!g_atomic_int_dec_and_test (&hold->ref_count))
    return;
  g_free (hold->named);
  g_free (hold->key);
  g_free (hold->points);
  g_free (hold->loop);
  g_free (hold->loop_normals);
  g_free (hold);
}

void
lw_region_share (LwRegion *region, const LwRegion *earlier)
{
  *region = *earlier;
  if (region->hold != NULL)
    g_atomic_int_inc (&region->hold->ref_count);
}

void
lw_region_clear (LwRegion *region)
{
  g_clear_pointer (&region->hold, region_hold_unref);
}

static void
read_facing (LwRegion *region, LwIn *in)
{
  region->has_facing = lw_in_has (in, "facing");
  if (region->has_facing) {
    region->facing = lw_read_direction (in, "facing");
    region->within = lw_radians (lw_in_number (in, "within_deg", 0, 180));
  } else if (lw_in_has (in, "within_deg")) {
    lw_in_fail (in, "within_deg", _ ("needs “facing” beside it"));
  }
}

static void
read_box (LwRegion *region, LwIn *in)
{
  region->has_box = lw_in_enter (in, "box_mm", false);
  if (!region->has_box)
    return;
  region->box.low = lw_in_place (in, "min");
  region->box.high = lw_in_place (in, "max");
  if (!lw_in_failed (in) && lw_box3_is_empty (region->box))
    lw_in_fail (in, "max", _ ("must not be below “min”"));
  lw_in_leave (in);
}

static void
read_patch (LwRegion *region, LwIn *in)
{
  region->has_patch = lw_in_enter (in, "patch", false);
  if (!region->has_patch)
    return;
  region->seed = lw_in_place (in, "seed_mm");
  region->crease = lw_radians (lw_in_number (in, "crease_deg", 0, 180));
  lw_in_leave (in);
}

static void
read_points (LwRegion *region, LwIn *in)
{
  bool given = lw_in_has (in, "points");
  int n = lw_in_array (in, "points", false);

  if (given && n == 0)
    lw_in_fail (in, "points", _ ("must hold a point at least"));
  region->points = g_new0 (LwRegionPoint, n);
  region->n_points = n;
  for (int i = 0; i < n && !lw_in_failed (in); i++) {
    LwRegionPoint *point = &region->points[i];

    lw_in_element (in, "points", i);
    point->at = lw_in_place (in, "at_mm");
    if (lw_in_has (in, "axis"))
      point->axis = lw_read_direction (in, "axis");
    point->diameter = lw_in_number_or (in, "diameter_mm", lw_above (0), LW_FAR_MM, NAN);
    point->depth = lw_read_length_or (in, "depth_mm", NAN);
    lw_in_leave (in);
  }
}

static void
read_loop_normals (LwRegion *region, LwIn *in)
{
  int n = 0;

  region->loop_normals = lw_in_points (in, "normals", &n, false);
  if (region->loop_normals == NULL || lw_in_failed (in))
    return;
  if (n != region->n_loop) {
    lw_in_fail (in, "normals", _ ("must hold one normal a point: %d, are %d"), region->n_loop, n);
    return;
  }
  for (int i = 0; i < n; i++) {
    if (!lw_make_direction (region->loop_normals[i], &region->loop_normals[i])) {
      lw_in_fail (in, "normals", _ ("normal %d must be a direction, is zero"), i);
      return;
    }
  }
}

static void
read_loop (LwRegion *region, LwIn *in)
{
  int least;

  if (!lw_in_enter (in, "loop", false))
    return;
  region->loop = lw_read_places (in, "points_mm", &region->n_loop, true);
  region->loop_closed = lw_in_bool_or (in, "closed", false);
  least = region->loop_closed ? 3 : 2;
  if (!lw_in_failed (in) && region->n_loop < least)
    lw_in_fail (in, "points_mm", _ ("must hold %d points at least, are %d"), least, region->n_loop);
  read_loop_normals (region, in);
  lw_in_leave (in);
}

static JsonNode *
new_hash_node (const LwVec3 *points, int n)
{
  char hex[65];

  lw_sha256 (points, sizeof *points * (size_t)n, hex);
  return lw_json_new_string (hex);
}

/* The object with the members of another, but for those named. Members are shared. */
static JsonObject *
copy_object_without (JsonObject *object, const char *const *left_out)
{
  JsonObject *copy = json_object_new ();
  JsonObjectIter iter;
  const char *name;
  JsonNode *member;

  json_object_iter_init_ordered (&iter, object);
  while (json_object_iter_next_ordered (&iter, &name, &member))
    if (!g_strv_contains (left_out, name))
      json_object_set_member (copy, name, json_node_ref (member));
  return copy;
}

static char *
make_key (const LwRegion *region, JsonNode *node)
{
  g_autoptr (JsonNode) keyed = NULL;

  if (region->loop == NULL)
    return lw_json_to_text (node);

  JsonObject *object = json_node_get_object (node);
  JsonObject *loop = copy_object_without (json_object_get_object_member (object, "loop"),
                                          (const char *[]){ "points_mm", "normals", NULL });
  JsonObject *copy = copy_object_without (object, (const char *[]){ "loop", NULL });

  json_object_set_member (loop, "points_mm", new_hash_node (region->loop, region->n_loop));
  if (region->loop_normals != NULL)
    json_object_set_member (loop, "normals", new_hash_node (region->loop_normals, region->n_loop));
  json_object_set_object_member (copy, "loop", loop);
  keyed = json_node_init_object (json_node_alloc (), copy);
  json_object_unref (copy);
  return lw_json_to_text (keyed);
}

void
lw_region_read (LwRegion *region, LwIn *in, JsonNode *node)
{
  struct LwRegionHold *hold;

  *region = (LwRegion){ 0 };
  if (!lw_in_enter (in, "region", true))
    return;
  region->all = lw_in_bool_or (in, "all", false);
  read_facing (region, in);
  read_box (region, in);
  read_patch (region, in);
  region->named = lw_read_text_or_null (in, "named");
  read_points (region, in);
  read_loop (region, in);
  if (!lw_in_failed (in)
      && !(region->all || region->has_facing || region->has_box || region->has_patch
           || region->named != NULL || region->n_points > 0 || region->n_loop > 0))
    lw_in_fail (
        in, NULL,
        _ ("must select something: “all”, “facing”, “box_mm”, “patch”, “named”, “points” or "
           "“loop”"));
  lw_in_leave (in);

  if (!lw_in_failed (in))
    region->key = make_key (region, node);
  hold = g_new0 (struct LwRegionHold, 1);
  *hold = (struct LwRegionHold){
    1, region->named, region->key, region->points, region->loop, region->loop_normals
  };
  region->hold = hold;
}
