/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One GtkApplication for the whole program; windows come and go with each test. */
#include "window-test.h"
#include "pm-application.h"
#include "pm-file-list.h"
#include <glib/gstdio.h>

#define PATIENCE 30 /* seconds; machines that test are busy */

static GtkApplication *application; /* of this test program */

void
window_test_init (int *argc, char ***argv)
{
  gtk_test_init (argc, argv, NULL);
  application = GTK_APPLICATION (pm_application_new ());
  g_application_set_flags (G_APPLICATION (application), G_APPLICATION_NON_UNIQUE | G_APPLICATION_HANDLES_OPEN);
  g_assert_true (g_application_register (G_APPLICATION (application), NULL, NULL));
}

int
window_test_run (void)
{
  int status = g_test_run ();

  g_clear_object (&application);
  return status;
}

void
window_test_wait (gboolean (*condition) (gpointer data), gpointer data, const char *what)
{
  gint64 end = g_get_monotonic_time () + PATIENCE * G_USEC_PER_SEC;

  while (!condition (data)) {
    if (g_get_monotonic_time () > end)
      g_error ("waited in vain: %s", what);
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (1000);
  }
}

static gboolean
is_settled (gpointer window)
{
  return pm_window_is_settled (window) && gtk_widget_get_mapped (window);
}

typedef struct { GtkWidget *widget; gint64 until; } Frames;

static gboolean
has_drawn (gpointer data)
{
  Frames *frames = data;

  gtk_widget_queue_draw (frames->widget);
  return gdk_frame_clock_get_frame_counter (gtk_widget_get_frame_clock (frames->widget)) >= frames->until;
}

/* Sizes are handed out when a frame is made, and what they bring about in the one after. */
void
window_test_settle (PmWindow *window)
{
  Frames frames = { GTK_WIDGET (window), 0 };

  window_test_wait (is_settled, window, "the window settles");
  frames.until = gdk_frame_clock_get_frame_counter (gtk_widget_get_frame_clock (frames.widget)) + 3;
  window_test_wait (has_drawn, &frames, "three frames");
  window_test_wait (is_settled, window, "the window settles again");
}

PmWindow *
window_test_open (const char *path, int width, int height)
{
  PmWindow *window = PM_WINDOW (pm_window_new (application, NULL, width, height));

  if (path != NULL)
    pm_window_open (window, path);
  gtk_window_present (GTK_WINDOW (window));
  window_test_settle (window);
  return window;
}

void
window_test_close (PmWindow *window)
{
  gtk_window_destroy (GTK_WINDOW (window));
  while (g_main_context_iteration (NULL, FALSE))
    ;
}

static GtkWidget *
find (GtkWidget *widget, GType type, guint *n, const char *text)
{
  if (!gtk_widget_get_mapped (widget))
    return NULL;
  if (g_type_is_a (G_OBJECT_TYPE (widget), type) &&
      (text == NULL || strstr (gtk_label_get_text (GTK_LABEL (widget)), text) != NULL)) {
    if (*n == 0)
      return widget;
    (*n)--;
  }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child)) {
    GtkWidget *found = find (child, type, n, text);

    if (found != NULL)
      return found;
  }
  return NULL;
}

GtkWidget *
window_test_find (gpointer root, GType type, guint n)
{
  return find (root, type, &n, NULL);
}

guint
window_test_count (gpointer root, GType type)
{
  guint n = 100000, left = n;

  find (root, type, &left, NULL);
  return n - left;
}

GtkWidget *
window_test_label (gpointer root, const char *text)
{
  guint n = 0;

  return find (root, GTK_TYPE_LABEL, &n, text);
}

void
window_test_action (PmWindow *window, const char *name)
{
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), name, NULL));
  window_test_settle (window);
}

char *
window_test_board (const char *name)
{
  g_autofree char *file = g_strconcat (name, ".board.xml", NULL);

  return g_build_filename (g_getenv ("POINTSMAN_DATA"), "boards", file, NULL);
}

void
window_test_replace (const char *path, const char *from, const char *to)
{
  g_autofree char *text = NULL;
  g_autoptr (GString) changed = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  changed = g_string_new (text);
  g_assert_cmpuint (g_string_replace (changed, from, to, 0), >, 0);
  g_assert_true (g_file_set_contents (path, changed->str, (gssize) changed->len, NULL));
}

char *
window_test_copy (const char *name, const char *from, const char *to)
{
  g_autofree char *source = window_test_board (name), *text = NULL, *folder = NULL, *path = NULL;

  g_assert_true (g_file_get_contents (source, &text, NULL, NULL));
  folder = g_dir_make_tmp ("window-XXXXXX", NULL);
  path = g_build_filename (folder, "copy.board.xml", NULL);
  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  if (from != NULL)
    window_test_replace (path, from, to);
  return g_steal_pointer (&path);
}
