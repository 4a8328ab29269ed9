/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tried repairs: small changes on the places that a finding hangs on, each tried by checking the changed board again.
 */
#pragma once
#include "pm-raw.h"

G_BEGIN_DECLS

#define PM_REPAIR_MAX_EDITS 16
typedef struct {
  PmEdit edits[PM_REPAIR_MAX_EDITS];
  guint  n_edits;
  PmRaw  brings;     /* a care that comes with it; kind PM_N_FINDING_KINDS where none does */
  char  *text;       /* what to do, a sentence: "Cut pin 11 (SEL0)." */
} PmRepair;

/* Candidates for one finding, the simplest first. GPtrArray of PmRepair. */
GPtrArray *pm_repairs_propose (const PmTrial *trial, const PmRaw *raw);
void       pm_repair_free     (PmRepair *repair);
/* Worlds that all tries for one board may look at together; the same on every machine. */
#define PM_REPAIR_BUDGET 100000
/* Tries them until the budget is used up. On success returns the best and *after is the board's trial with it (caller
 * frees both); NULL if none helps: the finding vanishes, nothing as severe comes; a care that comes with the remedy of
 * a stop is kept in brings.
 */
PmRepair *pm_repairs_try (const PmTrial *trial, const PmRaw *raw, GPtrArray *repairs, guint64 *budget, PmTrial **after,
                          GCancellable *cancellable);
/* TRUE if a finding of this sort is still there. */
gboolean   pm_trial_has       (const PmTrial *trial, const PmRaw *raw);
/* TRUE if now, of another trial of this board, is an overload that was there before and has grown. */
gboolean   pm_trial_is_worse  (const PmTrial *before, const PmRaw *now);
G_END_DECLS
