/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One thing in a picture that can have the focus: it draws nothing but its focus ring, and says its sentence. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_SPOT_VIEW (pm_spot_view_get_type ())
G_DECLARE_FINAL_TYPE (PmSpotView, pm_spot_view, PM, SPOT_VIEW, GtkWidget)

/* role: LIST_ITEM in a plan, RADIO for a place of a switch.  Signal "activate": Enter, Space or a click. */
GtkWidget  *pm_spot_view_new          (GtkAccessibleRole role, const char *sentence);
void        pm_spot_view_set_sentence (PmSpotView *self, const char *sentence);
const char *pm_spot_view_get_sentence (PmSpotView *self);
/* Moves the focus among the spots of parent in order, for a parent's focus vfunc: Tab enters at current (or the first)
 * and leaves from any, arrows go one on and stop at the ends.  Returns TRUE where the direction is dealt with. */
gboolean    pm_spot_view_rove         (GtkWidget *parent, GtkDirectionType direction, GtkWidget *current);
G_END_DECLS
