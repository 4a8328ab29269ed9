/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which states of stored bits the host can lead a case to.
 *
 * A configuration is a host state with a level for each side line that goes into a chip (mask: bit k = side line k is
 * high), or reset.  A node is a configuration with a PmState; the nodes are closed under steps of the host (one change
 * of unit, of one side line, of the reset) from power-on, where every bit is unknown and the lines rest.
 */
#pragma once
#include "pm-survey.h"

G_BEGIN_DECLS

#define PM_REACH_MAX_SIDE 4
#define PM_REACH_MAX_BITS 8
/* What a step counts for where work is counted in worlds. */
#define PM_REACH_STEP_COST 10

/* Data that move with their edge, in a step to that configuration, or from that one if it is reset. */
typedef struct { PmRace race; guint config; } PmReachRace;

struct _PmReach {
  guint    n_side, side[PM_REACH_MAX_SIDE];   /* host lines */
  guint    n_states;                          /* idle and single states; configuration = state << n_side | mask */
  guint    n_configs;                         /* the last one is reset */
  GArray **nodes;                             /* [n_configs] of PmState */
  GArray  *races;                             /* PmReachRace, each pair of inputs once */
  gboolean restless, not_decided;
};

/* Sources that an empty capacitor holds low at power-on: at a net with a resistor to a live rail, on which a part with
 * stored bits reads, and a capacitor from there to 0 V. The case is bound. GArray of guint32 pairs: source, the pin
 * that reads it. */
GArray  *pm_reach_power_on (const PmSurvey *survey);
PmReach *pm_reach_new  (PmSurvey *survey, PmCase *state);
void     pm_reach_free (PmReach *reach);
void     pm_reach_apply (const PmSurvey *survey, const PmReach *reach, guint config, PmCase *state);
/* The states that follow when side lines are set with the unit off, then the unit of config turned on. */
void     pm_reach_latched (PmSurvey *survey, const PmReach *reach, guint config, PmCase *state, GArray *out);
/* Sources of a host state: unit lines at their levels, side lines free, lines at rest in reset. */
void     pm_survey_set_sources (const PmSurvey *survey, const PmHostState *host, PmCase *state);
G_END_DECLS
