/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Labels as most of the window has them. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
/* From the left, wrapped between words, or in them where a word is longer than there is room. */
GtkWidget *pm_label_new_wrapped (const char *text);
/* The same, its first line at the top. */
GtkWidget *pm_label_new_cell    (const char *text);
G_END_DECLS
