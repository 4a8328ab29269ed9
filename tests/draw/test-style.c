/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Contrast of every pair of colours in use, by the formula of W3C WCAG 2.1 (definitions "relative luminance" and
 * "contrast ratio"); limits of its 1.4.3 (text, 4.5:1) and 1.4.11 (parts of graphics, 3:1).  Line codes are told apart
 * without colour. */
#include "fake.h"
#include "pm-mark.h"
#include "pm-style.h"

/* GTK 4.8's own default grounds, as computed from its theme: window and list, light and dark. */
static const PmColour GROUNDS[PM_N_SCHEMES][2] = {
  [PM_SCHEME_LIGHT] = { { 1, 1, 1 }, { 0.965, 0.961, 0.957 } },
  [PM_SCHEME_PAPER] = { { 1, 1, 1 }, { 1, 1, 1 } },
  [PM_SCHEME_DARK] = { { 0.176, 0.176, 0.176 }, { 0.208, 0.208, 0.208 } },
  [PM_SCHEME_HIGH_CONTRAST] = { { 1, 1, 1 }, { 1, 1, 1 } },
  [PM_SCHEME_MONOCHROME] = { { 1, 1, 1 }, { 1, 1, 1 } },
};

static void
check_style (const PmStyle *style, const PmColour *grounds, guint n_grounds)
{
  for (guint g = 0; g < n_grounds; g++) {
    g_assert_cmpfloat (pm_style_contrast (style->ink, grounds[g]), >=, 4.5);
    g_assert_cmpfloat (pm_style_contrast (style->faint, grounds[g]), >=, 4.5);
    for (guint i = 0; i < G_N_ELEMENTS (style->lines); i++)
      g_assert_cmpfloat (pm_style_contrast (style->lines[i], grounds[g]), >=, 3);
  }
}

static void
test_contrast (void)
{
  for (PmScheme scheme = 0; scheme < PM_N_SCHEMES; scheme++) {
    g_autoptr (PmStyle) style = pm_style_new (scheme, NULL, 1);
    check_style (style, &style->ground, 1);
    check_style (style, GROUNDS[scheme], 2);
  }
}

static void
test_high_contrast (void)
{
  const PmColour white = { 1, 1, 1 }, black = { 0, 0, 0 };
  g_autoptr (PmStyle) style = pm_style_new_high_contrast (white, black, NULL, 1);

  check_style (style, &black, 1);
  for (guint i = 0; i < PM_N_LINE_CODES; i++)
    g_assert_cmpfloat (pm_style_contrast (pm_style_line (style, i).colour, white), ==, 1);
}

/* Values that WCAG and its readers publish: black on white 21, #767676 on white 4.54, #949494 on white 3.03. */
static void
test_formula (void)
{
  const PmColour white = { 1, 1, 1 }, black = { 0, 0, 0 }, grey = { 0x76 / 255.0, 0x76 / 255.0, 0x76 / 255.0 };
  const PmColour pale = { 0x94 / 255.0, 0x94 / 255.0, 0x94 / 255.0 };

  g_assert_cmpfloat_with_epsilon (pm_style_contrast (white, black), 21, 0.001);
  g_assert_cmpfloat_with_epsilon (pm_style_contrast (grey, white), 4.54, 0.01);
  g_assert_cmpfloat_with_epsilon (pm_style_contrast (white, pale), 3.03, 0.01);
}

/* No two of the eight codes share dash, and none shares both end shape and filling. */
static void
test_line_codes (void)
{
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_MONOCHROME, NULL, 1);

  for (guint a = 0; a < PM_N_LINE_CODES; a++) {
    PmLineCode la = pm_style_line (style, a);
    for (guint b = a + 1; b < PM_N_LINE_CODES; b++) {
      PmLineCode lb = pm_style_line (style, b);
      g_assert_true (la.n_dashes != lb.n_dashes || memcmp (la.dashes, lb.dashes, sizeof *la.dashes * la.n_dashes) != 0);
      g_assert_true (la.end != lb.end || la.end_filled != lb.end_filled);
      g_assert_cmpstr (pm_style_line_words (a), !=, pm_style_line_words (b));
    }
    g_assert_cmpuint (la.n_dashes % 2, ==, 0);
  }
}

static void
test_em (void)
{
  PangoContext *context = fake_context ();
  PangoFontDescription *font = pango_font_description_from_string ("sans 12");
  g_autoptr (PmStyle) one = pm_style_new (PM_SCHEME_LIGHT, font, 1);
  g_autoptr (PmStyle) two = pm_style_new (PM_SCHEME_LIGHT, font, 2);

  pango_cairo_context_set_resolution (context, 144);
  g_assert_cmpfloat_with_epsilon (pm_style_em (one, context), 24, 0.001);
  g_assert_cmpfloat_with_epsilon (pm_style_em (two, context), 48, 0.001);
  pango_font_description_free (font);
  g_object_unref (context);
}

static void
test_severities (void)
{
  PangoContext *context = fake_context ();
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_LIGHT, NULL, 1);
  double width, height;

  pm_mark_severity_measure (style, context, &width, &height);
  for (guint i = 0; i < PM_N_SEVERITIES; i++) {
    g_autoptr (PangoLayout) layout = pm_style_layout (style, context, pm_mark_severity_word (i), 0.8, TRUE);
    int w, h;
    pango_layout_get_pixel_size (layout, &w, &h);
    g_assert_cmpfloat (w, <, width - 4);
    g_assert_cmpfloat (h, <=, height);
  }
  g_object_unref (context);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/style/contrast", test_contrast);
  g_test_add_func ("/style/high-contrast", test_high_contrast);
  g_test_add_func ("/style/formula", test_formula);
  g_test_add_func ("/style/line-codes", test_line_codes);
  g_test_add_func ("/style/em", test_em);
  g_test_add_func ("/mark/severities", test_severities);
  return g_test_run ();
}
