/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Routes: what each select reaches in a case, what each drive's lamp shows, which side lines go along. Fills a
 * PmCaseResult. */
#pragma once
#include "pm-survey.h"

G_BEGIN_DECLS
/* A world counts as shown if every open bipolar input in it reads high. */
gboolean pm_seen_is_shown (const PmSeen *seen);
/* Takes out of seen (PmSeen) the worlds that are not shown, unless there are no others. */
void     pm_seen_keep_shown (GArray *seen);
/* Value of a choice in a world: 0, 1, or -1 if it was not made. */
int      pm_seen_choice   (const PmSeen *seen, PmChoiceKind kind, guint32 index);
/* TRUE if flipping this choice changes the lamps of the mask over these worlds. */
gboolean pm_seen_flip_matters (const GArray *seen, guint32 lamps, gboolean shown_only, const PmChoice *choice);
/* The same where only a pair of worlds tells: an exclusive-or of two open inputs is low and high whichever way one of
 * them reads, and yet hangs on both. For worlds of one binding, and not many of them. */
gboolean pm_seen_flip_in_a_pair (const GArray *seen, guint32 lamps, gboolean shown_only, const PmChoice *choice);
/* The first choice of which flipping changes test (mask of lamps) over these worlds; FALSE if there is none.
 * prefer_sources: lines before others. */
gboolean pm_seen_hangs_on (const GArray *seen, guint32 lamps, gboolean shown_only, PmChoice *out);
/* Cells, collides, marks and sides of one case. with_sides: side lines too (they cost most). */
void     pm_routes_judge  (PmSurvey *survey, guint spec, gboolean with_sides, PmCaseResult *out);
void     pm_case_result_clear (PmCaseResult *result);
/* Whether a host line of this kind belongs to a unit. */
gboolean pm_line_serves   (const PmBoard *board, const PmLine *line, const char *does, guint unit);
G_END_DECLS
