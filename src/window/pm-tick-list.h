/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A list whose rows are ticked off: wires, cables, build steps, checks; with its title, how far it is, and its menu.
 *
 * Headings, hold points and cautions are rows too.  A hold point says whether all before it is done; the first row that
 * is not done is marked as the next.
 */
#pragma once
#include "pm-build-lists.h"

G_BEGIN_DECLS
#define PM_TYPE_TICK_LIST (pm_tick_list_get_type ())
G_DECLARE_FINAL_TYPE (PmTickList, pm_tick_list, PM, TICK_LIST, GtkBox)

GtkWidget *pm_tick_list_new      (PmListKind kind, PmBuildLists *lists);
/* own may be NULL: nothing is shown then. */
void       pm_tick_list_set_own  (PmTickList *self, PmBuildOwn *own);
/* Width there is, at ordinary text. */
void       pm_tick_list_set_room (PmTickList *self, int width);
/* Puts the focus on the next row that is not done, else the first. */
gboolean   pm_tick_list_focus    (PmTickList *self);
char      *pm_tick_list_dup_text (PmTickList *self);
G_END_DECLS
