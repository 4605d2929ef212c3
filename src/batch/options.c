/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "batch/options.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define MAX_THREADS 256

static const LwOptionSpec common[] = {
  { "--json", 0, false }, { "--unit", 1, false }, { "--threads", 1, false }, { NULL }
};

struct _LwOptions {
  GPtrArray *operands; /* of borrowed arguments */
  GHashTable *given;   /* name → first value in argv, borrowed */
  LwUnit unit;
  int threads;
};

int
lw_batch_fail (const GError *error)
{
  static const int statuses[] = { [LW_ERROR_USAGE] = LW_EXIT_USAGE,
                                  [LW_ERROR_DATA] = LW_EXIT_DATA,
                                  [LW_ERROR_MISSING] = LW_EXIT_NO_INPUT,
                                  [LW_ERROR_WRITE] = LW_EXIT_NO_OUTPUT,
                                  [LW_ERROR_CANCELLED] = LW_EXIT_NOT_CHECKED };

  g_printerr ("leeway-batch: %s\n", error->message);
  return error->domain == LW_ERROR ? statuses[error->code] : LW_EXIT_DATA;
}

void
lw_options_free (LwOptions *options)
{
  g_ptr_array_unref (options->operands);
  g_hash_table_unref (options->given);
  g_free (options);
}

static const LwOptionSpec *
find_spec (const LwOptionSpec *specs, const char *name)
{
  for (; specs->name; specs++)
    if (strcmp (specs->name, name) == 0)
      return specs;
  return NULL;
}

/* Whether an argument begins an option: a minus and no number, so that "-200" can be an operand. */
static bool
is_option (const char *argument)
{
  double value;

  return argument[0] == '-' && argument[1] != '\0' && !lw_number_from_text (argument, '.', &value);
}

/* Takes the option at argv[at]; answers where the next argument is, −1 on failure. */
static int
take_option (LwOptions *options, int argc, char **argv, int at, const LwOptionSpec *specs,
             GError **error)
{
  const LwOptionSpec *spec = find_spec (specs, argv[at]);

  if (!spec)
    spec = find_spec (common, argv[at]);
  if (!spec)
    g_set_error (error, LW_ERROR, LW_ERROR_USAGE, _ ("%s has no option %s"), argv[0], argv[at]);
  else if (g_hash_table_contains (options->given, spec->name))
    g_set_error (error, LW_ERROR, LW_ERROR_USAGE, _ ("%s is given twice"), spec->name);
  else if (argc - at - 1 < spec->n_values)
    g_set_error (error, LW_ERROR, LW_ERROR_USAGE,
                 g_dngettext (NULL, "%s takes %d value", "%s takes %d values", spec->n_values),
                 spec->name, spec->n_values);
  else {
    g_hash_table_insert (options->given, (gpointer)spec->name, argv + at + 1);
    return at + 1 + spec->n_values;
  }
  return -1;
}

static bool
take_all (LwOptions *options, int argc, char **argv, const LwOptionSpec *specs, GError **error)
{
  bool operands_only = false;

  for (int i = 1; i < argc;) {
    if (!operands_only && strcmp (argv[i], "--") == 0) {
      operands_only = true;
      i++;
    } else if (!operands_only && is_option (argv[i])) {
      i = take_option (options, argc, argv, i, specs, error);
      if (i < 0)
        return false;
    } else {
      g_ptr_array_add (options->operands, argv[i++]);
    }
  }
  return true;
}

static bool
check_all (LwOptions *options, const char *verb, const LwOptionSpec *specs, int n_operands,
           GError **error)
{
  int n = (int)options->operands->len;

  for (; specs->name; specs++)
    if (specs->needed && !g_hash_table_contains (options->given, specs->name)) {
      g_set_error (error, LW_ERROR, LW_ERROR_USAGE, _ ("%s needs %s"), verb, specs->name);
      return false;
    }
  if (n_operands >= 0 ? n == n_operands : n >= -n_operands)
    return true;
  g_set_error (error, LW_ERROR, LW_ERROR_USAGE,
               n_operands >= 0
                   ? g_dngettext (NULL, "%s takes %d file name, %d given",
                                  "%s takes %d file names, %d given", n_operands)
                   : g_dngettext (NULL, "%s takes %d file name or more, %d given",
                                  "%s takes %d file names or more, %d given", -n_operands),
               verb, ABS (n_operands), n);
  return false;
}

static bool
read_common (LwOptions *options, GError **error)
{
  const char *unit = lw_options_get_text (options, "--unit", 0);
  double threads = 0;

  if (unit && strcmp (unit, "inch") != 0 && strcmp (unit, "in") != 0 && strcmp (unit, "mm") != 0) {
    g_set_error (error, LW_ERROR, LW_ERROR_USAGE, _ ("--unit must be mm or inch, is \"%s\""), unit);
    return false;
  }
  options->unit = unit && unit[0] == 'i' ? LW_UNIT_INCH : LW_UNIT_MM;
  if (!lw_options_has (options, "--threads"))
    return true;
  if (!lw_options_get_number (options, "--threads", 0, 1, MAX_THREADS, &threads, error))
    return false;
  if (threads != floor (threads)) {
    g_set_error (error, LW_ERROR, LW_ERROR_USAGE, _ ("--threads must be a whole number"));
    return false;
  }
  options->threads = (int)threads;
  return true;
}

LwOptions *
lw_options_parse (int argc, char **argv, const LwOptionSpec *specs, int n_operands, GError **error)
{
  g_autoptr (LwOptions) options = g_new0 (LwOptions, 1);

  options->operands = g_ptr_array_new ();
  options->given = g_hash_table_new (g_str_hash, g_str_equal);
  if (!take_all (options, argc, argv, specs, error)
      || !check_all (options, argv[0], specs, n_operands, error) || !read_common (options, error))
    return NULL;
  return g_steal_pointer (&options);
}

int
lw_options_get_n_operands (const LwOptions *options)
{
  return (int)options->operands->len;
}

const char *
lw_options_get_operand (const LwOptions *options, int index)
{
  return options->operands->pdata[index];
}

bool
lw_options_has (const LwOptions *options, const char *name)
{
  return g_hash_table_contains (options->given, name);
}

const char *
lw_options_get_text (const LwOptions *options, const char *name, int index)
{
  char **values = g_hash_table_lookup (options->given, name);

  return values ? values[index] : NULL;
}

bool
lw_options_get_number (const LwOptions *options, const char *name, int index, double low,
                       double high, double *value, GError **error)
{
  const char *text = lw_options_get_text (options, name, index);
  char low_text[LW_NUMBER_SIZE], high_text[LW_NUMBER_SIZE];

  g_assert (text);
  if (!lw_number_from_text (text, '.', value)) {
    g_set_error (error, LW_ERROR, LW_ERROR_USAGE, _ ("%s: \"%s\" is not a number"), name, text);
    return false;
  }
  if (*value >= low && *value <= high)
    return true;
  g_set_error (error, LW_ERROR, LW_ERROR_USAGE, _ ("%s: %s must lie between %s and %s"), name, text,
               lw_number_to_text (low, low_text), lw_number_to_text (high, high_text));
  return false;
}

bool
lw_options_get_length (const LwOptions *options, const char *name, int index, double low,
                       double high, double *value_mm, GError **error)
{
  LwUnit unit = options->unit;
  double value;

  if (!lw_options_get_number (options, name, index, lw_unit_from_mm (unit, low),
                              lw_unit_from_mm (unit, high), &value, error))
    return false;
  *value_mm = lw_unit_to_mm (unit, value);
  return true;
}

bool
lw_options_get_json (const LwOptions *options)
{
  return lw_options_has (options, "--json");
}

LwUnit
lw_options_get_unit (const LwOptions *options)
{
  return options->unit;
}

int
lw_options_get_threads (const LwOptions *options)
{
  return options->threads;
}
