/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Children one after the other, in as many lines as their widths need, like words in a text. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_WRAP_LAYOUT (pm_wrap_layout_get_type ())
G_DECLARE_FINAL_TYPE (PmWrapLayout, pm_wrap_layout, PM, WRAP_LAYOUT, GtkLayoutManager)

/* A plain container widget with this layout; add to it with gtk_widget_set_parent.  Unparents its children when it
 * goes. */
#define PM_TYPE_WRAP_BOX (pm_wrap_box_get_type ())
G_DECLARE_FINAL_TYPE (PmWrapBox, pm_wrap_box, PM, WRAP_BOX, GtkWidget)

GtkWidget *pm_wrap_box_new    (int spacing);
void       pm_wrap_box_append (PmWrapBox *self, GtkWidget *child);
void       pm_wrap_box_clear  (PmWrapBox *self);
G_END_DECLS
