/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A group order: what boards cost, who gets how many, who owes what. */
#pragma once
#include "pm-build-lists.h"

G_BEGIN_DECLS
#define PM_TYPE_ORDER_VIEW (pm_order_view_get_type ())
G_DECLARE_FINAL_TYPE (PmOrderView, pm_order_view, PM, ORDER_VIEW, GtkBox)

GtkWidget *pm_order_view_new      (PmBuildLists *lists);
void       pm_order_view_set_own  (PmOrderView *self, PmBuildOwn *own);
gboolean   pm_order_view_focus    (PmOrderView *self);
char      *pm_order_view_dup_text (PmOrderView *self);
G_END_DECLS
