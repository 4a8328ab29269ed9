/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All findings by name, worst first; choosing one opens it. */
#pragma once
#include "pm-choice.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_FINDING_LIST (pm_finding_list_get_type ())
G_DECLARE_FINAL_TYPE (PmFindingList, pm_finding_list, PM, FINDING_LIST, GtkBox)

/* Signals "finding-activated": somebody chose one; the choice has it already.  "fault-activated" (uint): its index. */
void     pm_finding_list_set_choice  (PmFindingList *self, PmChoice *choice);
/* Lists the faults of the file instead, until there is another study. */
void     pm_finding_list_set_faults  (PmFindingList *self, const char *path, const PmFaults *faults);
gboolean pm_finding_list_focus_first (PmFindingList *self);
G_END_DECLS
