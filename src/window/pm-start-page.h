/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is there without a board: what the program does, and three ways to begin. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_START_PAGE (pm_start_page_get_type ())
G_DECLARE_FINAL_TYPE (PmStartPage, pm_start_page, PM, START_PAGE, GtkBox)

/* Signal "file-activated" (const char *path). */
void pm_start_page_refresh (PmStartPage *self);
/* On the newest board, else on the button that opens one. */
void pm_start_page_focus   (PmStartPage *self);
G_END_DECLS
