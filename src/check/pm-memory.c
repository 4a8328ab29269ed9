/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stored bits bring with them. */
#include "pm-raw.h"
#include "pm-reach.h"

/* TRUE if bits that were settled in one setting, taken over into another by moving a lever, leave the drives where they
 * were. */
static gboolean
stays_as_it_was (PmTrial *trial, guint from, guint to)
{
  PmSurvey *survey = trial->survey;
  const PmReach *was = survey->reach[from];
  const PmCaseSpec *old_spec = g_ptr_array_index (trial->cases->specs, from),
                   *new_spec = g_ptr_array_index (trial->cases->specs, to);
  g_autoptr (PmCase) before = pm_case_copy (g_ptr_array_index (old_spec->bindings, 0)),
                     after = pm_case_copy (g_ptr_array_index (new_spec->bindings, 0));
  gboolean restless = FALSE, differs = FALSE;
  g_autoptr (GArray) states = g_array_new (FALSE, FALSE, sizeof (PmState));
  pm_reach_apply (survey, was, 0, before);
  pm_reach_apply (survey, was, 0, after);
  for (guint i = 0; i < was->nodes[0]->len; i++)
    if (!pm_step (survey->bound, before, g_array_index (was->nodes[0], PmState, i), after, states, NULL, &restless))
      return FALSE;
  for (guint u = 0; u < trial->board->host.n_units; u++) {
    guint s = pm_survey_state (survey, PM_STATE_SINGLE, u);
    const GArray *settled = survey->of[to].seen[s];
    pm_survey_set_sources (survey, &g_array_index (survey->states, PmHostState, s), after);
    for (guint i = 0; i < states->len; i++) {
      guint32 bits = g_array_index (states, PmState, i).bits;
      gboolean known = FALSE;
      for (guint b = 0; b < after->n_bits; b++)
        after->bits[b] = bits >> b & 1;
      pm_bound_set (survey->bound, after);
      g_autoptr (GArray) out = g_array_new (FALSE, FALSE, sizeof (PmSeen));
      if (!pm_survey_ask_bound (survey, out) || out->len == 0)
        return FALSE;
      for (guint k = 0; k < settled->len && !known; k++)
        known = g_array_index (settled, PmSeen, k).lamps == g_array_index (out, PmSeen, 0).lamps;
      differs |= !known;
    }
  }
  return differs;
}

static gboolean
races_today (const PmSurvey *survey, PmRace race)
{
  const PmReach *today = survey->reach[0];
  for (guint i = 0; today != NULL && i < today->races->len; i++) {
    PmRace other = g_array_index (today->races, PmReachRace, i).race;
    if (other.data == race.data && other.edge == race.edge)
      return TRUE;
  }
  return FALSE;
}

/* Data that move with the edge that takes them, once per pair of nets. */
static void
judge_races (PmTrial *trial, guint setting, GArray *raws)
{
  PmSurvey *survey = trial->survey;
  const PmReach *reach = survey->reach[setting];
  g_autoptr (GArray) told = g_array_new (FALSE, FALSE, sizeof (PmPair)); /* nets */
  if (reach == NULL || reach->races->len == 0)
    return;
  pm_survey_bind (survey, setting, 0);
  for (guint i = 0; i < reach->races->len; i++) {
    const PmReachRace *race = &g_array_index (reach->races, PmReachRace, i);
    PmRaw raw = pm_raw_init (PM_FINDING_DATA_WITH_CLOCK, PM_SEVERITY_CARE, setting);
    raw.place = g_array_index (trial->t->input_place, guint32, race->race.data);
    raw.place2 = g_array_index (trial->t->input_place, guint32, race->race.edge);
    if (raw.place >= trial->board->n_places || raw.place2 >= trial->board->n_places)
      continue;
    PmPair nets = {pm_bound_net (survey->bound, raw.place), pm_bound_net (survey->bound, raw.place2)};
    gboolean known = FALSE;
    for (guint k = 0; k < told->len && !known; k++)
      known = g_array_index (told, PmPair, k).a == nets.a && g_array_index (told, PmPair, k).b == nets.b;
    if (known)
      continue;
    g_array_append_val (told, nets);
    raw.index = pm_board_instance_of (trial->board, raw.place);
    raw.state = race->config == reach->n_configs - 1 ? pm_survey_state (survey, PM_STATE_RESET, 0)
                                                     : race->config >> reach->n_side;
    raw.as_today = races_today (survey, race->race);
    g_array_append_val (raws, raw);
  }
}

static guint32
the_one_that_moves (const PmTrial *trial, guint a, guint b)
{
  guint32 moved = PM_NONE;
  for (guint s = 0; s < trial->board->n_switches; s++)
    if (trial->results[a].positions[s] != trial->results[b].positions[s]) {
      if (moved != PM_NONE)
        return PM_NONE;
      moved = s;
    }
  return moved;
}

void
pm_memory_judge (PmTrial *trial, GArray *raws)
{
  PmSurvey *survey = trial->survey;
  if (pm_circuit_n_bits (trial->t->circuit) == 0)
    return;
  pm_survey_bind (survey, trial->cases->usual, 0);
  g_autoptr (GArray) held = pm_reach_power_on (survey);
  for (guint i = 0; i < held->len; i++) {
    PmRaw raw = pm_raw_init (PM_FINDING_POWER_ON_RESET, PM_SEVERITY_CARE, trial->cases->usual);
    raw.place = ((const guint32 *) (gconstpointer) held->data)[2 * i + 1];
    g_array_append_val (raws, raw);
  }
  for (guint i = 1; i <= trial->cases->n_settings; i++)
    judge_races (trial, i, raws);
  for (guint a = 1; a <= trial->cases->n_settings; a++)
    for (guint b = 1; b <= trial->cases->n_settings; b++) {
      guint32 sw = a == b ? PM_NONE : the_one_that_moves (trial, a, b);
      if (sw == PM_NONE || survey->reach[a] == NULL || !pm_switch_is_by_hand (&trial->board->switches[sw]) ||
          !stays_as_it_was (trial, a, b))
        continue;
      PmRaw raw = pm_raw_init (PM_FINDING_NEXT_RESET, PM_SEVERITY_NOTE, b);
      raw.sw = sw;
      g_array_append_val (raws, raw);
    }
}
