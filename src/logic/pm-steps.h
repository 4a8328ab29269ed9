/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps: what stored bits do when the host changes something.
 *
 * Stored bits follow their table from the old world's reading to the new one's.  Every edge of a step takes its data as
 * they were before the step; if the data would also move with all stored bits held, both values are kept and the step
 * is marked as a race.  Bits that moved can make further edges (a ripple counter): the step repeats with the bits as
 * the new "before" until nothing moves, at most 64 times; then it is marked as never settling.  Asynchronous rows act
 * at once.
 */
#pragma once
#include "pm-worlds.h"

G_BEGIN_DECLS

#define PM_STEPS_MAX_BITS 16

typedef struct {
  guint32  bits;       /* value of each stored bit */
  guint32  unstable;   /* bits that are in an unstable row now */
} PmState;

/* Data that move with the edge that takes them: inputs of the circuit. */
typedef struct { guint32 data, edge; } PmRace;

/* From (old case, state) to new_case (same circuit; its bits are ignored).  Appends every PmState that can follow to
 * out (GArray of PmState, no duplicates).  Where data moved with their edge, that is appended to races (GArray of
 * PmRace, no duplicates; may be NULL); *restless is set TRUE if it never settles.  FALSE if it is not decided.
 * Afterwards bound is bound to new_case (pm_rest: to state). */
gboolean pm_step (PmBound *bound, const PmCase *old_case, PmState from, const PmCase *new_case,
                  GArray *out, GArray *races, gboolean *restless);
/* Level-sensitive rows only, no edge: what the bits can rest at in a case from a given start (power-on, reset held). */
gboolean pm_rest (PmBound *bound, const PmCase *state, PmState from, GArray *out, gboolean *restless);
G_END_DECLS
