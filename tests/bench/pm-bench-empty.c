/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The least that a GTK program can be: an empty window of 1280x800 that ends at its second frame, as the real program
 * does with --exit-after-first-frame.  Only pm-bench-window has a use for it. */
#include <gtk/gtk.h>

static gboolean
tick_cb (GtkWidget *window, GdkFrameClock *clock, gpointer data)
{
  guint *frames = data;

  if (++*frames < 2) {
    gtk_widget_queue_draw (window);
    return G_SOURCE_CONTINUE;
  }
  g_application_quit (G_APPLICATION (gtk_window_get_application (GTK_WINDOW (window))));
  return G_SOURCE_REMOVE;
}

static void
activate_cb (GtkApplication *application, guint *frames)
{
  GtkWidget *window = gtk_application_window_new (application);

  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 800);
  gtk_widget_add_tick_callback (window, tick_cb, frames, NULL);
  gtk_window_present (GTK_WINDOW (window));
}

int
main (int argc, char **argv)
{
  g_autoptr (GtkApplication) application =
      gtk_application_new ("org.pointsman.Empty", G_APPLICATION_NON_UNIQUE);
  guint frames = 0;

  g_signal_connect (application, "activate", G_CALLBACK (activate_cb), &frames);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
