/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/row.h"

#include <glib/gi18n.h>
#include <string.h>

#include "desktop/number.h"

#define LABEL_WIDTH 88   /* px; longer ones wrap */
#define STEP_INCH   0.05 /* of an arrow key, where a step of 1 mm stands in mm */

struct _LwRow {
  GtkBox parent_instance;

  LwForm *form;         /* its parent */
  const LwField *field; /* borrowed from the form */
  GtkWidget *main;      /* the line with label and control */
  GtkWidget *entries[LW_FIELD_MAX];
  GtkWidget *control; /* drop-down, check button, label */
  GtkWidget *unit;
  GtkWidget *message;
  char *shown[LW_FIELD_MAX]; /* what the entries held when they were last filled */
  bool updating;
  bool refused; /* what was typed was not taken */
};

G_DEFINE_FINAL_TYPE (LwRow, lw_row, GTK_TYPE_BOX)

static LwUnit
get_unit (LwRow *row)
{
  return lw_view_get_unit (lw_form_get_view (row->form));
}

static void
show_message (LwRow *row, char *text)
{
  for (int i = 0; i < LW_FIELD_MAX && row->entries[i] != NULL; i++) {
    if (text != NULL)
      gtk_widget_add_css_class (row->entries[i], "error");
    else
      gtk_widget_remove_css_class (row->entries[i], "error");
    gtk_accessible_update_state (
        GTK_ACCESSIBLE (row->entries[i]), GTK_ACCESSIBLE_STATE_INVALID,
        text != NULL ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
  }
  row->refused = text != NULL;
  if (row->field->bare) { /* a cell has no room for it */
    if (text != NULL)
      lw_form_set_error (row->form, g_error_new_literal (LW_ERROR, LW_ERROR_DATA, text));
  } else {
    gtk_label_set_text (GTK_LABEL (row->message), text != NULL ? text : "");
    gtk_widget_set_visible (row->message, text != NULL);
  }
  g_free (text);
}

static void
revert (LwRow *row)
{
  show_message (row, NULL);
  for (int i = 0; i < LW_FIELD_MAX && row->entries[i] != NULL; i++)
    gtk_editable_set_text (GTK_EDITABLE (row->entries[i]),
                           row->shown[i] != NULL ? row->shown[i] : "");
}

/* Hands a value (taken) to the form. The row may be gone afterwards: callers hold it. */
static void
apply (LwRow *row, JsonNode *value, bool coalesce)
{
  g_autoptr (GError) error = NULL;
  LwForm *form = row->form;

  show_message (row, NULL);
  if (lw_form_apply (form, row->field, value, coalesce, &error)) {
    if (gtk_widget_get_root (GTK_WIDGET (row)) != NULL)
      revert (row); /* to the text of the value as it was taken */
  } else if (gtk_widget_get_root (GTK_WIDGET (row)) != NULL) {
    show_message (row, lw_form_dup_message (form, row->field, error));
  }
  g_clear_pointer (&value, json_node_unref);
}

/* ------------------------------------------------------------------------------------------------
 * Entries */

static const char *
get_text (LwRow *row, int i)
{
  return gtk_editable_get_text (GTK_EDITABLE (row->entries[i]));
}

static bool
is_touched (LwRow *row)
{
  for (int i = 0; i < LW_FIELD_MAX && row->entries[i] != NULL; i++)
    if (g_strcmp0 (get_text (row, i), row->shown[i]) != 0)
      return true;
  return false;
}

/* The element at i of what the file has, or NULL. */
static JsonNode *
get_present (const LwField *field, int i)
{
  if (field->value == NULL || field->n == 1)
    return field->value;
  if (!JSON_NODE_HOLDS_ARRAY (field->value)
      || i >= (int)json_array_get_length (json_node_get_array (field->value)))
    return NULL;
  return json_array_get_element (json_node_get_array (field->value), (guint)i);
}

static double
get_number (JsonNode *node)
{
  return node != NULL && JSON_NODE_HOLDS_VALUE (node) ? json_node_get_double (node) : 0;
}

static bool
read_number (LwRow *row, int i, double *value, GError **error)
{
  const LwField *field = row->field;

  /* what was not touched keeps all the digits that the file has */
  if (row->shown[i] != NULL && *row->shown[i] != '\0'
      && g_strcmp0 (get_text (row, i), row->shown[i]) == 0) {
    *value = get_number (get_present (field, i));
    return true;
  }
  if (!lw_number_from_entry (get_text (row, i), field->quantity == LW_QUANTITY_LENGTH,
                             get_unit (row), value, error))
    return false;
  if (!field->whole || *value == round (*value))
    return true;
  g_set_error (error, LW_ERROR, LW_ERROR_DATA, _ ("must be a whole number"));
  return false;
}

static bool
is_blank (LwRow *row)
{
  for (int i = 0; i < LW_FIELD_MAX && row->entries[i] != NULL; i++) {
    g_autofree char *text = g_strstrip (g_strdup (get_text (row, i)));

    if (*text != '\0')
      return false;
  }
  return true;
}

/* NULL with *blank: the field is to be emptied; NULL without: the error is set. */
static JsonNode *
read_entries (LwRow *row, bool *blank, GError **error)
{
  const LwField *field = row->field;
  g_autoptr (JsonNode) node = NULL;
  JsonArray *array;

  *blank = field->absent != NULL && is_blank (row);
  if (*blank)
    return NULL;
  if (field->kind == LW_FIELD_TEXT) {
    g_autofree char *text = g_strstrip (g_strdup (get_text (row, 0)));

    if (*text != '\0')
      return lw_json_new_string (text);
    g_set_error (error, LW_ERROR, LW_ERROR_DATA, _ ("must not be empty"));
    return NULL;
  }
  if (field->n == 1) {
    double value;

    return read_number (row, 0, &value, error) ? lw_json_new_number (value) : NULL;
  }
  array = json_array_new ();
  node = json_node_init_array (json_node_alloc (), array);
  json_array_unref (array);
  for (int i = 0; i < field->n; i++) {
    double value;

    if (!read_number (row, i, &value, error))
      return NULL;
    json_array_add_element (array, lw_json_new_number (value));
  }
  return g_steal_pointer (&node);
}

static void
commit (LwRow *row)
{
  G_GNUC_UNUSED g_autoptr (LwRow) kept = g_object_ref (row);
  g_autoptr (GError) error = NULL;
  JsonNode *value;
  bool blank;

  if (row->updating || gtk_widget_get_root (GTK_WIDGET (row)) == NULL || !is_touched (row))
    return;
  value = read_entries (row, &blank, &error);
  if (value == NULL && !blank) {
    show_message (row, lw_form_dup_message (row->form, row->field, error));
    return;
  }
  apply (row, value, false);
}

static char *
dup_shown (LwRow *row, int i)
{
  const LwField *field = row->field;
  JsonNode *node = get_present (field, i);

  if (node == NULL || !JSON_NODE_HOLDS_VALUE (node))
    return g_strdup ("");
  if (field->kind == LW_FIELD_TEXT)
    return g_strdup (json_node_get_string (node));
  return lw_number_for_entry (json_node_get_double (node), field->quantity == LW_QUANTITY_LENGTH,
                              get_unit (row));
}

/* What was typed and refused stays until the file's value changes. */
static void
fill_entries (LwRow *row)
{
  for (int i = 0; i < LW_FIELD_MAX && row->entries[i] != NULL; i++) {
    g_autofree char *text = dup_shown (row, i);
    bool changed = g_strcmp0 (text, row->shown[i]) != 0;

    gtk_entry_set_placeholder_text (GTK_ENTRY (row->entries[i]), row->field->absent);
    if (!changed
        && (row->refused || gtk_widget_has_focus (gtk_widget_get_first_child (row->entries[i]))))
      continue;
    if (changed && row->refused)
      show_message (row, NULL);
    g_free (row->shown[i]);
    row->shown[i] = g_steal_pointer (&text);
    if (g_strcmp0 (get_text (row, i), row->shown[i]) != 0)
      gtk_editable_set_text (GTK_EDITABLE (row->entries[i]), row->shown[i]);
  }
}

/* One step of an arrow key, as the file counts. */
static double
get_step (LwRow *row)
{
  const LwField *field = row->field;

  if (field->quantity == LW_QUANTITY_LENGTH && get_unit (row) == LW_UNIT_INCH)
    return lw_unit_to_mm (LW_UNIT_INCH, field->step * STEP_INCH);
  return field->step;
}

static void
step_number (LwRow *row, int i, double by)
{
  G_GNUC_UNUSED g_autoptr (LwRow) kept = g_object_ref (row);
  g_autoptr (GError) error = NULL;
  g_autoptr (JsonNode) node = NULL;
  double value;

  if (!read_number (row, i, &value, &error))
    return;
  value = lw_round (value + by * get_step (row), 9, LW_ROUND_NEAREST);
  if (row->field->n == 1) {
    node = lw_json_new_number (value);
  } else {
    JsonArray *array = json_array_new ();

    node = json_node_init_array (json_node_alloc (), array);
    json_array_unref (array);
    for (int k = 0; k < row->field->n; k++)
      json_array_add_element (
          array, lw_json_new_number (k == i ? value : get_number (get_present (row->field, k))));
  }
  apply (row, g_steal_pointer (&node), true);
}

static gboolean
on_key (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, LwRow *row)
{
  GtkWidget *entry = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller));
  double by = state & GDK_SHIFT_MASK ? 10 : 1;

  if (key == GDK_KEY_Escape && is_touched (row)) {
    revert (row);
    return GDK_EVENT_STOP;
  }
  if (row->field->kind != LW_FIELD_NUMBER || (key != GDK_KEY_Up && key != GDK_KEY_Down))
    return GDK_EVENT_PROPAGATE;
  for (int i = 0; i < row->field->n; i++)
    if (row->entries[i] == entry) {
      step_number (row, i, key == GDK_KEY_Up ? by : -by);
      return GDK_EVENT_STOP;
    }
  return GDK_EVENT_PROPAGATE;
}

static void
on_focus_left (LwRow *row)
{
  if (gtk_widget_get_root (GTK_WIDGET (row)) == NULL)
    return;
  commit (row);
  lw_document_end_coalescing (lw_form_get_document (row->form));
}

static GtkWidget *
make_entry (LwRow *row, const LwField *field, int i)
{
  GtkWidget *entry = gtk_entry_new ();
  GtkEventController *key = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  bool narrow = field->n > 1 || field->bare;

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), field->bare ? 4 : narrow ? 4 : 6);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), narrow ? 7 : 12);
  gtk_widget_set_hexpand (entry, TRUE);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (commit), row);
  gtk_event_controller_set_propagation_phase (key, GTK_PHASE_CAPTURE);
  g_signal_connect (key, "key-pressed", G_CALLBACK (on_key), row);
  gtk_widget_add_controller (entry, key);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_focus_left), row);
  gtk_widget_add_controller (entry, focus);
  row->entries[i] = entry;
  return entry;
}

/* ------------------------------------------------------------------------------------------------
 * Other controls */

static guint
find_word (const LwField *field)
{
  JsonNode *node = field->value;
  g_autofree char *number = NULL;
  const char *word = NULL;

  if (node != NULL && JSON_NODE_HOLDS_VALUE (node)) {
    if (field->numeric) {
      char text[LW_NUMBER_SIZE];

      number = g_strdup (lw_number_to_text (json_node_get_double (node), text));
      word = number;
    } else {
      word = json_node_get_string (node);
    }
  }
  for (guint i = 0; field->words[i] != NULL; i++)
    if (g_strcmp0 (field->words[i], word != NULL ? word : "") == 0)
      return i;
  return GTK_INVALID_LIST_POSITION;
}

static void
on_chosen (LwRow *row)
{
  G_GNUC_UNUSED g_autoptr (LwRow) kept = g_object_ref (row);
  guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (row->control));
  const char *word;
  double number;

  if (row->updating || i == GTK_INVALID_LIST_POSITION || i == find_word (row->field))
    return;
  word = row->field->words[i];
  if (*word == '\0') /* "not given" */
    apply (row, NULL, false);
  else if (row->field->numeric && lw_number_from_text (word, '.', &number))
    apply (row, lw_json_new_number (number), false);
  else
    apply (row, lw_json_new_string (word), false);
  if (gtk_widget_get_root (GTK_WIDGET (row)) != NULL)
    lw_row_update (row, row->field);
}

static GtkWidget *
make_choice (LwRow *row, const LwField *field)
{
  row->control = gtk_drop_down_new_from_strings ((const char *const *)field->labels);
  gtk_widget_set_hexpand (row->control, TRUE);
  g_signal_connect_swapped (row->control, "notify::selected", G_CALLBACK (on_chosen), row);
  return row->control;
}

static bool
is_on (const LwField *field)
{
  return field->value != NULL
         && (!JSON_NODE_HOLDS_VALUE (field->value)
             || json_node_get_value_type (field->value) != G_TYPE_BOOLEAN
             || json_node_get_boolean (field->value));
}

static void
on_toggled (LwRow *row)
{
  G_GNUC_UNUSED g_autoptr (LwRow) kept = g_object_ref (row);
  bool on = gtk_check_button_get_active (GTK_CHECK_BUTTON (row->control));

  if (row->updating || on == is_on (row->field))
    return;
  apply (row, lw_json_new_bool (on), false);
  if (gtk_widget_get_root (GTK_WIDGET (row)) != NULL)
    lw_row_update (row, row->field);
}

static void
on_link (LwRow *row)
{
  lw_form_open (row->form, row->field->link);
}

static void
on_button (GtkWidget *button, LwRow *row)
{
  int i = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "index"));

  lw_form_click (row->form, row->field, i);
}

static GtkWidget *
make_label (const char *text, const char *class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, class);
  return label;
}

/* The label that a check button makes itself does not wrap. */
static GtkWidget *
make_switch (const char *text)
{
  GtkWidget *button = gtk_check_button_new ();

  gtk_check_button_set_child (GTK_CHECK_BUTTON (button), make_label (text, "row-title"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  return button;
}

static GtkWidget *
make_link (LwRow *row, const LwField *field)
{
  GtkWidget *button = gtk_button_new ();
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *texts = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  row->control = make_label ("", "summary");
  gtk_box_append (GTK_BOX (texts), make_label (field->label, "row-title"));
  gtk_box_append (GTK_BOX (texts), row->control);
  gtk_widget_set_hexpand (texts, TRUE);
  gtk_box_append (GTK_BOX (line), texts);
  gtk_box_append (GTK_BOX (line), gtk_image_new_from_icon_name ("go-next-symbolic"));
  gtk_button_set_child (GTK_BUTTON (button), line);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_hexpand (button, TRUE);
  gtk_widget_add_css_class (button, "link-row");
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  field->label, -1);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_link), row);
  return button;
}

static void
add_buttons (LwRow *row, const LwField *field)
{
  for (int i = 0; i < LW_FIELD_MAX && field->clicked[i] != NULL; i++) {
    GtkWidget *button = gtk_button_new_with_label (field->button_labels[i]);

    g_object_set_data (G_OBJECT (button), "index", GINT_TO_POINTER (i));
    gtk_widget_add_css_class (button, "small");
    if (field->text != NULL)
      gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                      field->text, -1);
    g_signal_connect (button, "clicked", G_CALLBACK (on_button), row);
    gtk_box_append (GTK_BOX (row->main), button);
  }
}

/* ------------------------------------------------------------------------------------------------
 * Row */

static const char *const axis_names[] = { "X", "Y", "Z" };

static void
name_entries (LwRow *row)
{
  g_autofree char *unit = lw_field_dup_unit (row->field, get_unit (row));

  for (int i = 0; i < (int)G_N_ELEMENTS (axis_names) && row->entries[i] != NULL; i++) {
    g_autoptr (GString) name = g_string_new (row->field->label);

    if (row->field->n > 1)
      g_string_append_printf (name, " %s", axis_names[i]);
    if (*unit != '\0')
      g_string_append_printf (name, ", %s", unit);
    gtk_accessible_update_property (GTK_ACCESSIBLE (row->entries[i]), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                    name->str, -1);
    gtk_widget_set_tooltip_text (row->entries[i], name->str);
  }
  if (row->unit != NULL) {
    gtk_label_set_text (GTK_LABEL (row->unit), unit);
    gtk_widget_set_visible (row->unit, *unit != '\0' || row->field->n > 1);
  }
}

static void
add_entries (LwRow *row, const LwField *field)
{
  int n = field->kind == LW_FIELD_NUMBER ? field->n : 1;

  g_assert (n <= (int)G_N_ELEMENTS (axis_names));
  for (int i = 0; i < n; i++)
    gtk_box_append (GTK_BOX (row->main), make_entry (row, field, i));
  if (field->kind == LW_FIELD_NUMBER && !field->bare) {
    row->unit = make_label ("", "unit");
    gtk_label_set_width_chars (GTK_LABEL (row->unit), 2);
    gtk_label_set_wrap (GTK_LABEL (row->unit), FALSE);
    gtk_box_append (GTK_BOX (row->main), row->unit);
  }
}

static void
add_label (LwRow *row, const LwField *field)
{
  GtkWidget *label;

  if (field->bare)
    return;
  label = make_label (field->label, "field-label");
  gtk_label_set_max_width_chars (GTK_LABEL (label), 1);
  gtk_widget_set_size_request (label, LABEL_WIDTH, -1);
  gtk_box_append (GTK_BOX (row->main), label);
}

static void
make_control (LwRow *row, const LwField *field)
{
  switch (field->kind) {
  case LW_FIELD_SECTION:
    row->control = make_label (field->label, "section");
    gtk_box_append (GTK_BOX (row->main), row->control);
    break;
  case LW_FIELD_NOTE:
    row->control = make_label ("", "note");
    gtk_box_append (GTK_BOX (row->main), row->control);
    break;
  case LW_FIELD_TEXT:
  case LW_FIELD_NUMBER:
    add_label (row, field);
    add_entries (row, field);
    break;
  case LW_FIELD_CHOICE:
    add_label (row, field);
    gtk_box_append (GTK_BOX (row->main), make_choice (row, field));
    gtk_accessible_update_property (GTK_ACCESSIBLE (row->control), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                    field->label, -1);
    break;
  case LW_FIELD_SWITCH:
    row->control = make_switch (field->label);
    g_signal_connect_swapped (row->control, "toggled", G_CALLBACK (on_toggled), row);
    gtk_box_append (GTK_BOX (row->main), row->control);
    break;
  case LW_FIELD_LINK:
    gtk_box_append (GTK_BOX (row->main), make_link (row, field));
    break;
  case LW_FIELD_BUTTONS:
    add_buttons (row, field);
    break;
  case LW_FIELD_WIDGET:
    row->control = field->make (row->form, field);
    gtk_widget_set_hexpand (row->control, TRUE);
    gtk_box_append (GTK_BOX (row->main), row->control);
    break;
  }
}

void
lw_row_update (LwRow *row, const LwField *field)
{
  row->field = field;
  row->updating = true;
  switch (field->kind) {
  case LW_FIELD_TEXT:
  case LW_FIELD_NUMBER:
    name_entries (row);
    fill_entries (row);
    break;
  case LW_FIELD_CHOICE:
    gtk_drop_down_set_selected (GTK_DROP_DOWN (row->control), find_word (field));
    break;
  case LW_FIELD_SWITCH:
    gtk_check_button_set_active (GTK_CHECK_BUTTON (row->control), is_on (field));
    break;
  case LW_FIELD_NOTE:
  case LW_FIELD_LINK:
    gtk_label_set_text (GTK_LABEL (row->control), field->text != NULL ? field->text : "");
    gtk_widget_set_visible (row->control,
                            field->bare || (field->text != NULL && *field->text != '\0'));
    break;
  default:
    break;
  }
  row->updating = false;
}

static void
lw_row_finalize (GObject *object)
{
  LwRow *row = LW_ROW (object);

  for (int i = 0; i < LW_FIELD_MAX; i++)
    g_free (row->shown[i]);
  G_OBJECT_CLASS (lw_row_parent_class)->finalize (object);
}

static void
lw_row_class_init (LwRowClass *class)
{
  G_OBJECT_CLASS (class)->finalize = lw_row_finalize;
}

static void
lw_row_init (LwRow *row)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (row), GTK_ORIENTATION_VERTICAL);
  row->main = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_box_append (GTK_BOX (row), row->main);
  row->message = make_label ("", "problem");
  gtk_widget_set_visible (row->message, FALSE);
  gtk_box_append (GTK_BOX (row), row->message);
}

GtkWidget *
lw_row_new (LwForm *form, const LwField *field)
{
  LwRow *row = LW_ROW (g_object_new (LW_TYPE_ROW, NULL));

  row->form = form;
  row->field = field;
  gtk_widget_set_hexpand (GTK_WIDGET (row), field->width == 0);
  if (field->n > 1)
    gtk_widget_add_css_class (GTK_WIDGET (row), "triple");
  if (field->bare) {
    gtk_widget_add_css_class (GTK_WIDGET (row), "cell");
    gtk_widget_set_size_request (GTK_WIDGET (row), field->width > 0 ? field->width : 1, -1);
  }
  make_control (row, field);
  return GTK_WIDGET (row);
}
