/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows whose cells stand in columns although each row is a widget of its own: as wide as their words where there is
 * room, else wrapped. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_COLUMNS (pm_columns_get_type ())
G_DECLARE_FINAL_TYPE (PmColumns, pm_columns, PM, COLUMNS, GObject)

/* A row of the table: give it cells with gtk_widget_set_parent, in order.  Unparents them when it goes. */
#define PM_TYPE_COLUMNS_ROW (pm_columns_row_get_type ())
G_DECLARE_FINAL_TYPE (PmColumnsRow, pm_columns_row, PM, COLUMNS_ROW, GtkWidget)

PmColumns *pm_columns_new     (guint n, int spacing);
GtkWidget *pm_columns_new_row (PmColumns *self);
/* The column that is made wider where there is room; at first the last. */
void       pm_columns_set_growing (PmColumns *self, guint column);
/* Cells have other words than when they were measured. */
void       pm_columns_forget  (PmColumns *self);
G_END_DECLS
