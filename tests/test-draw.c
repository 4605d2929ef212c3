/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <cairo-svg.h>
#include <glib.h>
#include <string.h>

#include "base/text.h"
#include "draw/layers.h"
#include "draw/reaches.h"
#include "draw/toolpicture.h"
#include "near.h"
#include "picturesjob.h"

/* Pictures are drawn onto SVG and recording surfaces and read back: scale, texts, inks, bounds. */

typedef struct {
  char *folder;
  LwJob *job;
  LwPainter *painter;
  LwScene scene;
  LwViewport viewport;
} Fixture;

static void
set_up (Fixture *f, gconstpointer no_mesh)
{
  f->folder = jobs_make_folder ();
  if (no_mesh == NULL) {
    g_autofree char *path = g_build_filename (f->folder, "part.stl", NULL);

    jobs_write_ellipsoid (path, 40, lw_vec3 (1100, 500, 200), lw_vec3 (0, 0, 0));
  }
  f->job = jobs_read (f->folder, pictures_job);
  f->painter = lw_painter_new (lw_style_get (LW_THEME_LIGHT));
  f->scene = (LwScene){ .job = f->job,
                        .operation = 0,
                        .placed = 0,
                        .t = lw_radians (72),
                        .tip = { 3192, 760, 300 },
                        .tip_height = 300,
                        .section_y = 900 };
  f->viewport = lw_viewport_fit (&f->scene, 745, 657);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  lw_painter_free (f->painter);
  lw_job_unref (f->job);
  jobs_remove_folder (f->folder);
}

static void
draw (Fixture *f, cairo_t *cr, LwSeen seen, LwLayer layer)
{
  if (seen == LW_SEEN_FROM_ABOVE)
    lw_plan_draw (cr, f->painter, &f->scene, &f->viewport, layer);
  else
    lw_elevation_draw (cr, f->painter, &f->scene, &f->viewport, layer);
}

/* What a layer inks, px; width 0 when nothing. */
static cairo_rectangle_t
get_ink (Fixture *f, LwSeen seen, LwLayer layer)
{
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *cr = cairo_create (surface);
  cairo_rectangle_t ink;

  draw (f, cr, seen, layer);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_recording_surface_ink_extents (surface, &ink.x, &ink.y, &ink.width, &ink.height);
  cairo_surface_destroy (surface);
  return ink;
}

static GPtrArray *
get_texts (Fixture *f, LwSeen seen)
{
  GPtrArray *texts = g_ptr_array_new_with_free_func (g_free);

  lw_labels_collect (f->painter->labels, texts);
  get_ink (f, seen, LW_LAYER_TEXT);
  lw_labels_collect (f->painter->labels, NULL);
  return texts;
}

static bool
says (GPtrArray *texts, const char *text)
{
  return g_ptr_array_find_with_equal_func (texts, text, g_str_equal, NULL);
}

static bool
mentions (GPtrArray *texts, const char *part)
{
  for (guint i = 0; i < texts->len; i++)
    if (strstr (texts->pdata[i], part) != NULL)
      return true;
  return false;
}

/* ------------------------------------------------------------------------------------------------
 * SVG */

static cairo_status_t
append (void *closure, const unsigned char *bytes, unsigned length)
{
  g_string_append_len (closure, (const char *)bytes, length);
  return CAIRO_STATUS_SUCCESS;
}

static GString *
get_svg (Fixture *f, LwSeen seen, LwLayer layer)
{
  GString *svg = g_string_new (NULL);
  cairo_surface_t *surface = cairo_svg_surface_create_for_stream (append, svg, 745, 657);
  cairo_t *cr = cairo_create (surface);

  draw (f, cr, seen, layer);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return svg;
}

/* Whether some path of the SVG has a point within `within` px of each corner of r. */
static bool
has_rect (const char *svg, LwRect r, double within)
{
  const LwPoint corners[] = { { r.x0, r.y0 }, { r.x1, r.y0 }, { r.x1, r.y1 }, { r.x0, r.y1 } };

  for (const char *d = strstr (svg, " d=\""); d != NULL; d = strstr (d + 1, " d=\"")) {
    g_autofree char *path = g_strndup (d + 4, strcspn (d + 4, "\""));
    g_auto (GStrv) words = g_strsplit_set (path, " ", -1);
    int found = 0;

    for (int c = 0; c < 4; c++)
      for (int i = 0; words[i] != NULL && words[i + 1] != NULL; i++) {
        double x, y;

        if (lw_number_from_text (words[i], '.', &x) && lw_number_from_text (words[i + 1], '.', &y)
            && fabs (x - corners[c].x) <= within && fabs (y - corners[c].y) <= within) {
          found++;
          break;
        }
      }
    if (found == 4)
      return true;
  }
  return false;
}

static void
test_scale_is_true (Fixture *f, gconstpointer data)
{
  LwBox3 table = { { 0, 0, 0 }, { 3600, 1800, 0 } };
  LwRect r = lw_viewport_project_box (&f->viewport, LW_SEEN_FROM_ABOVE, table);
  g_autoptr (GString) svg = get_svg (f, LW_SEEN_FROM_ABOVE, LW_LAYER_REACH);

  assert_near ((r.x1 - r.x0) / (r.y1 - r.y0), 2, 1e-12);
  g_assert_true (has_rect (svg->str, r, 0.05 * f->viewport.scale));
  /* … and a table 1 mm wider would not pass */
  r.x1 += f->viewport.scale;
  g_assert_false (has_rect (svg->str, r, 0.05 * f->viewport.scale));
}

/* The rectangles drawn are those of lw_reach, to 0.05 mm, and only where they exist at the tip's
 * height; else a note says why. */
static void
test_reach_rectangles (Fixture *f, gconstpointer data)
{
  static const double heights[] = { 0, 75, 300, 560 };
  static const double tilts[] = { 0, 30, 45, 72, -72, 90, 105 };
  const LwMachine *machine = f->job->machine;
  int drawn = 0, noted = 0;

  for (guint h = 0; h < G_N_ELEMENTS (heights); h++)
    for (guint k = 0; k < G_N_ELEMENTS (tilts); k++) {
      double shown[] = { 30, 60, 90, tilts[k] };
      g_autoptr (GString) svg = NULL;
      g_autoptr (GPtrArray) texts = NULL;

      f->scene.t = lw_radians (tilts[k]);
      f->scene.tip_height = heights[h];
      svg = get_svg (f, LW_SEEN_FROM_ABOVE, LW_LAYER_REACH);
      texts = get_texts (f, LW_SEEN_FROM_ABOVE);
      for (int i = 0; i < 4; i++) {
        LwReach reach =
            lw_reach_every_heading (machine, &machine->tables[0], 214, lw_radians (shown[i]));
        bool exists =
            reach.exists && heights[h] >= reach.box.low.z && heights[h] <= reach.box.high.z;
        LwRect r = lw_viewport_project_box (&f->viewport, LW_SEEN_FROM_ABOVE, reach.box);

        if (reach.exists)
          g_assert_cmpint (has_rect (svg->str, r, 0.05 * f->viewport.scale), ==, exists);
        if (exists)
          drawn++;
        else {
          g_autofree char *angle = lw_format_angle (lw_radians (fabs (shown[i])), LW_ROUND_NEAREST);

          g_assert_true (mentions (texts, angle));
          noted++;
        }
        lw_reach_clear (&reach);
      }
    }
  g_assert_cmpint (drawn, >, 40);
  g_assert_cmpint (noted, >, 10);
}

/* With P + L = 464 the width left of 2200 at tilt t is 2200 − 2 · 464 sin t (DESIGN: reach). */
static void
test_width_left_is_rounded_down (Fixture *f, gconstpointer data)
{
  for (int tilt = 0; tilt <= 90; tilt += 9) {
    double width = 2200 - 2 * 464 * sin (lw_radians (tilt));
    g_autofree char *number = lw_format_length_bare (width, LW_UNIT_MM, LW_ROUND_DOWN);
    g_autofree char *text = g_strdup_printf ("%s at %d.0°", number, tilt);
    g_autoptr (GPtrArray) texts = NULL;

    f->scene.t = lw_radians (tilt);
    f->scene.tip_height = 500; /* from 464 − 180 on at 90° */
    texts = get_texts (f, LW_SEEN_FROM_ABOVE);
    if (!says (texts, text)) {
      g_test_message ("no \"%s\"", text);
      g_test_fail ();
    }
  }
}

/* The block stands at 3000.06 … 3300.06 by 100.07 … 500.07: room is rounded down, size up. */
static void
test_dimensions_are_rounded_to_the_safe_side (Fixture *f, gconstpointer data)
{
  static const char *const above[] = { "3000.0", "300.0", "299.9", "100.0", "400.0", "1299.9" };
  static const char *const inches[] = { "118.112", "11.812", "11.808" };
  g_autoptr (GPtrArray) texts = NULL, texts_inch = NULL, front = NULL;

  f->scene.placed = 1;
  f->job->setups[0].placed[1].at = lw_vec3 (3300.06, 100.07, 60.09);
  texts = get_texts (f, LW_SEEN_FROM_ABOVE);
  for (guint i = 0; i < G_N_ELEMENTS (above); i++)
    g_assert_true (says (texts, above[i]));
  front = get_texts (f, LW_SEEN_FROM_FRONT);
  g_assert_true (says (front, "60.0"));
  g_assert_true (says (front, "200.0"));
  f->scene.unit = LW_UNIT_INCH;
  texts_inch = get_texts (f, LW_SEEN_FROM_ABOVE);
  for (guint i = 0; i < G_N_ELEMENTS (inches); i++)
    g_assert_true (says (texts_inch, inches[i]));
}

/* Pivot at 3192 + 464 sin 72° = 3633.29: 33.3 beyond X+ 3600 (rounded up), at a tip 75 above the
 * table of the sign test of the sketch. */
static void
test_what_binds_is_said (Fixture *f, gconstpointer data)
{
  g_autofree char *words = NULL;
  g_autoptr (GPtrArray) texts = NULL;
  double short_by = 3192 + 464 * sin (lw_radians (72)) - 3600;
  g_autofree char *number = lw_format_length (short_by, LW_UNIT_MM, LW_ROUND_UP);
  g_autofree char *want = g_strdup_printf ("X+ travel short by %s", number);

  words = lw_pose_dup_words (&f->scene);
  g_assert_cmpstr (words, ==, want);
  g_assert_cmpint (lw_pose_judge (&f->scene, NULL), ==, LW_VERDICT_DOES_NOT_FIT);
  texts = get_texts (f, LW_SEEN_FROM_ABOVE);
  g_assert_true (says (texts, want));
  f->scene.tip.x = 1800;
  g_assert_cmpint (lw_pose_judge (&f->scene, NULL), ==, LW_VERDICT_FITS);
  f->scene.tip.x = 3600 - 464 * sin (lw_radians (72)) - 5; /* reserve 10 */
  g_assert_cmpint (lw_pose_judge (&f->scene, NULL), ==, LW_VERDICT_TIGHT);
}

static void
test_no_mesh_no_part (Fixture *f, gconstpointer data)
{
  g_autoptr (GPtrArray) texts = NULL;

  f->job->setups[0].n_placed = 1; /* the part, whose file is not there */
  for (LwSeen seen = LW_SEEN_FROM_ABOVE; seen <= LW_SEEN_FROM_FRONT; seen++) {
    cairo_rectangle_t ink = get_ink (f, seen, LW_LAYER_PARTS);

    g_assert_cmpfloat (ink.width * ink.height, ==, 0);
  }
  texts = get_texts (f, LW_SEEN_FROM_ABOVE);
  g_assert_true (mentions (texts, "p can't be drawn"));
  f->job->setups[0].n_placed = 2;
  g_assert_cmpfloat (get_ink (f, LW_SEEN_FROM_ABOVE, LW_LAYER_PARTS).width, >, 0);
}

/* The part's ink is as wide as the part; extents come in whole pixels. */
static void
test_part_to_scale (Fixture *f, gconstpointer data)
{
  cairo_rectangle_t ink;
  double line = f->painter->style.thick;

  f->job->setups[0].n_placed = 1;
  ink = get_ink (f, LW_SEEN_FROM_ABOVE, LW_LAYER_PARTS);
  assert_near (ink.width, 2200 * f->viewport.scale + line, 2);
  assert_near (ink.height, 1000 * f->viewport.scale + line, 2);
  ink = get_ink (f, LW_SEEN_FROM_FRONT, LW_LAYER_PARTS);
  assert_near (ink.width, 2200 * f->viewport.scale + line, 2);
  assert_near (ink.height, 400 * f->viewport.scale + line, 2);
  f->job->setups[0].n_placed = 2; /* so that all of it is freed */
}

/* No layer leaves its view, whatever the zoom; the head's tight bounds hold its ink. */
static void
test_layers_keep_to_their_bounds (Fixture *f, gconstpointer data)
{
  static const double zooms[] = { 1, 3, 20, 0.3 };

  for (guint z = 0; z < G_N_ELEMENTS (zooms); z++) {
    f->viewport = lw_viewport_fit (&f->scene, 745, 657);
    lw_viewport_zoom (&f->viewport, zooms[z], 500, 250);
    for (LwSeen seen = LW_SEEN_FROM_ABOVE; seen <= LW_SEEN_FROM_FRONT; seen++) {
      LwRect area = lw_viewport_get_area (&f->viewport, seen), head;
      cairo_rectangle_t ink;

      for (LwLayer layer = 0; layer < LW_N_LAYERS; layer++) {
        ink = get_ink (f, seen, layer);
        if (ink.width <= 0)
          continue;
        g_assert_cmpfloat (ink.x, >=, area.x0 - 1);
        g_assert_cmpfloat (ink.y, >=, area.y0 - 1);
        g_assert_cmpfloat (ink.x + ink.width, <=, area.x1 + 1);
        g_assert_cmpfloat (ink.y + ink.height, <=, area.y1 + 1);
      }
      head = lw_head_get_rect (&f->scene, &f->viewport, seen);
      {
        cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
        cairo_t *cr = cairo_create (surface);

        lw_head_draw (cr, f->painter, &f->scene, &f->viewport, seen);
        cairo_destroy (cr);
        cairo_recording_surface_ink_extents (surface, &ink.x, &ink.y, &ink.width, &ink.height);
        cairo_surface_destroy (surface);
      }
      g_assert_cmpfloat (ink.x, >=, head.x0 - 4);
      g_assert_cmpfloat (ink.y, >=, head.y0 - 4);
      g_assert_cmpfloat (ink.x + ink.width, <=, head.x1 + 4);
      g_assert_cmpfloat (ink.y + ink.height, <=, head.y1 + 4);
    }
  }
}

/* ------------------------------------------------------------------------------------------------
 * Style */

static void
test_inks_can_be_told_from_the_paper (void)
{
  static const LwInk letters[] = { LW_INK_TEXT,  LW_INK_OUTLINE,    LW_INK_FAINT,
                                   LW_INK_REACH, LW_INK_TIGHT_TEXT, LW_INK_DOES_NOT_FIT_TEXT };
  static const LwInk lines[] = { LW_INK_FITS, LW_INK_TIGHT, LW_INK_DOES_NOT_FIT,
                                 LW_INK_NOT_CHECKED };

  for (LwTheme theme = 0; theme < LW_N_THEMES; theme++) {
    LwStyle style = lw_style_get (theme);
    bool high = theme == LW_THEME_CONTRAST || theme == LW_THEME_CONTRAST_DARK;

    for (int i = 0; i < LW_N_INKS; i++)
      g_assert_cmpfloat (style.inks[i].a, ==, 1); /* none was forgotten */
    /* WCAG 2.1: 1.4.3 letters 4.5, 1.4.6 enhanced 7; 1.4.11 graphics 3 */
    for (guint i = 0; i < G_N_ELEMENTS (letters); i++)
      g_assert_cmpfloat (lw_color_get_contrast (style.inks[letters[i]], style.inks[LW_INK_PAPER]),
                         >=, high ? 7 : 4.5);
    for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
      g_assert_cmpfloat (lw_color_get_contrast (style.inks[lines[i]], style.inks[LW_INK_PAPER]), >=,
                         3);
  }
  /* black on white is 21, by the definition */
  assert_near (lw_color_get_contrast ((LwColor){ 0, 0, 0, 1 }, (LwColor){ 1, 1, 1, 1 }), 21, 1e-9);
}

static void
test_every_theme_draws (Fixture *f, gconstpointer data)
{
  for (LwTheme theme = 0; theme < LW_N_THEMES; theme++) {
    lw_painter_set_style (f->painter, lw_style_get (theme));
    for (LwLayer layer = 0; layer < LW_N_LAYERS; layer++)
      for (LwSeen seen = LW_SEEN_FROM_ABOVE; seen <= LW_SEEN_FROM_FRONT; seen++)
        get_ink (f, seen, layer); /* asserts cairo's status */
  }
}

/* ISO 128-2: wide lines twice the narrow ones; dots and dashes as the type's name says. */
static void
test_line_types (void)
{
  static const int dashes[] = {
    [LW_LINE_VISIBLE] = 0, [LW_LINE_THIN] = 0,   [LW_LINE_HIDDEN] = 2,      [LW_LINE_CENTER] = 4,
    [LW_LINE_CUT] = 4,     [LW_LINE_MOVING] = 6, [LW_LINE_MOVING_THICK] = 6
  };
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_ALPHA, NULL);
  cairo_t *cr = cairo_create (surface);

  for (LwTheme theme = 0; theme < LW_N_THEMES; theme++) {
    LwStyle style = lw_style_get (theme);

    assert_near (style.thick / style.thin, 2, 1e-9);
    for (LwLine line = LW_LINE_VISIBLE; line <= LW_LINE_MOVING_THICK; line++) {
      lw_style_set_line (&style, cr, line);
      g_assert_cmpint (cairo_get_dash_count (cr), ==, dashes[line]);
      assert_near (cairo_get_line_width (cr), lw_style_get_line_width (&style, line), 0);
    }
  }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

/* Marks differ in shape: drawn in one ink they are still four pictures. */
static void
test_marks_differ_without_color (void)
{
  unsigned char pixels[4][32 * 32];
  LwStyle style = lw_style_get (LW_THEME_LIGHT);

  for (int i = LW_VERDICT_DOES_NOT_FIT; i <= LW_VERDICT_FITS; i++) {
    cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 32, 32);
    cairo_t *cr = cairo_create (surface);

    lw_style_draw_mark (&style, cr, (LwVerdictKind)i, 16, 16, 28);
    cairo_destroy (cr);
    cairo_surface_flush (surface);
    memcpy (pixels[i], cairo_image_surface_get_data (surface), sizeof pixels[i]);
    cairo_surface_destroy (surface);
    for (int k = 0; k < i; k++) {
      int differ = 0;

      for (int n = 0; n < 32 * 32; n++)
        differ += abs (pixels[i][n] - pixels[k][n]) > 100;
      g_assert_cmpint (differ, >, 15);
    }
  }
}

static void
test_labels_keep_apart (void)
{
  LwLabels *labels = lw_labels_new (12);
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_ALPHA, NULL);
  cairo_t *cr = cairo_create (surface);
  g_autoptr (GRand) rand = g_rand_new_with_seed (2);
  LwPlacer placer;
  int placed = 0;

  lw_placer_start (&placer, (LwRect){ 0, 0, 300, 200 });
  for (int i = 0; i < 100; i++) {
    LwPlace place = { g_rand_double_range (rand, -20, 320), g_rand_double_range (rand, -20, 220),
                      0.5, 0.5 };

    placed += lw_labels_place (labels, cr, &placer, "1317.4", LW_TEXT_SMALL, &place, 1, i % 2);
  }
  g_assert_cmpint (placed, ==, placer.n_taken);
  g_assert_cmpint (placed, >, 5);
  for (int i = 0; i < placed; i++) {
    g_assert_cmpfloat (placer.taken[i].x0, >=, 0);
    g_assert_cmpfloat (placer.taken[i].y1, <=, 200);
    for (int k = 0; k < i; k++)
      g_assert_false (lw_rect_overlaps (placer.taken[i], placer.taken[k]));
  }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  lw_labels_free (labels);
}

static void
test_tool_picture (Fixture *f, gconstpointer data)
{
  static const double sizes[][2] = { { 240, 320 }, { 180, 500 }, { 600, 200 } };
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++) {
    cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
    cairo_t *cr = cairo_create (surface);

    g_ptr_array_set_size (texts, 0);
    lw_labels_collect (f->painter->labels, texts);
    lw_tool_picture_draw (cr, f->painter, &f->job->tools[0], LW_UNIT_MM, sizes[i][0], sizes[i][1]);
    lw_labels_collect (f->painter->labels, NULL);
    g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
    cairo_destroy (cr);
    cairo_surface_destroy (surface);
    g_assert_true (says (texts, "214.0"));
    g_assert_true (says (texts, "108.0"));
    g_assert_true (says (texts, "⌀ 10.0"));
  }
}

#define ADD(name, func) g_test_add (name, Fixture, NULL, set_up, func, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/draw/scale", test_scale_is_true);
  ADD ("/draw/reach/rectangles", test_reach_rectangles);
  ADD ("/draw/reach/width", test_width_left_is_rounded_down);
  ADD ("/draw/dimensions", test_dimensions_are_rounded_to_the_safe_side);
  ADD ("/draw/binds", test_what_binds_is_said);
  g_test_add ("/draw/no-mesh", Fixture, "no mesh", set_up, test_no_mesh_no_part, tear_down);
  ADD ("/draw/part", test_part_to_scale);
  ADD ("/draw/bounds", test_layers_keep_to_their_bounds);
  ADD ("/draw/themes", test_every_theme_draws);
  ADD ("/draw/tool", test_tool_picture);
  g_test_add_func ("/draw/style/contrast", test_inks_can_be_told_from_the_paper);
  g_test_add_func ("/draw/style/lines", test_line_types);
  g_test_add_func ("/draw/style/marks", test_marks_differ_without_color);
  g_test_add_func ("/draw/style/labels", test_labels_keep_apart);
  return g_test_run ();
}
