/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Series of IEC 60063 as published (table at qsl.net/g4usp): E6 10 15 22 33 47 68; E12 adds 12 18 27 39 56 82; E24 has
 * all 24.  The rule 10^(i/24) does not give 27 30 33 36 39 43 47 82. */
#include "pm-preferred.h"
#include <math.h>

static void
test_series (void)
{
  static const guint e6[] = {10, 15, 22, 33, 47, 68},
                     e12[] = {10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82},
                     e24[] = {10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30,
                              33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91};
  for (guint i = 0; i < 24; i++)
    g_assert_cmpuint (pm_preferred_figures (i), ==, e24[i]);
  for (guint i = 0; i < 12; i++)
    g_assert_cmpuint (pm_preferred_figures (2 * i), ==, e12[i]);
  for (guint i = 0; i < 6; i++)
    g_assert_cmpuint (pm_preferred_figures (4 * i), ==, e6[i]);
}

static void
test_rule (void)
{
  static const guint departs[] = {27, 30, 33, 36, 39, 43, 47, 82};
  for (guint i = 0, k = 0; i < 24; i++) {
    gboolean by_rule = lround (10 * pow (10, i / 24.0)) == pm_preferred_figures (i);
    gboolean listed = k < G_N_ELEMENTS (departs) && departs[k] == pm_preferred_figures (i);
    g_assert_true (by_rule != listed);
    k += listed;
  }
}

static void
test_values (void)
{
  static const double good[] = {1, 1.1, 9.1, 10, 150, 220, 330, 1e3, 4.7e3, 10e3, 91e3, 1e6, 100e-9, 47e-12, 0.22};
  static const double bad[] = {1.05, 9.5, 14e3, 125, 5e3, 99, 25e-9};
  double below, above;
  for (guint i = 0; i < G_N_ELEMENTS (good); i++)
    g_assert_true (pm_preferred_is (good[i]));
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    g_assert_false (pm_preferred_is (bad[i]));
  pm_preferred_near (5e3, &below, &above);
  g_assert_cmpfloat_with_epsilon (below, 4.7e3, 1e-6);
  g_assert_cmpfloat_with_epsilon (above, 5.1e3, 1e-6);
  pm_preferred_near (95, &below, &above);
  g_assert_cmpfloat_with_epsilon (below, 91, 1e-9);
  g_assert_cmpfloat_with_epsilon (above, 100, 1e-9);
  pm_preferred_near (10e3, &below, &above);
  g_assert_cmpfloat_with_epsilon (below, above, 1e-6);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/preferred/series", test_series);
  g_test_add_func ("/preferred/rule", test_rule);
  g_test_add_func ("/preferred/values", test_values);
  return g_test_run ();
}
