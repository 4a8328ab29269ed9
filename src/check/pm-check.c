/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything about a board in one go: trial, causes, findings, results, verdict. */
#include "config.h"
#include "pm-check.h"
#include "pm-finding.h"
#include "pm-naming.h"
#include "pm-once.h"
#include "pm-verdict.h"
#include <glib/gi18n-lib.h>

const PmCell *
pm_check_cell (const PmCheck *check, guint case_index, guint unit, guint drive)
{
  return &check->cases[case_index].cells[unit * check->board->n_drives + drive];
}

char *
pm_check_reach_text (const PmCheck *check, guint case_index, guint unit)
{
  return pm_name_reach (check->board, pm_check_cell (check, case_index, unit, 0));
}

gboolean
pm_check_differs (const PmCheck *check, guint case_a, guint case_b, guint unit)
{
  for (guint d = 0; d < check->board->n_drives; d++)
    if (pm_check_cell (check, case_a, unit, d)->answer != pm_check_cell (check, case_b, unit, d)->answer)
      return TRUE;
  return FALSE;
}

guint
pm_check_find_setting (const PmCheck *check, const int *positions)
{
  for (guint i = 1; i <= check->n_settings; i++) {
    gboolean same = TRUE;
    for (guint s = 0; s < check->board->n_switches && same; s++)
      same = !pm_switch_is_by_hand (&check->board->switches[s]) || check->cases[i].positions[s] == positions[s];
    if (same)
      return i;
  }
  return PM_NONE;
}

guint
pm_check_find_named (const PmCheck *check, const char *name)
{
  for (guint i = 1; i <= check->n_settings; i++)
    if (g_str_equal (check->cases[i].name, name) || g_strcmp0 (check->cases[i].title, name) == 0)
      return i;
  return PM_NONE;
}

int
pm_check_exit_code (const PmCheck *check, gboolean strict)
{
  if (strict)
    return check->counts[PM_SEVERITY_STOP] + check->counts[PM_SEVERITY_CARE] > 0 || check->not_decided ||
           check->verdict == PM_VERDICT_NO_VERDICT;
  return check->verdict == PM_VERDICT_NOT_READY || check->verdict == PM_VERDICT_NO_VERDICT;
}

/* ---- results: settings that do the same */

static gboolean
sides_equal (const PmCaseResult *a, const PmCaseResult *b)
{
  if (a->n_sides != b->n_sides)
    return FALSE;
  for (guint i = 0; i < a->n_sides; i++)
    if (a->sides[i].side != b->sides[i].side || a->sides[i].drive != b->sides[i].drive ||
        a->sides[i].unit != b->sides[i].unit)
      return FALSE;
  return TRUE;
}

static gboolean
does_the_same (const PmBoard *board, const PmCaseResult *a, const PmCaseResult *b)
{
  if (!pm_cells_equal (board, a->cells, b->cells) || !sides_equal (a, b) || a->fit != b->fit)
    return FALSE;
  for (guint u = 0; u < board->host.n_units; u++)
    if (a->collides[u] != b->collides[u])
      return FALSE;
  for (guint d = 0; d < board->n_drives; d++)
    if (a->marks[d] != b->marks[d])
      return FALSE;
  return TRUE;
}

static void
gather_results (PmCheck *check)
{
  check->results = g_new0 (PmResult, MAX (check->n_settings, 1));
  for (guint i = 1; i <= check->n_settings; i++) {
    guint r;
    for (r = 0; r < check->n_results; r++)
      if (does_the_same (check->board, &check->cases[g_array_index (check->results[r].settings, guint, 0)],
                         &check->cases[i]))
        break;
    if (r == check->n_results) {
      check->results[r].settings = g_array_new (FALSE, FALSE, sizeof (guint));
      check->results[r].name = r < 26 ? g_strdup_printf ("%c", 'A' + r) : g_strdup_printf ("%u", r + 1);
      check->n_results++;
    }
    g_array_append_val (check->results[r].settings, i);
    check->cases[i].result = r;
  }
  for (guint r = 0; r < check->n_results; r++)
    check->results[r].text = g_strdup_printf (ngettext ("%u setting", "%u settings", check->results[r].settings->len),
                                              check->results[r].settings->len);
}

/* ---- texts of a case */

static char *
changed_text (const PmCheck *check, guint i)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint u = 0; u < check->board->host.n_units && i > 0; u++) {
    if (!pm_check_differs (check, i, 0, u))
      continue;
    g_autofree char *now = pm_check_reach_text (check, i, u), *was = pm_check_reach_text (check, 0, u);
    g_string_append_printf (text, _("%s%s reaches %s (was %s)"), text->len > 0 ? "; " : "",
                            check->board->host.units[u].name, now, was);
  }
  for (guint d = 0; d < check->board->n_drives; d++)
    if (check->cases[i].marks[d] == PM_DRIVE_ALWAYS && check->cases[0].marks[d] != PM_DRIVE_ALWAYS)
      g_string_append_printf (text, _("%s%s answers with nothing turned on"), text->len > 0 ? "; " : "",
                              pm_name_drive (check->board, d));
  if (text->len == 0)
    g_string_append (text, _("nothing"));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* A line that some drives of a case do not have, though they have others: "Ready with Inside only. "; NULL where all
 * have it. */
static char *
with_some_only (const PmCheck *check, const PmCaseResult *result, const char *does)
{
  g_autoptr (GPtrArray) with = g_ptr_array_new_with_free_func (g_free);
  guint n = 0;
  for (guint d = 0; d < check->board->n_drives; d++) {
    gboolean has = FALSE, any = FALSE;
    for (guint k = 0; k < result->n_sides && !has; k++) {
      any = any || result->sides[k].drive == d;
      has = result->sides[k].drive == d && g_str_equal (result->sides[k].does, does);
    }
    n += any;
    if (has)
      g_ptr_array_add (with, g_strdup (pm_name_drive (check->board, d)));
  }
  if (with->len == n)
    return NULL;
  g_autofree char *drives = pm_name_list (with), *line = pm_name_capital (g_strdup (does));
  return g_strdup_printf (_("%s with %s only. "), line, drives);
}

/* "Motor, ready and change go along." or what does not. */
static char *
side_text (const PmCheck *check, const PmCaseResult *result)
{
  g_autoptr (GPtrArray) good = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GString) some = g_string_new (NULL);
  g_autoptr (GString) bad = g_string_new (NULL);
  for (guint i = 0; i < result->n_sides; i++) {
    const PmSideLine *side = &result->sides[i];
    gboolean spoilt = FALSE, told = FALSE;
    for (guint k = 0; k < result->n_sides; k++)
      spoilt |= g_str_equal (result->sides[k].does, side->does) && result->sides[k].side != PM_SIDE_FOLLOWS;
    if (side->side != PM_SIDE_FOLLOWS) {
      g_autofree char *one = g_strdup_printf ("%s: %s. ", pm_name_drive (check->board, side->drive), side->text);
      if (g_strstr_len (bad->str, -1, one) == NULL)
        g_string_append (bad, one);
      continue;
    }
    for (guint k = 0; k < i && !told; k++)
      told = g_str_equal (result->sides[k].does, side->does);
    if (told || spoilt)
      continue;
    g_autofree char *only = with_some_only (check, result, side->does);
    if (only != NULL)
      g_string_append (some, only);
    else
      g_ptr_array_add (good, g_strdup (side->does));
  }
  if (good->len > 0) {
    g_autofree char *list = pm_name_capital (pm_name_list (good));
    g_string_append_printf (bad, ngettext ("%s goes along. ", "%s go along. ", good->len), list);
  }
  g_string_append (bad, some->str);
  while (bad->len > 0 && bad->str[bad->len - 1] == ' ')
    g_string_truncate (bad, bad->len - 1);
  return g_string_free (g_steal_pointer (&bad), FALSE);
}

static char *
caption_text (const PmCheck *check, const PmCaseSpec *spec, const PmCaseResult *result)
{
  if (spec->kind == PM_CASE_MOVING)
    return g_strdup (check->board->switches[spec->sw].while_running ? _("may be moved while running")
                                                                    : _("move only with the power off"));
  if (spec->kind != PM_CASE_REMOVED && spec->kind != PM_CASE_TURNED)
    return NULL;
  for (guint i = 1; i <= check->n_settings; i++)
    if (pm_results_alike (check->board, &check->cases[i], result))
      return g_strdup_printf (_("acts as %s"), check->cases[i].name);
  return NULL;
}

/* One line: the stops and cares of the case in short, or how it fits. */
static char *
verdict_line (const PmCheck *check, const PmTrial *trial, guint i, GCancellable *cancellable)
{
  const PmCaseResult *result = &check->cases[i];
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint k = 0; k < result->findings->len; k++) {
    const PmFinding *finding = &check->findings[g_array_index (result->findings, guint, k)];
    if (finding->severity == PM_SEVERITY_NOTE || (finding->kind == PM_FINDING_ASSUMED) ||
        (finding->kind == PM_FINDING_POSITION_NOT_STATED))
      continue;
    g_autofree char *lower = g_strdup (finding->title);
    lower = pm_finding_lower (check->board, g_steal_pointer (&lower));
    g_string_append_printf (text, "%s%s", text->len > 0 ? "; " : "", lower);
  }
  if (text->len == 0 && result->kind == PM_CASE_ONCE)
    return pm_once_text (check, trial, i, cancellable);
  /* A plug turned round is not wrong in itself, but the lever's label is then. */
  if (text->len == 0 && result->kind == PM_CASE_TURNED && result->caption != NULL &&
      !pm_results_alike (check->board, result, &check->cases[result->setting]))
    g_string_append_printf (text, _("%s, not as its label says"), result->caption);
  if (text->len == 0)
    g_string_append (text, result->kind == PM_CASE_WITHOUT_BOARD       ? _("what the machine does today")
                           : result->fit == PM_FIT_AS_WANTED           ? _("as wanted")
                           : result->fit == PM_FIT_NOT_AS_WANTED       ? _("not as wanted")
                           : result->fit == PM_FIT_NOT_DECIDED         ? _("not decided")
                           : result->kind == PM_CASE_SETTING           ? _("not stated what is wanted")
                                                                       : _("nothing wrong"));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* ---- findings */

static gboolean
cause_is_in (const PmCause *cause, guint spec)
{
  for (guint i = 0; i < cause->raws->len; i++)
    if (g_array_index (cause->raws, PmRaw, i).spec == spec)
      return TRUE;
  for (guint i = 0; i < cause->followers->len; i++)
    if (cause_is_in (g_ptr_array_index (cause->followers, i), spec))
      return TRUE;
  return FALSE;
}

static int
by_severity (gconstpointer a, gconstpointer b)
{
  return (int) ((const PmFinding *) a)->severity - (int) ((const PmFinding *) b)->severity;
}

static void
tell_findings (PmCheck *check, const PmTrial *trial, const PmCauses *causes)
{
  guint n = causes->causes->len + (causes->as_today->len > 0);
  check->findings = g_new0 (PmFinding, MAX (n, 1));
  check->n_findings = n;
  for (guint i = 0; i < causes->causes->len; i++)
    pm_finding_tell (trial, g_ptr_array_index (causes->causes, i), &check->findings[i]);
  if (causes->as_today->len > 0)
    pm_finding_tell_today (trial, causes->as_today, &check->findings[n - 1]);
  for (guint i = 0; i < n; i++)
    check->counts[check->findings[i].severity]++;
  for (guint c = 0; c < check->n_cases; c++)
    check->cases[c].findings = g_array_new (FALSE, FALSE, sizeof (guint));
  /* An accepted care has become a note: sort again, and remember where each cause went. */
  g_autofree PmFinding *sorted = g_memdup2 (check->findings, sizeof (PmFinding) * n);
  if (n > 1)
    g_qsort_with_data (sorted, (int) n, sizeof (PmFinding), (GCompareDataFunc) (void (*) (void)) by_severity, NULL);
  for (guint f = 0; f < n; f++)
    for (guint i = 0; i < causes->causes->len; i++) {
      if (check->findings[i].title != sorted[f].title)
        continue;
      for (guint c = 0; c < check->n_cases; c++)
        if (cause_is_in (g_ptr_array_index (causes->causes, i), c))
          g_array_append_val (check->cases[c].findings, f);
    }
  if (n > 0)
    memcpy (check->findings, sorted, sizeof (PmFinding) * n);
}

static void
list_assumed (PmCheck *check)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  for (guint i = 0; i < check->n_findings; i++)
    if (check->findings[i].kind == PM_FINDING_ASSUMED)
      g_ptr_array_add (names, g_strdup (check->findings[i].title));
  g_ptr_array_add (names, NULL);
  check->assumed = (char **) g_ptr_array_steal (names, NULL);
}

/* The results that the trial judged become the check's; baselines, which stand last, are left behind. */
static void
take_cases (PmCheck *check, PmTrial *trial)
{
  for (guint i = 0; i < trial->cases->specs->len; i++)
    if (!((PmCaseSpec *) g_ptr_array_index (trial->cases->specs, i))->baseline)
      check->n_cases = i + 1;
  check->cases = g_new0 (PmCaseResult, check->n_cases);
  check->n_settings = trial->cases->n_settings;
  check->usual = trial->cases->usual;
  for (guint i = 0; i < check->n_cases; i++) {
    const PmCaseSpec *spec = g_ptr_array_index (trial->cases->specs, i);
    check->cases[i] = trial->results[i];
    check->cases[i].name = g_strdup (spec->name);
    check->cases[i].title = g_strdup (spec->title);
  }
}

PmCheck *
pm_check_new (const PmBoard *board, GCancellable *cancellable, GError **error)
{
  g_autoptr (PmTrial) trial = pm_trial_new (board, NULL, 0, PM_CASES_ALL, cancellable);
  if (trial == NULL) {
    g_cancellable_set_error_if_cancelled (cancellable, error);
    return NULL;
  }
  g_autoptr (PmCauses) causes = pm_causes_find (trial, cancellable);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  g_autoptr (PmCheck) check = g_new0 (PmCheck, 1);
  check->board = board;
  take_cases (check, trial);
  gather_results (check);
  tell_findings (check, trial, causes);
  for (guint i = 0; i < check->n_cases; i++) {
    PmCaseResult *result = &check->cases[i];
    result->changed = changed_text (check, i);
    result->side_text = side_text (check, result);
    result->caption = caption_text (check, g_ptr_array_index (trial->cases->specs, i), result);
  }
  for (guint i = 0; i < check->n_cases; i++)
    check->cases[i].verdict = verdict_line (check, trial, i, cancellable);
  list_assumed (check);
  pm_verdict_say (check, trial);
  /* What was taken must not be freed twice. */
  memset (trial->results, 0, sizeof (PmCaseResult) * check->n_cases);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  return g_steal_pointer (&check);
}

void
pm_check_free (PmCheck *check)
{
  if (check == NULL)
    return;
  for (guint i = 0; i < check->n_cases; i++)
    pm_result_clear (check->board, &check->cases[i]);
  g_free (check->cases);
  for (guint r = 0; r < check->n_results; r++) {
    g_array_unref (check->results[r].settings);
    g_free (check->results[r].name);
    g_free (check->results[r].text);
  }
  g_free (check->results);
  for (guint i = 0; i < check->n_findings; i++)
    pm_finding_clear (&check->findings[i]);
  g_free (check->findings);
  g_free (check->verdict_text);
  g_free (check->tried_text);
  g_free (check->not_checked_text);
  g_free (check->what_to_do);
  g_strfreev (check->assumed);
  g_free (check);
}
