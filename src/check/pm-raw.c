/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trials: one version of a board, all its cases judged.  The judgements themselves stand in pm-judge-*.c, one file per
 * subject. */
#include "config.h"
#include "pm-raw.h"
#include "pm-judge.h"
#include "pm-repair.h"

PmRaw
pm_raw_init (PmFindingKind kind, PmSeverity severity, guint spec)
{
  return (PmRaw){.kind = kind,
                 .severity = severity,
                 .spec = spec,
                 .state = PM_NONE,
                 .unit = -1,
                 .drive = -1,
                 .other = -1,
                 .place = PM_NONE,
                 .place2 = PM_NONE,
                 .join = PM_NONE,
                 .sw = PM_NONE,
                 .index = PM_NONE};
}

gboolean
pm_raw_same (const PmRaw *a, const PmRaw *b)
{
  if (a->kind != b->kind)
    return FALSE;
  switch (a->kind) {
  case PM_FINDING_SIDE_LINE_STAYS: return a->does == b->does;
  case PM_FINDING_SHARED_LINE_HELD: return a->does == b->does && a->other == b->other;
  case PM_FINDING_RAILS_JOINED:
  case PM_FINDING_CONTROL_WRONG_WAY: return a->sw == b->sw;
  case PM_FINDING_NOT_AS_WANTED: return a->unit == b->unit && (a->drive == b->drive || (a->may && b->may));
  case PM_FINDING_TWO_DRIVES:
  case PM_FINDING_REACHES_NOTHING: return a->unit == b->unit;
  case PM_FINDING_TWO_SELECTS:
  case PM_FINDING_ANSWERS_IDLE:
  case PM_FINDING_ANSWERS_RESET:
  case PM_FINDING_ANSWERS_HOST_OFF:
  case PM_FINDING_SELECT_FLOATS: return a->drive == b->drive;
  case PM_FINDING_START_UNKNOWN: return a->index == b->index;
  case PM_FINDING_OUTPUTS_COLLIDE:
  case PM_FINDING_BOTH_SELECTS: return a->place == b->place;
  case PM_FINDING_NOT_SEEN_AS: return a->drive == b->drive;
  case PM_FINDING_UNUSED_INPUT_OPEN: return a->index == b->index;
  case PM_FINDING_IDLE_TODAY:
  case PM_FINDING_AS_TODAY: return TRUE;
  default:
    return a->unit == b->unit && a->drive == b->drive && a->place == b->place && a->join == b->join &&
           a->index == b->index && a->sw == b->sw;
  }
}

guint32
pm_wanted_of (const PmBoard *board, const int *positions, guint32 removed)
{
  guint32 best = PM_NONE;
  guint best_named = 0;
  for (guint w = 0; w < board->n_wanted; w++) {
    const PmWanted *wanted = &board->wanted[w];
    guint named = 0;
    gboolean match = wanted->removed == removed;
    for (guint s = 0; s < board->n_switches && match; s++) {
      if (s == removed || wanted->positions[s] < 0)
        continue;
      named++;
      match = wanted->positions[s] == positions[s];
    }
    if (match && (best == PM_NONE || named > best_named)) {
      best = w;
      best_named = named;
    }
  }
  return best;
}

gboolean
pm_cells_fit (const PmBoard *board, const PmCell *cells, const PmWanted *wanted)
{
  for (guint u = 0; u < board->host.n_units; u++) {
    PmWantCell want = wanted->units[u];
    if (want.want == PM_WANT_NOT_STATED || want.want == PM_WANT_ANY)
      continue;
    for (guint d = 0; d < board->n_drives; d++) {
      PmAnswer answer = cells[u * board->n_drives + d].answer;
      gboolean wanted_here = want.want == PM_WANT_DRIVE && want.drive == d;
      if (answer != (wanted_here ? PM_ANSWER_YES : PM_ANSWER_NEVER))
        return FALSE;
    }
  }
  return TRUE;
}

static gboolean
marks_alike (PmDriveMark a, PmDriveMark b)
{
  const PmDriveMark telling[] = {PM_DRIVE_ALWAYS, PM_DRIVE_FLOATS, PM_DRIVE_NO_POWER};
  for (guint i = 0; i < G_N_ELEMENTS (telling); i++)
    if ((a == telling[i]) != (b == telling[i]))
      return FALSE;
  return TRUE;
}

gboolean
pm_results_alike (const PmBoard *board, const PmCaseResult *a, const PmCaseResult *b)
{
  if (!pm_cells_equal (board, a->cells, b->cells))
    return FALSE;
  for (guint u = 0; u < board->host.n_units; u++)
    if (a->collides[u] != b->collides[u])
      return FALSE;
  for (guint d = 0; d < board->n_drives; d++)
    if (!marks_alike (a->marks[d], b->marks[d]))
      return FALSE;
  return TRUE;
}

gboolean
pm_cells_equal (const PmBoard *board, const PmCell *a, const PmCell *b)
{
  for (guint i = 0; i < board->host.n_units * board->n_drives; i++)
    if (a[i].answer != b[i].answer)
      return FALSE;
  return TRUE;
}

const PmFamily *
pm_trial_family (const PmTrial *trial, guint32 instance)
{
  for (guint i = 0; i < trial->t->n_edits; i++)
    if (trial->t->edits[i].kind == PM_EDIT_FAMILY && trial->t->edits[i].a == instance)
      return trial->t->edits[i].family;
  return trial->board->instances[instance].family;
}

const GArray *
pm_judge_seen (const PmTrial *trial, guint spec, guint state)
{
  return state == PM_NONE ? NULL : trial->survey->of[spec].seen[state];
}

void
pm_judge_add (PmJudge *j, PmRaw raw)
{
  g_array_append_val (j->raws, raw);
}

/* What a case is compared with to say "as today": its own kind without the board; nothing where there is no board. */
static guint
baseline_of (const PmTrial *trial, guint spec)
{
  if (!trial->board->has_board)
    return PM_NONE;
  const PmCaseSpec *base = pm_cases_baseline (trial->cases, g_ptr_array_index (trial->cases->specs, spec));
  for (guint i = 0; base != NULL && i < trial->cases->specs->len; i++)
    if (g_ptr_array_index (trial->cases->specs, i) == base)
      return i == spec ? PM_NONE : i;
  return PM_NONE;
}

/* A lead off or turned that does what one of the settings does is told as a caption, not as a finding. */
static gboolean
acts_as_a_setting (const PmTrial *trial, guint spec)
{
  for (guint i = 1; i <= trial->cases->n_settings; i++)
    if (pm_results_alike (trial->board, &trial->results[i], &trial->results[spec]))
      return TRUE;
  return FALSE;
}

static void
judge_case (PmTrial *trial, guint spec, gboolean levels, GArray *raws)
{
  const PmCaseSpec *of = g_ptr_array_index (trial->cases->specs, spec);
  PmJudge j = {trial, spec, of, &trial->results[spec], PM_SEVERITY_CARE, baseline_of (trial, spec), raws};
  pm_judge_rails (&j);
  if (trial->survey->of[spec].joined_rails != 0)
    return; /* with the rails joined every level is chance */
  pm_judge_supplies (&j);
  if (of->kind == PM_CASE_WITHOUT_BOARD) {
    pm_judge_idle_today (&j);
    return;
  }
  if (of->kind == PM_CASE_MOVING) {
    if (!trial->board->switches[of->sw].while_running)
      return;
    j.severity = PM_SEVERITY_STOP;
    pm_judge_two_drives (&j);
    pm_judge_idle (&j, PM_STATE_IDLE, PM_FINDING_ANSWERS_IDLE);
    pm_judge_clashes (&j);
    return;
  }
  if (of->kind == PM_CASE_SETTING)
    j.severity = PM_SEVERITY_STOP;
  gboolean stated = of->kind == PM_CASE_REMOVED && j.result->wanted != PM_NONE;
  if ((of->kind == PM_CASE_REMOVED || of->kind == PM_CASE_TURNED) && acts_as_a_setting (trial, spec)) {
    if (stated) {
      pm_judge_two_drives (&j);
      pm_judge_wanted (&j);
    }
    return;
  }
  pm_judge_choices (&j);
  pm_judge_two_drives (&j);
  pm_judge_idle (&j, PM_STATE_IDLE, PM_FINDING_ANSWERS_IDLE);
  pm_judge_idle (&j, PM_STATE_RESET, PM_FINDING_ANSWERS_RESET);
  pm_judge_idle (&j, PM_STATE_HOST_OFF, PM_FINDING_ANSWERS_HOST_OFF);
  pm_judge_two_selects (&j);
  pm_judge_clashes (&j);
  if (of->kind == PM_CASE_SETTING || stated)
    pm_judge_wanted (&j);
  if (of->kind == PM_CASE_SETTING) {
    pm_judge_sides_of (&j);
    if (levels)
      pm_levels_judge (trial, spec, raws);
  }
}

void
pm_result_judge (PmSurvey *survey, guint spec, gboolean with_sides, PmCaseResult *result)
{
  const PmBoard *board = survey->t->board;
  const PmCaseSpec *of = g_ptr_array_index (survey->cases->specs, spec);
  gboolean sides = with_sides && (of->kind == PM_CASE_SETTING || of->kind == PM_CASE_WITHOUT_BOARD ||
                                  of->kind == PM_CASE_ONCE);
  result->wanted = PM_NONE;
  pm_routes_judge (survey, spec, sides && survey->of[spec].joined_rails == 0, result);
  for (guint c = 0; c < board->host.n_units * board->n_drives && survey->of[spec].joined_rails != 0; c++) {
    /* with the rails joined every level is chance */
    g_clear_pointer (&result->cells[c].on, g_free);
    g_clear_pointer (&result->cells[c].only, g_free);
    result->cells[c].answer = PM_ANSWER_NOT_DECIDED;
  }
  for (guint d = 0; d < board->n_drives && survey->of[spec].joined_rails != 0; d++)
    result->marks[d] = PM_DRIVE_NOT_CERTAIN;
  if (of->kind == PM_CASE_SETTING || of->kind == PM_CASE_ONCE)
    result->wanted = pm_wanted_of (board, of->positions, PM_NONE);
  else if (of->kind == PM_CASE_REMOVED && of->sw != PM_NONE)
    result->wanted = pm_wanted_of (board, of->positions, of->sw);
  if (result->wanted != PM_NONE)
    result->fit =
        pm_cells_fit (board, result->cells, &board->wanted[result->wanted]) ? PM_FIT_AS_WANTED : PM_FIT_NOT_AS_WANTED;
  for (guint c = 0; c < board->host.n_units * board->n_drives; c++)
    if (result->cells[c].answer == PM_ANSWER_NOT_DECIDED)
      result->fit = PM_FIT_NOT_DECIDED;
}

void
pm_result_clear (const PmBoard *board, PmCaseResult *result)
{
  for (guint k = 0; result->cells != NULL && k < board->host.n_units * board->n_drives; k++) {
    g_free (result->cells[k].on);
    g_free (result->cells[k].only);
  }
  g_free (result->cells);
  pm_case_result_clear (result);
}

static void
judge_result (PmTrial *trial, guint i, gboolean sides)
{
  const PmCaseSpec *spec = g_ptr_array_index (trial->cases->specs, i);
  PmCaseResult *result = &trial->results[i];
  result->kind = spec->kind;
  result->positions = g_memdup2 (spec->positions, sizeof (int) * MAX (trial->board->n_switches, 1));
  result->setting = spec->setting;
  pm_result_judge (trial->survey, i, sides, result);
}

static void
fill_results (PmTrial *trial)
{
  for (guint i = 0; i < trial->cases->specs->len; i++) {
    const PmCaseSpec *spec = g_ptr_array_index (trial->cases->specs, i);
    judge_result (trial, i, TRUE);
    trial->not_decided |= trial->survey->of[i].not_decided && spec->kind != PM_CASE_ONCE;
    for (guint s = 0; s < trial->survey->states->len && spec->kind == PM_CASE_SETTING; s++)
      for (guint w = 0; trial->survey->of[i].seen[s] != NULL && w < trial->survey->of[i].seen[s]->len; w++)
        trial->unjudged |= g_array_index (trial->survey->of[i].seen[s], PmSeen, w).unjudged;
  }
}

/* ---- a quick look: does a repair help in the very case it is for? */

static guint
find_spec (const PmCases *cases, const PmCaseSpec *like)
{
  for (guint i = 0; i < cases->specs->len; i++) {
    const PmCaseSpec *spec = g_ptr_array_index (cases->specs, i);
    if (!spec->baseline && spec->kind == like->kind && spec->setting == like->setting && spec->sw == like->sw &&
        spec->mating == like->mating && spec->supply == like->supply)
      return i;
  }
  return PM_NONE;
}

static void
look_at (PmTrial *trial, guint spec, gboolean sides)
{
  pm_survey_case (trial->survey, spec);
  if (trial->results[spec].cells == NULL)
    judge_result (trial, spec, sides);
}

/* Judges one case with what it is compared with, and nothing else. TRUE if a finding like raw is still there. */
static gboolean
stands_in_its_case (PmTrial *trial, const PmRaw *raw, const PmCaseSpec *like)
{
  guint at = find_spec (trial->cases, like);
  if (at == PM_NONE)
    return FALSE;
  gboolean sides = raw->kind == PM_FINDING_SIDE_LINE_STAYS || raw->kind == PM_FINDING_SHARED_LINE_HELD,
           levels = raw->kind == PM_FINDING_LOW_NOT_REACHED || raw->kind == PM_FINDING_HIGH_NOT_ENOUGH;
  guint base = baseline_of (trial, at);
  look_at (trial, at, sides);
  look_at (trial, base != PM_NONE ? base : 0, sides);
  for (guint i = 1; i <= trial->cases->n_settings; i++) /* a lead off may act as a setting */
    if (i == like->setting || like->kind == PM_CASE_REMOVED || like->kind == PM_CASE_TURNED)
      look_at (trial, i, FALSE);
  gboolean rails = trial->survey->of[at].joined_rails != 0; /* which lever joins them is seen from all settings only */
  if (!rails)
    judge_case (trial, at, levels, trial->raws);
  gboolean stands = rails ? raw->kind == PM_FINDING_RAILS_JOINED : pm_trial_has (trial, raw);
  g_array_set_size (trial->raws, 0);
  for (guint i = 0; i < trial->cases->specs->len; i++) {
    pm_result_clear (trial->board, &trial->results[i]);
    trial->results[i] = (PmCaseResult){0};
  }
  return stands;
}

/* ---- trials */

static PmTrial *
open_trial (const PmBoard *board, const PmEdit *edits, guint n_edits, guint which)
{
  PmTrial *trial = g_new0 (PmTrial, 1);
  trial->board = board;
  trial->t = pm_translate (board, edits, n_edits);
  trial->cases = pm_cases_new (trial->t, which);
  trial->results = g_new0 (PmCaseResult, trial->cases->specs->len);
  trial->raws = g_array_new (FALSE, FALSE, sizeof (PmRaw));
  trial->survey = pm_survey_open (trial->t, trial->cases, which == PM_CASES_ALL);
  return trial;
}

/* Takes trial. NULL when cancelled. */
static PmTrial *
judge_all (PmTrial *taken, GCancellable *cancellable)
{
  g_autoptr (PmTrial) trial = taken;
  if (!pm_survey_all (trial->survey, cancellable))
    return NULL;
  trial->not_decided = trial->cases->too_many;
  fill_results (trial);
  if (trial->cases->n_settings == 0)
    return g_steal_pointer (&trial); /* every setting is never used: there is nothing to judge */
  pm_judge_throughs (trial, trial->raws);
  pm_judge_control (trial, trial->raws);
  for (guint i = trial->board->has_board ? 0 : 1; i < trial->cases->specs->len; i++) {
    const PmCaseSpec *spec = g_ptr_array_index (trial->cases->specs, i);
    if (spec->kind != PM_CASE_ONCE && !spec->baseline)
      judge_case (trial, i, TRUE, trial->raws);
  }
  pm_judge_needs (trial, trial->raws);
  pm_memory_judge (trial, trial->raws);
  pm_judge_statements (trial, trial->raws);
  return g_steal_pointer (&trial);
}

PmTrial *
pm_trial_new (const PmBoard *board, const PmEdit *edits, guint n_edits, guint which, GCancellable *cancellable)
{
  return judge_all (open_trial (board, edits, n_edits, which), cancellable);
}

PmTrial *
pm_trial_try (const PmTrial *before, const PmRaw *raw, const PmEdit *edits, guint n_edits, guint which,
              guint64 *n_worlds, GCancellable *cancellable)
{
  g_autoptr (PmTrial) trial = open_trial (before->board, edits, n_edits, which);
  const PmCaseSpec *of = g_ptr_array_index (before->cases->specs, raw->spec);
  gboolean stands = stands_in_its_case (trial, raw, of);
  *n_worlds = trial->survey->n_worlds;
  if (stands)
    return NULL;
  PmTrial *judged = judge_all (g_steal_pointer (&trial), cancellable);
  *n_worlds = judged != NULL ? judged->survey->n_worlds : *n_worlds;
  return judged;
}

void
pm_trial_free (PmTrial *trial)
{
  if (trial == NULL)
    return;
  for (guint i = 0; trial->results != NULL && i < trial->cases->specs->len; i++)
    pm_result_clear (trial->board, &trial->results[i]);
  g_free (trial->results);
  pm_survey_free (trial->survey);
  g_clear_pointer (&trial->raws, g_array_unref);
  pm_cases_free (trial->cases);
  pm_translation_free (trial->t);
  g_free (trial);
}
