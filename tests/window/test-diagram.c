/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The diagram page: one thing to focus for each symbol and wire, what the machine turns on, zoom, a finding's place. */
#include "pm-diagram-view.h"
#include "pm-page.h"
#include "pm-spot-view.h"
#include "window-test.h"
#include <math.h>
#include <string.h>

static PmDiagramView *
open_diagram (PmWindow **window, const char *board)
{
  g_autofree char *path = window_test_board (board);

  *window = window_test_open (path, 1280, 800);
  g_object_set (*window, "page", "diagram", NULL);
  window_test_settle (*window);
  return PM_DIAGRAM_VIEW (window_test_find (*window, PM_TYPE_DIAGRAM_VIEW, 0));
}

static gboolean
has_spots (gpointer data)
{
  const PmDiagram *diagram = pm_diagram_view_get_diagram (data);

  return window_test_count (data, PM_TYPE_SPOT_VIEW) == pm_diagram_n_elements (diagram);
}

static GtkToggleButton *
state_button (gpointer root, const char *label)
{
  for (guint i = 0; i < window_test_count (root, GTK_TYPE_TOGGLE_BUTTON); i++) {
    GtkButton *button = GTK_BUTTON (window_test_find (root, GTK_TYPE_TOGGLE_BUTTON, i));

    if (g_strcmp0 (gtk_button_get_label (button), label) == 0)
      return GTK_TOGGLE_BUTTON (button);
  }
  g_error ("no button %s", label);
}

/* Every element has its sentence, and none says the same as another. */
static void
test_spots (void)
{
  PmWindow *window;
  PmDiagramView *view = open_diagram (&window, "swap-by-chip");
  g_autoptr (GHashTable) sentences = g_hash_table_new (g_str_hash, g_str_equal);

  window_test_wait (has_spots, view, "a child for each element");
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (view)); child != NULL;
       child = gtk_widget_get_next_sibling (child)) {
    const char *sentence = pm_spot_view_get_sentence (PM_SPOT_VIEW (child));

    g_test_message ("%s", sentence);
    g_assert_cmpuint (strlen (sentence), >, 2);
    g_assert_true (g_hash_table_add (sentences, (gpointer) sentence));
    g_assert_true (gtk_widget_get_focusable (child));
  }
  window_test_close (window);
}

/* What is turned on is told by the text of the page, and changes with the choice. */
static void
test_states (void)
{
  PmWindow *window;
  PmDiagramView *view = open_diagram (&window, "swap-by-chip");
  g_autofree char *idle = pm_page_dup_text (pm_window_get_shown_page (window)), *on = NULL, *flipped = NULL;

  gtk_toggle_button_set_active (state_button (window, "SEL0"), TRUE);
  on = pm_page_dup_text (pm_window_get_shown_page (window));
  g_assert_nonnull (strstr (idle, "nothing"));
  g_assert_cmpstr (idle, !=, on);
  window_test_action (window, "win.setting-next");
  flipped = pm_page_dup_text (pm_window_get_shown_page (window));
  g_assert_cmpstr (flipped, !=, on);
  g_assert_cmpint (pm_probe_answers (pm_diagram_view_get_probe (view), 1), ==, 1);
  g_assert_cmpint (pm_probe_answers (pm_diagram_view_get_probe (view), 0), ==, 0);
  window_test_close (window);
}

static void
test_zoom (void)
{
  PmWindow *window;
  PmDiagramView *view = open_diagram (&window, "three-drive-rotary");
  double before;

  pm_diagram_view_full_size (view);
  g_assert_cmpfloat (pm_diagram_view_get_zoom (view), ==, 1);
  pm_diagram_view_step_zoom (view, 1);
  g_assert_cmpfloat (pm_diagram_view_get_zoom (view), >, 1);
  for (guint i = 0; i < 30; i++)
    pm_diagram_view_step_zoom (view, 1);
  before = pm_diagram_view_get_zoom (view);
  g_assert_cmpfloat (before, <=, 4);
  window_test_settle (window);
  for (guint i = 0; i < 60; i++)
    pm_diagram_view_step_zoom (view, -1);
  g_assert_cmpfloat (pm_diagram_view_get_zoom (view), >=, 0.25);
  pm_diagram_view_fit (view);
  window_test_settle (window);
  window_test_close (window);
}

/* A finding that is opened brings the select that it is about, and Escape lets go what was chosen. */
static void
test_finding (void)
{
  PmWindow *window;
  PmDiagramView *view = open_diagram (&window, "switched-on-one-side-only");

  pm_choice_set_finding (pm_window_get_choice (window), -1);
  pm_choice_set_finding (pm_window_get_choice (window), 0);
  g_assert_true (gtk_toggle_button_get_active (state_button (window, "SEL0")));
  window_test_wait (has_spots, view, "a child for each element");
  g_assert_true (pm_diagram_view_focus_first (view));
  gtk_widget_activate (gtk_widget_get_focus_child (GTK_WIDGET (view)));
  g_assert_cmpint (pm_diagram_view_get_pointed (view), >=, 0);
  g_assert_true (pm_page_back (pm_window_get_shown_page (window)));
  g_assert_false (pm_page_back (pm_window_get_shown_page (window)));
  window_test_close (window);
}

/* Quick flipping of everything, at the smallest window, on every kind of board. */
static void
test_flipping (void)
{
  static const char *const boards[] = { "jumper-only", "sixteen-settings", "twisted-cable", "four-selects-coded" };

  for (guint b = 0; b < G_N_ELEMENTS (boards); b++) {
    PmWindow *window;
    PmDiagramView *view = open_diagram (&window, boards[b]);

    gtk_window_set_default_size (GTK_WINDOW (window), 640, 480);
    for (guint i = 0; i < 20; i++) {
      window_test_action (window, i % 3 == 0 ? "win.setting-before" : "win.setting-next");
      pm_diagram_view_step_zoom (view, i % 2 == 0 ? 2 : -2);
      while (g_main_context_iteration (NULL, FALSE))
        ;
    }
    window_test_settle (window);
    window_test_close (window);
  }
}

static PmStudy *
study_of (const char *board)
{
  g_autofree char *path = window_test_board (board);
  g_autoptr (PmFaults) faults = pm_faults_new ();
  PmLibrary *library = pm_library_new (NULL);
  PmBoard *read = pm_board_load (path, library, faults);

  g_assert_nonnull (read);
  return pm_study_new_take (library, read, pm_check_new (read, NULL, NULL));
}

/* The last element of a large board has the focus while a small one comes in: nothing asks for what is not there. */
static void
test_other_board (void)
{
  PmWindow *window;
  PmDiagramView *view = open_diagram (&window, "three-drive-rotary");
  g_autoptr (PmStudy) small = study_of ("jumper-only");
  guint before;

  window_test_wait (has_spots, view, "a child for each element");
  before = pm_diagram_n_elements (pm_diagram_view_get_diagram (view));
  g_assert_true (gtk_widget_grab_focus (gtk_widget_get_last_child (GTK_WIDGET (view))));
  g_assert_cmpint (pm_diagram_view_get_pointed (view), ==, (int) before - 1);
  pm_diagram_view_set_study (view, small);
  g_assert_cmpuint (pm_diagram_n_elements (pm_diagram_view_get_diagram (view)), <, before);
  g_assert_cmpint (pm_diagram_view_get_pointed (view), ==, -1);
  gtk_widget_child_focus (GTK_WIDGET (view), GTK_DIR_LEFT);
  g_assert_true (has_spots (view));
  window_test_close (window);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/diagram-page/spots", test_spots);
  g_test_add_func ("/diagram-page/states", test_states);
  g_test_add_func ("/diagram-page/zoom", test_zoom);
  g_test_add_func ("/diagram-page/finding", test_finding);
  g_test_add_func ("/diagram-page/flipping", test_flipping);
  g_test_add_func ("/diagram-page/other-board", test_other_board);
  return window_test_run ();
}
