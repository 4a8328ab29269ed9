/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a check found, as text that does not change with the wording of sentences. Names are those of the files. */
#include "check-text.h"

static const char *const kinds[PM_N_CASE_KINDS] = {"without", "setting", "moving", "removed", "turned",
                                                   "supply",  "reset",   "off",    "once"};
static const char *const marks[PM_N_DRIVE_MARKS] = {"reached",     "unreached", "held",    "floats",
                                                    "not-certain", "always",    "no-power"};
static const char *const sides[PM_N_SIDES] = {"follows", "stays", "held", "not-certain", "not-judged"};
static const char *const fits[] = {"not-stated", "as-wanted", "NOT-as-wanted", "not-decided"};
static const char *const severities[PM_N_SEVERITIES] = {"STOP", "CARE", "note"};
static const char *const verdicts[PM_N_VERDICTS] = {"not-ready", "no-verdict", "ready-if", "routes-right", "ready"};

PmBoard *
check_text_load (const char *path, PmLibrary *library)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  PmBoard *board = pm_board_load (path, library, faults);
  for (guint i = 0; i < pm_faults_count (faults); i++) {
    g_autofree char *line = pm_fault_to_text (pm_faults_get (faults, i));
    g_printerr ("# %s\n", line);
  }
  g_assert_nonnull (board);
  return board;
}

static void
append_cells (GString *out, const PmCheck *check, guint i)
{
  const PmBoard *board = check->board;
  for (guint u = 0; u < board->host.n_units; u++) {
    gboolean any = FALSE;
    g_string_append_printf (out, " %s=", board->host.units[u].name);
    for (guint d = 0; d < board->n_drives; d++) {
      const PmCell *cell = pm_check_cell (check, i, u, d);
      if (cell->answer == PM_ANSWER_NEVER)
        continue;
      g_string_append_printf (out, "%s%s", any ? "+" : "", board->drives[d].name);
      any = TRUE;
      switch (cell->answer) {
      case PM_ANSWER_MAY:
        g_string_append_c (out, '?');
        if (cell->on != NULL)
          g_string_append_printf (out, "(%s)", cell->on);
        break;
      case PM_ANSWER_DEPENDS: g_string_append_printf (out, "~(%s)", cell->on); break;
      case PM_ANSWER_NOT_DECIDED: g_string_append (out, "!not-decided"); break;
      default: break;
      }
    }
    g_string_append_printf (out, "%s%s", any ? "" : "-", check->cases[i].collides[u] ? " collides" : "");
  }
}

static void
append_case (GString *out, const PmCheck *check, guint i)
{
  const PmBoard *board = check->board;
  const PmCaseResult *result = &check->cases[i];
  g_string_append_printf (out, "%s \"%s\"", kinds[result->kind], result->name);
  if (result->kind == PM_CASE_SETTING || result->kind == PM_CASE_ONCE || result->wanted != PM_NONE)
    g_string_append_printf (out, " %s", fits[result->fit]);
  g_string_append_c (out, ':');
  append_cells (out, check, i);
  g_string_append (out, " |");
  for (guint d = 0; d < board->n_drives; d++)
    g_string_append_printf (out, " %s %s", board->drives[d].name, marks[result->marks[d]]);
  if (result->caption != NULL && (result->kind == PM_CASE_REMOVED || result->kind == PM_CASE_TURNED))
    g_string_append_printf (out, " | %s", result->caption);
  if (result->kind == PM_CASE_ONCE)
    g_string_append (out, g_str_has_prefix (result->verdict, "works")  ? " | works"
                          : g_str_has_prefix (result->verdict, "must") ? " | must not be used"
                                                                       : " | not known");
  for (guint f = 0; f < result->findings->len; f++) {
    const PmFinding *finding = &check->findings[g_array_index (result->findings, guint, f)];
    g_string_append_printf (out, "%s%s", f > 0 ? " " : " | ", finding->id);
  }
  g_string_append_c (out, '\n');
  for (guint k = 0; k < result->n_sides && result->kind != PM_CASE_ONCE; k++)
    g_string_append_printf (out, "    %s of %s on %s: %s\n", result->sides[k].does,
                            board->drives[result->sides[k].drive].name, board->host.units[result->sides[k].unit].name,
                            sides[result->sides[k].side]);
}

static void
append_finding (GString *out, const PmCheck *check, const PmFinding *finding)
{
  g_string_append_printf (out, "%s %s", severities[finding->severity], finding->identity);
  g_string_append_printf (out, " | %s\n", check->cases[finding->case_index].name);
  g_string_append_printf (out, "    title: %s\n", finding->title);
  if (finding->accepted != NULL)
    g_string_append_printf (out, "    accepted: %s\n", finding->accepted);
  else if (finding->severity != PM_SEVERITY_NOTE)
    g_string_append_printf (out, "    %s%s\n", finding->tried ? "tried: " : "nothing tried helps",
                            finding->tried ? finding->to_do : "");
  for (guint i = 0; finding->followers[i] != NULL; i++)
    g_string_append_printf (out, "    follows: %s\n", finding->followers[i]);
}

char *
check_text_of (const PmCheck *check)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_string_append_printf (out, "%s | exit %d, strict %d | %u settings, %u results%s\n", verdicts[check->verdict],
                          pm_check_exit_code (check, FALSE), pm_check_exit_code (check, TRUE), check->n_settings,
                          check->n_results, check->not_decided ? " | not decided" : "");
  g_string_append_printf (out, "%s\n\n", check->verdict_text);
  for (guint i = 0; i < check->n_cases; i++)
    append_case (out, check, i);
  g_string_append_c (out, '\n');
  for (guint i = 0; i < check->n_findings; i++)
    append_finding (out, check, &check->findings[i]);
  return g_string_free (g_steal_pointer (&out), FALSE);
}
