/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>
#include <locale.h>
#include <string.h>

#include "batch/options.h"
#include "batch/verbs.h"
#include "config.h"

typedef struct {
  const char *name;
  const char *arguments;
  const char *summary;
  int (*run) (int argc, char **argv);
} Verb;

static const Verb verbs[] = {
  { "pose", "MACHINE --length L --at X Y Z C T",
    N_ ("where the tip stands, and what is left to each limit"), lw_batch_pose },
  { "solve", "MACHINE --length L --tip X Y Z --axis I J K",
    N_ ("every way to stand the tip at a place with a tool axis"), lw_batch_solve },
  { "reach", "MACHINE --length L --tilt T [--heading C] [--height Z]",
    N_ ("where the tip can stand at a tilt, for every heading or one"), lw_batch_reach },
  { "check", "JOB [--machine MACHINE]",
    N_ ("whether each operation of a job fits, by how much, and what would mend it"),
    lw_batch_check },
  { "import", "FILE [--units mm|cm|m|in|ft]",
    N_ ("what is read of a part (STL) or a program (CL data), and what is odd about it"),
    lw_batch_import },
};

static void
print_usage (GString *text)
{
  g_string_append (text, _ ("Usage: leeway-batch VERB …\n\n"));
  for (gsize i = 0; i < G_N_ELEMENTS (verbs); i++)
    g_string_append_printf (text, "  %s %s\n      %s\n", verbs[i].name, verbs[i].arguments,
                            _ (verbs[i].summary));
  g_string_append (
      text,
      _ ("\nEvery verb takes --json (one JSON object on standard output), --unit mm or inch "
         "(lengths on\nthe command line and in words; keys that end in _mm are millimetres "
         "always) and --threads N.\nAxis positions are the pivot's, in the machine frame; "
         "tips are in the table frame.\n\nExit status: 0 fits, 1 does not fit, 2 not checked, "
         "3 tight, 64 usage, 65 bad data,\n66 no such input, 74 could not write.\n\n"
         "The program plans; it does not guard. Prove every program out dry and slowly.\n"));
}

static void
set_up_words (void)
{
  setlocale (LC_ALL, "");
  bindtextdomain ("leeway", LW_LOCALE_DIR);
  bind_textdomain_codeset ("leeway", "UTF-8");
  textdomain ("leeway");
}

int
main (int argc, char **argv)
{
  g_autoptr (GString) usage = g_string_new (NULL);

  set_up_words ();
  for (int i = 1; i < argc; i++)
    if (strcmp (argv[i], "--json") == 0)
      setlocale (LC_MESSAGES, "C"); /* scripts get English, wherever they run */
  print_usage (usage);
  if (argc < 2) {
    g_printerr ("%s", usage->str);
    return LW_EXIT_USAGE;
  }
  if (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0) {
    g_print ("%s", usage->str);
    return LW_EXIT_FITS;
  }
  if (strcmp (argv[1], "--version") == 0) {
    g_print ("leeway-batch %s\n", LW_VERSION);
    return LW_EXIT_FITS;
  }
  for (gsize i = 0; i < G_N_ELEMENTS (verbs); i++)
    if (strcmp (argv[1], verbs[i].name) == 0)
      return verbs[i].run (argc - 1, argv + 1);
  g_printerr (_ ("leeway-batch: there is no verb \"%s\"; --help lists them\n"), argv[1]);
  return LW_EXIT_USAGE;
}
