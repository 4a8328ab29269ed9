/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A chip for each variation of the chosen setting.  Only those with findings speak; the rest fold into "5 more". */
#pragma once
#include "pm-choice.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_ALSO_TRIED (pm_also_tried_get_type ())
G_DECLARE_FINAL_TYPE (PmAlsoTried, pm_also_tried, PM, ALSO_TRIED, GtkBox)

void  pm_also_tried_set_choice   (PmAlsoTried *self, PmChoice *choice);
/* TRUE if it was a chip's variation, which has been ended: for Escape. */
gboolean pm_also_tried_end       (PmAlsoTried *self);
/* Whether a case is a variation of a setting. */
gboolean pm_case_is_variation_of (const PmCheck *check, guint case_index, guint setting);
/* What to say of a variation; of one that adds nothing to a setting that is itself a stop or a care: "nothing
 * further".  Borrowed. */
const char *pm_variation_verdict (const PmCheck *check, guint case_index);
G_END_DECLS
