/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws marks, switches and plans to PNG files, to be looked at.  A tool, not a test.
 *
 * show FOLDER: sheets of everything made by hand.  show FOLDER BOARD...: every case of real boards, each a sheet.
 */
#include "fake.h"
#include "pm-mark.h"
#include "pm-plan.h"
#include "pm-library.h"
#include "pm-switch-picture.h"

typedef struct {
  cairo_surface_t *surface;
  cairo_t *cr;
  PmStyle *style;
  PangoContext *context;
} Sheet;

static Sheet *
sheet_new (PmStyle *style, int width, int height)
{
  Sheet *sheet = g_new0 (Sheet, 1);

  sheet->surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  sheet->cr = cairo_create (sheet->surface);
  sheet->style = style;
  sheet->context = pango_cairo_create_context (sheet->cr);
  pm_style_set_source (sheet->cr, style->ground);
  cairo_paint (sheet->cr);
  return sheet;
}

static void
to_grey (cairo_surface_t *surface)
{
  int width = cairo_image_surface_get_width (surface), height = cairo_image_surface_get_height (surface);
  int stride = cairo_image_surface_get_stride (surface);
  unsigned char *data = cairo_image_surface_get_data (surface);

  for (int y = 0; y < height; y++) {
    guint32 *row = (guint32 *) (void *) (data + y * stride);
    for (int x = 0; x < width; x++) {
      guint32 p = row[x], grey = ((p >> 16 & 255) * 54 + (p >> 8 & 255) * 183 + (p & 255) * 19) >> 8;
      row[x] = 0xff000000u | grey << 16 | grey << 8 | grey;
    }
  }
  cairo_surface_mark_dirty (surface);
}

static void
sheet_write (Sheet *sheet, const char *folder, const char *name, gboolean grey)
{
  g_autofree char *path = g_strdup_printf ("%s/%s.png", folder, name);

  cairo_surface_flush (sheet->surface);
  if (grey)
    to_grey (sheet->surface);
  if (cairo_surface_write_to_png (sheet->surface, path) != CAIRO_STATUS_SUCCESS)
    g_printerr ("%s: cannot be written\n", path);
  cairo_destroy (sheet->cr);
  cairo_surface_destroy (sheet->surface);
  g_object_unref (sheet->context);
  pm_style_free (sheet->style);
  g_free (sheet);
}

static void
sheet_text (Sheet *sheet, double x, double y, const char *text)
{
  g_autoptr (PangoLayout) layout = pm_style_layout (sheet->style, sheet->context, text, 0.85, TRUE);

  pm_style_set_source (sheet->cr, sheet->style->ink);
  cairo_move_to (sheet->cr, x, y);
  pango_cairo_show_layout (sheet->cr, layout);
}

static void
sheet_plan (Sheet *sheet, const PmCheck *check, guint case_index, double x, double y, double width, double height,
            const char *title)
{
  g_autoptr (PmPlan) plan = pm_plan_new (check, case_index, width, height, sheet->style, sheet->context);
  g_auto (GStrv) problems = pm_plan_check (plan);

  if (title)
    sheet_text (sheet, x, y, title);
  cairo_save (sheet->cr);
  cairo_translate (sheet->cr, x, y + (title ? 22 : 0));
  pm_plan_draw (plan, sheet->cr);
  cairo_restore (sheet->cr);
  for (guint i = 0; problems[i]; i++)
    g_printerr ("%s (%gx%g): %s\n", title ? title : "", width, height, problems[i]);
}

static Fake *
two_answer (void)
{
  Fake *fake = fake_new (2, 2, 2);
  static const char *const SIDES[] = { "motor", "ready", "change" };

  fake_cell (fake, 1, 0, 1, PM_ANSWER_YES, NULL);
  fake_cell (fake, 1, 1, 0, PM_ANSWER_YES, NULL);
  fake_cell (fake, 2, 0, 0, PM_ANSWER_YES, NULL);
  fake_cell (fake, 2, 0, 1, PM_ANSWER_YES, NULL);
  fake_want (fake, 2, 1, 0);
  fake->check.cases[2].wanted = PM_NONE;
  for (guint c = 0; c < 3; c++) {
    for (guint d = 0; d < 2; d++) {
      for (guint i = 0; i < G_N_ELEMENTS (SIDES); i++) {
        gboolean stays = c == 2 && d == 1 && i == 2;
        g_autofree char *text = g_strdup_printf (stays ? "%s stays with SEL1" : "%s goes along", SIDES[i]);
        fake_side (fake, c, d, stays ? PM_SIDE_STAYS : PM_SIDE_FOLLOWS, SIDES[i], text);
      }
    }
  }
  return fake;
}

/* One case a mark. */
static Fake *
all_marks (void)
{
  Fake *fake = fake_new (2, 2, 9);

  fake_cell (fake, 1, 0, 0, PM_ANSWER_YES, NULL);
  fake_want (fake, 1, 1, 1);
  fake_cell (fake, 2, 0, 0, PM_ANSWER_YES, NULL);
  fake_cell (fake, 2, 1, 1, PM_ANSWER_DEPENDS, "SEL1 without SEL0");
  fake_cell (fake, 3, 0, 0, PM_ANSWER_YES, NULL);
  fake_mark (fake, 3, 1, PM_DRIVE_FLOATS);
  fake_cell (fake, 4, 0, 0, PM_ANSWER_YES, NULL);
  fake_mark (fake, 4, 1, PM_DRIVE_HELD);
  fake_cell (fake, 5, 0, 1, PM_ANSWER_MAY, "S1 lead");
  fake_cell (fake, 5, 1, 0, PM_ANSWER_YES, NULL);
  fake_cell (fake, 6, 0, 0, PM_ANSWER_YES, NULL);
  fake_cell (fake, 6, 1, 0, PM_ANSWER_YES, NULL);
  fake_mark (fake, 6, 1, PM_DRIVE_ALWAYS);
  fake_cell (fake, 7, 0, 0, PM_ANSWER_YES, NULL);
  fake_mark (fake, 7, 1, PM_DRIVE_NO_POWER);
  fake->check.cases[7].collides[0] = TRUE;
  fake_cell (fake, 8, 0, 1, PM_ANSWER_YES, NULL);
  fake_want (fake, 8, 0, 0);
  fake_want (fake, 8, 1, 1);
  fake_cell (fake, 9, 0, 1, PM_ANSWER_DEPENDS, "SEL0 without SEL1");
  fake_cell (fake, 9, 1, 1, PM_ANSWER_DEPENDS, "SEL0 without SEL1");
  fake_cell (fake, 9, 0, 0, PM_ANSWER_NOT_DECIDED, NULL);
  return fake;
}

/* Shuffles, fan-outs, dense ones. */
static Fake *
many (guint n_units, guint n_drives)
{
  Fake *fake = fake_new (n_units, n_drives, 4);

  for (guint u = 0; u < n_units; u++) {
    fake_cell (fake, 1, u, n_drives - 1 - u % n_drives, PM_ANSWER_YES, NULL);
    fake_cell (fake, 2, u, (u + 1) % n_drives, PM_ANSWER_YES, NULL);
    if (u != 1)
      fake_cell (fake, 3, u, (u * 3 + 1) % n_drives, PM_ANSWER_YES, NULL);
  }
  for (guint d = 0; d < MIN (3, n_drives); d++)
    fake_cell (fake, 4, 0, d, PM_ANSWER_YES, NULL);
  return fake;
}

static void
show_cards (const char *folder, const char *name, PmScheme scheme, gboolean grey, double w, double h, double scale)
{
  static const char *const TITLES[] = { "without the board",
                                        "a wanted track is absent",
                                        "depends on several lines",
                                        "floats",
                                        "never on",
                                        "not certain",
                                        "two selects, always on",
                                        "outputs collide, no power",
                                        "wanted elsewhere",
                                        "box of two, not decided" };
  g_autoptr (Fake) fake = two_answer ();
  g_autoptr (Fake) marks = all_marks ();
  double gap = 24;
  Sheet *sheet = sheet_new (pm_style_new (scheme, NULL, scale), 3 * (w + gap) + gap, 5 * (h + gap + 22) + gap);

  for (guint c = 0; c < 3; c++)
    sheet_plan (sheet, &fake->check, c, gap + c * (w + gap), gap, w, h,
                c == 0   ? "without"
                : c == 1 ? "swapped"
                         : "two answer");
  for (guint c = 0; c < 10; c++)
    sheet_plan (sheet, &marks->check, c, gap + c % 3 * (w + gap), gap + (1 + c / 3) * (h + gap + 22), w, h, TITLES[c]);
  sheet_write (sheet, folder, name, grey);
}

static void
show_many (const char *folder, const char *name, guint n_units, guint n_drives, double w, double h)
{
  g_autoptr (Fake) fake = many (n_units, n_drives);
  double gap = 24;
  guint across = w > 500 ? 1 : 2;
  Sheet *sheet = sheet_new (pm_style_new (PM_SCHEME_LIGHT, NULL, 1), across * (w + gap) + gap,
                            (5 + across - 1) / across * (h + gap + 22) + gap);

  for (guint c = 0; c < 5; c++) {
    g_autofree char *title = g_strdup_printf ("%u x %u, case %u", n_units, n_drives, c);
    sheet_plan (sheet, &fake->check, c, gap + c % across * (w + gap), gap + c / across * (h + gap + 22), w, h, title);
  }
  sheet_write (sheet, folder, name, FALSE);
}

static void
show_switches (const char *folder, const char *name, PmScheme scheme)
{
  static const struct {
    PmLook look;
    const char *names;
    double width;
  } ROWS[] = {
    { PM_LOOK_TOGGLE, "inside|outside", 272 },
    { PM_LOOK_TOGGLE, "inside|off|outside", 272 },
    { PM_LOOK_TOGGLE, "start from inside|start from outside", 272 },
    { PM_LOOK_SLIDE, "inside|outside", 272 },
    { PM_LOOK_SLIDE, "one|two|three", 272 },
    { PM_LOOK_SLIDE, "start from inside|start from outside", 272 },
    { PM_LOOK_ROTARY, "inside|outside", 272 },
    { PM_LOOK_ROTARY, "inside|outside|third", 272 },
    { PM_LOOK_ROTARY, "1|2|3|4|5|6", 272 },
    { PM_LOOK_ROTARY, "inside|outside|third|fourth|fifth", 272 },
    { PM_LOOK_JUMPER, "inside|outside", 272 },
    { PM_LOOK_JUMPER, "DS0|DS1|DS2|DS3", 150 },
    { PM_LOOK_JUMPER, "on|off|3", 150 },
    { PM_LOOK_TOGGLE, "inside|outside", 150 },
    { PM_LOOK_ROTARY, "inside|outside|third|fourth", 160 },
  };
  Sheet *sheet = sheet_new (pm_style_new (scheme, NULL, 1), 920, 900);
  double y = 12;

  for (guint i = 0; i < G_N_ELEMENTS (ROWS); i++) {
    PmSwitch *sw = fake_switch (ROWS[i].look, ROWS[i].names);
    double w, h;
    pm_switch_picture_measure (sw, sheet->style, sheet->context, NULL, NULL, &w, &h);
    for (int k = 0; k < 3; k++) {
      g_autoptr (PmSwitchPicture) picture = pm_switch_picture_new (
        sw, k == 2 && i % 2 ? -1 : MIN (k, (int) sw->n_positions - 1), ROWS[i].width, h, sheet->style, sheet->context);
      g_auto (GStrv) problems = pm_switch_picture_check (picture);
      for (guint p = 0; problems[p]; p++)
        g_printerr ("%s: %s\n", ROWS[i].names, problems[p]);
      cairo_save (sheet->cr);
      cairo_translate (sheet->cr, 12 + k * 300, y);
      pm_switch_picture_draw (picture, sheet->cr);
      cairo_restore (sheet->cr);
    }
    y += h + 14;
    fake_switch_free (sw);
  }
  sheet_write (sheet, folder, name, FALSE);
}

static void
show_marks (const char *folder, const char *name, PmScheme scheme, gboolean grey)
{
  Sheet *sheet = sheet_new (pm_style_new (scheme, NULL, 1), 700, 330);
  cairo_t *cr = sheet->cr;

  for (guint i = 0; i < PM_N_SEVERITIES; i++)
    pm_mark_severity_draw (i, sheet->style, sheet->context, cr, 20, 20 + 30 * i);
  for (guint i = 0; i < PM_N_LAMPS; i++) {
    pm_mark_lamp_draw (i, sheet->style, cr, 120, 30 + 30 * i, 6);
    pm_mark_lamp_draw (i, sheet->style, cr, 160, 30 + 30 * i, 11);
  }
  for (guint i = 0; i < 3; i++) {
    double size = 10 + 5 * i;
    pm_mark_tick_draw (sheet->style, cr, 210, 30 + 30 * i, size);
    pm_mark_cross_draw (sheet->style, cr, 240, 30 + 30 * i, size);
    pm_mark_doubt_draw (sheet->style, sheet->context, cr, 270, 30 + 30 * i, size + 4);
  }
  for (guint u = 0; u < PM_N_LINE_CODES; u++) {
    pm_mark_line_draw (u, sheet->style, sheet->context, cr, 320, 30 + 30 * u, 150, TRUE);
    sheet_text (sheet, 490, 22 + 30 * u, pm_style_line_words (u));
  }
  sheet_write (sheet, folder, name, grey);
}

static void
show_board (const char *folder, const char *path)
{
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autoptr (PmBoard) board = pm_board_load (path, library, faults);
  g_autoptr (PmCheck) check = board ? pm_check_new (board, NULL, NULL) : NULL;
  g_autofree char *name = g_path_get_basename (path);
  double w = 460, h = 190, gap = 24;
  guint n;
  Sheet *sheet;

  if (!check) {
    g_printerr ("%s: cannot be checked\n", path);
    return;
  }
  n = MIN (check->n_cases, 24);
  sheet = sheet_new (pm_style_new (PM_SCHEME_LIGHT, NULL, 1), 2 * (w + gap) + gap, (n + 1) / 2 * (h + gap + 22) + gap);
  for (guint c = 0; c < n; c++)
    sheet_plan (sheet, check, c, gap + c % 2 * (w + gap), gap + c / 2 * (h + gap + 22), w, h, check->cases[c].title);
  sheet_write (sheet, folder, name, FALSE);
}

int
main (int argc, char **argv)
{
  const char *folder = argc > 1 ? argv[1] : ".";

  for (int i = 2; i < argc; i++)
    show_board (folder, argv[i]);
  if (argc > 2)
    return 0;
  show_marks (folder, "marks", PM_SCHEME_LIGHT, FALSE);
  show_marks (folder, "marks-dark", PM_SCHEME_DARK, FALSE);
  show_marks (folder, "marks-grey", PM_SCHEME_LIGHT, TRUE);
  show_switches (folder, "switches", PM_SCHEME_LIGHT);
  show_cards (folder, "cards", PM_SCHEME_LIGHT, FALSE, 440, 180, 1);
  show_cards (folder, "cards-dark", PM_SCHEME_DARK, FALSE, 440, 180, 1);
  show_cards (folder, "cards-grey", PM_SCHEME_LIGHT, TRUE, 370, 160, 1);
  show_cards (folder, "cards-small", PM_SCHEME_LIGHT, FALSE, 300, 200, 1);
  show_cards (folder, "cards-large-text", PM_SCHEME_LIGHT, FALSE, 600, 360, 2);
  show_cards (folder, "cards-mono", PM_SCHEME_MONOCHROME, FALSE, 440, 220, 1);
  show_many (folder, "many-4x4", 4, 4, 440, 260);
  show_many (folder, "many-4x2", 4, 2, 440, 220);
  show_many (folder, "many-1x4", 1, 4, 440, 260);
  show_many (folder, "many-8x8-small", 8, 8, 300, 200);
  show_many (folder, "many-8x8", 8, 8, 900, 500);
  show_many (folder, "large", 2, 2, 1200, 700);
  return 0;
}
