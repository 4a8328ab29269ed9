/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A file as text, to read: line numbers, and the findings or faults of each line in words beside it. */
#pragma once
#include "pm-check.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_FILE_VIEW (pm_file_view_get_type ())
G_DECLARE_FINAL_TYPE (PmFileView, pm_file_view, PM, FILE_VIEW, GtkBox)

GtkWidget  *pm_file_view_new        (void);
/* Reads path again if it has changed.  Marks come from the check's spots or from the faults; either may be NULL.
 * board_path tells which spots are the board's own.  Signal "finding-activated" (uint): a mark was pressed. */
void        pm_file_view_show       (PmFileView *self, const char *path, const PmCheck *check, const PmFaults *faults);
/* Puts the cursor on a line and scrolls there; 0 leaves it. */
void        pm_file_view_go_to_line (PmFileView *self, guint line);
guint       pm_file_view_get_line   (PmFileView *self);
/* "STOP", "CARE", "note", "fault" or NULL: what stands beside a line. */
const char *pm_file_view_get_mark   (PmFileView *self, guint line);
char       *pm_file_view_dup_text   (PmFileView *self);
void        pm_file_view_focus      (PmFileView *self);
/* Whether a spot is in the file at path: the board's spots carry its path, those of files found by name the base name.
 */
gboolean    pm_spot_is_in_file      (PmSpot spot, const char *path);
G_END_DECLS
