/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Behind "Open": a dialog, recent boards, examples.  Filled each time it opens. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_OPEN_POPOVER (pm_open_popover_get_type ())
G_DECLARE_FINAL_TYPE (PmOpenPopover, pm_open_popover, PM, OPEN_POPOVER, GtkPopover)

/* Signal "file-activated" (const char *path).  only_examples: without the button and the recent ones. */
GtkWidget *pm_open_popover_new (gboolean only_examples);
G_END_DECLS
