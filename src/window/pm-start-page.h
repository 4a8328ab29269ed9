/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is there without a board: what the program does, and three ways to begin. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_START_PAGE (pm_start_page_get_type ())
G_DECLARE_FINAL_TYPE (PmStartPage, pm_start_page, PM, START_PAGE, GtkBox)

/* Signal "file-activated" (const char *path).  When it comes into sight it reads what is recent, and the newest board
 * takes the focus, or without one the button that opens one. */
G_END_DECLS
