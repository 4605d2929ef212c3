/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */

/* Makes the demo's part: a female mold for an invented fairing, cut from tooling board, as binary
 * STL on standard output. 2600 × 1100 × 460 mm, lower corner at the origin, mm. The cavity's wall
 * towards +Y leans 8° past vertical; the one towards −Y has 6° of draft. */

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#define LENGTH       2600.0
#define WIDTH        1100.0
#define HEIGHT       460.0
#define CAVITY_FROM  150.0
#define CAVITY_TO    2450.0
#define EDGE_LOW     190.0 /* y of the cavity's edges */
#define EDGE_HIGH    880.0
#define DEPTH        330.0
#define FILLET       60.0
#define DRAFT_DEG    6.0
#define OVERHANG_DEG 8.0

#define N_SECTIONS 101
#define N_SIDE     8  /* rows of the outer sides */
#define N_CAVITY   49 /* points of a section from edge to edge */
#define N_PROFILE  (2 * (N_SIDE + 1) + N_CAVITY)

#define PI 3.14159265358979323846

typedef struct {
  double y, z;
} Point;

typedef struct {
  double x, y, z;
} Vertex;

/* A closed walk round the full-depth cavity, by straight wall, fillet, floor, fillet, straight
 * wall. */
static Point
walk_cavity (double s)
{
  double draft = DRAFT_DEG * PI / 180, over = OVERHANG_DEG * PI / 180;
  double turn_low = PI / 2 - draft, turn_high = PI / 2 + over;
  /* The fillets' centers: one radius above the floor, one off each wall. */
  double floor_z = HEIGHT - DEPTH, cz = floor_z + FILLET;
  double cy_low = EDGE_LOW + (HEIGHT - cz) * tan (draft) + FILLET / cos (draft);
  double cy_high = EDGE_HIGH + (HEIGHT - cz) * tan (over) - FILLET / cos (over);
  Point low_end = { cy_low - FILLET * sin (turn_low), cz - FILLET * cos (turn_low) };
  Point high_end = { cy_high + FILLET * sin (turn_high), cz - FILLET * cos (turn_high) };
  double wall_low = hypot (low_end.y - EDGE_LOW, low_end.z - HEIGHT);
  double wall_high = hypot (high_end.y - EDGE_HIGH, high_end.z - HEIGHT);
  double pieces[5] = { wall_low, FILLET * turn_low, cy_high - cy_low, FILLET * turn_high,
                       wall_high };
  double total = 0, at;
  int piece = 0;

  for (int i = 0; i < 5; i++)
    total += pieces[i];
  for (at = s * total; piece < 4 && at > pieces[piece]; piece++)
    at -= pieces[piece];

  switch (piece) {
  case 0:
    return (Point){ EDGE_LOW + (low_end.y - EDGE_LOW) * at / wall_low,
                    HEIGHT + (low_end.z - HEIGHT) * at / wall_low };
  case 1:
    return (Point){ cy_low - FILLET * sin (turn_low - at / FILLET),
                    cz - FILLET * cos (turn_low - at / FILLET) };
  case 2:
    return (Point){ cy_low + at, floor_z };
  case 3:
    return (Point){ cy_high + FILLET * sin (at / FILLET), cz - FILLET * cos (at / FILLET) };
  default:
    return (Point){ high_end.y + (EDGE_HIGH - high_end.y) * at / wall_high,
                    high_end.z + (HEIGHT - high_end.z) * at / wall_high };
  }
}

/* How much of its full depth the cavity has at x: 0 at its ends, 1 over most of the length. */
static double
get_share (double x)
{
  double middle = (CAVITY_FROM + CAVITY_TO) / 2, half = (CAVITY_TO - CAVITY_FROM) / 2;
  double s = fabs (x - middle) / half;

  return s >= 1 ? 0 : pow (1 - pow (s, 6), 0.5);
}

static Vertex
get_vertex (int section, int i)
{
  /* Sections crowd towards both ends of the cavity, where its depth falls off. */
  double u = (double)section / (N_SECTIONS - 1);
  double x =
      section == 0 ? 0
      : section == N_SECTIONS - 1
          ? LENGTH
          : CAVITY_FROM
                + (CAVITY_TO - CAVITY_FROM)
                      * (0.5 - 0.5 * cos (PI * (u * (N_SECTIONS - 1) - 1) / (N_SECTIONS - 3)));
  double share = get_share (x), s;
  Point full;

  if (i <= N_SIDE)
    return (Vertex){ x, 0, HEIGHT * i / N_SIDE };
  if (i > N_SIDE + N_CAVITY)
    return (Vertex){ x, WIDTH, HEIGHT * (N_PROFILE - 1 - i) / N_SIDE };
  s = (double)(i - N_SIDE - 1) / (N_CAVITY - 1);
  full = walk_cavity (s);
  return (Vertex){ x, (1 - share) * (EDGE_LOW + s * (EDGE_HIGH - EDGE_LOW)) + share * full.y,
                   (1 - share) * HEIGHT + share * full.z };
}

static void
put_u32 (uint32_t value)
{
  for (int i = 0; i < 4; i++)
    putchar ((int)(value >> (8 * i) & 0xff));
}

static void
put_float (double value)
{
  float narrow = (float)value;
  uint32_t bits;

  memcpy (&bits, &narrow, sizeof bits);
  put_u32 (bits);
}

static void
put_triangle (Vertex a, Vertex b, Vertex c)
{
  Vertex p = { b.x - a.x, b.y - a.y, b.z - a.z }, q = { c.x - a.x, c.y - a.y, c.z - a.z };
  Vertex n = { p.y * q.z - p.z * q.y, p.z * q.x - p.x * q.z, p.x * q.y - p.y * q.x };
  double length = sqrt (n.x * n.x + n.y * n.y + n.z * n.z);
  Vertex corners[3] = { a, b, c };

  put_float (n.x / length);
  put_float (n.y / length);
  put_float (n.z / length);
  for (int i = 0; i < 3; i++) {
    put_float (corners[i].x);
    put_float (corners[i].y);
    put_float (corners[i].z);
  }
  putchar (0);
  putchar (0);
}

static void
put_end_triangle (int section, int a, int b, int c)
{
  Vertex p = get_vertex (section, a), q = get_vertex (section, b), r = get_vertex (section, c);

  if (section == 0)
    put_triangle (p, q, r);
  else
    put_triangle (p, r, q);
}

/* The end at x = 0 (or LENGTH): a row of two triangles for each row of the sides, and below the
 * straight top a fan. */
static void
put_end (int section)
{
  for (int i = 0; i < N_SIDE - 1; i++) {
    int left = i, right = N_PROFILE - 1 - i;

    put_end_triangle (section, left, left + 1, right);
    put_end_triangle (section, left + 1, right - 1, right);
  }
  for (int i = N_SIDE; i < N_PROFILE - N_SIDE - 1; i++)
    put_end_triangle (section, N_SIDE - 1, i, i + 1);
  put_end_triangle (section, N_SIDE - 1, N_PROFILE - N_SIDE - 1, N_PROFILE - N_SIDE);
}

int
main (void)
{
  uint32_t n = 2 * (N_SECTIONS - 1) * N_PROFILE + 2 * (N_PROFILE - 2);
  char header[80] = "Demo mold, mm";

  fwrite (header, 1, sizeof header, stdout);
  put_u32 (n);
  for (int section = 0; section < N_SECTIONS - 1; section++)
    for (int i = 0; i < N_PROFILE; i++) {
      int k = (i + 1) % N_PROFILE;
      Vertex a = get_vertex (section, i), b = get_vertex (section, k);
      Vertex c = get_vertex (section + 1, k), d = get_vertex (section + 1, i);

      put_triangle (a, c, b);
      put_triangle (a, d, c);
    }
  put_end (0);
  put_end (N_SECTIONS - 1);
  return fflush (stdout) == 0 && !ferror (stdout) ? 0 : 1;
}
