/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Judgements about routes: two drives, idle, two selects, what is wanted, side lines. */
#include "pm-judge.h"

static gboolean
two_answer (const GArray *seen, int *first, int *second, gboolean *always)
{
  gboolean any = FALSE;
  *always = TRUE;
  for (guint i = 0; seen != NULL && i < seen->len; i++) {
    const PmSeen *world = &g_array_index (seen, PmSeen, i);
    if (!pm_seen_is_shown (world) || world->unjudged)
      continue;
    gboolean two = (world->lamps & (world->lamps - 1)) != 0;
    if (two && !any) {
      *first = g_bit_nth_lsf (world->lamps, -1);
      *second = g_bit_nth_lsf (world->lamps, *first);
    }
    any |= two;
    *always &= two;
  }
  return any;
}

static gboolean
may_answer (const GArray *seen, guint d, gboolean *always)
{
  gboolean any = FALSE;
  *always = TRUE;
  for (guint i = 0; seen != NULL && i < seen->len; i++) {
    const PmSeen *world = &g_array_index (seen, PmSeen, i);
    if (!pm_seen_is_shown (world) || world->unjudged)
      continue;
    any |= world->lamps >> d & 1;
    *always &= world->lamps >> d & 1;
  }
  return any;
}

static gboolean
is_stated (const PmJudge *j, guint unit)
{
  if (j->result->wanted == PM_NONE)
    return FALSE;
  PmWant want = j->trial->board->wanted[j->result->wanted].units[unit].want;
  return want == PM_WANT_DRIVE || want == PM_WANT_NOTHING;
}

void
pm_judge_two_drives (PmJudge *j)
{
  const PmBoard *board = j->trial->board;
  for (guint u = 0; u < board->host.n_units; u++) {
    guint s = pm_survey_state (j->trial->survey, PM_STATE_SINGLE, u);
    int first, second, b1, b2;
    gboolean always, b_always;
    if (!two_answer (pm_judge_seen (j->trial, j->spec, s), &first, &second, &always))
      continue;
    PmRaw raw = pm_raw_init (PM_FINDING_TWO_DRIVES, j->severity, j->spec);
    raw.state = s;
    raw.unit = (int) u;
    raw.drive = first;
    raw.other = second;
    raw.may = !always;
    /* What is wanted is wanted, whatever the machine does today. */
    raw.as_today = !is_stated (j, u) && j->baseline != PM_NONE &&
                   two_answer (pm_judge_seen (j->trial, j->baseline, s), &b1, &b2, &b_always) && b1 == first &&
                   b2 == second;
    pm_judge_add (j, raw);
  }
}

void
pm_judge_idle (PmJudge *j, PmHostStateKind state, PmFindingKind kind)
{
  guint s = pm_survey_state (j->trial->survey, state, 0);
  const GArray *seen = pm_judge_seen (j->trial, j->spec, s);
  if (j->trial->board->host.always_one && state != PM_STATE_HOST_OFF)
    return; /* such a machine has one drive on at all times, in reset too */
  for (guint d = 0; seen != NULL && d < j->trial->board->n_drives; d++) {
    gboolean always, b_always;
    if (!may_answer (seen, d, &always))
      continue;
    PmRaw raw = pm_raw_init (kind, state == PM_STATE_IDLE ? j->severity : PM_SEVERITY_CARE, j->spec);
    raw.state = s;
    raw.drive = (int) d;
    raw.may = !always;
    raw.as_today = j->baseline != PM_NONE && may_answer (pm_judge_seen (j->trial, j->baseline, s), d, &b_always);
    pm_judge_add (j, raw);
  }
}

/* TRUE if a drive answers in this host state in some setting too: the board does not see to it. */
static gboolean
answers_in_a_setting (const PmTrial *trial, guint state, guint d)
{
  gboolean always;
  for (guint i = 1; i <= trial->cases->n_settings; i++) {
    const GArray *seen = pm_judge_seen (trial, i, state);
    if (seen != NULL && may_answer (seen, d, &always) && always)
      return TRUE;
  }
  return FALSE;
}

/* Drives that answer with nothing turned on without the board and with it.  What a board does to such a machine is
 * judged by a file that may be wrong, so it is not as today and forgotten. */
void
pm_judge_idle_today (PmJudge *j)
{
  guint s = pm_survey_state (j->trial->survey, PM_STATE_IDLE, 0);
  const GArray *seen = pm_judge_seen (j->trial, j->spec, s);
  gboolean always;
  for (guint d = 0; seen != NULL && !j->trial->board->host.always_one && d < j->trial->board->n_drives; d++)
    if (may_answer (seen, d, &always) && always && answers_in_a_setting (j->trial, s, d)) {
      PmRaw raw = pm_raw_init (PM_FINDING_IDLE_TODAY, PM_SEVERITY_CARE, j->spec);
      raw.state = s;
      raw.drive = (int) d;
      pm_judge_add (j, raw);
    }
}

void
pm_judge_two_selects (PmJudge *j)
{
  const PmBoard *board = j->trial->board;
  for (guint d = 0; d < board->n_drives; d++) {
    int first = -1;
    guint n = 0, base = 0;
    for (guint u = 0; u < board->host.n_units; u++) {
      if (j->result->cells[u * board->n_drives + d].answer == PM_ANSWER_YES) {
        first = first < 0 ? (int) u : first;
        n++;
      }
      if (j->baseline != PM_NONE)
        base += j->trial->results[j->baseline].cells[u * board->n_drives + d].answer == PM_ANSWER_YES;
    }
    if (n < 2 || j->result->marks[d] == PM_DRIVE_ALWAYS)
      continue;
    PmRaw raw = pm_raw_init (PM_FINDING_TWO_SELECTS, j->severity, j->spec);
    raw.drive = (int) d;
    raw.unit = first;
    raw.as_today = base >= 2;
    pm_judge_add (j, raw);
  }
}

/* Two drives on a select: what it reaches and which side lines go along has been told with that. */
static gboolean
two_are_told (const PmJudge *j, guint unit)
{
  for (guint r = 0; r < j->raws->len; r++) {
    const PmRaw *raw = &g_array_index (j->raws, PmRaw, r);
    if (raw->kind == PM_FINDING_TWO_DRIVES && raw->spec == j->spec && raw->unit == (int) unit)
      return TRUE;
  }
  return FALSE;
}

void
pm_judge_wanted (PmJudge *j)
{
  const PmBoard *board = j->trial->board;
  if (j->result->wanted == PM_NONE)
    return;
  const PmWanted *wanted = &board->wanted[j->result->wanted];
  for (guint u = 0; u < board->host.n_units; u++) {
    PmWantCell want = wanted->units[u];
    if (want.want == PM_WANT_NOT_STATED || want.want == PM_WANT_ANY || two_are_told (j, u))
      continue;
    const PmCell *cells = &j->result->cells[u * board->n_drives];
    int reached = -1;
    gboolean may = FALSE, depends = FALSE, fits = TRUE, decided = TRUE;
    for (guint d = 0; d < board->n_drives; d++) {
      gboolean here = want.want == PM_WANT_DRIVE && want.drive == d;
      decided &= cells[d].answer != PM_ANSWER_NOT_DECIDED;
      fits &= cells[d].answer == (here ? PM_ANSWER_YES : PM_ANSWER_NEVER);
      may |= cells[d].answer == PM_ANSWER_MAY;
      depends |= cells[d].answer == PM_ANSWER_DEPENDS;
      if (cells[d].answer == PM_ANSWER_YES && (reached < 0 || !here))
        reached = (int) d;
    }
    if (fits || !decided)
      continue;
    gboolean nothing = reached < 0 && !may && !depends;
    PmRaw raw = pm_raw_init (nothing ? PM_FINDING_REACHES_NOTHING : PM_FINDING_NOT_AS_WANTED, j->severity, j->spec);
    raw.unit = (int) u;
    raw.drive = want.want == PM_WANT_DRIVE ? (int) want.drive : -1;
    raw.other = reached;
    raw.may = may;
    raw.state = pm_survey_state (j->trial->survey, PM_STATE_SINGLE, u);
    pm_judge_add (j, raw);
  }
}

static gboolean
is_let_off (const PmBoard *board, const PmCaseResult *result, const char *does)
{
  return result->wanted != PM_NONE && board->wanted[result->wanted].without != NULL &&
         g_strv_contains ((const char *const *) board->wanted[result->wanted].without, does);
}

void
pm_judge_sides_of (PmJudge *j)
{
  const PmBoard *board = j->trial->board;
  for (guint i = 0; i < j->result->n_sides; i++) {
    const PmSideLine *side = &j->result->sides[i];
    if ((side->side != PM_SIDE_STAYS && side->side != PM_SIDE_HELD && side->side != PM_SIDE_NOT_CERTAIN) ||
        is_let_off (board, j->result, side->does) || two_are_told (j, side->unit))
      continue;
    PmRaw raw = pm_raw_init (side->side == PM_SIDE_HELD ? PM_FINDING_SHARED_LINE_HELD : PM_FINDING_SIDE_LINE_STAYS,
                             j->severity, j->spec);
    raw.unit = (int) side->unit;
    raw.drive = (int) side->drive;
    raw.does = g_intern_string (side->does);
    raw.may = side->side == PM_SIDE_NOT_CERTAIN;
    raw.state = pm_survey_state (j->trial->survey, PM_STATE_SINGLE, side->unit);
    for (guint d = 0; d < board->n_drives && raw.kind == PM_FINDING_SHARED_LINE_HELD; d++)
      for (guint g = 0; g < board->drives[d].n_gives; g++)
        if (d != side->drive && board->drives[d].gives[g].while_ == PM_WHILE_ALWAYS &&
            g_str_equal (board->drives[d].gives[g].does, side->does)) {
          raw.other = (int) d;
          raw.place = board->drives[d].gives[g].place;
        }
    for (guint l = 0; l < board->host.n_lines && raw.may; l++) /* a line towards the machine that nothing holds */
      if (board->host.lines[l].reads && pm_line_serves (board, &board->host.lines[l], side->does, side->unit))
        raw.place = board->host.lines[l].place;
    if (j->baseline != PM_NONE)
      for (guint k = 0; k < j->trial->results[j->baseline].n_sides; k++) {
        const PmSideLine *today = &j->trial->results[j->baseline].sides[k];
        raw.as_today |=
            today->drive == side->drive && today->side == side->side && g_str_equal (today->does, side->does);
      }
    pm_judge_add (j, raw);
  }
}
