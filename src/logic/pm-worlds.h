/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Worlds: the one rule of evaluation.
 *
 *  1  A reading gives every input pin a 0 or a 1.
 *  2  Readings decide what tables drive and which controlled joints are closed; closed joints make nets.
 *  3  A net driven 0 and 1 clashes; else it has the driven value; else a clamp makes it 0; else what its resistors make
 *     (each receiver by its own limits); else it is off.
 *  4  A reading is a WORLD if every pin on a net that is 0 or 1 for it reads just that; a pin on a net that is off,
 * between its limits, or clashing reads for itself. 5  A stored bit that is unknown, an unknown joint, a free source is
 * a pin that nothing drives: a CHOICE. 6  Loops (strongly connected groups of inputs, controlled and unknown joints
 * taken as closed) are settled one at a time in order of flow: no world for a reading of what enters = never settles,
 * and its pins then read anything; several = it remembers (a choice among them). 7  A question reads only its cone.  Up
 * to 16 unknown bits exactly; above that it is not decided.
 */
#pragma once
#include "pm-circuit.h"

G_BEGIN_DECLS

#define PM_WORLDS_MAX_CHOICES 16

typedef enum {
  PM_LEVEL_LOW, PM_LEVEL_HIGH,       /* driven, or tied to a rail */
  PM_LEVEL_CLAMPED,                  /* low through a clamp */
  PM_LEVEL_PULLED_LOW,               /* resistors make 0.8 V or less */
  PM_LEVEL_PULLED_HIGH,              /* resistors make 2.0 V or more */
  PM_LEVEL_BETWEEN,                  /* resistors make something in between */
  PM_LEVEL_OFF,                      /* nothing */
  PM_LEVEL_CLASH,                    /* driven low and high */
  PM_N_LEVELS
} PmLevel;

/* A question: what an input reads (0 or 1), or the PmLevel of a place's net, or whether a joint is closed now. */
typedef enum { PM_ASK_READ, PM_ASK_LEVEL, PM_ASK_JOINT } PmAskKind;
typedef struct { PmAskKind kind; guint32 index; } PmAsk;

typedef enum { PM_CHOICE_INPUT, PM_CHOICE_JOINT, PM_CHOICE_SOURCE, PM_CHOICE_BIT, PM_CHOICE_LOOP } PmChoiceKind;
/* index: the input, joint, source, bit; for LOOP the lowest input of the group.  value: 0 or 1; for LOOP which of the
 * ways it can rest, from 0.  open_high: a choice of an open bipolar input (an input on a net that is off, open_high
 * receiver): the world with value 1 is the one shown. */
typedef struct { PmChoiceKind kind; guint32 index; guint16 value; gboolean open_high; } PmChoice;

/* One world as far as the question reaches. answers[i] belongs to asks[i]; choices in the order made. Borrowed for the
 * call. */
typedef struct {
  const guint8   *answers;
  const PmChoice *choices;
  guint32         n_choices;
  gboolean        never_settles;   /* a loop in the cone never settles in this world */
  gboolean unjudged; /* a resistor between two nets neither of which is a rail was passed by: not judged */
} PmWorld;
/* Return FALSE to stop. */
typedef gboolean (*PmWorldFunc) (const PmWorld *world, gpointer data);

typedef enum { PM_WORLDS_DONE, PM_WORLDS_STOPPED, PM_WORLDS_NOT_DECIDED } PmWorldsResult;

typedef struct _PmBound PmBound;

/* One bound per circuit can be set to case after case without allocation.  It keeps circuit (borrowed). */
PmBound       *pm_bound_new  (const PmCircuit *circuit);
void           pm_bound_free (PmBound *bound);
/* Binds: union-find over closed joints, supplies, resistors of nets, loop groups. state is borrowed until the next set.
 */
void           pm_bound_set  (PmBound *bound, const PmCase *state);
/* Changes sources and bits only (the same joints, rails and sections): cheap, for the next host state of the same case.
 */
void           pm_bound_set_sources (PmBound *bound, const PmCase *state);

/* The working evaluator: demand-driven, with backtracking. */
PmWorldsResult pm_worlds_each (PmBound *bound, const PmAsk *asks, guint32 n_asks, PmWorldFunc func, gpointer data);
/* The slow one, believed by reading: every reading of all inputs of the cone's groups. For tests: at most 20 unknown
 * pins. */
PmWorldsResult pm_worlds_each_slowly (PmBound *bound, const PmAsk *asks, guint32 n_asks, PmWorldFunc func,
                                      gpointer data);

/* Facts of the binding that need no worlds. */
guint32 pm_bound_net (const PmBound *bound, guint32 place); /* lowest place of its net over closed fixed joints */
gboolean pm_bound_powered    (const PmBound *bound, guint32 section);
/* Thevenin of the resistors on a net (fixed joints); FALSE if there are none. */
gboolean pm_bound_thevenin   (const PmBound *bound, guint32 place, double *volts, double *ohms);
/* Rails in the net of a place: bit mask of rail numbers (first 64). */
guint64  pm_bound_rails      (const PmBound *bound, guint32 place);
/* Loop groups with more than one pin or a pin that depends on itself. */
guint32  pm_bound_n_loops    (const PmBound *bound);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmBound, pm_bound_free)
G_END_DECLS
