/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Binding a case to a circuit: components by union-find, supplies, what each component holds, and the loop groups.
 *
 * pm_bound_set does only what every question needs; the rest is worked out for the places that a question touches and
 * kept until the next binding.  The search for loops is Tarjan's, over potential nets: a net depends on those that the
 * sections driving it read.  An input belongs to a group if its net does and a net of the same group depends on this
 * input. */
#include "pm-bound-private.h"

/* Which end of a dynamic joint stands at a component. */
#define END_AT(dynamic, component) ((dynamic)->comp[0] == (component) ? 0 : 1)

PmBound *
pm_bound_new (const PmCircuit *circuit)
{
  g_assert (circuit->sealed);
  PmBound *bound = g_new0 (PmBound, 1);
  guint32 n = circuit->n_places + 1, n_inputs = circuit->inputs->len + 1, n_joints = circuit->joints->len + 1;
  guint32 n_sources = circuit->sources->len + 1, n_bits = circuit->n_bits + 1;
  bound->circuit = circuit;
  bound->made_of = g_malloc (circuit->joints->len + circuit->rails->len + circuit->sections->len + 1);
  bound->parent = g_new0 (guint32, n);
  bound->ring = g_new0 (guint32, n);
  bound->potential = g_new0 (guint32, n);
  bound->comps = g_new0 (PmComp, n);
  bound->potentials = g_new0 (PmPotential, n);
  bound->dynamics = g_new0 (PmDynamic, n_joints);
  bound->groups = g_new0 (PmGroup, n_inputs);
  bound->pin_groups = g_new0 (PmPinGroup, n_inputs);
  bound->comp_mark = g_new0 (guint32, n);
  bound->input_mark = g_new0 (guint32, n_inputs);
  bound->pins = g_malloc (n_inputs);
  bound->joints = g_malloc (n_joints);
  bound->sources = g_malloc (n_sources);
  bound->bits = g_malloc (n_bits);
  bound->group_states = g_malloc (n_inputs);
  memset (bound->pins, PM_UNSET, n_inputs);
  memset (bound->joints, PM_UNSET, n_joints);
  memset (bound->sources, PM_UNSET, n_sources);
  memset (bound->bits, PM_UNSET, n_bits);
  memset (bound->group_states, PM_UNSET, n_inputs);
  bound->nets_of = g_new (guint32, n);
  memset (bound->nets_of, 0xff, n * sizeof (guint32));
  bound->nets = g_new0 (PmNet, n);
  bound->busy = g_new0 (guint8, n_inputs);
  bound->log = g_new0 (guint32, n + 2 * n_inputs + n_joints + n_sources + n_bits + 2);
  bound->guesses = g_new0 (PmGuess, n_inputs);
  bound->in_group = PM_NONE;
  return bound;
}

void
pm_bound_free (PmBound *bound)
{
  if (bound == NULL)
    return;
  gpointer owned[] = {bound->made_of,      bound->parent,   bound->ring,   bound->potential,  bound->comps,
                      bound->potentials,   bound->dynamics, bound->groups, bound->pin_groups, bound->comp_mark,
                      bound->input_mark,   bound->pins,     bound->joints, bound->sources,    bound->bits,
                      bound->group_states, bound->nets_of,  bound->nets,   bound->busy,       bound->log,
                      bound->guesses,      bound->pool.v,   bound->walk.v, bound->waiting.v,  bound->todo.v,
                      bound->work.v,       bound->ways.v,   bound->answers};
  for (guint i = 0; i < G_N_ELEMENTS (owned); i++)
    g_free (owned[i]);
  g_free (bound);
}

static PmComp *
touch (PmBound *bound, guint32 comp)
{
  PmComp *c = &bound->comps[comp];
  if (c->stamp != bound->stamp) {
    memset (c, 0, sizeof *c);
    c->stamp = bound->stamp;
    c->first_dynamic = PM_NONE;
    c->volts = -G_MAXDOUBLE;
  }
  return c;
}

static void
unite (PmBound *bound, guint32 a, guint32 b)
{
  a = pm_find (bound->parent, a);
  b = pm_find (bound->parent, b);
  if (a == b)
    return;
  if (a < b)
    bound->parent[b] = a;
  else
    bound->parent[a] = b;
  guint32 next = bound->ring[a];
  bound->ring[a] = bound->ring[b];
  bound->ring[b] = next;
}

static void
set_rails (PmBound *bound)
{
  const PmCircuit *circuit = bound->circuit;
  bound->highest = 0;
  for (guint32 i = 0; i < circuit->rails->len; i++) {
    const PmRail *rail = PM_AT (circuit->rails, PmRail, i);
    PmComp *comp = touch (bound, pm_bound_comp (bound, rail->place));
    if (rail->volts != 0 && !bound->state->rails[i]) {
      comp->flags |= PM_COMP_DEAD;
      continue;
    }
    comp->flags |= rail->volts > 0 ? PM_COMP_HIGH : PM_COMP_LOW;
    comp->volts = MAX (comp->volts, rail->volts);
    bound->highest = MAX (bound->highest, rail->volts);
  }
}

static void
add_dynamic (PmBound *bound, guint32 joint)
{
  const PmEnds *ends = PM_AT (bound->circuit->ends, PmEnds, joint);
  guint32 a = pm_bound_comp (bound, ends->a), b = pm_bound_comp (bound, ends->b);
  if (a == b)
    return;
  PmComp *ca = touch (bound, a), *cb = touch (bound, b);
  bound->dynamics[bound->n_dynamics] = (PmDynamic){joint, {a, b}, {ca->first_dynamic, cb->first_dynamic}};
  ca->first_dynamic = cb->first_dynamic = bound->n_dynamics++;
  a = pm_find (bound->potential, a);
  b = pm_find (bound->potential, b);
  bound->potential[MAX (a, b)] = MIN (a, b);
}

/* Keeps what a binding is made of. FALSE if it is bound like that already: then all that was worked out still holds. */
static gboolean
is_another (PmBound *bound, const PmCase *state)
{
  guint8 *joints = bound->made_of, *rails = joints + state->n_joints, *sections = rails + state->n_rails;
  if (bound->state != NULL && memcmp (joints, state->joints, state->n_joints) == 0 &&
      memcmp (rails, state->rails, state->n_rails) == 0 && memcmp (sections, state->sections, state->n_sections) == 0)
    return FALSE;
  memcpy (joints, state->joints, state->n_joints);
  memcpy (rails, state->rails, state->n_rails);
  memcpy (sections, state->sections, state->n_sections);
  return TRUE;
}

void
pm_bound_set (PmBound *bound, const PmCase *state)
{
  const PmCircuit *circuit = bound->circuit;
  gsize size = circuit->n_places * sizeof (guint32);
  gboolean another = is_another (bound, state);
  bound->state = state;
  if (!another)
    return;
  bound->stamp++;
  bound->pool.n = bound->todo.n = 0;
  bound->n_dynamics = bound->n_groups = bound->visit = 0;
  memcpy (bound->parent, circuit->identity, size);
  memcpy (bound->ring, circuit->identity, size);

  const PmEnds *ends = (const PmEnds *)circuit->ends->data;
  for (guint32 i = 0; i < circuit->joints->len; i++) {
    if (state->joints[i] == PM_JOINT_CLOSED)
      unite (bound, ends[i].a, ends[i].b);
    else if (state->joints[i] != PM_JOINT_OPEN)
      pm_stack_push (&bound->todo, i);
  }
  set_rails (bound);
  if (bound->todo.n > 0)
    memcpy (bound->potential, circuit->identity, size);
  for (guint32 i = 0; i < bound->todo.n; i++) {
    if (pm_bound_joint_state (bound, bound->todo.v[i]) != PM_JOINT_OPEN)
      add_dynamic (bound, bound->todo.v[i]);
  }
}

void
pm_bound_set_sources (PmBound *bound, const PmCase *state)
{
  bound->state = state;
}

PmJointState
pm_bound_joint_state (const PmBound *bound, guint32 joint)
{
  PmJointState state = bound->state->joints[joint];
  if (state != PM_JOINT_CONTROLLED)
    return state;
  guint32 output = PM_AT (bound->circuit->joints, PmJoint, joint)->output;
  g_assert (output != PM_NONE);
  return pm_bound_works (bound, PM_AT (bound->circuit->outputs, PmOutput, output)->section) ? state : PM_JOINT_OPEN;
}

static guint32
rail_flags (const PmBound *bound, guint32 place)
{
  const PmComp *comp = &bound->comps[pm_find (bound->parent, place)];
  return comp->stamp == bound->stamp ? comp->flags & PM_COMP_RAIL : 0;
}

gboolean
pm_bound_powered (const PmBound *bound, guint32 section)
{
  const PmSection *s = PM_AT (bound->circuit->sections, PmSection, section);
  return (s->supply == PM_NONE || (rail_flags (bound, s->supply) & PM_COMP_HIGH) != 0) &&
         (s->ground == PM_NONE || (rail_flags (bound, s->ground) & PM_COMP_LOW) != 0);
}

gboolean
pm_bound_works (const PmBound *bound, guint32 section)
{
  return bound->state->sections[section] && pm_bound_powered (bound, section);
}

/* Puts on the walk stack all components that dynamic joints may join to this one, itself first. Returns where they
 * start. */
static guint32
walk_potential (PmBound *bound, guint32 comp)
{
  guint32 start = bound->walk.n;
  guint32 mark = ++bound->mark;
  pm_stack_push (&bound->walk, comp);
  bound->comp_mark[comp] = mark;
  for (guint32 at = start; at < bound->walk.n; at++) {
    guint32 here = bound->walk.v[at];
    for (guint32 d = touch (bound, here)->first_dynamic; d != PM_NONE;) {
      const PmDynamic *dynamic = &bound->dynamics[d];
      guint32 end = END_AT (dynamic, here), there = dynamic->comp[1 - end];
      if (bound->comp_mark[there] != mark) {
        bound->comp_mark[there] = mark;
        pm_stack_push (&bound->walk, there);
      }
      d = dynamic->next[end];
    }
  }
  return start;
}

static gboolean
may_hold_rail (PmBound *bound, guint32 comp)
{
  gboolean any = FALSE;
  guint32 start = walk_potential (bound, comp);
  for (guint32 k = start; k < bound->walk.n && !any; k++)
    any = (touch (bound, bound->walk.v[k])->flags & PM_COMP_RAIL) != 0;
  bound->walk.n = start;
  return any;
}

/* ---- what a component holds ---- */

/* An input of which no section works draws nothing; one that no section reads (a host's or drive's receiver) does. */
static gboolean
draws (const PmBound *bound, const PmInput *input)
{
  gboolean any = input->n_users == 0;
  for (guint32 i = 0; i < input->n_users && !any; i++)
    any = pm_bound_works (bound, bound->circuit->users[input->first_user + i]);
  return any;
}

static void
add_resistor (PmBound *bound, guint32 comp, PmComp *c, const PmItem *item)
{
  guint32 far = pm_bound_comp (bound, item->other);
  if (far == comp)
    return;
  PmComp *cf = touch (bound, far);
  if (cf->first_dynamic != PM_NONE || c->first_dynamic != PM_NONE) {
    gboolean rail = may_hold_rail (bound, far);
    pm_stack_push (&bound->walk, far);
    pm_stack_push (&bound->walk, item->index);
    pm_stack_push (&bound->walk, rail);
  } else if ((cf->flags & PM_COMP_RAIL) != 0) {
    double siemens = 1 / PM_AT (bound->circuit->resistors, PmResistor, item->index)->ohms;
    c->siemens += siemens;
    c->amps += siemens * pm_comp_volts (cf);
  } else {
    c->flags |= PM_COMP_UNJUDGED;
  }
}

static void
add_item (PmBound *bound, guint32 comp, PmComp *c, const PmItem *item)
{
  const PmCircuit *circuit = bound->circuit;
  if (item->kind == PM_ITEM_INPUT) {
    const PmInput *input = PM_AT (circuit->inputs, PmInput, item->index);
    if (draws (bound, input)) {
      c->iil += input->receiver.iil;
      c->iih += input->receiver.iih;
    }
  } else if (item->kind == PM_ITEM_RESISTOR) {
    add_resistor (bound, comp, c, item);
  } else if (item->kind == PM_ITEM_OUTPUT) {
    guint32 section = PM_AT (circuit->outputs, PmOutput, item->index)->section;
    if (!bound->state->sections[section])
      return;
    if (pm_bound_powered (bound, section))
      pm_stack_push (&bound->pool, item->index);
    else if (PM_AT (circuit->sections, PmSection, section)->unpowered == PM_UNPOWERED_CLAMPS)
      c->flags |= PM_COMP_CLAMP;
  }
}

PmComp *
pm_bound_built (PmBound *bound, guint32 comp)
{
  PmComp *c = touch (bound, comp);
  if ((c->flags & PM_COMP_BUILT) != 0)
    return c;
  const PmCircuit *circuit = bound->circuit;
  guint32 far_start = bound->walk.n, place = comp;
  c->flags |= PM_COMP_BUILT;
  c->first_output = bound->pool.n;
  do {
    for (guint32 i = circuit->item_first[place]; i < circuit->item_first[place + 1]; i++)
      add_item (bound, comp, c, &circuit->items[i]);
    place = bound->ring[place];
  } while (place != comp);
  c->n_outputs = bound->pool.n - c->first_output;

  c->first_far = bound->pool.n;
  for (guint32 i = far_start; i < bound->walk.n; i++)
    pm_stack_push (&bound->pool, bound->walk.v[i]);
  c->n_far = (bound->pool.n - c->first_far) / 3;
  bound->walk.n = far_start;

  c->first_source = bound->pool.n;
  do {
    for (guint32 i = circuit->item_first[place]; i < circuit->item_first[place + 1]; i++) {
      if (circuit->items[i].kind == PM_ITEM_SOURCE)
        pm_stack_push (&bound->pool, circuit->items[i].index);
    }
    place = bound->ring[place];
  } while (place != comp);
  c->n_sources = bound->pool.n - c->first_source;
  return c;
}

/* ---- potential nets and loop groups ---- */

/* What a column reads: pins with a new mark go to pins, bits to enters (either may be NULL). */
static void
add_reads (PmBound *bound, guint32 output, guint32 mark, PmStack *pins, PmStack *enters)
{
  const PmOutput *o = PM_AT (bound->circuit->outputs, PmOutput, output);
  const PmSection *section = PM_AT (bound->circuit->sections, PmSection, o->section);
  for (guint32 reads = o->reads, k = 0; reads != 0; reads >>= 1, k++) {
    if ((reads & 1) == 0)
      continue;
    guint32 ref = *PM_AT (bound->circuit->refs, guint32, section->first_ref + k);
    if (PM_IS_BIT (ref)) {
      if (enters != NULL)
        pm_stack_push (enters, PM_ENTER (PM_CHOICE_BIT, PM_BIT_OF (ref)));
    } else if (pins != NULL && bound->input_mark[ref] != mark) {
      bound->input_mark[ref] = mark;
      pm_stack_push (pins, ref);
    }
  }
}

/* What decides the dynamic joints at a component. */
static void
add_joint_reads (PmBound *bound, guint32 comp, guint32 mark, PmStack *pins, PmStack *enters)
{
  for (guint32 d = touch (bound, comp)->first_dynamic; d != PM_NONE;) {
    const PmDynamic *dynamic = &bound->dynamics[d];
    if (bound->state->joints[dynamic->joint] == PM_JOINT_CONTROLLED)
      add_reads (bound, PM_AT (bound->circuit->joints, PmJoint, dynamic->joint)->output, mark, pins, enters);
    else if (enters != NULL)
      pm_stack_push (enters, PM_ENTER (PM_CHOICE_JOINT, dynamic->joint));
    d = dynamic->next[END_AT (dynamic, comp)];
  }
}

/* What decides whether the far ends of resistors at this component hold a rail. */
static void
add_far_reads (PmBound *bound, const PmComp *c, guint32 mark, PmStack *pins, PmStack *enters)
{
  for (guint32 i = 0; i < c->n_far; i++) {
    const guint32 *far = &bound->pool.v[c->first_far + 3 * i];
    if (!far[2])
      continue;
    guint32 start = walk_potential (bound, far[0]);
    for (guint32 k = start; k < bound->walk.n; k++)
      add_joint_reads (bound, bound->walk.v[k], mark, pins, enters);
    bound->walk.n = start;
  }
}

/* All that the level of any net of this potential net can hang on, directly. */
static void
add_depends (PmBound *bound, guint32 potential, guint32 mark, PmStack *pins, PmStack *enters)
{
  guint32 start = walk_potential (bound, potential), end = bound->walk.n;
  for (guint32 k = start; k < end; k++)
    pm_bound_built (bound, bound->walk.v[k]);
  for (guint32 k = start; k < end; k++) {
    guint32 comp = bound->walk.v[k];
    const PmComp *c = &bound->comps[comp];
    for (guint32 i = 0; i < c->n_outputs; i++)
      add_reads (bound, bound->pool.v[c->first_output + i], mark, pins, enters);
    for (guint32 i = 0; i < c->n_sources && enters != NULL; i++)
      pm_stack_push (enters, PM_ENTER (PM_CHOICE_SOURCE, bound->pool.v[c->first_source + i]));
    add_joint_reads (bound, comp, mark, pins, enters);
    add_far_reads (bound, c, mark, pins, enters);
  }
  bound->walk.n = start;
}

static PmPotential *
built_potential (PmBound *bound, guint32 potential)
{
  PmPotential *p = &bound->potentials[potential];
  if (p->stamp != bound->stamp) {
    *p = (PmPotential){.stamp = bound->stamp, .group = PM_NONE};
    /* the lists of components go to the pool too: made first, so that this one stays in one piece */
    guint32 start = walk_potential (bound, potential);
    for (guint32 k = start; k < bound->walk.n; k++)
      pm_bound_built (bound, bound->walk.v[k]);
    bound->walk.n = start;
    p->first_input = bound->pool.n;
    add_depends (bound, potential, ++bound->mark, &bound->pool, NULL);
    p->n_inputs = bound->pool.n - p->first_input;
  }
  return p;
}

static guint32
potential_of_input (PmBound *bound, guint32 input)
{
  return pm_bound_potential (bound, pm_bound_comp (bound, PM_AT (bound->circuit->inputs, PmInput, input)->place));
}

static gboolean
depends_on_group (PmBound *bound, const PmPotential *p, guint32 group)
{
  for (guint32 i = 0; i < p->n_inputs; i++) {
    if (bound->potentials[potential_of_input (bound, bound->pool.v[p->first_input + i])].group == group)
      return TRUE;
  }
  return FALSE;
}

/* Makes the group of the potential nets from `from` on in the waiting stack. */
static void
add_group (PmBound *bound, guint32 from)
{
  guint32 number = bound->n_groups++;
  PmGroup *group = &bound->groups[number];
  *group = (PmGroup){.first_pin = bound->pool.n};
  for (guint32 k = from; k < bound->waiting.n; k++) {
    const PmPotential *p = &bound->potentials[bound->waiting.v[k]];
    for (guint32 i = 0; i < p->n_inputs; i++) {
      guint32 input = bound->pool.v[p->first_input + i];
      PmPinGroup *pin = &bound->pin_groups[input];
      if (pin->stamp == bound->stamp || bound->potentials[potential_of_input (bound, input)].group != number)
        continue;
      *pin = (PmPinGroup){bound->stamp, number};
      pm_stack_push (&bound->pool, input);
    }
  }
  group->n_pins = bound->pool.n - group->first_pin;

  group->first_enter = bound->pool.n;
  guint32 mark = ++bound->mark;
  for (guint32 k = from; k < bound->waiting.n; k++) {
    const PmPotential *p = &bound->potentials[bound->waiting.v[k]];
    for (guint32 i = 0; i < p->n_inputs; i++) {
      guint32 input = bound->pool.v[p->first_input + i];
      const PmPinGroup *pin = &bound->pin_groups[input];
      if (bound->input_mark[input] == mark || (pin->stamp == bound->stamp && pin->group == number))
        continue;
      bound->input_mark[input] = mark;
      pm_stack_push (&bound->pool, PM_ENTER (PM_CHOICE_INPUT, input));
    }
  }
  for (guint32 k = from; k < bound->waiting.n; k++)
    add_depends (bound, bound->waiting.v[k], mark, NULL, &bound->pool);
  group->n_enters = bound->pool.n - group->first_enter;
}

/* Tarjan's search. */
static void
visit (PmBound *bound, guint32 potential)
{
  PmPotential *p = built_potential (bound, potential);
  guint32 from = bound->waiting.n;
  p->index = p->low = ++bound->visit;
  p->waiting = TRUE;
  pm_stack_push (&bound->waiting, potential);
  for (guint32 i = 0; i < p->n_inputs; i++) {
    guint32 next = potential_of_input (bound, bound->pool.v[p->first_input + i]);
    PmPotential *q = built_potential (bound, next);
    if (q->index == 0)
      visit (bound, next);
    if (q->waiting)
      p->low = MIN (p->low, q->low);
  }
  if (p->low != p->index)
    return;
  for (guint32 k = from; k < bound->waiting.n; k++)
    bound->potentials[bound->waiting.v[k]].group = bound->n_groups;
  if (bound->waiting.n - from > 1 || depends_on_group (bound, p, bound->n_groups))
    add_group (bound, from);
  else
    p->group = PM_NONE;
  for (guint32 k = from; k < bound->waiting.n; k++) {
    PmPotential *member = &bound->potentials[bound->waiting.v[k]];
    member->waiting = FALSE;
    member->done = TRUE;
  }
  bound->waiting.n = from;
}

guint32
pm_bound_group (PmBound *bound, guint32 input)
{
  guint32 potential = potential_of_input (bound, input);
  const PmPotential *p = &bound->potentials[potential];
  if (p->stamp != bound->stamp || !p->done)
    visit (bound, potential);
  const PmPinGroup *pin = &bound->pin_groups[input];
  return pin->stamp == bound->stamp ? pin->group : PM_NONE;
}

/* ---- facts ---- */

guint32
pm_bound_net (const PmBound *bound, guint32 place)
{
  return pm_find (bound->parent, place);
}

gboolean
pm_bound_thevenin (const PmBound *bound, guint32 place, double *volts, double *ohms)
{
  const PmCircuit *circuit = bound->circuit;
  guint32 comp = pm_find (bound->parent, place), at = comp;
  double siemens = 0, amps = 0;
  if (rail_flags (bound, place) != 0)
    return FALSE;
  do {
    for (guint32 i = circuit->item_first[at]; i < circuit->item_first[at + 1]; i++) {
      const PmItem *item = &circuit->items[i];
      if (item->kind != PM_ITEM_RESISTOR || rail_flags (bound, item->other) == 0)
        continue;
      double g = 1 / PM_AT (circuit->resistors, PmResistor, item->index)->ohms;
      siemens += g;
      amps += g * pm_comp_volts (&bound->comps[pm_find (bound->parent, item->other)]);
    }
    at = bound->ring[at];
  } while (at != comp);
  if (siemens == 0)
    return FALSE;
  *volts = amps / siemens;
  *ohms = 1 / siemens;
  return TRUE;
}

guint64
pm_bound_rails (const PmBound *bound, guint32 place)
{
  guint32 comp = pm_find (bound->parent, place), n = MIN (bound->circuit->rails->len, 64);
  guint64 mask = 0;
  for (guint32 i = 0; i < n; i++) {
    if (pm_find (bound->parent, PM_AT (bound->circuit->rails, PmRail, i)->place) == comp)
      mask |= G_GUINT64_CONSTANT (1) << i;
  }
  return mask;
}

guint32
pm_bound_n_loops (const PmBound *bound)
{
  PmBound *working = (PmBound *)bound; /* what is worked out on demand is no change of the binding */
  for (guint32 i = 0; i < bound->circuit->inputs->len; i++)
    pm_bound_group (working, i);
  return bound->n_groups;
}
