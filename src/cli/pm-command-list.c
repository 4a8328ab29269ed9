/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pointsman-cli list: what people build by, as text or CSV. */
#include "config.h"
#include "pm-command.h"
#include "pm-alternates.h"
#include "pm-list.h"
#include <glib/gi18n.h>
#include <string.h>

typedef struct {
  gboolean csv;
  int boards, spares;
  char *setting;
} Options;

static char *
kinds_text (void)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint k = 0; k < PM_N_LISTS; k++)
    g_string_append_printf (text, "%s%s", k > 0 ? ", " : "", pm_list_id (k));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
no_setting (const PmCheck *check, const char *name)
{
  g_autoptr (GString) names = g_string_new (NULL);
  for (guint i = 1; i <= MIN (check->n_settings, 16); i++)
    g_string_append_printf (names, "%s%s", i > 1 ? "; " : "", check->cases[i].name);
  g_printerr (_("pointsman-cli list: there is no setting \"%s\". Settings: %s\n"), name, names->str);
}

static int
print_lists (const PmCheck *check, int kind, const Options *options)
{
  PmListOptions chosen = {(guint)options->boards, (guint)options->spares, 0, NULL};
  g_autoptr (GArray) alternates = NULL;
  g_autoptr (GString) out = g_string_new (NULL);
  if (options->setting != NULL) {
    chosen.case_index = pm_check_find_named (check, options->setting);
    if (chosen.case_index == PM_NONE) {
      no_setting (check, options->setting);
      return PM_EXIT_UNREADABLE;
    }
  }
  if (kind < 0) /* they are in two of the lists */
    chosen.alternates = alternates = pm_alternates_find (check, NULL);
  for (int k = kind < 0 ? 0 : kind; k <= (kind < 0 ? PM_N_LISTS - 1 : kind); k++) {
    g_autoptr (PmList) list = pm_list_new (check, (PmListKind)k, &chosen, NULL);
    g_autofree char *text = options->csv ? pm_list_csv (list) : pm_list_text (list, 100);
    g_string_append_printf (out, "%s%s", out->len > 0 ? (options->csv ? "\r\n" : "\n\n") : "", text);
  }
  return pm_command_print (out->str, pm_check_exit_code (check, FALSE));
}

int
pm_command_list (int argc, char **argv)
{
  Options options = {FALSE, 1, 0, NULL};
  g_autofree char *kinds = kinds_text (), *setting = NULL;
  int code;
  const GOptionEntry entries[] = {
      {"csv", 0, 0, G_OPTION_ARG_NONE, &options.csv,
       N_("comma-separated values (RFC 4180), for spreadsheets and scripts"), NULL},
      {"boards", 0, 0, G_OPTION_ARG_INT, &options.boards, N_("parts: for so many boards"), "N"},
      {"spares", 0, 0, G_OPTION_ARG_INT, &options.spares, N_("parts: so many per cent more of the small ones"),
       N_("PERCENT")},
      {"setting", 0, 0, G_OPTION_ARG_STRING, &setting, N_("only for this setting of the switches"), N_("NAME")},
      {0}};
  g_autofree char *description =
      g_strdup_printf (_("Kinds: %s; all prints each of them.\n\nExamples:\n"
                          "  pointsman-cli list wires boot-swap.board.xml\n"
                          "  pointsman-cli list parts --boards=5 --spares=10 boot-swap.board.xml\n"
                          "  pointsman-cli list pins --csv boot-swap.board.xml >pins.csv"),
                       kinds);
  if (!pm_command_options_with (description, "list", N_("KIND|all BOARD"), N_("lists to build by, as text or CSV"),
                                entries, &argc, &argv, &code))
    return code;
  options.setting = setting;
  int kind = argc > 1 ? pm_list_kind (argv[1]) : -1;
  if (argc > 1 && kind < 0 && !g_str_equal (argv[1], "all")) {
    g_printerr (_("pointsman-cli list: there is no list \"%s\". Kinds: %s, all\n"), argv[1], kinds);
    return PM_EXIT_UNREADABLE;
  }
  if (argc != 3) {
    g_printerr (_("pointsman-cli list: name a kind and one board file. See pointsman-cli list --help\n"));
    return PM_EXIT_UNREADABLE;
  }
  if (options.boards < 1 || options.boards > 10000 || options.spares < 0 || options.spares > 1000) {
    g_printerr (_("pointsman-cli list: 1 to 10000 boards, 0 to 1000 per cent spares\n"));
    return PM_EXIT_UNREADABLE;
  }
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmBoard) board = pm_command_load (argv[2], library);
  if (board == NULL)
    return PM_EXIT_UNREADABLE;
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  return print_lists (check, kind, &options);
}
