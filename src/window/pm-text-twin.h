/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page as text, to read, select and copy: verdict, what the page shows, all findings. */
#pragma once
#include "pm-page.h"
#include "pm-session.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_TEXT_TWIN (pm_text_twin_get_type ())
G_DECLARE_FINAL_TYPE (PmTextTwin, pm_text_twin, PM, TEXT_TWIN, GtkWindow)

/* Follows the choice, the page and the session while it is open: a file that can no longer be read is told first, with
 * every fault.  page: NULL for what stands around a page only. */
GtkWidget *pm_text_twin_new  (PmChoice *choice, PmSession *session, PmPage *page, GtkWindow *parent);
/* Free with g_free. */
char      *pm_text_twin_text (PmChoice *choice, PmPage *page);
G_END_DECLS
