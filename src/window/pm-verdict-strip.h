/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verdict, on every page: mark, sentence, what was tried, what was not, and a way to what is to be done. */
#pragma once
#include "pm-check.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_VERDICT_STRIP (pm_verdict_strip_get_type ())
G_DECLARE_FINAL_TYPE (PmVerdictStrip, pm_verdict_strip, PM, VERDICT_STRIP, GtkBox)

/* Signal "what-to-do": the button. */
void  pm_verdict_strip_show_check  (PmVerdictStrip *self, const PmCheck *check);
/* There is no verdict because the file cannot be read. */
void  pm_verdict_strip_show_faults (PmVerdictStrip *self, const PmFaults *faults);
/* Narrow: the second line folds behind a button. */
void  pm_verdict_strip_set_narrow  (PmVerdictStrip *self, gboolean narrow);
const char *pm_verdict_strip_get_sentence (PmVerdictStrip *self);
/* "line 34", "lines 10 and 13", "the file": where a fault is, for sentences. Free with g_free. */
char *pm_fault_where               (const PmFault *fault);
/* "line 34: U1 has no pin 2YY." Free with g_free. */
char *pm_fault_sentence            (const PmFault *fault);
/* A button for the pane, where no strip of switches has one; NULL: none. */
void  pm_verdict_strip_set_findings (PmVerdictStrip *self, const char *label);
G_END_DECLS
