/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities: what people write, what it is, and what is refused in which words. */
#include "pm-quantity.h"
#include <math.h>

static const struct {
  const char    *text;
  PmQuantityUnit unit;
  double         value, tolerance, low, high;
} good[] = {
  { "4k7", PM_UNIT_OHM, 4700, 0, 4700, 4700 },
  { "4.7 k\316\251", PM_UNIT_OHM, 4700, 0, 4700, 4700 },
  { "4.7k\342\204\246", PM_UNIT_OHM, 4700, 0, 4700, 4700 },
  { "4,7k", PM_UNIT_OHM, 4700, 0, 4700, 4700 },
  { "4700", PM_UNIT_OHM, 4700, 0, 4700, 4700 },
  { " 4700 ohms ", PM_UNIT_OHM, 4700, 0, 4700, 4700 },
  { "4R7", PM_UNIT_OHM, 4.7, 0, 4.7, 4.7 },
  { "R47", PM_UNIT_OHM, 0.47, 0, 0.47, 0.47 },
  { "0R", PM_UNIT_OHM, 0, 0, 0, 0 },
  { "470 R", PM_UNIT_OHM, 470, 0, 470, 470 },
  { "470R", PM_UNIT_OHM, 470, 0, 470, 470 },
  { "10 M", PM_UNIT_OHM, 10e6, 0, 10e6, 10e6 },
  { "1 Meg", PM_UNIT_OHM, 1e6, 0, 1e6, 1e6 },
  { "10 m\316\251", PM_UNIT_OHM, 0.01, 0, 0.01, 0.01 },
  { "10k 5 %", PM_UNIT_OHM, 10e3, 0.05, 9.5e3, 10.5e3 },
  { "10k \302\2611%", PM_UNIT_OHM, 10e3, 0.01, 9.9e3, 10.1e3 },
  { "100n", PM_UNIT_FARAD, 100e-9, 0, 100e-9, 100e-9 },
  { "0.1 \302\265F", PM_UNIT_FARAD, 100e-9, 0, 100e-9, 100e-9 },
  { "0.1 \316\274F", PM_UNIT_FARAD, 100e-9, 0, 100e-9, 100e-9 },
  { "4n7", PM_UNIT_FARAD, 4.7e-9, 0, 4.7e-9, 4.7e-9 },
  { "2u2", PM_UNIT_FARAD, 2.2e-6, 0, 2.2e-6, 2.2e-6 },
  { "22pF", PM_UNIT_FARAD, 22e-12, 0, 22e-12, 22e-12 },
  { "500 mA", PM_UNIT_AMPERE, 0.5, 0, 0.5, 0.5 },
  { "20 uA", PM_UNIT_AMPERE, 20e-6, 0, 20e-6, 20e-6 },
  { "-0.4 mA", PM_UNIT_AMPERE, -0.4e-3, 0, -0.4e-3, -0.4e-3 },
  { "\342\210\2220.4 mA", PM_UNIT_AMPERE, -0.4e-3, 0, -0.4e-3, -0.4e-3 },
  { "0.8 V", PM_UNIT_VOLT, 0.8, 0, 0.8, 0.8 },
  { "+12 V", PM_UNIT_VOLT, 12, 0, 12, 12 },
  { "5.0 \302\2615 %", PM_UNIT_VOLT, 5, 0.05, 4.75, 5.25 },
  { "5 V +/- 0.25 V", PM_UNIT_VOLT, 5, 0.05, 4.75, 5.25 },
  { "4.75..5.25 V", PM_UNIT_VOLT, 5, 0, 4.75, 5.25 },
  { "4.5\342\200\2235.5 V", PM_UNIT_VOLT, 5, 0, 4.5, 5.5 },
  { "-0.3..0.8 V", PM_UNIT_VOLT, 0.25, 0, -0.3, 0.8 },
  { "100..300 mA", PM_UNIT_AMPERE, 0.2, 0, 0.1, 0.3 },
  { "500 mA..1 A", PM_UNIT_AMPERE, 0.75, 0, 0.5, 1 },
  { "4V7", PM_UNIT_VOLT, 4.7, 0, 4.7, 4.7 },
  { "0,125", PM_UNIT_VOLT, 0.125, 0, 0.125, 0.125 },
  { "1 m", PM_UNIT_METRE, 1, 0, 1, 1 },
  { "200 mm", PM_UNIT_METRE, 0.2, 0, 0.2, 0.2 },
  { "20 ms", PM_UNIT_SECOND, 0.02, 0, 0.02, 0.02 },
  { "10 \302\265H", PM_UNIT_HENRY, 10e-6, 0, 10e-6, 10e-6 },
  { "0.25W", PM_UNIT_WATT, 0.25, 0, 0.25, 0.25 },
  { "17", PM_UNIT_NONE, 17, 0, 17, 17 },
};

static void
assert_near (double a, double b)
{
  g_assert_cmpfloat (fabs (a - b), <=, 1e-12 * fabs (b));
}

static void
test_good (void)
{
  for (guint k = 0; k < G_N_ELEMENTS (good); k++) {
    PmQuantity quantity;
    g_autoptr (GError) error = NULL;

    g_test_message ("%s", good[k].text);
    g_assert_true (pm_quantity_parse (good[k].text, good[k].unit, &quantity, &error));
    g_assert_no_error (error);
    g_assert_cmpuint (quantity.unit, ==, good[k].unit);
    /* The value itself is exact: the same double as the number written out. */
    if (good[k].low == good[k].high)
      g_assert_cmpfloat (quantity.value, ==, good[k].value);
    assert_near (quantity.value, good[k].value);
    assert_near (quantity.tolerance, good[k].tolerance);
    assert_near (quantity.low, good[k].low);
    assert_near (quantity.high, good[k].high);
  }
}

static const struct {
  const char    *text;
  PmQuantityUnit unit;
  PmQuantityError code;
  const char    *message;
} bad[] = {
  { "", PM_UNIT_OHM, PM_QUANTITY_ERROR_SYNTAX, "“” is no quantity: a number is missing" },
  { "k", PM_UNIT_OHM, PM_QUANTITY_ERROR_SYNTAX, "“k” is no quantity: “k” is not understood" },
  { "4k 7", PM_UNIT_OHM, PM_QUANTITY_ERROR_SYNTAX, "“4k 7” is no quantity: “7” is not understood" },
  { "4.7k5", PM_UNIT_OHM, PM_QUANTITY_ERROR_SYNTAX, "“4.7k5” is no quantity: “5” is not understood" },
  { "5 VA", PM_UNIT_VOLT, PM_QUANTITY_ERROR_SYNTAX, "“5 VA” is no quantity: “VA” is not understood" },
  { "5..", PM_UNIT_VOLT, PM_QUANTITY_ERROR_SYNTAX, "“5..” is no quantity: a number is missing" },
  { "nan", PM_UNIT_VOLT, PM_QUANTITY_ERROR_SYNTAX, "“nan” is no quantity: “nan” is not understood" },
  { "1,000,000", PM_UNIT_OHM, PM_QUANTITY_ERROR_SYNTAX,
    "“1,000,000” groups its digits: write them without a comma" },
  { "5 \316\251", PM_UNIT_VOLT, PM_QUANTITY_ERROR_UNIT, "“5 Ω” is in Ω, but V is wanted" },
  { "5 mA", PM_UNIT_VOLT, PM_QUANTITY_ERROR_UNIT, "“5 mA” is in A, but V is wanted" },
  { "5 V", PM_UNIT_NONE, PM_QUANTITY_ERROR_UNIT, "“5 V” is in V, but a plain number is wanted" },
  { "1,000", PM_UNIT_OHM, PM_QUANTITY_ERROR_AMBIGUOUS, "“1,000” can be 1 Ω or 1 kΩ" },
  { "12,500 V", PM_UNIT_VOLT, PM_QUANTITY_ERROR_AMBIGUOUS, "“12,500 V” can be 12.5 V or 12.5 kV" },
  { "10 m", PM_UNIT_OHM, PM_QUANTITY_ERROR_AMBIGUOUS, "“10 m” can be 10 mΩ or 10 MΩ" },
  { "10m", PM_UNIT_FARAD, PM_QUANTITY_ERROR_AMBIGUOUS, "“10m” can be 10 mF or 10 µF" },
  { "1m5", PM_UNIT_METRE, PM_QUANTITY_ERROR_AMBIGUOUS, "“1m5” can be 1.5 mm or 1.5 m" },
  { "-1", PM_UNIT_OHM, PM_QUANTITY_ERROR_RANGE, "“-1” is below zero" },
  { "5..4 V", PM_UNIT_VOLT, PM_QUANTITY_ERROR_RANGE, "“5..4 V” ends below where it begins" },
  { "5 V \302\261100 %", PM_UNIT_VOLT, PM_QUANTITY_ERROR_RANGE, "“5 V ±100 %” has a tolerance that cannot be" },
  { "11111111111111111111111111111111111111111111", PM_UNIT_OHM, PM_QUANTITY_ERROR_RANGE,
    "“11111111111111111111111111111111111111111111” has too many digits" },
  { "5\377", PM_UNIT_OHM, PM_QUANTITY_ERROR_SYNTAX, "“?” is no quantity: “?” is not understood" },
};

static void
test_bad (void)
{
  for (guint k = 0; k < G_N_ELEMENTS (bad); k++) {
    PmQuantity quantity;
    g_autoptr (GError) error = NULL;

    g_assert_false (pm_quantity_parse (bad[k].text, bad[k].unit, &quantity, &error));
    g_assert_error (error, PM_QUANTITY_ERROR, (gint) bad[k].code);
    g_assert_cmpstr (error->message, ==, bad[k].message);
  }
}

static void
test_format (void)
{
  const struct {
    double         value;
    PmQuantityUnit unit;
    const char    *text;
  } cases[] = {
    { 4700, PM_UNIT_OHM, "4.7 k\316\251" },
    { 1000, PM_UNIT_OHM, "1 k\316\251" },
    { 999.5, PM_UNIT_OHM, "999.5 \316\251" },
    { 100e-9, PM_UNIT_FARAD, "100 nF" },
    { 2.2e-6, PM_UNIT_FARAD, "2.2 \302\265F" },
    { 0.5e-12, PM_UNIT_FARAD, "0.5 pF" },
    { -12, PM_UNIT_VOLT, "-12 V" },
    { 0, PM_UNIT_VOLT, "0 V" },
    { 0.5, PM_UNIT_AMPERE, "500 mA" },
    { 1e12, PM_UNIT_OHM, "1000 G\316\251" },
    { 40, PM_UNIT_NONE, "40" },
    { 0.125, PM_UNIT_NONE, "0.125" },
    { NAN, PM_UNIT_VOLT, "?" },
    { INFINITY, PM_UNIT_OHM, "\342\210\236 \316\251" },
  };

  for (guint k = 0; k < G_N_ELEMENTS (cases); k++) {
    g_autofree char *text = pm_quantity_format (cases[k].value, cases[k].unit);

    g_assert_cmpstr (text, ==, cases[k].text);
  }
}

/* What is written reads back as the very same value. */
static void
test_round_trip (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);

  for (guint k = 0; k < 20000; k++) {
    PmQuantityUnit unit = g_rand_int_range (rand, PM_UNIT_OHM, PM_N_UNITS);
    double value = g_rand_int_range (rand, 1, 1000) * pow (10, g_rand_int_range (rand, -12, 7));
    g_autoptr (GError) error = NULL;
    g_autofree char *text = NULL;
    PmQuantity quantity;

    if (k % 2 == 0)
      value *= g_rand_double_range (rand, 0.5, 1);
    text = pm_quantity_format (value, unit);
    g_assert_true (pm_quantity_parse (text, unit, &quantity, &error));
    g_assert_no_error (error);
    g_assert_cmpfloat (quantity.value, ==, value);
  }
}

/* Nothing that can be typed stops the reader. */
static void
test_anything (void)
{
  static const char *const pieces[] = { "1", "0", "25", ".", ",", "..", " ", "k", "m", "M", "R", "V", "A", "\302\261",
                                        "%", "-", "+", "\302\265", "\316\251", "Meg", "x", "/-", "n" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);

  for (guint k = 0; k < 50000; k++) {
    g_autoptr (GString) text = g_string_new (NULL);
    g_autoptr (GError) error = NULL;
    PmQuantity quantity;

    for (guint n = g_rand_int_range (rand, 0, 8); n > 0; n--)
      g_string_append (text, pieces[g_rand_int_range (rand, 0, G_N_ELEMENTS (pieces))]);
    if (pm_quantity_parse (text->str, g_rand_int_range (rand, 0, PM_N_UNITS), &quantity, &error)) {
      g_assert_no_error (error);
      g_assert_true (quantity.low <= quantity.value && quantity.value <= quantity.high);
    } else {
      g_assert_nonnull (error);
    }
  }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/quantity/good", test_good);
  g_test_add_func ("/quantity/bad", test_bad);
  g_test_add_func ("/quantity/format", test_format);
  g_test_add_func ("/quantity/round-trip", test_round_trip);
  g_test_add_func ("/quantity/anything", test_anything);
  return g_test_run ();
}
