/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */

/* Draws a job's Plan picture without a window, to be looked at:
 *   picture JOB.leeway OUT.png|OUT.svg|OUT.pdf [key=value…]
 * width, height, theme (0 … 3), operation, tilt, heading (degrees), tip (x:y:z), section, zoom,
 * judge (0: no verdict), tool (index: the tool's picture instead). */
#include <cairo-pdf.h>
#include <cairo-svg.h>

#include "base/text.h"
#include "draw/painter.h"
#include "draw/toolpicture.h"

static double
get (int argc, char **argv, const char *key, double absent)
{
  g_autofree char *prefix = g_strconcat (key, "=", NULL);

  for (int i = 3; i < argc; i++)
    if (g_str_has_prefix (argv[i], prefix)) {
      double value;

      if (!lw_number_from_text (argv[i] + strlen (prefix), '.', &value))
        g_error ("%s is no number", argv[i]);
      return value;
    }
  return absent;
}

static cairo_surface_t *
make_surface (const char *path, double width, double height)
{
  if (g_str_has_suffix (path, ".svg"))
    return cairo_svg_surface_create (path, width, height);
  if (g_str_has_suffix (path, ".pdf"))
    return cairo_pdf_surface_create (path, width, height);
  return cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int)width, (int)height);
}

static LwScene
make_scene (const LwJob *job, LwJobVerdict *verdict, int argc, char **argv)
{
  int operation = (int)get (argc, argv, "operation", -1);
  LwScene scene = { .job = job, .verdict = verdict, .operation = operation, .placed = -1 };
  const LwOperationVerdict *one;

  scene.tool = operation >= 0 ? job->setups[0].operations[operation].tool : 0;
  scene.t = lw_radians (get (argc, argv, "tilt", 72));
  scene.c = lw_radians (get (argc, argv, "heading", 0));
  one = lw_scene_get_verdict (&scene);
  if (one != NULL && one->travel_at.exists) {
    scene.tip = one->travel_at.tip;
    scene.c = one->travel_at.pose.c;
    scene.t = one->travel_at.pose.t;
  } else
    scene.tip = lw_vec3 (get (argc, argv, "x", 3192), get (argc, argv, "y", 760),
                         get (argc, argv, "z", 75));
  scene.tip_height = get (argc, argv, "height", scene.tip.z);
  scene.section_y = get (argc, argv, "section", scene.tip.y);
  scene.unit = get (argc, argv, "inch", 0) != 0 ? LW_UNIT_INCH : LW_UNIT_MM;
  return scene;
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (LwMeshStore) store = lw_mesh_store_new ();
  g_autoptr (LwJob) job = NULL;
  g_autoptr (LwPainter) painter = NULL;
  LwJobVerdict *verdict = NULL;
  double width = get (argc, argv, "width", 745), height = get (argc, argv, "height", 657);
  cairo_surface_t *surface;
  LwViewport viewport;
  LwScene scene;
  cairo_t *cr;

  if (argc < 3)
    g_error ("usage: picture JOB OUT [key=value…]");
  job = lw_job_load (argv[1], store, true, NULL, &error);
  if (job == NULL)
    g_error ("%s", error->message);
  if (get (argc, argv, "judge", 1) != 0)
    verdict = lw_verdict_judge_job (job, NULL);
  painter = lw_painter_new (lw_style_get ((LwTheme)get (argc, argv, "theme", LW_THEME_LIGHT)));
  scene = make_scene (job, verdict, argc, argv);
  surface = make_surface (argv[2], width, height);
  cr = cairo_create (surface);
  if (get (argc, argv, "tool", -1) >= 0)
    lw_tool_picture_draw (cr, painter, &job->tools[(int)get (argc, argv, "tool", 0)], scene.unit,
                          width, height);
  else {
    double zoom = get (argc, argv, "zoom", 1);

    viewport = lw_viewport_fit (&scene, width, height);
    if (zoom != 1) {
      LwPoint at = lw_viewport_project (&viewport, LW_SEEN_FROM_ABOVE, scene.tip);

      lw_viewport_zoom (&viewport, zoom, at.x, at.y);
    }
    lw_picture_draw_both (cr, painter, &scene, &viewport);
  }
  cairo_destroy (cr);
  if (g_str_has_suffix (argv[2], ".png"))
    cairo_surface_write_to_png (surface, argv[2]);
  cairo_surface_destroy (surface);
  if (verdict != NULL)
    lw_job_verdict_free (verdict);
  return 0;
}
