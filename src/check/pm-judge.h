/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The judgements of a trial: one function per subject, each appending raw findings. Only pm-raw.c calls them. */
#pragma once
#include "pm-raw.h"

G_BEGIN_DECLS

/* One case being judged. severity: what a wrong thing is here (stop in a setting, care in a variation). */
typedef struct {
  PmTrial          *trial;
  guint             spec;
  const PmCaseSpec *of;
  PmCaseResult     *result;
  PmSeverity        severity;
  guint             baseline;  /* the case without the board to compare with, or PM_NONE */
  GArray           *raws;      /* PmRaw */
} PmJudge;

void          pm_judge_add         (PmJudge *j, PmRaw raw);
/* Worlds of a case in a host state, or NULL. */
const GArray *pm_judge_seen        (const PmTrial *trial, guint spec, guint state);

void pm_judge_two_drives  (PmJudge *j);
void pm_judge_idle        (PmJudge *j, PmHostStateKind state, PmFindingKind kind);
void pm_judge_idle_today  (PmJudge *j);
void pm_judge_two_selects (PmJudge *j);
void pm_judge_wanted      (PmJudge *j);
void pm_judge_sides_of    (PmJudge *j);
void pm_judge_clashes     (PmJudge *j);
void pm_judge_choices     (PmJudge *j);
void pm_judge_rails       (PmJudge *j);
void pm_judge_supplies    (PmJudge *j);

void pm_judge_throughs    (PmTrial *trial, GArray *raws);
void pm_judge_control     (PmTrial *trial, GArray *raws);
void pm_judge_needs       (PmTrial *trial, GArray *raws);
void pm_judge_statements  (PmTrial *trial, GArray *raws);
G_END_DECLS
