/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each select reaches: a card for each result while there is room, else a table with the chosen and the compared
 * card below. */
#pragma once
#include "pm-also-tried.h"
#include "pm-choice.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_ROUTES_PAGE (pm_routes_page_get_type ())
G_DECLARE_FINAL_TYPE (PmRoutesPage, pm_routes_page, PM, ROUTES_PAGE, GtkBox)

void         pm_routes_page_set_choice  (PmRoutesPage *self, PmChoice *choice);
/* The room there is for cards, drawer closed; decides between cards and table. */
void         pm_routes_page_set_room    (PmRoutesPage *self, int width, int height, gboolean narrow);
/* "as it was at 14:02, before line 34 went wrong", or NULL. */
void         pm_routes_page_set_stale   (PmRoutesPage *self, const char *text);
PmAlsoTried *pm_routes_page_get_also_tried (PmRoutesPage *self);
/* Puts the focus on the chosen card's plan or table row. */
gboolean     pm_routes_page_focus       (PmRoutesPage *self);
gboolean     pm_routes_page_is_table    (PmRoutesPage *self);
/* Chooses the nth result, from 0. */
void         pm_routes_page_choose_result (PmRoutesPage *self, guint result);
G_END_DECLS
