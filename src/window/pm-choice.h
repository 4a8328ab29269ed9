/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is being looked at: which setting is chosen, which variation of it is shown, with what it is compared, which
 * finding is open.
 *
 * Every view of a window listens to one of these and none talks to another.  Indices are those of the PmCheck in the
 * study. Signal "study-changed": another study; all indices have been carried over by name as far as they can be.
 * Signal "changed": one of the indices.
 */
#pragma once
#include "pm-study.h"

G_BEGIN_DECLS
#define PM_TYPE_CHOICE (pm_choice_get_type ())
G_DECLARE_FINAL_TYPE (PmChoice, pm_choice, PM, CHOICE, GObject)

PmChoice      *pm_choice_new           (void);
/* study may be NULL. fresh: another board, nothing is carried over. */
void           pm_choice_set_study     (PmChoice *self, PmStudy *study, gboolean fresh);
/* The file behind the study cannot be read any more; text says as when the study was right. Another study ends it.
 * Signals "stale-changed", then "changed". */
void           pm_choice_set_stale     (PmChoice *self, const char *text, guint n_faults);
/* NULL: the study is what the file says. n_faults may be NULL. */
const char    *pm_choice_get_stale     (PmChoice *self, guint *n_faults);
PmStudy       *pm_choice_get_study     (PmChoice *self);
const PmCheck *pm_choice_get_check     (PmChoice *self);    /* NULL without a study */
const PmBoard *pm_choice_get_board     (PmChoice *self);

guint          pm_choice_get_chosen    (PmChoice *self);    /* case index of a setting */
void           pm_choice_set_chosen    (PmChoice *self, guint setting);
/* The variation shown in the chosen card, or the chosen setting itself. */
guint          pm_choice_get_shown     (PmChoice *self);
/* Shows a variation and chooses its setting; a setting or 0 ends it. */
void           pm_choice_show_case     (PmChoice *self, guint case_index);
guint          pm_choice_get_compared  (PmChoice *self);
void           pm_choice_set_compared  (PmChoice *self, guint case_index);
int            pm_choice_get_finding   (PmChoice *self);    /* -1: none */
/* Opens a finding and goes to the case that it is shown in. */
void           pm_choice_set_finding   (PmChoice *self, int finding);
/* Moves one switch that is moved by hand. FALSE if the machine or board has no such setting. */
gboolean       pm_choice_set_position  (PmChoice *self, guint switch_index, int position);
/* +1 next, -1 the one before; round at the ends. */
void           pm_choice_step_setting  (PmChoice *self, int step);
void           pm_choice_step_finding  (PmChoice *self, int step);
G_END_DECLS
