/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page as text, to read, select and copy: verdict, routes of every result, also tried, all findings. */
#pragma once
#include "pm-choice.h"
#include "pm-session.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_TEXT_TWIN (pm_text_twin_get_type ())
G_DECLARE_FINAL_TYPE (PmTextTwin, pm_text_twin, PM, TEXT_TWIN, GtkWindow)

/* Follows the choice and the session while it is open: a file that can no longer be read is told first, with every
 * fault. */
GtkWidget *pm_text_twin_new  (PmChoice *choice, PmSession *session, GtkWindow *parent);
/* context: any widget's; only for the sentences of the plans.  Free with g_free. */
char      *pm_text_twin_text (PmChoice *choice, PangoContext *context);
G_END_DECLS
