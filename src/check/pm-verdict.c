/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verdict. */
#include "config.h"
#include "pm-verdict.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>

static const PmFinding *
first_of (const PmCheck *check, PmSeverity severity)
{
  for (guint i = 0; i < check->n_findings; i++)
    if (check->findings[i].severity == severity)
      return &check->findings[i];
  return NULL;
}

static gboolean
anything_wanted (const PmBoard *board)
{
  for (guint w = 0; w < board->n_wanted; w++)
    for (guint u = 0; u < board->host.n_units; u++)
      if (board->wanted[w].units[u].want != PM_WANT_NOT_STATED)
        return TRUE;
  return FALSE;
}

/* The line of XML that writes down what the board does now, for every setting that is free of stops. */
static char *
write_it_down (const PmCheck *check)
{
  const PmBoard *board = check->board;
  g_autoptr (GString) text = g_string_new (_("If this is what you want, write it down in the board file:"));
  for (guint i = 1; i <= check->n_settings && i <= 4; i++) {
    g_autoptr (GString) setting = g_string_new (NULL);
    for (guint s = 0; s < board->n_switches; s++)
      if (board->switches[s].moved == PM_MOVED_BY_HAND)
        g_string_append_printf (setting, "%s%s=%s", setting->len > 0 ? " " : "", board->switches[s].name,
                                board->switches[s].positions[check->cases[i].positions[s]].name);
    if (setting->len > 0)
      g_string_append_printf (text, "\n<wanted setting=\"%s\">", setting->str);
    else
      g_string_append (text, "\n<wanted>");
    for (guint u = 0; u < board->host.n_units; u++) {
      const char *drive = "none";
      for (guint d = 0; d < board->n_drives; d++)
        if (pm_check_cell (check, i, u, d)->answer == PM_ANSWER_YES)
          drive = board->drives[d].name;
      if (board->host.units[u].n_levels == 1)
        g_string_append_printf (text, "%s%s=%s", u > 0 ? " " : "", board->host.units[u].name, drive);
      else
        g_string_append_printf (text, "%s%u=%s", u > 0 ? " " : "", board->host.units[u].number, drive);
    }
    g_string_append (text, "</wanted>");
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
say_sentence (PmCheck *check, const PmTrial *trial)
{
  const PmFinding *stop = first_of (check, PM_SEVERITY_STOP), *care = first_of (check, PM_SEVERITY_CARE);
  gboolean unjudged = trial->unjudged;
  if (stop != NULL) {
    check->verdict = PM_VERDICT_NOT_READY;
    check->verdict_text = g_strdup_printf (_("Not ready: %s"), stop->short_text);
    check->what_to_do = g_strdup (stop->to_do);
  } else if (check->not_decided || unjudged) {
    check->verdict = PM_VERDICT_NO_VERDICT;
    check->verdict_text =
        g_strdup (check->not_decided ? _("No verdict: more is unknown than can be tried out")
                                     : _("No verdict: a part in a line (resistor, diode) is not judged"));
    check->what_to_do = g_strdup (_("State what is unknown in the files, or take the part out of the line."));
  } else if (check->n_settings == 0) {
    check->verdict = PM_VERDICT_NO_VERDICT;
    check->verdict_text = g_strdup (_("No verdict: every setting is said to be never used"));
    check->what_to_do = g_strdup (_("Take out a <never>."));
  } else if (!anything_wanted (check->board)) {
    check->verdict = PM_VERDICT_NO_VERDICT;
    check->verdict_text = g_strdup (_("No verdict: the file does not say what is wanted"));
    check->what_to_do = write_it_down (check);
  } else if (care != NULL) {
    check->verdict = PM_VERDICT_READY_IF;
    guint n = check->counts[PM_SEVERITY_CARE];
    check->verdict_text = n == 1 ? g_strdup_printf (_("Ready if this is taken care of: %s"), care->short_text)
                                 : g_strdup_printf (ngettext ("Ready if %u thing is taken care of, first: %s",
                                                              "Ready if %u things are taken care of, first: %s", n),
                                                    n, care->short_text);
    check->what_to_do = g_strdup (care->to_do);
  } else {
    check->verdict = PM_VERDICT_ROUTES_RIGHT;
    guint stated = 0;
    for (guint i = 1; i <= check->n_settings; i++)
      stated += check->cases[i].fit == PM_FIT_AS_WANTED;
    if (stated < check->n_settings)
      check->verdict_text = g_strdup_printf (ngettext ("Routes right as far as stated: of %u setting nothing is said",
                                                       "Routes right as far as stated: of %u settings nothing is said",
                                                       check->n_settings - stated),
                                             check->n_settings - stated);
    else
      check->verdict_text = check->n_settings > 1 ? g_strdup (_("Routes right: every setting does what is wanted"))
                                                  : g_strdup (_("Routes right: every select reaches what is wanted"));
    check->what_to_do = NULL;
  }
}

void
pm_verdict_say (PmCheck *check, const PmTrial *trial)
{
  guint variations = 0;
  for (guint i = 1; i < check->n_cases; i++)
    variations += check->cases[i].kind != PM_CASE_SETTING && check->cases[i].kind != PM_CASE_ONCE;
  check->not_decided = trial->not_decided;
  check->n_runs = trial->survey->n_runs;
  say_sentence (check, trial);
  g_autofree char *settings =
      g_strdup_printf (ngettext ("%u setting", "%u settings", check->n_settings), check->n_settings);
  g_autofree char *others = g_strdup_printf (ngettext ("%u variation", "%u variations", variations), variations);
  g_autofree char *cases = g_strdup_printf (ngettext ("%u case", "%u cases", check->n_runs), check->n_runs);
  /* Translators: 2 settings, 9 variations, 45 cases. */
  check->tried_text = g_strdup_printf (
      trial->not_decided
          ? _("Tried: %s and %s, each with everything the machine can turn on: %s, not all of them decided.")
          : _("Tried: %s and %s, each with everything the machine can turn on: %s, all of them."),
      settings, others, cases);
  check->not_checked_text =
      g_strdup (_("Not checked: currents except for lows and highs, margins except for highs, time, build errors."));
}
