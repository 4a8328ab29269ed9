/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sentences: from a cause to a finding as it is told. */
#pragma once
#include "pm-cause.h"

G_BEGIN_DECLS
/* Fills a finding from a cause. index_of: case index of each spec in the finished check (PM_NONE where not shown). */
void  pm_finding_tell       (const PmTrial *trial, const PmCause *cause, PmFinding *out);
/* The one note for everything that is as today. */
void  pm_finding_tell_today (const PmTrial *trial, const GArray *as_today, PmFinding *out);
void  pm_finding_clear      (PmFinding *finding);
/* "Two drives answer SEL0" */
char *pm_finding_title      (const PmTrial *trial, const PmRaw *raw);
/* "in outside", "in every setting", "with S1 unplugged"; "" where it holds anywhere. */
char *pm_finding_in         (const PmTrial *trial, const GArray *raws);
/* A title inside a sentence: its first letter small, unless it begins with a name of this board. Takes text. */
char *pm_finding_lower      (const PmBoard *board, char *text);
G_END_DECLS
