/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Opening, following, going bad, and that every demo board can be walked through without a warning. */
#include "pm-card.h"
#include "pm-drawer.h"
#include "pm-faults-page.h"
#include "pm-file-list.h"
#include "pm-finding-list.h"
#include "pm-routes-page.h"
#include "pm-spot-view.h"
#include "pm-start-page.h"
#include "pm-switch-strip.h"
#include "pm-switch-view.h"
#include "pm-verdict-strip.h"
#include "window-test.h"
#include <glib/gstdio.h>
#include <sys/stat.h>

static const char *
sentence (PmWindow *window)
{
  return pm_verdict_strip_get_sentence (PM_VERDICT_STRIP (window_test_find (window, PM_TYPE_VERDICT_STRIP, 0)));
}

/* Whatever is shown, 640x480 is enough. */
static void
walk_narrow (const char *path)
{
  static const char *const shown[] = { "win.file", "win.finding-next", "win.pane" };
  PmWindow *window = window_test_open (path, 640, 480);
  int least, least_height;

  for (guint i = 0; i < G_N_ELEMENTS (shown); i++) {
    gtk_widget_activate_action (GTK_WIDGET (window), shown[i], NULL); /* without findings there is no next one */
    window_test_settle (window);
    gtk_widget_measure (GTK_WIDGET (window), GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
    gtk_widget_measure (GTK_WIDGET (window), GTK_ORIENTATION_VERTICAL, 640, &least_height, NULL, NULL, NULL);
    g_test_message ("%s: least %dx%d", path, least, least_height);
    g_assert_cmpint (least, <=, 640);
    g_assert_cmpint (least_height, <=, 480);
  }
  window_test_close (window);
}

/* Every setting, every variation, every finding, the file, the pane: nothing may warn, and the window always fits its
 * least screen. */
static void
walk (const char *path)
{
  PmWindow *window = window_test_open (path, 1280, 800);
  PmChoice *choice = pm_window_get_choice (window);
  const PmCheck *check = pm_choice_get_check (choice);
  int least;

  g_assert_nonnull (check);
  g_assert_cmpstr (sentence (window), ==, check->verdict_text);
  for (guint i = 0; i < check->n_settings; i++) {
    guint before = pm_choice_get_chosen (choice);

    window_test_action (window, "win.setting-next");
    g_assert_cmpuint (pm_choice_get_chosen (choice), ==, before % check->n_settings + 1);
  }
  for (guint i = 0; i < check->n_cases; i++)
    pm_choice_show_case (choice, i);
  for (guint i = 0; i < check->n_findings; i++) {
    window_test_action (window, "win.finding-next");
    g_assert_nonnull (window_test_label (window_test_find (window, PM_TYPE_DRAWER, 0),
                                         check->findings[pm_choice_get_finding (choice)].title));
  }
  window_test_action (window, "win.file");
  gtk_widget_measure (GTK_WIDGET (window), GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  g_assert_cmpint (least, <, 1000); /* so that it can be made narrow */
  window_test_action (window, "win.file");
  window_test_action (window, "win.pane");
  window_test_close (window);
  walk_narrow (path);
}

static void
test_each_board (gconstpointer path)
{
  walk (path);
}

static void
test_small (void)
{
  g_autofree char *path = window_test_board ("sixteen-settings");
  static const int sizes[][2] = { { 640, 480 }, { 800, 600 } };

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++) {
    PmWindow *window = window_test_open (path, sizes[i][0], sizes[i][1]);

    /* The frame that the window draws for itself is part of what was asked for. */
    g_assert_cmpint (gtk_widget_get_width (GTK_WIDGET (window)), <=, sizes[i][0]);
    g_assert_cmpint (gtk_widget_get_height (GTK_WIDGET (window)), <=, sizes[i][1]);
    g_assert_cmpuint (window_test_count (window, PM_TYPE_SWITCH_VIEW), ==, 4); /* in the strip, not in the pane */
    g_assert_null (window_test_find (window, PM_TYPE_FINDING_LIST, 0));
    window_test_action (window, "win.pane");
    g_assert_nonnull (window_test_find (window, PM_TYPE_FINDING_LIST, 0));
    window_test_action (window, "win.back");
    g_assert_null (window_test_find (window, PM_TYPE_FINDING_LIST, 0));
    window_test_close (window);
  }
}

/* How far a widget reaches below the bottom of another that it lies in. */
static float
hidden_below (GtkWidget *widget, GtkWidget *within)
{
  graphene_rect_t bounds;

  g_assert_true (gtk_widget_compute_bounds (widget, within, &bounds));
  return bounds.origin.y + bounds.size.height - (float) gtk_widget_get_height (within);
}

/* What to do about it is what people open a finding for: it is wholly in sight in every window, and where rows are out
 * of sight a bar says so. */
static void
test_to_do_in_sight (void)
{
  static const int sizes[][2] = { { 800, 600 }, { 1280, 800 } };
  static const char *const boards[] = { "switched-on-one-side-only", "motor-stays", "cut-not-made" };

  for (guint i = 0; i < G_N_ELEMENTS (sizes) * G_N_ELEMENTS (boards); i++) {
    const int *size = sizes[i % G_N_ELEMENTS (sizes)];
    g_autofree char *path = window_test_board (boards[i / G_N_ELEMENTS (sizes)]);
    PmWindow *window = window_test_open (path, size[0], size[1]);
    GtkWidget *drawer, *scroller, *row;
    gboolean overflows;

    for (guint more = 0; more < 2; more++) {
      window_test_action (window, "win.finding-next");
      drawer = window_test_find (window, PM_TYPE_DRAWER, 0);
      scroller = window_test_find (drawer, GTK_TYPE_SCROLLED_WINDOW, 0);
      row = window_test_label (drawer, "Tried: ");
      g_assert_nonnull (row);
      g_test_message ("%s at %dx%d: %g below", boards[i / G_N_ELEMENTS (sizes)], size[0], size[1],
                      hidden_below (row, scroller));
      g_assert_cmpfloat (hidden_below (row, scroller), <=, 0);
      overflows = hidden_below (window_test_find (scroller, GTK_TYPE_GRID, 0), scroller) > 0;
      g_assert_cmpint (
          gtk_widget_get_mapped (gtk_scrolled_window_get_vscrollbar (GTK_SCROLLED_WINDOW (scroller))), ==, overflows);
      g_assert_true (size[0] == 800 || !overflows);
      for (guint k = 0; k < window_test_count (window, GTK_TYPE_TOGGLE_BUTTON); k++) {
        GtkWidget *button = window_test_find (window, GTK_TYPE_TOGGLE_BUTTON, k);

        if (g_strcmp0 (gtk_button_get_label (GTK_BUTTON (button)), "More") == 0)
          gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), TRUE);
      }
      window_test_settle (window);
    }
    window_test_close (window);
  }
}

/* However small the window, the card that is in sight is the one that the finding is about, from the start and after
 * another has been looked at. */
static void
test_card_in_sight (void)
{
  static const int sizes[][2] = { { 640, 480 }, { 800, 600 } };
  static const int dpi[] = { 96, 192 };
  g_autofree char *path = window_test_board ("motor-stays");
  GtkSettings *settings = gtk_settings_get_default ();

  for (guint i = 0; i < G_N_ELEMENTS (sizes) * G_N_ELEMENTS (dpi); i++) {
    PmWindow *window;
    PmChoice *choice;

    g_object_set (settings, "gtk-xft-dpi", dpi[i % 2] * 1024, NULL);
    window = window_test_open (path, sizes[i / 2][0], sizes[i / 2][1]);
    choice = pm_window_get_choice (window);
    for (guint step = 0; step < 3; step++) {
      guint wanted = pm_choice_get_check (choice)->findings[0].case_index;
      GtkWidget *page = window_test_find (window, PM_TYPE_ROUTES_PAGE, 0);
      gboolean seen = FALSE;

      window_test_settle (window);
      g_assert_cmpuint (pm_choice_get_shown (choice), ==, wanted);
      for (guint k = 0; k < window_test_count (page, PM_TYPE_CARD); k++) {
        GtkWidget *card = window_test_find (page, PM_TYPE_CARD, k);
        graphene_rect_t bounds;

        if (pm_card_get_case (PM_CARD (card)) != wanted)
          continue;
        g_assert_true (gtk_widget_compute_bounds (card, page, &bounds));
        g_test_message ("%d: from %g of %d", i, bounds.origin.y, gtk_widget_get_height (page));
        seen = bounds.origin.y >= 0 && bounds.origin.y < gtk_widget_get_height (page) - 20;
      }
      g_assert_true (seen);
      if (step == 0)
        window_test_action (window, "win.setting-next");
      if (step < 2)
        window_test_action (window, "win.finding-next");
    }
    window_test_close (window);
  }
  g_object_set (settings, "gtk-xft-dpi", 96 * 1024, NULL);
}

/* Cards are no higher than what stands on them, whether the page has a bar to scroll with or not. */
static void
test_card_height (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 800, 600);
  float least = 1000;

  for (guint k = 0; k < 2; k++) {
    GtkWidget *card = window_test_find (window, PM_TYPE_CARD, k), *last = gtk_widget_get_last_child (card);
    graphene_rect_t bounds;

    g_assert_true (gtk_widget_compute_bounds (last, card, &bounds));
    least = MIN (least, (float) gtk_widget_get_height (card) - bounds.origin.y - bounds.size.height);
  }
  g_assert_cmpfloat (least, <, 4);
  window_test_close (window);
}

/* Where the keys go is seen before the first of them, on every board: with a switch and without. */
static void
test_focus_seen (void)
{
  static const char *const boards[] = { NULL, "swap-by-chip", "same-jumper", "straight-cable" };

  for (guint i = 0; i < G_N_ELEMENTS (boards); i++) {
    g_autofree char *path = boards[i] != NULL ? window_test_board (boards[i]) : NULL;
    PmWindow *window = window_test_open (path, 800, 600);
    GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (window));

    g_assert_nonnull (focus);
    g_assert_true (gtk_widget_get_mapped (focus));
    g_assert_true (gtk_window_get_focus_visible (GTK_WINDOW (window)));
    /* As the toolkit does when no key has come for a while. */
    gtk_window_set_focus_visible (GTK_WINDOW (window), FALSE);
    g_assert_true (gtk_window_get_focus_visible (GTK_WINDOW (window)));
    if (i >= 2) { /* no band for a button alone */
      g_assert_null (window_test_find (window, PM_TYPE_SWITCH_STRIP, 0));
      g_assert_nonnull (window_test_label (window_test_find (window, PM_TYPE_VERDICT_STRIP, 0), "Findings "));
    }
    window_test_close (window);
  }
}

/* The focus on a switch goes where its lever goes, whoever moves it. */
static void
test_focus_follows_lever (void)
{
  g_autofree char *path = window_test_board ("motor-stays");
  PmWindow *window = window_test_open (path, 1280, 800);
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (window));

  g_assert_cmpstr (pm_spot_view_get_sentence (PM_SPOT_VIEW (focus)), ==, "outside");
  window_test_action (window, "win.setting-next");
  focus = gtk_window_get_focus (GTK_WINDOW (window));
  g_assert_cmpstr (pm_spot_view_get_sentence (PM_SPOT_VIEW (focus)), ==, "inside");
  window_test_action (window, "win.finding-next");
  focus = gtk_window_get_focus (GTK_WINDOW (window));
  g_assert_cmpstr (pm_spot_view_get_sentence (PM_SPOT_VIEW (focus)), ==, "outside");
  window_test_close (window);
}

static void
test_start (void)
{
  PmWindow *window = window_test_open (NULL, 1280, 800);

  g_assert_nonnull (window_test_find (window, PM_TYPE_START_PAGE, 0));
  g_assert_nonnull (window_test_label (window, "Checks a drive-select board before you solder it."));
  g_assert_false (pm_window_has_board (window));
  window_test_close (window);
}

typedef struct { PmWindow *window; const char *sentence; } Sentence;

static gboolean
says (gpointer data)
{
  Sentence *wanted = data;

  return g_str_has_prefix (sentence (wanted->window), wanted->sentence);
}

/* Another editor saves; the window follows, and the lever stays where it was. */
static void
test_follow (void)
{
  g_autofree char *path = window_test_copy ("swap-by-chip", NULL, NULL);
  PmWindow *window = window_test_open (path, 1280, 800);
  PmChoice *choice = pm_window_get_choice (window);
  Sentence good = { window, "Routes right" }, stop = { window, "Not ready" };

  g_assert_true (says (&good));
  window_test_action (window, "win.setting-next");
  g_assert_cmpstr (pm_choice_get_check (choice)->cases[pm_choice_get_chosen (choice)].name, ==, "outside");
  window_test_replace (path, "cuts=\"SEL0 SEL1\"", "cuts=\"SEL1\"");
  window_test_wait (says, &stop, "a stop");
  g_assert_cmpstr (pm_choice_get_check (choice)->cases[pm_choice_get_chosen (choice)].name, ==, "outside");
  window_test_replace (path, "cuts=\"SEL1\"", "cuts=\"SEL0 SEL1\"");
  window_test_wait (says, &good, "good again");
  g_assert_cmpstr (pm_choice_get_check (choice)->cases[pm_choice_get_chosen (choice)].name, ==, "outside");
  window_test_close (window);
}

/* A good file turns bad: no verdict, the last good picture, and it says so; mended, it is gone. */
static void
test_turns_bad (void)
{
  g_autofree char *path = window_test_copy ("swap-by-chip", NULL, NULL);
  PmWindow *window = window_test_open (path, 1280, 800);
  Sentence good = { window, "Routes right" }, bad = { window, "No verdict: line 1" };
  GtkWidget *stale;

  window_test_replace (path, "U1.1Y SEL0:machine", "U1.1Z SEL0:machine");
  window_test_wait (says, &bad, "no verdict");
  window_test_settle (window);
  stale = window_test_label (window, "as it was at ");
  g_assert_nonnull (stale);
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (stale)), ", before line 1"));
  g_assert_cmpuint (window_test_count (window, PM_TYPE_CARD), ==, 2);
  window_test_action (window, "win.file");
  g_assert_cmpstr (
      pm_file_view_get_mark (pm_drawer_get_file_view (PM_DRAWER (window_test_find (window, PM_TYPE_DRAWER, 0))),
                             pm_file_view_get_line (PM_FILE_VIEW (window_test_find (window, PM_TYPE_FILE_VIEW, 0)))),
      ==, "fault");
  window_test_replace (path, "U1.1Z SEL0:machine", "U1.1Y SEL0:machine");
  window_test_wait (says, &good, "good again");
  window_test_settle (window);
  g_assert_null (window_test_label (window, "as it was at "));
  /* Gone and back. */
  g_assert_cmpint (g_unlink (path), ==, 0);
  bad.sentence = "No verdict: the file";
  window_test_wait (says, &bad, "the file is gone");
  g_assert_cmpuint (window_test_count (window, PM_TYPE_CARD), ==, 2);
  window_test_close (window);
}

static PmFileView *
shown_file (PmWindow *window)
{
  return PM_FILE_VIEW (window_test_find (window, PM_TYPE_FILE_VIEW, 0));
}

/* While the file is bad nothing reads as if all were well, and an open drawer is at the first fault. */
static void
test_bad_is_not_good (void)
{
  static const int sizes[][2] = { { 800, 600 }, { 1280, 800 } };

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++) {
    g_autofree char *path = window_test_copy ("switched-on-one-side-only", NULL, NULL);
    PmWindow *window = window_test_open (path, sizes[i][0], sizes[i][1]);
    Sentence stop = { window, "Not ready" }, bad = { window, "No verdict: line 1" };
    const PmFaults *faults;

    window_test_action (window, "win.finding-next");
    g_assert_null (window_test_find (window, PM_TYPE_FILE_VIEW, 0));
    window_test_replace (path, "U1.2Y", "U1.2Z");
    window_test_wait (says, &bad, "no verdict");
    window_test_settle (window);
    faults = pm_session_get_faults (pm_window_get_session (window));
    g_assert_cmpuint (pm_faults_count (faults), >, 0);
    g_assert_cmpuint (pm_file_view_get_line (shown_file (window)), ==, pm_faults_get (faults, 0)->spot.line);
    for (guint k = 0; k < 2; k++) {
      GtkWidget *card = window_test_find (window, PM_TYPE_CARD, k);

      g_assert_nonnull (window_test_label (card, "as it was at "));
      g_assert_null (window_test_label (card, "as wanted"));
      g_assert_null (window_test_label (card, "two drives"));
    }
    g_assert_null (window_test_label (window, "nothing to say"));
    g_assert_null (window_test_label (window, "Findings "));
    if (sizes[i][0] < 1000) {
      g_assert_nonnull (window_test_label (window, "Faults 1 (F9)"));
      window_test_action (window, "win.pane");
    }
    g_assert_nonnull (window_test_label (window, "No findings: the file cannot be read."));
    g_assert_null (window_test_label (window, "Nothing was found."));
    g_assert_nonnull (
        window_test_label (window_test_find (window, PM_TYPE_FINDING_LIST, 0), pm_faults_get (faults, 0)->message));
    window_test_replace (path, "U1.2Z", "U1.2Y");
    window_test_wait (says, &stop, "a stop again");
    window_test_settle (window);
    g_assert_null (window_test_label (window, "as it was at "));
    g_assert_null (window_test_find (window, PM_TYPE_FILE_VIEW, 0)); /* the finding is back */
    g_assert_nonnull (window_test_label (window, "as wanted"));
    window_test_close (window);
  }
}

/* An open file goes to the line of the finding that is chosen, and one can go back to its words. */
static void
test_file_follows (void)
{
  g_autofree char *path = window_test_board ("switched-on-one-side-only");
  PmWindow *window = window_test_open (path, 1280, 800);
  PmChoice *choice = pm_window_get_choice (window);
  const PmFinding *finding = &pm_choice_get_check (choice)->findings[0];

  window_test_action (window, "win.file");
  pm_choice_set_finding (choice, -1);
  pm_file_view_go_to_line (shown_file (window), 1);
  window_test_settle (window);
  g_assert_null (window_test_label (window, "Show finding"));
  window_test_action (window, "win.finding-next");
  g_assert_cmpuint (finding->spots[0].line, >, 1);
  g_assert_cmpuint (pm_file_view_get_line (shown_file (window)), ==, finding->spots[0].line);
  g_signal_emit_by_name (gtk_widget_get_ancestor (window_test_label (window, "Show finding"), GTK_TYPE_BUTTON),
                         "clicked");
  window_test_settle (window);
  g_assert_null (shown_file (window));
  g_assert_nonnull (window_test_label (window_test_find (window, PM_TYPE_DRAWER, 0), finding->what));
  window_test_close (window);
}

/* The first opening fails: one row per fault, the drawer open at the first; mended, the board comes. */
static void
test_starts_bad (void)
{
  g_autofree char *path = window_test_copy ("swap-by-chip", "U1.1Y SEL0:machine", "U1.1Z SEL0:machine");
  PmWindow *window;
  Sentence good;
  PmFileView *view;

  window_test_replace (path, "closes=\"2-3\"", "closes=\"2-9\"");
  window = window_test_open (path, 1280, 800);
  good = (Sentence){ window, "Routes right" };
  g_assert_true (g_str_has_prefix (sentence (window), "No verdict: line "));
  g_assert_nonnull (window_test_find (window, PM_TYPE_FAULTS_PAGE, 0));
  g_assert_cmpuint (window_test_count (window_test_find (window, PM_TYPE_FAULTS_PAGE, 0), GTK_TYPE_LIST_BOX_ROW), ==,
                    pm_faults_count (pm_session_get_faults (pm_window_get_session (window))));
  view = PM_FILE_VIEW (window_test_find (window, PM_TYPE_FILE_VIEW, 0));
  g_assert_cmpuint (pm_file_view_get_line (view), ==,
                    pm_faults_get (pm_session_get_faults (pm_window_get_session (window)), 0)->spot.line);
  g_assert_cmpstr (pm_file_view_get_mark (view, pm_file_view_get_line (view)), ==, "fault");
  for (guint step = 1; step <= pm_faults_count (pm_session_get_faults (pm_window_get_session (window))); step++) {
    const PmFaults *faults = pm_session_get_faults (pm_window_get_session (window));
    const PmFault *fault = pm_faults_get (faults, step % pm_faults_count (faults));

    window_test_action (window, "win.finding-next");
    g_assert_cmpuint (pm_file_view_get_line (view), ==, fault->spot.line);
    g_assert_nonnull (window_test_label (window_test_find (window, PM_TYPE_DRAWER, 0), fault->message));
    g_assert_nonnull (strstr (pm_window_get_announced (window), fault->message));
  }
  window_test_replace (path, "closes=\"2-9\"", "closes=\"2-3\"");
  window_test_replace (path, "U1.1Z SEL0:machine", "U1.1Y SEL0:machine");
  window_test_wait (says, &good, "good");
  window_test_settle (window);
  g_assert_null (window_test_find (window, PM_TYPE_FAULTS_PAGE, 0));
  g_assert_cmpuint (window_test_count (window, PM_TYPE_CARD), ==, 2);
  window_test_close (window);
}

/* A name that is no board file at all. */
static void
test_no_file (void)
{
  g_autofree char *folder = g_dir_make_tmp ("window-XXXXXX", NULL);
  g_autofree char *missing = g_build_filename (folder, "missing.board.xml", NULL);
  g_autofree char *fifo = g_build_filename (folder, "fifo.board.xml", NULL);
  const char *paths[] = { folder, missing, fifo };

  g_assert_cmpint (mkfifo (fifo, 0600), ==, 0);
  for (guint i = 0; i < G_N_ELEMENTS (paths); i++) {
    PmWindow *window = window_test_open (paths[i], 800, 600);

    g_assert_true (g_str_has_prefix (sentence (window), "No verdict: the file"));
    window_test_close (window);
  }
}

static GtkDropTarget *
drop_target (PmWindow *window)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (GTK_WIDGET (window));

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++) {
    g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

    if (GTK_IS_DROP_TARGET (controller))
      return GTK_DROP_TARGET (controller);
  }
  return NULL;
}

/* A file that is dropped opens; while it is held over the window, the window shows that it would be taken. */
static void
test_drop (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (NULL, 800, 600);
  GtkDropTarget *target = drop_target (window);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  GSList files = { file, NULL };
  GValue value = G_VALUE_INIT;
  GdkDragAction action = 0;
  gboolean taken = FALSE;
  GtkWidget *stack = window_test_find (window, GTK_TYPE_STACK, 0);

  g_assert_nonnull (target);
  g_signal_emit_by_name (target, "enter", 10.0, 10.0, &action);
  g_assert_cmpint (action, ==, GDK_ACTION_COPY);
  g_assert_true (gtk_widget_has_css_class (stack, "drop-here"));
  g_signal_emit_by_name (target, "leave");
  g_assert_false (gtk_widget_has_css_class (stack, "drop-here"));
  g_value_init (&value, GDK_TYPE_FILE_LIST);
  g_value_take_boxed (&value, gdk_file_list_new_from_list (&files));
  g_signal_emit_by_name (target, "drop", &value, 10.0, 10.0, &taken);
  g_value_unset (&value);
  g_assert_true (taken);
  window_test_settle (window);
  g_assert_true (g_str_has_prefix (sentence (window), "Routes right"));
  window_test_close (window);
}

static gboolean
is_idle (gpointer window)
{
  return !pm_session_get_busy (pm_window_get_session (window));
}

/* A check that runs can be stopped: what was there before stays, or the start page. */
static void
test_cancel (void)
{
  g_autofree char *path = window_test_board ("sixteen-settings");
  PmWindow *window = window_test_open (NULL, 1280, 800);

  pm_window_open (window, path);
  g_assert_true (pm_session_get_busy (pm_window_get_session (window)));
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), "win.cancel", NULL));
  window_test_wait (is_idle, window, "the check ends");
  window_test_settle (window);
  g_assert_null (pm_choice_get_check (pm_window_get_choice (window)));
  g_assert_nonnull (window_test_find (window, PM_TYPE_START_PAGE, 0));

  pm_window_open (window, path);
  window_test_settle (window);
  g_assert_nonnull (pm_choice_get_check (pm_window_get_choice (window)));
  pm_session_reload (pm_window_get_session (window));
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), "win.cancel", NULL));
  window_test_wait (is_idle, window, "the check ends again");
  window_test_settle (window);
  g_assert_nonnull (window_test_find (window, PM_TYPE_CARD, 0));
  window_test_close (window);
}

/* One board after another in the same window, a bad one between. */
static void
test_another (void)
{
  g_autofree char *first = window_test_board ("cut-not-made"), *third = window_test_board ("three-drive-rotary");
  g_autofree char *second = window_test_copy ("swap-by-chip", "U1.1Y SEL0:machine", "U1.1Z SEL0:machine");
  PmWindow *window = window_test_open (first, 1280, 800);

  pm_window_open (window, second);
  window_test_settle (window);
  g_assert_null (pm_choice_get_check (pm_window_get_choice (window)));
  g_assert_nonnull (window_test_find (window, PM_TYPE_FAULTS_PAGE, 0));
  pm_window_open (window, third);
  window_test_settle (window);
  g_assert_cmpuint (window_test_count (window, PM_TYPE_CARD), ==, 3);
  window_test_close (window);
}

int
main (int argc, char **argv)
{
  g_auto (GStrv) boards = NULL;

  window_test_init (&argc, &argv);
  boards = pm_file_list_examples ();
  g_assert_nonnull (boards[0]);
  g_test_add_func ("/window/start", test_start);
  g_test_add_func ("/window/small", test_small);
  g_test_add_func ("/window/to-do-in-sight", test_to_do_in_sight);
  g_test_add_func ("/window/card-in-sight", test_card_in_sight);
  g_test_add_func ("/window/card-height", test_card_height);
  g_test_add_func ("/window/focus-seen", test_focus_seen);
  g_test_add_func ("/window/focus-follows-lever", test_focus_follows_lever);
  g_test_add_func ("/window/follow", test_follow);
  g_test_add_func ("/window/turns-bad", test_turns_bad);
  g_test_add_func ("/window/bad-is-not-good", test_bad_is_not_good);
  g_test_add_func ("/window/file-follows", test_file_follows);
  g_test_add_func ("/window/starts-bad", test_starts_bad);
  g_test_add_func ("/window/no-file", test_no_file);
  g_test_add_func ("/window/drop", test_drop);
  g_test_add_func ("/window/cancel", test_cancel);
  g_test_add_func ("/window/another", test_another);
  for (guint i = 0; boards[i] != NULL; i++) {
    g_autofree char *name = g_path_get_basename (boards[i]);
    g_autofree char *path = g_strconcat ("/window/board/", name, NULL);

    g_test_add_data_func (path, boards[i], test_each_board);
  }
  return window_test_run ();
}
