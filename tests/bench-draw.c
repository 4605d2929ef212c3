/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <stdlib.h>

#include "bench.h"
#include "draw/painter.h"
#include "picturesjob.h"

/* Drawing the Plan page's middle, 745 × 657 px of a window of 1280 × 800, with a part of 500 000
 * triangles: the draw functions alone, on an image surface. A frame while the tilt moves draws the
 * layers that the tilt changes, in both views; its budget is 6 ms. The real window's frames are
 * bench-window.c's. */

#define WIDTH  745
#define HEIGHT 657

typedef struct {
  char *folder;
  LwJob *job;
  LwPainter *painter;
  LwScene scene;
  LwViewport viewport;
  cairo_surface_t *surface;
  cairo_t *cr;
  int frame;
} Scene;

static void *
prepare (void)
{
  Scene *s = g_new0 (Scene, 1);
  g_autofree char *path = NULL;

  s->folder = jobs_make_folder ();
  path = g_build_filename (s->folder, "part.stl", NULL);
  jobs_write_ellipsoid (path, 355, lw_vec3 (1100, 500, 200), lw_vec3 (0, 0, 0));
  s->job = jobs_read (s->folder, pictures_job);
  if (s->job->parts[0].mesh.mesh == NULL
      || lw_mesh_get_n_triangles (s->job->parts[0].mesh.mesh) < 500000)
    abort ();
  s->painter = lw_painter_new (lw_style_get (LW_THEME_LIGHT));
  s->scene = (LwScene){
    .job = s->job, .operation = 0, .tip = { 2900, 760, 300 }, .tip_height = 300, .section_y = 900
  };
  s->viewport = lw_viewport_fit (&s->scene, WIDTH, HEIGHT);
  s->surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  s->cr = cairo_create (s->surface);
  lw_picture_draw_both (s->cr, s->painter, &s->scene, &s->viewport);
  return s;
}

static void
finish (void *prepared)
{
  Scene *s = prepared;

  cairo_destroy (s->cr);
  cairo_surface_destroy (s->surface);
  lw_painter_free (s->painter);
  lw_job_unref (s->job);
  jobs_remove_folder (s->folder);
  g_free (s);
}

static void
draw_layers (Scene *s, unsigned layers)
{
  for (LwLayer layer = 0; layer < LW_N_LAYERS; layer++)
    if (layers & 1u << layer) {
      lw_plan_draw (s->cr, s->painter, &s->scene, &s->viewport, layer);
      lw_elevation_draw (s->cr, s->painter, &s->scene, &s->viewport, layer);
    }
  cairo_surface_flush (s->surface);
  if (cairo_status (s->cr) != CAIRO_STATUS_SUCCESS)
    abort ();
}

static double
move_tilt (void *prepared)
{
  Scene *s = prepared;

  s->scene.t = lw_radians (0.7 * (s->frame++ % 120));
  draw_layers (s, 1u << LW_LAYER_LOST | 1u << LW_LAYER_REACH | 1u << LW_LAYER_HEAD
                      | 1u << LW_LAYER_TEXT);
  return 1;
}

static double
draw_all (void *prepared)
{
  draw_layers (prepared, (1u << LW_N_LAYERS) - 1);
  return 1;
}

/* A part is dragged: its lines are kept, all layers are drawn. */
static double
move_part (void *prepared)
{
  Scene *s = prepared;

  s->job->setups[0].placed[0].at.x = 1700 + s->frame++ % 200;
  draw_layers (s, (1u << LW_N_LAYERS) - 1);
  return 1;
}

/* Turning it makes them anew. */
static double
turn_part (void *prepared)
{
  Scene *s = prepared;

  s->job->setups[0].placed[0].turn = lw_mat3_turn_z (lw_radians (s->frame++));
  draw_layers (s, 1u << LW_LAYER_PARTS);
  return 1;
}

const BenchScene bench_draw[] = {
  { "draw/move-tilt", "frames", prepare, move_tilt, finish, 101 },
  { "draw/all-layers", "frames", prepare, draw_all, finish, 51 },
  { "draw/move-part", "frames", prepare, move_part, finish, 51 },
  { "draw/turn-part", "frames", prepare, turn_part, finish, 5 },
  { 0 },
};
