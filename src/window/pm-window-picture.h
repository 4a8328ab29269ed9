/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A window as it looks now, as a file. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
/* PNG at one pixel per pixel.  The window must be mapped and drawn. FALSE and a message in *error if it cannot be
 * written. */
gboolean pm_window_picture_save (GtkWidget *window, const char *path, GError **error);
G_END_DECLS
