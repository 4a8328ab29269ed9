/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The help window: what the words mean, and the keys.  Everything in it comes with the program. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_HELP (pm_help_get_type ())
G_DECLARE_FINAL_TYPE (PmHelp, pm_help, PM, HELP, GtkWindow)

/* page: "words" or "keys".  There is one help window for each parent. */
void pm_help_show (GtkWindow *parent, const char *page);
G_END_DECLS
