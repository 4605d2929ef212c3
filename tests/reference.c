/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "reference.h"

typedef struct {
  double x[3];
} V;

static V
v (double a, double b, double c)
{
  return (V){ { a, b, c } };
}

static double
dot (V a, V b)
{
  return a.x[0] * b.x[0] + a.x[1] * b.x[1] + a.x[2] * b.x[2];
}

static V
mix (V a, double s, V b)
{
  return v (a.x[0] + s * b.x[0], a.x[1] + s * b.x[1], a.x[2] + s * b.x[2]);
}

static V
cross (V a, V b)
{
  return v (a.x[1] * b.x[2] - a.x[2] * b.x[1], a.x[2] * b.x[0] - a.x[0] * b.x[2],
            a.x[0] * b.x[1] - a.x[1] * b.x[0]);
}

static V
unit (V a)
{
  return mix (v (0, 0, 0), 1 / sqrt (dot (a, a)), a);
}

static V
from (LwVec3 a)
{
  return v (a.x, a.y, a.z);
}

/* Rodrigues. */
static V
turn (V axis, double angle, V a)
{
  V along = mix (v (0, 0, 0), dot (axis, a) * (1 - cos (angle)), axis);

  return mix (mix (mix (v (0, 0, 0), cos (angle), a), sin (angle), cross (axis, a)), 1, along);
}

static int
get_axes (const LwOperation *op, V normal, V axes[19])
{
  double lean = op->attitude.lean, least = op->attitude.lean_min;
  int n = 0;

  if (op->attitude.rule == LW_RULE_ALONG) {
    axes[n++] = from (op->attitude.direction);
  } else if (op->attitude.rule == LW_RULE_NORMAL) {
    double off_z = acos (fmin (1, fabs (normal.x[2])));
    V to = off_z < lw_radians (1) ? v (1, 0, 0) : v (0, 0, 1);
    V zero = unit (mix (to, -dot (to, normal), normal));

    if (least <= 0)
      axes[n++] = normal;
    for (int ring = 1; ring <= 2 && lean > 0; ring++)
      for (int i = 0; i < 6 * ring && lean * ring / 2 >= least; i++) {
        V azimuth = turn (normal, 2 * M_PI * i / (6 * ring), zero);
        V over = cross (normal, azimuth);

        axes[n++] = turn (over, lean * ring / 2, normal);
      }
  } else {
    V given = from (op->attitude.direction);
    V in = unit (mix (given, -dot (given, normal), normal));
    double turns[5] = { 0, lean / 2, -lean / 2, lean, -lean };

    for (int i = 0; i < (lean > 0 ? 5 : 1); i++)
      axes[n++] = turn (normal, turns[i], in);
  }
  return n;
}

static bool
get_tip_offset (const LwOperation *op, const LwTool *tool, V normal, V u, V *offset)
{
  double rho = tool->segments[tool->n_segments - 1].d_to / 2;
  double corner = tool->tip == LW_TIP_BALL     ? rho
                  : tool->tip == LW_TIP_CORNER ? tool->corner_radius
                                               : 0;
  V d = mix (normal, -dot (normal, u), u);
  double length = sqrt (dot (d, d));

  if (op->attitude.rule == LW_RULE_FLANK) {
    *offset = mix (mix (v (0, 0, 0), rho, unit (d)), -op->attitude.below, u);
    return true;
  }
  *offset = mix (mix (v (0, 0, 0), corner, normal), -corner, u);
  if (length > 1e-9)
    *offset = mix (*offset, (rho - corner) / length, d);
  return dot (normal, u) >= -1e-6;
}

typedef struct {
  double travel, rotary, slack;
} Best;

static void
try_pose (const LwJob *job, const LwOperation *op, const LwTable *table, const LwTool *tool,
          const V corners[3], V offset, V u, double c, double t, Best *best)
{
  const LwMachine *m = job->machine;
  double length = isfinite (tool->measured) ? tool->measured : tool->tip_length;
  double drop = m->head.pivot_length + length;
  V n = from (m->head.n), z = v (0, 0, 1);
  V hang = mix (turn (n, t, mix (from (m->head.s), -drop, z)), 1, from (m->head.e));
  V w = turn (z, c, hang);
  double high = fmax (op->stroke.approach, op->stroke.retreat);
  double ends[2] = { -(op->stroke.depth + op->stroke.breakthrough), high };
  Best found = { .travel = INFINITY };

  for (int i = 0; i < 3; i++)
    for (int k = 0; k < 2; k++) {
      V tip = mix (mix (mix (corners[i], 1, offset), ends[k], u), 1, from (table->origin));
      V pivot = mix (tip, -1, w);

      for (int a = 0; a < 3; a++)
        found.travel = fmin (found.travel,
                             fmin (pivot.x[a] - m->travel[a].low, m->travel[a].high - pivot.x[a]));
    }
  found.rotary = fmin (fmin (c - m->travel[LW_AXIS_C].low, m->travel[LW_AXIS_C].high - c),
                       fmin (t - m->travel[LW_AXIS_TILT].low, m->travel[LW_AXIS_TILT].high - t));
  found.slack = fmin (found.travel / job->reserves.travel, found.rotary / job->reserves.rotary);
  if (found.slack > best->slack + 1e-9) /* a tie goes to the earlier */
    *best = found;
}

/* Every turn of C inside its limits, nearest 0 first; where there is none, the one least beyond. */
static void
try_turns (const LwJob *job, const LwOperation *op, const LwTable *table, const LwTool *tool,
           const V corners[3], V offset, V u, double c, double t, bool straight, Best *best)
{
  double low = job->machine->travel[LW_AXIS_C].low, high = job->machine->travel[LW_AXIS_C].high;
  double nearest = INFINITY, beyond = INFINITY, least = c;
  int tried = 0;

  if (straight) {
    try_pose (job, op, table, tool, corners, offset, u, 0, 0, best);
    return;
  }
  for (double done = -1; tried < 8; tried++) {
    nearest = INFINITY;
    for (int k = -4; k <= 4; k++) {
      double turned = c + 2 * M_PI * k;

      if (turned >= low && turned <= high && fabs (turned) > done + 1e-9
          && fabs (turned) < fabs (nearest))
        nearest = turned;
    }
    if (!isfinite (nearest))
      break;
    try_pose (job, op, table, tool, corners, offset, u, nearest, t, best);
    done = fabs (nearest);
  }
  for (int k = -4; k <= 4 && tried == 0; k++) {
    double turned = c + 2 * M_PI * k, over = fmax (low - turned, turned - high);

    if (over < beyond) {
      beyond = over;
      least = turned;
    }
  }
  if (tried == 0)
    try_pose (job, op, table, tool, corners, offset, u, least, t, best);
}

static void
try_axis (const LwJob *job, const LwOperation *op, const LwTable *table, const LwTool *tool,
          const V corners[3], V offset, V u, Best *best)
{
  V n = from (job->machine->head.n), z = v (0, 0, 1);
  double cos2 = n.x[2] * n.x[2], cos_t = (u.x[2] - cos2) / (1 - cos2);

  if (cos_t < -1 - 1e-12)
    return;
  for (int sign = 1; sign >= -1; sign -= 2) {
    double t = sign * acos (fmax (-1, fmin (1, cos_t)));
    V m = turn (n, t, z);
    double c = atan2 (u.x[1], u.x[0]) - atan2 (m.x[1], m.x[0]);
    bool straight = hypot (u.x[0], u.x[1]) < 1e-9;

    if (straight && sign < 0)
      continue;
    if (straight)
      t = c = 0;
    try_turns (job, op, table, tool, corners, offset, u, c, t, straight, best);
  }
}

static bool
is_in_region (const LwRegion *region, V normal)
{
  return !region->has_facing || dot (normal, from (region->facing)) >= cos (region->within) - 1e-6;
}

Reference
reference_judge (const LwJob *job, int setup, int operation)
{
  const LwSetup *of = &job->setups[setup];
  const LwOperation *op = &of->operations[operation];
  const LwPlaced *placed = &of->placed[op->placed];
  LwMesh *mesh = job->parts[placed->part].mesh.mesh;
  Reference sum = { .travel = INFINITY, .rotary = INFINITY };
  double area = 0;

  for (uint32_t i = 0; i < lw_mesh_get_n_triangles (mesh); i++) {
    LwVec3 given[3];
    V corners[3], normal, axes[19];
    Best best = { .slack = -INFINITY };
    double weight;
    int n;

    lw_mesh_get_corners (mesh, i, given);
    normal = cross (mix (from (given[1]), -1, from (given[0])),
                    mix (from (given[2]), -1, from (given[0])));
    weight = sqrt (dot (normal, normal)) / 2;
    normal = unit (normal);
    if (!is_in_region (&op->region, normal))
      continue;
    for (int k = 0; k < 3; k++)
      corners[k] = from (lw_placed_to_table (placed, given[k]));
    n = get_axes (op, normal, axes);
    for (int k = 0; k < n; k++) {
      V u = from (lw_mat3_apply (placed->turn, lw_vec3 (axes[k].x[0], axes[k].x[1], axes[k].x[2])));
      V nu = from (lw_mat3_apply (placed->turn, lw_vec3 (normal.x[0], normal.x[1], normal.x[2])));
      V offset;

      if (get_tip_offset (op, &job->tools[op->tool], nu, u, &offset))
        try_axis (job, op, &job->machine->tables[of->table], &job->tools[op->tool], corners, offset,
                  u, &best);
    }
    sum.n++;
    area += weight;
    if (best.slack == -INFINITY) {
      sum.n_without++;
      continue;
    }
    if (best.travel >= -1e-9 && best.rotary >= -1e-9)
      sum.share += weight;
    sum.travel = fmin (sum.travel, best.travel);
    sum.rotary = fmin (sum.rotary, best.rotary);
  }
  sum.share = area > 0 ? sum.share / area : 0;
  return sum;
}
