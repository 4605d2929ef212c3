/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "draw/label.h"

/* Layouts of two generations: when the young one is full the old one goes. */
#define GENERATION 256

struct _LwLabels {
  PangoContext *context;
  char *family;
  double text;
  GPtrArray *texts;        /* borrowed; what is drawn is added */
  GHashTable *young, *old; /* "kind text" → PangoLayout */
};

LwLabels *
lw_labels_new (double text)
{
  LwLabels *labels = g_new0 (LwLabels, 1);
  cairo_font_options_t *options = cairo_font_options_create ();

  labels->context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options (labels->context, options);
  cairo_font_options_destroy (options);
  labels->text = text;
  labels->young = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  labels->old = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  return labels;
}

void
lw_labels_free (LwLabels *labels)
{
  if (labels == NULL)
    return;
  g_hash_table_unref (labels->young);
  g_hash_table_unref (labels->old);
  g_object_unref (labels->context);
  g_free (labels->family);
  g_free (labels);
}

void
lw_labels_set_font (LwLabels *labels, const char *family, double text)
{
  if (g_strcmp0 (family, labels->family) == 0 && text == labels->text)
    return;
  g_free (labels->family);
  labels->family = g_strdup (family);
  labels->text = text;
  g_hash_table_remove_all (labels->young);
  g_hash_table_remove_all (labels->old);
}

void
lw_labels_collect (LwLabels *labels, GPtrArray *texts)
{
  labels->texts = texts;
}

static PangoLayout *
make_layout (LwLabels *labels, const char *text, LwTextKind kind)
{
  static const double sizes[] = { 1, 1, 1.05, 1.35 };
  PangoFontDescription *font = pango_font_description_new ();
  PangoLayout *layout = pango_layout_new (labels->context);
  PangoAttrList *attributes = pango_attr_list_new ();

  pango_font_description_set_family (font, labels->family ? labels->family : "sans-serif");
  pango_font_description_set_absolute_size (font, labels->text * sizes[kind] * PANGO_SCALE);
  if (kind != LW_TEXT_SMALL)
    pango_font_description_set_weight (font, PANGO_WEIGHT_SEMIBOLD);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  /* Digits of one width: numbers that change must not jump. */
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
  pango_layout_set_text (layout, text, -1);
  return layout;
}

static PangoLayout *
get_layout (LwLabels *labels, const char *text, LwTextKind kind)
{
  g_autofree char *key = g_strdup_printf ("%d %s", kind, text);
  PangoLayout *layout = g_hash_table_lookup (labels->young, key);
  GHashTable *table;

  if (layout != NULL)
    return layout;
  if (g_hash_table_size (labels->young) >= GENERATION) {
    table = labels->old;
    labels->old = labels->young;
    labels->young = table;
    g_hash_table_remove_all (table);
  }
  layout = g_hash_table_lookup (labels->old, key);
  layout = layout != NULL ? g_object_ref (layout) : make_layout (labels, text, kind);
  g_hash_table_insert (labels->young, g_steal_pointer (&key), layout);
  return layout;
}

void
lw_labels_get_size (LwLabels *labels, const char *text, LwTextKind kind, double *width,
                    double *height)
{
  int w, h;

  pango_layout_get_size (get_layout (labels, text, kind), &w, &h);
  *width = (double)w / PANGO_SCALE;
  *height = (double)h / PANGO_SCALE;
}

void
lw_labels_draw (LwLabels *labels, cairo_t *cr, const char *text, LwTextKind kind, double x,
                double y, double anchor_x, double anchor_y, bool quarter)
{
  PangoLayout *layout = get_layout (labels, text, kind);
  int w, h;

  if (labels->texts != NULL)
    g_ptr_array_add (labels->texts, g_strdup (text));
  pango_layout_get_size (layout, &w, &h);
  cairo_save (cr);
  if (quarter) {
    cairo_translate (cr, x - anchor_x * h / PANGO_SCALE, y + (1 - anchor_y) * w / PANGO_SCALE);
    cairo_rotate (cr, -LW_PI / 2);
  } else
    cairo_translate (cr, x - anchor_x * w / PANGO_SCALE, y - anchor_y * h / PANGO_SCALE);
  cairo_move_to (cr, 0, 0);
  pango_cairo_show_layout (cr, layout);
  cairo_restore (cr);
  cairo_new_path (cr);
}

void
lw_placer_start (LwPlacer *placer, LwRect bounds)
{
  placer->bounds = bounds;
  placer->n_taken = 0;
  placer->backing = (LwColor){ 0 };
}

void
lw_placer_take (LwPlacer *placer, LwRect rect)
{
  if (placer->n_taken < (int)G_N_ELEMENTS (placer->taken))
    placer->taken[placer->n_taken++] = rect;
}

bool
lw_placer_is_free (const LwPlacer *placer, LwRect rect)
{
  if (rect.x0 < placer->bounds.x0 || rect.x1 > placer->bounds.x1 || rect.y0 < placer->bounds.y0
      || rect.y1 > placer->bounds.y1)
    return false;
  for (int i = 0; i < placer->n_taken; i++)
    if (lw_rect_overlaps (placer->taken[i], rect))
      return false;
  return true;
}

static void
lay_backing (cairo_t *cr, LwColor color, LwRect r)
{
  cairo_pattern_t *source = cairo_pattern_reference (cairo_get_source (cr));

  cairo_set_source_rgba (cr, color.r, color.g, color.b, color.a);
  cairo_rectangle (cr, r.x0 - 1, r.y0 + 1, r.x1 - r.x0 + 2, r.y1 - r.y0 - 2);
  cairo_fill (cr);
  cairo_set_source (cr, source);
  cairo_pattern_destroy (source);
}

bool
lw_labels_place (LwLabels *labels, cairo_t *cr, LwPlacer *placer, const char *text, LwTextKind kind,
                 const LwPlace *places, int n_places, bool quarter)
{
  double w, h;

  lw_labels_get_size (labels, text, kind, &w, &h);
  for (int i = 0; i < n_places; i++) {
    LwPlace p = places[i];
    double bw = quarter ? h : w, bh = quarter ? w : h;
    double x = p.x - p.anchor_x * bw, y = p.y - p.anchor_y * bh;
    LwRect rect = { x, y, x + bw, y + bh };

    if (!lw_placer_is_free (placer, rect))
      continue;
    if (placer->backing.a > 0)
      lay_backing (cr, placer->backing, rect);
    lw_labels_draw (labels, cr, text, kind, p.x, p.y, p.anchor_x, p.anchor_y, quarter);
    lw_placer_take (placer, rect);
    return true;
  }
  return false;
}
