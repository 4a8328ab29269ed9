/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parts list: how many of each for how many boards, what they cost, and what else would do. */
#pragma once
#include "pm-build-lists.h"

G_BEGIN_DECLS
#define PM_TYPE_PARTS_VIEW (pm_parts_view_get_type ())
G_DECLARE_FINAL_TYPE (PmPartsView, pm_parts_view, PM, PARTS_VIEW, GtkBox)

GtkWidget *pm_parts_view_new      (PmBuildLists *lists);
void       pm_parts_view_set_own  (PmPartsView *self, PmBuildOwn *own);
void       pm_parts_view_set_room (PmPartsView *self, int width);
gboolean   pm_parts_view_focus    (PmPartsView *self);
char      *pm_parts_view_dup_text (PmPartsView *self);
G_END_DECLS
