/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "shape/raster.h"

#include <string.h>

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

static inline double
least_of (double a, double b, double c)
{
  double d = a < b ? a : b;

  return d < c ? d : c;
}

static inline double
most_of (double a, double b, double c)
{
  return -least_of (-a, -b, -c);
}

/* Pixel i is covered where its center i + 1/2 lies above low and not above high: neighbors that
 * share a border share it out without gap or overlap. Coordinates of the picture are not negative.
 */
static inline int
first_pixel (double low)
{
  return (int)(low + 0.5);
}

static inline int
last_pixel (double high)
{
  return (int)(high + 0.5) - 1;
}

/* Where the row of height y enters and leaves the triangle: two of the edges cross it, or none
 * where rounding put it just beyond. */
static inline void
find_span (const Corner c[3], const double slopes[3], double y, double *from, double *to)
{
  *from = INFINITY;
  *to = -INFINITY;
  for (int i = 0; i < 3; i++) {
    double x = c[i].x + (y - c[i].y) * slopes[i];

    if ((c[i].y < y) == (c[i == 2 ? 0 : i + 1].y < y))
      continue;
    *from = x < *from ? x : *from;
    *to = x > *to ? x : *to;
  }
}

static void
fill_rows (const LwRaster *raster, float *sheet, const Corner c[3], double area, int first,
           int last)
{
  double dz_dx =
      ((c[1].z - c[0].z) * (c[2].y - c[0].y) - (c[2].z - c[0].z) * (c[1].y - c[0].y)) / area;
  double dz_dy =
      ((c[2].z - c[0].z) * (c[1].x - c[0].x) - (c[1].z - c[0].z) * (c[2].x - c[0].x)) / area;
  float nearest = (float)most_of (c[0].z, c[1].z, c[2].z), step = (float)dz_dx;
  double slopes[3], from, to;

  for (int i = 0; i < 3; i++) {
    const Corner *next = &c[i == 2 ? 0 : i + 1];

    slopes[i] = (next->x - c[i].x) / (next->y - c[i].y); /* not used where both are level */
  }
  for (int row = first; row <= last; row++) {
    float *depths = sheet + (size_t)row * (size_t)raster->width, z;
    int begin, end;

    find_span (c, slopes, row + 0.5, &from, &to);
    if (!(from <= to))
      continue;
    begin = first_pixel (from);
    end = MIN (last_pixel (to), raster->width - 1);
    z = (float)(c[0].z + dz_dy * (row + 0.5 - c[0].y) + dz_dx * (begin + 0.5 - c[0].x));
    for (int i = begin; i <= end; i++) {
      float depth = z + step * (float)(i - begin);

      depth = depth < nearest ? depth : nearest;
      depths[i] = depth > depths[i] ? depth : depths[i];
    }
  }
}

static void
draw_triangle (const LwRaster *raster, float *sheet, const Corner c[3])
{
  double area = (c[1].x - c[0].x) * (c[2].y - c[0].y) - (c[1].y - c[0].y) * (c[2].x - c[0].x);
  int first = first_pixel (least_of (c[0].y, c[1].y, c[2].y));
  int last = last_pixel (most_of (c[0].y, c[1].y, c[2].y));

  /* Most of a fine mesh falls between the pixels. */
  if (first > last || !(fabs (area) > 1e-12)
      || first_pixel (least_of (c[0].x, c[1].x, c[2].x))
             > last_pixel (most_of (c[0].x, c[1].x, c[2].x)))
    return;
  fill_rows (raster, sheet, c, area, first, MIN (last, raster->height - 1));
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

  place_raster (raster, points, lw_mesh_get_n_points (mesh));
  draw.n_sheets = (size_t)MIN (lw_parallel_get_threads (), MAX_SHEETS);
  for (size_t i = 0; i < draw.n_sheets; i++)
    draw.sheets[i] = g_new (float, count_pixels (raster));
  lw_parallel_for (draw.n_sheets, 1, draw_sheet, &draw, NULL);
  lw_parallel_for ((size_t)raster->height, 64, merge_rows, &draw, NULL);
  raster->depths = draw.sheets[0];
  for (size_t i = 1; i < draw.n_sheets; i++)
    g_free (draw.sheets[i]);
  return raster;
}

void
lw_raster_free (LwRaster *raster)
{
  g_free (raster->depths);
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
  Erode erode = { raster, g_new (float, count_pixels (raster)) };

  lw_parallel_for ((size_t)raster->height, 64, erode_across, &erode, NULL);
  lw_parallel_for ((size_t)raster->height, 64, erode_along, &erode, NULL);
  g_free (erode.across);
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
