/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One switch that is moved by hand, drawn as what it is.  Its places are radio buttons to whoever cannot see it: arrows
 * move the lever. */
#pragma once
#include "pm-choice.h"
#include "pm-switch-picture.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_SWITCH_VIEW (pm_switch_view_get_type ())
G_DECLARE_FINAL_TYPE (PmSwitchView, pm_switch_view, PM, SWITCH_VIEW, GtkWidget)

/* Follows the choice, which it borrows, until the choice gets another study: views are made anew then. */
GtkWidget *pm_switch_view_new         (PmChoice *choice, guint switch_index);
/* No wider than it must be. */
void       pm_switch_view_set_compact (PmSwitchView *self, gboolean compact);
G_END_DECLS
