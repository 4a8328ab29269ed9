/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Board files to choose from: those opened last, or the examples. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_FILE_LIST (pm_file_list_get_type ())
G_DECLARE_FINAL_TYPE (PmFileList, pm_file_list, PM, FILE_LIST, GtkBox)

#define PM_RECENT_APP "Pointsman"
#define PM_BOARD_TYPE "application/x-pointsman-board+xml"

/* Signal "file-activated" (const char *path).  Both fill anew and return how many there are. */
guint    pm_file_list_fill_recent   (PmFileList *self, guint most);
guint    pm_file_list_fill_examples (PmFileList *self);
gboolean pm_file_list_focus_first   (PmFileList *self);
/* Title and first sentence of the about of a board file, read quickly and forgivingly; NULL where it has none. */
void     pm_file_list_read_head     (const char *path, char **title, char **about);
/* Paths of the examples, sorted by title. Free with g_strfreev. */
char   **pm_file_list_examples      (void);
G_END_DECLS
