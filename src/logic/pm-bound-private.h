/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of PmCircuit and PmBound, for the files of this layer only.
 *
 * Binding unites places over closed joints into COMPONENTS (named by their lowest place).  Unknown and controlled
 * joints between components are the DYNAMIC joints; components that they may join make a POTENTIAL net (named by its
 * lowest component).  What a component holds, what a potential net depends on and the loop groups are worked out when
 * first asked for and kept until the next binding: a stamp that differs from the binding's number means "not yet".
 *
 * What a world has settled so far is kept in plain arrays with a log of what was set, so that going back to a choice
 * unsets just what came after it.
 */
#pragma once
#include "pm-worlds.h"

G_BEGIN_DECLS

/* Limits of the families' common inputs, for the level of a place as shown (volts). */
#define PM_SHOWN_LOW 0.8
#define PM_SHOWN_HIGH 2.0
#define PM_WEAK_VOLTS 5.0
/* Two sums of the same resistors in another order may differ by rounding; limits are compared with this much give. */
#define PM_VOLTS_GIVE 1e-9

#define PM_LIMIT_WORLDS 65536
#define PM_LIMIT_STEPS 200000
#define PM_UNSET 0xff

/* A growing stack of numbers; never shrinks its memory. */
typedef struct {
  guint32 *v, n, size;
} PmStack;

static inline void
pm_stack_push (PmStack *stack, guint32 value)
{
  if (G_UNLIKELY (stack->n == stack->size)) {
    stack->size = MAX (64, stack->size * 2);
    stack->v = g_renew (guint32, stack->v, stack->size);
  }
  stack->v[stack->n++] = value;
}

/* ---- circuit ---- */

typedef struct {
  guint32 a, b;
} PmEnds;
typedef struct {
  guint32 output;
  guint8 usual;
} PmJoint; /* output: PM_NONE unless controlled */
typedef struct {
  guint32 place;
  PmReceiver receiver;
  guint32 first_user, n_users;
} PmInput;
typedef struct {
  guint32 a, b;
  double ohms;
} PmResistor;
typedef struct {
  guint32 place;
  double volts;
} PmRail;
typedef struct {
  guint32 place;
  guint8 usual;
} PmSource;
/* One output column of one section. reads: bit k = the column's decision tree reads input column k. */
typedef struct {
  guint32 section, column, place, other, joint, reads;
  PmColumnKind kind;
} PmOutput;
typedef struct {
  PmTable *table;
  guint32 first_ref, n_refs, first_output, n_outputs, supply, ground;
  PmUnpowered unpowered;
} PmSection;

typedef enum { PM_ITEM_INPUT, PM_ITEM_OUTPUT, PM_ITEM_RESISTOR, PM_ITEM_RAIL, PM_ITEM_SOURCE } PmItemKind;
/* Something at a place. other: the far place of a resistor. */
typedef struct {
  guint8 kind;
  guint32 index, other;
} PmItem;

struct _PmCircuit {
  gboolean sealed;
  guint32 n_places, n_bits;
  GArray *ends, *joints, *inputs, *resistors, *rails, *sources, *outputs, *sections; /* of the structs above */
  GArray *refs; /* guint32: input number or PM_BIT (b), of all sections */
  /* made by sealing */
  guint32 *item_first; /* [n_places + 1] into items */
  PmItem *items;
  guint32 *users;    /* sections that read an input, PmInput.first_user.. */
  guint32 *identity; /* 0, 1, 2, ... [n_places] */
};

#define PM_AT(array, Type, i) (&((Type *)(array)->data)[i])

/* ---- binding ---- */

typedef enum {
  PM_COMP_HIGH = 1 << 0,     /* a live rail */
  PM_COMP_LOW = 1 << 1,      /* a ground */
  PM_COMP_DEAD = 1 << 2,     /* a rail that is off */
  PM_COMP_CLAMP = 1 << 3,    /* an output without power that clamps */
  PM_COMP_UNJUDGED = 1 << 4, /* a resistor to a net without a rail */
  PM_COMP_BUILT = 1 << 5,
} PmCompFlags;
#define PM_COMP_RAIL (PM_COMP_HIGH | PM_COMP_LOW | PM_COMP_DEAD)

/* A component. Lists are in the pool: outputs that drive; sources; triples (far component, resistor, whether the far
 * end may hold a rail) of resistors that hang on dynamic joints. siemens, amps: sums of 1/R and V/R of the resistors to
 * rails that do not hang on dynamic joints. */
typedef struct {
  guint32 stamp, flags, first_dynamic;
  guint32 first_output, n_outputs, first_source, n_sources, first_far, n_far;
  double volts, siemens, amps, iil, iih;
} PmComp;

/* A dynamic joint between two components; next: the next one at each end. */
typedef struct {
  guint32 joint, comp[2], next[2];
} PmDynamic;

/* A potential net: the inputs that it depends on, and its place in the search for loops. */
typedef struct {
  guint32 stamp, first_input, n_inputs, index, low, group;
  gboolean waiting, done;
} PmPotential;

/* A loop group. enters: PmChoiceKind << 29 | index of all that enters it. */
typedef struct {
  guint32 first_pin, n_pins, first_enter, n_enters;
} PmGroup;
#define PM_ENTER(kind, index) ((guint32)(kind) << 29 | (index))
#define PM_ENTER_KIND(e) ((PmChoiceKind)((e) >> 29))
#define PM_ENTER_INDEX(e) ((e)&0x1fffffffu)

/* ---- worlds ---- */

/* The net of a world, kept at its first component. low and high: the estimates for a low and a high. */
typedef struct {
  double low, high;
  guint8 level;
} PmNet;

typedef struct {
  guint32 n_ways, value, mark, first_way, bits;
} PmTrail;
typedef struct {
  guint32 pin, mark;
  guint8 value;
} PmGuess;
typedef struct {
  guint32 stamp, group;
} PmPinGroup;

struct _PmBound {
  const PmCircuit *circuit; /* borrowed */
  const PmCase *state;      /* borrowed */

  /* binding */
  guint8 *made_of; /* what the binding was made of: states of joints, of rails, of sections */
  guint32 stamp;
  guint32 *parent;         /* union-find over places, the lowest on top */
  guint32 *ring;           /* next place of the same component */
  guint32 *potential;      /* union-find over components */
  PmComp *comps;           /* [n_places], by component */
  PmPotential *potentials; /* [n_places], by component */
  PmDynamic *dynamics;     /* [n_joints] */
  guint32 n_dynamics;
  PmGroup *groups; /* [n_inputs] */
  guint32 n_groups;
  PmPinGroup *pin_groups;                /* [n_inputs] */
  guint32 *comp_mark, *input_mark, mark; /* marks of one walk */
  guint32 visit;                         /* number of the next potential net in the search for loops */
  PmStack pool, walk, waiting;
  PmStack todo;   /* joints neither open nor closed */
  double highest; /* volts of the highest live rail */

  /* a world */
  guint8 *pins, *joints, *sources, *bits, *group_states; /* PM_UNSET, or what they are */
  guint32 *nets_of;                                      /* by component: component that keeps the net, or PM_NONE */
  PmNet *nets;
  guint8 *busy; /* pins being worked out, in a loop */
  guint32 *log, n_log;
  gboolean never_settles, unjudged;
  gboolean given_up;
  guint32 steps, n_bits;
  PmTrail trail[PM_WORLDS_MAX_CHOICES];
  PmChoice choices[PM_WORLDS_MAX_CHOICES];
  guint32 n_trail;
  PmGuess *guesses;
  guint32 n_guesses;
  guint32 in_group; /* group being settled, or PM_NONE */
  PmStack work, ways;
  guint8 *answers;
  guint32 n_answers;
};

static inline guint32
pm_find (guint32 *parent, guint32 x)
{
  while (parent[x] != x)
    x = parent[x] = parent[parent[x]];
  return x;
}

static inline guint32
pm_bound_comp (PmBound *bound, guint32 place)
{
  return pm_find (bound->parent, place);
}

/* Volts of the rails of a component that holds one: of several live ones the highest, 0 if all are off. */
static inline double
pm_comp_volts (const PmComp *comp)
{
  return (comp->flags & (PM_COMP_HIGH | PM_COMP_LOW)) != 0 ? comp->volts : 0;
}

static inline guint32
pm_bound_potential (PmBound *bound, guint32 comp)
{
  return bound->n_dynamics == 0 ? comp : pm_find (bound->potential, comp);
}

/* What the joint is in this binding: a controlled joint of a section without power, or left out, is open. */
PmJointState pm_bound_joint_state (const PmBound *bound, guint32 joint);
/* TRUE if the case has the section and it has power. */
gboolean pm_bound_works (const PmBound *bound, guint32 section);
/* The component with its lists made. */
PmComp *pm_bound_built (PmBound *bound, guint32 comp);
/* The loop group of an input, or PM_NONE. */
guint32 pm_bound_group (PmBound *bound, guint32 input);

G_END_DECLS
