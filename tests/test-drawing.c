/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/anglescale.h"
#include "desktop/drawingprivate.h"
#include "desktop/strip.h"
#include "near.h"
#include "picturesjob.h"

/* The drawing and the attitude strip in a real window: which layers a change draws again, the
 * actions of the things in the drawing, the strip's instruments and entries. */

typedef struct {
  char *folder;
  LwMeshStore *store;
  LwDocument *document;
  LwChecker *checker;
  LwView *view;
  GtkWidget *window, *drawing, *strip;
} Fixture;

static void
settle (void)
{
  gint64 until = g_get_monotonic_time () + 250000;

  while (g_get_monotonic_time () < until)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (2000);
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autofree char *path = NULL;
  g_autoptr (LwJob) job = NULL;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  f->folder = jobs_make_folder ();
  path = g_build_filename (f->folder, "part.stl", NULL);
  jobs_write_ellipsoid (path, 20, lw_vec3 (1100, 500, 200), lw_vec3 (0, 0, 0));
  job = jobs_read (f->folder, pictures_job);
  f->store = lw_mesh_store_new ();
  f->document = lw_document_new (f->store);
  f->checker = lw_checker_new (f->document);
  f->view = lw_view_new (f->document, f->checker);
  lw_document_start (f->document, job);
  lw_view_select_placed (f->view, 0);
  lw_view_select_tool (f->view, 0);
  lw_view_set_tip (f->view, lw_vec3 (1800, 900, 300));
  f->drawing = lw_drawing_new (f->view);
  f->strip = lw_strip_new (f->view);
  gtk_widget_set_size_request (f->drawing, 745, 640);
  gtk_box_append (GTK_BOX (box), f->drawing);
  gtk_box_append (GTK_BOX (box), f->strip);
  f->window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (f->window), 900, 760);
  gtk_window_set_child (GTK_WINDOW (f->window), box);
  gtk_window_present (GTK_WINDOW (f->window));
  settle ();
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (f->window));
  settle ();
  g_object_unref (f->view);
  g_object_unref (f->checker);
  g_object_unref (f->document);
  lw_mesh_store_unref (f->store);
  jobs_remove_folder (f->folder);
}

static LwScene
get_scene (Fixture *f)
{
  LwScene scene;

  g_assert_true (lw_view_get_scene (f->view, &scene));
  return scene;
}

static LwVec3
get_place (Fixture *f, int placed)
{
  return lw_document_get_job (f->document)->setups[0].placed[placed].at;
}

/* The first descendant of a type. */
static GtkWidget *
find (GtkWidget *widget, GType type, int *skip)
{
  if (G_TYPE_CHECK_INSTANCE_TYPE (widget, type) && (*skip)-- == 0)
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child)) {
    GtkWidget *found = find (child, type, skip);

    if (found != NULL)
      return found;
  }
  return NULL;
}

static GtkWidget *
find_nth (GtkWidget *widget, GType type, int n)
{
  GtkWidget *found = find (widget, type, &n);

  g_assert_nonnull (found);
  return found;
}

/* A moved tilt draws reach, head and text again; table and parts stay as they are. */
static void
test_only_what_changed_is_drawn (Fixture *f, gconstpointer data)
{
  LwDrawing *drawing = LW_DRAWING (f->drawing);
  GskRenderNode *before[2][LW_N_LAYERS];

  for (int seen = 0; seen < 2; seen++)
    for (int layer = 0; layer < LW_N_LAYERS; layer++) {
      g_assert_nonnull (drawing->nodes[seen][layer]);
      before[seen][layer] = gsk_render_node_ref (drawing->nodes[seen][layer]);
    }
  lw_view_set_attitude (f->view, 0.3, lw_radians (41));
  settle ();
  for (int seen = 0; seen < 2; seen++)
    for (int layer = 0; layer < LW_N_LAYERS; layer++) {
      bool kept = layer == LW_LAYER_PAPER || layer == LW_LAYER_PARTS;

      g_assert_cmpint (drawing->nodes[seen][layer] == before[seen][layer], ==, kept);
      gsk_render_node_unref (before[seen][layer]);
    }
}

static void
test_zoom_and_fit (Fixture *f, gconstpointer data)
{
  LwDrawing *drawing = LW_DRAWING (f->drawing);
  double scale = drawing->viewport.scale;

  g_assert_cmpfloat (scale, >, 0.05);
  g_assert_true (gtk_widget_activate_action (f->drawing, "drawing.zoom-in", NULL));
  g_assert_cmpfloat (drawing->viewport.scale, >, 1.1 * scale);
  g_assert_true (gtk_widget_activate_action (f->drawing, "drawing.fit", NULL));
  assert_near (drawing->viewport.scale, scale, 1e-12);
}

/* A part as a thing in the drawing: named, over its place, moved by its actions in one step of the
 * history a run. */
static void
test_part_is_moved_by_its_actions (Fixture *f, gconstpointer data)
{
  LwDrawing *drawing = LW_DRAWING (f->drawing);
  GtkWidget *item = drawing->items->pdata[1];
  LwVec3 before = get_place (f, 1), after;
  graphene_rect_t bounds;
  LwScene scene = get_scene (f);
  LwRect r;

  g_assert_cmpint (drawing->items->len, ==, 4); /* two parts, head, tip */
  g_assert_cmpint (lw_drawing_item_get_kind (LW_DRAWING_ITEM (item)), ==, LW_ITEM_PART);
  r = lw_viewport_project_box (&drawing->viewport, LW_SEEN_FROM_ABOVE,
                               lw_placed_get_box (scene.job, &scene.job->setups[0].placed[1]));
  g_assert_true (gtk_widget_compute_bounds (item, f->drawing, &bounds));
  assert_near (bounds.origin.x, r.x0, 1.5);
  assert_near (bounds.size.width, r.x1 - r.x0, 2.5);
  for (int i = 0; i < 3; i++)
    g_assert_true (gtk_widget_activate_action (item, "item.move-right", NULL));
  g_assert_true (gtk_widget_activate_action (item, "item.move-up", NULL));
  after = get_place (f, 1);
  assert_near (after.x, before.x + 3, 1e-9);
  assert_near (after.y, before.y + 1, 1e-9);
  g_assert_cmpint (get_scene (f).placed, ==, 1);
  lw_document_undo (f->document);
  after = get_place (f, 1);
  assert_near3 (&after.x, &before.x, 1e-9);
}

static void
test_tip_is_moved_by_its_actions (Fixture *f, gconstpointer data)
{
  LwDrawing *drawing = LW_DRAWING (f->drawing);
  GtkWidget *item = drawing->items->pdata[3];
  LwVec3 before = get_scene (f).tip;

  g_assert_cmpint (lw_drawing_item_get_kind (LW_DRAWING_ITEM (item)), ==, LW_ITEM_TIP);
  gtk_widget_activate_action (item, "item.move-left", NULL);
  assert_near (get_scene (f).tip.x, before.x - 1, 1e-9);
}

static void
test_strip_shows_and_turns (Fixture *f, gconstpointer data)
{
  GtkWidget *tilt = find_nth (f->strip, LW_TYPE_ANGLE_SCALE, 0);
  GtkWidget *heading = find_nth (f->strip, LW_TYPE_ANGLE_SCALE, 1);
  GtkWidget *entry = find_nth (f->strip, GTK_TYPE_ENTRY, 0);

  lw_view_set_attitude (f->view, lw_radians (-30), lw_radians (72));
  assert_near (gtk_range_get_value (GTK_RANGE (tilt)), 72, 1e-9);
  assert_near (gtk_range_get_value (GTK_RANGE (heading)), -30, 1e-9);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "72.0°");
  /* as a screen reader sets a value */
  gtk_range_set_value (GTK_RANGE (tilt), 45);
  assert_near (lw_degrees (get_scene (f).t), 45, 1e-9);
  gtk_range_set_value (GTK_RANGE (heading), 200);
  assert_near (lw_degrees (get_scene (f).c), 200, 1e-9);
}

/* Typed with point or comma, with or without the sign of degrees; what is no angle of the axis
 * turns nothing. */
static void
test_typed_angles (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *text;
    double degrees; /* NAN: refused */
  } cases[] = { { "12.5", 12.5 }, { "−33,5°", -33.5 }, { "-20", -20 },    { " 7 ° ", 7 },
                { "111", NAN },   { "ninety", NAN },   { "12.5.1", NAN }, { "", NAN } };
  GtkWidget *entry = find_nth (f->strip, GTK_TYPE_ENTRY, 0);
  double last = lw_degrees (get_scene (f).t);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    gtk_editable_set_text (GTK_EDITABLE (entry), cases[i].text);
    g_signal_emit_by_name (entry, "activate");
    if (!isnan (cases[i].degrees))
      last = cases[i].degrees;
    assert_near (lw_degrees (get_scene (f).t), last, 1e-9);
    g_assert_cmpint (gtk_widget_has_css_class (entry, "error"), ==, isnan (cases[i].degrees));
  }
}

#define ADD(name, func) g_test_add (name, Fixture, NULL, set_up, func, tear_down)

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  ADD ("/drawing/layers", test_only_what_changed_is_drawn);
  ADD ("/drawing/zoom", test_zoom_and_fit);
  ADD ("/drawing/part", test_part_is_moved_by_its_actions);
  ADD ("/drawing/tip", test_tip_is_moved_by_its_actions);
  ADD ("/strip/turns", test_strip_shows_and_turns);
  ADD ("/strip/typed", test_typed_angles);
  return g_test_run ();
}
