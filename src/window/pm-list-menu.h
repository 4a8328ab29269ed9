/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The menu of one list: copy as text, save as CSV, print. */
#pragma once
#include "pm-list.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
/* The list as it is now, or NULL where there is none; plain: for CSV.  pm_list_free. */
typedef PmList *(*PmListMenuFunc) (GtkWidget *owner, gboolean plain);
/* Says what was done. */
typedef void    (*PmListToldFunc) (GtkWidget *owner, const char *text);

/* owner: a widget that contains the button.  title: of the list.  board: as pm_save_as takes it; set anew with
 * pm_list_menu_set_board. */
GtkWidget *pm_list_menu_new       (GtkWidget *owner, const char *title, PmListMenuFunc get, PmListToldFunc told);
void       pm_list_menu_set_board (GtkWidget *menu, const char *board);
G_END_DECLS
