/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The track plan over a grid of boards and sizes: clean geometry, the same bytes twice, frames that stand still, words
 * and sentences. */
#include "fake.h"
#include "pm-plan.h"

static const struct {
  double width, height;
} SIZES[] = {
  { 300, 200 }, { 370, 160 }, { 440, 180 }, { 466, 260 }, { 700, 340 }, { 1200, 700 },
};

static char *
plan_bytes (const PmPlan *plan, int width, int height)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (surface);
  char *sum;

  pm_plan_draw (plan, cr);
  for (guint i = 0; i < pm_plan_n_elements (plan); i++)
    pm_plan_draw_ring (plan, i, cr);
  cairo_surface_flush (surface);
  sum = g_compute_checksum_for_data (G_CHECKSUM_SHA256, cairo_image_surface_get_data (surface),
                                     (gsize) cairo_image_surface_get_stride (surface) * height);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return sum;
}

/* Everything that must hold for any case at any size.  Number of plans that are not clean; each is told. */
static guint
check_plan (const Fake *fake, guint c, double width, double height, const PmStyle *style, PangoContext *context,
            const char *what)
{
  g_autoptr (PmPlan) plan = pm_plan_new (&fake->check, c, width, height, style, context);
  g_auto (GStrv) problems = pm_plan_check (plan);
  guint n_lines = 0, n_drives = 0;

  for (guint i = 0; problems[i]; i++)
    g_test_message ("%s: %u x %u, case %u, %gx%g: %s", what, fake->board.host.n_units, fake->board.n_drives, c, width,
                    height, problems[i]);
  for (guint i = 0; i < pm_plan_n_elements (plan); i++) {
    const PmPlanElement *element = pm_plan_element (plan, i);
    n_lines += element->kind == PM_PLAN_LINE;
    n_drives += element->kind == PM_PLAN_DRIVE;
    g_assert_cmpfloat (element->area.x, >=, 0);
    g_assert_cmpfloat (element->area.y, >=, 0);
    g_assert_cmpfloat (element->area.x + element->area.width, <=, width);
    g_assert_cmpfloat (element->area.y + element->area.height, <=, height);
    g_assert_cmpuint (strlen (element->sentence), >, 5);
    g_assert_cmpint (
      pm_plan_at (plan, element->area.x + element->area.width / 2, element->area.y + element->area.height / 2), >=, 0);
  }
  g_assert_cmpuint (n_lines, ==, fake->board.host.n_units);
  g_assert_cmpuint (n_drives, ==, fake->board.n_drives);
  return problems[0] != NULL;
}

static guint
check_all (const Fake *fake, const char *what)
{
  guint bad = 0;
  PangoContext *context = fake_context ();
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_LIGHT, NULL, 1);

  for (guint s = 0; s < G_N_ELEMENTS (SIZES); s++) {
    double least_w, least_h;

    pm_plan_measure (&fake->check, style, context, &least_w, &least_h, NULL, NULL);
    if (SIZES[s].width < least_w || SIZES[s].height < least_h)
      continue;
    for (guint c = 0; c < fake->check.n_cases; c++)
      bad += check_plan (fake, c, SIZES[s].width, SIZES[s].height, style, context, what);
  }
  g_object_unref (context);
  return bad;
}

/* Turned round, shifted, scattered, fanned out, doubled. */
static void
add_shuffles (Fake *fake, GRand *random)
{
  guint n_units = fake->board.host.n_units, n_drives = fake->board.n_drives;

  for (guint u = 0; u < n_units; u++) {
    fake_cell (fake, 1, u, n_drives - 1 - u % n_drives, PM_ANSWER_YES, NULL);
    fake_cell (fake, 2, u, (u + 1) % n_drives, PM_ANSWER_YES, NULL);
    if (g_rand_int_range (random, 0, 4))
      fake_cell (fake, 3, u, g_rand_int_range (random, 0, n_drives), PM_ANSWER_YES, NULL);
    fake_cell (fake, 4, 0, u % n_drives, PM_ANSWER_YES, NULL);
    fake_cell (fake, 5, u, 0, PM_ANSWER_YES, NULL);
    fake_want (fake, 6, u, (u * 3 + 1) % n_drives);
    for (guint d = 0; d < n_drives; d++)
      fake_cell (fake, 7, u, d, PM_ANSWER_YES, NULL);
  }
}

static void
test_grid (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (1742);
  static const guint COUNTS[] = { 1, 2, 3, 4, 6, 8 };
  guint bad = 0;

  for (guint i = 0; i < G_N_ELEMENTS (COUNTS); i++) {
    for (guint k = 0; k < G_N_ELEMENTS (COUNTS); k++) {
      g_autoptr (Fake) fake = fake_new (COUNTS[i], COUNTS[k], 7);
      add_shuffles (fake, random);
      bad += check_all (fake, "shuffles");
    }
  }
  g_assert_cmpuint (bad, ==, 0);
}

static void
test_marks (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (88);
  guint bad = 0;

  for (guint n = 1; n <= 4; n++) {
    g_autoptr (Fake) fake = fake_new (n, n, PM_N_DRIVE_MARKS + 6);

    for (guint c = 1; c <= PM_N_DRIVE_MARKS; c++) {
      for (guint u = 0; u + 1 < n; u++)
        fake_cell (fake, c, u, u, PM_ANSWER_YES, NULL);
      fake_mark (fake, c, n - 1, c - 1);
      fake_want (fake, c, n - 1, g_rand_int_range (random, 0, n));
      fake->check.cases[c].collides[0] = c % 2;
    }
    for (guint c = PM_N_DRIVE_MARKS + 1; c < fake->check.n_cases; c++) {
      for (guint u = 0; u < n; u++) {
        PmAnswer answer = g_rand_int_range (random, 0, PM_N_ANSWERS);
        fake_cell (fake, c, u, g_rand_int_range (random, 0, n), answer,
                   answer == PM_ANSWER_MAY ? "S1 lead" : "SEL0 without SEL1");
      }
    }
    bad += check_all (fake, "marks");
  }
  g_assert_cmpuint (bad, ==, 0);
}

/* Nothing at all, and long names. */
static void
test_names (void)
{
  static const char *const TITLES[] = { "The external drive at the back, left one", "Ä",
                                        "Drive in the cupboard under the stairs" };
  g_autoptr (Fake) fake = fake_new (3, 3, 3);

  fake_titles (fake, "A machine whose name goes on and on", "A board with a title that no outline can hold, ever",
               TITLES);
  fake_cell (fake, 2, 0, 1, PM_ANSWER_YES, NULL);
  fake_cell (fake, 2, 1, 0, PM_ANSWER_YES, NULL);
  fake_cell (fake, 3, 2, 0, PM_ANSWER_DEPENDS, "SEL2 without SEL1 and without SEL0, or with all three of them");
  fake_side (fake, 2, 0, PM_SIDE_FOLLOWS, "motor", "motor goes along");
  fake_side (fake, 2, 0, PM_SIDE_STAYS, "change", "change stays with SEL1");
  fake_side (fake, 2, 1, PM_SIDE_HELD, "ready", "ready is held low by another drive");
  g_assert_cmpuint (check_all (fake, "names"), ==, 0);
}

static void
test_large_text (void)
{
  PangoContext *context = fake_context ();
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_PAPER, NULL, 2);
  g_autoptr (GRand) random = g_rand_new_with_seed (5);
  g_autoptr (Fake) fake = fake_new (3, 3, 7);

  add_shuffles (fake, random);
  for (guint c = 0; c < fake->check.n_cases; c++) {
    g_assert_cmpuint (check_plan (fake, c, 600, 400, style, context, "large text"), ==, 0);
    g_assert_cmpuint (check_plan (fake, c, 1200, 700, style, context, "large text"), ==, 0);
  }
  g_object_unref (context);
}

static void
test_same_twice (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (3);
  g_autoptr (Fake) fake = fake_new (4, 4, 7);

  add_shuffles (fake, random);
  for (PmScheme scheme = 0; scheme < PM_N_SCHEMES; scheme++) {
    g_autoptr (PmStyle) style = pm_style_new (scheme, NULL, 1);
    for (guint c = 0; c < fake->check.n_cases; c++) {
      PangoContext *context = fake_context (), *other = fake_context ();
      g_autoptr (PmPlan) a = pm_plan_new (&fake->check, c, 640, 320, style, context);
      g_autoptr (PmPlan) b = pm_plan_new (&fake->check, c, 640, 320, style, other);
      g_autofree char *first = plan_bytes (a, 640, 320);
      g_autofree char *second = plan_bytes (b, 640, 320);
      g_autofree char *third = plan_bytes (a, 640, 320);
      g_assert_cmpstr (first, ==, second);
      g_assert_cmpstr (first, ==, third);
      g_object_unref (context);
      g_object_unref (other);
    }
  }
}

/* Lines and drives stand in the same place in every case of a check. */
static void
test_stands_still (void)
{
  PangoContext *context = fake_context ();
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_LIGHT, NULL, 1);
  g_autoptr (GRand) random = g_rand_new_with_seed (9);
  g_autoptr (Fake) fake = fake_new (3, 4, 7);
  g_autoptr (PmPlan) first = NULL;

  add_shuffles (fake, random);
  fake_side (fake, 3, 1, PM_SIDE_STAYS, "motor", "motor stays with SEL1");
  first = pm_plan_new (&fake->check, 0, 460, 300, style, context);
  for (guint c = 1; c < fake->check.n_cases; c++) {
    g_autoptr (PmPlan) plan = pm_plan_new (&fake->check, c, 460, 300, style, context);
    for (guint i = 0; i < 3 + 4; i++) {
      const PmRect *a = &pm_plan_element (first, i)->area, *b = &pm_plan_element (plan, i)->area;
      g_assert_cmpfloat (a->x, ==, b->x);
      g_assert_cmpfloat (a->y, ==, b->y);
      g_assert_cmpfloat (a->width, ==, b->width);
      g_assert_cmpfloat (a->height, ==, b->height);
    }
  }
  g_object_unref (context);
}

static void
test_words (void)
{
  PangoContext *context = fake_context ();
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_LIGHT, NULL, 1);
  g_autoptr (Fake) fake = fake_new (2, 2, 2);
  static const char *const WORDS[] = { "Larkspur 40\n",
                                       "SEL0\n",
                                       "SEL1\n",
                                       "Inside\n",
                                       "Outside\n",
                                       "two drives answer\n",
                                       "reaches nothing\n",
                                       "change stays with SEL1\n",
                                       "motor goes along\n",
                                       "Boot swap, rev B\n" };
  g_autoptr (PmPlan) plan = NULL;
  g_autofree char *words = NULL;

  fake_cell (fake, 1, 0, 0, PM_ANSWER_YES, NULL);
  fake_cell (fake, 1, 0, 1, PM_ANSWER_YES, NULL);
  fake_side (fake, 1, 1, PM_SIDE_STAYS, "change", "change stays with SEL1");
  fake_side (fake, 1, 1, PM_SIDE_FOLLOWS, "motor", "motor goes along");
  fake_side (fake, 1, 1, PM_SIDE_FOLLOWS, "motor", "motor goes along");
  plan = pm_plan_new (&fake->check, 1, 640, 260, style, context);
  words = pm_plan_words (plan);
  for (guint i = 0; i < G_N_ELEMENTS (WORDS); i++)
    g_assert_nonnull (strstr (words, WORDS[i]));
  g_assert_true (pm_plan_says_all (plan));
  g_assert_cmpstr (pm_plan_element (plan, 0)->sentence, ==,
                   "SEL0 (solid line with discs) reaches Inside and Outside: 2 drives answer.");
  g_assert_cmpstr (pm_plan_element (plan, 1)->sentence, ==, "SEL1 (long dashes with squares) reaches nothing.");
  g_assert_cmpstr (pm_plan_element (plan, 3)->sentence, ==,
                   "Outside answers SEL0. change stays with SEL1; motor goes along.");
  g_object_unref (context);
}

/* Smaller than the minimum: nothing need be right, but it is drawn. */
static void
test_tiny (void)
{
  static const struct {
    int width, height;
  } TINY[] = { { 1, 1 }, { 60, 40 }, { 130, 90 }, { 200, 30 }, { 30, 300 } };
  PangoContext *context = fake_context ();
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_LIGHT, NULL, 1);
  g_autoptr (GRand) random = g_rand_new_with_seed (21);
  g_autoptr (Fake) fake = fake_new (4, 4, 7);

  add_shuffles (fake, random);
  for (guint s = 0; s < G_N_ELEMENTS (TINY); s++) {
    for (guint c = 0; c < fake->check.n_cases; c++) {
      g_autoptr (PmPlan) plan = pm_plan_new (&fake->check, c, TINY[s].width, TINY[s].height, style, context);
      g_autofree char *sum = plan_bytes (plan, TINY[s].width, TINY[s].height);
      g_assert_cmpuint (pm_plan_n_elements (plan), >=, 8);
    }
  }
  g_object_unref (context);
}

/* A point on a track finds its line, a point on a drive its drive, a point on the ground nothing. */
static void
test_hits (void)
{
  PangoContext *context = fake_context ();
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_LIGHT, NULL, 1);
  g_autoptr (Fake) fake = fake_new (2, 2, 1);
  g_autoptr (PmPlan) plan = pm_plan_new (&fake->check, 0, 640, 260, style, context);
  const PmRect *line = &pm_plan_element (plan, 1)->area, *drive = &pm_plan_element (plan, 2)->area;

  g_assert_cmpint (pm_plan_at (plan, line->x + 2, line->y + line->height / 2), ==, 1);
  g_assert_cmpint (pm_plan_at (plan, 320, line->y + line->height / 2), ==, 1);
  g_assert_cmpint (pm_plan_at (plan, drive->x + 20, drive->y + 4), ==, 2);
  g_assert_cmpint (pm_plan_at (plan, 320, 2), ==, -1);
  g_object_unref (context);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/grid", test_grid);
  g_test_add_func ("/plan/marks", test_marks);
  g_test_add_func ("/plan/names", test_names);
  g_test_add_func ("/plan/large-text", test_large_text);
  g_test_add_func ("/plan/same-twice", test_same_twice);
  g_test_add_func ("/plan/stands-still", test_stands_still);
  g_test_add_func ("/plan/words", test_words);
  g_test_add_func ("/plan/tiny", test_tiny);
  g_test_add_func ("/plan/hits", test_hits);
  return g_test_run ();
}
