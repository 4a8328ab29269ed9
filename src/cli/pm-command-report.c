/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pointsman-cli report: everything that check knows, as XML for scripts. */
#include "config.h"
#include "pm-command.h"
#include "pm-document.h"
#include "pm-report-xml.h"
#include <glib/gi18n.h>
#include <string.h>

int
pm_command_report (int argc, char **argv)
{
  g_autofree char *output = NULL;
  gboolean lists = FALSE;
  int code;
  const GOptionEntry entries[] = {
      {"output", 'o', 0, G_OPTION_ARG_FILENAME, &output, N_("write to this file, whole or not at all"), N_("FILE")},
      {"lists", 0, 0, G_OPTION_ARG_NONE, &lists, N_("with the lists to build by"), NULL},
      {0}};
  if (!pm_command_options_with (
          _("The document is described by data/schema/report.rng and docs/report.md.\n\nExamples:\n"
             "  pointsman-cli report -o boot-swap.xml boot-swap.board.xml\n"
             "  pointsman-cli report boot-swap.board.xml | xmllint --xpath "
             "'string(/*/*[local-name()=\"verdict\"]/@is)' -"),
          "report", N_("BOARD"), N_("everything that check knows, as XML"), entries, &argc, &argv, &code))
    return code;
  if (argc != 2) {
    g_printerr (_("pointsman-cli report: name one board file. See pointsman-cli report --help\n"));
    return PM_EXIT_UNREADABLE;
  }
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmBoard) board = pm_command_load (argv[1], library);
  if (board == NULL)
    return PM_EXIT_UNREADABLE;
  if (output != NULL && pm_board_reads (board, output)) {
    g_printerr (_("pointsman-cli report: %s: the board is read from this file; it is left as it is. Name another after "
                  "-o\n"), output);
    return PM_EXIT_UNREADABLE;
  }
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  g_autofree char *text = pm_report_xml (check, lists ? PM_REPORT_ALL_LISTS : PM_REPORT_NO_LISTS);
  g_autoptr (GError) error = NULL;
  code = pm_check_exit_code (check, FALSE);
  if (output == NULL)
    return pm_command_print (text, code);
  if (!pm_file_write_atomic (output, text, strlen (text), &error)) {
    g_printerr ("pointsman-cli report: %s\n", error->message);
    return PM_EXIT_UNREADABLE;
  }
  return code;
}
