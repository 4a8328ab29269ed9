/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawer at the foot: the open finding in full, or a file with findings marked at their lines. */
#pragma once
#include "pm-choice.h"
#include "pm-file-view.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_DRAWER (pm_drawer_get_type ())
G_DECLARE_FINAL_TYPE (PmDrawer, pm_drawer, PM, DRAWER, GtkBox)

/* Signals "closed": its button was pressed; the window hides it.  "turned": it shows the finding or the file now, and
 * may need another height. */
void        pm_drawer_set_choice   (PmDrawer *self, PmChoice *choice);
void        pm_drawer_show_finding (PmDrawer *self);
/* path NULL: the file that is shown, else the board's.  line 0: where the cursor is. */
void        pm_drawer_show_file    (PmDrawer *self, const char *path, guint line);
/* The file at a fault; NULL: the board's. */
void        pm_drawer_show_fault   (PmDrawer *self, const PmFault *fault);
/* What the file is marked with, and the board's path: after each load. */
void        pm_drawer_set_source   (PmDrawer *self, const char *board_path, const PmFaults *faults);
gboolean    pm_drawer_is_file      (PmDrawer *self);
/* The height that the finding needs at a width.  Where that is over most: one at which no row is cut, with "To do" if
 * that is possible within most_to_do. */
int         pm_drawer_fit          (PmDrawer *self, int width, int most, int most_to_do);
/* How wide it is going to be. */
void        pm_drawer_set_width    (PmDrawer *self, int width);
void        pm_drawer_focus        (PmDrawer *self);
PmFileView *pm_drawer_get_file_view (PmDrawer *self);    /* NULL until a file has been shown */
/* The seven rows as text. Free with g_free. */
char       *pm_finding_to_text     (const PmFinding *finding);
G_END_DECLS
