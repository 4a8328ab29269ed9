/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The switches that are moved by hand in a line under the verdict, where there is no room for the pane, and a button
 * for the pane. */
#pragma once
#include "pm-choice.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_SWITCH_STRIP (pm_switch_strip_get_type ())
G_DECLARE_FINAL_TYPE (PmSwitchStrip, pm_switch_strip, PM, SWITCH_STRIP, GtkBox)

void     pm_switch_strip_set_choice  (PmSwitchStrip *self, PmChoice *choice);
/* FALSE if no switch is moved by hand. */
gboolean pm_switch_strip_focus_first (PmSwitchStrip *self);
gboolean pm_switch_strip_has_levers  (PmSwitchStrip *self);
/* "Findings 2 (F9)": what its button for the pane says. */
const char *pm_switch_strip_get_findings (PmSwitchStrip *self);
G_END_DECLS
