/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pointsman-cli truth: truth table of places of a board, or of one part. */
#include "config.h"
#include "pm-command.h"
#include "pm-truth.h"
#include <glib/gi18n.h>

static int
tell (const GError *error)
{
  g_printerr ("pointsman-cli truth: %s\n", error->message);
  return PM_EXIT_UNREADABLE;
}

static int
truth_of_board (PmLibrary *library, int argc, char **argv, const char *setting)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PmBoard) board = pm_command_load (argv[1], library);
  if (board == NULL)
    return PM_EXIT_UNREADABLE;
  g_autoptr (PmTruth) truth = pm_truth_new (board, (const char *const *) argv + 2, setting, &error);
  if (truth == NULL)
    return tell (error);
  g_autofree char *text = pm_truth_to_text (truth, 80);
  return pm_command_print (text, PM_EXIT_FINE);
}

static int
truth_of_part (PmLibrary *library, int argc, char **argv, const char *setting)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) names = pm_library_list (library, "part");
  gboolean plain = g_strv_contains ((const char *const *) names, argv[1]); /* a function, whatever its family */
  const PmPart *part = plain ? pm_library_function (library, NULL, argv[1], (PmSpot) {0}, faults)
                             : pm_library_part (library, NULL, argv[1], NULL, NULL, (PmSpot) {0}, faults);
  pm_command_tell_faults ("truth", faults);
  if (part == NULL)
    return PM_EXIT_UNREADABLE;
  if (argc > 3 || setting != NULL) {
    g_printerr (_("pointsman-cli truth: of a part, name one section at most. See pointsman-cli truth --help\n"));
    return PM_EXIT_UNREADABLE;
  }
  g_autofree char *text = pm_truth_of_part (part, argc == 3 ? argv[2] : NULL, 80, &error);
  return text != NULL ? pm_command_print (text, PM_EXIT_FINE) : tell (error);
}

/* What looks like a file is one, so that a misspelt path is told as such. */
static gboolean
is_file_name (const char *name)
{
  return g_str_has_suffix (name, ".xml") || strchr (name, '/') != NULL || g_file_test (name, G_FILE_TEST_EXISTS);
}

int
pm_command_truth (int argc, char **argv)
{
  g_autofree char *setting = NULL;
  int code;
  const GOptionEntry entries[] = {{"setting", 0, 0, G_OPTION_ARG_STRING, &setting,
                                   N_("only this setting of the switches, or \"without the board\""), N_("NAME")},
                                  {0}};
  const char *arguments = N_("BOARD|PART [PLACE…|SECTION]"),
             *summary = N_("a truth table of places of a board, or of one part");
  if (!pm_command_options ("truth", arguments, summary, entries, &argc, &argv, &code))
    return code;
  if (argc < 2) {
    g_printerr (_("pointsman-cli truth: name a board file or a part. See pointsman-cli truth --help\n"));
    return PM_EXIT_UNREADABLE;
  }
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  return is_file_name (argv[1]) ? truth_of_board (library, argc, argv, setting)
                                : truth_of_part (library, argc, argv, setting);
}
