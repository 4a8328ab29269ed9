/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps: stored bits follow their tables from one world to the next.
 *
 * The old world is one of the old case with the bits as they are; the new world one of the new case with the same bits.
 * A choice that both worlds made has the same value in both: an open pin, an unknown joint, what a drive gives do not
 * move by themselves.  A gate loop keeps its readings where one of its ways allows it.  Then every bit is looked up
 * with the old world as "before".  Where bits moved, the new world becomes the old one, and it is done again with the
 * moved bits. */
#include "pm-steps.h"
#include "pm-bound-private.h"

#define MOST_ROUNDS 64
/* From this round on, what it passes through is what it may be in: it may never settle. */
#define LATE_ROUND 48
#define MOST_WORLDS 4096
#define MOST_BRANCHES 500

/* Worlds of one question: the readings of all inputs (PM_UNSET where not read) and the choices of each. */
typedef struct {
  guint32 n_inputs, bits;
  GByteArray *pins;
  GArray *choices; /* PmChoice, of all worlds */
  GArray *first;   /* guint32: where the choices of each start; one more at the end */
  PmBound *bound;  /* borrowed */
  gboolean never_settles;
} Worlds;

typedef struct {
  const guint8 *pins;
  const PmChoice *choices;
  guint32 n_choices, bits;
} World;

typedef struct {
  PmBound *bound;
  PmCase state; /* the new case with bits of our own */
  guint8 bits[PM_STEPS_MAX_BITS];
  PmAsk *asks; /* what the sections that set bits read, and loops before them */
  guint32 n_asks, n_bits;
  GArray *out;
  GArray *races; /* PmRace, or NULL */
  gboolean *restless;
  gboolean resting; /* no edges */
  guint32 n_branches;
} Steps;

/* ---- worlds ---- */

static Worlds *
worlds_new (PmBound *bound)
{
  Worlds *worlds = g_new0 (Worlds, 1);
  worlds->n_inputs = bound->circuit->inputs->len;
  worlds->pins = g_byte_array_new ();
  worlds->choices = g_array_new (FALSE, FALSE, sizeof (PmChoice));
  worlds->first = g_array_new (FALSE, TRUE, sizeof (guint32));
  g_array_set_size (worlds->first, 1);
  worlds->bound = bound;
  return worlds;
}

static void
worlds_free (Worlds *worlds)
{
  g_byte_array_unref (worlds->pins);
  g_array_unref (worlds->choices);
  g_array_unref (worlds->first);
  g_free (worlds);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Worlds, worlds_free)

static guint32
worlds_len (const Worlds *worlds)
{
  return worlds->first->len - 1;
}

static World
worlds_at (const Worlds *worlds, guint32 i)
{
  guint32 first = *PM_AT (worlds->first, guint32, i), end = *PM_AT (worlds->first, guint32, i + 1);
  return (World){worlds->pins->data + (gsize)i * worlds->n_inputs, (const PmChoice *)worlds->choices->data + first,
                 end - first, worlds->bits};
}

static gboolean
keep_world (const PmWorld *world, gpointer data)
{
  Worlds *worlds = data;
  if (worlds_len (worlds) == MOST_WORLDS)
    return FALSE;
  g_byte_array_append (worlds->pins, worlds->bound->pins, worlds->n_inputs);
  if (world->n_choices > 0)
    g_array_append_vals (worlds->choices, world->choices, world->n_choices);
  g_array_append_val (worlds->first, worlds->choices->len);
  worlds->never_settles |= world->never_settles;
  return TRUE;
}

/* All worlds of what is bound, with these bits. FALSE if not decided. */
static gboolean
find_worlds (Steps *steps, guint32 bits, Worlds *worlds)
{
  worlds->bits = bits;
  for (guint32 i = 0; i < steps->n_bits; i++)
    steps->bits[i] = bits >> i & 1;
  if (pm_worlds_each (steps->bound, steps->asks, steps->n_asks, keep_world, worlds) != PM_WORLDS_DONE)
    return FALSE;
  if (worlds->never_settles)
    *steps->restless = TRUE;
  return TRUE;
}

/* ---- which new world can follow an old one ---- */

static gboolean
same_choices (const World *old, const World *new)
{
  for (guint32 i = 0; i < new->n_choices; i++) {
    for (guint32 k = 0; k < old->n_choices && new->choices[i].kind != PM_CHOICE_LOOP; k++) {
      const PmChoice *a = &new->choices[i], *b = &old->choices[k];
      if (a->kind == b->kind && a->index == b->index && a->value != b->value)
        return FALSE;
    }
  }
  return TRUE;
}

/* TRUE if the loop whose lowest input is given reads in the new world what it read in the old one. */
static gboolean
loop_keeps (const PmBound *bound, const World *old, const World *new, guint32 lowest)
{
  const PmGroup *group = &bound->groups[bound->pin_groups[lowest].group];
  for (guint32 i = 0; i < group->n_pins; i++) {
    guint32 input = bound->pool.v[group->first_pin + i];
    if (old->pins[input] != PM_UNSET && old->pins[input] != new->pins[input])
      return FALSE;
  }
  return TRUE;
}

/* TRUE if some new world made the same choices before its choice number `at`, and its loop there keeps its readings. */
static gboolean
another_keeps (const PmBound *bound, const World *old, const Worlds *worlds, const World *new, guint32 at)
{
  for (guint32 i = 0; i < worlds_len (worlds); i++) {
    World other = worlds_at (worlds, i);
    gboolean same = other.n_choices > at;
    for (guint32 k = 0; k <= at && same; k++)
      same = other.choices[k].kind == new->choices[k].kind &&other.choices[k].index == new->choices[k].index &&
             (k == at || other.choices[k].value == new->choices[k].value);
    if (same && loop_keeps (bound, old, &other, new->choices[at].index))
      return TRUE;
  }
  return FALSE;
}

static gboolean
can_follow (const PmBound *bound, const World *old, const Worlds *worlds, const World *new)
{
  if (!same_choices (old, new))
    return FALSE;
  for (guint32 i = 0; i < new->n_choices; i++) {
    if (new->choices[i].kind == PM_CHOICE_LOOP && !loop_keeps (bound, old, new, new->choices[i].index) &&
        another_keeps (bound, old, worlds, new, i))
      return FALSE;
  }
  return TRUE;
}

/* ---- what a bit becomes ---- */

enum { MAY_LOW = 1, MAY_HIGH = 2, MAY_BOTH = 3, IS_UNSTABLE = 4 };

static guint32
section_reading (const PmBound *bound, const PmSection *section, const World *world)
{
  guint32 reading = 0;
  for (guint32 k = 0; k < section->n_refs; k++) {
    guint32 ref = *PM_AT (bound->circuit->refs, guint32, section->first_ref + k);
    guint32 value = PM_IS_BIT (ref) ? world->bits >> PM_BIT_OF (ref) : world->pins[ref];
    reading |= (value & 1) << k;
  }
  return reading;
}

/* What a leaf makes of a bit. unstable: it was in an unstable row before. */
static guint8
follow (PmOut out, gboolean high, gboolean unstable)
{
  switch (out) {
  case PM_OUT_LOW:
    return MAY_LOW;
  case PM_OUT_HIGH:
    return MAY_HIGH;
  case PM_OUT_TOGGLE:
    return unstable ? MAY_BOTH : high ? MAY_LOW : MAY_HIGH;
  case PM_OUT_UNSTABLE:
    return IS_UNSTABLE | (high ? MAY_HIGH : MAY_LOW);
  default:
    return unstable ? MAY_BOTH : high ? MAY_HIGH : MAY_LOW;
  }
}

/* Which data and which edge it was: the first input that moved and that the result hangs on, or just moved where no
 * single one decides, and the first edge input that moved. */
static void
add_race (const Steps *steps, const PmSection *section, guint32 column, guint32 now, guint32 before, guint32 edges)
{
  guint32 taken = (before & edges) | (now & ~edges), moved = before ^ now, any = PM_NONE;
  PmRace race = {PM_NONE, PM_NONE};
  PmOut late = pm_table_eval (section->table, column, now, taken);
  for (guint32 k = 0; k < section->n_refs && steps->races != NULL; k++) {
    guint32 ref = *PM_AT (steps->bound->circuit->refs, guint32, section->first_ref + k);
    if (PM_IS_BIT (ref) || (moved >> k & 1) == 0)
      continue;
    if (edges >> k & 1)
      race.edge = race.edge == PM_NONE ? ref : race.edge;
    else if (race.data == PM_NONE && pm_table_eval (section->table, column, now, taken ^ 1u << k) != late)
      race.data = ref;
    else if (any == PM_NONE)
      any = ref;
  }
  race.data = race.data == PM_NONE ? any : race.data;
  if (race.data == PM_NONE || race.edge == PM_NONE)
    return;
  for (guint32 i = 0; i < steps->races->len; i++)
    if (PM_AT (steps->races, PmRace, i)->data == race.data && PM_AT (steps->races, PmRace, i)->edge == race.edge)
      return;
  g_array_append_val (steps->races, race);
}

/* What one column makes of its bit. first: this round is the change of the host itself, so that data may move with
 * their edge. */
static guint8
column_follows (const Steps *steps, const PmOutput *output, const World *old, const World *new, PmState from,
                gboolean first, gboolean *holds)
{
  const PmSection *section = PM_AT (steps->bound->circuit->sections, PmSection, output->section);
  guint32 now = section_reading (steps->bound, section, new);
  guint32 before = steps->resting ? now : section_reading (steps->bound, section, old);
  gboolean high = from.bits >> output->place & 1, unstable = from.unstable >> output->place & 1;
  PmOut out = pm_table_eval (section->table, output->column, now, before);
  guint8 may = follow (out, high, unstable);
  *holds = out == PM_OUT_HOLD;
  if (first && !steps->resting && pm_table_has_edge (section->table)) {
    guint32 edges = pm_table_edge_inputs (section->table);
    PmOut late = pm_table_eval (section->table, output->column, now, (before & edges) | (now & ~edges));
    if (late != out) {
      may |= follow (late, high, unstable);
      *holds = FALSE;
      add_race (steps, section, output->column, now, before, edges);
    }
  }
  return may;
}

/* What all columns that set a bit make of it: one that holds has no say beside one that does not. */
static guint8
bit_follows (const Steps *steps, guint32 bit, const World *old, const World *new, PmState from, gboolean first)
{
  const PmCircuit *circuit = steps->bound->circuit;
  guint8 moved = 0, held = 0;
  for (guint32 i = 0; i < circuit->outputs->len; i++) {
    const PmOutput *output = PM_AT (circuit->outputs, PmOutput, i);
    gboolean holds;
    if (output->kind != PM_COLUMN_BIT || output->place != bit || !pm_bound_works (steps->bound, output->section))
      continue;
    guint8 may = column_follows (steps, output, old, new, from, first, &holds);
    if (holds)
      held = may;
    else
      moved |= may;
  }
  if (moved != 0)
    return moved;
  return held != 0 ? held : from.bits >> bit & 1 ? MAY_HIGH : MAY_LOW;
}

/* ---- rounds ---- */

static void
add_state (GArray *states, PmState state)
{
  for (guint32 i = 0; i < states->len; i++) {
    const PmState *other = PM_AT (states, PmState, i);
    if (other->bits == state.bits && other->unstable == state.unstable)
      return;
  }
  g_array_append_val (states, state);
}

/* All states that the bits can be in after one look-up. */
static void
next_states (const Steps *steps, const World *old, const World *new, PmState from, gboolean first, GArray *states)
{
  PmState next = {0, 0};
  guint32 open = 0;
  for (guint32 bit = 0; bit < steps->n_bits; bit++) {
    guint8 may = bit_follows (steps, bit, old, new, from, first);
    next.unstable |= (may & IS_UNSTABLE) != 0 ? 1u << bit : 0;
    if ((may & MAY_BOTH) == MAY_BOTH)
      open |= 1u << bit;
    else if ((may & MAY_HIGH) != 0)
      next.bits |= 1u << bit;
  }
  /* every subset of the open bits */
  guint32 subset = open;
  for (;;) {
    add_state (states, (PmState){next.bits | subset, next.unstable});
    if (subset == 0)
      break;
    subset = (subset - 1) & open;
  }
}

/* Follows one state until nothing moves. old: the world before; NULL when resting, then any will do. */
static gboolean
follow_rounds (Steps *steps, const World *old, PmState from, guint32 round)
{
  g_autoptr (Worlds) worlds = worlds_new (steps->bound);
  g_autoptr (GArray) states = g_array_new (FALSE, FALSE, sizeof (PmState));
  if (++steps->n_branches > MOST_BRANCHES || !find_worlds (steps, from.bits, worlds))
    return FALSE;
  if (round >= LATE_ROUND)
    add_state (steps->out, from);
  if (round >= MOST_ROUNDS) {
    *steps->restless = TRUE;
    return TRUE;
  }
  for (guint32 i = 0; i < worlds_len (worlds); i++) {
    World new = worlds_at (worlds, i);
    if (old != NULL && !can_follow (steps->bound, old, worlds, &new))
      continue;
    g_array_set_size (states, 0);
    next_states (steps, old != NULL ? old : &new, &new, from, round == 0, states);
    for (guint32 k = 0; k < states->len; k++) {
      PmState next = *PM_AT (states, PmState, k);
      if (next.bits == from.bits && next.unstable == from.unstable)
        add_state (steps->out, next);
      else if (!follow_rounds (steps, &new, next, round + 1))
        return FALSE;
    }
  }
  return TRUE;
}

/* ---- setting up ---- */

static void
add_ask (Steps *steps, guint8 *asked, guint32 input)
{
  if (!asked[input])
    steps->asks[steps->n_asks++] = (PmAsk){PM_ASK_READ, input};
  asked[input] = TRUE;
}

/* What the sections that set bits read, and all loops that this may hang on: which way a loop rests in the old world
 * must be known even where the old world did not need it. The new case is bound. */
static void
add_asks (Steps *steps)
{
  PmBound *bound = steps->bound;
  const PmCircuit *circuit = bound->circuit;
  g_autofree guint8 *asked = g_new0 (guint8, circuit->inputs->len + 1);
  steps->asks = g_new (PmAsk, circuit->inputs->len + 1);
  for (guint32 i = 0; i < circuit->outputs->len; i++) {
    const PmOutput *output = PM_AT (circuit->outputs, PmOutput, i);
    const PmSection *section = PM_AT (circuit->sections, PmSection, output->section);
    /* One without power or left out holds its bits whatever it would read. */
    if (output->kind != PM_COLUMN_BIT || !pm_bound_works (bound, output->section))
      continue;
    for (guint32 k = 0; k < section->n_refs; k++) {
      guint32 ref = *PM_AT (circuit->refs, guint32, section->first_ref + k);
      if (!PM_IS_BIT (ref))
        add_ask (steps, asked, ref);
    }
  }
  for (guint32 i = 0; i < steps->n_asks; i++)
    pm_bound_group (bound, steps->asks[i].index);
  for (guint32 g = 0; g < bound->n_groups; g++) {
    for (guint32 i = 0; i < bound->groups[g].n_pins; i++)
      add_ask (steps, asked, bound->pool.v[bound->groups[g].first_pin + i]);
  }
}

/* Binds a case, with bits of our own. */
static void
bind (Steps *steps, const PmCase *state, gboolean same_joints)
{
  steps->state = *state;
  steps->state.bits = steps->bits;
  if (same_joints)
    pm_bound_set_sources (steps->bound, &steps->state);
  else
    pm_bound_set (steps->bound, &steps->state);
}

static gboolean
start (Steps *steps, PmBound *bound, const PmCase *state, GArray *out, GArray *races, gboolean *restless)
{
  *steps = (Steps){.bound = bound, .n_bits = bound->circuit->n_bits, .out = out, .races = races, .restless = restless};
  if (steps->n_bits > PM_STEPS_MAX_BITS)
    return FALSE;
  bind (steps, state, FALSE);
  add_asks (steps);
  return TRUE;
}

/* Leaves the bound with the case of the caller: the copy of it goes. */
static gboolean
finish (Steps *steps, const PmCase *state, gboolean decided)
{
  pm_bound_set_sources (steps->bound, state);
  g_free (steps->asks);
  return decided;
}

static gboolean
have_same_joints (const PmCase *a, const PmCase *b)
{
  return memcmp (a->joints, b->joints, a->n_joints) == 0 && memcmp (a->rails, b->rails, a->n_rails) == 0 &&
         memcmp (a->sections, b->sections, a->n_sections) == 0;
}

gboolean
pm_step (PmBound *bound, const PmCase *old_case, PmState from, const PmCase *new_case, GArray *out, GArray *races,
         gboolean *restless)
{
  Steps steps;
  if (!start (&steps, bound, new_case, out, races, restless))
    return FALSE;
  g_autoptr (Worlds) before = worlds_new (bound);
  gboolean same_joints = have_same_joints (old_case, new_case);
  bind (&steps, old_case, same_joints);
  gboolean decided = find_worlds (&steps, from.bits, before);
  bind (&steps, new_case, same_joints);
  for (guint32 i = 0; i < worlds_len (before) && decided; i++) {
    World old = worlds_at (before, i);
    decided = follow_rounds (&steps, &old, from, 0);
  }
  return finish (&steps, new_case, decided);
}

gboolean
pm_rest (PmBound *bound, const PmCase *state, PmState from, GArray *out, gboolean *restless)
{
  Steps steps;
  if (!start (&steps, bound, state, out, NULL, restless))
    return FALSE;
  steps.resting = TRUE;
  return finish (&steps, state, follow_rounds (&steps, NULL, from, 0));
}
