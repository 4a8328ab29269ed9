/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two electrical cares that need no more than a net's resistors and limits: a low that an output cannot reach against
 * the resistors on its line, and a high that is not enough for an input on it.  The low uses Ohm's law at the
 * guaranteed low level (the pull-up formula of the open-collector data sheets: (VCC - VOL) / R plus the low currents of
 * the inputs, National DM7438 DS006513). */
#include "config.h"
#include "pm-raw.h"
#include <math.h>

/* Driver of a place: its instance (NULL for a host line) and family; FALSE for what a drive gives, whose driver nobody
 * states. */
static gboolean
driver_at (const PmTrial *trial, guint32 place, const PmInstance **instance, const PmFamily **family,
           gboolean *pulls_up)
{
  const PmBoard *board = trial->board;
  *pulls_up = TRUE;
  for (guint l = 0; l < board->host.n_lines; l++)
    if (board->host.lines[l].place == place && board->host.lines[l].drives != PM_LINE_DRIVES_NOTHING) {
      *instance = NULL;
      *family = board->host.lines[l].family;
      *pulls_up =
          board->host.lines[l].drives == PM_LINE_PUSH_PULL || board->host.lines[l].drives == PM_LINE_THREE_STATE;
      return *family != NULL;
    }
  guint i = pm_board_instance_of (board, place);
  if (board->instances[i].part->n_sections == 0)
    return FALSE;
  *instance = &board->instances[i];
  *family = pm_trial_family (trial, i);
  return *family != NULL;
}

/* An output column that is never H can only pull low. */
static gboolean
is_open_collector (const PmInstance *instance, guint32 place)
{
  for (guint s = 0; s < instance->part->n_sections; s++) {
    const PmSection *section = &instance->part->sections[s];
    guint n_in = pm_table_n_inputs (section->table);
    for (guint k = 0; k < pm_table_n_outputs (section->table); k++) {
      if (pm_table_kind (section->table, k) != PM_COLUMN_PIN || instance->first_place + section->outputs[k] != place)
        continue;
      for (guint r = 0; r < pm_table_n_rows (section->table); r++) {
        const char *cell = pm_table_cell (section->table, r, n_in + k);
        if (!g_str_equal (cell, "L") && !g_str_equal (cell, "Z"))
          return FALSE;
      }
      return TRUE;
    }
  }
  return FALSE;
}

/* The highest live rail at its upper limit, as a factor on the nominal: VCC(max) of the formula. */
static double
supply_factor (const PmBoard *board)
{
  double factor = 1;
  for (guint r = 0; r < board->n_rails; r++)
    if (board->rails[r].volts > 0 && !isnan (board->rails[r].tolerance))
      factor = MAX (factor, 1 + board->rails[r].tolerance);
  return factor;
}

/* What flows into a low output on this net, amperes. */
static double
current_into_low (const PmTrial *trial, guint32 place, const PmFamily *family)
{
  const PmBoard *board = trial->board;
  double volts, ohms, current = 0, vol = isnan (family->vol) ? 0.4 : family->vol;
  if (pm_bound_thevenin (trial->survey->bound, place, &volts, &ohms) && ohms > 0)
    current = MAX (volts * supply_factor (board) - vol, 0) / ohms;
  guint32 net = pm_bound_net (trial->survey->bound, place);
  for (guint32 p = 0; p < board->n_places; p++)
    if (trial->t->input_of[p] != PM_NONE && pm_bound_net (trial->survey->bound, p) == net) {
      guint i = pm_board_instance_of (board, p);
      const PmFamily *f = board->instances[i].part->type == PM_PART_DRIVE
                              ? board->drives[board->instances[i].owner_index].family
                              : pm_trial_family (trial, i);
      double loads = board->instances[i].part->pins[p - board->instances[i].first_place].loads;
      if (f != NULL && !isnan (f->receiver.iil))
        current += f->receiver.iil * MAX (loads, 1);
    }
  return current;
}

static gboolean
overloaded (const PmTrial *trial, guint32 place, double *flows, double *sinks)
{
  const PmInstance *instance;
  const PmFamily *family;
  gboolean pulls_up;
  if (!driver_at (trial, place, &instance, &family, &pulls_up))
    return FALSE;
  *sinks = family->iol;
  *flows = current_into_low (trial, place, family);
  return !isnan (*sinks) && *flows > *sinks * 1.0001;
}

/* The input on the driver's net that needs more than the driver is sure to give, without a resistor that lifts it
 * there; PM_NONE. */
static guint32
too_high_a_need (const PmTrial *trial, guint32 place, double *gives, double *needs)
{
  const PmBoard *board = trial->board;
  const PmInstance *instance;
  const PmFamily *family;
  gboolean pulls_up;
  double volts, ohms;
  if (!driver_at (trial, place, &instance, &family, &pulls_up))
    return PM_NONE;
  *gives = family->voh;
  if (isnan (*gives) || !pulls_up || (instance != NULL && is_open_collector (instance, place)))
    return PM_NONE;
  gboolean lifted = pm_bound_thevenin (trial->survey->bound, place, &volts, &ohms);
  guint32 net = pm_bound_net (trial->survey->bound, place);
  for (guint32 p = 0; p < board->n_places; p++) {
    if (trial->t->input_of[p] == PM_NONE || pm_bound_net (trial->survey->bound, p) != net)
      continue;
    guint i = pm_board_instance_of (board, p);
    const PmFamily *f = board->instances[i].part->type == PM_PART_DRIVE
                            ? board->drives[board->instances[i].owner_index].family
                            : pm_trial_family (trial, i);
    if (f == NULL || isnan (f->receiver.vih) || f->receiver.vih <= *gives || (lifted && volts >= f->receiver.vih))
      continue;
    *needs = f->receiver.vih;
    return p;
  }
  return PM_NONE;
}

/* What a high output must give into the resistors on its net that pull down, and whether that is more than it is sure
 * to source. */
static gboolean
pulled_down (const PmTrial *trial, guint32 place, double *flows, double *sources)
{
  const PmInstance *instance;
  const PmFamily *family;
  gboolean pulls_up;
  double volts, ohms;
  if (!driver_at (trial, place, &instance, &family, &pulls_up) || !pulls_up || isnan (family->voh) ||
      isnan (family->ioh) || (instance != NULL && is_open_collector (instance, place)) ||
      !pm_bound_thevenin (trial->survey->bound, place, &volts, &ohms) || ohms <= 0)
    return FALSE;
  *flows = (family->voh - volts) / ohms;
  *sources = family->ioh;
  return *flows > *sources * 1.0001;
}

/* An unused CMOS input with nothing on it. */
static gboolean
hangs_open (const PmTrial *trial, guint32 place)
{
  const PmBoard *board = trial->board;
  guint32 net = pm_bound_net (trial->survey->bound, place);
  double volts, ohms;
  if (pm_bound_rails (trial->survey->bound, place) != 0 ||
      pm_bound_thevenin (trial->survey->bound, place, &volts, &ohms))
    return FALSE;
  for (guint i = 0; i < trial->t->driver_places->len; i++)
    if (pm_bound_net (trial->survey->bound, g_array_index (trial->t->driver_places, guint32, i)) == net)
      return FALSE;
  for (guint j = 0; j < trial->t->joints->len; j++) { /* the far side of a bilateral switch may hold it */
    guint32 a, b;
    if (g_array_index (trial->t->joints, PmJointInfo, j).of != PM_JOINT_OF_PART)
      continue;
    pm_circuit_joint_ends (trial->t->circuit, j, &a, &b);
    if (pm_bound_net (trial->survey->bound, a) == net || pm_bound_net (trial->survey->bound, b) == net)
      return FALSE;
  }
  return pm_board_instance_of (board, place) < board->n_instances;
}

static void
judge_unused (PmTrial *trial, guint spec, GArray *raws)
{
  const PmBoard *board = trial->board;
  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *instance = &board->instances[i];
    const PmFamily *family = pm_trial_family (trial, i);
    if (instance->owner != PM_OWNER_BOARD || instance->part->n_sections == 0 || family == NULL ||
        family->receiver.open_high)
      continue;
    for (guint k = 0; k < instance->part->n_pins; k++) {
      guint32 place = instance->first_place + k;
      if (trial->t->input_of[place] == PM_NONE || !hangs_open (trial, place))
        continue;
      gboolean decides = FALSE;
      for (guint r = 0; r < raws->len && !decides; r++)
        decides = g_array_index (raws, PmRaw, r).kind == PM_FINDING_OPEN_CMOS_INPUT &&
                  g_array_index (raws, PmRaw, r).place == place;
      if (decides)
        continue;
      PmRaw raw = pm_raw_init (PM_FINDING_UNUSED_INPUT_OPEN, PM_SEVERITY_CARE, spec);
      raw.index = i;
      raw.place = place;
      g_array_append_val (raws, raw);
    }
  }
}

void
pm_levels_judge (PmTrial *trial, guint spec, GArray *raws)
{
  const GArray *drivers = trial->t->driver_places;
  g_autofree double *flows = g_new0 (double, MAX (drivers->len, 1)), *sinks = g_new0 (double, MAX (drivers->len, 1));
  g_autofree gboolean *today = g_new0 (gboolean, MAX (drivers->len, 1)),
                      *high_today = g_new0 (gboolean, MAX (drivers->len, 1));
  double gives, needs;
  if (trial->board->has_board) {
    pm_survey_bind (trial->survey, 0, 0);
    for (guint i = 0; i < drivers->len; i++) {
      guint32 place = g_array_index (drivers, guint32, i);
      today[i] = overloaded (trial, place, &flows[i], &sinks[i]);
      high_today[i] =
          too_high_a_need (trial, place, &gives, &needs) != PM_NONE || pulled_down (trial, place, &gives, &needs);
    }
  }
  pm_survey_bind (trial->survey, spec, 0);
  for (guint i = 0; i < drivers->len; i++) {
    guint32 place = g_array_index (drivers, guint32, i);
    double now, most;
    if (overloaded (trial, place, &now, &most)) {
      PmRaw raw = pm_raw_init (PM_FINDING_LOW_NOT_REACHED, PM_SEVERITY_CARE, spec);
      raw.place = place;
      raw.a = now;
      raw.b = most;
      raw.as_today = today[i] && now <= flows[i] * 1.0001;
      g_array_append_val (raws, raw);
    }
    guint32 input = too_high_a_need (trial, place, &gives, &needs);
    if (pulled_down (trial, place, &now, &most)) {
      PmRaw raw = pm_raw_init (PM_FINDING_HIGH_NOT_ENOUGH, PM_SEVERITY_CARE, spec);
      raw.place = place;
      raw.a = now;
      raw.b = most;
      raw.as_today = high_today[i];
      g_array_append_val (raws, raw);
    } else if (input != PM_NONE) {
      PmRaw raw = pm_raw_init (PM_FINDING_HIGH_NOT_ENOUGH, PM_SEVERITY_CARE, spec);
      raw.place = place;
      raw.place2 = input;
      raw.a = gives;
      raw.b = needs;
      raw.as_today = high_today[i];
      g_array_append_val (raws, raw);
    }
  }
  judge_unused (trial, spec, raws);
}
