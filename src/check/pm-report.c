/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plain text of what was found. Columns are counted in characters as a terminal shows them. */
#include "config.h"
#include "pm-report.h"
#include "pm-finding-kinds.h"
#include "pm-naming.h"
#include "pm-text-table.h"
#include <glib/gi18n-lib.h>

#define LABEL_WIDTH 9

const char *
pm_report_severity (PmSeverity severity)
{
  return severity == PM_SEVERITY_STOP ? _("STOP") : severity == PM_SEVERITY_CARE ? _("CARE") : _("note");
}

char *
pm_report_wrap (const char *text, guint indent, guint width)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  for (guint l = 0; lines[l] != NULL; l++) {
    g_auto (GStrv) words = g_strsplit (lines[l], " ", -1);
    guint at = indent;
    if (l > 0)
      g_string_append_printf (out, "\n%*s", (int) indent, "");
    for (guint w = 0; words[w] != NULL; w++) {
      guint n = pm_text_columns (words[w]);
      if (w > 0 && at + 1 + n > width) {
        g_string_append_printf (out, "\n%*s", (int) indent, "");
        at = indent;
      } else if (w > 0) {
        g_string_append_c (out, ' ');
        at++;
      }
      g_string_append (out, words[w]);
      at += n;
    }
  }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

static void
row (GString *out, const char *label, const char *text, guint width)
{
  if (text == NULL || text[0] == '\0')
    return;
  g_autofree char *wrapped = pm_report_wrap (text, LABEL_WIDTH, width);
  if (pm_text_columns (label) < LABEL_WIDTH)
    pm_text_pad (out, label, LABEL_WIDTH);
  else
    g_string_append_printf (out, "%s\n%*s", label, LABEL_WIDTH, "");
  g_string_append_printf (out, "%s\n", wrapped);
}

char *
pm_report_finding (const PmFinding *finding, guint width)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autofree char *head = g_strdup_printf ("%s  %s", pm_report_severity (finding->severity), finding->title);
  guint n = pm_text_columns (head), id = pm_text_columns (finding->id);
  if (n + id + 2 <= width)
    g_string_append_printf (out, "%s%*s%s\n", head, (int) (width - n - id), "", finding->id);
  else {
    g_autofree char *wrapped = pm_report_wrap (head, 6, width);
    g_string_append_printf (out, "%s\n%*s%s\n", wrapped, (int) (width - id), "", finding->id);
  }
  row (out, _("When"), finding->when, width);
  row (out, _("What"), finding->what, width);
  row (out, _("Because"), finding->because, width);
  row (out, _("Matters"), finding->matters, width);
  row (out, finding->tried ? _("To do") : _("What to look at"), finding->to_do, width);
  row (out, _("Measure"), finding->measure, width);
  row (out, _("Follows"), finding->follows, width);
  row (out, _("Accepted"), finding->accepted, width);
  return g_string_free (g_steal_pointer (&out), FALSE);
}

static void
append_once (GString *out, const PmCheck *check)
{
  g_autoptr (PmTextTable) table = pm_text_table_new (2);
  gboolean any = FALSE;
  for (guint i = 0; i < check->n_cases; i++) {
    if (check->cases[i].kind != PM_CASE_ONCE)
      continue;
    pm_text_table_add (table, check->cases[i].name);
    pm_text_table_add (table, check->cases[i].verdict);
    any = TRUE;
  }
  if (!any)
    return;
  g_string_append_printf (out, "\n%s\n", _("Other places of what is set once:"));
  pm_text_table_append (table, out, 2, 2, G_MAXUINT);
}

static void
append_counts (GString *out, const PmCheck *check)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  const guint *n = check->counts;
  if (n[PM_SEVERITY_STOP] > 0)
    g_ptr_array_add (
        words, g_strdup_printf (ngettext ("%u\u00a0stop", "%u\u00a0stops", n[PM_SEVERITY_STOP]), n[PM_SEVERITY_STOP]));
  if (n[PM_SEVERITY_CARE] > 0)
    g_ptr_array_add (
        words, g_strdup_printf (ngettext ("%u\u00a0care", "%u\u00a0cares", n[PM_SEVERITY_CARE]), n[PM_SEVERITY_CARE]));
  if (n[PM_SEVERITY_NOTE] > 0)
    g_ptr_array_add (
        words, g_strdup_printf (ngettext ("%u\u00a0note", "%u\u00a0notes", n[PM_SEVERITY_NOTE]), n[PM_SEVERITY_NOTE]));
  if (words->len == 0)
    return;
  for (guint i = 0; i < words->len; i++)
    g_string_append_printf (out, "%s%s", i > 0 ? ", " : " (", (char *) g_ptr_array_index (words, i));
  g_string_append_c (out, ')');
}

static char *
board_line (const PmCheck *check)
{
  const PmBoard *board = check->board;
  g_autoptr (GString) text = g_string_new (board->title != NULL ? board->title : board->path);
  if (board->revision != NULL && board->revision[0] != '\0')
    g_string_append_printf (text, _(" rev %s"), board->revision);
  g_string_append_printf (text, _(" on %s"), pm_name_host (board));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
pm_report_check (const PmCheck *check, gboolean all, guint width)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autofree char *title = board_line (check);
  g_string_append_printf (out, _("%s, file %s\n\n"), title, check->board->hash);
  g_autoptr (GString) verdict = g_string_new (check->verdict_text);
  append_counts (verdict, check);
  g_autofree char *tried = pm_report_wrap (check->tried_text, 0, width),
                  *not_checked = pm_report_wrap (check->not_checked_text, 0, width),
                  *sentence = pm_report_wrap (verdict->str, 0, width);
  g_string_append_printf (out, "%s\n%s\n%s\n", sentence, tried, not_checked);
  if (check->verdict == PM_VERDICT_NO_VERDICT && check->what_to_do != NULL)
    g_string_append_printf (out, "\n%s\n", check->what_to_do);
  for (guint i = 0; i < check->n_findings; i++) {
    const PmFinding *finding = &check->findings[i];
    if (finding->severity == PM_SEVERITY_NOTE && !all) {
      g_string_append_printf (out, "\n%s  %s: %s\n", pm_report_severity (finding->severity), finding->title,
                              finding->accepted != NULL ? finding->accepted
                              : finding->what != NULL   ? finding->what
                                                        : finding->where);
      continue;
    }
    g_autofree char *text = pm_report_finding (finding, width);
    g_string_append_printf (out, "\n%s", text);
  }
  if (all)
    append_once (out, check);
  return g_string_free (g_steal_pointer (&out), FALSE);
}

/* ---- the table */

char *
pm_report_sides (const PmCheck *check, guint i)
{
  const PmCaseResult *result = &check->cases[i];
  g_autoptr (GPtrArray) stays = g_ptr_array_new (), held = g_ptr_array_new ();
  for (guint k = 0; k < result->n_sides; k++) {
    GPtrArray *list = result->sides[k].side == PM_SIDE_HELD ? held : stays;
    if (result->sides[k].side != PM_SIDE_FOLLOWS &&
        !g_ptr_array_find_with_equal_func (list, result->sides[k].does, g_str_equal, NULL))
      g_ptr_array_add (list, result->sides[k].does);
  }
  if (result->n_sides == 0)
    return g_strdup (_("not judged"));
  if (stays->len + held->len == 0)
    return g_strdup (_("go along"));
  g_ptr_array_add (stays, NULL);
  g_ptr_array_add (held, NULL);
  g_autofree char *not = g_strjoinv (", ", (char **) stays->pdata), *by = g_strjoinv (", ", (char **) held->pdata);
  g_autofree char *a = not [0] != '\0' ? g_strdup_printf (_("not: %s"), not ) : g_strdup (""),
                  *b = by[0] != '\0' ? g_strdup_printf (_("held: %s"), by) : g_strdup ("");
  return g_strdup_printf ("%s%s%s", a, a[0] != '\0' && b[0] != '\0' ? "; " : "", b);
}

/* The worst of a setting and of its variations.  What is only assumed belongs to the file, not to one setting. */
static const char *
worst_word (const PmCheck *check, guint setting)
{
  PmSeverity worst = PM_N_SEVERITIES;
  for (guint c = 1; c < check->n_cases; c++) {
    if (check->cases[c].setting != setting || setting == 0)
      continue;
    for (guint k = 0; k < check->cases[c].findings->len; k++) {
      const PmFinding *finding = &check->findings[g_array_index (check->cases[c].findings, guint, k)];
      if (finding->kind != PM_FINDING_ASSUMED && finding->kind != PM_FINDING_POSITION_NOT_STATED)
        worst = MIN (worst, finding->severity);
    }
  }
  return worst <= PM_SEVERITY_CARE ? pm_report_severity (worst) : "";
}

char *
pm_report_always (const PmCheck *check, guint i)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint d = 0; d < check->board->n_drives; d++)
    if (check->cases[i].marks[d] == PM_DRIVE_ALWAYS)
      g_string_append_printf (text, "%s%s", text->len > 0 ? " + " : "", pm_name_drive (check->board, d));
  return g_strdup (text->len > 0 ? text->str : _("nothing"));
}

gboolean
pm_report_any_always (const PmCheck *check)
{
  for (guint i = 0; i <= check->n_settings; i++)
    for (guint d = 0; d < check->board->n_drives; d++)
      if (check->cases[i].marks[d] == PM_DRIVE_ALWAYS)
        return TRUE;
  return FALSE;
}

/* One row of the table: settings of which it says the same. */
typedef struct {
  guint    first;        /* a case that stands for all */
  GArray  *settings;     /* guint */
  char    *label;
  GPtrArray *cells;      /* char *: idle, each unit, side lines, the worst */
} Row;

static void
row_free (Row *row)
{
  g_array_unref (row->settings);
  g_free (row->label);
  g_ptr_array_unref (row->cells);
  g_free (row);
}

static Row *
row_new (const PmCheck *check, guint i)
{
  Row *row = g_new0 (Row, 1);
  row->first = i;
  row->settings = g_array_new (FALSE, FALSE, sizeof (guint));
  g_array_append_val (row->settings, i);
  row->cells = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (row->cells, pm_report_always (check, i));
  for (guint u = 0; u < check->board->host.n_units; u++)
    g_ptr_array_add (row->cells, pm_check_reach_text (check, i, u));
  g_ptr_array_add (row->cells, pm_report_sides (check, i));
  g_ptr_array_add (row->cells, g_strdup (worst_word (check, i)));
  return row;
}

static gboolean
says_the_same (const Row *a, const Row *b)
{
  for (guint i = 0; i < a->cells->len; i++)
    if (!g_str_equal (g_ptr_array_index (a->cells, i), g_ptr_array_index (b->cells, i)))
      return FALSE;
  return TRUE;
}

char *
pm_report_settings (const PmCheck *check, const GArray *settings)
{
  const PmBoard *board = check->board;
  g_autofree guint64 *used = g_new0 (guint64, MAX (board->n_switches, 1));
  guint product = 1;
  g_autoptr (GString) label = g_string_new (NULL);
  for (guint i = 0; i < settings->len; i++)
    for (guint s = 0; s < board->n_switches; s++)
      used[s] |= (guint64) 1 << check->cases[g_array_index (settings, guint, i)].positions[s];
  for (guint s = 0; s < board->n_switches; s++) {
    const PmSwitch *sw = &board->switches[s];
    if (!pm_switch_is_by_hand (sw))
      continue;
    guint n = 0;
    g_autoptr (GString) at = g_string_new (NULL);
    for (guint p = 0; p < sw->n_positions; p++)
      if (used[s] >> p & 1) {
        g_string_append_printf (at, "%s%s", n > 0 ? "/" : "", pm_position_title (sw, (int) p));
        n++;
      }
    product *= MAX (n, 1);
    g_string_append_printf (label, "%s%s", label->len > 0 ? ", " : "",
                            n == sw->n_positions && n > 1 ? _("any") : at->str);
  }
  return product == settings->len ? g_string_free (g_steal_pointer (&label), FALSE) : NULL;
}

/* Rows in order of their first setting; without the board first. Settings stand together from six on. */
static GPtrArray *
make_rows (const PmCheck *check)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func ((GDestroyNotify) row_free);
  for (guint i = check->board->has_board ? 0 : 1; i <= check->n_settings; i++) {
    Row *row = row_new (check, i), *same = NULL;
    for (guint k = 0; k < rows->len && same == NULL && check->n_settings > 6; k++) {
      Row *other = g_ptr_array_index (rows, k);
      if (other->first == 0 || !says_the_same (row, other))
        continue;
      g_array_append_val (other->settings, i);
      same = other;
    }
    if (same == NULL)
      g_ptr_array_add (rows, row);
    else
      row_free (row);
  }
  for (guint k = 0; k < rows->len; k++) {
    Row *row = g_ptr_array_index (rows, k);
    if (row->settings->len > 1)
      row->label = pm_report_settings (check, row->settings);
    if (row->label == NULL && row->settings->len > 1)
      row->label = g_strdup_printf (ngettext ("%s and %u more", "%s and %u more", row->settings->len - 1),
                                    check->cases[row->first].name, row->settings->len - 1);
    if (row->label == NULL)
      row->label = g_strdup (check->cases[row->first].name);
  }
  return rows;
}

static const char *
row_cell (const GPtrArray *rows, guint r, guint c)
{
  return g_ptr_array_index (((const Row *) g_ptr_array_index (rows, r))->cells, c);
}

/* Head of cell c of a row: 0 idle, then the units, side lines, the worst. */
static const char *
cell_head (const PmCheck *check, guint c)
{
  guint n = check->board->host.n_units;
  return c == 0 ? _("nothing on") : c <= n ? check->board->host.units[c - 1].name : c == n + 1 ? _("side lines") : "";
}

static void
settings_down (GString *out, const PmCheck *check, const GPtrArray *rows)
{
  guint n_cells = check->board->host.n_units + 3, first = pm_report_any_always (check) ? 0 : 1;
  g_autoptr (PmTextTable) table = pm_text_table_new (n_cells + 1 - first);
  pm_text_table_add (table, "");
  for (guint c = first; c < n_cells; c++)
    pm_text_table_add (table, cell_head (check, c));
  for (guint r = 0; r < rows->len; r++) {
    pm_text_table_add (table, ((const Row *) g_ptr_array_index (rows, r))->label);
    for (guint c = first; c < n_cells; c++)
      pm_text_table_add (table, row_cell (rows, r, c));
  }
  pm_text_table_append (table, out, 0, 1, G_MAXUINT);
}

static void
selects_down (GString *out, const PmCheck *check, const GPtrArray *rows, guint from, guint to)
{
  guint n_cells = check->board->host.n_units + 3, first = pm_report_any_always (check) ? 0 : 1;
  gboolean any = FALSE;
  g_autoptr (PmTextTable) table = pm_text_table_new (to - from + 2);
  pm_text_table_add (table, "");
  for (guint r = from; r <= to; r++) {
    pm_text_table_add (table, ((const Row *) g_ptr_array_index (rows, r))->label);
    any |= row_cell (rows, r, n_cells - 1)[0] != '\0';
  }
  for (guint c = first; c < n_cells - !any; c++) {
    pm_text_table_add (table, cell_head (check, c));
    for (guint r = from; r <= to; r++)
      pm_text_table_add (table, row_cell (rows, r, c));
  }
  pm_text_table_append (table, out, 0, 1, G_MAXUINT);
}

static gboolean
fits (const char *block, guint width)
{
  g_auto (GStrv) lines = g_strsplit (block, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    if (pm_text_columns (lines[i]) > width)
      return FALSE;
  return TRUE;
}

char *
pm_report_routes (const PmCheck *check)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autofree char *title = board_line (check), *hash = g_strdup_printf (_("file %s"), check->board->hash);
  pm_text_pad (out, title,
               pm_text_columns (title) + pm_text_columns (hash) < 70 ? 72 - pm_text_columns (hash)
                                                                     : pm_text_columns (title) + 2);
  g_string_append_printf (out, "%s\n", hash);
  g_autoptr (GString) verdict = g_string_new (check->verdict_text);
  append_counts (verdict, check);
  g_autofree char *wrapped = pm_report_wrap (verdict->str, 0, 72);
  g_string_append_printf (out, "%s\n\n", wrapped);
  g_autoptr (GPtrArray) rows = make_rows (check);
  if (check->board->host.n_units <= 2) {
    g_autoptr (GString) block = g_string_new (NULL);
    settings_down (block, check, rows);
    if (fits (block->str, 72)) {
      g_string_append (out, block->str);
      return g_string_free (g_steal_pointer (&out), FALSE);
    }
  }
  for (guint from = 0, to; from < rows->len; from = to + 1) { /* as many columns a block as fit, six at most */
    for (to = MIN (from + 5, rows->len - 1);; to--) {
      g_autoptr (GString) block = g_string_new (NULL);
      selects_down (block, check, rows, from, to);
      if (to > from && !fits (block->str, 72))
        continue;
      g_string_append_printf (out, "%s%s", from > 0 ? "\n" : "", block->str);
      break;
    }
  }
  return g_string_free (g_steal_pointer (&out), FALSE);
}
