/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each select reaches: a card for each result while there is room, else a table with the chosen and the compared
 * card below. */
#pragma once
#include "pm-also-tried.h"
#include "pm-page.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_ROUTES_PAGE (pm_routes_page_get_type ())
G_DECLARE_FINAL_TYPE (PmRoutesPage, pm_routes_page, PM, ROUTES_PAGE, GtkBox)

/* A PmPage; the room given decides between cards and table. */
gboolean     pm_routes_page_is_table    (PmRoutesPage *self);
/* Chooses the nth result, from 0. */
void         pm_routes_page_choose_result (PmRoutesPage *self, guint result);
G_END_DECLS
