/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawer at the foot: the open finding in full, or a file with findings marked at their lines. */
#pragma once
#include "pm-choice.h"
#include "pm-file-view.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_DRAWER (pm_drawer_get_type ())
G_DECLARE_FINAL_TYPE (PmDrawer, pm_drawer, PM, DRAWER, GtkBox)

/* Signal "closed": its button was pressed; the window hides it. */
void        pm_drawer_set_choice   (PmDrawer *self, PmChoice *choice);
void        pm_drawer_show_finding (PmDrawer *self);
/* path NULL: the file that is shown, else the board's.  line 0: where the cursor is. */
void        pm_drawer_show_file    (PmDrawer *self, const char *path, guint line);
/* What the file is marked with, and the board's path: after each load. */
void        pm_drawer_set_source   (PmDrawer *self, const char *board_path, const PmFaults *faults);
gboolean    pm_drawer_is_file      (PmDrawer *self);
void        pm_drawer_focus        (PmDrawer *self);
PmFileView *pm_drawer_get_file_view (PmDrawer *self);    /* NULL until a file has been shown */
/* The seven rows as text. Free with g_free. */
char       *pm_finding_to_text     (const PmFinding *finding);
G_END_DECLS
