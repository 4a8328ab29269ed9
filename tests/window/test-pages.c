/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cards and table, comparison, variations, recent boards, shortcuts. */
#include "pm-also-tried.h"
#include "pm-application.h"
#include "pm-card.h"
#include "pm-file-list.h"
#include "pm-finding-list.h"
#include "pm-help.h"
#include "pm-result-table.h"
#include "pm-routes-page.h"
#include "pm-shortcuts.h"
#include "pm-switch-strip.h"
#include "pm-words.h"
#include "window-test.h"

static gboolean
is_narrow (gpointer window)
{
  return gtk_widget_get_width (window) < 900;
}

static gboolean
is_wide (gpointer window)
{
  return !is_narrow (window);
}

/* Few results are cards, many a table with the chosen and the compared card below. */
static void
test_cards_or_table (void)
{
  static const struct { const char *board; int width, height; gboolean table; guint cards;
  } cases[] = {
      {"swap-by-chip", 1280, 800, FALSE, 2},     {"swap-by-chip", 800, 600, FALSE, 2},
      {"jumper-only", 1280, 800, FALSE, 1},      {"three-drive-rotary", 1280, 800, FALSE, 3},
      {"three-drive-rotary", 800, 600, TRUE, 2}, {"sixteen-settings", 1280, 800, TRUE, 2},
      {"sixteen-settings", 800, 600, TRUE, 2},
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autofree char *path = window_test_board (cases[i].board);
    PmWindow *window = window_test_open (path, cases[i].width, cases[i].height);
    PmRoutesPage *page = PM_ROUTES_PAGE (window_test_find (window, PM_TYPE_ROUTES_PAGE, 0));
    const PmCheck *check = pm_choice_get_check (pm_window_get_choice (window));

    g_test_message ("%s at %dx%d: %u results", cases[i].board, cases[i].width, cases[i].height, check->n_results);
    g_assert_cmpint (pm_routes_page_is_table (page), ==, cases[i].table);
    g_assert_cmpuint (window_test_count (page, PM_TYPE_CARD), ==, cases[i].cards);
    if (cases[i].table)
      g_assert_cmpuint (window_test_count (window_test_find (page, PM_TYPE_RESULT_TABLE, 0), GTK_TYPE_LIST_BOX_ROW), ==,
                        check->n_results);
    window_test_close (window);
  }
}

/* Flipping a switch moves the frame; every card keeps its case and its place. */
static void
test_cards_stand_still (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 1280, 800);
  PmCard *cards[2];
  graphene_rect_t before[2], after;

  for (guint i = 0; i < 2; i++) {
    cards[i] = PM_CARD (window_test_find (window, PM_TYPE_CARD, i));
    g_assert_true (
        gtk_widget_compute_bounds (GTK_WIDGET (pm_card_get_plan (cards[i])), GTK_WIDGET (window), &before[i]));
    g_assert_cmpint (gtk_widget_has_css_class (GTK_WIDGET (cards[i]), "chosen"), ==, i == 0);
  }
  g_assert_cmpfloat (before[0].origin.y, ==, before[1].origin.y);
  window_test_action (window, "win.setting-next");
  for (guint i = 0; i < 2; i++) {
    g_assert_true (PM_CARD (window_test_find (window, PM_TYPE_CARD, i)) == cards[i]);
    g_assert_cmpuint (pm_card_get_case (cards[i]), ==, i + 1);
    g_assert_true (gtk_widget_compute_bounds (GTK_WIDGET (pm_card_get_plan (cards[i])), GTK_WIDGET (window), &after));
    g_assert_true (graphene_rect_equal (&before[i], &after));
    g_assert_cmpint (gtk_widget_has_css_class (GTK_WIDGET (cards[i]), "chosen"), ==, i == 1);
  }
  window_test_close (window);
}

/* A variation is shown in the chosen card until Escape. */
static void
test_also_tried (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 1280, 800);
  PmChoice *choice = pm_window_get_choice (window);
  const PmCheck *check = pm_choice_get_check (choice);
  guint chosen = pm_choice_get_chosen (choice), variation = PM_NONE;

  for (guint i = 0; i < check->n_cases; i++)
    if (pm_case_is_variation_of (check, i, chosen))
      variation = i;
  g_assert_cmpuint (variation, !=, PM_NONE);
  pm_choice_show_case (choice, variation);
  window_test_settle (window);
  g_assert_cmpuint (pm_card_get_case (PM_CARD (window_test_find (window, PM_TYPE_CARD, 0))), ==, variation);
  g_assert_cmpuint (pm_choice_get_chosen (choice), ==, chosen);
  window_test_action (window, "win.back");
  g_assert_cmpuint (pm_card_get_case (PM_CARD (window_test_find (window, PM_TYPE_CARD, 0))), ==, chosen);
  window_test_close (window);
}

static void
test_compared (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip"), *text = NULL, *same = NULL;
  PmWindow *window = window_test_open (path, 1280, 800);
  const PmCheck *check = pm_choice_get_check (pm_window_get_choice (window));

  text = pm_card_changed_text (check, 2, 1);
  same = pm_card_changed_text (check, 1, 1);
  g_assert_cmpstr (text, ==, "SEL0 reaches Outside (there: Inside); SEL1 reaches Inside (there: Outside)");
  g_assert_cmpstr (same, ==, "nothing");
  pm_choice_set_compared (pm_window_get_choice (window), 1);
  window_test_settle (window);
  g_assert_nonnull (window_test_label (window, "(there: Inside)"));
  window_test_close (window);
}

static void
test_positions (void)
{
  g_autofree char *path = window_test_board ("sixteen-settings");
  PmWindow *window = window_test_open (path, 1280, 800);
  const PmCheck *check = pm_choice_get_check (pm_window_get_choice (window));
  gboolean any = FALSE;

  for (guint i = 0; i < check->n_results; i++)
    for (guint k = 0; k < check->board->n_switches; k++) {
      g_autofree char *text = NULL;

      if (check->board->switches[k].moved != PM_MOVED_BY_HAND)
        continue;
      text = pm_result_position_text (check, i, k);
      g_assert_cmpuint (strlen (text), >, 0);
      any |= check->results[i].settings->len > 1 && g_str_equal (text, "any");
    }
  g_assert_true (any);
  window_test_close (window);
}

/* What is set in one window is found by the next. */
static void
test_remembered (void)
{
  g_autoptr (GSettings) settings = pm_application_new_settings ();
  g_autofree char *path = window_test_board ("swap-by-chip"), *folder = NULL, *kept = NULL;
  GtkWidget *window;

  g_assert_nonnull (settings);
  window = pm_window_new (NULL, settings, 1100, 700);
  pm_window_open (PM_WINDOW (window), path);
  gtk_window_present (GTK_WINDOW (window));
  window_test_settle (PM_WINDOW (window));
  window_test_action (PM_WINDOW (window), "win.pane");
  gtk_window_close (GTK_WINDOW (window));
  g_assert_cmpint (g_settings_get_int (settings, "window-width"), ==, 1100);
  g_assert_cmpint (g_settings_get_int (settings, "window-height"), ==, 700);
  g_assert_false (g_settings_get_boolean (settings, "pane"));
  folder = g_path_get_dirname (path);
  kept = g_settings_get_string (settings, "folder");
  g_assert_cmpstr (kept, ==, folder);
  window = pm_window_new (NULL, settings, 0, 0);
  pm_window_open (PM_WINDOW (window), path);
  gtk_window_present (GTK_WINDOW (window));
  window_test_settle (PM_WINDOW (window));
  g_assert_null (window_test_find (window, PM_TYPE_FINDING_LIST, 0));
  window_test_close (PM_WINDOW (window));
  g_settings_reset (settings, "pane");
}

/* A wide window that is made narrow: the switches move into a line, and back. */
static void
test_made_narrow (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 1280, 800);

  g_assert_nonnull (window_test_find (window, PM_TYPE_FINDING_LIST, 0));
  gtk_window_set_default_size (GTK_WINDOW (window), 800, 600);
  window_test_wait (is_narrow, window, "the window is narrow");
  window_test_settle (window);
  g_assert_null (window_test_find (window, PM_TYPE_FINDING_LIST, 0));
  g_assert_nonnull (window_test_find (window, PM_TYPE_SWITCH_STRIP, 0));
  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 800);
  window_test_wait (is_wide, window, "the window is wide");
  window_test_settle (window);
  g_assert_nonnull (window_test_find (window, PM_TYPE_FINDING_LIST, 0));
  g_assert_null (window_test_find (window, PM_TYPE_SWITCH_STRIP, 0));
  window_test_close (window);
}

static gboolean
is_dark (gpointer settings)
{
  gboolean dark;

  g_object_get (settings, "gtk-application-prefer-dark-theme", &dark, NULL);
  return dark;
}

static gboolean
is_light (gpointer settings)
{
  return !is_dark (settings);
}

/* Says what the desktop's settings portal says when the person chooses. */
static void
say_scheme (GDBusConnection *bus, guint scheme)
{
  g_assert_true (g_dbus_connection_emit_signal (
      bus, NULL, "/org/freedesktop/portal/desktop", "org.freedesktop.portal.Settings", "SettingChanged",
      g_variant_new ("(ssv)", "org.freedesktop.appearance", "color-scheme", g_variant_new_uint32 (scheme)), NULL));
}

/* The desktop turns dark and light again, and the window with it; its own choice goes before. */
static void
test_follows_desktop (void)
{
  g_autofree char *address = g_dbus_address_get_for_bus_sync (G_BUS_TYPE_SESSION, NULL, NULL);
  g_autoptr (GDBusConnection) bus = g_dbus_connection_new_for_address_sync (
      address, G_DBUS_CONNECTION_FLAGS_AUTHENTICATION_CLIENT | G_DBUS_CONNECTION_FLAGS_MESSAGE_BUS_CONNECTION, NULL,
      NULL, NULL);
  GtkSettings *settings = gtk_settings_get_default ();
  g_autoptr (GVariant) reply = NULL;
  PmWindow *window = window_test_open (NULL, 800, 600);

  g_assert_nonnull (bus);
  reply = g_dbus_connection_call_sync (bus, "org.freedesktop.DBus", "/org/freedesktop/DBus", "org.freedesktop.DBus",
                                       "RequestName", g_variant_new ("(su)", "org.freedesktop.portal.Desktop", 0), NULL,
                                       G_DBUS_CALL_FLAGS_NONE, -1, NULL, NULL);
  g_assert_nonnull (reply);
  window_test_settle (window);
  g_assert_true (is_light (settings));
  say_scheme (bus, 1);
  window_test_wait (is_dark, settings, "dark");
  say_scheme (bus, 0);
  window_test_wait (is_light, settings, "light");
  window_test_close (window);
}

/* No key is bound twice; every action of the table exists. */
static void
test_shortcuts (void)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (const PmShortcut *shortcut = pm_shortcuts_table (); shortcut->title != NULL; shortcut++) {
    g_auto (GStrv) accels = g_strsplit (shortcut->accels, " ", -1);

    for (guint i = 0; accels[i] != NULL && shortcut->action != NULL; i++) {
      guint key;
      GdkModifierType modifiers;

      g_assert_true (gtk_accelerator_parse (accels[i], &key, &modifiers));
      if (!g_hash_table_add (seen, gtk_accelerator_name (key, modifiers)))
        g_error ("%s is bound twice", accels[i]);
    }
  }
}

/* The help has every word of docs/words.md with its meaning, and fits a small screen. */
static void
test_help (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "..", "docs", "words.md", NULL), *text = NULL;
  g_auto (GStrv) lines = NULL;
  const PmWord *word = pm_words_table ();
  const char *group = NULL;
  PmWindow *window = window_test_open (NULL, 800, 600);
  GtkWidget *help = NULL;
  int width, height;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++) {
    g_auto (GStrv) cells = g_strsplit (lines[i], " | ", 2);

    if (g_str_has_prefix (lines[i], "## "))
      group = lines[i] + 3;
    if (!g_str_has_prefix (lines[i], "| ") || g_str_has_prefix (lines[i], "| word |"))
      continue;
    g_assert_cmpstr (word->group, ==, group);
    g_assert_cmpstr (word->word, ==, cells[0] + 2);
    g_assert_true (g_str_has_prefix (cells[1], word->meaning));
    g_assert_cmpstr (cells[1] + strlen (word->meaning), ==, " |");
    word++;
  }
  g_assert_null (word->group);

  window_test_action (window, "win.shortcuts");
  window_test_action (window, "win.help");
  for (guint i = 0; i < g_list_model_get_n_items (gtk_window_get_toplevels ()); i++) {
    g_autoptr (GtkWidget) other = g_list_model_get_item (gtk_window_get_toplevels (), i);

    g_assert_true (!PM_IS_HELP (other) || help == NULL); /* both are the same window */
    if (PM_IS_HELP (other))
      help = other;
  }
  g_assert_nonnull (help);
  gtk_widget_measure (help, GTK_ORIENTATION_HORIZONTAL, -1, &width, NULL, NULL, NULL);
  gtk_widget_measure (help, GTK_ORIENTATION_VERTICAL, width, &height, NULL, NULL, NULL);
  g_test_message ("least %dx%d", width, height);
  g_assert_cmpint (width, <=, 620);
  g_assert_cmpint (height, <=, 460);
  window_test_close (window);
}

static void
test_heads (void)
{
  g_auto (GStrv) boards = pm_file_list_examples ();

  for (guint i = 0; boards[i] != NULL; i++) {
    g_autofree char *title = NULL, *about = NULL;

    pm_file_list_read_head (boards[i], &title, &about);
    g_assert_nonnull (title);
    g_assert_nonnull (about);
    g_assert_true (g_str_has_suffix (about, "."));
    g_assert_null (strchr (about, '\n'));
  }
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/pages/cards-or-table", test_cards_or_table);
  g_test_add_func ("/pages/cards-stand-still", test_cards_stand_still);
  g_test_add_func ("/pages/also-tried", test_also_tried);
  g_test_add_func ("/pages/compared", test_compared);
  g_test_add_func ("/pages/positions", test_positions);
  g_test_add_func ("/pages/remembered", test_remembered);
  g_test_add_func ("/pages/made-narrow", test_made_narrow);
  g_test_add_func ("/pages/follows-desktop", test_follows_desktop);
  g_test_add_func ("/pages/shortcuts", test_shortcuts);
  g_test_add_func ("/pages/help", test_help);
  g_test_add_func ("/pages/heads", test_heads);
  return window_test_run ();
}
