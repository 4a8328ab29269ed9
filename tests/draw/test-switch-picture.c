/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Switches at their own size, wider and higher: words clear of everything, every position under its own area, the same
 * bytes twice. */
#include "fake.h"
#include "pm-switch-picture.h"

static const struct {
  PmLook look;
  const char *names;
} SWITCHES[] = {
  { PM_LOOK_TOGGLE, "inside|outside" },
  { PM_LOOK_TOGGLE, "inside|off|outside" },
  { PM_LOOK_TOGGLE, "start from inside|start from outside" },
  { PM_LOOK_TOGGLE, "a|b|c|d" },
  { PM_LOOK_SLIDE, "inside|outside" },
  { PM_LOOK_SLIDE, "one|two|three" },
  { PM_LOOK_ROTARY, "inside|outside" },
  { PM_LOOK_ROTARY, "in|out|third" },
  { PM_LOOK_ROTARY, "1|2|3|4|5|6" },
  { PM_LOOK_ROTARY, "1|2|3|4|5|6|7|8|9|10|11|12" },
  { PM_LOOK_JUMPER, "inside|outside" },
  { PM_LOOK_JUMPER, "DS0|DS1|DS2|DS3" },
  { PM_LOOK_JUMPER, "on|off|3" },
  { PM_LOOK_JUMPER, "on" },
  { PM_LOOK_SLIDE, "the first place with a very long name indeed|the second place with a name as long" },
};

static GChecksum *
picture_bytes (const PmSwitchPicture *picture, int width, int height)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (surface);
  GChecksum *sum = g_checksum_new (G_CHECKSUM_SHA256);

  pm_switch_picture_draw (picture, cr);
  cairo_surface_flush (surface);
  g_checksum_update (sum, cairo_image_surface_get_data (surface),
                     (gssize) cairo_image_surface_get_stride (surface) * height);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return sum;
}

static void
check_size (const PmSwitch *sw, int position, double width, double height, const PmStyle *style, PangoContext *context)
{
  g_autoptr (PmSwitchPicture) picture = pm_switch_picture_new (sw, position, width, height, style, context);
  g_autoptr (PmSwitchPicture) again = pm_switch_picture_new (sw, position, width, height, style, context);
  g_auto (GStrv) problems = pm_switch_picture_check (picture);
  g_autoptr (GChecksum) a = picture_bytes (picture, (int) width, (int) height);
  g_autoptr (GChecksum) b = picture_bytes (again, (int) width, (int) height);
  g_autofree char *sentence = pm_switch_picture_sentence (picture);

  g_assert_cmpstr (problems[0], ==, NULL);
  g_assert_cmpstr (g_checksum_get_string (a), ==, g_checksum_get_string (b));
  g_assert_nonnull (strstr (sentence, position < 0 ? "lead is off" : sw->positions[position].name));
  for (guint i = 0; i < sw->n_positions; i++) {
    const PmRect *area = pm_switch_picture_area (picture, i);
    g_assert_cmpint (pm_switch_picture_at (picture, area->x + area->width / 2, area->y + area->height / 2), ==,
                     (int) i);
    g_assert_cmpfloat (area->height, >, 14);
  }
}

static void
test_sizes (void)
{
  PangoContext *context = fake_context ();

  for (int scale = 1; scale <= 2; scale++) {
    g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_LIGHT, NULL, scale);
    for (guint i = 0; i < G_N_ELEMENTS (SWITCHES); i++) {
      PmSwitch *sw = fake_switch (SWITCHES[i].look, SWITCHES[i].names);
      double least_w, least_h, usual_w, usual_h;

      pm_switch_picture_measure (sw, style, context, &least_w, &least_h, &usual_w, &usual_h);
      g_assert_cmpfloat (least_w, <=, usual_w);
      g_assert_cmpfloat (least_h, <=, usual_h);
      for (int position = -1; position < (int) sw->n_positions; position++) {
        check_size (sw, position, least_w, least_h, style, context);
        check_size (sw, position, usual_w, usual_h, style, context);
        check_size (sw, position, usual_w + 100, usual_h + 40, style, context);
      }
      fake_switch_free (sw);
    }
  }
  g_object_unref (context);
}

/* What is chosen changes the picture, and nothing but the lever, the weight of names and the sign moves. */
static void
test_chosen (void)
{
  PangoContext *context = fake_context ();
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_MONOCHROME, NULL, 1);

  for (guint i = 0; i < G_N_ELEMENTS (SWITCHES); i++) {
    PmSwitch *sw = fake_switch (SWITCHES[i].look, SWITCHES[i].names);
    g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
    double w, h;

    pm_switch_picture_measure (sw, style, context, NULL, NULL, &w, &h);
    for (int position = -1; position < (int) sw->n_positions; position++) {
      g_autoptr (PmSwitchPicture) picture = pm_switch_picture_new (sw, position, w, h, style, context);
      g_autoptr (GChecksum) sum = picture_bytes (picture, (int) w, (int) h);
      g_assert_true (g_hash_table_add (seen, g_strdup (g_checksum_get_string (sum))));
    }
    fake_switch_free (sw);
  }
  g_object_unref (context);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/switch-picture/sizes", test_sizes);
  g_test_add_func ("/switch-picture/chosen", test_chosen);
  return g_test_run ();
}
