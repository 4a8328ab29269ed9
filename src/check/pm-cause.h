/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One cause, one finding: raw findings are gathered by sort, and what a tried repair of the first also mends follows
 * it. */
#pragma once
#include "pm-repair.h"

G_BEGIN_DECLS

/* All raw findings of one sort. */
typedef struct {
  GArray     *raws;        /* PmRaw, the most severe first */
  PmSeverity  severity;
  PmRepair   *repair;      /* tried and good, or NULL */
  GPtrArray  *followers;   /* PmCause, folded under this one */
} PmCause;

/* Told as today: raw findings that the machine has without the board as well. */
typedef struct { GPtrArray *causes; /* PmCause in order */ GArray *as_today; /* PmRaw */ } PmCauses;

PmCauses *pm_causes_find (const PmTrial *trial, GCancellable *cancellable);
void      pm_causes_free (PmCauses *causes);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmCauses, pm_causes_free)
G_END_DECLS
