/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Raw findings: the judgements, one function per subject. */
#include "config.h"
#include "pm-raw.h"
#include <math.h>

PmRaw
pm_raw_init (PmFindingKind kind, PmSeverity severity, guint spec)
{
  return (PmRaw) {.kind = kind, .severity = severity, .spec = spec, .state = PM_NONE, .unit = -1, .drive = -1, .other = -1, .place = PM_NONE,
                  .place2 = PM_NONE, .join = PM_NONE, .sw = PM_NONE, .index = PM_NONE};
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
  case PM_FINDING_NOT_AS_WANTED: return a->unit == b->unit && a->drive == b->drive;
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
  case PM_FINDING_NOT_SEEN_AS: return a->drive == b->drive && a->does == b->does;
  case PM_FINDING_AS_TODAY: return TRUE;
  default: return a->unit == b->unit && a->drive == b->drive && a->place == b->place && a->join == b->join && a->index == b->index && a->sw == b->sw;
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

/* Worlds of a case in a state of this kind, or NULL. */
static const GArray *
seen_in (const PmTrial *trial, guint spec, guint state)
{
  return state == PM_NONE ? NULL : trial->survey->of[spec].seen[state];
}

static gboolean
two_answer (const GArray *seen, int *first, int *second, gboolean *always)
{
  gboolean any = FALSE;
  *always = TRUE;
  for (guint i = 0; seen != NULL && i < seen->len; i++) {
    const PmSeen *world = &g_array_index (seen, PmSeen, i);
    if (!pm_seen_is_shown (world))
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
    if (!pm_seen_is_shown (world))
      continue;
    any |= world->lamps >> d & 1;
    *always &= world->lamps >> d & 1;
  }
  return any;
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

typedef struct { PmTrial *trial; guint spec; const PmCaseSpec *of; PmCaseResult *result; PmSeverity severity; guint baseline; GArray *raws; } Judge;

static void
add (Judge *j, PmRaw raw)
{
  g_array_append_val (j->raws, raw);
}

/* Drives that may answer in a state of a case because of an open input or unknown start are told by that cause. */
static void
judge_two_drives (Judge *j)
{
  const PmBoard *board = j->trial->board;
  for (guint u = 0; u < board->host.n_units; u++) {
    guint s = pm_survey_state (j->trial->survey, PM_STATE_SINGLE, u);
    int first, second, b1, b2;
    gboolean always, b_always;
    if (!two_answer (seen_in (j->trial, j->spec, s), &first, &second, &always))
      continue;
    PmRaw raw = pm_raw_init (PM_FINDING_TWO_DRIVES, j->severity, j->spec);
    raw.state = s;
    raw.unit = (int) u;
    raw.drive = first;
    raw.other = second;
    raw.may = !always;
    raw.as_today = j->baseline != PM_NONE && two_answer (seen_in (j->trial, j->baseline, s), &b1, &b2, &b_always) && b1 == first && b2 == second;
    add (j, raw);
  }
}

static void
judge_idle (Judge *j, PmHostStateKind state, PmFindingKind kind)
{
  guint s = pm_survey_state (j->trial->survey, state, 0);
  const GArray *seen = seen_in (j->trial, j->spec, s);
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
    raw.as_today = j->baseline != PM_NONE && may_answer (seen_in (j->trial, j->baseline, s), d, &b_always);
    add (j, raw);
  }
}

static void
judge_two_selects (Judge *j)
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
    add (j, raw);
  }
}

/* Two drives on a select: what it reaches and which side lines go along has been told with that. */
static gboolean
two_are_told (const Judge *j, guint unit)
{
  for (guint r = 0; r < j->raws->len; r++) {
    const PmRaw *raw = &g_array_index (j->raws, PmRaw, r);
    if (raw->kind == PM_FINDING_TWO_DRIVES && raw->spec == j->spec && raw->unit == (int) unit)
      return TRUE;
  }
  return FALSE;
}

static void
judge_wanted (Judge *j)
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
    gboolean may = FALSE, fits = TRUE, decided = TRUE;
    for (guint d = 0; d < board->n_drives; d++) {
      gboolean here = want.want == PM_WANT_DRIVE && want.drive == d;
      decided &= cells[d].answer != PM_ANSWER_NOT_DECIDED;
      fits &= cells[d].answer == (here ? PM_ANSWER_YES : PM_ANSWER_NEVER);
      may |= cells[d].answer == PM_ANSWER_MAY || cells[d].answer == PM_ANSWER_DEPENDS;
      if (cells[d].answer == PM_ANSWER_YES && (reached < 0 || !here))
        reached = (int) d;
    }
    if (fits || !decided)
      continue;
    gboolean nothing = reached < 0 && !may;
    PmRaw raw = pm_raw_init (nothing ? PM_FINDING_REACHES_NOTHING : PM_FINDING_NOT_AS_WANTED, j->severity, j->spec);
    raw.unit = (int) u;
    raw.drive = want.want == PM_WANT_DRIVE ? (int) want.drive : -1;
    raw.other = reached;
    raw.may = may;
    raw.state = pm_survey_state (j->trial->survey, PM_STATE_SINGLE, u);
    add (j, raw);
  }
}

static gboolean
is_let_off (const PmBoard *board, const PmCaseResult *result, const char *does)
{
  return result->wanted != PM_NONE && board->wanted[result->wanted].without != NULL &&
         g_strv_contains ((const char *const *) board->wanted[result->wanted].without, does);
}

static void
judge_sides_of (Judge *j)
{
  const PmBoard *board = j->trial->board;
  for (guint i = 0; i < j->result->n_sides; i++) {
    const PmSideLine *side = &j->result->sides[i];
    if ((side->side != PM_SIDE_STAYS && side->side != PM_SIDE_HELD && side->side != PM_SIDE_NOT_CERTAIN) || is_let_off (board, j->result, side->does) ||
        two_are_told (j, side->unit))
      continue;
    PmRaw raw = pm_raw_init (side->side == PM_SIDE_HELD ? PM_FINDING_SHARED_LINE_HELD : PM_FINDING_SIDE_LINE_STAYS, j->severity, j->spec);
    raw.unit = (int) side->unit;
    raw.drive = (int) side->drive;
    raw.does = g_intern_string (side->does);
    raw.may = side->side == PM_SIDE_NOT_CERTAIN;
    raw.state = pm_survey_state (j->trial->survey, PM_STATE_SINGLE, side->unit);
    for (guint d = 0; d < board->n_drives && raw.kind == PM_FINDING_SHARED_LINE_HELD; d++)
      for (guint g = 0; g < board->drives[d].n_gives; g++)
        if (d != side->drive && board->drives[d].gives[g].while_ == PM_WHILE_ALWAYS && g_str_equal (board->drives[d].gives[g].does, side->does)) {
          raw.other = (int) d;
          raw.place = board->drives[d].gives[g].place;
        }
    if (j->baseline != PM_NONE)
      for (guint k = 0; k < j->trial->results[j->baseline].n_sides; k++) {
        const PmSideLine *today = &j->trial->results[j->baseline].sides[k];
        raw.as_today |= today->unit == side->unit && today->drive == side->drive && today->side == side->side && g_str_equal (today->does, side->does);
      }
    add (j, raw);
  }
}

/* The same two outputs against each other without the board. */
static gboolean
clashes_there (const PmTrial *trial, guint spec, guint32 place, guint state)
{
  const GArray *clashes = spec == PM_NONE ? NULL : trial->survey->of[spec].clashes;
  for (guint i = 0; clashes != NULL && i < clashes->len; i++)
    if (g_array_index (clashes, PmClash, i).place == place && g_array_index (clashes, PmClash, i).state == state)
      return TRUE;
  return FALSE;
}

static void
judge_clashes (Judge *j)
{
  const GArray *clashes = j->trial->survey->of[j->spec].clashes;
  for (guint i = 0; i < clashes->len; i++) {
    const PmClash *clash = &g_array_index (clashes, PmClash, i);
    const PmHostState *state = &g_array_index (j->trial->survey->states, PmHostState, clash->state);
    gboolean pair = state->kind == PM_STATE_PAIR;
    PmRaw raw = pm_raw_init (pair ? PM_FINDING_BOTH_SELECTS : PM_FINDING_OUTPUTS_COLLIDE, pair ? PM_SEVERITY_NOTE : j->severity, j->spec);
    raw.place = clash->place;
    raw.state = clash->state;
    raw.may = !clash->certain;
    raw.unit = state->kind == PM_STATE_SINGLE ? (int) state->unit : -1;
    raw.as_today = clashes_there (j->trial, j->baseline, clash->place, clash->state);
    /* One finding per line, not per state: keep the surest. */
    PmRaw *known = NULL;
    for (guint k = 0; k < j->raws->len && known == NULL; k++) {
      PmRaw *other = &g_array_index (j->raws, PmRaw, k);
      if (other->kind == raw.kind && other->spec == raw.spec && other->place == raw.place)
        known = other;
    }
    if (known == NULL)
      add (j, raw);
    else if (known->may && !raw.may)
      *known = raw;
  }
}

static gboolean
clashes_in (const PmTrial *trial, guint spec, guint state)
{
  const GArray *clashes = trial->survey->of[spec].clashes;
  for (guint i = 0; i < clashes->len; i++)
    if (g_array_index (clashes, PmClash, i).state == state)
      return TRUE;
  return FALSE;
}

/* Where the board touches the net of a host's place: its plug or socket, else another pin of the board; the place itself if it does not. */
static guint32
board_side (const PmTrial *trial, guint spec, guint state, guint32 place)
{
  const PmBoard *board = trial->board;
  PmBound *bound = pm_survey_bind (trial->survey, spec, state);
  guint32 net = pm_bound_net (bound, place), other = place;
  for (guint i = 0; i < board->n_instances; i++)
    for (guint k = 0; board->instances[i].owner == PM_OWNER_BOARD && k < board->instances[i].part->n_pins; k++) {
      guint32 p = board->instances[i].first_place + k;
      if (pm_bound_net (bound, p) != net)
        continue;
      if (i == board->plug || i == board->socket)
        return p;
      other = other == place ? p : other;
    }
  return other;
}

/* Open inputs, unknown starts and loops that the lamps hang on, once per thing. */
static void
judge_choices (Judge *j)
{
  const PmTrial *trial = j->trial;
  const PmBoard *board = trial->board;
  for (guint s = 0; s < trial->survey->states->len; s++) {
    const GArray *seen = seen_in (trial, j->spec, s);
    PmChoice choice;
    guint32 lamps = board->n_drives >= 32 ? 0xffffffffu : (1u << board->n_drives) - 1;
    if (seen == NULL || g_array_index (trial->survey->states, PmHostState, s).kind == PM_STATE_PAIR)
      continue;
    for (guint i = 0; i < seen->len; i++)
      if (g_array_index (seen, PmSeen, i).never_settles && j->of->kind == PM_CASE_SETTING) {
        PmRaw raw = pm_raw_init (PM_FINDING_NEVER_SETTLES, PM_SEVERITY_STOP, j->spec);
        raw.state = s;
        add (j, raw);
        break;
      }
    if (!pm_seen_hangs_on (seen, lamps, FALSE, &choice) || clashes_in (trial, j->spec, s))
      continue; /* what is read off a line on which outputs collide is told by the collision */
    /* Every choice that matters, not only the first. */
    g_autoptr (GHashTable) told = g_hash_table_new (NULL, NULL);
    for (guint i = 0; i < seen->len; i++) {
      const PmSeen *world = &g_array_index (seen, PmSeen, i);
      for (guint k = 0; k < world->n_choices; k++) {
        const PmChoice *c = &world->choices[k];
        if (c->kind == PM_CHOICE_SOURCE || !g_hash_table_add (told, GUINT_TO_POINTER (c->kind << 24 | (c->index & 0xffffff))))
          continue;
        if (!pm_seen_flip_matters (seen, lamps, FALSE, c))
          continue;
        PmRaw raw = pm_raw_init (PM_FINDING_START_UNKNOWN, j->severity, j->spec);
        raw.state = s;
        raw.has_choice = TRUE;
        raw.choice = *c;
        if (c->kind == PM_CHOICE_INPUT) {
          raw.place = g_array_index (trial->t->input_place, guint32, c->index);
          if (raw.place >= board->n_places)
            continue;
          const PmInstance *instance = &board->instances[pm_board_instance_of (board, raw.place)];
          gboolean drive = instance->part->type == PM_PART_DRIVE;
          raw.kind = drive ? PM_FINDING_SELECT_FLOATS : c->open_high ? PM_FINDING_OPEN_BIPOLAR_INPUT : PM_FINDING_OPEN_CMOS_INPUT;
          raw.drive = drive ? (int) instance->owner_index : -1;
          if (c->open_high)
            raw.severity = PM_SEVERITY_CARE;
          if (instance->owner == PM_OWNER_HOST)
            raw.place = board_side (trial, j->spec, s, raw.place);
        } else if (c->kind == PM_CHOICE_BIT)
          raw.index = g_array_index (trial->t->bit_instance, guint32, c->index);
        else if (c->kind == PM_CHOICE_LOOP) {
          guint32 place = g_array_index (trial->t->input_place, guint32, c->index);
          raw.index = place < board->n_places ? pm_board_instance_of (board, place) : PM_NONE;
        } else
          continue;
        gboolean known = FALSE;
        for (guint r = 0; r < j->raws->len && !known; r++)
          known = g_array_index (j->raws, PmRaw, r).spec == j->spec && pm_raw_same (&g_array_index (j->raws, PmRaw, r), &raw);
        if (!known)
          add (j, raw);
      }
    }
  }
}

static void
judge_rails (Judge *j)
{
  guint64 joined = j->trial->survey->of[j->spec].joined_rails;
  const PmBoard *board = j->trial->board;
  if (joined == 0)
    return;
  PmRaw raw = pm_raw_init (PM_FINDING_RAILS_JOINED, PM_SEVERITY_STOP, j->spec);
  for (guint r = 0; r < board->n_rails && r < 64; r++)
    if (joined >> r & 1) {
      if (raw.index == PM_NONE)
        raw.index = r;
      else if (raw.place2 == PM_NONE || board->rails[r].volts != board->rails[raw.index].volts)
        raw.place2 = r;
    }
  raw.sw = j->of->sw;
  for (guint s = 0; s < board->n_switches && raw.sw == PM_NONE; s++)
    if (board->switches[s].owner == PM_OWNER_BOARD && board->switches[s].moved == PM_MOVED_BY_HAND)
      raw.sw = s; /* the only thing that moves; a guess only where a board has several, named in When */
  raw.as_today = j->baseline != PM_NONE && j->trial->survey->of[j->baseline].joined_rails != 0;
  add (j, raw);
}

/* A rail above 5 V on a net with a signal pin of a part or of the machine. */
static void
judge_supplies (Judge *j)
{
  const PmTranslation *t = j->trial->t;
  const PmBoard *board = t->board;
  PmBound *bound = NULL;
  for (guint r = 0; r < board->n_rails; r++) {
    if (board->rails[r].volts < 5.6 || board->rails[r].n_places == 0)
      continue;
    if (bound == NULL)
      bound = pm_survey_bind (j->trial->survey, j->spec, 0);
    guint32 net = pm_bound_net (bound, board->rails[r].places[0]), at = PM_NONE;
    for (guint32 p = 0; p < board->n_places && at == PM_NONE; p++)
      if (t->input_of[p] != PM_NONE && pm_bound_net (bound, p) == net)
        at = p;
    for (guint i = 0; i < t->driver_places->len && at == PM_NONE; i++)
      if (pm_bound_net (bound, g_array_index (t->driver_places, guint32, i)) == net)
        at = g_array_index (t->driver_places, guint32, i);
    if (at == PM_NONE)
      continue;
    PmRaw raw = pm_raw_init (PM_FINDING_SUPPLY_ON_SIGNAL, PM_SEVERITY_STOP, j->spec);
    raw.index = r;
    raw.place = at;
    add (j, raw);
  }
}

/* A lead off or turned that does what one of the settings does is told as a caption, not as a finding. */
static gboolean
acts_as_a_setting (const PmTrial *trial, guint spec)
{
  for (guint i = 1; i <= trial->cases->n_settings; i++)
    if (pm_cells_equal (trial->board, trial->results[i].cells, trial->results[spec].cells))
      return TRUE;
  return FALSE;
}

static void
judge_case (PmTrial *trial, guint spec, GArray *raws)
{
  const PmCaseSpec *of = g_ptr_array_index (trial->cases->specs, spec);
  Judge j = {trial, spec, of, &trial->results[spec], PM_SEVERITY_CARE, baseline_of (trial, spec), raws};
  judge_rails (&j);
  if (trial->survey->of[spec].joined_rails != 0)
    return; /* with the rails joined every level is chance */
  judge_supplies (&j);
  if (of->kind == PM_CASE_MOVING) {
    if (!trial->board->switches[of->sw].while_running)
      return;
    j.severity = PM_SEVERITY_STOP;
    judge_two_drives (&j);
    judge_idle (&j, PM_STATE_IDLE, PM_FINDING_ANSWERS_IDLE);
    judge_clashes (&j);
    return;
  }
  if (of->kind == PM_CASE_SETTING)
    j.severity = PM_SEVERITY_STOP;
  gboolean stated = of->kind == PM_CASE_REMOVED && j.result->wanted != PM_NONE;
  if ((of->kind == PM_CASE_REMOVED || of->kind == PM_CASE_TURNED) && acts_as_a_setting (trial, spec)) {
    if (stated) {
      judge_two_drives (&j);
      judge_wanted (&j);
    }
    return;
  }
  judge_choices (&j);
  judge_two_drives (&j);
  judge_idle (&j, PM_STATE_IDLE, PM_FINDING_ANSWERS_IDLE);
  judge_idle (&j, PM_STATE_RESET, PM_FINDING_ANSWERS_RESET);
  judge_idle (&j, PM_STATE_HOST_OFF, PM_FINDING_ANSWERS_HOST_OFF);
  judge_two_selects (&j);
  judge_clashes (&j);
  if (of->kind == PM_CASE_SETTING || stated)
    judge_wanted (&j);
  if (of->kind == PM_CASE_SETTING) {
    judge_sides_of (&j);
    pm_levels_judge (trial, spec, raws);
  }
}

/* TRUE if nothing but the two pins of a cut hang on its ends as far as the board goes. */
static gboolean
end_is_bare (const PmTrial *trial, guint32 place, guint32 but)
{
  for (guint j = 0; j < trial->board->n_joins; j++) {
    if (j == but || trial->board->joins[j].kind == PM_JOIN_THROUGH || trial->board->joins[j].kind == PM_JOIN_CUT)
      continue;
    for (guint k = 0; k < trial->board->joins[j].n_places; k++)
      if (trial->board->joins[j].places[k] == place)
        return FALSE;
  }
  for (guint i = 0; i < trial->t->n_edits; i++)
    if (trial->t->edits[i].kind == PM_EDIT_JOIN && (trial->t->edits[i].a == place || trial->t->edits[i].b == place))
      return FALSE;
  for (guint s = 0; s < trial->board->n_switches; s++)
    for (guint c = 0; c < trial->t->contacts[s]->len; c++) {
      PmPair pair = g_array_index (trial->t->contacts[s], PmPair, c);
      if (pair.a == place || pair.b == place)
        return FALSE;
    }
  return TRUE;
}

/* A cut pin whose one end goes nowhere, though the host has a line on it that is not a select with another way in. */
static void
judge_throughs (PmTrial *trial, GArray *raws)
{
  const PmBoard *board = trial->board;
  pm_survey_bind (trial->survey, 0, 0);
  for (guint c = 0; c < board->n_joins; c++) {
    const PmJoin *join = &board->joins[c];
    if (join->kind != PM_JOIN_CUT)
      continue;
    if (!end_is_bare (trial, join->places[0], c) || !end_is_bare (trial, join->places[1], c))
      continue; /* a cut with one bare end may be meant: a select that is led nowhere is told by what it reaches */
    for (guint l = 0; l < board->host.n_lines; l++) {
      guint32 net = pm_bound_net (trial->survey->bound, board->host.lines[l].place);
      const PmSurvey *survey = trial->survey;
      /* Without the board neither end is mated; compare through the board's own mating in the first setting instead. */
      pm_survey_bind (trial->survey, 1, 0);
      gboolean here = pm_bound_net (survey->bound, board->host.lines[l].place) == pm_bound_net (survey->bound, join->places[0]) ||
                      pm_bound_net (survey->bound, board->host.lines[l].place) == pm_bound_net (survey->bound, join->places[1]);
      pm_survey_bind (trial->survey, 0, 0);
      (void) net;
      if (!here)
        continue;
      PmRaw raw = pm_raw_init (PM_FINDING_THROUGH_NOT_CARRIED, PM_SEVERITY_STOP, 1);
      raw.join = c;
      raw.index = l;
      raw.place = join->places[0];
      raw.place2 = join->places[1];
      g_array_append_val (raws, raw);
      break;
    }
  }
}

/* A switch whose two positions, exchanged, would make every stated setting right. */
static void
judge_control (PmTrial *trial, GArray *raws)
{
  const PmBoard *board = trial->board;
  for (guint s = 0; s < board->n_switches; s++) {
    if (!pm_switch_is_by_hand (&board->switches[s]) || board->switches[s].n_positions != 2)
      continue;
    guint stated = 0, wrong = 0, swapped_right = 0;
    for (guint i = 1; i <= trial->cases->n_settings; i++) {
      const PmCaseResult *result = &trial->results[i];
      if (result->wanted == PM_NONE)
        continue;
      stated++;
      wrong += !pm_cells_fit (board, result->cells, &board->wanted[result->wanted]);
      for (guint k = 1; k <= trial->cases->n_settings; k++) {
        gboolean partner = TRUE;
        for (guint q = 0; q < board->n_switches && partner; q++)
          partner = (trial->results[k].positions[q] == result->positions[q]) == (q != s);
        swapped_right += partner && pm_cells_fit (board, trial->results[k].cells, &board->wanted[result->wanted]);
      }
    }
    if (stated < 2 || wrong != stated || swapped_right != stated)
      continue;
    PmRaw raw = pm_raw_init (PM_FINDING_CONTROL_WRONG_WAY, PM_SEVERITY_STOP, 1);
    raw.sw = s;
    g_array_append_val (raws, raw);
  }
}

static gboolean
drive_gives (const PmDrive *drive, const char *does)
{
  for (guint g = 0; g < drive->n_gives; g++)
    if (g_str_equal (drive->gives[g].does, does))
      return TRUE;
  return FALSE;
}

static void
judge_needs (PmTrial *trial, GArray *raws)
{
  const PmBoard *board = trial->board;
  for (guint i = 1; i <= trial->cases->n_settings; i++)
    for (guint u = 0; u < board->host.n_units; u++)
      for (guint d = 0; d < board->n_drives; d++) {
        if (trial->results[i].cells[u * board->n_drives + d].answer != PM_ANSWER_YES)
          continue;
        for (guint n = 0; board->host.units[u].needs != NULL && board->host.units[u].needs[n] != NULL; n++) {
          if (drive_gives (&board->drives[d], board->host.units[u].needs[n]))
            continue;
          PmRaw raw = pm_raw_init (PM_FINDING_NOT_SEEN_AS, PM_SEVERITY_CARE, i);
          raw.unit = (int) u;
          raw.drive = (int) d;
          raw.does = g_intern_string (board->host.units[u].needs[n]);
          raw.as_today = board->has_board && trial->results[0].cells[u * board->n_drives + d].answer == PM_ANSWER_YES;
          g_array_append_val (raws, raw);
        }
      }
}

/* What the file leaves open or says to be assumed. */
static void
judge_statements (PmTrial *trial, GArray *raws)
{
  const PmBoard *board = trial->board;
  for (guint s = 0; s < board->n_switches; s++) {
    if (board->switches[s].stated || pm_switch_is_by_hand (&board->switches[s]) || board->switches[s].n_positions < 2)
      continue;
    PmRaw raw = pm_raw_init (PM_FINDING_POSITION_NOT_STATED, PM_SEVERITY_CARE, trial->cases->usual);
    raw.sw = s;
    g_array_append_val (raws, raw);
  }
  for (guint l = 0; l < board->host.n_lines; l++) {
    const PmLine *line = &board->host.lines[l];
    gboolean rest = !line->in_reset_stated && line->drives != PM_LINE_DRIVES_NOTHING && g_strcmp0 (line->does, "select") == 0;
    if (!line->assumed && !rest)
      continue;
    PmRaw raw = pm_raw_init (PM_FINDING_ASSUMED, PM_SEVERITY_CARE, trial->cases->usual);
    raw.index = l;
    raw.may = !line->assumed;
    raw.does = "line";
    g_array_append_val (raws, raw);
  }
  for (guint i = 0; i < board->n_instances; i++) {
    if (!board->instances[i].assumed)
      continue;
    PmRaw raw = pm_raw_init (PM_FINDING_ASSUMED, PM_SEVERITY_CARE, trial->cases->usual);
    raw.index = i;
    raw.does = "part";
    g_array_append_val (raws, raw);
  }
}

static void
fill_results (PmTrial *trial)
{
  const PmBoard *board = trial->board;
  for (guint i = 0; i < trial->cases->specs->len; i++) {
    const PmCaseSpec *spec = g_ptr_array_index (trial->cases->specs, i);
    PmCaseResult *result = &trial->results[i];
    result->kind = spec->kind;
    result->positions = g_memdup2 (spec->positions, sizeof (int) * MAX (board->n_switches, 1));
    result->setting = spec->setting;
    result->wanted = PM_NONE;
    gboolean sides = spec->kind == PM_CASE_SETTING || spec->kind == PM_CASE_WITHOUT_BOARD || spec->kind == PM_CASE_ONCE;
    pm_routes_judge (trial->survey, i, sides, result);
    if (spec->kind == PM_CASE_SETTING || spec->kind == PM_CASE_ONCE)
      result->wanted = pm_wanted_of (board, spec->positions, PM_NONE);
    else if (spec->kind == PM_CASE_REMOVED && spec->sw != PM_NONE)
      result->wanted = pm_wanted_of (board, spec->positions, spec->sw);
    if (result->wanted != PM_NONE)
      result->fit = pm_cells_fit (board, result->cells, &board->wanted[result->wanted]) ? PM_FIT_AS_WANTED : PM_FIT_NOT_AS_WANTED;
    if (trial->survey->of[i].not_decided) {
      trial->not_decided = TRUE;
      result->fit = PM_FIT_NOT_DECIDED;
    }
    for (guint s = 0; s < trial->survey->states->len && spec->kind == PM_CASE_SETTING; s++)
      for (guint w = 0; trial->survey->of[i].seen[s] != NULL && w < trial->survey->of[i].seen[s]->len; w++)
        trial->unjudged |= g_array_index (trial->survey->of[i].seen[s], PmSeen, w).unjudged;
  }
}

PmTrial *
pm_trial_new (const PmBoard *board, const PmEdit *edits, guint n_edits, guint which, GCancellable *cancellable)
{
  g_autoptr (PmTrial) trial = g_new0 (PmTrial, 1);
  trial->board = board;
  trial->t = pm_translate (board, edits, n_edits);
  trial->cases = pm_cases_new (trial->t, which);
  trial->results = g_new0 (PmCaseResult, trial->cases->specs->len);
  trial->raws = g_array_new (FALSE, FALSE, sizeof (PmRaw));
  trial->survey = pm_survey_new (trial->t, trial->cases, which == PM_CASES_ALL, cancellable);
  if (trial->survey == NULL)
    return NULL;
  trial->not_decided = trial->cases->too_many;
  fill_results (trial);
  judge_throughs (trial, trial->raws);
  judge_control (trial, trial->raws);
  for (guint i = 1; i < trial->cases->specs->len; i++) {
    const PmCaseSpec *spec = g_ptr_array_index (trial->cases->specs, i);
    if (spec->kind != PM_CASE_ONCE && !spec->baseline)
      judge_case (trial, i, trial->raws);
  }
  judge_needs (trial, trial->raws);
  pm_memory_judge (trial, trial->raws);
  judge_statements (trial, trial->raws);
  return g_steal_pointer (&trial);
}

void
pm_trial_free (PmTrial *trial)
{
  if (trial == NULL)
    return;
  guint n_cells = trial->board->host.n_units * trial->board->n_drives;
  for (guint i = 0; trial->results != NULL && i < trial->cases->specs->len; i++) {
    for (guint k = 0; trial->results[i].cells != NULL && k < n_cells; k++)
      g_free (trial->results[i].cells[k].on);
    g_free (trial->results[i].cells);
    pm_case_result_clear (&trial->results[i]);
  }
  g_free (trial->results);
  pm_survey_free (trial->survey);
  g_clear_pointer (&trial->raws, g_array_unref);
  pm_cases_free (trial->cases);
  pm_translation_free (trial->t);
  g_free (trial);
}
