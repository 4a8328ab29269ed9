/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The theme as the pictures need it, and the choice between light and dark. */
#pragma once
#include "pm-style.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
/* A style in the widget's colours and font: light, dark or high contrast as its theme is now.  Make a new one in
 * css_changed. */
PmStyle *pm_look_new_style      (GtkWidget *widget);
gboolean pm_look_is_high_contrast (GtkWidget *widget);
gboolean pm_look_is_dark        (GtkWidget *widget);
/* How much larger than usual the person reads: 1 at 96 dpi text, 2 at 200 %. */
double   pm_look_text_scale     (GtkWidget *widget);
/* Loads the program's own CSS for the display, follows the setting "style" (system, light, dark) and, for system, the
 * desktop's colour scheme. settings may be NULL. */
void     pm_look_follow         (GdkDisplay *display, GSettings *settings);
/* Shows where the focus is in this window from its start and always, not only for a while after a key. */
void     pm_look_show_focus     (GtkWindow *window);
G_END_DECLS
