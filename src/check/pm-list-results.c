/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The comparison of results, and the findings, as lists. */
#include "config.h"
#include "pm-list-private.h"
#include "pm-naming.h"
#include "pm-report.h"
#include <glib/gi18n-lib.h>

/* ---- results */

/* "inside", "inside, any", or the names one by one. */
static char *
settings_words (const PmCheck *check, const GArray *settings)
{
  char *label = pm_report_settings (check, settings);
  if (label != NULL && label[0] != '\0')
    return label;
  g_free (label);
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint k = 0; k < settings->len; k++)
    g_string_append_printf (text, "%s%s", k > 0 ? "; " : "", check->cases[g_array_index (settings, guint, k)].name);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* What is said of all the settings of a result, each thing once. */
static char *
verdicts (const PmCheck *check, const GArray *settings)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint k = 0; k < settings->len; k++) {
    const char *verdict = check->cases[g_array_index (settings, guint, k)].verdict;
    gboolean told = FALSE;
    for (guint e = 0; e < k && !told; e++)
      told = g_str_equal (check->cases[g_array_index (settings, guint, e)].verdict, verdict);
    if (!told)
      g_string_append_printf (text, "%s%s", text->len > 0 ? "; " : "", verdict);
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
result_row (PmListBuild *build, char *id, char *settings, guint case_index, char *verdict)
{
  const PmCheck *check = build->check;
  guint c = 0, n_units = check->board->host.n_units;
  char **cells = pm_list_add_row (build, id);
  pm_list_set (cells, c++, settings);
  if (pm_report_any_always (check))
    pm_list_set (cells, c++, pm_report_always (check, case_index));
  for (guint u = 0; u < n_units; u++) {
    g_autofree char *reach = pm_check_reach_text (check, case_index, u);
    gboolean differs = case_index > 0 && check->board->has_board && pm_check_differs (check, case_index, 0, u);
    pm_list_set (cells, c++, differs ? g_strdup_printf (_("%s (changed)"), reach) : g_steal_pointer (&reach));
  }
  pm_list_set (cells, c++, pm_report_sides (check, case_index));
  pm_list_set (cells, c++, verdict);
}

void
pm_list_results (PmListBuild *build)
{
  const PmCheck *check = build->check;
  const PmBoard *board = check->board;
  gboolean changed = FALSE;
  build->about = g_strdup (check->verdict_text);
  pm_list_add_column (build, "settings", _("Setting"), PM_CELLS_TEXT);
  if (pm_report_any_always (check))
    pm_list_add_column (build, "nothing-on", _("Nothing on"), PM_CELLS_TEXT);
  for (guint u = 0; u < board->host.n_units; u++) {
    g_autofree char *id = g_strdup_printf ("unit-%u", board->host.units[u].number);
    pm_list_add_column (build, id, board->host.units[u].name, PM_CELLS_TEXT);
  }
  pm_list_add_column (build, "side-lines", _("Side lines"), PM_CELLS_TEXT);
  pm_list_add_column (build, "verdict", _("Verdict"), PM_CELLS_TEXT);
  if (board->has_board)
    result_row (build, g_strdup ("result without"), g_strdup (check->cases[0].name), 0,
                g_strdup (check->cases[0].verdict));
  for (guint r = 0; r < check->n_results; r++) {
    const GArray *settings = check->results[r].settings;
    guint first = g_array_index (settings, guint, 0);
    char *words = settings_words (check, settings);
    result_row (build, g_strdup_printf ("result %s", check->cases[first].name),
                words[0] != '\0' ? words : (g_free (words), g_strdup (_("as it is"))), first,
                verdicts (check, settings));
    for (guint u = 0; u < board->host.n_units && board->has_board; u++)
      changed |= pm_check_differs (check, first, 0, u);
  }
  if (check->n_results < check->n_settings)
    pm_list_add_note (build, g_strdup (_("Settings that do the same stand in one row.")));
  if (changed)
    pm_list_add_note (build, g_strdup (_("(changed): not what it is without the board.")));
  pm_list_add_note (build, g_strdup (check->tried_text));
  pm_list_add_note (build, g_strdup (check->not_checked_text));
}

/* ---- findings */

enum { SEVERITY, TITLE, WHERE, WHAT, TO_DO, MEASURE, KIND };

void
pm_list_findings (PmListBuild *build)
{
  const PmCheck *check = build->check;
  build->about = g_strdup (check->verdict_text);
  pm_list_add_column (build, "severity", _("Grade"), PM_CELLS_TEXT);
  pm_list_add_column (build, "finding", _("Finding"), PM_CELLS_TEXT);
  pm_list_add_column (build, "where", _("Where"), PM_CELLS_TEXT);
  pm_list_add_column (build, "what", _("What"), PM_CELLS_TEXT);
  pm_list_add_column (build, "to-do", _("To do"), PM_CELLS_TEXT);
  pm_list_add_column (build, "measure", _("Measure"), PM_CELLS_TEXT);
  pm_list_add_column (build, "kind", _("Kind"), PM_CELLS_TEXT);
  for (guint i = 0; i < check->n_findings; i++) {
    const PmFinding *finding = &check->findings[i];
    if (build->options.case_index > 0) {
      gboolean here = FALSE;
      const GArray *of_case = check->cases[build->options.case_index].findings;
      for (guint k = 0; k < of_case->len && !here; k++)
        here = g_array_index (of_case, guint, k) == i;
      if (!here)
        continue;
    }
    char **cells = pm_list_add_row (build, g_strdup_printf ("finding %s", finding->identity));
    pm_list_set (cells, SEVERITY, g_strdup (pm_report_severity (finding->severity)));
    pm_list_set (cells, TITLE, g_strdup (finding->title));
    pm_list_set (cells, WHERE, g_strdup (finding->where));
    pm_list_set (cells, WHAT, g_strdup (finding->what));
    pm_list_set (cells, TO_DO,
                 finding->to_do == NULL || finding->tried ? g_strdup (finding->to_do)
                                                          : g_strdup_printf (_("Look at: %s"), finding->to_do));
    pm_list_set (cells, MEASURE, g_strdup (finding->measure));
    pm_list_set (cells, KIND, g_strdup (finding->id));
    if (finding->accepted != NULL)
      pm_list_set (cells, TO_DO, g_strdup_printf (_("Accepted: %s"), finding->accepted));
  }
  if (build->rows->len == 0)
    pm_list_add_note (build, build->options.case_index > 0 ? g_strdup (_("Nothing was found in this setting."))
                                                           : g_strdup (_("Nothing was found.")));
  pm_list_add_note (build, g_strdup (check->tried_text));
  pm_list_add_note (build, g_strdup (check->not_checked_text));
}
