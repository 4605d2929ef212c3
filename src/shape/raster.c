/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "shape/raster.h"

#include <string.h>

#include "base/pages.h"
#include "base/parallel.h"
#include "base/tolerances.h"

/* Sheets drawn beside each other at most, each of some triangles; the nearest of all remains,
 * whatever their number. */
#define MAX_SHEETS 8

static size_t
count_pixels (const LwRaster *raster)
{
  return (size_t)raster->width * (size_t)raster->height;
}

/* ------------------------------------------------------------------------------------------------
 * Triangles. */

typedef struct {
  double x, y, z; /* pixels, pixels, mm */
} Corner;

typedef struct {
  const LwMesh *mesh;
  const LwVec3 *points;
  const uint8_t *drawn;
  LwRaster *raster;
  float *sheets[MAX_SHEETS];
  size_t n_sheets;
} Draw;

static inline Corner
corner_at (const Draw *draw, uint32_t point)
{
  const LwRaster *raster = draw->raster;
  LwVec3 p = draw->points[point];

  return (Corner){ (p.x - raster->left) * raster->per_mm, (p.y - raster->bottom) * raster->per_mm,
                   p.z };
}

/* The pixel centers of row y between the edges of the triangle; borders belong to both sides, so
 * that neighbors leave no gap. */
static inline void
find_span (const Corner c[3], double y, double *from, double *to)
{
  for (int i = 0; i < 3; i++) {
    const Corner *a = &c[i], *b = &c[i == 2 ? 0 : i + 1];
    double x;

    if (a->y == b->y)
      continue;
    x = a->x + (y - a->y) * ((b->x - a->x) / (b->y - a->y));
    /* Counter-clockwise: inside is left of what runs up, which is where x is smaller. */
    if (b->y > a->y)
      *to = fmin (*to, x);
    else
      *from = fmax (*from, x);
  }
}

static void
draw_triangle (const LwRaster *raster, float *sheet, Corner c[3])
{
  double area = (c[1].x - c[0].x) * (c[2].y - c[0].y) - (c[1].y - c[0].y) * (c[2].x - c[0].x);
  double low = fmin (c[0].y, fmin (c[1].y, c[2].y)), high = fmax (c[0].y, fmax (c[1].y, c[2].y));
  double left = fmin (c[0].x, fmin (c[1].x, c[2].x)), right = fmax (c[0].x, fmax (c[1].x, c[2].x));
  int first = (int)ceil (low - 0.5), last = (int)floor (high - 0.5);
  double dz_dx, dz_dy, nearest;

  if (first > last || ceil (left - 0.5) > floor (right - 0.5) || !(fabs (area) > 1e-12))
    return;
  if (area < 0) {
    Corner swap = c[1];

    c[1] = c[2];
    c[2] = swap;
    area = -area;
  }
  dz_dx = ((c[1].z - c[0].z) * (c[2].y - c[0].y) - (c[2].z - c[0].z) * (c[1].y - c[0].y)) / area;
  dz_dy = ((c[2].z - c[0].z) * (c[1].x - c[0].x) - (c[1].z - c[0].z) * (c[2].x - c[0].x)) / area;
  nearest = fmax (c[0].z, fmax (c[1].z, c[2].z));
  first = MAX (first, 0);
  last = MIN (last, raster->height - 1);
  for (int row = first; row <= last; row++) {
    double y = row + 0.5, from = left, to = right, z;
    float *depths = sheet + (size_t)row * (size_t)raster->width;
    int begin, end;

    find_span (c, y, &from, &to);
    begin = MAX ((int)ceil (from - 0.5), 0);
    end = MIN ((int)floor (to - 0.5), raster->width - 1);
    z = c[0].z + dz_dy * (y - c[0].y) - dz_dx * c[0].x;
    for (int i = begin; i <= end; i++) {
      float depth = (float)fmin (nearest, z + dz_dx * (i + 0.5));

      depths[i] = depth > depths[i] ? depth : depths[i];
    }
  }
}

static void
draw_sheet (size_t chunk, size_t begin, size_t end, void *data)
{
  Draw *draw = data;
  const uint32_t *triangles = lw_mesh_get_triangles (draw->mesh);
  size_t n = lw_mesh_get_n_triangles (draw->mesh), n_pixels = count_pixels (draw->raster);

  for (size_t sheet = begin; sheet < end; sheet++) {
    for (size_t i = 0; i < n_pixels; i++)
      draw->sheets[sheet][i] = -INFINITY;
    for (size_t t = n * sheet / draw->n_sheets; t < n * (sheet + 1) / draw->n_sheets; t++) {
      const uint32_t *numbers = triangles + 3 * t;
      Corner corners[3];

      if (draw->drawn && !draw->drawn[t])
        continue;
      for (int i = 0; i < 3; i++)
        corners[i] = corner_at (draw, numbers[i]);
      draw_triangle (draw->raster, draw->sheets[sheet], corners);
    }
  }
}

static void
merge_rows (size_t chunk, size_t begin, size_t end, void *data)
{
  Draw *draw = data;
  size_t width = (size_t)draw->raster->width;

  for (size_t sheet = 1; sheet < draw->n_sheets; sheet++) {
    for (size_t i = begin * width; i < end * width; i++) {
      float depth = draw->sheets[sheet][i];

      draw->sheets[0][i] = depth > draw->sheets[0][i] ? depth : draw->sheets[0][i];
    }
  }
}

/* ------------------------------------------------------------------------------------------------
 * The picture. */

static void
place_raster (LwRaster *raster, const LwVec3 *points, uint32_t n_points)
{
  LwVec3 size;
  LwBox3 box = lw_box3_empty ();

  for (uint32_t i = 0; i < n_points; i++) {
    LwVec3 p = points[i];

    box.low.x = p.x < box.low.x ? p.x : box.low.x;
    box.low.y = p.y < box.low.y ? p.y : box.low.y;
    box.high.x = p.x > box.high.x ? p.x : box.high.x;
    box.high.y = p.y > box.high.y ? p.y : box.high.y;
  }
  size = lw_vec3_sub (box.high, box.low);
  if (!(fmax (size.x, size.y) > 0))
    size = lw_vec3 (1, 1, 0);
  raster->per_mm = LW_RASTER_PIXELS / fmax (size.x, size.y);
  raster->left = box.low.x;
  raster->bottom = box.low.y;
  raster->width = MAX ((int)ceil (size.x * raster->per_mm), 1);
  raster->height = MAX ((int)ceil (size.y * raster->per_mm), 1);
}

LwRaster *
lw_raster_new (const LwMesh *mesh, const LwVec3 *points, const uint8_t *drawn)
{
  LwRaster *raster = g_new0 (LwRaster, 1);
  Draw draw = { .mesh = mesh, .points = points, .drawn = drawn, .raster = raster };
  size_t bytes;

  place_raster (raster, points, lw_mesh_get_n_points (mesh));
  bytes = count_pixels (raster) * sizeof (float);
  draw.n_sheets = (size_t)MIN (lw_parallel_get_threads (), MAX_SHEETS);
  for (size_t i = 0; i < draw.n_sheets; i++)
    draw.sheets[i] = lw_pages_new (bytes);
  lw_parallel_for (draw.n_sheets, 1, draw_sheet, &draw, NULL);
  lw_parallel_for ((size_t)raster->height, 64, merge_rows, &draw, NULL);
  raster->depths = draw.sheets[0];
  for (size_t i = 1; i < draw.n_sheets; i++)
    lw_pages_free (draw.sheets[i], bytes);
  return raster;
}

void
lw_raster_free (LwRaster *raster)
{
  lw_pages_free (raster->depths, count_pixels (raster) * sizeof (float));
  g_free (raster);
}

typedef struct {
  LwRaster *raster;
  float *across;
} Erode;

static void
erode_across (size_t chunk, size_t begin, size_t end, void *data)
{
  Erode *erode = data;
  size_t width = (size_t)erode->raster->width;

  for (size_t row = begin; row < end; row++) {
    const float *in = erode->raster->depths + row * width;
    float *out = erode->across + row * width;

    out[0] = out[width - 1] = -INFINITY; /* beyond the picture there is nothing */
    for (size_t i = 1; i + 1 < width; i++) {
      float least = in[i - 1] < in[i] ? in[i - 1] : in[i];

      out[i] = in[i + 1] < least ? in[i + 1] : least;
    }
  }
}

static void
erode_along (size_t chunk, size_t begin, size_t end, void *data)
{
  Erode *erode = data;
  size_t width = (size_t)erode->raster->width, height = (size_t)erode->raster->height;

  for (size_t row = begin; row < end; row++) {
    const float *here = erode->across + row * width;
    float *out = erode->raster->depths + row * width;
    bool at_rim = row == 0 || row + 1 == height;

    for (size_t i = 0; i < width; i++) {
      float below = at_rim ? -INFINITY : here[(ptrdiff_t)i - (ptrdiff_t)width];
      float least = below < here[i] ? below : here[i];
      float above = at_rim ? -INFINITY : here[i + width];

      out[i] = above < least ? above : least;
    }
  }
}

void
lw_raster_erode (LwRaster *raster)
{
  size_t bytes = count_pixels (raster) * sizeof (float);
  Erode erode = { raster, lw_pages_new (bytes) };

  lw_parallel_for ((size_t)raster->height, 64, erode_across, &erode, NULL);
  lw_parallel_for ((size_t)raster->height, 64, erode_along, &erode, NULL);
  lw_pages_free (erode.across, bytes);
}

bool
lw_raster_hides (const LwRaster *raster, LwVec3 place)
{
  double x = (place.x - raster->left) * raster->per_mm;
  double y = (place.y - raster->bottom) * raster->per_mm;
  int column = CLAMP ((int)x, 0, raster->width - 1), row = CLAMP ((int)y, 0, raster->height - 1);
  float depth = raster->depths[(size_t)row * (size_t)raster->width + (size_t)column];

  return depth > place.z + LW_HIDDEN_PIXELS / raster->per_mm;
}
