/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "desktop/new-dialog.h"

#include <glib/gi18n.h>
#include <string.h>

#include "desktop/editors.h"
#include "desktop/files.h"
#include "session/library.h"

typedef enum {
  NEW_JOB,
  NEW_PART,
  NEW_MACHINE,
} Purpose;

#define N_UNITS 5
static const char *const unit_words[N_UNITS] = { "mm", "cm", "m", "in", "ft" };

#define LW_TYPE_NEW_DIALOG (lw_new_dialog_get_type ())
G_DECLARE_FINAL_TYPE (LwNewDialog, lw_new_dialog, LW, NEW_DIALOG, GtkWindow)

struct _LwNewDialog {
  GtkWindow parent_instance;

  GtkWidget *machine_label, *machine_box, *machine, *part_label, *part, *units_label, *units;
  GtkWidget *title_label, *title, *facts, *problem, *spinner, *create; /* template */
  GtkWidget *unit_buttons[N_UNITS];

  LwWindow *window;
  Purpose purpose;
  int part_index;
  GPtrArray *machines; /* LwMachine, as in the drop-down */
  char *mesh_path;
  LwMeshFacts facts_of; /* in file units */
  bool facts_known;
  bool busy;
};

G_DEFINE_FINAL_TYPE (LwNewDialog, lw_new_dialog, GTK_TYPE_WINDOW)

static void
show_problem (LwNewDialog *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->problem), text != NULL ? text : "");
  gtk_widget_set_visible (self->problem, text != NULL);
}

static int
get_unit (LwNewDialog *self)
{
  for (int i = 0; i < N_UNITS; i++)
    if (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->unit_buttons[i])))
      return i;
  return -1;
}

static LwMachine *
get_machine (LwNewDialog *self)
{
  guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->machine));

  return i < self->machines->len ? g_ptr_array_index (self->machines, i) : NULL;
}

static void
update (LwNewDialog *self)
{
  bool machine = self->purpose == NEW_PART || get_machine (self) != NULL;
  bool part = self->purpose == NEW_MACHINE || (self->facts_known && get_unit (self) >= 0);

  gtk_widget_set_sensitive (self->create, machine && part && !self->busy);
  gtk_widget_set_visible (self->spinner, self->busy);
  gtk_spinner_set_spinning (GTK_SPINNER (self->spinner), self->busy);
}

/* ------------------------------------------------------------------------------------------------
 * Machine */

static void
add_machine (LwNewDialog *self, LwMachine *machine, bool shipped)
{
  GListModel *model = gtk_drop_down_get_model (GTK_DROP_DOWN (self->machine));
  g_autofree char *summary = lw_machine_dup_summary (machine);
  g_autofree char *text = g_strdup_printf (shipped ? _ ("%s (example) · %s") : "%s · %s",
                                           machine->name != NULL ? machine->name : "?", summary);

  g_ptr_array_add (self->machines, lw_machine_ref (machine));
  gtk_string_list_append (GTK_STRING_LIST (model), text);
}

static void
fill_machines (LwNewDialog *self)
{
  g_autoptr (GPtrArray) library = lw_library_list_machines ();

  gtk_drop_down_set_model (GTK_DROP_DOWN (self->machine),
                           G_LIST_MODEL (gtk_string_list_new (NULL)));
  for (guint i = 0; i < library->len; i++) {
    const LwLibraryMachine *entry = g_ptr_array_index (library, i);

    if (entry->machine != NULL)
      add_machine (self, entry->machine, entry->shipped);
    else
      show_problem (self, entry->problem);
  }
}

static void
on_machine_chosen (LwWindow *window, const char *path, gpointer data)
{
  LwNewDialog *self = LW_NEW_DIALOG (data);
  g_autoptr (GError) error = NULL;
  g_autoptr (LwMachine) machine = lw_machine_load (path, &error);

  show_problem (self, machine == NULL ? error->message : NULL);
  if (machine == NULL)
    return;
  add_machine (self, machine, false);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->machine), self->machines->len - 1);
  update (self);
}

static void
on_machine_file (LwNewDialog *self)
{
  lw_files_choose (self->window, GTK_WINDOW (self), _ ("Choose a machine"),
                   GTK_FILE_CHOOSER_ACTION_OPEN, _ ("Machines"), lw_machine_patterns, NULL,
                   on_machine_chosen, self);
}

/* ------------------------------------------------------------------------------------------------
 * Part */

static void
show_sizes (LwNewDialog *self)
{
  LwVec3 size = lw_vec3_sub (self->facts_of.box.high, self->facts_of.box.low);
  LwUnit shown = lw_view_get_unit (lw_window_get_view (self->window));

  for (int i = 0; i < N_UNITS; i++) {
    g_autofree char *text =
        lw_dup_size (lw_vec3_scale (size, lw_length_unit_to_mm (unit_words[i])), shown);
    g_autofree char *label = g_strdup_printf ("%s:  %s", unit_words[i], text);

    gtk_check_button_set_label (GTK_CHECK_BUTTON (self->unit_buttons[i]),
                                self->facts_known ? label : unit_words[i]);
  }
}

typedef struct {
  char *path;
  LwMeshFacts facts;
} Reading;

static void
reading_free (gpointer data)
{
  Reading *reading = data;

  g_free (reading->path);
  g_free (reading);
}

static void
read_mesh (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Reading *reading = data;
  LwMeshFile file = { 0 };
  GError *error = NULL;

  if (!lw_mesh_file_load (&file, reading->path, 1, NULL, &error)) {
    g_task_return_error (task, error);
    return;
  }
  reading->facts = *lw_mesh_get_facts (file.mesh);
  lw_mesh_file_clear (&file);
  g_task_return_boolean (task, TRUE);
}

static void
on_mesh_read (GObject *source, GAsyncResult *result, gpointer data)
{
  LwNewDialog *self = LW_NEW_DIALOG (source);
  const Reading *reading = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  g_autofree char *facts = NULL;
  bool good = g_task_propagate_boolean (G_TASK (result), &error);

  if (g_strcmp0 (reading->path, self->mesh_path) != 0)
    return;
  self->busy = false;
  self->facts_known = good;
  show_problem (self, good ? NULL : error->message);
  if (good) {
    self->facts_of = reading->facts;
    facts = g_strdup_printf (reading->facts.closed ? _ ("%u triangles, closed")
                                                   : _ ("%u triangles, not closed"),
                             reading->facts.read);
  }
  gtk_label_set_text (GTK_LABEL (self->facts), facts != NULL ? facts : "");
  show_sizes (self);
  update (self);
}

static char *
dup_stem (const char *path)
{
  char *name = g_path_get_basename (path);
  char *dot = strchr (name, '.');

  if (dot != NULL && dot != name)
    *dot = '\0';
  return name;
}

static void
set_mesh (LwNewDialog *self, const char *path)
{
  g_autofree char *name = g_filename_display_basename (path);
  g_autofree char *stem = dup_stem (path);
  g_autoptr (GTask) task = g_task_new (self, NULL, on_mesh_read, NULL);
  Reading *reading = g_new0 (Reading, 1);

  g_free (self->mesh_path);
  self->mesh_path = g_canonicalize_filename (path, NULL);
  gtk_button_set_label (GTK_BUTTON (self->part), name);
  if (*gtk_editable_get_text (GTK_EDITABLE (self->title)) == '\0')
    gtk_editable_set_text (GTK_EDITABLE (self->title), stem);
  self->facts_known = false;
  self->busy = true;
  show_problem (self, NULL);
  gtk_label_set_text (GTK_LABEL (self->facts), _ ("reading …"));
  update (self);
  reading->path = g_strdup (self->mesh_path);
  g_task_set_task_data (task, reading, reading_free);
  g_task_run_in_thread (task, read_mesh);
}

static void
on_mesh_chosen (LwWindow *window, const char *path, gpointer data)
{
  set_mesh (LW_NEW_DIALOG (data), path);
}

static void
on_part_file (LwNewDialog *self)
{
  lw_files_choose (self->window, GTK_WINDOW (self), _ ("Choose a part"),
                   GTK_FILE_CHOOSER_ACTION_OPEN, _ ("Meshes (STL)"), lw_mesh_patterns, NULL,
                   on_mesh_chosen, self);
}

/* ------------------------------------------------------------------------------------------------
 * Doing it. Meshes are read on a thread: the store keeps them for the job. */

typedef struct {
  Purpose purpose;
  LwMachine *machine; /* may be NULL */
  LwMeshStore *store;
  char *mesh_path, *title;
  const char *unit;
  LwJob *job;        /* made */
  LwMeshEntry entry; /* read */
} Making;

static void
making_free (gpointer data)
{
  Making *making = data;

  g_clear_pointer (&making->machine, lw_machine_unref);
  lw_mesh_store_unref (making->store);
  g_free (making->mesh_path);
  g_free (making->title);
  g_clear_pointer (&making->job, lw_job_unref);
  lw_mesh_entry_clear (&making->entry);
  g_free (making);
}

static void
make_job (Making *making, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (making->mesh_path);
  g_autoptr (LwJob) job = lw_job_new (making->machine, making->mesh_path, making->unit, folder,
                                      making->store, NULL, error);

  if (job == NULL)
    return;
  if (*making->title == '\0')
    making->job = g_steal_pointer (&job);
  else
    making->job = lw_job_with (job, "title", lw_json_new_string (making->title), error);
}

static void
read_entry (Making *making, GError **error)
{
  lw_mesh_store_get (making->store, making->mesh_path, lw_length_unit_to_mm (making->unit), NULL,
                     true, NULL, &making->entry);
  if (making->entry.mesh == NULL)
    g_set_error (error, LW_ERROR, LW_ERROR_DATA, "%s", making->entry.message);
}

static void
make (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Making *making = data;
  GError *error = NULL;

  if (making->purpose == NEW_JOB)
    make_job (making, &error);
  else
    read_entry (making, &error);
  if (error != NULL)
    g_task_return_error (task, error);
  else
    g_task_return_boolean (task, TRUE);
}

/* The mesh as the job is to name it: relative to the job's folder where that can be. */
static char *
dup_mesh_name (const LwJob *job, const char *path)
{
  g_autoptr (GFile) folder = g_file_new_for_path (job->folder);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  char *relative = g_file_get_relative_path (folder, file);

  return relative != NULL ? relative : g_strdup (path);
}

static bool
take_part (LwNewDialog *self, const Making *making, GError **error)
{
  LwDocument *document = lw_window_get_document (self->window);
  g_autofree char *name = dup_mesh_name (lw_document_get_job (document), making->mesh_path);
  g_autofree char *stem = dup_stem (making->mesh_path);
  LwEdit edit;
  int part = self->part_index;

  lw_edit_begin (&edit, document);
  if (part < 0) {
    part = lw_edit_add_mesh (&edit, stem, name, making->unit, making->entry.sha256);
  } else {
    lw_edit_set (&edit, lw_json_new_string (name), "parts[%d].mesh", part);
    lw_edit_set (&edit, lw_json_new_string (making->unit), "parts[%d].mesh_units", part);
    lw_edit_set (&edit, lw_json_new_string (making->entry.sha256), "parts[%d].sha256", part);
  }
  if (!lw_edit_commit (&edit, self->part_index < 0 ? _ ("Add part") : _ ("Change part file"), NULL,
                       error))
    return false;
  lw_document_load_meshes_async (document);
  lw_window_edit (self->window, (LwSubject){ LW_SUBJECT_PART, 0, part });
  return true;
}

static void
on_made (GObject *source, GAsyncResult *result, gpointer data)
{
  LwNewDialog *self = LW_NEW_DIALOG (source);
  const Making *making = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  bool done = g_task_propagate_boolean (G_TASK (result), &error);

  self->busy = false;
  update (self);
  if (done && self->purpose == NEW_JOB) {
    lw_document_start (lw_window_get_document (self->window), making->job);
    lw_window_edit (self->window, (LwSubject){ LW_SUBJECT_NONE, 0, 0 });
    lw_window_fit (self->window);
  } else if (done) {
    done = take_part (self, making, &error);
  }
  if (done)
    gtk_window_destroy (GTK_WINDOW (self));
  else
    show_problem (self, error->message);
}

static void
take_machine (LwNewDialog *self)
{
  LwDocument *document = lw_window_get_document (self->window);
  g_autoptr (GError) error = NULL;
  g_autoptr (LwJob) job =
      lw_job_with_machine (lw_document_get_job (document), get_machine (self), &error);

  if (job == NULL) {
    show_problem (self, error->message);
    return;
  }
  lw_document_replace (document, job, _ ("Take another machine"), NULL);
  lw_window_fit (self->window);
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
on_create (LwNewDialog *self)
{
  g_autoptr (GTask) task = NULL;
  Making *making;

  show_problem (self, NULL);
  if (self->purpose == NEW_MACHINE) {
    take_machine (self);
    return;
  }
  making = g_new0 (Making, 1);
  making->purpose = self->purpose;
  making->machine = self->purpose == NEW_JOB ? lw_machine_ref (get_machine (self)) : NULL;
  making->store = lw_mesh_store_ref (lw_document_get_store (lw_window_get_document (self->window)));
  making->mesh_path = g_strdup (self->mesh_path);
  making->title = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->title))));
  making->unit = unit_words[get_unit (self)];
  self->busy = true;
  update (self);
  task = g_task_new (self, NULL, on_made, NULL);
  g_task_set_task_data (task, making, making_free);
  g_task_run_in_thread (task, make);
}

/* ------------------------------------------------------------------------------------------------
 * Object */

static void
on_cancel (LwNewDialog *self)
{
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
lw_new_dialog_dispose (GObject *object)
{
  LwNewDialog *self = LW_NEW_DIALOG (object);

  g_clear_object (&self->window);
  g_clear_pointer (&self->mesh_path, g_free);
  g_clear_pointer (&self->machines, g_ptr_array_unref);
  G_OBJECT_CLASS (lw_new_dialog_parent_class)->dispose (object);
}

static void
lw_new_dialog_class_init (LwNewDialogClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = lw_new_dialog_dispose;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/leeway_planner/Leeway/ui/new-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, LwNewDialog, machine_label);
  gtk_widget_class_bind_template_child (widget_class, LwNewDialog, machine_box);
  gtk_widget_class_bind_template_child (widget_class, LwNewDialog, machine);
  gtk_widget_class_bind_template_child (widget_class, LwNewDialog, part_label);
  gtk_widget_class_bind_template_child (widget_class, LwNewDialog, part);
  gtk_widget_class_bind_template_child (widget_class, LwNewDialog, units_label);
  gtk_widget_class_bind_template_child (widget_class, LwNewDialog, units);
  gtk_widget_class_bind_template_child (widget_class, LwNewDialog, title_label);
  gtk_widget_class_bind_template_child (widget_class, LwNewDialog, title);
  gtk_widget_class_bind_template_child (widget_class, LwNewDialog, facts);
  gtk_widget_class_bind_template_child (widget_class, LwNewDialog, problem);
  gtk_widget_class_bind_template_child (widget_class, LwNewDialog, spinner);
  gtk_widget_class_bind_template_child (widget_class, LwNewDialog, create);
  gtk_widget_class_bind_template_callback (widget_class, on_machine_file);
  gtk_widget_class_bind_template_callback (widget_class, on_part_file);
  gtk_widget_class_bind_template_callback (widget_class, on_create);
  gtk_widget_class_bind_template_callback (widget_class, on_cancel);
  gtk_widget_class_bind_template_callback (widget_class, update);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
lw_new_dialog_init (LwNewDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->machines = g_ptr_array_new_with_free_func ((GDestroyNotify)lw_machine_unref);
  for (int i = 0; i < N_UNITS; i++) {
    self->unit_buttons[i] = gtk_check_button_new_with_label (unit_words[i]);
    if (i > 0)
      gtk_check_button_set_group (GTK_CHECK_BUTTON (self->unit_buttons[i]),
                                  GTK_CHECK_BUTTON (self->unit_buttons[0]));
    g_signal_connect_swapped (self->unit_buttons[i], "toggled", G_CALLBACK (update), self);
    gtk_box_append (GTK_BOX (self->units), self->unit_buttons[i]);
  }
}

static LwNewDialog *
present (LwWindow *window, Purpose purpose, const char *title, const char *create)
{
  LwNewDialog *self = LW_NEW_DIALOG (
      g_object_new (LW_TYPE_NEW_DIALOG, "transient-for", window, "title", title, NULL));

  self->window = g_object_ref (window);
  self->purpose = purpose;
  self->part_index = -1;
  gtk_button_set_label (GTK_BUTTON (self->create), create);
  gtk_widget_set_visible (self->machine_label, purpose != NEW_PART);
  gtk_widget_set_visible (self->machine_box, purpose != NEW_PART);
  gtk_widget_set_visible (self->part_label, purpose != NEW_MACHINE);
  gtk_widget_set_visible (self->part, purpose != NEW_MACHINE);
  gtk_widget_set_visible (self->facts, purpose != NEW_MACHINE);
  gtk_widget_set_visible (self->units_label, purpose != NEW_MACHINE);
  gtk_widget_set_visible (self->units, purpose != NEW_MACHINE);
  gtk_widget_set_visible (self->title_label, purpose == NEW_JOB);
  gtk_widget_set_visible (self->title, purpose == NEW_JOB);
  fill_machines (self);
  update (self);
  gtk_window_present (GTK_WINDOW (self));
  return self;
}

void
lw_new_dialog_show (LwWindow *window, const char *mesh_path)
{
  LwNewDialog *self = present (window, NEW_JOB, _ ("New job"), _ ("Create job"));

  if (mesh_path != NULL)
    set_mesh (self, mesh_path);
}

void
lw_new_dialog_show_part (LwWindow *window, int part)
{
  LwNewDialog *self = part < 0 ? present (window, NEW_PART, _ ("Add part"), _ ("Add part"))
                               : present (window, NEW_PART, _ ("Other part file"), _ ("Take it"));

  self->part_index = part;
}

void
lw_new_dialog_show_machine (LwWindow *window)
{
  present (window, NEW_MACHINE, _ ("Other machine"), _ ("Take it"));
}
