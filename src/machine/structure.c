/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "machine/structure.h"

#include <glib/gi18n.h>
#include <string.h>

/* Letters that ISO 841 gives to straight axes, and C, can't name the tilt axis. */
#define NOT_A_TILT "XYZCUVWPQR"

static const char *const letters[] = { "A", "B", "C", "D", "E", "F", "G", "H", "I",
                                       "J", "K", "L", "M", "N", "O", "P", "Q", "R",
                                       "S", "T", "U", "V", "W", "X", "Y", "Z" };

typedef enum {
  WORK_SIDE,
  TOOL_SIDE,
  AFTER_C,
  AFTER_TILT,
  ENDED,
} Stage;

typedef struct {
  LwStructure *structure;
  Stage stage;
  bool seen[LW_N_AXES];
} Parse;

static bool refuse (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);

static bool
refuse (GError **error, const char *format, ...)
{
  va_list arguments;
  g_autofree char *why = NULL;

  va_start (arguments, format);
  why = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error_literal (error, LW_ERROR, LW_ERROR_DATA, why);
  return false;
}

static void
append (Parse *parse, LwCarrier carrier)
{
  LwStructure *structure = parse->structure;

  g_assert (structure->n_chain < (int)G_N_ELEMENTS (structure->chain));
  structure->chain[structure->n_chain++] = carrier;
}

static bool
take_linear (Parse *parse, LwAxis axis, bool primed, const char *word, GError **error)
{
  if (parse->seen[axis])
    return refuse (error, _ ("axis %s stands twice"), word);
  if (parse->stage > TOOL_SIDE)
    return refuse (error, _ ("%s stands below the head: the straight axes must come before C"),
                   word);
  if (primed != (parse->stage == WORK_SIDE))
    return refuse (error,
                   primed ? _ ("%s moves the work, so it must stand between w and b")
                          : _ ("%s moves the tool, so it must stand after b (before b it is "
                               "written with a prime)"),
                   word);
  parse->seen[axis] = true;
  parse->structure->primed[axis] = primed;
  append (parse, axis);
  return true;
}

static bool
take_c (Parse *parse, GError **error)
{
  if (parse->stage == AFTER_TILT)
    return refuse (error,
                   _ ("C below the tilt axis is not supported: the heading axis C must carry "
                      "the tilt axis"));
  if (parse->stage == AFTER_C)
    return refuse (error, _ ("axis C stands twice"));
  if (parse->stage == WORK_SIDE)
    return refuse (error,
                   _ ("C stands before b: it must be the head's and stand after X, Y and Z"));
  for (LwAxis axis = LW_AXIS_X; axis <= LW_AXIS_Z; axis++)
    if (!parse->seen[axis])
      return refuse (error, _ ("axis %c is missing before C"), 'X' + (int)axis);
  parse->stage = AFTER_C;
  append (parse, LW_AXIS_C);
  return true;
}

static bool
take_tilt (Parse *parse, const char *word, GError **error)
{
  if (parse->stage == AFTER_TILT)
    return refuse (error,
                   _ ("%s stands below another tilt axis: heads of two tilt axes are not "
                      "supported, only C that carries one"),
                   word);
  if (parse->stage != AFTER_C)
    return refuse (error,
                   _ ("%s is not carried by C: only heads in which C carries the tilt axis "
                      "are supported"),
                   word);
  parse->stage = AFTER_TILT;
  parse->structure->tilt_letter = word[0];
  append (parse, LW_AXIS_TILT);
  return true;
}

static bool
take_bed (Parse *parse, GError **error)
{
  if (parse->stage != WORK_SIDE)
    return refuse (error, _ ("b stands twice"));
  parse->stage = TOOL_SIDE;
  append (parse, LW_CARRIER_BED);
  return true;
}

static bool
take_end (Parse *parse, GError **error)
{
  if (parse->stage != AFTER_TILT)
    return refuse (error, _ ("the tool t must stand last, after C and a tilt axis"));
  parse->stage = ENDED;
  append (parse, LW_CARRIER_TOOL);
  return true;
}

static bool
take_word (Parse *parse, const char *word, GError **error)
{
  bool primed = strlen (word) == 2 && word[1] == '\'';

  if (parse->stage == ENDED)
    return refuse (error, _ ("%s stands after the tool t, which must be last"), word);
  if (strcmp (word, "b") == 0)
    return take_bed (parse, error);
  if (strcmp (word, "t") == 0)
    return take_end (parse, error);
  if (strcmp (word, "(C)") == 0 || strcmp (word, "(C1)") == 0)
    return parse->stage == AFTER_TILT
           || refuse (error, _ ("%s, the spindle's own turning, must stand just before t"), word);
  if (!g_ascii_isupper (word[0]) || (word[1] != '\0' && !primed))
    return refuse (error,
                   _ ("\"%s\" is none of w, b, t, X, Y, Z, C, a tilt axis' letter, or one of them "
                      "with a prime"),
                   word);
  if (word[0] >= 'X' && word[0] <= 'Z')
    return take_linear (parse, LW_AXIS_X + (word[0] - 'X'), primed, word, error);
  if (primed)
    return refuse (error, _ ("%s turns the work: rotary tables are not supported"), word);
  if (word[0] == 'C')
    return take_c (parse, error);
  if (strchr (NOT_A_TILT, word[0]))
    return refuse (error, _ ("%s names a straight axis: only X, Y and Z are supported"), word);
  return take_tilt (parse, word, error);
}

bool
lw_structure_parse (LwStructure *structure, const char *code, GError **error)
{
  g_auto (GStrv) words = g_strsplit_set (code, " ", -1);
  Parse parse = { .structure = structure };
  g_autoptr (GString) written = g_string_new (NULL);
  bool begun = false;

  *structure = (LwStructure){ 0 };
  for (int i = 0; words[i]; i++) {
    if (words[i][0] == '\0')
      continue;
    g_string_append_printf (written, "%s%s", written->len > 0 ? " " : "", words[i]);
    if (written->len >= sizeof structure->code)
      return refuse (error, _ ("is too long for a structure of five axes"));
    if (begun) {
      if (!take_word (&parse, words[i], error))
        return false;
    } else if (strcmp (words[i], "w") == 0) {
      begun = true;
      append (&parse, LW_CARRIER_WORK);
    } else {
      return refuse (error, _ ("must begin with the work, w, begins with \"%s\""), words[i]);
    }
  }
  if (parse.stage != ENDED)
    return refuse (error, _ ("must run from the work w over the bed b to the tool t, like "
                             "\"w b X Y Z C B t\""));
  g_strlcpy (structure->code, written->str, sizeof structure->code);
  return true;
}

const char *
lw_structure_get_word (const LwStructure *structure, LwCarrier carrier)
{
  static const char *const primed[] = { "X'", "Y'", "Z'" };

  switch (carrier) {
  case LW_AXIS_X:
  case LW_AXIS_Y:
  case LW_AXIS_Z:
    return structure->primed[carrier] ? primed[carrier] : letters['X' - 'A' + carrier];
  case LW_AXIS_C:
    return "C";
  case LW_AXIS_TILT:
    return letters[structure->tilt_letter - 'A'];
  case LW_CARRIER_WORK:
    return "w";
  case LW_CARRIER_BED:
    return "b";
  case LW_CARRIER_TOOL:
    return "t";
  default:
    g_assert_not_reached ();
  }
}

LwCarrier
lw_structure_find (const LwStructure *structure, const char *word)
{
  for (int i = 0; i < structure->n_chain; i++)
    if (strcmp (lw_structure_get_word (structure, structure->chain[i]), word) == 0)
      return structure->chain[i];
  return -1;
}

static int
place_of (const LwStructure *structure, LwCarrier carrier)
{
  for (int i = 0; i < structure->n_chain; i++)
    if (structure->chain[i] == carrier)
      return i;
  g_assert_not_reached ();
}

/* A slide on the tool's side moves by its own axis; one on the work's side is what its axis moves
 * relative to the bed, so in the table frame it stands still under its own. */
bool
lw_structure_moves (const LwStructure *structure, LwCarrier carrier, LwAxis axis)
{
  int at = place_of (structure, axis), body = place_of (structure, carrier);

  return at < body || (at == body && !structure->primed[axis]);
}

bool
lw_structure_are_neighbors (const LwStructure *structure, LwCarrier a, LwCarrier b)
{
  return ABS (place_of (structure, a) - place_of (structure, b)) <= 1;
}
