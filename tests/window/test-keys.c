/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Real keys, sent by xdotool through the X server, as somebody without a pointer works. */
#include "pm-drawer.h"
#include "pm-finding-list.h"
#include "pm-spot-view.h"
#include "pm-switch-view.h"
#include "window-test.h"
#include <gdk/x11/gdkx.h>

static gboolean
has_ended (gpointer data)
{
  return *(gboolean *) data;
}

static void
ended_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_assert_true (g_subprocess_wait_check_finish (G_SUBPROCESS (source), result, NULL));
  *(gboolean *) data = TRUE;
}

static void
xdotool (PmWindow *window, const char *command, const char *argument)
{
  gboolean ended = FALSE;
  g_autoptr (GError) error = NULL;
  g_autoptr (GSubprocess) process =
      g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_SILENCE, &error, "xdotool", command, argument, NULL);

  g_assert_no_error (error);
  g_subprocess_wait_check_async (process, NULL, ended_cb, &ended);
  window_test_wait (has_ended, &ended, "xdotool ends");
  window_test_settle (window);
}

static void
key (PmWindow *window, const char *name)
{
  xdotool (window, "key", name);
}

/* There is no window manager to give it the keyboard. */
static void
take_keyboard (PmWindow *window)
{
  GdkSurface *surface = gtk_native_get_surface (GTK_NATIVE (window));
  g_autofree char *number = g_strdup_printf ("%lu", gdk_x11_surface_get_xid (surface));

  xdotool (window, "windowfocus", number);
}

static gboolean
focus_is_in (PmWindow *window, GType type)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (window));

  return focus != NULL && (g_type_is_a (G_OBJECT_TYPE (focus), type) || gtk_widget_get_ancestor (focus, type) != NULL);
}

static const char *
chosen_name (PmWindow *window)
{
  PmChoice *choice = pm_window_get_choice (window);

  return pm_choice_get_check (choice)->cases[pm_choice_get_shown (choice)].name;
}

static void
test_levers (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 1280, 800);

  take_keyboard (window);
  g_assert_true (focus_is_in (window, PM_TYPE_SWITCH_VIEW)); /* first focus: the first switch */
  g_assert_cmpstr (chosen_name (window), ==, "inside");
  key (window, "Right");
  g_assert_cmpstr (chosen_name (window), ==, "outside");
  key (window, "Left");
  g_assert_cmpstr (chosen_name (window), ==, "inside");
  key (window, "bracketright");
  g_assert_cmpstr (chosen_name (window), ==, "outside");
  key (window, "bracketleft");
  g_assert_cmpstr (chosen_name (window), ==, "inside");
  g_assert_nonnull (strstr (pm_window_get_announced (window), "inside"));
  window_test_close (window);
}

static void
test_findings (void)
{
  g_autofree char *path = window_test_board ("switched-on-one-side-only");
  PmWindow *window = window_test_open (path, 1280, 800);
  PmChoice *choice = pm_window_get_choice (window);

  take_keyboard (window);
  g_assert_cmpint (pm_choice_get_finding (choice), ==, 0);
  g_assert_nonnull (window_test_find (window, PM_TYPE_DRAWER, 0));
  key (window, "Escape");
  g_assert_null (window_test_find (window, PM_TYPE_DRAWER, 0));
  key (window, "F8");
  g_assert_nonnull (window_test_find (window, PM_TYPE_DRAWER, 0));
  key (window, "shift+F8");
  g_assert_cmpint (pm_choice_get_finding (choice), >=, 0);
  key (window, "ctrl+e");
  g_assert_true (focus_is_in (window, PM_TYPE_FILE_VIEW));
  g_assert_cmpstr (pm_file_view_get_mark (PM_FILE_VIEW (window_test_find (window, PM_TYPE_FILE_VIEW, 0)),
                                          pm_choice_get_check (choice)->findings[0].spots[0].line), ==, "STOP");
  key (window, "ctrl+e");
  g_assert_null (window_test_find (window, PM_TYPE_FILE_VIEW, 0));
  key (window, "F9");
  g_assert_null (window_test_find (window, PM_TYPE_FINDING_LIST, 0));
  key (window, "F9");
  g_assert_nonnull (window_test_find (window, PM_TYPE_FINDING_LIST, 0));
  window_test_close (window);
}

/* F6 comes round through every area, and Tab never gets stuck. */
static void
test_areas (void)
{
  g_autofree char *path = window_test_board ("switched-on-one-side-only");
  PmWindow *window = window_test_open (path, 1280, 800);
  GtkWidget *first;
  guint steps = 0;

  take_keyboard (window);
  first = gtk_window_get_focus (GTK_WINDOW (window));
  for (; steps < 8; steps++) {
    key (window, "F6");
    if (gtk_window_get_focus (GTK_WINDOW (window)) == first)
      break;
  }
  g_assert_cmpuint (steps, >=, 2);
  g_assert_cmpuint (steps, <, 8);
  for (steps = 0; steps < 40; steps++) {
    key (window, "Tab");
    if (gtk_window_get_focus (GTK_WINDOW (window)) == first)
      break;
  }
  g_assert_cmpuint (steps, <, 40);
  window_test_close (window);
}

/* The sheet of a narrow window opens, is walked in, and closes. */
static void
test_sheet (void)
{
  g_autofree char *path = window_test_board ("switched-on-one-side-only");
  PmWindow *window = window_test_open (path, 800, 600);

  take_keyboard (window);
  g_assert_true (focus_is_in (window, PM_TYPE_SWITCH_VIEW));
  key (window, "F9");
  g_assert_true (focus_is_in (window, PM_TYPE_FINDING_LIST));
  /* However often: the focus stays where it can be seen, not behind the sheet. */
  for (guint i = 0; i < 12; i++) {
    GtkWidget *focus;

    key (window, i < 10 ? "Tab" : "F6");
    focus = gtk_window_get_focus (GTK_WINDOW (window));
    g_assert_nonnull (focus);
    g_assert_null (gtk_widget_get_ancestor (focus, GTK_TYPE_PANED));
    g_assert_true (gtk_window_get_focus_visible (GTK_WINDOW (window)));
  }
  gtk_widget_grab_focus (
      window_test_find (window_test_find (window, PM_TYPE_FINDING_LIST, 0), GTK_TYPE_LIST_BOX_ROW, 0));
  key (window, "Return");
  g_assert_null (window_test_find (window, PM_TYPE_FINDING_LIST, 0));
  g_assert_nonnull (window_test_find (window, PM_TYPE_DRAWER, 0));
  window_test_close (window);
}

/* Ctrl+O, F1, Ctrl+?, F10 open something, and Escape closes it again. */
static void
test_dialogs (void)
{
  static const char *const keys[] = { "ctrl+o", "F1", "ctrl+question", "ctrl+t" };
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 1280, 800);

  for (guint i = 0; i < G_N_ELEMENTS (keys); i++) {
    guint before = g_list_model_get_n_items (gtk_window_get_toplevels ());

    take_keyboard (window);
    key (window, keys[i]);
    g_assert_cmpuint (g_list_model_get_n_items (gtk_window_get_toplevels ()), ==, before + 1);
    for (guint k = 0; k < g_list_model_get_n_items (gtk_window_get_toplevels ()); k++) {
      g_autoptr (GtkWindow) other = g_list_model_get_item (gtk_window_get_toplevels (), k);

      if (GTK_WIDGET (other) != GTK_WIDGET (window))
        gtk_window_close (other);
    }
    window_test_settle (window);
    g_assert_cmpuint (g_list_model_get_n_items (gtk_window_get_toplevels ()), ==, before);
  }
  window_test_close (window);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/keys/levers", test_levers);
  g_test_add_func ("/keys/findings", test_findings);
  g_test_add_func ("/keys/areas", test_areas);
  g_test_add_func ("/keys/sheet", test_sheet);
  g_test_add_func ("/keys/dialogs", test_dialogs);
  return window_test_run ();
}
