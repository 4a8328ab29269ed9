/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A row of children of which some are wrapped texts: each gets its width first, then the row is as high as the highest
 * of them.  GtkBox of GTK 4.8 searches for that height, asking each text at dozens of widths. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
/* Property "spacing": pixels between children. */
#define PM_TYPE_ROW_LAYOUT (pm_row_layout_get_type ())
G_DECLARE_FINAL_TYPE (PmRowLayout, pm_row_layout, PM, ROW_LAYOUT, GtkLayoutManager)
G_END_DECLS
