/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Asking where something is to be saved. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
/* path: chosen, local.  data is the caller's, who must be there while parent is. */
typedef void (*PmSaveFunc) (const char *path, gpointer data);

/* A dialog over parent that proposes "NAME.ending" for board NAME.board.xml, in its folder where it has one; ending
 * NULL asks for a folder.  func is not called when it is cancelled.  One at a time for each parent. */
void pm_save_as (GtkWindow *parent, const char *title, const char *board, const char *ending, PmSaveFunc func,
                 gpointer data);
G_END_DECLS
