/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pointsman-cli: the same answers as the window, as text. */
#include "config.h"
#include "pm-command.h"
#include "pm-text-table.h"
#include <errno.h>
#include <glib/gi18n.h>
#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>

static const PmCommand commands[] = {
  {"check", N_("BOARD"), N_("the verdict and the findings of a board"), pm_command_check},
  {"routes", N_("BOARD"), N_("what each select reaches in every setting, as a table"), pm_command_routes},
  {"truth", N_("BOARD|PART [NAME…]"), N_("a truth table of places of a board, or of one part"), pm_command_truth},
  {"list", N_("KIND BOARD"), N_("lists to build by: wires, pins, parts, steps …"), pm_command_list},
  {"report", N_("BOARD"), N_("everything that check knows, as XML"), pm_command_report},
  {"parts", N_("[TYPE]"), N_("the parts that are known, or one of them in full"), pm_command_parts},
  {"sheets", N_("BOARD -o FILE"), N_("sheets to print and build by, into a file"), pm_command_sheets},
  {"picture", N_("KIND BOARD -o FILE"), N_("one picture into a file: routes, diagram, pins"), pm_command_picture},
};

gboolean
pm_command_options (const char *name, const char *arguments, const char *summary, const GOptionEntry *entries,
                    int *argc, char ***argv, int *code)
{
  return pm_command_options_with (NULL, name, arguments, summary, entries, argc, argv, code);
}

gboolean
pm_command_options_with (const char *description, const char *name, const char *arguments, const char *summary,
                         const GOptionEntry *entries, int *argc, char ***argv, int *code)
{
  g_autoptr (GOptionContext) context = g_option_context_new (_(arguments));
  g_autoptr (GError) error = NULL;
  g_autofree char *program = g_strdup_printf ("pointsman-cli %s", name);
  g_autofree char *sentence = g_strdup_printf (_("Prints %s."), _(summary));
  g_set_prgname (program);
  g_option_context_set_summary (context, sentence);
  g_option_context_set_description (context, description);
  if (entries != NULL)
    g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);
  g_option_context_set_help_enabled (context, FALSE);
  for (int i = 1; i < *argc; i++)
    if (g_str_equal ((*argv)[i], "--help") || g_str_equal ((*argv)[i], "-h")) {
      g_autofree char *help = g_option_context_get_help (context, TRUE, NULL);
      *code = pm_command_print (help, PM_EXIT_FINE);
      return FALSE;
    }
  if (!g_option_context_parse (context, argc, argv, &error)) {
    g_printerr (_("%s: %s. See %s --help\n"), program, error->message, program);
    *code = PM_EXIT_UNREADABLE;
    return FALSE;
  }
  return TRUE;
}

void
pm_command_tell_faults (const char *command, const PmFaults *faults)
{
  for (guint i = 0; i < pm_faults_count (faults); i++) {
    const PmFault *fault = pm_faults_get (faults, i);
    g_autofree char *line = pm_fault_to_text (fault);
    if (fault->spot.file == NULL && command != NULL)
      g_printerr ("pointsman-cli %s: %s\n", command, fault->message);
    else
      g_printerr ("%s\n", line);
  }
}

PmBoard *
pm_command_load (const char *path, PmLibrary *library)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  PmBoard *board = pm_board_load (path, library, faults);
  if (board == NULL)
    pm_command_tell_faults (NULL, faults);
  return board;
}

int
pm_command_print (const char *text, int code)
{
  if (fputs (text, stdout) == EOF || fflush (stdout) == EOF) {
    g_printerr (_("pointsman-cli: cannot write the answer: %s\n"), g_strerror (errno));
    return PM_EXIT_UNREADABLE;
  }
  return code;
}

static int
print_help (void)
{
  g_autoptr (GString) text =
      g_string_new (_("pointsman-cli checks a drive-select board before it is soldered.\n\nCommands:\n"));
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++) {
    g_autofree char *use = g_strdup_printf ("%s %s", commands[i].name, _(commands[i].arguments));
    g_string_append (text, "  ");
    pm_text_pad (text, use, 29);
    g_string_append_printf (text, "%s\n", _(commands[i].summary));
  }
  g_string_append (text, _("\npointsman-cli COMMAND --help tells the options of a command.\n"
                           "Exit status: 0 ready or routes right, 1 not ready or no verdict, 2 cannot be read.\n"));
  return pm_command_print (text->str, PM_EXIT_FINE);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  signal (SIGPIPE, SIG_IGN); /* a closed pipe is told like a full disk */
  bindtextdomain (GETTEXT_PACKAGE, PM_LOCALE_DIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  if (argc < 2) {
    g_printerr (_("pointsman-cli: no command. See pointsman-cli --help\n"));
    return PM_EXIT_UNREADABLE;
  }
  if (g_str_equal (argv[1], "--help") || g_str_equal (argv[1], "-h"))
    return print_help ();
  if (g_str_equal (argv[1], "--version"))
    return pm_command_print ("pointsman-cli " PM_VERSION "\n", PM_EXIT_FINE);
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    if (g_str_equal (argv[1], commands[i].name))
      return commands[i].run (argc - 1, argv + 1);
  g_autoptr (GString) known = g_string_new (NULL);
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    g_string_append_printf (known, "%s%s", i > 0 ? ", " : "", commands[i].name);
  g_printerr (_("pointsman-cli: there is no command \"%s\". Commands: %s\n"), argv[1], known->str);
  return PM_EXIT_UNREADABLE;
}
