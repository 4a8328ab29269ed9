/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long a wiring diagram takes: random boards from nothing (model, words, layout), and drawn again on a screen of
 * 1920 x 1080, beside an empty one.  Processor time. */
#include "pm-diagram.h"
#include "random-file.h"

#include <math.h>
#include <string.h>
#include <time.h>

#define BOARDS 9
#define ROUNDS 5

static double
now_ms (void)
{
  struct timespec t;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &t);
  return t.tv_sec * 1e3 + t.tv_nsec / 1e6;
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;

  return (x > y) - (x < y);
}

static double
median (double *times, guint n)
{
  qsort (times, n, sizeof *times, compare_doubles);
  return times[n / 2];
}

static void
measure (const PmBoard *board, const PmStyle *style, double *make, double *draw, double *empty)
{
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  cairo_surface_t *screen = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 1920, 1080);
  PmCheck check = {.board = board};
  PmDiagramShow show = {.element = -1};
  double times[3][ROUNDS];

  pango_cairo_context_set_resolution (context, 96);
  for (guint r = 0; r < ROUNDS; r++) {
    double start = now_ms ();
    g_autoptr (PmDiagram) diagram = pm_diagram_new (&check, style, context);
    times[0][r] = now_ms () - start;
    for (guint kind = 0; kind < 2; kind++) {
      start = now_ms ();
      cairo_t *cr = cairo_create (screen);
      pm_style_set_source (cr, style->ground);
      cairo_paint (cr);
      double width, height;
      pm_diagram_size (diagram, &width, &height);
      cairo_scale (cr, MIN (1, 1920 / width), MIN (1, 1920 / width));
      if (kind == 1)
        pm_diagram_draw (diagram, cr, &show);
      cairo_destroy (cr);
      times[2 - kind][r] = now_ms () - start;
    }
  }
  *make = median (times[0], ROUNDS);
  *draw = median (times[1], ROUNDS);
  *empty = median (times[2], ROUNDS);
  cairo_surface_destroy (screen);
  g_object_unref (context);
}

int
main (void)
{
  static const guint SIZES[] = {10, 30, 60, 120};
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_LIGHT, NULL, 1);

  g_print ("wiring diagrams of random boards\n  %5s %12s %8s %8s %8s\n", "parts", "from nothing", "most", "redraw",
           "empty");
  for (guint i = 0; i < G_N_ELEMENTS (SIZES); i++) {
    double make[BOARDS], draw[BOARDS], empty[BOARDS];
    for (guint seed = 0; seed < BOARDS; seed++) {
      g_autoptr (PmLibrary) library = pm_library_new (NULL);
      g_autoptr (PmFaults) faults = pm_faults_new ();
      g_autofree char *text = random_file_new (500 + seed, SIZES[i]);
      g_autoptr (PmBoard) board = pm_board_load_text ("random.board.xml", text, strlen (text), library, faults);
      g_assert_nonnull (board);
      measure (board, style, &make[seed], &draw[seed], &empty[seed]);
    }
    double middle = median (make, BOARDS);
    g_print ("  %5u %9.2f ms %8.2f %8.2f %8.2f\n", SIZES[i], middle, make[BOARDS - 1], median (draw, BOARDS),
             median (empty, BOARDS));
  }
  g_print ("  (medians of %u boards, each the median of %u)\n", BOARDS, ROUNDS);
  return 0;
}
