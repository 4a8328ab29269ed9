/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pointsman-cli check: verdict and findings of a board. */
#include "config.h"
#include "pm-command.h"
#include "pm-report.h"
#include <glib/gi18n.h>

int
pm_command_check (int argc, char **argv)
{
  gboolean all = FALSE, strict = FALSE;
  int code;
  const GOptionEntry entries[] = {
    {"all", 0, 0, G_OPTION_ARG_NONE, &all, N_("notes in full, and the other places of what is set once"), NULL},
    {"strict", 0, 0, G_OPTION_ARG_NONE, &strict, N_("exit status 0 only with no stop, no care, no assumption"), NULL},
    {0}};
  if (!pm_command_options ("check", N_("BOARD"), N_("the verdict and the findings of a board"), entries, &argc, &argv,
                           &code))
    return code;
  if (argc != 2) {
    g_printerr (_("pointsman-cli check: name one board file. See pointsman-cli check --help\n"));
    return PM_EXIT_UNREADABLE;
  }
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmBoard) board = pm_command_load (argv[1], library);
  if (board == NULL)
    return PM_EXIT_UNREADABLE;
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  g_autofree char *text = pm_report_check (check, all, 80);
  return pm_command_print (text, pm_check_exit_code (check, strict));
}
