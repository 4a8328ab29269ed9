/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Pins page: one named child per pin, arrow keys that go where the pins lie, the chosen pin in full, both sides,
 * boards that sit nowhere. */
#include "pm-pins-page.h"
#include "pm-spot-view.h"
#include "pm-text-twin.h"
#include "window-test.h"

static PmPinView *
pins_of (PmWindow *window)
{
  g_object_set (window, "page", "pins", NULL);
  window_test_settle (window);
  return PM_PIN_VIEW (window_test_find (window, PM_TYPE_PIN_VIEW, 0));
}

static GtkWidget *
child_of (PmPinView *view, guint pin)
{
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (view));

  while (pin-- > 1)
    child = gtk_widget_get_next_sibling (child);
  return child;
}

static gboolean
in_window (GtkWidget *widget, GtkWidget *window)
{
  graphene_rect_t bounds;

  return gtk_widget_compute_bounds (widget, window, &bounds) && bounds.origin.x >= 0 &&
         bounds.origin.x + bounds.size.width <= (float) gtk_widget_get_width (window);
}

/* Every pin has a child with its sentence, at every size of window; none stands out of it sideways. */
static void
test_children (void)
{
  static const struct { const char *board; int width, height; guint n; } cases[] = {
      {"swap-by-chip", 1280, 800, 40}, {"swap-by-chip", 800, 600, 40},   {"sixteen-settings", 640, 480, 40},
      {"always-one", 1280, 800, 34},   {"four-selects-coded", 800, 600, 34},
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autofree char *path = window_test_board (cases[i].board);
    PmWindow *window = window_test_open (path, cases[i].width, cases[i].height);
    PmPinView *view = pins_of (window);
    const PmPinMap *map = pm_pin_view_get_map (view);
    guint n = 0;

    gtk_test_accessible_assert_role (view, GTK_ACCESSIBLE_ROLE_IMG);
    g_assert_cmpuint (pm_pin_map_n_pins (map), ==, cases[i].n);
    for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (view)); child != NULL;
         child = gtk_widget_get_next_sibling (child), n++) {
      g_autofree char *sentence =
          pm_pins_sentence (pm_pin_map_pins (map), n, pm_choice_get_shown (pm_window_get_choice (window)));

      gtk_test_accessible_assert_role (child, GTK_ACCESSIBLE_ROLE_LIST_ITEM);
      gtk_test_accessible_assert_property (child, GTK_ACCESSIBLE_PROPERTY_LABEL, sentence);
      g_assert_true (gtk_widget_get_focusable (child));
      g_assert_true (in_window (child, GTK_WIDGET (window)));
    }
    g_assert_cmpuint (n, ==, cases[i].n);
    window_test_close (window);
  }
}

static void
go (PmPinView *view, GtkDirectionType direction, int pin)
{
  gtk_widget_child_focus (GTK_WIDGET (view), direction);
  g_assert_cmpint (pm_pin_view_get_chosen (view) + 1, ==, pin);
}

/* Notch up, pin 1 at the upper left: down counts up on the left and down on the right; from the solder side the
 * columns have changed places. */
static void
test_arrows (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 1280, 800);
  PmPinView *view = pins_of (window);

  g_assert_true (pm_page_focus (pm_window_get_shown_page (window)));
  g_assert_cmpint (pm_pin_view_get_chosen (view) + 1, ==, 11); /* the first that is not as it was */
  go (view, GTK_DIR_DOWN, 12);
  go (view, GTK_DIR_UP, 11);
  go (view, GTK_DIR_RIGHT, 30);
  go (view, GTK_DIR_RIGHT, 30);
  go (view, GTK_DIR_DOWN, 29);
  go (view, GTK_DIR_LEFT, 12);
  gtk_widget_grab_focus (child_of (view, 20));
  go (view, GTK_DIR_DOWN, 20);
  pm_pin_view_show (view, 1, TRUE);
  window_test_settle (window);
  go (view, GTK_DIR_RIGHT, 20);
  go (view, GTK_DIR_LEFT, 21);
  go (view, GTK_DIR_UP, 22);
  window_test_close (window);
}

/* What is chosen stands in full, and follows the setting. */
static void
test_chosen (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 1280, 800);
  PmPinView *view = pins_of (window);

  g_assert_nonnull (window_test_label (window, "Pin 11, SEL0"));
  g_assert_nonnull (window_test_label (window, "Goes in outside"));
  g_assert_nonnull (window_test_label (window, "U1.1A, U1.2B"));
  g_assert_nonnull (window_test_label (window, "10, 12; X1.11 to P1.11"));
  g_signal_emit_by_name (child_of (view, 14), "activate");
  gtk_widget_grab_focus (child_of (view, 14));
  g_assert_nonnull (window_test_label (window, "Pin 14, MTR"));
  g_assert_null (window_test_label (window, "Pin 11, SEL0"));
  g_assert_nonnull (window_test_label (window, "Turned round: +5V of the machine meets pin 40 of the board"));
  window_test_close (window);
}

/* With many settings the sentences tell the one that is chosen. */
static void
test_setting (void)
{
  g_autofree char *path = window_test_board ("sixteen-settings");
  PmWindow *window = window_test_open (path, 800, 600);
  PmChoice *choice = pm_window_get_choice (window);
  PmPinView *view = pins_of (window);
  g_autofree char *before = NULL;

  pm_choice_set_chosen (choice, 1);
  window_test_settle (window);
  before = g_strdup (pm_spot_view_get_sentence (PM_SPOT_VIEW (child_of (view, 11))));
  pm_choice_set_chosen (choice, pm_choice_get_check (choice)->n_settings);
  window_test_settle (window);
  g_assert_cmpstr (pm_spot_view_get_sentence (PM_SPOT_VIEW (child_of (view, 11))), !=, before);
  window_test_close (window);
}

/* A finding that is opened brings its pin. */
static void
test_finding (void)
{
  g_autofree char *path = window_test_board ("through-pin-left-out");
  PmWindow *window = window_test_open (path, 1280, 800);
  PmChoice *choice = pm_window_get_choice (window);
  PmPinView *view = pins_of (window);

  pm_pin_view_set_chosen (view, 0);
  pm_choice_set_finding (choice, -1);
  pm_choice_set_finding (choice, 0); /* MTR is cut and not carried on */
  window_test_settle (window);
  g_assert_cmpint (pm_pin_view_get_chosen (view) + 1, ==, 14);
  window_test_close (window);
}

static void
test_text (void)
{
  g_autofree char *path = window_test_board ("through-pin-left-out"), *text = NULL;
  PmWindow *window = window_test_open (path, 1280, 800);
  PmPinView *view = pins_of (window);
  const PmPinMap *map = pm_pin_view_get_map (view);

  text = pm_text_twin_text (pm_window_get_choice (window), pm_window_get_shown_page (window));
  for (guint i = 0; i < pm_pin_map_n_pins (map); i++)
    g_assert_nonnull (strstr (text, pm_spot_view_get_sentence (PM_SPOT_VIEW (child_of (view, i + 1)))));
  for (const char *const *warning = pm_pin_map_warnings (map); *warning != NULL; warning++)
    g_assert_nonnull (strstr (text, *warning));
  g_assert_nonnull (strstr (text, "Pin 14, MTR: cut."));
  window_test_close (window);
}

/* Cables and jumpers alone have no pins to look at, and the page says so; another board brings them back. */
static void
test_nowhere (void)
{
  g_autofree char *path = window_test_board ("jumper-only"), *other = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 800, 600);

  g_assert_null (pins_of (window));
  g_assert_nonnull (window_test_label (window, "there are no pins to look at"));
  pm_window_open (window, other);
  window_test_settle (window);
  g_assert_nonnull (pins_of (window));
  g_assert_null (window_test_label (window, "there are no pins to look at"));
  window_test_close (window);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/pins/children", test_children);
  g_test_add_func ("/pins/arrows", test_arrows);
  g_test_add_func ("/pins/chosen", test_chosen);
  g_test_add_func ("/pins/setting", test_setting);
  g_test_add_func ("/pins/finding", test_finding);
  g_test_add_func ("/pins/text", test_text);
  g_test_add_func ("/pins/nowhere", test_nowhere);
  return window_test_run ();
}
