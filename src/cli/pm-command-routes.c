/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pointsman-cli routes: the table to paste anywhere. */
#include "config.h"
#include "pm-command.h"
#include "pm-report.h"
#include <glib/gi18n.h>

int
pm_command_routes (int argc, char **argv)
{
  int code;
  if (!pm_command_options ("routes", N_("BOARD"), N_("what each select reaches in every setting, as a table"), NULL,
                           &argc, &argv, &code))
    return code;
  if (argc != 2) {
    g_printerr (_("pointsman-cli routes: name one board file. See pointsman-cli routes --help\n"));
    return PM_EXIT_UNREADABLE;
  }
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmBoard) board = pm_command_load (argv[1], library);
  if (board == NULL)
    return PM_EXIT_UNREADABLE;
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  g_autofree char *text = pm_report_routes (check);
  return pm_command_print (text, pm_check_exit_code (check, FALSE));
}
