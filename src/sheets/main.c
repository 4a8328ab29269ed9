/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pointsman-draw: sheets and pictures of a board into a file, without a display. */
#include "config.h"
#include "pm-board.h"
#include "pm-check.h"
#include "pm-export.h"
#include "pm-paper.h"
#include "pm-picture.h"
#include <errno.h>
#include <glib/gi18n.h>
#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>

#define EXIT_FINE 0
#define EXIT_WRONG 2

typedef struct {
  char   **boards;
  char    *output, *set, *sheets, *paper, *setting, *by, *date, *picture;
  int      n_boards, spares;
  gboolean no_colour, version;
} Arguments;

static void
arguments_clear (Arguments *a)
{
  g_strfreev (a->boards);
  g_free (a->output);
  g_free (a->set);
  g_free (a->sheets);
  g_free (a->paper);
  g_free (a->setting);
  g_free (a->by);
  g_free (a->date);
  g_free (a->picture);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Arguments, arguments_clear)

static int G_GNUC_PRINTF (1, 2)
wrong (const char *format, ...)
{
  g_autofree char *text = NULL;
  va_list args;

  va_start (args, format);
  text = g_strdup_vprintf (format, args);
  va_end (args);
  g_printerr ("%s: %s\n", g_get_prgname (), text);
  return EXIT_WRONG;
}

static int
say (const char *text)
{
  if (fputs (text, stdout) == EOF || fflush (stdout) == EOF)
    return wrong (_("cannot write the answer: %s"), g_strerror (errno));
  return EXIT_FINE;
}

/* Everything is printed before options are looked at, so that it works anywhere. */
static GOptionContext *
context_new (Arguments *a)
{
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &a->output, N_("file to write: .pdf, .svg or .png"), N_("FILE") },
    { "set", 0, 0, G_OPTION_ARG_STRING, &a->set, N_("one-page (the usual one), to-build or everything"), N_("SET") },
    { "sheets", 0, 0, G_OPTION_ARG_STRING, &a->sheets, N_("these sheets only, by commas: see below"), N_("NAMES") },
    { "paper", 0, 0, G_OPTION_ARG_STRING, &a->paper, N_("a4 (the usual one) or letter"), N_("SIZE") },
    { "setting", 0, 0, G_OPTION_ARG_STRING, &a->setting, N_("setting drawn on the diagram"), N_("NAME") },
    { "boards", 0, 0, G_OPTION_ARG_INT, &a->n_boards, N_("parts for so many boards"), N_("N") },
    { "spares", 0, 0, G_OPTION_ARG_INT, &a->spares, N_("per cent more of small parts"), N_("PERCENT") },
    { "no-colour", 0, 0, G_OPTION_ARG_NONE, &a->no_colour, N_("black on white only"), NULL },
    { "by", 0, 0, G_OPTION_ARG_STRING, &a->by, N_("who made the sheets"), N_("NAME") },
    { "date", 0, 0, G_OPTION_ARG_STRING, &a->date, N_("date of issue; left free without it"), N_("DATE") },
    { "picture", 0, 0, G_OPTION_ARG_STRING, &a->picture, N_("one picture instead: routes, diagram or pins"),
      N_("KIND") },
    { "version", 0, 0, G_OPTION_ARG_NONE, &a->version, N_("tell the version"), NULL },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &a->boards, NULL, N_("BOARD") },
    { NULL } };
  GOptionContext *context = g_option_context_new (NULL);
  g_autoptr (GString) names = g_string_new (_("Sheets:"));

  for (guint kind = 0; kind < PM_N_SHEETS; kind++)
    g_string_append_printf (names, "\n  %-12s %s", pm_sheet_id (kind), pm_sheet_title (kind));
  g_string_append (names, _("\n\nExit status: 0 written, 2 the board cannot be read or the file not be written; then "
                            "nothing was."));
  g_option_context_set_summary (context, _("Draws the sheets of a board to print and build by, or one picture of it."));
  g_option_context_set_description (context, names->str);
  g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);
  g_option_context_set_help_enabled (context, FALSE);
  return context;
}

/* FALSE with a message if a name is none. */
static gboolean
take_sheets (const char *names, guint32 *mask)
{
  g_auto (GStrv) all = g_strsplit (names, ",", -1);

  *mask = 0;
  for (guint i = 0; all[i]; i++) {
    guint kind = 0;

    while (kind < PM_N_SHEETS && !g_str_equal (all[i], pm_sheet_id (kind)))
      kind++;
    if (kind == PM_N_SHEETS) {
      g_autoptr (GString) known = g_string_new (NULL);

      for (guint k = 0; k < PM_N_SHEETS; k++)
        g_string_append_printf (known, "%s%s", k > 0 ? ", " : "", pm_sheet_id (k));
      wrong (_("there is no sheet “%s”. Sheets: %s"), all[i], known->str);
      return FALSE;
    }
    *mask |= 1u << kind;
  }
  return TRUE;
}

static gboolean
take_set (const char *name, guint32 *mask)
{
  for (guint set = 0; set < PM_N_SETS; set++)
    if (g_str_equal (name, pm_paper_set_id (set))) {
      *mask = pm_paper_set_sheets (set);
      return TRUE;
    }
  wrong (_("there is no set “%s”. Sets: one-page, to-build, everything"), name);
  return FALSE;
}

static gboolean
take_paper (const char *name, PmPaperSize *size)
{
  static const char *const NAMES[PM_N_PAPER_SIZES] = { "a4", "letter" };

  for (guint i = 0; i < PM_N_PAPER_SIZES; i++)
    if (g_ascii_strcasecmp (name, NAMES[i]) == 0) {
      *size = i;
      return TRUE;
    }
  wrong (_("there is no paper “%s”. Papers: a4, letter"), name);
  return FALSE;
}

static gboolean
take_setting (const PmCheck *check, const char *name, guint *case_index)
{
  g_autoptr (GString) known = g_string_new (NULL);
  guint found = pm_check_find_named (check, name);

  if (found != PM_NONE) {
    *case_index = found;
    return TRUE;
  }
  for (guint c = 1; c <= check->n_settings; c++)
    g_string_append_printf (known, "%s“%s”", c > 1 ? ", " : "", check->cases[c].name);
  wrong (_("there is no setting “%s”. Settings: %s"), name, known->str);
  return FALSE;
}

/* What is asked for by name and has nothing on this board is told; FALSE if nothing is left. */
static gboolean
leave_out (const PmCheck *check, guint32 *mask, gboolean by_name)
{
  for (guint kind = 0; kind < PM_N_SHEETS; kind++)
    if ((*mask & 1u << kind) && !pm_sheet_applies (check, kind)) {
      *mask &= ~(1u << kind);
      if (by_name)
        g_printerr (_("%s: this board has nothing for the sheet “%s”; it is left out\n"), g_get_prgname (),
                    pm_sheet_id (kind));
    }
  if (*mask == 0)
    wrong (_("no sheet is left; nothing is written"));
  return *mask != 0;
}

static int
draw_picture (const PmCheck *check, const Arguments *a, guint case_index, const char *title)
{
  g_autoptr (GError) error = NULL;
  int kind = pm_picture_kind (a->picture);

  if (kind < 0)
    return wrong (_("there is no picture “%s”. Pictures: routes, diagram, pins"), a->picture);
  if (!pm_picture_applies (check, kind))
    return wrong (_("this board has nothing for the picture “%s”; nothing is written"), a->picture);
  g_autoptr (PmPicture) picture = pm_picture_new (check, kind, case_index, a->no_colour);
  double width, height;
  pm_picture_size (picture, &width, &height);
  if (!pm_export_picture (a->output, width, height, title, pm_picture_draw, picture, &error))
    return wrong ("%s", error->message);
  g_autofree char *said = g_strdup_printf (_("%s: %.0f × %.0f\n"), a->output, width, height);
  return say (said);
}

static int
draw_sheets (const PmCheck *check, const Arguments *a, PmPaperOptions *options, const char *title)
{
  g_autoptr (GError) error = NULL;

  if (!leave_out (check, &options->sheets, a->sheets != NULL))
    return EXIT_WRONG;
  g_autoptr (PmPaper) paper = pm_paper_new (check, options);
  if (!pm_export_paper (paper, a->output, title, &error))
    return wrong ("%s", error->message);
  g_autofree char *said = g_strdup_printf (ngettext ("%s: %u page\n", "%s: %u pages\n", pm_paper_n_pages (paper)),
                                           a->output, pm_paper_n_pages (paper));
  return say (said);
}

/* ISO 8601: 2026-11-25 and no other way, so that everybody reads the same day. */
static gboolean
is_date (const char *text)
{
  int year, month, day, n = 0;

  return strlen (text) == 10 && sscanf (text, "%4d-%2d-%2d%n", &year, &month, &day, &n) == 3 && n == 10 &&
         month >= 1 && month <= 12 && g_date_valid_dmy (day, month, year);
}

static int
draw (const Arguments *a)
{
  PmPaperOptions options = { .lists = PM_LIST_OPTIONS_USUAL, .no_colour = a->no_colour, .date = a->date,
                             .creator = a->by };
  g_autoptr (PmFaults) faults = pm_faults_new ();
  PmFormat format;

  if (!pm_format_of_path (a->output, &format))
    return wrong (_("%s: must end with .pdf, .svg or .png"), a->output);
  if (a->n_boards < 1 || a->n_boards > 10000 || a->spares < 0 || a->spares > 1000)
    return wrong (_("--boards must be 1 to 10000, --spares 0 to 1000"));
  if (a->date && !is_date (a->date))
    return wrong (_("--date must be written like 2026-11-25, not “%s”"), a->date);
  options.lists.n_boards = a->n_boards;
  options.lists.spares = a->spares;
  if (a->sheets ? !take_sheets (a->sheets, &options.sheets)
                : !take_set (a->set ? a->set : "one-page", &options.sheets))
    return EXIT_WRONG;
  if (a->paper && !take_paper (a->paper, &options.size))
    return EXIT_WRONG;
  if (a->picture && pm_picture_kind (a->picture) < 0)
    return wrong (_("there is no picture “%s”. Pictures: routes, diagram, pins"), a->picture);
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmBoard) board = pm_board_load (a->boards[0], library, faults);
  if (!board) {
    for (guint i = 0; i < pm_faults_count (faults); i++) {
      g_autofree char *line = pm_fault_to_text (pm_faults_get (faults, i));
      g_printerr ("%s\n", line);
    }
    return EXIT_WRONG;
  }
  if (pm_board_reads (board, a->output))
    return wrong (_("%s: the board is read from this file; it is left as it is. Name another after -o"), a->output);
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  options.case_index = check->usual;
  if (a->setting && !take_setting (check, a->setting, &options.case_index))
    return EXIT_WRONG;
  const char *title = board->title ? board->title : board->path;
  return a->picture ? draw_picture (check, a, options.case_index, title) : draw_sheets (check, a, &options, title);
}

int
main (int argc, char **argv)
{
  g_auto (Arguments) arguments = { .n_boards = 1 };
  g_autoptr (GError) error = NULL;

  setlocale (LC_ALL, "");
  signal (SIGPIPE, SIG_IGN);
  bindtextdomain (GETTEXT_PACKAGE, PM_LOCALE_DIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  g_set_prgname ("pointsman-draw");
  g_autoptr (GOptionContext) context = context_new (&arguments);
  for (int i = 1; i < argc; i++)
    if (g_str_equal (argv[i], "--help") || g_str_equal (argv[i], "-h")) {
      g_autofree char *help = g_option_context_get_help (context, TRUE, NULL);
      return say (help);
    }
  if (!g_option_context_parse (context, &argc, &argv, &error))
    return wrong (_("%s. See pointsman-draw --help"), error->message);
  if (arguments.version)
    return say ("pointsman-draw " PM_VERSION "\n");
  if (!arguments.boards || arguments.boards[1] || !arguments.output)
    return wrong (_("name one board file and, with -o, the file to write. See pointsman-draw --help"));
  return draw (&arguments);
}
