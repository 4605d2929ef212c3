/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/form.h"

#include <glib/gi18n.h>
#include <string.h>

#include "desktop/row.h"

struct _LwForm {
  GtkBox parent_instance;

  GtkWidget *message; /* what went wrong */
  LwView *view;
  LwSubject subject;
  LwFormBuild build;
  char *base;        /* the subject's path */
  GPtrArray *fields; /* LwField, shown */
  GPtrArray *rows;   /* their LwRow, borrowed */
  GPtrArray *fresh;  /* while the build function runs */
};

G_DEFINE_FINAL_TYPE (LwForm, lw_form, GTK_TYPE_BOX)

enum {
  OPEN,
  LEAVE,
  PICK,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void
field_free (gpointer data)
{
  LwField *field = data;

  g_free (field->label);
  g_free (field->path);
  g_free (field->text);
  g_strfreev (field->words);
  g_strfreev (field->labels);
  g_clear_pointer (&field->value, json_node_unref);
  g_free (field);
}

/* ------------------------------------------------------------------------------------------------
 * Showing */

/* Two fields for which the same widgets will do. */
static bool
is_alike (const LwField *a, const LwField *b)
{
  if (a->kind != b->kind || a->n != b->n || a->make != b->make || a->index != b->index
      || a->numeric != b->numeric || a->bare != b->bare || a->starts_line != b->starts_line
      || g_strcmp0 (a->path, b->path) != 0 || g_strcmp0 (a->label, b->label) != 0)
    return false;
  if ((a->labels == NULL) != (b->labels == NULL)
      || (a->labels != NULL
          && (!g_strv_equal ((const char *const *)a->labels, (const char *const *)b->labels)
              || !g_strv_equal ((const char *const *)a->words, (const char *const *)b->words))))
    return false;
  for (int i = 0; i < LW_FIELD_MAX; i++)
    if (a->clicked[i] != b->clicked[i])
      return false;
  return true;
}

static bool
fits_rows (LwForm *form)
{
  if (form->fields == NULL || form->fields->len != form->fresh->len)
    return false;
  for (guint i = 0; i < form->fields->len; i++)
    if (!is_alike (g_ptr_array_index (form->fields, i), g_ptr_array_index (form->fresh, i)))
      return false;
  return true;
}

/* Path of the field that has the keyboard, to give it back after its row was made anew. */
static char *
dup_focused (LwForm *form)
{
  for (guint i = 0; i < form->rows->len; i++) {
    const LwField *field = g_ptr_array_index (form->fields, i);

    if (gtk_widget_get_focus_child (g_ptr_array_index (form->rows, i)) != NULL)
      return g_strdup (field->path);
  }
  return NULL;
}

static void
remove_rows (LwForm *form)
{
  GtkWidget *child = gtk_widget_get_next_sibling (form->message);

  while (child != NULL) {
    GtkWidget *next = gtk_widget_get_next_sibling (child);

    gtk_box_remove (GTK_BOX (form), child);
    child = next;
  }
  g_ptr_array_set_size (form->rows, 0);
}

static void
make_rows (LwForm *form)
{
  g_autofree char *focused = dup_focused (form);
  GtkWidget *line = NULL;

  remove_rows (form);
  for (guint i = 0; i < form->fresh->len; i++) {
    LwField *field = g_ptr_array_index (form->fresh, i);
    GtkWidget *row = lw_row_new (form, field);

    if (field->bare && (field->starts_line || line == NULL)) {
      line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);
      gtk_box_append (GTK_BOX (form), line);
    } else if (!field->bare) {
      line = NULL;
    }
    gtk_box_append (GTK_BOX (line != NULL ? line : GTK_WIDGET (form)), row);
    g_ptr_array_add (form->rows, row);
    if (focused != NULL && g_strcmp0 (field->path, focused) == 0)
      gtk_widget_child_focus (row, GTK_DIR_TAB_FORWARD);
  }
}

static void
refresh (LwForm *form)
{
  LwJob *job = lw_document_get_job (lw_view_get_document (form->view));
  bool fits;

  if (form->build == NULL || !lw_subject_exists (form->subject, job))
    return;
  form->fresh = g_ptr_array_new_with_free_func (field_free);
  form->build (form, job, form->subject);
  fits = fits_rows (form);
  if (!fits)
    make_rows (form);
  g_clear_pointer (&form->fields, g_ptr_array_unref);
  form->fields = g_steal_pointer (&form->fresh);
  for (guint i = 0; i < form->rows->len; i++)
    lw_row_update (g_ptr_array_index (form->rows, i), g_ptr_array_index (form->fields, i));
}

void
lw_form_show (LwForm *form, LwSubject subject, LwFormBuild build)
{
  lw_form_set_error (form, NULL);
  remove_rows (form);
  g_clear_pointer (&form->fields, g_ptr_array_unref);
  form->subject = subject;
  form->build = build;
  g_free (form->base);
  form->base = lw_subject_dup_path (subject);
  refresh (form);
}

void
lw_form_set_error (LwForm *form, GError *error)
{
  g_autofree char *text = error != NULL ? lw_form_dup_message (form, NULL, error) : NULL;

  gtk_label_set_text (GTK_LABEL (form->message), text != NULL ? text : "");
  gtk_widget_set_visible (form->message, text != NULL);
  g_clear_error (&error);
}

/* ------------------------------------------------------------------------------------------------
 * Edits */

char *
lw_form_dup_message (LwForm *form, const LwField *field, const GError *error)
{
  const LwJob *job = lw_document_get_job (lw_view_get_document (form->view));
  const char *text = error->message;
  const char *path = field != NULL ? field->path : NULL;

  if (job != NULL && g_str_has_prefix (text, job->name) && text[strlen (job->name)] == ':')
    text += strlen (job->name) + 1;
  while (*text == ' ')
    text++;
  if (path != NULL && g_str_has_prefix (text, path) && text[strlen (path)] == ':')
    text += strlen (path) + 1;
  while (*text == ' ')
    text++;
  if (field != NULL && field->quantity == LW_QUANTITY_LENGTH
      && lw_view_get_unit (form->view) == LW_UNIT_INCH)
    return g_strdup_printf (_ ("%s (numbers in this message are mm)"), text);
  return g_strdup (text);
}

bool
lw_form_apply (LwForm *form, const LwField *field, JsonNode *value, bool coalesce, GError **error)
{
  g_autofree char *name = g_strdup_printf (_ ("Change “%s”"), field->label);
  G_GNUC_UNUSED g_autoptr (GPtrArray) kept =
      g_ptr_array_ref (form->fields); /* field lives on in it */

  lw_form_set_error (form, NULL);
  if (field->apply != NULL)
    return field->apply (form, field, value, error);
  return lw_document_set (lw_view_get_document (form->view), field->path,
                          value != NULL ? json_node_ref (value) : NULL, name,
                          coalesce ? field->path : NULL, error);
}

void
lw_form_click (LwForm *form, const LwField *field, int button)
{
  G_GNUC_UNUSED g_autoptr (GPtrArray) kept = g_ptr_array_ref (form->fields);

  lw_form_set_error (form, NULL);
  field->clicked[button](form, field);
}

bool
lw_form_commit (LwForm *form, LwEdit *edit, const char *name)
{
  GError *error = NULL;
  bool done = lw_edit_commit (edit, name, NULL, &error);

  lw_form_set_error (form, error);
  return done;
}

void
lw_form_open (LwForm *form, LwSubject subject)
{
  g_signal_emit (form, signals[OPEN], 0, &subject);
}

void
lw_form_leave (LwForm *form)
{
  g_signal_emit (form, signals[LEAVE], 0);
}

void
lw_form_pick (LwForm *form, int purpose)
{
  g_signal_emit (form, signals[PICK], 0, purpose);
}

LwView *
lw_form_get_view (LwForm *form)
{
  return form->view;
}

LwDocument *
lw_form_get_document (LwForm *form)
{
  return lw_view_get_document (form->view);
}

LwSubject
lw_form_get_subject (LwForm *form)
{
  return form->subject;
}

/* ------------------------------------------------------------------------------------------------
 * Building */

static LwField *
add (LwForm *form, LwFieldKind kind, const char *label)
{
  LwField *field = g_new0 (LwField, 1);

  field->kind = kind;
  field->label = g_strdup (label);
  field->n = 1;
  field->per = "";
  field->step = 1;
  g_ptr_array_add (form->fresh, field);
  return field;
}

static LwField *G_GNUC_PRINTF (4, 0) add_bound (LwForm *form, LwFieldKind kind, const char *label,
                                                const char *path_format, va_list args)
{
  LwJob *job = lw_document_get_job (lw_view_get_document (form->view));
  LwField *field = add (form, kind, label);
  g_autofree char *path = g_strdup_vprintf (path_format, args);
  JsonNode *node;

  if (path[0] == '/' || form->base[0] == '\0')
    field->path = g_strdup (path[0] == '/' ? path + 1 : path);
  else
    field->path = g_strdup_printf ("%s.%s", form->base, path);
  node = lw_json_get (job->node, field->path);
  field->value = node != NULL ? json_node_ref (node) : NULL;
  return field;
}

#define ADD_BOUND(field, kind)                                  \
  do {                                                          \
    va_list args;                                               \
    va_start (args, path_format);                               \
    (field) = add_bound (form, kind, label, path_format, args); \
    va_end (args);                                              \
  } while (0)

LwField *
lw_form_section (LwForm *form, const char *title)
{
  return add (form, LW_FIELD_SECTION, title);
}

LwField *
lw_form_note (LwForm *form, const char *text)
{
  LwField *field = add (form, LW_FIELD_NOTE, "");

  field->text = g_strdup (text);
  return field;
}

LwField *
lw_form_text (LwForm *form, const char *label, const char *path_format, ...)
{
  LwField *field;

  ADD_BOUND (field, LW_FIELD_TEXT);
  return field;
}

LwField *
lw_form_length (LwForm *form, const char *label, const char *path_format, ...)
{
  LwField *field;

  ADD_BOUND (field, LW_FIELD_NUMBER);
  field->quantity = LW_QUANTITY_LENGTH;
  return field;
}

LwField *
lw_form_angle (LwForm *form, const char *label, const char *path_format, ...)
{
  LwField *field;

  ADD_BOUND (field, LW_FIELD_NUMBER);
  field->per = "°";
  return field;
}

LwField *
lw_form_number (LwForm *form, const char *label, const char *unit, const char *path_format, ...)
{
  LwField *field;

  ADD_BOUND (field, LW_FIELD_NUMBER);
  field->per = unit;
  return field;
}

LwField *
lw_form_place (LwForm *form, const char *label, const char *path_format, ...)
{
  LwField *field;

  ADD_BOUND (field, LW_FIELD_NUMBER);
  field->quantity = LW_QUANTITY_LENGTH;
  field->n = 3;
  return field;
}

LwField *
lw_form_direction (LwForm *form, const char *label, const char *path_format, ...)
{
  LwField *field;

  ADD_BOUND (field, LW_FIELD_NUMBER);
  field->n = 3;
  field->step = 0.1;
  return field;
}

LwField *
lw_form_choice (LwForm *form, const char *label, const char *const *words,
                const char *const *labels, const char *path_format, ...)
{
  LwField *field;
  int n = (int)g_strv_length ((char **)words);

  ADD_BOUND (field, LW_FIELD_CHOICE);
  field->words = g_strdupv ((char **)words);
  field->labels = g_new0 (char *, n + 1);
  for (int i = 0; i < n; i++)
    field->labels[i] = g_strdup (_ (labels[i]));
  return field;
}

LwField *
lw_form_switch (LwForm *form, const char *label, const char *path_format, ...)
{
  LwField *field;

  ADD_BOUND (field, LW_FIELD_SWITCH);
  return field;
}

LwField *
lw_form_link (LwForm *form, const char *label, const char *summary, LwSubject subject)
{
  LwField *field = add (form, LW_FIELD_LINK, label);

  field->text = g_strdup (summary);
  field->link = subject;
  field->index = subject.index;
  return field;
}

LwField *
lw_form_buttons (LwForm *form, const char *first, LwFieldClicked clicked)
{
  LwField *field = add (form, LW_FIELD_BUTTONS, first);

  lw_field_add_button (field, first, clicked);
  return field;
}

void
lw_field_add_button (LwField *field, const char *label, LwFieldClicked clicked)
{
  for (int i = 0; i < LW_FIELD_MAX; i++)
    if (field->clicked[i] == NULL) {
      field->clicked[i] = clicked;
      field->button_labels[i] = label;
      return;
    }
  g_assert_not_reached ();
}

LwField *
lw_form_widget (LwForm *form, const char *label,
                GtkWidget *(*make) (LwForm *form, const LwField *field))
{
  LwField *field = add (form, LW_FIELD_WIDGET, label);

  field->make = make;
  return field;
}

LwField *
lw_field_make_cell (LwField *field, bool starts_line, int width)
{
  field->width = width;
  field->bare = true;
  field->starts_line = starts_line;
  return field;
}

void
lw_field_take_value (LwField *field, JsonNode *value)
{
  g_clear_pointer (&field->value, json_node_unref);
  field->value = value;
}

char *
lw_field_dup_unit (const LwField *field, LwUnit unit)
{
  if (field->quantity == LW_QUANTITY_LENGTH)
    return g_strconcat (lw_unit_get_symbol (unit), field->per, NULL);
  return g_strdup (field->per);
}

/* ------------------------------------------------------------------------------------------------
 * Object */

static void
lw_form_dispose (GObject *object)
{
  LwForm *form = LW_FORM (object);

  if (form->view != NULL)
    g_signal_handlers_disconnect_by_data (form->view, form);
  g_clear_object (&form->view);
  g_clear_pointer (&form->fields, g_ptr_array_unref);
  g_clear_pointer (&form->rows, g_ptr_array_unref);
  g_clear_pointer (&form->base, g_free);
  form->build = NULL;
  G_OBJECT_CLASS (lw_form_parent_class)->dispose (object);
}

static void
lw_form_class_init (LwFormClass *class)
{
  GType type = G_OBJECT_CLASS_TYPE (class);

  G_OBJECT_CLASS (class)->dispose = lw_form_dispose;
  signals[OPEN] = g_signal_new ("open", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                1, G_TYPE_POINTER);
  signals[LEAVE] =
      g_signal_new ("leave", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[PICK] = g_signal_new ("pick", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                1, G_TYPE_INT);
}

static void
lw_form_init (LwForm *form)
{
  form->rows = g_ptr_array_new ();
  gtk_orientable_set_orientation (GTK_ORIENTABLE (form), GTK_ORIENTATION_VERTICAL);
  gtk_widget_add_css_class (GTK_WIDGET (form), "form");
  form->message = g_object_new (GTK_TYPE_LABEL, "wrap", TRUE, "xalign", 0.0, "visible", FALSE,
                                "accessible-role", GTK_ACCESSIBLE_ROLE_ALERT, NULL);
  gtk_widget_add_css_class (form->message, "problem");
  gtk_box_append (GTK_BOX (form), form->message);
}

GtkWidget *
lw_form_new (LwView *view)
{
  LwForm *form = LW_FORM (g_object_new (LW_TYPE_FORM, NULL));

  form->view = g_object_ref (view);
  g_signal_connect_swapped (view, "changed", G_CALLBACK (refresh), form);
  return GTK_WIDGET (form);
}
