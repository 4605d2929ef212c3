/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "bench.h"
#include "desktop/drawing.h"
#include "desktop/strip.h"
#include "picturesjob.h"

/* Frames of the real window, 1280 × 800, drawing and strip with a part of 500 000 triangles, while
 * the tilt moves by 0.7° a frame: the time from the change of the tilt until the frame is handed to
 * the screen, layout and rendering in it. Budget: 16 ms. `work` draws FRAMES frames and answers
 * that. Runs under a display (tests/on-a-screen); without one it says so and draws nothing. */

#define FRAMES    60
#define MAX_TIMES 4096

typedef struct {
  char *folder;
  LwView *view;
  GtkWidget *window;
  GMainLoop *loop;
  int frame, left;
  gint64 begun, begun_cpu;
  double times_ms[MAX_TIMES], cpu_ms[MAX_TIMES];
  int n_times;
} Scene;

/* This thread's own time, µs: on a machine that others use too it says what a frame costs. */
static gint64
get_cpu_time (void)
{
  struct timespec t;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &t);
  return (gint64)t.tv_sec * 1000000 + t.tv_nsec / 1000;
}

static void
after_paint (GdkFrameClock *clock, gpointer data)
{
  Scene *s = data;

  if (s->left <= 0)
    return;
  if (s->begun > 0 && s->n_times < MAX_TIMES) {
    s->times_ms[s->n_times] = (double)(g_get_monotonic_time () - s->begun) / 1000;
    s->cpu_ms[s->n_times++] = (double)(get_cpu_time () - s->begun_cpu) / 1000;
  }
  if (--s->left == 0)
    g_main_loop_quit (s->loop);
}

/* Each tick asks for the next, so frames follow one another as fast as the clock lets them. */
static gboolean
tick (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  Scene *s = data;
  double tilt = fabs (remainder (0.7 * s->frame++, 170));

  if (s->left > 0) {
    s->begun = g_get_monotonic_time ();
    s->begun_cpu = get_cpu_time ();
    lw_view_set_attitude (s->view, 0, lw_radians (tilt));
    gtk_widget_queue_draw (widget);
  }
  return G_SOURCE_CONTINUE;
}

static GtkWidget *
make_window (Scene *s)
{
  GtkWidget *window = gtk_window_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *drawing = lw_drawing_new (s->view);

  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 800);
  gtk_widget_set_size_request (drawing, 745, 657);
  gtk_box_append (GTK_BOX (box), drawing);
  gtk_box_append (GTK_BOX (box), lw_strip_new (s->view));
  gtk_window_set_child (GTK_WINDOW (window), box);
  gtk_window_present (GTK_WINDOW (window));
  gtk_widget_add_tick_callback (drawing, tick, s, NULL);
  return window;
}

static void *
prepare (void)
{
  Scene *s = g_new0 (Scene, 1);
  g_autofree char *path = NULL;
  LwMeshStore *store;
  LwDocument *document;
  LwJob *job;

  if (!gtk_init_check ()) {
    fprintf (stderr, "bench: no display for the window's frames; try tests/on-a-screen\n");
    return s;
  }
  s->folder = jobs_make_folder ();
  path = g_build_filename (s->folder, "part.stl", NULL);
  jobs_write_ellipsoid (path, 355, lw_vec3 (1100, 500, 200), lw_vec3 (0, 0, 0));
  job = jobs_read (s->folder, pictures_job);
  store = lw_mesh_store_new ();
  document = lw_document_new (store);
  s->view = lw_view_new (document, lw_checker_new (document));
  lw_document_start (document, job);
  lw_job_unref (job);
  lw_view_select_tool (s->view, 0);
  lw_view_set_tip (s->view, lw_vec3 (2900, 760, 300));
  s->loop = g_main_loop_new (NULL, FALSE);
  while (lw_checker_is_busy (lw_view_get_checker (s->view)))
    g_main_context_iteration (NULL, TRUE);
  s->window = make_window (s);
  g_signal_connect (
      gdk_surface_get_frame_clock (gtk_native_get_surface (gtk_widget_get_native (s->window))),
      "after-paint", G_CALLBACK (after_paint), s);
  return s;
}

static double
draw_frames (void *prepared)
{
  Scene *s = prepared;

  if (s->window == NULL)
    return 0;
  s->left = FRAMES;
  s->begun = 0;
  g_main_loop_run (s->loop);
  return FRAMES;
}

static int
compare_doubles (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;

  return (x > y) - (x < y);
}

static void
finish (void *prepared)
{
  Scene *s = prepared;
  int n = s->n_times;

  if (s->window == NULL || n == 0)
    return;
  qsort (s->times_ms, n, sizeof *s->times_ms, compare_doubles);
  qsort (s->cpu_ms, n, sizeof *s->cpu_ms, compare_doubles);
  fprintf (stderr,
           "bench: %d frames of the window, median %.1f ms, best %.1f ms; processor's time of its "
           "thread, median %.1f ms\n",
           n, s->times_ms[n / 2], s->times_ms[0], s->cpu_ms[n / 2]);
  gtk_window_destroy (GTK_WINDOW (s->window));
  jobs_remove_folder (s->folder);
}

const BenchScene bench_window[] = {
  { "window/move-tilt", "frames", prepare, draw_frames, finish, 5 }, { 0 }
};
