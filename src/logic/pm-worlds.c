/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The working evaluator: reads only what the question needs.
 *
 * Reading an input works out its net; a net reads what controls the joints at it and what the sections driving it need.
 * Where nothing decides, a choice is made: it goes on the trail, and everything settled afterwards is logged.  When the
 * question is answered, the last choice with another way left is changed, what was logged after it is unset, and the
 * question is asked again; what was settled before the choice is still there.  Outside loop groups the reading order
 * has no cycles, so no choice is ever wrong.
 *
 * A loop group is settled as a whole: first all that enters it, then every reading of its pins that holds is collected,
 * by the same going back, with guesses where a pin is read while it is being worked out. */
#include "pm-worlds.h"
#include "pm-bound-private.h"

typedef enum { LOG_PIN, LOG_JOINT, LOG_SOURCE, LOG_BIT, LOG_NET, LOG_GROUP, LOG_NEVER, LOG_UNJUDGED } LogKind;
#define LOG_SHIFT 29
#define LOG_INDEX 0x1fffffffu

enum { GROUP_SETTLED, GROUP_NEVER };
enum { READS_LOOSE = 2 };

static guint8 read_pin (PmBound *bound, guint32 input);

/* ---- the log ---- */

static inline void
note (PmBound *bound, LogKind kind, guint32 index)
{
  bound->log[bound->n_log++] = (guint32)kind << LOG_SHIFT | index;
}

static void
unset_to (PmBound *bound, guint32 mark)
{
  while (bound->n_log > mark) {
    guint32 entry = bound->log[--bound->n_log], index = entry & LOG_INDEX;
    switch ((LogKind)(entry >> LOG_SHIFT)) {
    case LOG_PIN:
      bound->pins[index] = PM_UNSET;
      break;
    case LOG_JOINT:
      bound->joints[index] = PM_UNSET;
      break;
    case LOG_SOURCE:
      bound->sources[index] = PM_UNSET;
      break;
    case LOG_BIT:
      bound->bits[index] = PM_UNSET;
      break;
    case LOG_NET:
      bound->nets_of[index] = PM_NONE;
      break;
    case LOG_GROUP:
      bound->group_states[index] = PM_UNSET;
      break;
    case LOG_NEVER:
      bound->never_settles = FALSE;
      break;
    case LOG_UNJUDGED:
      bound->unjudged = FALSE;
      break;
    }
  }
}

static void
set_pin (PmBound *bound, guint32 input, guint8 value)
{
  bound->pins[input] = value;
  note (bound, LOG_PIN, input);
}

static void
set_flag (PmBound *bound, LogKind kind, gboolean *flag)
{
  if (*flag)
    return;
  *flag = TRUE;
  note (bound, kind, 0);
}

static gboolean
step (PmBound *bound)
{
  if (++bound->steps > PM_LIMIT_STEPS)
    bound->given_up = TRUE;
  return !bound->given_up;
}

/* ---- choices ---- */

static void
apply_choice (PmBound *bound, guint32 at)
{
  const PmTrail *trail = &bound->trail[at];
  PmChoice *choice = &bound->choices[at];
  choice->value = trail->value;
  switch (choice->kind) {
  case PM_CHOICE_INPUT:
    set_pin (bound, choice->index, trail->value);
    break;
  case PM_CHOICE_JOINT:
    bound->joints[choice->index] = trail->value;
    note (bound, LOG_JOINT, choice->index);
    break;
  case PM_CHOICE_SOURCE:
    bound->sources[choice->index] = trail->value;
    note (bound, LOG_SOURCE, choice->index);
    break;
  case PM_CHOICE_BIT:
    bound->bits[choice->index] = trail->value;
    note (bound, LOG_BIT, choice->index);
    break;
  case PM_CHOICE_LOOP: {
    guint32 number = bound->pin_groups[choice->index].group;
    const PmGroup *group = &bound->groups[number];
    const guint32 *way = bound->ways.v + trail->first_way + (gsize)trail->value * ((group->n_pins + 31) / 32);
    for (guint32 i = 0; i < group->n_pins; i++)
      set_pin (bound, bound->pool.v[group->first_pin + i], way[i / 32] >> (i % 32) & 1);
    bound->group_states[number] = GROUP_SETTLED;
    note (bound, LOG_GROUP, number);
    break;
  }
  }
}

static void
choose (PmBound *bound, PmChoiceKind kind, guint32 index, guint32 n_ways, guint32 first_way, gboolean open_high)
{
  guint32 bits = 1;
  while (1u << bits < n_ways)
    bits++;
  if (bound->n_bits + bits > PM_WORLDS_MAX_CHOICES) {
    bound->given_up = TRUE;
    return;
  }
  guint32 at = bound->n_trail++;
  bound->n_bits += bits;
  bound->trail[at] = (PmTrail){.n_ways = n_ways, .mark = bound->n_log, .first_way = first_way, .bits = bits};
  bound->choices[at] = (PmChoice){.kind = kind, .index = index, .open_high = open_high};
  apply_choice (bound, at);
}

/* To the next world; FALSE if there is none. */
static gboolean
go_back (PmBound *bound)
{
  while (bound->n_trail > 0) {
    PmTrail *trail = &bound->trail[bound->n_trail - 1];
    unset_to (bound, trail->mark);
    if (++trail->value < trail->n_ways) {
      apply_choice (bound, bound->n_trail - 1);
      return TRUE;
    }
    bound->n_bits -= trail->bits;
    if (bound->choices[--bound->n_trail].kind == PM_CHOICE_LOOP)
      bound->ways.n = trail->first_way;
  }
  return FALSE;
}

/* In a loop group: a pin that may be either. */
static guint8
guess (PmBound *bound, guint32 input)
{
  bound->guesses[bound->n_guesses++] = (PmGuess){.pin = input, .mark = bound->n_log};
  set_pin (bound, input, 0);
  return 0;
}

/* ---- joints, sources, bits ---- */

static guint8
read_bit (PmBound *bound, guint32 bit)
{
  guint8 fixed = bound->state->bits[bit];
  if (fixed < 2)
    return fixed;
  if (bound->bits[bit] == PM_UNSET)
    choose (bound, PM_CHOICE_BIT, bit, 2, 0, FALSE);
  return bound->bits[bit] & 1;
}

static PmOut
output_now (PmBound *bound, guint32 output)
{
  const PmOutput *o = PM_AT (bound->circuit->outputs, PmOutput, output);
  const PmSection *section = PM_AT (bound->circuit->sections, PmSection, o->section);
  const guint32 *refs = PM_AT (bound->circuit->refs, guint32, section->first_ref);
  PmOut out;
  guint input;
  guint32 node = 0, low, high;
  while (!pm_table_node (section->table, o->column, node, &out, &input, &low, &high)) {
    guint32 ref = refs[input];
    guint8 value = PM_IS_BIT (ref) ? read_bit (bound, PM_BIT_OF (ref)) : read_pin (bound, ref);
    node = value ? high : low;
  }
  return out;
}

static gboolean
joint_closed (PmBound *bound, guint32 joint)
{
  if (bound->joints[joint] != PM_UNSET)
    return bound->joints[joint];
  if (bound->state->joints[joint] == PM_JOINT_UNKNOWN) {
    choose (bound, PM_CHOICE_JOINT, joint, 2, 0, FALSE);
    return bound->joints[joint] == 1;
  }
  gboolean closed = output_now (bound, PM_AT (bound->circuit->joints, PmJoint, joint)->output) == PM_OUT_JOINED;
  if (bound->joints[joint] == PM_UNSET) {
    bound->joints[joint] = closed;
    note (bound, LOG_JOINT, joint);
  }
  return closed;
}

static PmSourceValue
source_now (PmBound *bound, guint32 source)
{
  PmSourceValue value = bound->state->sources[source];
  if (value != PM_SOURCE_FREE)
    return value;
  if (bound->sources[source] == PM_UNSET)
    choose (bound, PM_CHOICE_SOURCE, source, 2, 0, FALSE);
  return bound->sources[source] == 1 ? PM_SOURCE_HIGH : PM_SOURCE_LOW;
}

/* ---- nets ---- */

static gboolean
contains (const PmStack *stack, guint32 start, guint32 end, guint32 value)
{
  for (guint32 i = start; i < end; i++) {
    if (stack->v[i] == value)
      return TRUE;
  }
  return FALSE;
}

/* Puts the components of a net on the work stack, given first. Returns where they start. */
static guint32
collect (PmBound *bound, guint32 comp)
{
  guint32 start = bound->work.n;
  pm_stack_push (&bound->work, comp);
  if (bound->n_dynamics == 0)
    return start;
  for (guint32 at = start; at < bound->work.n; at++) {
    guint32 here = bound->work.v[at];
    for (guint32 d = pm_bound_built (bound, here)->first_dynamic; d != PM_NONE;) {
      const PmDynamic *dynamic = &bound->dynamics[d];
      guint32 end = dynamic->comp[0] == here ? 0 : 1, there = dynamic->comp[1 - end];
      d = dynamic->next[end];
      /* Working out a joint may use the work stack above, and leaves it as it was. */
      if (!contains (&bound->work, start, bound->work.n, there) && joint_closed (bound, dynamic->joint))
        pm_stack_push (&bound->work, there);
    }
  }
  return start;
}

/* What holds a net: sums over its components. */
typedef struct {
  gboolean low, high, clamp, unjudged;
  double siemens, amps, highest;
} Sum;

static void
add_source (PmBound *bound, Sum *sum, guint32 source)
{
  switch (source_now (bound, source)) {
  case PM_SOURCE_LOW:
    sum->low = TRUE;
    break;
  case PM_SOURCE_HIGH:
    sum->high = TRUE;
    break;
  case PM_SOURCE_CLAMP:
    sum->clamp = TRUE;
    break;
  case PM_SOURCE_WEAK_LOW:
    sum->siemens += 1 / PM_WEAK_OHMS;
    break;
  case PM_SOURCE_WEAK_HIGH:
    sum->siemens += 1 / PM_WEAK_OHMS;
    sum->amps += PM_WEAK_VOLTS / PM_WEAK_OHMS;
    sum->highest = MAX (sum->highest, PM_WEAK_VOLTS);
    break;
  case PM_SOURCE_OFF:
  case PM_SOURCE_FREE:
    break;
  }
}

static void
add_drivers (PmBound *bound, Sum *sum, const PmComp *c)
{
  sum->high |= (c->flags & PM_COMP_HIGH) != 0;
  sum->low |= (c->flags & PM_COMP_LOW) != 0;
  sum->clamp |= (c->flags & (PM_COMP_DEAD | PM_COMP_CLAMP)) != 0;
  for (guint32 i = 0; i < c->n_sources; i++)
    add_source (bound, sum, bound->pool.v[c->first_source + i]);
  for (guint32 i = 0; i < c->n_outputs && !(sum->low && sum->high); i++) {
    PmOut out = output_now (bound, bound->pool.v[c->first_output + i]);
    sum->low |= out == PM_OUT_LOW;
    sum->high |= out == PM_OUT_HIGH;
  }
}

/* Resistors whose far end hangs on dynamic joints. The net stands on the work stack from start to end. */
static void
add_far (PmBound *bound, Sum *sum, const PmComp *c, guint32 start, guint32 end)
{
  for (guint32 i = 0; i < c->n_far; i++) {
    guint32 at = c->first_far + 3 * i, far = bound->pool.v[at], resistor = bound->pool.v[at + 1];
    if (contains (&bound->work, start, end, far))
      continue;
    if (!bound->pool.v[at + 2]) {
      sum->unjudged = TRUE;
      continue;
    }
    guint32 from = collect (bound, far);
    PmComp all = {.volts = -G_MAXDOUBLE};
    for (guint32 k = from; k < bound->work.n; k++) {
      const PmComp *one = pm_bound_built (bound, bound->work.v[k]);
      all.flags |= one->flags & PM_COMP_RAIL;
      all.volts = MAX (all.volts, one->volts);
    }
    bound->work.n = from;
    if (all.flags != 0) {
      double siemens = 1 / PM_AT (bound->circuit->resistors, PmResistor, resistor)->ohms;
      sum->siemens += siemens;
      sum->amps += siemens * pm_comp_volts (&all);
    } else {
      sum->unjudged = TRUE;
    }
  }
}

static void
divide (PmNet *net, const Sum *sum, double iil, double iih)
{
  if (sum->siemens <= 0) {
    net->level = PM_LEVEL_OFF;
    return;
  }
  double volts = sum->amps / sum->siemens, ohms = 1 / sum->siemens;
  net->low = CLAMP (volts + ohms * iil, 0, sum->highest);
  net->high = CLAMP (volts - ohms * iih, 0, sum->highest);
  net->level = net->low <= PM_SHOWN_LOW + PM_VOLTS_GIVE     ? PM_LEVEL_PULLED_LOW
               : net->high >= PM_SHOWN_HIGH - PM_VOLTS_GIVE ? PM_LEVEL_PULLED_HIGH
                                                            : PM_LEVEL_BETWEEN;
}

static void
weigh_net (PmBound *bound, PmNet *net, guint32 start, guint32 end)
{
  Sum sum = {.highest = bound->highest};
  for (guint32 k = start; k < end && !(sum.low && sum.high); k++)
    add_drivers (bound, &sum, pm_bound_built (bound, bound->work.v[k]));
  if (sum.low || sum.high) {
    net->level = sum.low && sum.high ? PM_LEVEL_CLASH : sum.low ? PM_LEVEL_LOW : PM_LEVEL_HIGH;
    return;
  }
  if (sum.clamp) {
    net->level = PM_LEVEL_CLAMPED;
    return;
  }
  double iil = 0, iih = 0;
  for (guint32 k = start; k < end; k++) {
    const PmComp *c = pm_bound_built (bound, bound->work.v[k]);
    sum.siemens += c->siemens;
    sum.amps += c->amps;
    sum.unjudged |= (c->flags & PM_COMP_UNJUDGED) != 0;
    iil += c->iil;
    iih += c->iih;
    add_far (bound, &sum, c, start, end);
  }
  divide (net, &sum, iil, iih);
  if (sum.unjudged)
    set_flag (bound, LOG_UNJUDGED, &bound->unjudged);
}

static const PmNet *
net_of (PmBound *bound, guint32 place)
{
  guint32 comp = pm_bound_comp (bound, place);
  if (bound->nets_of[comp] != PM_NONE)
    return &bound->nets[bound->nets_of[comp]];
  guint32 start = collect (bound, comp), end = bound->work.n;
  PmNet net = {0};
  weigh_net (bound, &net, start, end);
  /* In a loop, working it out may have come by here and settled the same. */
  if (bound->nets_of[comp] == PM_NONE) {
    bound->nets[comp] = net;
    for (guint32 k = start; k < end; k++) {
      bound->nets_of[bound->work.v[k]] = comp;
      note (bound, LOG_NET, bound->work.v[k]);
    }
  }
  bound->work.n = start;
  return &bound->nets[bound->nets_of[comp]];
}

/* What the net makes this receiver read: 0, 1 or READS_LOOSE. */
static guint8
forced (const PmNet *net, const PmReceiver *receiver)
{
  switch ((PmLevel)net->level) {
  case PM_LEVEL_LOW:
  case PM_LEVEL_CLAMPED:
    return 0;
  case PM_LEVEL_HIGH:
    return 1;
  case PM_LEVEL_OFF:
  case PM_LEVEL_CLASH:
    return READS_LOOSE;
  default:
    return net->low <= receiver->vil + PM_VOLTS_GIVE ? 0 : net->high >= receiver->vih - PM_VOLTS_GIVE ? 1 : READS_LOOSE;
  }
}

/* ---- loop groups ---- */

/* Settles all that enters the group, so that settling it meets no other choice. */
static void
enter_group (PmBound *bound, const PmGroup *group)
{
  for (guint32 i = 0; i < group->n_enters && !bound->given_up; i++) {
    guint32 enter = bound->pool.v[group->first_enter + i], index = PM_ENTER_INDEX (enter);
    switch (PM_ENTER_KIND (enter)) {
    case PM_CHOICE_INPUT:
      read_pin (bound, index);
      break;
    case PM_CHOICE_JOINT:
      joint_closed (bound, index);
      break;
    case PM_CHOICE_SOURCE:
      source_now (bound, index);
      break;
    case PM_CHOICE_BIT:
      read_bit (bound, index);
      break;
    case PM_CHOICE_LOOP:
      break;
    }
  }
}

/* TRUE if every pin reads what its net, under the guesses made, says. */
static gboolean
group_holds (PmBound *bound, const PmGroup *group)
{
  for (guint32 i = 0; i < group->n_pins; i++) {
    guint32 input = bound->pool.v[group->first_pin + i];
    const PmInput *in = PM_AT (bound->circuit->inputs, PmInput, input);
    guint8 value = read_pin (bound, input), must = forced (net_of (bound, in->place), &in->receiver);
    if (must != READS_LOOSE && must != value)
      return FALSE;
  }
  return TRUE;
}

/* Collects all readings of the group that hold into the ways stack. Returns how many. */
static guint32
find_ways (PmBound *bound, guint32 number)
{
  const PmGroup *group = &bound->groups[number];
  guint32 mark = bound->n_log, n_ways = 0;
  bound->in_group = number;
  bound->n_guesses = 0;
  for (;;) {
    if (group_holds (bound, group)) {
      n_ways++;
      for (guint32 i = 0; i < group->n_pins; i++) {
        guint32 bit = (guint32)bound->pins[bound->pool.v[group->first_pin + i]] << (i % 32);
        if (i % 32 == 0)
          pm_stack_push (&bound->ways, bit);
        else
          bound->ways.v[bound->ways.n - 1] |= bit;
      }
    }
    while (bound->n_guesses > 0 && bound->guesses[bound->n_guesses - 1].value == 1)
      bound->n_guesses--;
    if (bound->n_guesses == 0 || n_ways > PM_LIMIT_WORLDS || !step (bound))
      break;
    PmGuess *last = &bound->guesses[bound->n_guesses - 1];
    unset_to (bound, last->mark);
    last->value = 1;
    set_pin (bound, last->pin, 1);
  }
  unset_to (bound, mark);
  bound->in_group = PM_NONE;
  if (n_ways > PM_LIMIT_WORLDS)
    bound->given_up = TRUE;
  return n_ways;
}

static void
settle_group (PmBound *bound, guint32 number)
{
  const PmGroup *group = &bound->groups[number];
  guint32 lowest = PM_NONE;
  enter_group (bound, group);
  if (bound->given_up)
    return;
  guint32 first_way = bound->ways.n, n_ways = find_ways (bound, number);
  if (bound->given_up)
    return;
  if (n_ways == 0) {
    bound->group_states[number] = GROUP_NEVER;
    note (bound, LOG_GROUP, number);
    set_flag (bound, LOG_NEVER, &bound->never_settles);
    return;
  }
  for (guint32 i = 0; i < group->n_pins; i++)
    lowest = MIN (lowest, bound->pool.v[group->first_pin + i]);
  if (n_ways > 1) {
    choose (bound, PM_CHOICE_LOOP, lowest, n_ways, first_way, FALSE);
    return;
  }
  for (guint32 i = 0; i < group->n_pins; i++)
    set_pin (bound, bound->pool.v[group->first_pin + i], bound->ways.v[first_way + i / 32] >> (i % 32) & 1);
  bound->group_states[number] = GROUP_SETTLED;
  note (bound, LOG_GROUP, number);
  bound->ways.n = first_way;
}

/* ---- reading ---- */

static guint8
read_in_loop (PmBound *bound, guint32 input)
{
  const PmInput *in = PM_AT (bound->circuit->inputs, PmInput, input);
  if (bound->busy[input])
    return guess (bound, input);
  bound->busy[input] = TRUE;
  guint8 value = forced (net_of (bound, in->place), &in->receiver);
  bound->busy[input] = FALSE;
  if (bound->pins[input] != PM_UNSET)
    return bound->pins[input];
  if (value == READS_LOOSE)
    return guess (bound, input);
  set_pin (bound, input, value);
  return value;
}

static guint8
read_pin (PmBound *bound, guint32 input)
{
  if (bound->pins[input] != PM_UNSET)
    return bound->pins[input];
  if (bound->given_up)
    return 0;
  guint32 group = pm_bound_group (bound, input);
  if (group != PM_NONE && group == bound->in_group)
    return read_in_loop (bound, input);
  if (group != PM_NONE && bound->group_states[group] == PM_UNSET)
    settle_group (bound, group);
  if (bound->pins[input] != PM_UNSET || bound->given_up)
    return bound->pins[input] & 1;
  if (group != PM_NONE) {
    choose (bound, PM_CHOICE_INPUT, input, 2, 0, FALSE);
    return bound->pins[input] & 1;
  }
  const PmInput *in = PM_AT (bound->circuit->inputs, PmInput, input);
  const PmNet *net = net_of (bound, in->place);
  guint8 value = forced (net, &in->receiver);
  if (value == READS_LOOSE)
    choose (bound, PM_CHOICE_INPUT, input, 2, 0, in->receiver.open_high && net->level != PM_LEVEL_CLASH);
  else
    set_pin (bound, input, value);
  return bound->pins[input] & 1;
}

static guint8
answer (PmBound *bound, const PmAsk *ask)
{
  switch (ask->kind) {
  case PM_ASK_READ:
    return read_pin (bound, ask->index);
  case PM_ASK_LEVEL:
    return net_of (bound, ask->index)->level;
  case PM_ASK_JOINT: {
    PmJointState state = pm_bound_joint_state (bound, ask->index);
    return state == PM_JOINT_CLOSED || (state != PM_JOINT_OPEN && joint_closed (bound, ask->index));
  }
  }
  g_assert_not_reached ();
}

PmWorldsResult
pm_worlds_each (PmBound *bound, const PmAsk *asks, guint32 n_asks, PmWorldFunc func, gpointer data)
{
  if (bound->n_answers < n_asks) {
    bound->n_answers = MAX (64, n_asks);
    bound->answers = g_realloc (bound->answers, bound->n_answers);
  }
  unset_to (bound, 0);
  bound->n_trail = bound->n_bits = bound->steps = 0;
  bound->ways.n = bound->work.n = 0;
  bound->given_up = FALSE;
  PmWorldsResult result = PM_WORLDS_DONE;
  do {
    for (guint32 i = 0; i < n_asks && !bound->given_up; i++)
      bound->answers[i] = answer (bound, &asks[i]);
    if (bound->given_up) {
      result = PM_WORLDS_NOT_DECIDED;
      break;
    }
    PmWorld world = {bound->answers, bound->choices, bound->n_trail, bound->never_settles, bound->unjudged};
    if (!func (&world, data)) {
      result = PM_WORLDS_STOPPED;
      break;
    }
    if (!step (bound)) {
      result = bound->n_trail > 0 ? PM_WORLDS_NOT_DECIDED : PM_WORLDS_DONE;
      break;
    }
  } while (go_back (bound));
  unset_to (bound, 0);
  return result;
}
