/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Through the widget's paintable and its own renderer, so no screen shot tool is needed. */
#include "config.h"
#include "pm-window-picture.h"
#include <glib/gi18n.h>

gboolean
pm_window_picture_save (GtkWidget *window, const char *path, GError **error)
{
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (window);
  g_autoptr (GdkTexture) texture = NULL;
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  GskRenderer *renderer = gtk_native_get_renderer (GTK_NATIVE (window));
  GskRenderNode *node;
  int width = gdk_paintable_get_intrinsic_width (paintable), height = gdk_paintable_get_intrinsic_height (paintable);

  gdk_paintable_snapshot (paintable, GDK_SNAPSHOT (snapshot), width, height);
  node = gtk_snapshot_free_to_node (snapshot);
  if (node == NULL || renderer == NULL) {
    g_clear_pointer (&node, gsk_render_node_unref);
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _("%s: nothing has been drawn yet"), path);
    return FALSE;
  }
  texture = gsk_renderer_render_texture (renderer, node, &GRAPHENE_RECT_INIT (0, 0, width, height));
  gsk_render_node_unref (node);
  if (!gdk_texture_save_to_png (texture, path)) {
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _("%s: cannot be written"), path);
    return FALSE;
  }
  return TRUE;
}
