/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Other places of what is set once: do they work in every setting? */
#include "config.h"
#include "pm-once.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>

static gboolean
is_let_off (const PmBoard *board, const PmCaseResult *result, const char *does)
{
  char **without = result->wanted != PM_NONE ? board->wanted[result->wanted].without : NULL;
  return without != NULL && g_strv_contains ((const char *const *) without, does);
}

/* A side line that follows in the setting as the file puts the board, but not with this place; NULL if none. */
static char *
side_left_behind (const PmBoard *board, const PmCaseResult *usual, const PmCaseResult *result)
{
  for (guint i = 0; i < result->n_sides; i++) {
    const PmSideLine *side = &result->sides[i];
    gboolean followed = FALSE;
    for (guint k = 0; k < usual->n_sides; k++)
      followed |= usual->sides[k].drive == side->drive && usual->sides[k].side == PM_SIDE_FOLLOWS &&
                  g_str_equal (usual->sides[k].does, side->does);
    if (followed && side->side != PM_SIDE_FOLLOWS && side->side != PM_SIDE_NOT_JUDGED &&
        !is_let_off (board, result, side->does))
      return g_strdup (side->text);
  }
  return NULL;
}

/* Why a case must not be used; NULL if it may. usual: the setting with every place as the file puts it. */
static char *
why_not (const PmBoard *board, const PmCaseResult *usual, const PmSurveyCase *seen, const PmCaseResult *result)
{
  const PmHost *host = &board->host;
  if (seen->joined_rails != 0)
    return g_strdup (_("supplies are joined"));
  if (seen->clashes->len > 0)
    return g_strdup (_("outputs collide"));
  for (guint d = 0; d < board->n_drives; d++)
    if (result->marks[d] == PM_DRIVE_ALWAYS && usual->marks[d] != PM_DRIVE_ALWAYS && !host->always_one)
      return g_strdup_printf (_("%s answers with nothing turned on"), pm_name_drive (board, d));
  for (guint u = 0; u < host->n_units; u++) {
    guint n = 0;
    for (guint d = 0; d < board->n_drives; d++)
      n += result->cells[u * board->n_drives + d].answer == PM_ANSWER_YES;
    if (n > 1)
      return g_strdup_printf (_("two drives answer %s"), host->units[u].name);
  }
  for (guint u = 0; u < host->n_units && result->fit == PM_FIT_NOT_AS_WANTED; u++) {
    PmWantCell want = board->wanted[result->wanted].units[u];
    const PmCell *cells = &result->cells[u * board->n_drives];
    for (guint d = 0; d < board->n_drives && (want.want == PM_WANT_DRIVE || want.want == PM_WANT_NOTHING); d++)
      if (cells[d].answer != (want.want == PM_WANT_DRIVE && want.drive == d ? PM_ANSWER_YES : PM_ANSWER_NEVER)) {
        g_autofree char *reach = pm_name_reach (board, cells);
        return g_strdup_printf (_("%s reaches %s"), host->units[u].name, reach);
      }
  }
  return side_left_behind (board, usual, result);
}

/* What became of a place so far, over the settings looked at. */
typedef struct { gboolean works, not_decided; char *why; } Judged;

static void
judge_setting (const PmCheck *check, const PmSurveyCase *seen, const PmCaseResult *result, guint setting, Judged *out)
{
  g_autofree char *why = why_not (check->board, &check->cases[setting], seen, result);
  out->works |= result->fit == PM_FIT_AS_WANTED;
  out->not_decided |= result->fit == PM_FIT_NOT_DECIDED;
  if (why == NULL)
    return;
  out->why = check->n_settings == 1 ? g_strdup_printf (_("must not be used: %s"), why)
                                    : g_strdup_printf (_("must not be used: %s in %s"), why,
                                                       check->cases[setting].name);
}

/* The place of case i in a setting that the trial did not look at it in. */
static void
try_setting (const PmCheck *check, const PmTrial *trial, guint i, guint setting, Judged *out, GCancellable *cancellable)
{
  const PmBoard *board = check->board;
  const PmCaseSpec *of = g_ptr_array_index (trial->cases->specs, i);
  g_autofree int *positions =
      g_memdup2 (check->cases[setting].positions, sizeof (int) * MAX (board->n_switches, 1));
  positions[of->sw] = (int) of->position;
  g_autoptr (PmCases) cases = pm_cases_once (trial->t, positions, setting);
  g_autoptr (PmSurvey) survey = pm_survey_new (trial->t, cases, FALSE, cancellable);
  PmCaseResult result = {.kind = PM_CASE_ONCE};
  out->not_decided |= survey == NULL;
  if (survey == NULL)
    return;
  pm_result_judge (survey, 0, TRUE, &result);
  judge_setting (check, &survey->of[0], &result, setting, out);
  pm_result_clear (board, &result);
}

char *
pm_once_text (const PmCheck *check, const PmTrial *trial, guint i, GCancellable *cancellable)
{
  const PmCaseResult *result = &check->cases[i];
  Judged judged = {FALSE, FALSE, NULL};
  judge_setting (check, &trial->survey->of[i], result, result->setting, &judged);
  for (guint s = 1; s <= check->n_settings && judged.why == NULL && !judged.not_decided; s++)
    if (s != result->setting)
      try_setting (check, trial, i, s, &judged, cancellable);
  if (judged.why != NULL)
    return judged.why;
  return g_strdup (judged.not_decided ? _("not decided") : judged.works ? _("works") : _("not stated what is wanted"));
}
