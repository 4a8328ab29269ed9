/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The survey: what every case does in every host state.
 *
 * Host states are idle (unless the host always keeps one on), each unit alone, and each pair of units that the lines
 * can make.  Routes are judged over idle and single; pairs only tell of damage.  Lines that say nothing of a unit
 * (motor ...) are free: either level, a choice in each world.  Where the circuit has stored bits, each host state is
 * seen in every state of the bits that steps of the host can lead to from power-on and reset.
 */
#pragma once
#include "pm-cases.h"
#include "pm-steps.h"

G_BEGIN_DECLS

typedef enum { PM_STATE_IDLE, PM_STATE_SINGLE, PM_STATE_PAIR, PM_STATE_RESET, PM_STATE_HOST_OFF } PmHostStateKind;
typedef struct { PmHostStateKind kind; guint unit, other; } PmHostState;

/* One world as a question saw it. */
typedef struct {
  guint32  lamps;                  /* bit per drive that answers */
  guint8   answers[8];             /* of further asks */
  guint8   n_choices;
  gboolean never_settles, unjudged;
  PmChoice choices[PM_WORLDS_MAX_CHOICES + 8];
} PmSeen;

typedef struct { guint32 place; guint state; gboolean certain; } PmClash;

typedef struct {
  GArray **seen;                   /* [n_states] of PmSeen; NULL where the state does not belong to the case */
  gboolean not_decided;
  GArray  *clashes;                /* PmClash */
  guint64  joined_rails;           /* mask of rails that are on a net with a rail of other volts or another supply */
} PmSurveyCase;

/* Reachable states of stored bits in a binding: per configuration (host state, levels of side lines). */
typedef struct _PmReach PmReach;

typedef struct {
  const PmTranslation *t;
  const PmCases *cases;
  GArray       *states;            /* PmHostState: idle, singles, pairs, then reset and host off */
  GArray       *side_lines;        /* guint: host lines that the host drives and no unit names */
  PmSurveyCase *of;                /* [cases->specs->len] */
  PmReach     **reach;             /* [cases->specs->len] of the case's binding; NULL without stored bits */
  PmBound      *bound;
  guint32       lamps_asked;       /* mask of drives whose lamps are asked; all, but where all at once is not decided */
  guint64       n_worlds;          /* worlds seen so far: what the work is measured by, the same on every machine */
  guint         n_runs;            /* cases x host states really run, baselines apart */
} PmSurvey;

/* Ready for questions, nothing asked yet: no case has been surveyed. */
PmSurvey *pm_survey_open (const PmTranslation *t, const PmCases *cases, gboolean pairs);
/* One case, if it has not been surveyed yet. */
void      pm_survey_case (PmSurvey *survey, guint index);
/* All that have not. FALSE when cancelled. */
gboolean  pm_survey_all  (PmSurvey *survey, GCancellable *cancellable);
/* Opened, and all cases surveyed. NULL when cancelled. */
PmSurvey *pm_survey_new (const PmTranslation *t, const PmCases *cases, gboolean pairs, GCancellable *cancellable);
void        pm_survey_free     (PmSurvey *survey);
/* A question of its own about one case in one host state, over all its bindings, with some sources forced: forced[k] is
 * a circuit source, values[k] its value.  Every world seen is appended to out (PmSeen, with lamps filled).  FALSE if
 * not decided. latched: set side lines first, turn the unit off and on. */
gboolean pm_survey_ask (PmSurvey *survey, guint spec, guint state, const guint32 *forced, const guint8 *values,
                        guint n_forced, gboolean latched, const PmAsk *asks, guint n_asks, GArray *out);
/* Lamps as the circuit is bound now. FALSE if not decided. */
gboolean    pm_survey_ask_bound (PmSurvey *survey, GArray *out);
/* The source that a side line's level comes from, and the value that puts it high or low. */
guint32     pm_survey_line_source (const PmSurvey *survey, guint line);
PmSourceValue pm_survey_value_at (gboolean high);
guint pm_survey_state (const PmSurvey *survey, PmHostStateKind kind, guint unit); /* PM_NONE if there is none */
/* Binds the first binding of a case (for facts such as nets and resistors). */
PmBound    *pm_survey_bind     (PmSurvey *survey, guint spec, guint state);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmSurvey, pm_survey_free)
G_END_DECLS
