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
    g_ptr_array_add (words, g_strdup_printf (ngettext ("%u\u00a0stop", "%u\u00a0stops", n[PM_SEVERITY_STOP]), n[PM_SEVERITY_STOP]));
  if (n[PM_SEVERITY_CARE] > 0)
    g_ptr_array_add (words, g_strdup_printf (ngettext ("%u\u00a0care", "%u\u00a0cares", n[PM_SEVERITY_CARE]), n[PM_SEVERITY_CARE]));
  if (n[PM_SEVERITY_NOTE] > 0)
    g_ptr_array_add (words, g_strdup_printf (ngettext ("%u\u00a0note", "%u\u00a0notes", n[PM_SEVERITY_NOTE]), n[PM_SEVERITY_NOTE]));
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
  g_autofree char *tried = pm_report_wrap (check->tried_text, 0, width), *not_checked = pm_report_wrap (check->not_checked_text, 0, width), *sentence = pm_report_wrap (verdict->str, 0, width);
  g_string_append_printf (out, "%s\n%s\n%s\n", sentence, tried, not_checked);
  if (check->verdict == PM_VERDICT_NO_VERDICT && check->what_to_do != NULL)
    g_string_append_printf (out, "\n%s\n", check->what_to_do);
  for (guint i = 0; i < check->n_findings; i++) {
    const PmFinding *finding = &check->findings[i];
    if (finding->severity == PM_SEVERITY_NOTE && !all) {
      g_string_append_printf (out, "\n%s  %s: %s\n", pm_report_severity (finding->severity), finding->title, finding->accepted != NULL ? finding->accepted : finding->what != NULL ? finding->what : finding->where);
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

static char *
side_words (const PmCheck *check, guint i)
{
  const PmCaseResult *result = &check->cases[i];
  g_autoptr (GPtrArray) stays = g_ptr_array_new (), held = g_ptr_array_new ();
  for (guint k = 0; k < result->n_sides; k++) {
    GPtrArray *list = result->sides[k].side == PM_SIDE_HELD ? held : stays;
    if (result->sides[k].side != PM_SIDE_FOLLOWS && !g_ptr_array_find_with_equal_func (list, result->sides[k].does, g_str_equal, NULL))
      g_ptr_array_add (list, result->sides[k].does);
  }
  if (result->n_sides == 0)
    return g_strdup (_("not judged"));
  if (stays->len + held->len == 0)
    return g_strdup (_("go along"));
  g_ptr_array_add (stays, NULL);
  g_ptr_array_add (held, NULL);
  g_autofree char *not = g_strjoinv (", ", (char **) stays->pdata), *by = g_strjoinv (", ", (char **) held->pdata);
  g_autofree char *a = not[0] != '\0' ? g_strdup_printf (_("not: %s"), not) : g_strdup (""), *b = by[0] != '\0' ? g_strdup_printf (_("held: %s"), by) : g_strdup ("");
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

/* Drives that answer with nothing turned on; "nothing" where there are none. */
static char *
idle_words (const PmCheck *check, guint i)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint d = 0; d < check->board->n_drives; d++)
    if (check->cases[i].marks[d] == PM_DRIVE_ALWAYS)
      g_string_append_printf (text, "%s%s", text->len > 0 ? " + " : "", pm_name_drive (check->board, d));
  return g_strdup (text->len > 0 ? text->str : _("nothing"));
}

static gboolean
any_idle (const PmCheck *check)
{
  for (guint i = 0; i <= check->n_settings; i++)
    for (guint d = 0; d < check->board->n_drives; d++)
      if (check->cases[i].marks[d] == PM_DRIVE_ALWAYS)
        return TRUE;
  return FALSE;
}

static void
settings_down (GString *out, const PmCheck *check)
{
  const PmHost *host = &check->board->host;
  guint first = check->board->has_board ? 0 : 1; /* where there is no board there is nothing to compare with */
  gboolean idle = any_idle (check);
  g_autoptr (PmTextTable) table = pm_text_table_new (host->n_units + 3 + idle);
  pm_text_table_add (table, "");
  if (idle)
    pm_text_table_add (table, _("nothing on"));
  for (guint u = 0; u < host->n_units; u++)
    pm_text_table_add (table, host->units[u].name);
  pm_text_table_add (table, _("side lines"));
  pm_text_table_add (table, "");
  for (guint i = first; i <= check->n_settings; i++) {
    pm_text_table_add (table, check->cases[i].name);
    if (idle)
      pm_text_table_take (table, idle_words (check, i));
    for (guint u = 0; u < host->n_units; u++)
      pm_text_table_take (table, pm_check_reach_text (check, i, u));
    pm_text_table_take (table, side_words (check, i));
    pm_text_table_add (table, worst_word (check, i));
  }
  pm_text_table_append (table, out, 0, 1, G_MAXUINT);
}

static void
selects_down (GString *out, const PmCheck *check, guint first, guint last)
{
  const PmHost *host = &check->board->host;
  g_autoptr (PmTextTable) table = pm_text_table_new (last - first + 2);
  pm_text_table_add (table, "");
  for (guint i = first; i <= last; i++)
    pm_text_table_add (table, check->cases[i].name);
  gboolean idle = any_idle (check);
  if (idle)
    pm_text_table_add (table, _("nothing on"));
  for (guint i = first; i <= last && idle; i++)
    pm_text_table_take (table, idle_words (check, i));
  for (guint u = 0; u < host->n_units; u++) {
    pm_text_table_add (table, host->units[u].name);
    for (guint i = first; i <= last; i++)
      pm_text_table_take (table, pm_check_reach_text (check, i, u));
  }
  pm_text_table_add (table, _("side lines"));
  for (guint i = first; i <= last; i++)
    pm_text_table_take (table, side_words (check, i));
  gboolean any = FALSE;
  for (guint i = first; i <= last; i++)
    any |= worst_word (check, i)[0] != '\0';
  if (any)
    pm_text_table_add (table, "");
  for (guint i = first; i <= last && any; i++)
    pm_text_table_add (table, worst_word (check, i));
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
  pm_text_pad (out, title, pm_text_columns (title) + pm_text_columns (hash) < 70 ? 72 - pm_text_columns (hash) : pm_text_columns (title) + 2);
  g_string_append_printf (out, "%s\n", hash);
  g_autoptr (GString) verdict = g_string_new (check->verdict_text);
  append_counts (verdict, check);
  g_autofree char *wrapped = pm_report_wrap (verdict->str, 0, 72);
  g_string_append_printf (out, "%s\n\n", wrapped);
  if (check->board->host.n_units <= 2) {
    g_autoptr (GString) block = g_string_new (NULL);
    settings_down (block, check);
    if (fits (block->str, 72)) {
      g_string_append (out, block->str);
      return g_string_free (g_steal_pointer (&out), FALSE);
    }
  }
  for (guint first = check->board->has_board ? 0 : 1; first <= check->n_settings;) { /* as many columns a block as fit, six at most */
    guint last = MIN (first + 5, check->n_settings);
    for (;; last--) {
      g_autoptr (GString) block = g_string_new (NULL);
      selects_down (block, check, first, last);
      if (last == first || fits (block->str, 72)) {
        g_string_append_printf (out, "%s%s", first > 1 ? "\n" : "", block->str);
        break;
      }
    }
    first = last + 1;
  }
  return g_string_free (g_steal_pointer (&out), FALSE);
}
