/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/tolerances.h"
#include "batch/answer.h"
#include "batch/report.h"
#include "batch/verbs.h"

static const LwOptionSpec specs[] = { { "--length", 1, true },   { "--tilt", 1, true },
                                      { "--heading", 1, false }, { "--height", 1, false },
                                      { "--table", 1, false },   { NULL } };

typedef struct {
  const LwTable *table;
  double length, tilt, heading, height;
} Question;

static bool
read_question (Question *question, const LwMachine *machine, const LwOptions *options,
               GError **error)
{
  double tilt, heading = 0;

  *question = (Question){ .height = NAN };
  question->table = lw_answer_find_table (machine, options, error);
  if (question->table == NULL
      || !lw_options_get_length (options, "--length", 0, 0, LW_FAR_MM, &question->length, error)
      || !lw_options_get_number (options, "--tilt", 0, -LW_FAR_DEG, LW_FAR_DEG, &tilt, error))
    return false;
  if (lw_options_has (options, "--heading")
      && !lw_options_get_number (options, "--heading", 0, -LW_FAR_DEG, LW_FAR_DEG, &heading, error))
    return false;
  if (lw_options_has (options, "--height")
      && !lw_options_get_length (options, "--height", 0, -LW_FAR_MM, LW_FAR_MM, &question->height,
                                 error))
    return false;
  question->tilt = lw_radians (tilt);
  question->heading = lw_radians (heading);
  return true;
}

int
lw_batch_reach (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (LwOptions) options = lw_options_parse (argc, argv, specs, 1, &error);
  g_autoptr (LwMachine) machine =
      options != NULL ? lw_machine_load (lw_options_get_operand (options, 0), &error) : NULL;
  LwReach every = { 0 }, one = { 0 };
  bool heading;
  Question question;
  int status;

  if (machine == NULL || !read_question (&question, machine, options, &error))
    return lw_batch_fail (error);
  heading = lw_options_has (options, "--heading");
  every = lw_reach_every_heading (machine, question.table, question.length, question.tilt);
  if (heading)
    one = lw_reach_one_heading (machine, question.table, question.length, question.tilt,
                                question.heading);

  if (lw_options_get_json (options)) {
    lw_answer_print (lw_report_reach (&every, heading ? &one : NULL, question.height));
  } else {
    g_autofree char *text = lw_report_reach_text (&every, heading ? &one : NULL, question.height,
                                                  lw_options_get_unit (options));

    g_print ("%s", text);
  }
  status = lw_report_reach_is_there (heading ? &one : &every, question.height)
               ? LW_EXIT_FITS
               : LW_EXIT_DOES_NOT_FIT;
  lw_reach_clear (&every);
  lw_reach_clear (&one);
  return status;
}
