/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the window costs beside an empty one: until its first settled frame, and for drawing a page again.  Measures and
 * prints; judges nothing.  docs/numbers.md says how to run it and what it printed.
 *
 * The first frame is measured from outside, in turn: wall time, processor time, and the most memory that was resident.
 * Redraws are measured in this program: each widget is told that it must draw itself anew, so that nothing of the last
 * frame is used, and the window's own renderer makes a picture of that. */
#include "config.h"

#include "pm-application.h"
#include "pm-window.h"

#include <fcntl.h>
#include <spawn.h>
#include <stdio.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#define WARM_ROUNDS 2 /* files are read from disk and caches are made */
#define WIDTH 1920
#define HEIGHT 1080 /* of what is drawn, without the margin that a window keeps for its shadow */
#define PATIENCE 60 /* seconds */

/* Pages to draw: a demo board, what is done in its window, and what that shows.  A page of the window that is chosen by
 * an action is one more row. */
static const struct { const char *board, *action, *label; } pages[] = {
  { "jumper-only", NULL, "one card" },
  { "swap-by-chip", NULL, "two cards" },
  { "three-drive-rotary", NULL, "several cards" },
  { "swap-by-contacts", NULL, "cards and findings" },
  { "sixteen-settings", NULL, "table of 16 settings" },
  { "swap-by-chip", "win.file", "two cards, file open" },
  { "sixteen-settings", "win.file", "table, file open" },
  { "swap-by-chip", "win.page::diagram", "diagram" },
  { "four-selects-coded", "win.page::diagram", "diagram, four drives" },
  { "swap-by-chip", "win.page::pins", "pins" },
  { "swap-by-chip", "win.page::build", "build" },
};

static const char *const first_frames[] = { "swap-by-chip", "three-drive-rotary", "sixteen-settings" };

typedef struct {
  const char *empty, *program, *boards;
  int rounds;
} Bench;

typedef struct { double middle, low, high; } Spread;

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* Median, and where the middle half lies. Sorts. */
static Spread
spread_of (GArray *values)
{
  g_array_sort (values, compare_doubles);
  return (Spread){ g_array_index (values, double, values->len / 2), g_array_index (values, double, values->len / 4),
                   g_array_index (values, double, values->len - 1 - values->len / 4) };
}

static char *
path_of (const Bench *bench, const char *board)
{
  g_autofree char *file = g_strconcat (board, ".board.xml", NULL);

  return g_build_filename (bench->boards, file, NULL);
}

/* What is measured of a run. */
enum { TIME, WORK, MEMORY, N_FIGURES };
static const struct { const char *name, *unit; } figures[N_FIGURES] = {
  [TIME] = { "time", "ms" }, [WORK] = { "work", "ms" }, [MEMORY] = { "memory", "MB" }
};

/* Wall time, processor time and most memory of one run that must end well. */
static void
run_child (char **argv, double *values)
{
  posix_spawn_file_actions_t actions;
  gint64 begun = g_get_monotonic_time ();
  struct rusage usage;
  pid_t child;
  int status;

  posix_spawn_file_actions_init (&actions);
  posix_spawn_file_actions_addopen (&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
  if (posix_spawnp (&child, argv[0], &actions, NULL, argv, environ) != 0)
    g_error ("cannot run %s", argv[0]);
  wait4 (child, &status, 0, &usage);
  values[TIME] = (double) (g_get_monotonic_time () - begun) / 1000;
  values[WORK] = (double) (usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) * 1000 +
                 (double) (usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) / 1000;
  values[MEMORY] = (double) usage.ru_maxrss / 1024;
  posix_spawn_file_actions_destroy (&actions);
  if (!WIFEXITED (status) || WEXITSTATUS (status) != 0)
    g_error ("%s did not end well", argv[0]);
}

static void
print_first (const char *what, GArray *values[2], const char *unit)
{
  Spread empty = spread_of (values[0]), ours = spread_of (values[1]);

  g_print ("    %-8s %8.1f (%.1f to %.1f) %s against %.1f (%.1f to %.1f) %s: %.2f x\n", what, ours.middle, ours.low,
           ours.high, unit, empty.middle, empty.low, empty.high, unit, ours.middle / empty.middle);
}

/* A child starts with the memory of its parent in its books, so this runs while this program is still small. */
static void
measure_first_frame (const Bench *bench)
{
  struct rusage own;

  g_print ("\nfirst settled frame with a board, against an empty window of the same size (1280x800)\n");
  for (guint b = 0; b < G_N_ELEMENTS (first_frames); b++) {
    g_autofree char *path = path_of (bench, first_frames[b]);
    char *empty[] = { (char *) bench->empty, NULL };
    char *ours[] = { (char *) bench->program, (char *) "--size=1280x800", (char *) "--exit-after-first-frame", path,
                     NULL };
    char **commands[] = { empty, ours };
    GArray *all[N_FIGURES][2];

    for (int i = 0; i < N_FIGURES * 2; i++)
      all[i / 2][i % 2] = g_array_new (FALSE, FALSE, sizeof (double));
    for (int round = -WARM_ROUNDS; round < bench->rounds; round++)
      for (int k = 0; k < 2; k++) {
        double values[N_FIGURES];

        run_child (commands[k], values);
        for (int i = 0; round >= 0 && i < N_FIGURES; i++)
          g_array_append_val (all[i][k], values[i]);
      }
    g_print ("  %s\n", first_frames[b]);
    for (int i = 0; i < N_FIGURES; i++)
      print_first (figures[i].name, all[i], figures[i].unit);
    getrusage (RUSAGE_SELF, &own);
    if ((double) own.ru_maxrss / 1024 >= g_array_index (all[MEMORY][0], double, 0))
      g_print ("    memory cannot be compared: this program itself has %.1f MB\n", (double) own.ru_maxrss / 1024);
    for (int i = 0; i < N_FIGURES * 2; i++)
      g_array_unref (all[i / 2][i % 2]);
  }
  g_print ("  (medians of %d runs each, in turn, after %d that do not count; in brackets where the middle half lies;\n"
           "  work: processor time of all threads)\n",
           bench->rounds, WARM_ROUNDS);
}

static gboolean
is_ready (GtkWidget *window)
{
  return gtk_widget_get_mapped (window) && (!PM_IS_WINDOW (window) || pm_window_is_settled (PM_WINDOW (window)));
}

/* Until some frames have been drawn with nothing left to do. */
static void
settle (GtkWidget *window)
{
  gint64 end = g_get_monotonic_time () + PATIENCE * G_USEC_PER_SEC, until = -1;

  for (;;) {
    GdkFrameClock *clock = gtk_widget_get_frame_clock (window);
    gint64 now = clock != NULL ? gdk_frame_clock_get_frame_counter (clock) : 0;

    if (!is_ready (window) || clock == NULL)
      until = -1;
    else if (until < 0)
      until = now + 4;
    else if (now >= until)
      return;
    if (until >= 0)
      gtk_widget_queue_draw (window);
    if (g_get_monotonic_time () > end)
      g_error ("waited in vain for a window to settle");
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (1000);
  }
}

/* As settle, and gives the window what its margin takes away. */
static void
settle_whole (GtkWidget *window)
{
  int width = WIDTH, height = HEIGHT;

  settle (window);
  width += WIDTH - gtk_widget_get_width (window);
  height += HEIGHT - gtk_widget_get_height (window);
  gtk_window_set_default_size (GTK_WINDOW (window), width, height);
  settle (window);
}

/* Counts those that are seen. */
static guint
queue_all (GtkWidget *widget)
{
  guint n = 1;

  if (!gtk_widget_get_mapped (widget))
    return 0;
  gtk_widget_queue_draw (widget);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    n += queue_all (child);
  return n;
}

/* The window's class is asked, not a paintable: that would hand out the nodes of the last frame. */
static void
redraw (GtkWidget *window, double *nodes_ms, double *picture_ms)
{
  GskRenderer *renderer = gtk_native_get_renderer (GTK_NATIVE (window));
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  gint64 begun = g_get_monotonic_time (), between;
  graphene_rect_t all = GRAPHENE_RECT_INIT (0, 0, (float) gtk_widget_get_width (window),
                                            (float) gtk_widget_get_height (window));
  g_autoptr (GdkTexture) texture = NULL;
  GskRenderNode *node;

  gtk_snapshot_render_background (snapshot, gtk_widget_get_style_context (window), 0, 0, all.size.width,
                                  all.size.height);
  GTK_WIDGET_GET_CLASS (window)->snapshot (window, snapshot);
  node = gtk_snapshot_free_to_node (snapshot);
  between = g_get_monotonic_time ();
  texture = gsk_renderer_render_texture (renderer, node, &all);
  *nodes_ms = (double) (between - begun) / 1000;
  *picture_ms = (double) (g_get_monotonic_time () - between) / 1000;
  gsk_render_node_unref (node);
}

static void
measure_window (const Bench *bench, GtkWidget *window, const char *label, const char *board)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) nodes = g_array_new (FALSE, FALSE, sizeof (double));
  guint n = 0;
  Spread whole;

  for (int round = -WARM_ROUNDS; round < bench->rounds * 3; round++) {
    double nodes_ms, picture_ms, ms;

    n = queue_all (window);
    redraw (window, &nodes_ms, &picture_ms);
    ms = nodes_ms + picture_ms;
    if (round >= 0) {
      g_array_append_val (all, ms);
      g_array_append_val (nodes, nodes_ms);
    }
  }
  whole = spread_of (all);
  g_print ("  %-24s %-20s %5dx%-5d %7u %7.2f %7.2f %7.2f %7.2f\n", label, board, gtk_widget_get_width (window),
           gtk_widget_get_height (window), n, whole.middle, whole.low, whole.high, spread_of (nodes).middle);
}

static void
close_window (GtkWidget *window)
{
  gtk_window_destroy (GTK_WINDOW (window));
  while (g_main_context_iteration (NULL, FALSE))
    ;
}

static void
measure_empty (const Bench *bench, GtkApplication *application)
{
  GtkWidget *window = gtk_application_window_new (application);

  gtk_window_set_default_size (GTK_WINDOW (window), WIDTH, HEIGHT);
  gtk_window_present (GTK_WINDOW (window));
  settle_whole (window);
  measure_window (bench, window, "empty window", "");
  close_window (window);
}

static void
measure_redraw (const Bench *bench)
{
  g_autoptr (GtkApplication) application = GTK_APPLICATION (pm_application_new ());
  g_autoptr (GError) error = NULL;

  g_application_set_flags (G_APPLICATION (application), G_APPLICATION_NON_UNIQUE | G_APPLICATION_HANDLES_OPEN);
  if (!g_application_register (G_APPLICATION (application), NULL, &error))
    g_error ("%s", error->message);
  g_print ("\nredraw of a page, each widget anew, against 8 ms\n");
  g_print ("  %-24s %-20s %-11s %7s %7s %7s %7s %7s\n", "page", "board", "size", "widgets", "ms", "from", "to",
           "saying");
  measure_empty (bench, application);
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++) {
    g_autofree char *path = path_of (bench, pages[i].board);
    GtkWidget *window = pm_window_new (application, NULL, WIDTH, HEIGHT);

    pm_window_open (PM_WINDOW (window), path);
    gtk_window_present (GTK_WINDOW (window));
    settle_whole (window);
    if (pm_choice_get_check (pm_window_get_choice (PM_WINDOW (window))) == NULL)
      g_error ("%s cannot be read", path);
    if (pages[i].action != NULL) {
      g_autofree char *name = NULL;
      g_autoptr (GVariant) target = NULL;

      if (!g_action_parse_detailed_name (pages[i].action, &name, &target, NULL) ||
          !gtk_widget_activate_action_variant (window, name, target))
        g_error ("no action %s", pages[i].action);
      settle (window);
    }
    measure_window (bench, window, pages[i].label, pages[i].board);
    close_window (window);
  }
  measure_empty (bench, application);
  g_print ("  (medians of %d; from, to: where the middle half lies; saying: the time in which the widgets say\n"
           "  what is drawn, which is part of it; the rest is the renderer, %s)\n",
           bench->rounds * 3, g_getenv ("GSK_RENDERER") != NULL ? g_getenv ("GSK_RENDERER") : "the usual one");
}

int
main (int argc, char **argv)
{
  g_autofree char *empty = NULL, *program = NULL, *boards = NULL;
  int rounds = 15;
  const GOptionEntry entries[] = {
    { "empty", 0, 0, G_OPTION_ARG_FILENAME, &empty, "The program pm-bench-empty", "FILE" },
    { "program", 0, 0, G_OPTION_ARG_FILENAME, &program, "The program pointsman", "FILE" },
    { "boards", 0, 0, G_OPTION_ARG_FILENAME, &boards, "Where the boards are", "FOLDER" },
    { "rounds", 0, 0, G_OPTION_ARG_INT, &rounds, "How often each thing is measured", "N" },
    { NULL },
  };
  g_autoptr (GOptionContext) context = g_option_context_new ("- measures how long the window takes");
  g_autoptr (GError) error = NULL;
  Bench bench;

  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error) || boards == NULL || rounds < 1) {
    g_printerr ("%s\n", error != NULL ? error->message : "give --boards, and at least one round");
    return 2;
  }
  bench = (Bench){ empty, program, boards, rounds };
  if (empty != NULL && program != NULL)
    measure_first_frame (&bench);
  else
    g_print ("first frame not measured: give --empty and --program\n");
  if (!gtk_init_check ()) {
    g_printerr ("no display: run it by tests/window/in-display\n");
    return 2;
  }
  measure_redraw (&bench);
  return 0;
}
