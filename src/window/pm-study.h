/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A board and what was found out about it, held together and shared: library, board, check and the time it was done.
 *
 * Read-only and counted, so that a page can go on showing the last good one while the file is being mended.
 */
#pragma once
#include "pm-check.h"

G_BEGIN_DECLS
#define PM_TYPE_STUDY (pm_study_get_type ())
G_DECLARE_FINAL_TYPE (PmStudy, pm_study, PM, STUDY, GObject)

/* Takes over all three; the check belongs to the board, the board to the library. */
PmStudy       *pm_study_new_take  (PmLibrary *library, PmBoard *board, PmCheck *check);
const PmBoard *pm_study_get_board (PmStudy *self);
const PmCheck *pm_study_get_check (PmStudy *self);
/* When it was checked, "14:02" as the locale writes it. Free with g_free. */
char          *pm_study_dup_time  (PmStudy *self);
G_END_DECLS
