/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long laying out takes as boards grow, and what comes out: random boards, each from nothing.  Processor time. */
#include "layout-board.h"

#include <math.h>
#include <time.h>

#define BOARDS 12
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

int
main (void)
{
  static const guint SIZES[] = { 10, 25, 60, 150, 400 };

  g_print ("laying out random boards from nothing\n");
  g_print ("  %5s %8s %8s %12s %9s %7s\n", "boxes", "ms", "most ms", "us/(n log n)", "crossings", "bends");
  for (guint i = 0; i < G_N_ELEMENTS (SIZES); i++) {
    double times[BOARDS], n = SIZES[i];
    guint n_crossings = 0, n_bends = 0;

    for (guint seed = 0; seed < BOARDS; seed++) {
      g_autoptr (LayoutBoard) board = layout_board_random (1000 + seed, SIZES[i], FALSE);
      double rounds[ROUNDS];

      for (guint r = 0; r < ROUNDS; r++) {
        double start = now_ms ();
        g_autoptr (PmLayout) layout = pm_layout_new (&board->input);

        rounds[r] = now_ms () - start;
        n_crossings += r ? 0 : layout->n_crossings;
        n_bends += r ? 0 : layout->n_bends;
      }
      qsort (rounds, ROUNDS, sizeof *rounds, compare_doubles);
      times[seed] = rounds[ROUNDS / 2];
    }
    qsort (times, BOARDS, sizeof *times, compare_doubles);
    g_print ("  %5u %8.2f %8.2f %12.2f %9u %7u\n", SIZES[i], times[BOARDS / 2], times[BOARDS - 1],
             times[BOARDS / 2] * 1e3 / (n * log2 (n)), n_crossings / BOARDS, n_bends / BOARDS);
  }
  g_print ("  (medians of %u boards, each the median of %u; crossings and bends are means)\n", BOARDS, ROUNDS);
  return 0;
}
