/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheets that say how it stands: one page, cover, results. */
#include "config.h"
#include "pm-sheet.h"
#include "pm-naming.h"

#include <glib/gi18n-lib.h>

/* What the one page gives up, step by step, until it fits: of the height that a plan likes, findings, rows of moved
 * pins, parts, results and checks; and whether it is said where a pin goes. */
typedef struct {
  double   plan;
  guint    findings, pins, parts, results, checks;
  gboolean goes;
} Degree;

static const Degree DEGREES[PM_ONE_PAGE_DEGREES] = {
  { 1.00, 3, 16, 16, 16, 99, TRUE }, { 0.85, 3, 16, 16, 16, 99, TRUE }, { 0.75, 3, 12, 14, 14, 99, TRUE },
  { 0.65, 2, 12, 14, 14, 99, TRUE }, { 0.55, 2, 10, 14, 14, 99, TRUE }, { 0.50, 1, 10, 12, 14, 99, TRUE },
  { 0.45, 1, 10, 10, 14, 99, FALSE }, { 0.40, 1, 10, 10, 14, 20, FALSE }, { 0.40, 1, 8, 8, 12, 16, FALSE },
  { 0.40, 1, 8, 8, 8, 12, FALSE },   { 0.40, 1, 6, 6, 6, 8, FALSE },    { 0.00, 1, 4, 4, 4, 6, FALSE },
};

/* Plans up to so many results; a table from there on. */
#define ONE_PAGE_PLANS 4
#define COVER_PLANS 5

static void
add_verdict (PmFlow *flow, const PmCheck *check)
{
  PmSeverity mark = pm_sheet_verdict_mark (check);

  if (mark == PM_SEVERITY_NOTE)
    pm_flow_strong (flow, check->verdict_text);
  else
    pm_flow_marked (flow, mark, check->verdict_text, FALSE);
}

static void
add_findings (PmFlow *flow, const PmCheck *check, guint most)
{
  guint told = 0, n = check->counts[PM_SEVERITY_STOP] + check->counts[PM_SEVERITY_CARE];

  for (guint i = 0; i < check->n_findings && told < most; i++) {
    const PmFinding *finding = &check->findings[i];
    g_autoptr (GString) text = g_string_new (finding->title);

    if (finding->severity == PM_SEVERITY_NOTE)
      continue;
    if (finding->what)
      g_string_append_printf (text, ". %s", finding->what);
    pm_flow_marked (flow, finding->severity, text->str, TRUE);
    if (finding->to_do) {
      g_autofree char *to_do = g_strdup_printf ("%s: %s", finding->tried ? _("To do") : _("What to look at"),
                                                finding->to_do);

      pm_flow_paragraph (flow, to_do);
    }
    told++;
  }
  if (n > told) {
    g_autofree char *more =
        g_strdup_printf (ngettext ("%u finding is not told here; see the file.",
                                   "%u findings are not told here; see the file.", n - told), n - told);

    pm_flow_note (flow, more);
  }
}

static void
drop_about (PmList *list)
{
  g_clear_pointer (&list->about, g_free);
  g_strfreev (list->notes);
  list->notes = g_new0 (char *, 1);
}

/* Keeps the rows of which the cell of a column is one of the words (or none of them), and headings. */
static void
keep_rows (PmList *list, const char *column, const char *const *words, gboolean one_of)
{
  guint kept = 0, c = 0;

  while (c < list->n_columns && !g_str_equal (list->columns[c].id, column))
    c++;
  for (guint r = 0; r < list->n_rows; r++) {
    PmListRow *row = &list->rows[r];
    gboolean plain = row->kind == PM_ROW_PLAIN && c < list->n_columns;

    if (!plain || g_strv_contains (words, row->cells[c]) == one_of)
      list->rows[kept++] = *row;
    else {
      g_strfreev (row->cells);
      g_free (row->id);
    }
  }
  list->n_rows = kept;
}

static gboolean
has_plain_rows (const PmList *list)
{
  for (guint r = 0; r < list->n_rows; r++)
    if (list->rows[r].kind == PM_ROW_PLAIN)
      return TRUE;
  return FALSE;
}

static void
tell_cut (PmFlow *flow, guint n, const char *format)
{
  if (n > 0) {
    g_autofree char *text = g_strdup_printf (format, n);

    pm_flow_note (flow, text);
  }
}

static PmFlow *
moved_pins (const PmSheetInput *in, guint most, gboolean goes)
{
  const char *const COLUMNS[] = { "pin", "line", "what", goes ? "goes-to" : NULL, NULL };
  PmFlow *flow = pm_flow_new (in->type);
  PmList *list = pm_sheet_list_of (in, PM_LIST_PINS);
  guint cut;

  pm_flow_heading (flow, 1, _("Moved pins"));
  drop_about (list);
  keep_rows (list, "what", (const char *const[]) { _("cut"), _("re-routed"), NULL }, TRUE);
  cut = pm_sheet_cut_rows (list, most);
  if (!has_plain_rows (list)) {
    pm_list_free (list);
    pm_flow_paragraph (flow, _("None: every pin goes straight through."));
    return flow;
  }
  pm_flow_list (flow, list, COLUMNS);
  tell_cut (flow, cut, ngettext ("%u more pin is left out here; see the pin table.",
                                   "%u more pins are left out here; see the pin table.", cut));
  return flow;
}

static PmFlow *
crossed_conductors (const PmSheetInput *in, guint most)
{
  PmFlow *flow = pm_flow_new (in->type);
  PmList *list = pm_sheet_list_of (in, PM_LIST_CABLES);
  guint cut;

  pm_flow_heading (flow, 1, _("Crossed conductors"));
  drop_about (list);
  keep_rows (list, "way", (const char *const[]) { _("straight"), NULL }, FALSE);
  cut = pm_sheet_cut_rows (list, most);
  if (!has_plain_rows (list)) {
    pm_list_free (list);
    pm_flow_paragraph (flow, _("None: every conductor goes straight through."));
    return flow;
  }
  pm_flow_list (flow, list, NULL);
  tell_cut (flow, cut, ngettext ("%u more conductor is left out here; see the cable table.",
                                   "%u more conductors are left out here; see the cable table.", cut));
  return flow;
}

static PmFlow *
short_parts (const PmSheetInput *in, guint most)
{
  static const char *const COLUMNS[] = { "letters", "quantity", "description", "value", "part", NULL };
  PmFlow *flow = pm_flow_new (in->type);
  PmList *list = pm_sheet_list_of (in, PM_LIST_PARTS);
  guint cut;

  pm_flow_heading (flow, 1, _("Parts"));
  drop_about (list);
  cut = pm_sheet_cut_rows (list, most);
  pm_flow_list (flow, list, COLUMNS);
  tell_cut (flow, cut, ngettext ("%u more part is left out here; see the parts list.",
                                   "%u more parts are left out here; see the parts list.", cut));
  return flow;
}

static void
add_results_table (PmFlow *flow, const PmSheetInput *in, guint most)
{
  PmList *list = pm_sheet_list_of (in, PM_LIST_RESULTS);
  guint cut;

  drop_about (list);
  cut = pm_sheet_cut_rows (list, most);
  pm_flow_list (flow, list, NULL);
  tell_cut (flow, cut, ngettext ("%u more result is left out here; see the comparison of results.",
                                   "%u more results are left out here; see the comparison of results.", cut));
}

/* part: of the height a plan likes.  Two plans stand side by side; the one without the board makes
 * their number even, and else stands in words. */
static void
add_plans (PmFlow *flow, const PmSheetInput *in, gboolean all, double part)
{
  const PmCheck *check = in->check;
  GArray *cases = pm_sheet_result_cases (check);

  if (!all && cases->len % 2 == 1) {
    g_autoptr (GString) text = g_string_new (NULL);
    g_autofree char *name = pm_sheet_case_name (check, 0);

    g_array_remove_index (cases, 0);
    for (guint u = 0; u < check->board->host.n_units; u++) {
      g_autofree char *reach = pm_check_reach_text (check, 0, u);

      g_string_append_printf (text, "%s%s: %s", u > 0 ? "; " : "", check->board->host.units[u].name, reach);
    }
    g_autofree char *without = g_strdup_printf (_("%s: %s."), name, text->str);
    pm_flow_paragraph (flow, without);
  }
  pm_sheet_plans (flow, in, cases, MIN (2, cases->len), part);
}

/* The five checks without their headings and what a sheet of its own says besides. */
static void
add_checks (PmFlow *flow, const PmSheetInput *in, guint most)
{
  PmList *checks = pm_sheet_list_of (in, PM_LIST_CHECKS);
  guint kept = 0, cut;

  drop_about (checks);
  for (guint r = 0; r < checks->n_rows; r++) {
    if (checks->rows[r].kind != PM_ROW_HEADING)
      checks->rows[kept++] = checks->rows[r];
    else {
      g_strfreev (checks->rows[r].cells);
      g_free (checks->rows[r].id);
    }
  }
  checks->n_rows = kept;
  cut = pm_sheet_cut_rows (checks, most);
  pm_flow_heading (flow, 1, pm_list_kind_title (PM_LIST_CHECKS));
  pm_flow_list (flow, checks, NULL);
  tell_cut (flow, cut, ngettext ("%u more reading is left out here; see the sheet of checks.",
                                   "%u more readings are left out here; see the sheet of checks.", cut));
}

PmFlow *
pm_sheet_one_page (const PmSheetInput *in, guint degree)
{
  const Degree *now = &DEGREES[MIN (degree, PM_ONE_PAGE_DEGREES - 1)];
  const PmCheck *check = in->check;
  g_autofree char *name = pm_sheet_board (check);
  PmFlow *flow = pm_flow_new (in->type);

  pm_flow_heading (flow, 0, name);
  add_verdict (flow, check);
  pm_flow_note (flow, check->tried_text);
  pm_flow_note (flow, check->not_checked_text);
  add_findings (flow, check, now->findings);
  pm_flow_heading (flow, 1, _("What each select reaches"));
  if (check->n_results <= ONE_PAGE_PLANS && now->plan > 0)
    add_plans (flow, in, FALSE, now->plan);
  else
    add_results_table (flow, in, now->results);
  if (check->board->has_board)
    pm_flow_columns (flow, moved_pins (in, now->pins, now->goes), short_parts (in, now->parts), 0.5);
  else if (pm_sheet_applies (check, PM_SHEET_CABLES))
    pm_flow_columns (flow, crossed_conductors (in, now->pins), short_parts (in, now->parts), 0.6);
  add_checks (flow, in, now->checks);
  return flow;
}

static void
add_contents (PmFlow *flow, const PmSheetInput *in)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint kind = PM_SHEET_COVER + 1; kind < PM_N_SHEETS; kind++)
    if ((in->options->sheets & 1u << kind) && pm_sheet_applies (in->check, kind))
      g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", pm_sheet_title (kind));
  if (text->len == 0)
    return;
  pm_flow_heading (flow, 1, _("Sheets that follow"));
  pm_flow_paragraph (flow, text->str);
}

PmFlow *
pm_sheet_cover (const PmSheetInput *in, guint degree)
{
  const PmCheck *check = in->check;
  g_autofree char *name = pm_sheet_board (check);
  PmFlow *flow = pm_flow_new (in->type);

  pm_flow_heading (flow, 0, name);
  if (check->board->about) {
    g_autofree char *about = g_strdup (check->board->about);
    g_auto (GStrv) words = g_strsplit_set (g_strstrip (about), " \n\t", -1);
    g_autoptr (GString) text = g_string_new (NULL);

    for (guint i = 0; words[i]; i++)
      if (words[i][0])
        g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", words[i]);
    pm_flow_paragraph (flow, text->str);
  }
  add_verdict (flow, check);
  pm_flow_note (flow, check->tried_text);
  pm_flow_note (flow, check->not_checked_text);
  add_findings (flow, check, 6);
  pm_flow_heading (flow, 1, _("What each select reaches"));
  if (check->n_results <= COVER_PLANS)
    add_plans (flow, in, TRUE, 1);
  else
    add_results_table (flow, in, G_MAXUINT);
  pm_sheet_cautions (flow, TRUE);
  add_contents (flow, in);
  return flow;
}

PmFlow *
pm_sheet_results (const PmSheetInput *in, guint degree)
{
  const PmCheck *check = in->check;
  PmFlow *flow = pm_flow_new (in->type);

  pm_flow_heading (flow, 0, pm_list_kind_title (PM_LIST_RESULTS));
  pm_flow_list (flow, pm_sheet_list_of (in, PM_LIST_RESULTS), NULL);
  if (check->n_results > COVER_PLANS)
    add_plans (flow, in, TRUE, 1);
  if (check->n_findings > 0) {
    static const char *const COLUMNS[] = { "severity", "finding", "where", "what", "to-do", "measure", NULL };
    PmList *findings = pm_sheet_list_of (in, PM_LIST_FINDINGS);

    g_clear_pointer (&findings->about, g_free);
    pm_flow_heading (flow, 1, pm_list_kind_title (PM_LIST_FINDINGS));
    pm_flow_list (flow, findings, COLUMNS);
  }
  return flow;
}
