/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every pair of colours that the window's own style uses, in light, dark and high contrast: the formula and limits of
 * WCAG 2 (W3C, "contrast ratio"; 1.4.3: text 4.5:1; 1.4.11: parts of graphics 3:1).  Lines that only divide areas of
 * one kind carry no meaning and are not held to it. */
#include "pm-look.h"
#include "window-test.h"

static const struct { const char *colour, *ground; double least; } pairs[] = {
  { "theme_fg_color", "theme_base_color", 4.5 }, { "theme_fg_color", "theme_bg_color", 4.5 },
  { "pm_second", "theme_base_color", 4.5 },      { "pm_second", "theme_bg_color", 4.5 },
  { "pm_edge", "theme_base_color", 3 },          { "pm_edge", "theme_bg_color", 3 },
  { "pm_focus", "theme_base_color", 3 },         { "pm_focus", "theme_bg_color", 3 },
};

static const struct { const char *name, *theme; gboolean dark; } styles[] = {
  { "light", "Default", FALSE },
  { "dark", "Default", TRUE },
  { "high contrast", "HighContrast", FALSE },
};

static PmColour
look_up (GtkWidget *widget, const char *name)
{
  GdkRGBA colour;

  G_GNUC_BEGIN_IGNORE_DEPRECATIONS
  g_assert_true (gtk_style_context_lookup_color (gtk_widget_get_style_context (widget), name, &colour));
  G_GNUC_END_IGNORE_DEPRECATIONS
  return (PmColour){ colour.red, colour.green, colour.blue };
}

static void
test_pairs (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 1280, 800);
  GtkSettings *settings = gtk_widget_get_settings (GTK_WIDGET (window));

  pm_look_follow (gdk_display_get_default (), NULL);
  for (guint s = 0; s < G_N_ELEMENTS (styles); s++) {
    g_object_set (settings, "gtk-theme-name", styles[s].theme, "gtk-application-prefer-dark-theme", styles[s].dark,
                  NULL);
    window_test_settle (window);
    for (guint i = 0; i < G_N_ELEMENTS (pairs); i++) {
      double contrast = pm_style_contrast (look_up (GTK_WIDGET (window), pairs[i].colour),
                                           look_up (GTK_WIDGET (window), pairs[i].ground));

      g_test_message ("%s: %s on %s %.2f:1, at least %.1f:1", styles[s].name, pairs[i].colour, pairs[i].ground,
                      contrast, pairs[i].least);
      g_assert_cmpfloat (contrast, >=, pairs[i].least);
    }
  }
  window_test_close (window);
}

/* The same for the colours that pictures take from the theme. */
static void
test_pictures (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 1280, 800);
  GtkSettings *settings = gtk_widget_get_settings (GTK_WIDGET (window));

  for (guint s = 0; s < G_N_ELEMENTS (styles); s++) {
    g_autoptr (PmStyle) style = NULL;

    g_object_set (settings, "gtk-theme-name", styles[s].theme, "gtk-application-prefer-dark-theme", styles[s].dark,
                  NULL);
    window_test_settle (window);
    style = pm_look_new_style (GTK_WIDGET (window));
    g_assert_cmpfloat (pm_style_contrast (style->ink, style->ground), >=, 4.5);
    g_assert_cmpfloat (pm_style_contrast (style->faint, style->ground), >=, 4.5);
    for (guint i = 0; i < PM_N_LINE_CODES; i++)
      g_assert_cmpfloat (pm_style_contrast (pm_style_line (style, i).colour, style->ground), >=, 3);
  }
  window_test_close (window);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/contrast/pairs", test_pairs);
  g_test_add_func ("/contrast/pictures", test_pictures);
  return window_test_run ();
}
