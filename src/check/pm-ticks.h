/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which steps of a board are done: ticks, remembered by the ids of list rows, in a person's own data. */
#pragma once
#include <gio/gio.h>

G_BEGIN_DECLS
typedef struct _PmTicks PmTicks;
/* A file that is not there has no ticks. */
PmTicks    *pm_ticks_load (const char *path, GError **error);
gboolean    pm_ticks_save (const PmTicks *ticks, const char *path, GError **error);
void        pm_ticks_free (PmTicks *ticks);
gboolean    pm_ticks_get  (const PmTicks *ticks, const char *id);
void        pm_ticks_set  (PmTicks *ticks, const char *id, gboolean done);

/* Where a person's own data of a board stands: "orders", "ticks" and the board's path give one file; board NULL gives
 * one file for all, as for "prices".  Folders are made when it is first written to (pm_user_data_prepare).  g_free. */
char       *pm_user_data_path (const char *what, const char *board);
gboolean    pm_user_data_prepare (const char *path, GError **error);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmTicks, pm_ticks_free)
G_END_DECLS
