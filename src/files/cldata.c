/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/cldata.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/tolerances.h"
#include "files/clreading.h"

#define MM_PER_INCH     25.4
#define MOST_TOOL       99999999
#define MOST_TOOL_KINDS 1000

/* ------------------------------------------------------------------------------------------------
 * Units, tools, feed */

static bool
take_units (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  const char *unit = statement->list->len == 1 ? statement->list->pdata[0] : "";
  double mm = g_str_equal (unit, "MM")                                     ? 1
              : g_str_equal (unit, "INCHES") || g_str_equal (unit, "INCH") ? MM_PER_INCH
                                                                           : 0;

  if (!(mm > 0))
    return lw_cl_fail (reading, error, _ ("UNITS takes MM or INCHES, found “%.60s”"), unit);
  if (reading->told_mm > 0 && !reading->says_units && fabs (mm - reading->told_mm) > 1e-9)
    return lw_cl_fail (reading, error, _ ("UNITS/%s, but another unit was told for this file"),
                       unit);
  if (reading->says_units && mm != reading->unit_mm)
    lw_cl_warn (reading, _ ("the units change to %s here."), unit);
  reading->unit_mm = mm;
  reading->says_units = true;
  return true;
}

static LwProgramTool *
find_tool (LwClReading *reading, int number)
{
  for (guint i = 0; i < reading->tools->len; i++) {
    LwProgramTool *tool = &g_array_index (reading->tools, LwProgramTool, i);

    if (tool->number == number)
      return tool;
  }
  return NULL;
}

static LwProgramTool *
add_tool (LwClReading *reading, int number)
{
  LwProgramTool tool = reading->cutter;

  if (reading->tools->len == 0 && reading->has_tip)
    lw_cl_warn (reading, _ ("the program moves before it loads its first tool."));
  tool.line = reading->at;
  tool.number = number;
  tool.length = NAN;
  reading->cutter.diameter = reading->cutter.corner_radius = NAN;
  g_array_append_val (reading->tools, tool);
  return &g_array_index (reading->tools, LwProgramTool, reading->tools->len - 1);
}

static bool
take_tool_number (const LwClReading *reading, const LwClStatement *statement, int *number,
                  GError **error)
{
  const char *text = statement->list->len > 0 ? statement->list->pdata[0] : "";
  double value;

  if (!lw_cl_number (reading, text, &value, error))
    return false;
  if (!(value >= 0 && value <= MOST_TOOL && value == floor (value)))
    return lw_cl_fail (reading, error, _ ("a tool number must be whole and not below 0, is %.60s"),
                       text);
  *number = (int)value;
  return true;
}

static bool
load_tool (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  const GPtrArray *list = statement->list;
  LwProgramTool *tool;
  int number = -1;

  if (reading->rapid_line > 0)
    return lw_cl_fail (reading, error, _ ("RAPID on line %d has no motion before this tool change"),
                       reading->rapid_line);
  if (reading->circle_line > 0)
    return lw_cl_fail (reading, error, _ ("CIRCLE on line %d has no motion"), reading->circle_line);
  if (!take_tool_number (reading, statement, &number, error))
    return false;
  tool = find_tool (reading, number);
  if (tool == NULL && reading->tools->len >= MOST_TOOL_KINDS)
    return lw_cl_fail (reading, error, _ ("more than %d tools"), MOST_TOOL_KINDS);
  if (tool == NULL)
    tool = add_tool (reading, number);
  reading->tool = number;
  for (guint i = 1; i + 1 < list->len; i++)
    if (g_str_equal (list->pdata[i], "LENGTH")
        && !lw_cl_length (reading, list->pdata[i + 1], &tool->length, error))
      return false;
  return true;
}

static bool
take_cutter (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  const GPtrArray *list = statement->list;
  LwProgramTool *tool = reading->tool >= 0 ? find_tool (reading, reading->tool) : NULL;
  double sizes[2] = { NAN, NAN };

  if (list->len == 0)
    return lw_cl_fail (reading, error, _ ("CUTTER takes a diameter"));
  for (guint i = 0; i < MIN (list->len, 2); i++)
    if (!lw_cl_length (reading, list->pdata[i], &sizes[i], error))
      return false;
  if (tool == NULL || isfinite (tool->diameter))
    tool = &reading->cutter; /* of the tool that comes next */
  tool->diameter = sizes[0];
  tool->corner_radius = list->len > 1 ? sizes[1] : 0;
  return true;
}

static void
work_out_feed (LwClReading *reading)
{
  if (isfinite (reading->per_turn))
    reading->feed = reading->per_turn * reading->rpm;
}

/* A number and its unit, in either order. */
static bool
take_feed (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  double value = NAN, unit = reading->unit_mm > 0 ? reading->unit_mm : NAN;
  bool a_turn = false;

  for (guint i = 0; i < statement->list->len; i++) {
    const char *text = statement->list->pdata[i];

    if (lw_cl_is_number (text)) {
      if (isfinite (value))
        lw_cl_warn (reading, _ ("FEDRAT has two numbers; the last is taken."));
      if (!lw_cl_number (reading, text, &value, error))
        return false;
    } else if (g_str_equal (text, "MMPM") || g_str_equal (text, "MMPR")) {
      unit = 1;
      a_turn = text[3] == 'R';
    } else if (g_str_equal (text, "IPM") || g_str_equal (text, "IPR")) {
      unit = MM_PER_INCH;
      a_turn = text[2] == 'R';
    } else if (g_str_equal (text, "PERREV")) {
      a_turn = true;
    } else if (!g_str_equal (text, "PERMIN")) {
      lw_cl_warn (reading, _ ("FEDRAT's word %.60s is not used."), text);
    }
  }
  reading->per_turn = a_turn ? value * unit : NAN;
  reading->feed = a_turn ? NAN : value * unit;
  work_out_feed (reading);
  return true;
}

static bool
take_speed (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  bool rpm = false;
  double value = NAN;

  for (guint i = 0; i < statement->list->len; i++) {
    const char *text = statement->list->pdata[i];

    if (g_str_equal (text, "RPM"))
      rpm = true;
    else if (lw_cl_is_number (text) && isnan (value)
             && !lw_cl_number (reading, text, &value, error))
      return false;
  }
  if (rpm || isfinite (value))
    reading->rpm = rpm ? value : NAN;
  work_out_feed (reading);
  return true;
}

/* ------------------------------------------------------------------------------------------------
 * Text, and statements that are not followed */

static bool
take_title (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  if (reading->program->title == NULL)
    reading->program->title = g_strdup (statement->text);
  return true;
}

/* Nothing that the tip's path depends on. */
static bool
pass (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  return true;
}

/* What may move the machine besides the path. */
static bool
leave_open (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  if (statement->list->len == 1 && g_str_equal (statement->list->pdata[0], "OFF"))
    return true;
  lw_cl_leave_open (reading, _ ("%.60s goes to the control and is not followed here."),
                    statement->word);
  return true;
}

static bool
lose (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  lw_cl_lose (reading, _ ("%.60s is not followed."), statement->word);
  return true;
}

static bool
finish (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  reading->finished = true;
  return true;
}

/* ---------------------------------------------------------------------------------------------- */

typedef bool (*Act) (LwClReading *reading, const LwClStatement *statement, GError **error);

/* Words that are in neither column are reported, and the path is lost. */
static const struct {
  const char *word;
  Act act;
} words[] = {
  { "GOTO", lw_cl_goto },
  { "FROM", lw_cl_from },
  { "GODLTA", lw_cl_godlta },
  { "GOHOME", lw_cl_gohome },
  { "CIRCLE", lw_cl_circle },
  { "RAPID", lw_cl_rapid },
  { "MULTAX", lw_cl_multax },
  { "TLAXIS", lw_cl_tlaxis },
  { "CYCLE", lw_cl_cycle },
  { "UNITS", take_units },
  { "LOADTL", load_tool },
  { "TURRET", load_tool },
  { "CUTTER", take_cutter },
  { "FEDRAT", take_feed },
  { "SPINDL", take_speed },
  { "PARTNO", take_title },
  { "FINI", finish },
  /* text and what stands still */
  { "PPRINT", pass },
  { "REMARK", pass },
  { "LETTER", pass },
  { "MACHIN", pass },
  { "COOLNT", pass },
  { "STOP", pass },
  { "OPSTOP", pass },
  { "OPSKIP", pass },
  { "END", pass },
  { "REWIND", pass },
  { "DELAY", pass },
  { "SEQNO", pass },
  { "LEADER", pass },
  { "TMARK", pass },
  { "DISPLY", pass },
  { "CLAMP", pass },
  { "INTOL", pass },
  { "OUTTOL", pass },
  { "TOLER", pass },
  { "CLPRNT", pass },
  { "NOPOST", pass },
  { "BREAK", pass },
  { "CHECK", pass },
  /* what the control makes of it is not known here */
  { "INSERT", leave_open },
  { "AUXFUN", leave_open },
  { "PREFUN", leave_open },
  { "PPFUN", leave_open },
  { "CUTCOM", leave_open },
  { "UNLOAD", leave_open },
  { "SAFETY", leave_open },
  /* what moves the tip, or the frame it is told in, in ways that are not followed */
  { "ORIGIN", lose },
  { "TRANS", lose },
  { "TRACUT", lose },
  { "COPY", lose },
  { "INDEX", lose },
  { "ROTABL", lose },
  { "ROTHED", lose },
  { "RETRCT", lose },
  { "INDIRV", lose },
  { "INDIRP", lose },
  { "CYLNDR", lose },
  { "GOFWD", lose },
  { "GOBACK", lose },
  { "GOLFT", lose },
  { "GORGT", lose },
  { "GOUP", lose },
  { "GODOWN", lose },
  { "THREAD", lose },
  { "POCKET", lose },
  { "REFSYS", lose },
  { "MACRO", lose },
  { "CALL", lose },
  { "JUMPTO", lose },
};

static bool
act (LwClReading *reading, const LwClStatement *statement, GError **error)
{
  reading->at = statement->line;
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (strcmp (words[i].word, statement->word) == 0)
      return words[i].act (reading, statement, error);
  lw_cl_lose (reading, _ ("“%.60s” is no word known here."), statement->word);
  return true;
}

static bool
read_all (LwClReading *reading, LwClReader *reader, GError **error)
{
  const LwClStatement *statement;
  g_autoptr (GError) cause = NULL;

  while (!reading->finished && (statement = lw_cl_reader_next (reader, &cause)) != NULL)
    if (!act (reading, statement, error))
      return false;
  if (cause != NULL) {
    g_propagate_error (error, g_steal_pointer (&cause));
    return false;
  }
  if (reading->circle_line > 0)
    return lw_cl_fail (reading, error, _ ("CIRCLE on line %d has no motion"), reading->circle_line);
  if (!reading->finished)
    lw_cl_leave_open (reading, _ ("the file ends without FINI: it may have been cut off."));
  else if (lw_cl_reader_next (reader, NULL) != NULL)
    lw_cl_warn (reading, _ ("what follows FINI is not read."));
  if (reading->records->len > 0)
    return true;
  return lw_cl_fail (reading, error, _ ("the program has no motion (GOTO)"));
}

/* What was read, told in the end. */
static void
sum_up (LwClReading *reading)
{
  LwProgram *program = reading->program;
  GPtrArray *told = reading->warnings.told;
  guint left_out = reading->warnings.n - told->len;

  if (program->n_arcs > 0)
    g_ptr_array_add (told,
                     g_strdup_printf (ngettext ("%u arc is read right-handed about its axis, in "
                                                "chords within 0.01 mm of it.",
                                                "%u arcs are read right-handed about their axes, "
                                                "in chords within 0.01 mm of them.",
                                                program->n_arcs),
                                      program->n_arcs));
  if (left_out > 0)
    g_ptr_array_add (told,
                     g_strdup_printf (ngettext ("%u more warning is left out here.",
                                                "%u more warnings are left out here.", left_out),
                                      left_out));
  g_ptr_array_add (told, NULL);
  program->box = reading->box;
  program->n_records = reading->records->len;
  program->n_tools = reading->tools->len;
}

LwProgram *
lw_cldata_parse (const char *name, const char *bytes, gsize size, double unit_mm, GError **error)
{
  g_autoptr (LwProgram) program = g_new0 (LwProgram, 1);
  g_autoptr (GPtrArray) told = g_ptr_array_new_with_free_func (g_free);
  LwClReading reading = { .name = name,
                          .warnings = { told, 0 },
                          .records = g_array_new (FALSE, TRUE, sizeof (LwProgramRecord)),
                          .tools = g_array_new (FALSE, TRUE, sizeof (LwProgramTool)),
                          .program = program,
                          .box = lw_box3_empty (),
                          .told_mm = unit_mm,
                          .unit_mm = unit_mm,
                          .axis = { 0, 0, 1 },
                          .tool = -1,
                          .cutter = { .length = NAN, .diameter = NAN, .corner_radius = NAN },
                          .feed = NAN,
                          .per_turn = NAN,
                          .rpm = NAN,
                          .at = 1 };
  g_autoptr (LwClReader) reader = lw_cl_reader_new (name, bytes, size, &reading.warnings);
  bool read;

  program->ref_count = 1;
  read = read_all (&reading, reader, error);
  if (read)
    sum_up (&reading);
  program->records = (LwProgramRecord *)(void *)g_array_free (reading.records, FALSE);
  program->tools = (LwProgramTool *)(void *)g_array_free (reading.tools, FALSE);
  if (read)
    program->warnings = (char **)g_ptr_array_free (g_steal_pointer (&told), FALSE);
  return read ? g_steal_pointer (&program) : NULL;
}

bool
lw_cldata_is_likely (const char *bytes, gsize size)
{
  return lw_cl_is_likely (bytes, size);
}
