/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which states of stored bits the host can lead a case to: a plain search over nodes. */
#include "pm-reach.h"

/* Side lines that go into a chip with its own tables; the others cannot move a stored bit. */
static void
find_side_lines (PmSurvey *survey, PmReach *reach, const PmCase *state)
{
  const PmTranslation *t = survey->t;
  pm_bound_set (survey->bound, state);
  for (guint i = 0; i < survey->side_lines->len && reach->n_side < PM_REACH_MAX_SIDE; i++) {
    guint line = g_array_index (survey->side_lines, guint, i);
    guint32 net = pm_bound_net (survey->bound, t->board->host.lines[line].place);
    gboolean into_chip = FALSE;
    for (guint p = 0; p < t->board->n_instances && !into_chip; p++) {
      const PmInstance *instance = &t->board->instances[p];
      if (instance->part->n_sections == 0)
        continue;
      for (guint k = 0; k < instance->part->n_pins && !into_chip; k++)
        into_chip = t->input_of[instance->first_place + k] != PM_NONE &&
                    pm_bound_net (survey->bound, instance->first_place + k) == net;
    }
    if (into_chip)
      reach->side[reach->n_side++] = line;
  }
}

static gboolean
add_node (PmReach *reach, guint config, PmState node)
{
  GArray *nodes = reach->nodes[config];
  for (guint i = 0; i < nodes->len; i++) {
    PmState *other = &g_array_index (nodes, PmState, i);
    if (other->bits == node.bits && other->unstable == node.unstable)
      return FALSE;
  }
  g_array_append_val (nodes, node);
  return TRUE;
}

void
pm_reach_apply (const PmSurvey *survey, const PmReach *reach, guint config, PmCase *state)
{
  if (config == reach->n_configs - 1) {
    PmHostState reset = {PM_STATE_RESET, 0, 0};
    pm_survey_set_sources (survey, &reset, state);
    return;
  }
  pm_survey_set_sources (survey, &g_array_index (survey->states, PmHostState, config >> reach->n_side), state);
  for (guint k = 0; k < reach->n_side; k++)
    state->sources[pm_survey_line_source (survey, reach->side[k])] =
        pm_survey_value_at (config >> k & 1);
}

/* Configurations one step away; out has room for n_states + n_side + 1. */
static guint
neighbours (const PmSurvey *survey, const PmReach *reach, guint config, guint *out)
{
  guint n = 0, reset = reach->n_configs - 1;
  if (config == reset) {
    guint mask = 0;
    for (guint k = 0; k < reach->n_side; k++)
      mask |= survey->t->board->host.lines[reach->side[k]].asserted_low ? 1u << k : 0;
    out[n++] = mask; /* the first state, everything else off */
    return n;
  }
  guint mask = config & ((1u << reach->n_side) - 1), state = config >> reach->n_side;
  for (guint s = 0; s < reach->n_states; s++)
    if (s != state)
      out[n++] = s << reach->n_side | mask;
  for (guint k = 0; k < reach->n_side; k++)
    out[n++] = config ^ 1u << k;
  out[n++] = reset;
  return n;
}

GArray *
pm_reach_power_on (const PmSurvey *survey)
{
  const PmTranslation *t = survey->t;
  GArray *held = g_array_new (FALSE, FALSE, 2 * sizeof (guint32));
  for (guint i = 0; i < t->board->n_instances; i++) {
    if (t->capacitor_source[i] == PM_NONE)
      continue;
    for (guint end = 0; end < 2; end++) {
      guint32 here = t->board->instances[i].first_place + end, there = t->board->instances[i].first_place + 1 - end;
      double volts, ohms;
      gboolean grounded = FALSE;
      guint32 read = PM_NONE;
      for (guint r = 0; r < t->board->n_rails && r < 64; r++)
        grounded |= t->board->rails[r].volts == 0 && (pm_bound_rails (survey->bound, there) >> t->rail_of[r] & 1);
      if (!grounded || pm_bound_rails (survey->bound, here) != 0 ||
          !pm_bound_thevenin (survey->bound, here, &volts, &ohms) || volts < 2.0)
        continue;
      for (guint k = 0; k < t->board->n_instances && read == PM_NONE; k++)
        for (guint p = 0;
             t->board->instances[k].part->bits != NULL && p < t->board->instances[k].part->n_pins && read == PM_NONE;
             p++) {
          guint32 pin = t->board->instances[k].first_place + p;
          if (t->input_of[pin] != PM_NONE && pm_bound_net (survey->bound, pin) == pm_bound_net (survey->bound, here))
            read = pin;
        }
      guint32 pair[2] = {t->capacitor_source[i] + end, read};
      if (read != PM_NONE)
        g_array_append_vals (held, pair, 1);
    }
  }
  return held;
}

/* Power-on: every bit unknown, lines at rest, empty capacitors low; then they fill. */
static void
start_nodes (PmSurvey *survey, PmReach *reach, PmCase *state)
{
  guint n_bits = pm_circuit_n_bits (survey->t->circuit), reset = reach->n_configs - 1;
  g_autoptr (GArray) rests = g_array_new (FALSE, FALSE, sizeof (PmState)),
                     filled = g_array_new (FALSE, FALSE, sizeof (PmState));
  pm_reach_apply (survey, reach, reset, state);
  pm_bound_set (survey->bound, state);
  g_autoptr (GArray) held = pm_reach_power_on (survey);
  g_autoptr (PmCase) empty = pm_case_copy (state);
  for (guint i = 0; i < held->len; i++)
    empty->sources[((const guint32 *) (gconstpointer) held->data)[2 * i]] = PM_SOURCE_LOW;
  for (guint32 bits = 0; bits < (1u << n_bits); bits++) {
    g_array_set_size (rests, 0);
    g_array_set_size (filled, 0);
    reach->not_decided |= !pm_rest (survey->bound, empty, (PmState) {bits, 0}, rests, &reach->restless);
    for (guint i = 0; i < rests->len; i++)
      reach->not_decided |= !pm_step (survey->bound, empty, g_array_index (rests, PmState, i), state, filled, NULL,
                                      &reach->restless);
    for (guint i = 0; i < filled->len; i++)
      add_node (reach, reset, g_array_index (filled, PmState, i));
  }
}

static void
add_races (PmReach *reach, guint config, const GArray *races)
{
  for (guint i = 0; i < races->len; i++) {
    PmReachRace race = {g_array_index (races, PmRace, i), config};
    gboolean known = FALSE;
    for (guint k = 0; k < reach->races->len && !known; k++) {
      PmRace other = g_array_index (reach->races, PmReachRace, k).race;
      known = other.data == race.race.data && other.edge == race.race.edge;
    }
    if (!known)
      g_array_append_val (reach->races, race);
  }
}

static void
search (PmSurvey *survey, PmReach *reach, PmCase *state)
{
  g_autoptr (PmCase) next = pm_case_copy (state);
  g_autofree guint *done = g_new0 (guint, reach->n_configs); /* nodes of each configuration that have been followed */
  g_autofree guint *near = g_new (guint, reach->n_configs + reach->n_side + 1);
  g_autoptr (GArray) out = g_array_new (FALSE, FALSE, sizeof (PmState)),
                     races = g_array_new (FALSE, FALSE, sizeof (PmRace));
  for (gboolean more = TRUE; more && !reach->not_decided;) {
    more = FALSE;
    for (guint config = 0; config < reach->n_configs; config++)
      while (done[config] < reach->nodes[config]->len && !reach->not_decided) {
        PmState from = g_array_index (reach->nodes[config], PmState, done[config]++);
        guint n = neighbours (survey, reach, config, near);
        pm_reach_apply (survey, reach, config, state);
        for (guint k = 0; k < n; k++) {
          pm_reach_apply (survey, reach, near[k], next);
          g_array_set_size (out, 0);
          survey->n_worlds += PM_REACH_STEP_COST;
          g_array_set_size (races, 0);
          if (!pm_step (survey->bound, state, from, next, out, races, &reach->restless))
            reach->not_decided = TRUE;
          add_races (reach, config == reach->n_configs - 1 ? config : near[k], races);
          for (guint i = 0; i < out->len; i++)
            add_node (reach, near[k], g_array_index (out, PmState, i));
        }
        more = TRUE;
      }
  }
}

PmReach *
pm_reach_new (PmSurvey *survey, PmCase *state)
{
  PmReach *reach = g_new0 (PmReach, 1);
  find_side_lines (survey, reach, state);
  for (guint s = 0; s < survey->states->len; s++) {
    PmHostStateKind kind = g_array_index (survey->states, PmHostState, s).kind;
    reach->n_states += kind == PM_STATE_IDLE || kind == PM_STATE_SINGLE;
  }
  reach->n_configs = (reach->n_states << reach->n_side) + 1;
  reach->races = g_array_new (FALSE, FALSE, sizeof (PmReachRace));
  reach->nodes = g_new (GArray *, reach->n_configs);
  for (guint i = 0; i < reach->n_configs; i++)
    reach->nodes[i] = g_array_new (FALSE, FALSE, sizeof (PmState));
  if (pm_circuit_n_bits (survey->t->circuit) > PM_REACH_MAX_BITS) {
    reach->not_decided = TRUE;
    return reach;
  }
  start_nodes (survey, reach, state);
  search (survey, reach, state);
  return reach;
}

void
pm_reach_latched (PmSurvey *survey, const PmReach *reach, guint config, PmCase *state, GArray *out)
{
  g_autoptr (PmCase) before = pm_case_copy (state);
  guint mask = config & ((1u << reach->n_side) - 1), off = mask; /* the first state: idle, or the first unit */
  if (off == config && reach->n_states > 1)
    off = 1u << reach->n_side | mask;
  gboolean restless = FALSE;
  pm_reach_apply (survey, reach, off, before);
  pm_reach_apply (survey, reach, config, state);
  for (guint i = 0; i < reach->nodes[off]->len; i++)
    pm_step (survey->bound, before, g_array_index (reach->nodes[off], PmState, i), state, out, NULL, &restless);
}

void
pm_reach_free (PmReach *reach)
{
  if (reach == NULL)
    return;
  for (guint i = 0; i < reach->n_configs; i++)
    g_array_unref (reach->nodes[i]);
  g_free (reach->nodes);
  g_array_unref (reach->races);
  g_free (reach);
}
