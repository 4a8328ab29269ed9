/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The survey: what every case does in every host state. */
#include "pm-survey.h"
#include "pm-reach.h"

/* What a unit's line is at when unit u (and v, or PM_NONE) is on: 0, 1, or -1 if the two contradict. */
static int
unit_line_level (const PmTranslation *t, guint line, guint u, guint v)
{
  const PmHost *host = &t->board->host;
  int level = -2;
  gboolean named = FALSE;
  for (guint i = 0; i < host->n_units; i++)
    for (guint k = 0; k < host->units[i].n_levels; k++) {
      if (host->units[i].levels[k].line != line)
        continue;
      named = TRUE;
      if (i != u && i != v)
        continue;
      int wanted = host->units[i].levels[k].high;
      level = level == -2 || level == wanted ? wanted : -1;
    }
  if (!named)
    return -2;
  level = level == -2 ? host->lines[line].asserted_low : level;
  return level >= 0 && pm_translation_turned (t, line) ? !level : level;
}

guint32
pm_survey_line_source (const PmSurvey *survey, guint line)
{
  const PmTranslation *t = survey->t;
  return t->line_state[line] != PM_NONE ? t->line_state[line] : t->line_source[line];
}

PmSourceValue
pm_survey_value_at (gboolean high)
{
  return high ? PM_SOURCE_HIGH : PM_SOURCE_LOW;
}

static PmSourceValue
rest_value (const PmLine *line)
{
  switch (line->in_reset) {
  case PM_REST_HIGH:
    return line->drives == PM_LINE_PUSH_PULL || line->drives == PM_LINE_THREE_STATE ? PM_SOURCE_HIGH : PM_SOURCE_OFF;
  case PM_REST_LOW: return PM_SOURCE_LOW;
  case PM_REST_OFF: return PM_SOURCE_OFF;
  case PM_REST_WEAK_HIGH:
  default: return line->drives == PM_LINE_OPEN_COLLECTOR ? PM_SOURCE_OFF : PM_SOURCE_WEAK_HIGH;
  }
}

static void
set_line (const PmSurvey *survey, guint l, const PmHostState *host, PmCase *state)
{
  const PmTranslation *t = survey->t;
  const PmLine *line = &t->board->host.lines[l];
  guint32 at = t->line_source[l], level_source = pm_survey_line_source (survey, l);
  state->sources[at] = line->drives == PM_LINE_WEAK ? PM_SOURCE_WEAK_HIGH : PM_SOURCE_OFF;
  gboolean is_reset = g_strcmp0 (line->does, "reset") == 0;
  if (host->kind == PM_STATE_HOST_OFF) {
    state->sources[level_source] = t->line_state[l] != PM_NONE ? PM_SOURCE_HIGH : PM_SOURCE_OFF;
    state->sources[at] =
        line->family != NULL && line->family->unpowered == PM_UNPOWERED_CLAMPS ? PM_SOURCE_CLAMP : PM_SOURCE_OFF;
  } else if (host->kind == PM_STATE_RESET && !is_reset) {
    state->sources[level_source] = PM_SOURCE_HIGH;
    state->sources[at] = rest_value (line);
  } else if (is_reset) {
    state->sources[level_source] =
        (host->kind == PM_STATE_RESET) != line->asserted_low ? PM_SOURCE_HIGH : PM_SOURCE_LOW;
  } else {
    gboolean single = host->kind == PM_STATE_SINGLE || host->kind == PM_STATE_PAIR;
    int level = unit_line_level (t, l, single ? host->unit : PM_NONE,
                                 host->kind == PM_STATE_PAIR ? host->other : PM_NONE);
    state->sources[level_source] = level == -2 ? PM_SOURCE_FREE : level == 1 ? PM_SOURCE_HIGH : PM_SOURCE_LOW;
  }
}

void
pm_survey_set_sources (const PmSurvey *survey, const PmHostState *host, PmCase *state)
{
  for (guint l = 0; l < survey->t->board->host.n_lines; l++)
    if (survey->t->line_source[l] != PM_NONE)
      set_line (survey, l, host, state);
}

static gboolean
never_together (const PmHost *host, guint u, guint v)
{
  for (guint n = 0; n < host->n_nevers; n++) {
    gboolean has_u = FALSE, has_v = FALSE;
    for (guint k = 0; k < host->nevers[n].n_units; k++) {
      has_u |= host->nevers[n].units[k] == host->units[u].number;
      has_v |= host->nevers[n].units[k] == host->units[v].number;
    }
    if (has_u && has_v)
      return TRUE;
  }
  return FALSE;
}

static gboolean
pair_can_be (const PmTranslation *t, guint u, guint v)
{
  const PmHost *host = &t->board->host;
  for (guint l = 0; l < host->n_lines; l++)
    if (unit_line_level (t, l, u, v) == -1)
      return FALSE;
  return !host->always_one && !never_together (host, u, v);
}

static void
list_states (PmSurvey *survey, gboolean pairs)
{
  const PmHost *host = &survey->t->board->host;
  gboolean idle = !host->always_one;
  for (guint n = 0; n < host->n_nevers; n++)
    idle = idle && !host->nevers[n].idle;
#define ADD(...) do { PmHostState state_ = {__VA_ARGS__}; g_array_append_val (survey->states, state_); } while (0)
  if (idle)
    ADD (PM_STATE_IDLE, PM_NONE, PM_NONE);
  for (guint u = 0; u < host->n_units; u++)
    ADD (PM_STATE_SINGLE, u, PM_NONE);
  for (guint u = 0; pairs && u < host->n_units; u++)
    for (guint v = u + 1; v < host->n_units; v++)
      if (pair_can_be (survey->t, u, v))
        ADD (PM_STATE_PAIR, u, v);
  ADD (PM_STATE_RESET, PM_NONE, PM_NONE);
  ADD (PM_STATE_HOST_OFF, PM_NONE, PM_NONE);
#undef ADD
  for (guint l = 0; l < host->n_lines; l++)
    if (survey->t->line_source[l] != PM_NONE && unit_line_level (survey->t, l, PM_NONE, PM_NONE) == -2 &&
        g_strcmp0 (host->lines[l].does, "reset") != 0)
      g_array_append_val (survey->side_lines, l);
}

guint
pm_survey_state (const PmSurvey *survey, PmHostStateKind kind, guint unit)
{
  for (guint s = 0; s < survey->states->len; s++) {
    PmHostState *state = &g_array_index (survey->states, PmHostState, s);
    if (state->kind == kind && (kind != PM_STATE_SINGLE || state->unit == unit))
      return s;
  }
  return PM_NONE;
}

typedef struct {
  GArray  *out;
  guint64 *n_worlds;
  guint8   lamps[32];  /* drives asked about */
  guint    n_lamps;
  guint    n_asks;
  PmChoice extra[PM_REACH_MAX_SIDE + PM_REACH_MAX_BITS];
  guint    n_extra;
} Collect;

static gboolean
collect_cb (const PmWorld *world, gpointer data)
{
  Collect *collect = data;
  PmSeen seen = {.never_settles = world->never_settles, .unjudged = world->unjudged};
  for (guint i = 0; i < collect->n_lamps; i++)
    seen.lamps |= (guint32) (world->answers[i] == PM_LEVEL_HIGH) << collect->lamps[i];
  if (collect->n_asks > 0)
    memcpy (seen.answers, world->answers + collect->n_lamps, MIN (collect->n_asks, G_N_ELEMENTS (seen.answers)));
  for (guint i = 0; i < world->n_choices && seen.n_choices < G_N_ELEMENTS (seen.choices); i++)
    seen.choices[seen.n_choices++] = world->choices[i];
  for (guint i = 0; i < collect->n_extra && seen.n_choices < G_N_ELEMENTS (seen.choices); i++)
    seen.choices[seen.n_choices++] = collect->extra[i];
  g_array_append_val (collect->out, seen);
  ++*collect->n_worlds;
  return TRUE;
}

/* Asks in the case as it is bound; lamps first. */
static gboolean
ask_now (PmSurvey *survey, Collect *collect, const PmAsk *asks, guint n_asks)
{
  PmAsk all[40];
  guint n = 0;
  collect->n_worlds = &survey->n_worlds;
  collect->n_asks = MIN (n_asks, 8);
  collect->n_lamps = 0;
  for (guint d = 0; d < MIN (survey->t->board->n_drives, 32); d++)
    if (survey->lamps_asked >> d & 1) {
      collect->lamps[collect->n_lamps++] = (guint8) d;
      all[n++] = (PmAsk) {PM_ASK_LEVEL, survey->t->lamp[d]};
    }
  for (guint i = 0; i < collect->n_asks; i++)
    all[n++] = asks[i];
  return pm_worlds_each (survey->bound, all, n, collect_cb, collect) != PM_WORLDS_NOT_DECIDED;
}

gboolean
pm_survey_ask_bound (PmSurvey *survey, GArray *out)
{
  Collect collect = {.out = out};
  return ask_now (survey, &collect, NULL, 0);
}

static gboolean
config_fits (const PmSurvey *survey, const PmReach *reach, guint config, const guint32 *forced, const guint8 *values,
             guint n_forced)
{
  for (guint k = 0; k < reach->n_side; k++)
    for (guint f = 0; f < n_forced; f++)
      if (forced[f] == pm_survey_line_source (survey, reach->side[k]) && values[f] != PM_SOURCE_FREE &&
          pm_survey_value_at (config >> k & 1) != values[f])
        return FALSE;
  return TRUE;
}

/* The same question in every reachable state of the stored bits. */
static gboolean
ask_reachable (PmSurvey *survey, const PmReach *reach, PmCase *state, guint s, const guint32 *forced,
               const guint8 *values, guint n_forced, gboolean latched, const PmAsk *asks, guint n_asks, GArray *out)
{
  gboolean decided = !reach->not_decided;
  guint n_bits = pm_circuit_n_bits (survey->t->circuit);
  gboolean reset = g_array_index (survey->states, PmHostState, s).kind == PM_STATE_RESET;
  guint first = reset ? reach->n_configs - 1 : s << reach->n_side, n = reset ? 1 : 1u << reach->n_side;
  g_autoptr (GArray) after = g_array_new (FALSE, FALSE, sizeof (PmState));
  for (guint config = first; config < first + n && first < reach->n_configs; config++) {
    if (!config_fits (survey, reach, config, forced, values, n_forced))
      continue;
    const GArray *nodes = reach->nodes[config];
    if (latched) {
      g_array_set_size (after, 0);
      pm_reach_latched (survey, reach, config, state, after);
      nodes = after;
    }
    pm_reach_apply (survey, reach, config, state);
    for (guint f = 0; f < n_forced; f++)
      state->sources[forced[f]] = values[f];
    for (guint i = 0; i < nodes->len; i++) {
      Collect collect = {.out = out};
      guint32 bits = g_array_index (nodes, PmState, i).bits;
      for (guint b = 0; b < n_bits; b++) {
        state->bits[b] = bits >> b & 1;
        collect.extra[collect.n_extra++] = (PmChoice) {PM_CHOICE_BIT, b, bits >> b & 1, FALSE};
      }
      for (guint k = 0; k < reach->n_side && !reset; k++)
        collect.extra[collect.n_extra++] =
            (PmChoice){PM_CHOICE_SOURCE, pm_survey_line_source (survey, reach->side[k]), config >> k & 1, FALSE};
      pm_bound_set (survey->bound, state);
      decided = ask_now (survey, &collect, asks, n_asks) && decided;
    }
  }
  return decided;
}

/* TRUE if some world hangs on a stored bit or read it: then only the states that can be reached count. */
static gboolean
reads_bits (const GArray *out, guint from)
{
  for (guint i = from; i < out->len; i++) {
    const PmSeen *world = &g_array_index (out, PmSeen, i);
    for (guint k = 0; k < world->n_choices; k++)
      if (world->choices[k].kind == PM_CHOICE_BIT)
        return TRUE;
  }
  return FALSE;
}

/* One question in one binding.  It is asked with the stored bits unknown first: most questions do not read them, and
 * then no state of theirs need be searched for. reach: where the search is kept, or NULL where none is made (a lever on
 * its way). */
static gboolean
ask_binding (PmSurvey *survey, PmReach **reach, PmCase *state, guint s, const guint32 *forced, const guint8 *values,
             guint n_forced, gboolean latched, const PmAsk *asks, guint n_asks, GArray *out)
{
  const PmHostState *host = &g_array_index (survey->states, PmHostState, s);
  gboolean bits = state->n_bits > 0 && reach != NULL && host->kind != PM_STATE_PAIR && host->kind != PM_STATE_HOST_OFF;
  guint from = out->len;
  if (!bits || !latched) {
    Collect collect = {.out = out};
    pm_survey_set_sources (survey, host, state);
    for (guint f = 0; f < n_forced; f++)
      state->sources[forced[f]] = values[f];
    pm_bound_set_sources (survey->bound, state);
    gboolean decided = ask_now (survey, &collect, asks, n_asks);
    if (!bits || (decided && !reads_bits (out, from)))
      return decided;
    g_array_set_size (out, from);
  }
  if (*reach == NULL)
    *reach = pm_reach_new (survey, state);
  gboolean decided = ask_reachable (survey, *reach, state, s, forced, values, n_forced, latched, asks, n_asks, out);
  memset (state->bits, 2, state->n_bits);
  pm_survey_set_sources (survey, host, state);
  pm_bound_set (survey->bound, state);
  return decided;
}

/* Rails that meet a rail of other volts, or a live rail of another supply. */
static guint64
find_joined_rails (const PmSurvey *survey)
{
  const PmTranslation *t = survey->t;
  guint64 joined = 0;
  for (guint a = 0; a < t->board->n_rails && a < 64; a++)
    for (guint b = 0; b < a; b++) {
      const PmRail *ra = &t->board->rails[a], *rb = &t->board->rails[b];
      if (ra->n_places == 0 || rb->n_places == 0 || (ra->volts == 0 && rb->volts == 0) ||
          (ra->volts == rb->volts && ra->supply == rb->supply))
        continue;
      if (pm_bound_net (survey->bound, ra->places[0]) == pm_bound_net (survey->bound, rb->places[0]))
        joined |= (guint64) 1 << a | (guint64) 1 << b;
    }
  return joined;
}

static PmReach **
reach_of (PmSurvey *survey, guint spec)
{
  const PmCaseSpec *of = g_ptr_array_index (survey->cases->specs, spec);
  /* With the rails joined every level is chance: nothing is judged then, and the search would be for nothing. */
  return of->kind == PM_CASE_MOVING || survey->of[spec].joined_rails != 0 ? NULL : &survey->reach[spec];
}

gboolean
pm_survey_ask (PmSurvey *survey, guint spec, guint s, const guint32 *forced, const guint8 *values, guint n_forced,
               gboolean latched, const PmAsk *asks, guint n_asks, GArray *out)
{
  const PmCaseSpec *of = g_ptr_array_index (survey->cases->specs, spec);
  gboolean decided = TRUE;
  for (guint b = 0; b < of->bindings->len; b++) {
    g_autoptr (PmCase) state = pm_case_copy (g_ptr_array_index (of->bindings, b));
    pm_bound_set (survey->bound, state);
    if (survey->of[spec].seen == NULL) /* not surveyed */
      survey->of[spec].joined_rails |= find_joined_rails (survey);
    decided =
        ask_binding (survey, reach_of (survey, spec), state, s, forced, values, n_forced, latched, asks, n_asks, out) &&
        decided;
  }
  return decided;
}

PmBound *
pm_survey_bind (PmSurvey *survey, guint spec, guint s)
{
  const PmCaseSpec *of = g_ptr_array_index (survey->cases->specs, spec);
  PmCase *state = g_ptr_array_index (of->bindings, 0);
  pm_survey_set_sources (survey, &g_array_index (survey->states, PmHostState, s), state);
  pm_bound_set (survey->bound, state);
  return survey->bound;
}

/* Nets with two drivers or more, or a driver and a rail, or a controlled joint: only there can outputs collide. One
 * place each. */
static GArray *
collision_places (const PmSurvey *survey)
{
  const PmTranslation *t = survey->t;
  g_autoptr (GHashTable) count = g_hash_table_new (NULL, NULL);
  for (guint i = 0; i < t->driver_places->len; i++) {
    gpointer net = GUINT_TO_POINTER (pm_bound_net (survey->bound, g_array_index (t->driver_places, guint32, i)));
    guint n = GPOINTER_TO_UINT (g_hash_table_lookup (count, net)) + 1;
    if (n == 1 && pm_bound_rails (survey->bound, g_array_index (t->driver_places, guint32, i)) != 0)
      n = 2;
    g_hash_table_insert (count, net, GUINT_TO_POINTER (n));
  }
  gboolean channels = FALSE;
  for (guint j = 0; j < t->joints->len && !channels; j++)
    channels = g_array_index (t->joints, PmJointInfo, j).of == PM_JOINT_OF_PART;
  GArray *places = g_array_new (FALSE, FALSE, sizeof (guint32));
  for (guint i = 0; i < t->driver_places->len; i++) {
    guint32 place = g_array_index (t->driver_places, guint32, i);
    gpointer net = GUINT_TO_POINTER (pm_bound_net (survey->bound, place));
    guint n = GPOINTER_TO_UINT (g_hash_table_lookup (count, net));
    if (n == 0 || (n < 2 && !channels))
      continue;
    g_hash_table_insert (count, net, NULL); /* once */
    g_array_append_val (places, place);
  }
  return places;
}

typedef struct { gboolean may, must; guint64 n; } ClashSeen;

static gboolean
clash_cb (const PmWorld *world, gpointer data)
{
  ClashSeen *seen = data;
  gboolean clash = world->answers[0] == PM_LEVEL_CLASH;
  seen->may |= clash;
  seen->must &= clash;
  seen->n++;
  return TRUE;
}

static void
look_for_clashes (PmSurvey *survey, PmSurveyCase *result, guint s, const GArray *places)
{
  for (guint i = 0; i < places->len; i++) {
    PmAsk ask = {PM_ASK_LEVEL, g_array_index (places, guint32, i)};
    ClashSeen seen = {.must = TRUE};
    if (pm_worlds_each (survey->bound, &ask, 1, clash_cb, &seen) == PM_WORLDS_NOT_DECIDED)
      result->not_decided = TRUE;
    survey->n_worlds += seen.n;
    if (!seen.may)
      continue;
    PmClash clash = {ask.index, s, seen.must};
    gboolean known = FALSE;
    for (guint k = 0; k < result->clashes->len && !known; k++)
      known = g_array_index (result->clashes, PmClash, k).place == clash.place &&
              g_array_index (result->clashes, PmClash, k).state == s;
    if (!known)
      g_array_append_val (result->clashes, clash);
  }
}

static gboolean
state_belongs (const PmCaseSpec *spec, const PmHostState *state)
{
  switch (state->kind) {
  case PM_STATE_RESET: return spec->reset;
  case PM_STATE_HOST_OFF: return spec->host_off;
  case PM_STATE_PAIR: return spec->kind == PM_CASE_SETTING;
  case PM_STATE_IDLE:
  case PM_STATE_SINGLE:
  default: return !spec->reset && !spec->host_off;
  }
}

void
pm_survey_case (PmSurvey *survey, guint index)
{
  const PmCaseSpec *spec = g_ptr_array_index (survey->cases->specs, index);
  PmSurveyCase *result = &survey->of[index];
  if (result->seen != NULL)
    return;
  result->seen = g_new0 (GArray *, survey->states->len);
  result->clashes = g_array_new (FALSE, FALSE, sizeof (PmClash));
  for (guint b = 0; b < spec->bindings->len; b++) {
    PmCase *state = g_ptr_array_index (spec->bindings, b);
    memset (state->bits, 2, state->n_bits);
    pm_survey_set_sources (survey, &g_array_index (survey->states, PmHostState, 0), state);
    pm_bound_set (survey->bound, state);
    g_autoptr (GArray) places = collision_places (survey);
    result->joined_rails |= find_joined_rails (survey);
    for (guint s = 0; s < survey->states->len; s++) {
      const PmHostState *host = &g_array_index (survey->states, PmHostState, s);
      if (!state_belongs (spec, host))
        continue;
      if (result->seen[s] == NULL)
        result->seen[s] = g_array_new (FALSE, FALSE, sizeof (PmSeen));
      if (!ask_binding (survey, reach_of (survey, index), state, s, NULL, NULL, 0, FALSE, NULL, 0, result->seen[s]))
        result->not_decided = TRUE;
      if (result->joined_rails == 0)
        look_for_clashes (survey, result, s, places);
      survey->n_runs += !spec->baseline && spec->kind != PM_CASE_ONCE;
    }
  }
}

PmSurvey *
pm_survey_open (const PmTranslation *t, const PmCases *cases, gboolean pairs)
{
  PmSurvey *survey = g_new0 (PmSurvey, 1);
  survey->t = t;
  survey->cases = cases;
  survey->states = g_array_new (FALSE, FALSE, sizeof (PmHostState));
  survey->side_lines = g_array_new (FALSE, FALSE, sizeof (guint));
  survey->of = g_new0 (PmSurveyCase, cases->specs->len);
  survey->reach = g_new0 (PmReach *, cases->specs->len);
  survey->bound = pm_bound_new (t->circuit);
  survey->lamps_asked = G_MAXUINT32;
  list_states (survey, pairs);
  return survey;
}

gboolean
pm_survey_all (PmSurvey *survey, GCancellable *cancellable)
{
  for (guint i = 0; i < survey->cases->specs->len; i++) {
    if (g_cancellable_is_cancelled (cancellable))
      return FALSE;
    pm_survey_case (survey, i);
  }
  return TRUE;
}

PmSurvey *
pm_survey_new (const PmTranslation *t, const PmCases *cases, gboolean pairs, GCancellable *cancellable)
{
  g_autoptr (PmSurvey) survey = pm_survey_open (t, cases, pairs);
  return pm_survey_all (survey, cancellable) ? g_steal_pointer (&survey) : NULL;
}

void
pm_survey_free (PmSurvey *survey)
{
  if (survey == NULL)
    return;
  for (guint i = 0; i < survey->cases->specs->len; i++) {
    for (guint s = 0; survey->of[i].seen != NULL && s < survey->states->len; s++)
      g_clear_pointer (&survey->of[i].seen[s], g_array_unref);
    g_free (survey->of[i].seen);
    g_clear_pointer (&survey->of[i].clashes, g_array_unref);
    pm_reach_free (survey->reach[i]);
  }
  g_free (survey->reach);
  g_free (survey->of);
  g_array_unref (survey->states);
  g_array_unref (survey->side_lines);
  pm_bound_free (survey->bound);
  g_free (survey);
}
