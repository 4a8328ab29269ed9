/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The main window: one board at a time. */
#pragma once
#include "pm-page.h"
#include "pm-session.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_WINDOW (pm_window_get_type ())
G_DECLARE_FINAL_TYPE (PmWindow, pm_window, PM, WINDOW, GtkApplicationWindow)

/* settings may be NULL: nothing is remembered.  width or height 0: as remembered. */
GtkWidget  *pm_window_new         (GtkApplication *application, GSettings *settings, int width, int height);
void        pm_window_open        (PmWindow *self, const char *path);
/* Shows it, but what is being opened first has a moment in which it may become ready: then nothing else is seen. */
void        pm_window_present_ready (PmWindow *self);
gboolean    pm_window_has_board   (PmWindow *self);   /* a file is open or being opened */
gboolean    pm_window_is_settled  (PmWindow *self);   /* nothing is being read or checked */
PmPage     *pm_window_get_shown_page (PmWindow *self); /* NULL where the faults are the page, or nothing is open */
PmChoice   *pm_window_get_choice  (PmWindow *self);
PmSession  *pm_window_get_session (PmWindow *self);
const char *pm_window_get_announced (PmWindow *self); /* what the status label said last */
G_END_DECLS
