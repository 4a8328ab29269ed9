/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The track plan of one case as a widget: the picture, and over it one focusable child for each thing drawn, with its
 * sentence. */
#pragma once
#include "pm-plan.h"
#include "pm-study.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_PLAN_VIEW (pm_plan_view_get_type ())
G_DECLARE_FINAL_TYPE (PmPlanView, pm_plan_view, PM, PLAN_VIEW, GtkWidget)

/* Signal "element-activated" (int unit, int drive): somebody pressed or clicked an element; -1 where it has none. */
GtkWidget *pm_plan_view_new            (void);
/* study may be NULL: nothing is drawn. */
void       pm_plan_view_set_case       (PmPlanView *self, PmStudy *study, guint case_index);
/* Rings round what differs from another case, for a moment. */
void       pm_plan_view_outline_changed (PmPlanView *self, guint other_case);
const PmPlan *pm_plan_view_get_plan    (PmPlanView *self);   /* as drawn now, or NULL */
/* Narrowest width at which every word of every case of the study finds room. */
int        pm_plan_view_get_good_width (PmPlanView *self);
/* The width that its height is to suit, whatever width is asked about; 0: the latter. */
void       pm_plan_view_set_room        (PmPlanView *self, int width);
G_END_DECLS
