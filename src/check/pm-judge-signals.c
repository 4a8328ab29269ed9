/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Judgements about signals: collisions, open inputs and unknown starts, rails and supplies. */
#include "pm-judge.h"

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

void
pm_judge_clashes (PmJudge *j)
{
  const GArray *clashes = j->trial->survey->of[j->spec].clashes;
  for (guint i = 0; i < clashes->len; i++) {
    const PmClash *clash = &g_array_index (clashes, PmClash, i);
    const PmHostState *state = &g_array_index (j->trial->survey->states, PmHostState, clash->state);
    gboolean pair = state->kind == PM_STATE_PAIR;
    PmRaw raw = pm_raw_init (pair ? PM_FINDING_BOTH_SELECTS : PM_FINDING_OUTPUTS_COLLIDE,
                             pair ? PM_SEVERITY_NOTE : j->severity, j->spec);
    raw.place = clash->place;
    raw.state = clash->state;
    gboolean told = FALSE;
    for (guint k = 0; k < j->raws->len && pair && !told; k++)
      told = g_array_index (j->raws, PmRaw, k).kind == PM_FINDING_OUTPUTS_COLLIDE &&
             g_array_index (j->raws, PmRaw, k).spec == j->spec &&
             g_array_index (j->raws, PmRaw, k).place == clash->place;
    if (told)
      continue; /* it collides with one select on already */
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
      pm_judge_add (j, raw);
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

/* Where the board touches the net of a host's place: its plug or socket, else another pin of the board; the place
 * itself if it does not. */
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

/* TRUE if the lamps hang on a thing of the machine or of a drive in the same state without the board as well. */
static gboolean
hangs_today (const PmJudge *j, guint state, guint32 lamps, const PmChoice *choice, guint32 instance)
{
  const GArray *seen = j->baseline != PM_NONE ? pm_judge_seen (j->trial, j->baseline, state) : NULL;
  if (seen == NULL || instance == PM_NONE || j->trial->board->instances[instance].owner == PM_OWNER_BOARD)
    return FALSE;
  return pm_seen_flip_matters (seen, lamps, FALSE, choice) || pm_seen_flip_in_a_pair (seen, lamps, FALSE, choice);
}

/* Open inputs, unknown starts and loops that the lamps hang on, once per thing. */
void
pm_judge_choices (PmJudge *j)
{
  const PmTrial *trial = j->trial;
  const PmBoard *board = trial->board;
  for (guint s = 0; s < trial->survey->states->len; s++) {
    const GArray *seen = pm_judge_seen (trial, j->spec, s);
    PmChoice choice;
    guint32 lamps = board->n_drives >= 32 ? 0xffffffffu : (1u << board->n_drives) - 1;
    if (seen == NULL || g_array_index (trial->survey->states, PmHostState, s).kind == PM_STATE_PAIR)
      continue;
    gboolean restless = FALSE;
    for (guint i = 0; i < seen->len; i++)
      restless |= g_array_index (seen, PmSeen, i).never_settles;
    for (guint i = 0; i < seen->len; i++)
      if (g_array_index (seen, PmSeen, i).never_settles && j->of->kind == PM_CASE_SETTING) {
        PmRaw raw = pm_raw_init (PM_FINDING_NEVER_SETTLES, PM_SEVERITY_STOP, j->spec);
        raw.state = s;
        pm_judge_add (j, raw);
        break;
      }
    if (!pm_seen_hangs_on (seen, lamps, FALSE, &choice) || restless || clashes_in (trial, j->spec, s))
      continue; /* what is read off a line that collides or never settles is told by that */
    /* Every choice that matters, not only the first. */
    g_autoptr (GHashTable) told = g_hash_table_new (NULL, NULL);
    for (guint i = 0; i < seen->len; i++) {
      const PmSeen *world = &g_array_index (seen, PmSeen, i);
      for (guint k = 0; k < world->n_choices; k++) {
        const PmChoice *c = &world->choices[k];
        if (c->kind == PM_CHOICE_SOURCE ||
            !g_hash_table_add (told, GUINT_TO_POINTER (c->kind << 24 | (c->index & 0xffffff))))
          continue;
        if (!pm_seen_flip_matters (seen, lamps, FALSE, c) && !pm_seen_flip_in_a_pair (seen, lamps, FALSE, c))
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
          raw.kind = drive          ? PM_FINDING_SELECT_FLOATS
                     : c->open_high ? PM_FINDING_OPEN_BIPOLAR_INPUT
                                    : PM_FINDING_OPEN_CMOS_INPUT;
          raw.drive = drive ? (int) instance->owner_index : -1;
          raw.as_today = hangs_today (j, s, lamps, c, pm_board_instance_of (board, raw.place));
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
        if (c->kind != PM_CHOICE_INPUT)
          raw.as_today = hangs_today (j, s, lamps, c, raw.index);
        gboolean known = FALSE;
        for (guint r = 0; r < j->raws->len && !known; r++)
          known = g_array_index (j->raws, PmRaw, r).spec == j->spec &&
                  pm_raw_same (&g_array_index (j->raws, PmRaw, r), &raw);
        if (!known)
          pm_judge_add (j, raw);
      }
    }
  }
}

/* The switch with which the rails of a setting come apart: another place of it alone, and they are. PM_NONE if there is
 * none: then they are joined whatever is moved. */
static guint32
switch_that_joins (const PmTrial *trial, guint setting)
{
  const PmBoard *board = trial->board;
  for (guint s = 0; s < board->n_switches; s++)
    for (guint i = 1; i <= trial->cases->n_settings && setting >= 1; i++) {
      gboolean only = trial->results[i].positions[s] != trial->results[setting].positions[s];
      for (guint q = 0; q < board->n_switches && only; q++)
        only = q == s || trial->results[i].positions[q] == trial->results[setting].positions[q];
      if (only && trial->survey->of[i].joined_rails == 0)
        return s;
    }
  return PM_NONE;
}

void
pm_judge_rails (PmJudge *j)
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
  gboolean at_rest = j->trial->survey->of[j->of->setting].joined_rails != 0; /* then not by what is different */
  raw.sw = !at_rest && j->of->sw != PM_NONE ? j->of->sw : switch_that_joins (j->trial, j->of->setting);
  /* Never as today: no machine runs like that, so its file must be wrong, and nothing else could be judged. */
  pm_judge_add (j, raw);
}

/* A chip's supply pin on 0 V, or its ground pin on a live rail. */
static void
judge_supply_pins (PmJudge *j, PmBound *bound)
{
  const PmBoard *board = j->trial->board;
  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *chip = &board->instances[i];
    for (guint k = 0; k < chip->part->n_pins && chip->owner == PM_OWNER_BOARD; k++) {
      PmPinRole role = chip->part->pins[k].role;
      guint64 rails = pm_bound_rails (bound, chip->first_place + k);
      if (role != PM_PIN_SUPPLY && role != PM_PIN_GROUND)
        continue;
      for (guint r = 0; r < MIN (board->n_rails, 64); r++)
        if ((rails >> r & 1) != 0 && (board->rails[r].volts == 0) == (role == PM_PIN_SUPPLY)) {
          PmRaw raw = pm_raw_init (PM_FINDING_SUPPLY_PIN, PM_SEVERITY_STOP, j->spec);
          raw.index = r;
          raw.place = chip->first_place + k;
          pm_judge_add (j, raw);
          break;
        }
    }
  }
}

/* A rail above 5 V on a net with a signal pin of a part or of the machine; supply pins of chips on the wrong rail. */
void
pm_judge_supplies (PmJudge *j)
{
  const PmTranslation *t = j->trial->t;
  const PmBoard *board = t->board;
  PmBound *bound = NULL;
  if (j->of->kind == PM_CASE_SETTING)
    judge_supply_pins (j, bound = pm_survey_bind (j->trial->survey, j->spec, 0));
  for (guint r = 0; r < board->n_rails; r++) {
    if ((board->rails[r].volts >= 0 && board->rails[r].volts < 5.6) || board->rails[r].n_places == 0)
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
    pm_judge_add (j, raw);
  }
}
