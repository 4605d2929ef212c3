/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <gtk/gtk.h>

#include "desktop/subject.h"
#include "desktop/view.h"
#include "session/edit.h"

/* An editor is a table of fields, each bound to a path of the job. The table is made anew after
 * each change of the job, by a function that knows nothing of widgets; where it has the same fields
 * as before, the rows on screen only take their new values. */

typedef enum {
  LW_FIELD_SECTION,
  LW_FIELD_NOTE,
  LW_FIELD_TEXT,
  LW_FIELD_NUMBER, /* also two or three numbers of one array */
  LW_FIELD_CHOICE,
  LW_FIELD_SWITCH,
  LW_FIELD_LINK,    /* leads to another subject's editor */
  LW_FIELD_BUTTONS, /* up to three */
  LW_FIELD_WIDGET,  /* a picture, a table */
} LwFieldKind;

typedef enum {
  LW_QUANTITY_PLAIN,  /* as in the file */
  LW_QUANTITY_LENGTH, /* mm in the file, shown in the view's unit */
} LwQuantity;

typedef struct _LwForm LwForm;
typedef struct _LwField LwField;

/* Does an edit; false with an error when it could not be done. value (not taken) is NULL when an
 * optional field was emptied. */
typedef bool (*LwFieldApply) (LwForm *form, const LwField *field, JsonNode *value, GError **error);
typedef void (*LwFieldClicked) (LwForm *form, const LwField *field);

#define LW_FIELD_MAX 4

struct _LwField {
  LwFieldKind kind;
  char *label;
  char *path; /* in the job; NULL where apply and get do without */
  char *text; /* of notes, summaries of links */
  int n;      /* numbers in the array at path; 1: the value itself */
  LwQuantity quantity;
  const char *per;    /* after the unit: "", "/min", "°" */
  const char *absent; /* shown where the file has nothing, in words ("5 unless given"); then the
                         field may be emptied */
  bool whole;         /* whole numbers only */
  char **words;       /* of a choice: values in the file … */
  char **labels;      /* … and for people */
  bool numeric;       /* a choice whose values are numbers */
  double step;        /* of the arrow keys, mm, degrees, … */
  JsonNode *value;    /* present value, NULL: absent */
  LwSubject link;
  int index;          /* for apply and clicked */
  bool bare;          /* a cell: without label and unit, on one line with the bare ones before */
  bool starts_line;   /* of cells */
  int width;          /* of a cell, px; 0: what is left, evenly */
  LwFieldApply apply; /* NULL: lw_document_set() at path */
  LwFieldClicked clicked[LW_FIELD_MAX];
  const char *button_labels[LW_FIELD_MAX];
  GtkWidget *(*make) (LwForm *form, const LwField *field);
};

#define LW_TYPE_FORM (lw_form_get_type ())
G_DECLARE_FINAL_TYPE (LwForm, lw_form, LW, FORM, GtkBox)

/* Fills the form with the fields of subject; called by lw_form_show() and after each change. */
typedef void (*LwFormBuild) (LwForm *form, const LwJob *job, LwSubject subject);

GtkWidget *lw_form_new (LwView *view);
void lw_form_show (LwForm *form, LwSubject subject, LwFormBuild build);
LwView *lw_form_get_view (LwForm *form);
LwDocument *lw_form_get_document (LwForm *form);
LwSubject lw_form_get_subject (LwForm *form);

/* Signals: "open" (LwSubject *) asks for another subject's editor, "leave" for the one before,
 * "pick" (int purpose) for a place on the part (LwPickPurpose). */
void lw_form_open (LwForm *form, LwSubject subject);
void lw_form_leave (LwForm *form);
void lw_form_pick (LwForm *form, int purpose);
/* Shows what went wrong on top of the form; NULL: nothing. Takes the error. */
void lw_form_set_error (LwForm *form, GError *error);

/* Ends an edit begun with lw_edit_begin(), and shows its error where it failed. */
bool lw_form_commit (LwForm *form, LwEdit *edit, const char *name);

/* ------------------------------------------------------------------------------------------------
 * For build functions. Paths are relative to the subject's; "/" before them: from the job's root.
 * What is added is the form's; tune it right after. */

LwField *lw_form_section (LwForm *form, const char *title);
LwField *lw_form_note (LwForm *form, const char *text);
LwField *lw_form_text (LwForm *form, const char *label, const char *path_format, ...)
    G_GNUC_PRINTF (3, 4);
LwField *lw_form_length (LwForm *form, const char *label, const char *path_format, ...)
    G_GNUC_PRINTF (3, 4);
LwField *lw_form_angle (LwForm *form, const char *label, const char *path_format, ...)
    G_GNUC_PRINTF (3, 4);
LwField *lw_form_number (LwForm *form, const char *label, const char *unit, const char *path_format,
                         ...) G_GNUC_PRINTF (4, 5);
/* Three lengths. */
LwField *lw_form_place (LwForm *form, const char *label, const char *path_format, ...)
    G_GNUC_PRINTF (3, 4);
/* Three numbers without unit. */
LwField *lw_form_direction (LwForm *form, const char *label, const char *path_format, ...)
    G_GNUC_PRINTF (3, 4);
/* words and labels end with NULL and are copied; labels in English are translated. */
LwField *lw_form_choice (LwForm *form, const char *label, const char *const *words,
                         const char *const *labels, const char *path_format, ...)
    G_GNUC_PRINTF (5, 6);
LwField *lw_form_switch (LwForm *form, const char *label, const char *path_format, ...)
    G_GNUC_PRINTF (3, 4);
LwField *lw_form_link (LwForm *form, const char *label, const char *summary, LwSubject subject);
LwField *lw_form_buttons (LwForm *form, const char *first, LwFieldClicked clicked);
void lw_field_add_button (LwField *field, const char *label, LwFieldClicked clicked);
LwField *lw_form_widget (LwForm *form, const char *label,
                         GtkWidget *(*make) (LwForm *form, const LwField *field));

/* Makes a cell of it; the first one of a line says so. */
LwField *lw_field_make_cell (LwField *field, bool starts_line, int width);
/* Replaces what the file has by a value made elsewhere (taken). */
void lw_field_take_value (LwField *field, JsonNode *value);

/* ------------------------------------------------------------------------------------------------
 * For rows. */

bool lw_form_apply (LwForm *form, const LwField *field, JsonNode *value, bool coalesce,
                    GError **error);
void lw_form_click (LwForm *form, const LwField *field, int button);
/* The error in words for the place beside the field: without file and path where they are known. */
char *lw_form_dup_message (LwForm *form, const LwField *field, const GError *error);
/* "mm", "in/min", "°" */
char *lw_field_dup_unit (const LwField *field, LwUnit unit);
