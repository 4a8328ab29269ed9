/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Printing and sharing: choices, what GTK writes of them, files, a place that cannot be written, what is remembered. */
#include "pm-page-setup.h"
#include "pm-print-window.h"
#include "window-test.h"
#include <glib/gstdio.h>
#include <string.h>

static PmPrintWindow *
open_print (PmWindow *window, GSettings *settings)
{
  PmChoice *choice = pm_window_get_choice (window);

  return PM_PRINT_WINDOW (pm_print_window_new (GTK_WINDOW (window), pm_choice_get_study (choice),
                                               pm_choice_get_chosen (choice), NULL,
                                               pm_session_get_path (pm_window_get_session (window)), settings));
}

static GtkCheckButton *
check_button (gpointer root, const char *label)
{
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL;
       child = gtk_widget_get_next_sibling (child)) {
    GtkCheckButton *found;

    if (GTK_IS_CHECK_BUTTON (child) && g_strcmp0 (gtk_check_button_get_label (GTK_CHECK_BUTTON (child)), label) == 0)
      return GTK_CHECK_BUTTON (child);
    found = check_button (child, label);
    if (found != NULL)
      return found;
  }
  return NULL;
}

static gboolean
is_pdf (const char *path)
{
  g_autofree char *bytes = NULL;
  gsize length = 0;

  return g_file_get_contents (path, &bytes, &length, NULL) && length > 1000 && strncmp (bytes, "%PDF-", 5) == 0;
}

/* The one page is the default; the ready choices tick sheets, and single ticks leave them. */
static void
test_choices (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip"), *folder = g_dir_make_tmp ("pointsman-XXXXXX", NULL),
                  *out = g_build_filename (folder, "out.pdf", NULL);
  PmWindow *window = window_test_open (path, 1280, 800);
  PmPrintWindow *print = open_print (window, NULL);
  guint one, all;

  gtk_window_present (GTK_WINDOW (print));
  one = pm_print_window_get_n_pages (print);
  g_assert_cmpuint (one, ==, 1);
  g_assert_true (gtk_check_button_get_active (check_button (print, pm_paper_set_title (PM_SET_ONE_PAGE))));
  gtk_check_button_set_active (check_button (print, pm_paper_set_title (PM_SET_EVERYTHING)), TRUE);
  g_assert_false (gtk_check_button_get_active (check_button (print, pm_paper_set_title (PM_SET_ONE_PAGE))));
  g_assert_true (gtk_check_button_get_active (check_button (print, pm_sheet_title (PM_SHEET_WIRES))));
  g_assert_null (check_button (print, pm_sheet_title (PM_SHEET_CABLES))); /* the board has none */
  gtk_check_button_set_active (check_button (print, pm_sheet_title (PM_SHEET_WIRES)), FALSE);
  g_assert_false (gtk_check_button_get_active (check_button (print, pm_paper_set_title (PM_SET_EVERYTHING))));
  g_assert_true (gtk_window_get_focus_visible (GTK_WINDOW (print)));
  g_assert_nonnull (gtk_window_get_focus (GTK_WINDOW (print)));
  g_assert_true (pm_print_window_save (print, out));
  g_assert_nonnull (window_test_label (print, out)); /* where it was saved */
  all = pm_print_window_get_n_pages (print);
  g_assert_cmpuint (all, >, 5);
  g_assert_true (is_pdf (out));
  g_remove (out);
  g_rmdir (folder);
  gtk_window_destroy (GTK_WINDOW (print));
  window_test_close (window);
}

/* What GTK prints, into a file: all pages of it. */
static void
test_export (void)
{
  g_autofree char *path = window_test_board ("three-drive-rotary"), *folder = g_dir_make_tmp ("pointsman-XXXXXX", NULL),
                  *out = g_build_filename (folder, "out.pdf", NULL),
                  *bad = g_build_filename (folder, "no", "x.pdf", NULL);
  PmWindow *window = window_test_open (path, 1280, 800);
  PmPrintWindow *print = open_print (window, NULL);

  g_assert_cmpint (pm_print_window_print (print, GTK_PRINT_OPERATION_ACTION_EXPORT, out), ==,
                   GTK_PRINT_OPERATION_RESULT_APPLY);
  g_assert_true (is_pdf (out));
  g_remove (out);
  g_assert_false (pm_print_window_save (print, bad));
  gtk_window_present (GTK_WINDOW (print));
  g_assert_nonnull (window_test_label (print, "x.pdf")); /* the message names the file */
  g_rmdir (folder);
  gtk_window_destroy (GTK_WINDOW (print));
  window_test_close (window);
}

/* Choices are there again the next time. */
static void
test_remembered (void)
{
  g_autoptr (GSettings) settings = g_settings_new ("org.pointsman.Pointsman");
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 1280, 800);
  PmPrintWindow *print = open_print (window, settings);
  PmPaperOptions options = {0};

  gtk_check_button_set_active (check_button (print, pm_paper_set_title (PM_SET_TO_BUILD)), TRUE);
  gtk_window_destroy (GTK_WINDOW (print));
  print = open_print (window, settings);
  g_assert_true (gtk_check_button_get_active (check_button (print, pm_paper_set_title (PM_SET_TO_BUILD))));
  gtk_window_destroy (GTK_WINDOW (print));
  options.sheets = 1u << PM_SHEET_WIRES;
  options.size = PM_PAPER_LETTER;
  options.no_colour = TRUE;
  options.lists.n_boards = 12;
  pm_page_setup_save (settings, &options);
  memset (&options, 0, sizeof options);
  pm_page_setup_load (settings, &options);
  g_assert_cmpuint (options.sheets, ==, 1u << PM_SHEET_WIRES);
  g_assert_cmpint (options.size, ==, PM_PAPER_LETTER);
  g_assert_true (options.no_colour);
  g_assert_cmpuint (options.lists.n_boards, ==, 12);
  window_test_close (window);
}

/* The text that is copied is the one of the command line. */
static void
copied_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  *(char **) data = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, NULL);
}

static gboolean
is_there (gpointer data)
{
  return *(char **) data != NULL;
}

static void
test_copy (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip"), *text = NULL;
  PmWindow *window = window_test_open (path, 1280, 800);

  window_test_action (window, "win.copy-routes");
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (GTK_WIDGET (window)), NULL, copied_cb, &text);
  window_test_wait (is_there, &text, "the clipboard");
  g_assert_nonnull (strstr (text, "without the board"));
  g_assert_nonnull (strstr (text, "Boot swap rev B on Larkspur 40"));
  window_test_close (window);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/print/choices", test_choices);
  g_test_add_func ("/print/export", test_export);
  g_test_add_func ("/print/remembered", test_remembered);
  g_test_add_func ("/print/copy", test_copy);
  return window_test_run ();
}
