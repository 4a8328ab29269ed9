/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The slow evaluator: the rule of pm-worlds.h written down as it stands, to be believed by reading.
 *
 * It shares nothing with the binding.  Nets are found by painting places, every sum runs over the whole circuit, what
 * depends on what is a matrix, and tables are read by their rows.  All unknown joints, free sources and unknown bits of
 * the cone are tried first; then input after input, or loop group after loop group, in order of flow, each with every
 * reading. */
#include "pm-bound-private.h"

#define MOST_UNKNOWN 20

typedef struct {
  const PmCircuit *circuit;
  const PmCase *state;
  guint32 n_inputs;
  guint8 *joint_states;             /* PmJointState, supplies taken into account */
  gboolean *works;                  /* sections there and with power */
  guint32 *fixed, *potential, *net; /* colour of each place: closed joints; those not open; those closed now */
  gboolean *reach;                  /* [n_inputs * n_inputs] p depends on q, by any way */
  gboolean *cone_inputs, *cone_joints, *cone_sources, *cone_bits;
  guint8 *pins, *joints, *sources, *bits, *done;
  double highest;
  const PmAsk *asks;
  guint32 n_asks;
  guint8 *answers;
  GArray *choices; /* PmChoice */
  gboolean never_settles, unjudged;
  gboolean painted; /* net is that of the readings as they are */
  PmWorldFunc func;
  gpointer data;
  PmWorldsResult result;
} Slow;

typedef struct {
  double low, high;
  PmLevel level;
  gboolean unjudged;
} SlowNet;

static const PmOutput *
output_at (const Slow *slow, guint32 output)
{
  return PM_AT (slow->circuit->outputs, PmOutput, output);
}

/* ---- tables ---- */

static PmOut
row_now (const Slow *slow, guint32 output)
{
  const PmOutput *o = output_at (slow, output);
  const PmSection *section = PM_AT (slow->circuit->sections, PmSection, o->section);
  guint32 reading = 0;
  for (guint32 k = 0; k < section->n_refs; k++) {
    guint32 ref = *PM_AT (slow->circuit->refs, guint32, section->first_ref + k);
    guint8 value = PM_IS_BIT (ref) ? slow->bits[PM_BIT_OF (ref)] : slow->pins[ref];
    reading |= (guint32)(value & 1) << k;
  }
  return pm_table_eval (section->table, o->column, reading, reading);
}

/* ---- nets ---- */

typedef gboolean (*Passes) (const Slow *slow, guint32 joint);

static gboolean
always_closed (const Slow *slow, guint32 joint)
{
  return slow->joint_states[joint] == PM_JOINT_CLOSED;
}

static gboolean
not_open (const Slow *slow, guint32 joint)
{
  return slow->joint_states[joint] != PM_JOINT_OPEN;
}

static gboolean
closed_now (const Slow *slow, guint32 joint)
{
  switch ((PmJointState)slow->joint_states[joint]) {
  case PM_JOINT_OPEN:
    return FALSE;
  case PM_JOINT_CLOSED:
    return TRUE;
  case PM_JOINT_UNKNOWN:
    return slow->joints[joint];
  case PM_JOINT_CONTROLLED:
    return row_now (slow, PM_AT (slow->circuit->joints, PmJoint, joint)->output) == PM_OUT_JOINED;
  }
  g_assert_not_reached ();
}

static void
paint (const Slow *slow, guint32 *colour, Passes passes)
{
  gboolean again = TRUE;
  for (guint32 i = 0; i < slow->circuit->n_places; i++)
    colour[i] = i;
  while (again) {
    again = FALSE;
    for (guint32 j = 0; j < slow->circuit->joints->len; j++) {
      const PmEnds *ends = PM_AT (slow->circuit->ends, PmEnds, j);
      guint32 low = MIN (colour[ends->a], colour[ends->b]);
      if ((colour[ends->a] == low && colour[ends->b] == low) || !passes (slow, j))
        continue;
      colour[ends->a] = colour[ends->b] = low;
      again = TRUE;
    }
  }
}

/* Volts of the highest live rail of a colour; a rail that is off is 0 V. FALSE if there is no rail. */
static gboolean
rail_volts (const Slow *slow, const guint32 *colour, guint32 wanted, double *volts)
{
  gboolean any = FALSE, live = FALSE;
  *volts = 0;
  for (guint32 i = 0; i < slow->circuit->rails->len; i++) {
    const PmRail *rail = PM_AT (slow->circuit->rails, PmRail, i);
    if (colour[rail->place] != wanted)
      continue;
    any = TRUE;
    if (rail->volts == 0 || slow->state->rails[i]) {
      *volts = live ? MAX (*volts, rail->volts) : rail->volts;
      live = TRUE;
    }
  }
  return any;
}

static gboolean
has_live (const Slow *slow, guint32 colour, gboolean ground)
{
  for (guint32 i = 0; i < slow->circuit->rails->len; i++) {
    const PmRail *rail = PM_AT (slow->circuit->rails, PmRail, i);
    if (slow->fixed[rail->place] == colour && (ground ? rail->volts <= 0 : rail->volts > 0 && slow->state->rails[i]))
      return TRUE;
  }
  return FALSE;
}

static gboolean
input_draws (const Slow *slow, guint32 input)
{
  gboolean used = FALSE;
  for (guint32 s = 0; s < slow->circuit->sections->len; s++) {
    const PmSection *section = PM_AT (slow->circuit->sections, PmSection, s);
    for (guint32 k = 0; k < section->n_refs; k++) {
      if (*PM_AT (slow->circuit->refs, guint32, section->first_ref + k) != input)
        continue;
      used = TRUE;
      if (slow->works[s])
        return TRUE;
    }
  }
  return !used;
}

typedef struct {
  gboolean low, high, clamp;
  double siemens, amps, highest;
} SlowSum;

static void
sum_drivers (const Slow *slow, guint32 colour, SlowSum *sum)
{
  const PmCircuit *circuit = slow->circuit;
  for (guint32 i = 0; i < circuit->rails->len; i++) {
    const PmRail *rail = PM_AT (circuit->rails, PmRail, i);
    if (slow->net[rail->place] != colour)
      continue;
    gboolean live = rail->volts == 0 || slow->state->rails[i];
    sum->high |= live && rail->volts > 0;
    sum->low |= live && rail->volts <= 0;
    sum->clamp |= !live;
  }
  for (guint32 i = 0; i < circuit->outputs->len; i++) {
    const PmOutput *output = output_at (slow, i);
    if (output->kind != PM_COLUMN_PIN || output->place == PM_NONE || slow->net[output->place] != colour)
      continue;
    const PmSection *section = PM_AT (circuit->sections, PmSection, output->section);
    PmOut out = slow->works[output->section] ? row_now (slow, i) : PM_OUT_OFF;
    sum->low |= out == PM_OUT_LOW;
    sum->high |= out == PM_OUT_HIGH;
    sum->clamp |= slow->state->sections[output->section] && !slow->works[output->section] &&
                  section->unpowered == PM_UNPOWERED_CLAMPS;
  }
  for (guint32 i = 0; i < circuit->sources->len; i++) {
    if (slow->net[PM_AT (circuit->sources, PmSource, i)->place] != colour)
      continue;
    PmSourceValue value = slow->state->sources[i];
    sum->low |= value == PM_SOURCE_LOW || (value == PM_SOURCE_FREE && !slow->sources[i]);
    sum->high |= value == PM_SOURCE_HIGH || (value == PM_SOURCE_FREE && slow->sources[i]);
    sum->clamp |= value == PM_SOURCE_CLAMP;
    if (value == PM_SOURCE_WEAK_HIGH || value == PM_SOURCE_WEAK_LOW)
      sum->siemens += 1 / PM_WEAK_OHMS;
    if (value == PM_SOURCE_WEAK_HIGH) {
      sum->amps += PM_WEAK_VOLTS / PM_WEAK_OHMS;
      sum->highest = MAX (sum->highest, PM_WEAK_VOLTS);
    }
  }
}

/* TRUE if one was met of which neither end holds a rail. */
static gboolean
sum_resistors (const Slow *slow, guint32 colour, SlowSum *sum)
{
  gboolean unjudged = FALSE;
  for (guint32 i = 0; i < slow->circuit->resistors->len; i++) {
    const PmResistor *resistor = PM_AT (slow->circuit->resistors, PmResistor, i);
    guint32 a = slow->net[resistor->a], b = slow->net[resistor->b];
    if (a == b || (a != colour && b != colour))
      continue;
    double volts;
    if (rail_volts (slow, slow->net, a == colour ? b : a, &volts)) {
      sum->siemens += 1 / resistor->ohms;
      sum->amps += volts / resistor->ohms;
    } else {
      unjudged = TRUE;
    }
  }
  return unjudged;
}

static SlowNet
net_now (Slow *slow, guint32 place)
{
  SlowNet net = {.level = PM_LEVEL_OFF};
  SlowSum sum = {.highest = slow->highest};
  if (!slow->painted)
    paint (slow, slow->net, closed_now);
  slow->painted = TRUE;
  guint32 colour = slow->net[place];
  sum_drivers (slow, colour, &sum);
  if (sum.low || sum.high) {
    net.level = sum.low && sum.high ? PM_LEVEL_CLASH : sum.low ? PM_LEVEL_LOW : PM_LEVEL_HIGH;
    return net;
  }
  if (sum.clamp) {
    net.level = PM_LEVEL_CLAMPED;
    return net;
  }
  net.unjudged = sum_resistors (slow, colour, &sum);
  if (sum.siemens == 0)
    return net;
  double volts = sum.amps / sum.siemens, ohms = 1 / sum.siemens, iil = 0, iih = 0;
  for (guint32 i = 0; i < slow->n_inputs; i++) {
    const PmInput *input = PM_AT (slow->circuit->inputs, PmInput, i);
    if (slow->net[input->place] == colour && input_draws (slow, i)) {
      iil += input->receiver.iil;
      iih += input->receiver.iih;
    }
  }
  net.low = CLAMP (volts + ohms * iil, 0, sum.highest);
  net.high = CLAMP (volts - ohms * iih, 0, sum.highest);
  net.level = net.low <= PM_SHOWN_LOW + PM_VOLTS_GIVE     ? PM_LEVEL_PULLED_LOW
              : net.high >= PM_SHOWN_HIGH - PM_VOLTS_GIVE ? PM_LEVEL_PULLED_HIGH
                                                          : PM_LEVEL_BETWEEN;
  return net;
}

/* 0 or 1, or 2 where the input reads for itself. */
static guint8
must_read (Slow *slow, guint32 input, SlowNet *net)
{
  const PmInput *in = PM_AT (slow->circuit->inputs, PmInput, input);
  *net = net_now (slow, in->place);
  slow->unjudged |= net->unjudged;
  if (net->level == PM_LEVEL_LOW || net->level == PM_LEVEL_CLAMPED)
    return 0;
  if (net->level == PM_LEVEL_HIGH)
    return 1;
  if (net->level == PM_LEVEL_OFF || net->level == PM_LEVEL_CLASH)
    return 2;
  return net->low <= in->receiver.vil + PM_VOLTS_GIVE ? 0 : net->high >= in->receiver.vih - PM_VOLTS_GIVE ? 1 : 2;
}

/* ---- what depends on what ---- */

typedef struct {
  gboolean *inputs, *joints, *sources, *bits;
} Depends;

static void
column_depends (const Slow *slow, guint32 output, Depends *depends)
{
  const PmOutput *o = output_at (slow, output);
  const PmSection *section = PM_AT (slow->circuit->sections, PmSection, o->section);
  for (guint32 k = 0; k < section->n_refs; k++) {
    guint32 ref = *PM_AT (slow->circuit->refs, guint32, section->first_ref + k);
    if ((o->reads >> k & 1) == 0)
      continue;
    if (PM_IS_BIT (ref))
      depends->bits[PM_BIT_OF (ref)] = TRUE;
    else
      depends->inputs[ref] = TRUE;
  }
}

static void
joint_depends (const Slow *slow, guint32 joint, Depends *depends)
{
  if (slow->joint_states[joint] == PM_JOINT_UNKNOWN)
    depends->joints[joint] = TRUE;
  else if (slow->joint_states[joint] == PM_JOINT_CONTROLLED)
    column_depends (slow, PM_AT (slow->circuit->joints, PmJoint, joint)->output, depends);
}

/* Joints at a potential net that do more than join what is one net already. */
static void
joints_depend (const Slow *slow, guint32 colour, Depends *depends)
{
  for (guint32 j = 0; j < slow->circuit->joints->len; j++) {
    const PmEnds *ends = PM_AT (slow->circuit->ends, PmEnds, j);
    if (slow->potential[ends->a] == colour && slow->potential[ends->b] == colour &&
        slow->fixed[ends->a] != slow->fixed[ends->b])
      joint_depends (slow, j, depends);
  }
}

static void
net_depends (const Slow *slow, guint32 place, Depends *depends)
{
  guint32 colour = slow->potential[place];
  for (guint32 i = 0; i < slow->circuit->outputs->len; i++) {
    const PmOutput *output = output_at (slow, i);
    if (output->kind == PM_COLUMN_PIN && output->place != PM_NONE && slow->works[output->section] &&
        slow->potential[output->place] == colour)
      column_depends (slow, i, depends);
  }
  for (guint32 i = 0; i < slow->circuit->sources->len; i++) {
    if (slow->potential[PM_AT (slow->circuit->sources, PmSource, i)->place] == colour)
      depends->sources[i] = TRUE;
  }
  joints_depend (slow, colour, depends);
  for (guint32 i = 0; i < slow->circuit->resistors->len; i++) {
    const PmResistor *resistor = PM_AT (slow->circuit->resistors, PmResistor, i);
    guint32 ends[2] = {resistor->a, resistor->b};
    double volts;
    for (guint32 k = 0; k < 2; k++) {
      guint32 far = slow->potential[ends[1 - k]];
      if (slow->potential[ends[k]] == colour && rail_volts (slow, slow->potential, far, &volts))
        joints_depend (slow, far, depends);
    }
  }
}

static void
ask_depends (const Slow *slow, const PmAsk *ask, Depends *depends)
{
  switch (ask->kind) {
  case PM_ASK_READ:
    depends->inputs[ask->index] = TRUE;
    break;
  case PM_ASK_LEVEL:
    net_depends (slow, ask->index, depends);
    break;
  case PM_ASK_JOINT:
    joint_depends (slow, ask->index, depends);
    break;
  }
}

/* Fills the cone and the matrix of what reaches what. */
static void
find_cone (Slow *slow)
{
  guint32 n = slow->n_inputs;
  Depends cone = {slow->cone_inputs, slow->cone_joints, slow->cone_sources, slow->cone_bits};
  gboolean again = TRUE;
  for (guint32 i = 0; i < slow->n_asks; i++)
    ask_depends (slow, &slow->asks[i], &cone);
  while (again) {
    again = FALSE;
    for (guint32 p = 0; p < n; p++) {
      if (!slow->cone_inputs[p] || slow->done[p])
        continue;
      Depends own = cone;
      own.inputs = slow->reach + (gsize)p * n;
      net_depends (slow, PM_AT (slow->circuit->inputs, PmInput, p)->place, &own);
      for (guint32 q = 0; q < n; q++)
        slow->cone_inputs[q] |= own.inputs[q];
      slow->done[p] = again = TRUE;
    }
  }
  memset (slow->done, 0, n);
  for (guint32 k = 0; k < n; k++)
    for (guint32 p = 0; p < n; p++)
      for (guint32 q = 0; q < n; q++)
        slow->reach[(gsize)p * n + q] |= slow->reach[(gsize)p * n + k] && slow->reach[(gsize)k * n + q];
}

static gboolean
reaches (const Slow *slow, guint32 p, guint32 q)
{
  return slow->reach[(gsize)p * slow->n_inputs + q];
}

/* ---- worlds ---- */

static guint32
add_choice (Slow *slow, PmChoiceKind kind, guint32 index, guint32 value, gboolean open_high)
{
  g_array_append_vals (slow->choices, &(PmChoice){kind, index, value, open_high}, 1);
  return slow->choices->len - 1;
}

static void
tell (Slow *slow)
{
  gboolean unjudged = slow->unjudged;
  for (guint32 i = 0; i < slow->n_asks; i++) {
    const PmAsk *ask = &slow->asks[i];
    if (ask->kind == PM_ASK_READ) {
      slow->answers[i] = slow->pins[ask->index];
    } else if (ask->kind == PM_ASK_JOINT) {
      slow->answers[i] = closed_now (slow, ask->index);
    } else {
      SlowNet net = net_now (slow, ask->index);
      slow->answers[i] = net.level;
      unjudged |= net.unjudged;
    }
  }
  PmWorld world = {slow->answers, (const PmChoice *)slow->choices->data, slow->choices->len, slow->never_settles,
                   unjudged};
  if (!slow->func (&world, slow->data))
    slow->result = PM_WORLDS_STOPPED;
}

/* The next input all of whose causes outside its own group are done; n_inputs if all are done. */
static guint32
next_input (const Slow *slow)
{
  for (guint32 p = 0; p < slow->n_inputs; p++) {
    if (!slow->cone_inputs[p] || slow->done[p])
      continue;
    gboolean ready = TRUE;
    for (guint32 q = 0; q < slow->n_inputs && ready; q++)
      ready = !reaches (slow, p, q) || slow->done[q] || reaches (slow, q, p);
    if (ready)
      return p;
  }
  return slow->n_inputs;
}

static void settle (Slow *slow);

static void
settle_single (Slow *slow, guint32 input)
{
  SlowNet net;
  guint8 must = must_read (slow, input, &net);
  slow->done[input] = TRUE;
  for (guint8 value = 0; value < 2 && slow->result == PM_WORLDS_DONE; value++) {
    guint32 n_choices = slow->choices->len;
    if (must < 2 && must != value)
      continue;
    slow->pins[input] = value;
    slow->painted = FALSE;
    if (must == 2)
      add_choice (slow, PM_CHOICE_INPUT, input, value,
                  PM_AT (slow->circuit->inputs, PmInput, input)->receiver.open_high && net.level != PM_LEVEL_CLASH);
    settle (slow);
    g_array_set_size (slow->choices, n_choices);
  }
  slow->done[input] = FALSE;
}

static void
read_group (Slow *slow, const GArray *group, guint32 reading)
{
  for (guint32 i = 0; i < group->len; i++)
    slow->pins[g_array_index (group, guint32, i)] = reading >> i & 1;
  slow->painted = FALSE;
}

static gboolean
group_holds (Slow *slow, const GArray *group)
{
  for (guint32 i = 0; i < group->len; i++) {
    SlowNet net;
    guint32 input = g_array_index (group, guint32, i);
    guint8 must = must_read (slow, input, &net);
    if (must < 2 && must != slow->pins[input])
      return FALSE;
  }
  return TRUE;
}

static void
settle_group (Slow *slow, guint32 first)
{
  gboolean never_before = slow->never_settles, unjudged_before = slow->unjudged;
  g_autoptr (GArray) group = g_array_new (FALSE, FALSE, sizeof (guint32));
  g_autoptr (GArray) ways = g_array_new (FALSE, FALSE, sizeof (guint32));
  for (guint32 q = first; q < slow->n_inputs; q++) {
    if (reaches (slow, first, q) && reaches (slow, q, first))
      g_array_append_val (group, q);
  }
  if (group->len > MOST_UNKNOWN) {
    slow->result = PM_WORLDS_NOT_DECIDED;
    return;
  }
  for (guint32 i = 0; i < group->len; i++)
    slow->done[g_array_index (group, guint32, i)] = TRUE;
  for (guint32 reading = 0; reading < 1u << group->len; reading++) {
    read_group (slow, group, reading);
    if (group_holds (slow, group))
      g_array_append_val (ways, reading);
  }
  gboolean never = ways->len == 0;
  for (guint32 reading = 0; never && reading < 1u << group->len; reading++)
    g_array_append_val (ways, reading);
  slow->never_settles |= never;
  for (guint32 i = 0; i < ways->len && slow->result == PM_WORLDS_DONE; i++) {
    guint32 n_choices = slow->choices->len, way = g_array_index (ways, guint32, i);
    read_group (slow, group, way);
    for (guint32 k = 0; never && k < group->len; k++)
      add_choice (slow, PM_CHOICE_INPUT, g_array_index (group, guint32, k), way >> k & 1, FALSE);
    if (!never && ways->len > 1)
      add_choice (slow, PM_CHOICE_LOOP, first, i, FALSE);
    slow->unjudged = unjudged_before;
    if (!never)
      group_holds (slow, group); /* again, for what was not judged in this reading */
    settle (slow);
    g_array_set_size (slow->choices, n_choices);
  }
  for (guint32 i = 0; i < group->len; i++)
    slow->done[g_array_index (group, guint32, i)] = FALSE;
  slow->never_settles = never_before;
}

static void
settle (Slow *slow)
{
  gboolean unjudged = slow->unjudged;
  guint32 input = next_input (slow);
  if (input == slow->n_inputs)
    tell (slow);
  else if (reaches (slow, input, input))
    settle_group (slow, input);
  else
    settle_single (slow, input);
  slow->unjudged = unjudged;
}

/* All unknown joints, free sources and unknown bits of the cone, each both ways. */
static void
settle_choices (Slow *slow)
{
  GArray *choices = slow->choices;
  for (guint32 i = 0; i < slow->state->n_joints; i++) {
    if (slow->cone_joints[i])
      add_choice (slow, PM_CHOICE_JOINT, i, 0, FALSE);
  }
  for (guint32 i = 0; i < slow->state->n_sources; i++) {
    if (slow->cone_sources[i] && slow->state->sources[i] == PM_SOURCE_FREE)
      add_choice (slow, PM_CHOICE_SOURCE, i, 0, FALSE);
  }
  for (guint32 i = 0; i < slow->state->n_bits; i++) {
    slow->bits[i] = slow->state->bits[i];
    if (slow->cone_bits[i] && slow->state->bits[i] > 1)
      add_choice (slow, PM_CHOICE_BIT, i, 0, FALSE);
  }
  if (choices->len > MOST_UNKNOWN) {
    slow->result = PM_WORLDS_NOT_DECIDED;
    return;
  }
  for (guint32 reading = 0; reading < 1u << choices->len && slow->result == PM_WORLDS_DONE; reading++) {
    for (guint32 i = 0; i < choices->len; i++) {
      PmChoice *choice = &g_array_index (choices, PmChoice, i);
      guint8 *values = choice->kind == PM_CHOICE_JOINT    ? slow->joints
                       : choice->kind == PM_CHOICE_SOURCE ? slow->sources
                                                          : slow->bits;
      choice->value = values[choice->index] = reading >> i & 1;
    }
    slow->painted = FALSE;
    settle (slow);
  }
}

/* ---- setting up ---- */

static void
find_supplies (Slow *slow)
{
  const PmCircuit *circuit = slow->circuit;
  for (guint32 j = 0; j < circuit->joints->len; j++)
    slow->joint_states[j] = slow->state->joints[j];
  paint (slow, slow->fixed, always_closed);
  for (guint32 s = 0; s < circuit->sections->len; s++) {
    const PmSection *section = PM_AT (circuit->sections, PmSection, s);
    slow->works[s] = slow->state->sections[s] &&
                     (section->supply == PM_NONE || has_live (slow, slow->fixed[section->supply], FALSE)) &&
                     (section->ground == PM_NONE || has_live (slow, slow->fixed[section->ground], TRUE));
  }
  for (guint32 i = 0; i < circuit->outputs->len; i++) {
    const PmOutput *output = output_at (slow, i);
    if (output->kind == PM_COLUMN_JOIN && !slow->works[output->section] &&
        slow->joint_states[output->joint] == PM_JOINT_CONTROLLED)
      slow->joint_states[output->joint] = PM_JOINT_OPEN;
  }
  paint (slow, slow->potential, not_open);
  for (guint32 i = 0; i < circuit->rails->len; i++) {
    double volts = PM_AT (circuit->rails, PmRail, i)->volts;
    if (slow->state->rails[i])
      slow->highest = MAX (slow->highest, volts);
  }
}

PmWorldsResult
pm_worlds_each_slowly (PmBound *bound, const PmAsk *asks, guint32 n_asks, PmWorldFunc func, gpointer data)
{
  const PmCircuit *circuit = bound->circuit;
  guint32 n = circuit->inputs->len;
  Slow slow = {.circuit = circuit,
               .state = bound->state,
               .n_inputs = n,
               .asks = asks,
               .n_asks = n_asks,
               .func = func,
               .data = data,
               .result = PM_WORLDS_DONE};
  slow.joint_states = g_new0 (guint8, circuit->joints->len + 1);
  slow.works = g_new0 (gboolean, circuit->sections->len + 1);
  slow.fixed = g_new0 (guint32, circuit->n_places + 1);
  slow.potential = g_new0 (guint32, circuit->n_places + 1);
  slow.net = g_new0 (guint32, circuit->n_places + 1);
  slow.reach = g_new0 (gboolean, (gsize)n * n + 1);
  slow.cone_inputs = g_new0 (gboolean, n + 1);
  slow.cone_joints = g_new0 (gboolean, circuit->joints->len + 1);
  slow.cone_sources = g_new0 (gboolean, circuit->sources->len + 1);
  slow.cone_bits = g_new0 (gboolean, circuit->n_bits + 1);
  slow.pins = g_new0 (guint8, n + 1);
  slow.joints = g_new0 (guint8, circuit->joints->len + 1);
  slow.sources = g_new0 (guint8, circuit->sources->len + 1);
  slow.bits = g_new0 (guint8, circuit->n_bits + 1);
  slow.done = g_new0 (guint8, n + 1);
  slow.answers = g_new0 (guint8, n_asks + 1);
  slow.choices = g_array_new (FALSE, FALSE, sizeof (PmChoice));

  find_supplies (&slow);
  find_cone (&slow);
  settle_choices (&slow);

  gpointer owned[] = {slow.joint_states, slow.works,       slow.fixed,        slow.potential, slow.net,  slow.reach,
                      slow.cone_inputs,  slow.cone_joints, slow.cone_sources, slow.cone_bits, slow.pins, slow.joints,
                      slow.sources,      slow.bits,        slow.done,         slow.answers};
  for (guint i = 0; i < G_N_ELEMENTS (owned); i++)
    g_free (owned[i]);
  g_array_unref (slow.choices);
  return slow.result;
}
