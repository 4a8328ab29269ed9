/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Raw findings: one judgement about one case, before causes are folded and sentences made. */
#pragma once
#include "pm-finding-kinds.h"
#include "pm-routes.h"

G_BEGIN_DECLS

typedef struct {
  PmFindingKind kind;
  PmSeverity    severity;
  guint         spec;            /* the case */
  guint         state;           /* host state that shows it, or PM_NONE */
  int           unit, drive, other;   /* -1 = none; other: the second drive, or the holder */
  guint32       place, place2;   /* PM_NONE */
  guint32       join;            /* a through or cut join, PM_NONE */
  guint32       sw;              /* a switch, PM_NONE */
  guint32       index;           /* rail, instance or line, by kind; PM_NONE */
  const char   *does;            /* side line, interned */
  double        a, b;            /* amperes or volts: what is there, what is allowed */
  gboolean      may;             /* in some worlds only */
  gboolean      has_choice;
  PmChoice      choice;
  gboolean      as_today;        /* the same without the board */
} PmRaw;

/* Everything that one version of a board does: translation, cases, survey, results, raw findings. A tried repair makes
 * another one. */
typedef struct {
  const PmBoard *board;
  PmTranslation *t;
  PmCases       *cases;
  PmSurvey      *survey;
  PmCaseResult  *results;        /* [cases->specs->len] */
  GArray        *raws;           /* PmRaw */
  gboolean       not_decided, unjudged;
} PmTrial;

/* which: PM_CASES_ALL, or fewer for a quick look (pm-cases.h). NULL when cancelled. */
PmTrial *pm_trial_new (const PmBoard *board, const PmEdit *edits, guint n_edits, guint which,
                       GCancellable *cancellable);
/* The board with a repair for raw of before: NULL as soon as a finding like raw stands in its own case again, which is
 * what most repairs show, or when cancelled.  n_worlds: what it cost. */
PmTrial *pm_trial_try   (const PmTrial *before, const PmRaw *raw, const PmEdit *edits, guint n_edits, guint which,
                         guint64 *n_worlds, GCancellable *cancellable);
void     pm_trial_free  (PmTrial *trial);
/* Same kind of thing about the same unit, drive, place: findings that are told as one whatever the case. */
gboolean pm_raw_same    (const PmRaw *a, const PmRaw *b);
/* The wanted of a case, most specific; PM_NONE. removed: switch whose lead is off, or PM_NONE. */
guint32  pm_wanted_of   (const PmBoard *board, const int *positions, guint32 removed);
/* Cells, marks, side lines (they cost most), what is wanted and how it fits, of one case that was surveyed. result is
 * empty but for its kind, positions and setting. */
void     pm_result_judge (PmSurvey *survey, guint spec, gboolean with_sides, PmCaseResult *result);
void     pm_result_clear (const PmBoard *board, PmCaseResult *result);
/* TRUE if the cells of a case are those that wanted asks for. */
gboolean pm_cells_fit   (const PmBoard *board, const PmCell *cells, const PmWanted *wanted);
gboolean pm_cells_equal (const PmBoard *board, const PmCell *a, const PmCell *b);
/* The same answers and collisions, and no drive that floats, is on all the time or has no power in one of them only: so
 * a lead off "acts as" a setting. */
gboolean pm_results_alike (const PmBoard *board, const PmCaseResult *a, const PmCaseResult *b);
/* Electrical cares of one case (pm-levels.c): appended to raws. */
void     pm_levels_judge (PmTrial *trial, guint spec, GArray *raws);
/* What stored bits bring with them (pm-memory.c): a power-on reset by resistor and capacitor, data that move with their
 * clock, a throw that acts at the next reset. */
void     pm_memory_judge (PmTrial *trial, GArray *raws);
const PmFamily *pm_trial_family (const PmTrial *trial, guint32 instance);
PmRaw    pm_raw_init    (PmFindingKind kind, PmSeverity severity, guint spec);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmTrial, pm_trial_free)
G_END_DECLS
