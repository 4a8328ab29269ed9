/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The series is a table: its values are not those that the geometric rule gives (27 to 47 and 82 depart from it). */
#include "config.h"
#include "pm-preferred.h"
#include <math.h>

static const guint8 e24[] = {10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30,
                             33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91};

guint
pm_preferred_figures (guint n)
{
  return e24[n];
}

/* 10 to below 100, and what it was multiplied by. */
static double
figures_of (double value, double *decade)
{
  double power = floor (log10 (value) + 1e-9);
  *decade = pow (10, power - 1);
  return value / *decade;
}

void
pm_preferred_near (double value, double *below, double *above)
{
  double decade, figures = figures_of (value, &decade);
  *below = 10 * decade;
  *above = 100 * decade;
  for (guint i = 0; i < G_N_ELEMENTS (e24); i++) {
    if (e24[i] <= figures * (1 + 1e-6))
      *below = e24[i] * decade;
    if (e24[i] >= figures * (1 - 1e-6) && e24[i] * decade < *above)
      *above = e24[i] * decade;
  }
}

gboolean
pm_preferred_is (double value)
{
  double below, above;
  pm_preferred_near (value, &below, &above);
  return fabs (below - above) < value * 1e-9;
}
