/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Build page: prices typed in place, ticks that are there again, a group order, undo, files that cannot be read or
 * written, names for screen readers. */
#include "pm-build-page.h"
#include "pm-order.h"
#include "pm-order-view.h"
#include "pm-parts-view.h"
#include "pm-person-row.h"
#include "pm-price-entry.h"
#include "pm-text-twin.h"
#include "pm-tick-list.h"
#include "pm-ticks.h"
#include "window-test.h"
#include <glib/gstdio.h>
#include <signal.h>
#include <sys/resource.h>

static PmBuildPage *
page_of (PmWindow *window, const char *view)
{
  PmBuildPage *page;

  g_object_set (window, "page", "build", NULL);
  window_test_settle (window);
  page = PM_BUILD_PAGE (pm_window_get_shown_page (window));
  pm_build_page_set_view (page, view);
  window_test_settle (window);
  g_assert_cmpstr (pm_build_page_get_view (page), ==, view);
  return page;
}

static GtkWidget *
button_of (gpointer root, const char *label)
{
  GtkWidget *button;

  for (guint n = 0; (button = window_test_find (root, GTK_TYPE_BUTTON, n)) != NULL; n++)
    if (g_strcmp0 (gtk_button_get_label (GTK_BUTTON (button)), label) == 0)
      return button;
  return NULL;
}

static void
click (PmWindow *window, gpointer root, const char *label)
{
  GtkWidget *button = button_of (root, label);

  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
  window_test_settle (window);
}

static void
type (PmWindow *window, gpointer root, guint nth, const char *text)
{
  PmPriceEntry *price = PM_PRICE_ENTRY (window_test_find (root, PM_TYPE_PRICE_ENTRY, nth));
  GtkWidget *entry = pm_price_entry_get_entry (price);

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  g_signal_emit_by_name (entry, "activate");
  window_test_settle (window);
}

static const char *
typed (gpointer root, guint nth)
{
  PmPriceEntry *price = PM_PRICE_ENTRY (window_test_find (root, PM_TYPE_PRICE_ENTRY, nth));

  return gtk_editable_get_text (GTK_EDITABLE (pm_price_entry_get_entry (price)));
}

static void
forget_prices (void)
{
  g_autofree char *path = pm_user_data_path ("prices", NULL);

  g_unlink (path);
}

/* Nothing is wider than the window in any view, and each says what it is. */
static void
test_views (void)
{
  static const char *const views[] = {"parts", "wires", "steps", "checks", "order"};
  static const struct { const char *board; int width, height; } cases[] = {
      {"swap-by-chip", 1280, 800},
      {"swap-by-chip", 800, 600},
      {"sixteen-settings", 800, 600},
      {"jumper-only", 800, 600},
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autofree char *path = window_test_board (cases[i].board);
    PmWindow *window = window_test_open (path, cases[i].width, cases[i].height);

    for (guint v = 0; v < G_N_ELEMENTS (views); v++) {
      PmBuildPage *page = page_of (window, views[v]);
      g_autofree char *text = pm_page_dup_text (PM_PAGE (page));
      int minimum;

      gtk_widget_measure (GTK_WIDGET (page), GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
      g_assert_cmpint (minimum, <=, 640);
      g_assert_cmpuint (strlen (text), >, 10);
      pm_page_focus (PM_PAGE (page)); /* must find something or say that there is nothing */
    }
    window_test_close (window);
  }
}

static void
test_names (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 1280, 800);
  PmBuildPage *page = page_of (window, "parts");
  GtkWidget *price = window_test_find (page, PM_TYPE_PRICE_ENTRY, 0), *list;

  gtk_test_accessible_assert_property (pm_price_entry_get_entry (PM_PRICE_ENTRY (price)), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Price of 74LS157");
  page_of (window, "steps");
  list = window_test_find (page, GTK_TYPE_LIST_BOX, 0);
  gtk_test_accessible_assert_role (list, GTK_ACCESSIBLE_ROLE_LIST);
  gtk_test_accessible_assert_property (list, GTK_ACCESSIBLE_PROPERTY_LABEL, "Build steps");
  gtk_test_accessible_assert_property (window_test_find (page, GTK_TYPE_LIST_BOX_ROW, 2), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Next: Step 1, What to do Solder X1, socket-dip-40., Look for "
                                       "notch at the mark, pin 1 beside it, seen from above; nothing in it yet; "
                                       "Done: not yet");
  gtk_test_accessible_assert_property (window_test_find (page, GTK_TYPE_MENU_BUTTON, 0), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Menu of the list: Build steps");
  window_test_close (window);
}

/* A comma does; what cannot be read is said and kept; the price is there in another window. */
static void
test_price (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip"), *text = NULL;
  PmWindow *window = window_test_open (path, 1280, 800);
  PmBuildPage *page = page_of (window, "parts");
  GtkWidget *boards = window_test_find (page, GTK_TYPE_SPIN_BUTTON, 0);

  forget_prices ();
  g_assert_nonnull (window_test_label (page, "no price"));
  type (window, page, 0, "0,85; 10: 0.70");
  g_assert_cmpstr (typed (page, 0), ==, "0.85; 10: 0.70");
  g_assert_nonnull (window_test_label (page, "For 1 board: 0.85"));
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (boards), 10);
  window_test_settle (window);
  g_assert_nonnull (window_test_label (page, "For 10 boards: 7.00"));
  g_assert_nonnull (window_test_label (page, "Parts of one board: 0.70"));
  g_assert_null (window_test_label (page, "74LS157;"));
  type (window, page, 0, "cheap");
  g_assert_nonnull (window_test_label (page, "\"cheap\" is no price"));
  gtk_test_accessible_assert_state (
      pm_price_entry_get_entry (PM_PRICE_ENTRY (window_test_find (page, PM_TYPE_PRICE_ENTRY, 0))),
      GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_TRUE);
  g_assert_cmpstr (typed (page, 0), ==, "cheap");
  g_assert_nonnull (window_test_label (page, "For 10 boards: 7.00"));
  text = pm_page_dup_text (PM_PAGE (page));
  g_assert_nonnull (strstr (text, "0.85;")); /* the cell may be wrapped */
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (boards), 1);
  window_test_close (window);

  window = window_test_open (path, 800, 600);
  page = page_of (window, "parts");
  g_assert_cmpstr (typed (page, 0), ==, "0.85; 10: 0.70");
  type (window, page, 0, "");
  g_assert_nonnull (window_test_label (page, "For 1 board: 0.00"));
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), "win.page", "s", "build"));
  window_test_close (window);
}

static gboolean
has_also (gpointer page)
{
  return window_test_label (page, "as good") != NULL;
}

static gboolean
has_focus (PmWindow *window, gpointer widget)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (window));

  return focus != NULL && (focus == widget || gtk_widget_is_ancestor (focus, widget));
}

/* Tab goes from price to price, and to every tick. */
static void
test_tab (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 800, 600);
  PmBuildPage *page = page_of (window, "parts");
  GtkWidget *next = window_test_find (page, PM_TYPE_PRICE_ENTRY, 1);

  gtk_widget_grab_focus (pm_price_entry_get_entry (PM_PRICE_ENTRY (window_test_find (page, PM_TYPE_PRICE_ENTRY, 0))));
  for (guint n = 0; n < 3 && !has_focus (window, next); n++)
    gtk_widget_child_focus (GTK_WIDGET (window), GTK_DIR_TAB_FORWARD);
  g_assert_true (has_focus (window, next));
  page_of (window, "wires");
  g_assert_true (pm_page_focus (PM_PAGE (page)));
  next = window_test_find (page, GTK_TYPE_CHECK_BUTTON, 1);
  for (guint n = 0; n < 3 && !has_focus (window, next); n++)
    gtk_widget_child_focus (GTK_WIDGET (window), GTK_DIR_TAB_FORWARD);
  g_assert_true (has_focus (window, next));
  window_test_close (window);
}

/* Other chips come from a thread; a board that is left meanwhile stops it. */
static void
test_also (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip"), *other = window_test_board ("jumper-only");
  PmWindow *window = window_test_open (path, 1280, 800);
  PmBuildPage *page = page_of (window, "parts");

  window_test_wait (has_also, page, "other chips are found");
  pm_window_open (window, other);
  window_test_settle (window);
  g_assert_null (window_test_label (page, "as good"));
  g_assert_null (window_test_label (page, "74LS157"));
  pm_window_open (window, path);
  window_test_settle (window);
  window_test_close (window); /* while they are being tried */
}

static void
activate_row (PmWindow *window, gpointer root, guint nth)
{
  GtkWidget *row = window_test_find (root, GTK_TYPE_LIST_BOX_ROW, nth);

  gtk_widget_activate (row);
  window_test_settle (window);
}

/* Ticks are there in the next window and after edits elsewhere in the file; starting over can be undone. */
static void
test_ticks (void)
{
  g_autofree char *path = window_test_copy ("swap-by-chip", NULL, NULL), *text = NULL;
  PmWindow *window = window_test_open (path, 1280, 800);
  PmBuildPage *page = page_of (window, "steps");

  g_assert_nonnull (window_test_label (page, "0 of 29 done"));
  g_assert_nonnull (window_test_label (page, "Not yet: 17 ticks before it are missing."));
  activate_row (window, page, 2);
  activate_row (window, page, 3);
  g_assert_nonnull (window_test_label (page, "2 of 29 done"));
  g_assert_nonnull (window_test_label (page, "Not yet: 15 ticks"));
  g_assert_nonnull (window_test_label (page, "Next\n3"));
  window_test_close (window);

  window = window_test_open (path, 800, 600);
  page = page_of (window, "steps");
  g_assert_nonnull (window_test_label (page, "2 of 29 done"));
  window_test_replace (path, "Boot swap", "Boot swap anew");
  pm_session_reload (pm_window_get_session (window));
  window_test_settle (window);
  g_assert_nonnull (window_test_label (page, "2 of 29 done"));
  click (window, page, "Start over");
  g_assert_nonnull (window_test_label (page, "0 of 29 done"));
  g_assert_nonnull (strstr (pm_build_page_get_told (page), "taken away"));
  click (window, page, "Undo");
  g_assert_nonnull (window_test_label (page, "2 of 29 done"));
  text = pm_text_twin_text (pm_window_get_choice (window), pm_window_get_shown_page (window));
  g_assert_nonnull (strstr (text, "[x]"));
  g_assert_nonnull (strstr (text, "2 of 29 done"));
  window_test_close (window);
}

/* Two ticks a wire; the same board in two windows loses none. */
static void
test_wires (void)
{
  g_autofree char *path = window_test_copy ("swap-by-chip", NULL, NULL);
  PmWindow *window = window_test_open (path, 1280, 800), *other = window_test_open (path, 800, 600);
  PmBuildPage *page = page_of (window, "wires"), *second = page_of (other, "wires");

  gtk_check_button_set_active (GTK_CHECK_BUTTON (window_test_find (page, GTK_TYPE_CHECK_BUTTON, 0)), TRUE);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (window_test_find (second, GTK_TYPE_CHECK_BUTTON, 3)), TRUE);
  window_test_settle (other);
  g_assert_nonnull (window_test_label (page, "1 of 22 fitted · 0 of 22 checked"));
  g_assert_nonnull (window_test_label (second, "1 of 22 fitted · 1 of 22 checked"));
  window_test_close (other);
  window_test_close (window);
}

static void
test_order (void)
{
  g_autofree char *path = window_test_copy ("swap-by-chip", NULL, NULL), *file = pm_user_data_path ("orders", path);
  g_autoptr (PmOrder) order = NULL;
  PmWindow *window = window_test_open (path, 800, 600);
  PmBuildPage *page = page_of (window, "order");
  GtkWidget *row;

  forget_prices ();
  g_assert_nonnull (window_test_label (page, "Nobody has ordered yet."));
  click (window, page, "Add a person");
  row = window_test_find (page, PM_TYPE_PERSON_ROW, 0);
  gtk_editable_set_text (GTK_EDITABLE (window_test_find (row, GTK_TYPE_ENTRY, 0)), "Anna");
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (window_test_find (row, GTK_TYPE_SPIN_BUTTON, 0)), 2);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (window_test_find (row, GTK_TYPE_DROP_DOWN, 0)), PM_ORDER_BUILT);
  type (window, page, 0, "4.50; 10: 3,20");
  type (window, page, 1, "12");
  type (window, row, 0, "3.50");
  g_assert_nonnull (window_test_label (row, "Total 36.50"));
  g_assert_nonnull (window_test_label (row, "boards 9.00 + work 24.00 + postage 3.50"));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (window_test_find (row, GTK_TYPE_CHECK_BUTTON, 0)), TRUE);
  window_test_settle (window);
  g_assert_nonnull (window_test_label (page, "Paid: 36.50. Still open: 0.00."));
  gtk_test_accessible_assert_property (window_test_find (row, GTK_TYPE_CHECK_BUTTON, 0), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Paid, Anna");
  click (window, row, "Remove");
  g_assert_cmpuint (window_test_count (page, PM_TYPE_PERSON_ROW), ==, 0);
  g_assert_cmpstr (pm_build_page_get_told (page), ==, "Anna is removed from the order.");
  click (window, page, "Undo");
  g_assert_nonnull (window_test_label (page, "Total 36.50"));
  window_test_close (window);

  order = pm_order_load (file, NULL);
  g_assert_cmpuint (order->people->len, ==, 1);
  g_assert_cmpstr (((PmOrderPerson *) g_ptr_array_index (order->people, 0))->name, ==, "Anna");
  window = window_test_open (path, 1280, 800);
  page = page_of (window, "order");
  g_assert_nonnull (window_test_label (page, "2 boards, all together 36.50"));
  window_test_close (window);
}

/* A file that cannot be read is told and stays as it is until it is set aside. */
static void
test_unread (void)
{
  g_autofree char *path = window_test_copy ("swap-by-chip", NULL, NULL), *file = pm_user_data_path ("orders", path),
                  *aside = g_strconcat (file, ".unread-1", NULL), *text = NULL;
  PmWindow *window;
  PmBuildPage *page;

  g_assert_true (pm_user_data_prepare (file, NULL));
  g_assert_true (g_file_set_contents (file, "no order at all\n", -1, NULL));
  window = window_test_open (path, 800, 600);
  page = page_of (window, "order");
  g_assert_nonnull (window_test_label (page, file));
  g_assert_nonnull (window_test_label (page, "Nothing is written over it"));
  g_assert_false (gtk_widget_is_sensitive (button_of (page, "Add a person")));
  g_assert_true (g_file_get_contents (file, &text, NULL, NULL));
  g_assert_cmpstr (text, ==, "no order at all\n");
  click (window, page, "Set it aside and start anew");
  g_assert_true (g_file_test (aside, G_FILE_TEST_EXISTS));
  g_assert_null (window_test_label (page, "Nothing is written over it"));
  click (window, page, "Add a person");
  g_assert_true (g_file_test (file, G_FILE_TEST_EXISTS));
  window_test_close (window);
}

/* GTK writes its list of recent files a moment after a board was opened, and warns where it cannot. */
static gboolean
is_in_recent (gpointer uri)
{
  g_autofree char *file = g_build_filename (g_get_user_data_dir (), "recently-used.xbel", NULL), *text = NULL;

  return g_file_get_contents (file, &text, NULL, NULL) && strstr (text, uri) != NULL;
}

/* What cannot be saved is told with file and reason, stays in the window, and is saved when it can be. */
static void
test_unsaved (void)
{
  g_autofree char *path = window_test_copy ("swap-by-chip", NULL, NULL), *file = pm_user_data_path ("ticks", path),
                  *uri = g_filename_to_uri (path, NULL, NULL);
  PmWindow *window = window_test_open (path, 800, 600);
  PmBuildPage *page = page_of (window, "steps");
  struct rlimit usual, none;
  g_autoptr (PmTicks) ticks = NULL;

  window_test_wait (is_in_recent, uri, "the list of recent files");
  signal (SIGXFSZ, SIG_IGN);
  getrlimit (RLIMIT_FSIZE, &usual);
  none = usual;
  none.rlim_cur = 0; /* as on a full disk */
  setrlimit (RLIMIT_FSIZE, &none);
  activate_row (window, page, 2);
  setrlimit (RLIMIT_FSIZE, &usual);
  g_assert_nonnull (window_test_label (page, "1 of 29 done"));
  g_assert_nonnull (window_test_label (page, file));
  g_assert_nonnull (window_test_label (page, "What you entered is still here, but not saved."));
  g_assert_false (g_file_test (file, G_FILE_TEST_EXISTS));
  click (window, page, "Save again");
  g_assert_null (window_test_label (page, "not saved"));
  ticks = pm_ticks_load (file, NULL);
  g_assert_true (pm_ticks_get (ticks, "steps solder X1 done"));
  window_test_close (window);
}

static gboolean
is_text (gpointer value)
{
  return *(char **) value != NULL;
}

static void
text_cb (GObject *clipboard, GAsyncResult *result, gpointer data)
{
  *(char **) data = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (clipboard), result, NULL);
}

/* Each list has a menu of its own. */
static void
test_menu (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip"), *text = NULL;
  PmWindow *window = window_test_open (path, 800, 600);
  PmBuildPage *page = page_of (window, "checks");

  g_assert_true (gtk_widget_activate_action (window_test_find (page, GTK_TYPE_MENU_BUTTON, 0), "list.copy", NULL));
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (GTK_WIDGET (window)), NULL, text_cb, &text);
  window_test_wait (is_text, &text, "the clipboard");
  g_assert_true (g_str_has_prefix (text, "Five checks with a meter\n"));
  g_assert_cmpstr (pm_build_page_get_told (page), ==, "Five checks with a meter: copied as text.");
  window_test_close (window);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/build/views", test_views);
  g_test_add_func ("/build/names", test_names);
  g_test_add_func ("/build/price", test_price);
  g_test_add_func ("/build/tab", test_tab);
  g_test_add_func ("/build/also", test_also);
  g_test_add_func ("/build/ticks", test_ticks);
  g_test_add_func ("/build/wires", test_wires);
  g_test_add_func ("/build/order", test_order);
  g_test_add_func ("/build/unread", test_unread);
  g_test_add_func ("/build/unsaved", test_unsaved);
  g_test_add_func ("/build/menu", test_menu);
  return window_test_run ();
}
