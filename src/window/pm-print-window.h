/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Choosing what is printed, seeing it, and printing it or saving it as PDF, SVG or PNG. */
#pragma once
#include "pm-study.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_PRINT_WINDOW (pm_print_window_get_type ())
G_DECLARE_FINAL_TYPE (PmPrintWindow, pm_print_window, PM, PRINT_WINDOW, GtkWindow)

/* case_index: the setting drawn on the diagram.  stale: "as it was at …", printed on every sheet, or NULL.  settings:
 * what is remembered, or NULL.  path: of the board file, for the name of what is saved. */
GtkWidget *pm_print_window_new  (GtkWindow *parent, PmStudy *study, guint case_index, const char *stale,
                                 const char *path, GSettings *settings);
/* How many pages are shown. */
guint      pm_print_window_get_n_pages (PmPrintWindow *self);
/* Saves what is shown; the ending decides the format.  FALSE: the message stands in the window. */
gboolean   pm_print_window_save (PmPrintWindow *self, const char *path);
/* Runs a print of what is shown; action as in GTK; export_path for GTK_PRINT_OPERATION_ACTION_EXPORT, else NULL. */
GtkPrintOperationResult pm_print_window_print (PmPrintWindow *self, GtkPrintOperationAction action,
                                               const char *export_path);
G_END_DECLS
