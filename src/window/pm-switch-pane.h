/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The switches: those moved by hand as pictures, those set once folded, with what their other positions would do. */
#pragma once
#include "pm-choice.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_SWITCH_PANE (pm_switch_pane_get_type ())
G_DECLARE_FINAL_TYPE (PmSwitchPane, pm_switch_pane, PM, SWITCH_PANE, GtkBox)

void     pm_switch_pane_set_choice  (PmSwitchPane *self, PmChoice *choice);
/* FALSE if no switch is moved by hand. */
gboolean pm_switch_pane_focus_first (PmSwitchPane *self);
/* "move only with the power off": of the case, else of the levers on their way in its setting. Borrowed, or NULL. */
const char *pm_switch_caption       (const PmCheck *check, guint case_index);
G_END_DECLS
