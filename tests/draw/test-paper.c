/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every sheet of every demo board on both papers: no words over words, none out of the frame, none under 8 pt; one page
 * that is one page; sheets that stand still; flows that break where they may. */
#include "config.h"
#include "pm-export.h"
#include "pm-flow.h"
#include "pm-ink.h"
#include "pm-paper.h"
#include "pm-picture.h"
#include <glib/gstdio.h>
#include <string.h>

typedef struct { char *name; PmBoard *board; PmCheck *check; } Subject;

static PmLibrary *library;
static GPtrArray *subjects;

static int
compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

static void
subject_free (gpointer data)
{
  Subject *subject = data;

  pm_check_free (subject->check);
  pm_board_free (subject->board);
  g_free (subject->name);
  g_free (subject);
}

static void
read_subjects (void)
{
  g_autofree char *folder = g_build_filename (g_getenv ("POINTSMAN_DATA"), "boards", NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *entry;

  while (dir && (entry = g_dir_read_name (dir)))
    if (g_str_has_suffix (entry, ".board.xml"))
      g_ptr_array_add (names, g_strdup (entry));
  g_ptr_array_sort (names, compare_names);
  subjects = g_ptr_array_new_with_free_func (subject_free);
  library = pm_library_new (NULL);
  for (guint i = 0; i < names->len; i++) {
    Subject *subject = g_new0 (Subject, 1);
    g_autoptr (PmFaults) faults = pm_faults_new ();
    g_autofree char *path = g_build_filename (folder, names->pdata[i], NULL);

    subject->name = g_strdup (names->pdata[i]);
    subject->board = pm_board_load (path, library, faults);
    g_assert_nonnull (subject->board);
    subject->check = pm_check_new (subject->board, NULL, NULL);
    g_ptr_array_add (subjects, subject);
  }
  g_assert_cmpuint (subjects->len, >=, 20);
}

static guint
problems_of (const Subject *subject, const PmPaperOptions *options, guint *n_pages)
{
  g_autoptr (PmPaper) paper = pm_paper_new (subject->check, options);
  g_auto (GStrv) problems = pm_paper_check (paper);

  for (guint i = 0; problems[i]; i++)
    g_test_message ("%s, paper %d: %s", subject->name, options->size, problems[i]);
  if (n_pages)
    *n_pages = pm_paper_n_pages (paper);
  return g_strv_length (problems);
}

static void
test_clean (void)
{
  guint bad = 0;

  for (guint b = 0; b < subjects->len; b++) {
    const Subject *subject = subjects->pdata[b];

    for (guint size = 0; size < PM_N_PAPER_SIZES; size++) {
      PmPaperOptions options = { .size = size, .lists = PM_LIST_OPTIONS_USUAL };

      for (guint kind = 0; kind < PM_N_SHEETS && size == PM_PAPER_A4; kind++)
        if (pm_sheet_applies (subject->check, kind)) {
          options.sheets = 1u << kind;
          bad += problems_of (subject, &options, NULL);
        }
      options.sheets = pm_paper_set_sheets (PM_SET_EVERYTHING);
      bad += problems_of (subject, &options, NULL);
    }
  }
  g_assert_cmpuint (bad, ==, 0);
}

/* Everything that can make a sheet fuller: words before it, every field of the strip, many boards. */
static void
test_full_strip (void)
{
  guint bad = 0;

  for (guint b = 0; b < subjects->len; b += 5) {
    PmPaperOptions options = { .sheets = pm_paper_set_sheets (PM_SET_EVERYTHING),
                               .case_index = 1,
                               .lists = { 250, 10, 0 },
                               .no_colour = TRUE,
                               .as_it_was = (char *) "as it was at 14:02, before line 34 went wrong",
                               .date = (char *) "2026-11-25",
                               .creator = (char *) "Somebody with a name that is longer than any field" };

    bad += problems_of (subjects->pdata[b], &options, NULL);
  }
  g_assert_cmpuint (bad, ==, 0);
}

static void
test_one_page (void)
{
  for (guint b = 0; b < subjects->len; b++)
    for (guint size = 0; size < PM_N_PAPER_SIZES; size++) {
      PmPaperOptions options = { .size = size, .sheets = pm_paper_set_sheets (PM_SET_ONE_PAGE),
                                 .lists = PM_LIST_OPTIONS_USUAL };
      guint n_pages;

      problems_of (subjects->pdata[b], &options, &n_pages);
      g_assert_cmpuint (n_pages, ==, 1);
    }
}

/* A paper that was drawn draws the same again, and so does a second one. */
static char *
page_sum (const PmPaper *paper, guint page)
{
  double width, height;
  cairo_surface_t *surface;
  cairo_t *cr;
  char *sum;

  pm_paper_page_size (paper, page, &width, &height);
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) width, (int) height);
  cr = cairo_create (surface);
  pm_paper_draw (paper, page, cr);
  cairo_surface_flush (surface);
  sum = g_compute_checksum_for_data (G_CHECKSUM_SHA256, cairo_image_surface_get_data (surface),
                                     (gsize) cairo_image_surface_get_stride (surface) * (int) height);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return sum;
}

static void
test_same_twice (void)
{
  const Subject *subject = subjects->pdata[0];
  PmPaperOptions options = { .sheets = pm_paper_set_sheets (PM_SET_EVERYTHING), .lists = PM_LIST_OPTIONS_USUAL };
  g_autoptr (PmPaper) one = pm_paper_new (subject->check, &options), two = pm_paper_new (subject->check, &options);

  g_assert_cmpuint (pm_paper_n_pages (one), ==, pm_paper_n_pages (two));
  for (guint i = 0; i < pm_paper_n_pages (one); i++) {
    g_autofree char *a = page_sum (one, i), *b = page_sum (two, i), *again = page_sum (one, i);

    g_assert_cmpstr (a, ==, b);
    g_assert_cmpstr (a, ==, again);
    g_assert_cmpstr (pm_paper_page_title (one, i), ==, pm_paper_page_title (two, i));
  }
}

/* "Colour off" is black, white and greys between, on every page. */
static void
test_no_colour (void)
{
  const Subject *subject = subjects->pdata[0];
  PmPaperOptions options = { .sheets = pm_paper_set_sheets (PM_SET_EVERYTHING), .lists = PM_LIST_OPTIONS_USUAL,
                             .no_colour = TRUE };
  g_autoptr (PmPaper) paper = pm_paper_new (subject->check, &options);

  for (guint i = 0; i < pm_paper_n_pages (paper); i++) {
    double width, height;
    cairo_surface_t *surface;
    cairo_t *cr;
    guint coloured = 0;

    pm_paper_page_size (paper, i, &width, &height);
    surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) width, (int) height);
    cr = cairo_create (surface);
    pm_paper_draw (paper, i, cr);
    cairo_surface_flush (surface);
    for (int y = 0; y < (int) height; y++) {
      const guint32 *row = (const guint32 *) (const void *) (cairo_image_surface_get_data (surface) +
                                                             y * cairo_image_surface_get_stride (surface));
      for (int x = 0; x < (int) width; x++)
        coloured += (row[x] >> 16 & 255) != (row[x] >> 8 & 255) || (row[x] >> 8 & 255) != (row[x] & 255);
    }
    cairo_destroy (cr);
    cairo_surface_destroy (surface);
    g_assert_cmpuint (coloured, ==, 0);
  }
}

static void
test_names (void)
{
  for (guint kind = 0; kind < PM_N_SHEETS; kind++) {
    g_assert_nonnull (pm_sheet_id (kind));
    g_assert_cmpint (pm_sheet_title (kind)[0], !=, '\0');
    for (guint other = 0; other < kind; other++)
      g_assert_cmpstr (pm_sheet_id (kind), !=, pm_sheet_id (other));
  }
  for (guint set = 0; set < PM_N_SETS; set++)
    g_assert_cmpuint (pm_paper_set_sheets (set), !=, 0);
  for (guint kind = 0; kind < PM_N_PICTURES; kind++)
    g_assert_cmpint (pm_picture_kind (pm_picture_id (kind)), ==, kind);
  g_assert_cmpint (pm_picture_kind ("nonsense"), ==, -1);
}

/* A set of nothing is still something to look at. */
static void
test_nothing (void)
{
  PmPaperOptions options = { .lists = PM_LIST_OPTIONS_USUAL };
  guint n_pages;

  g_assert_cmpuint (problems_of (subjects->pdata[0], &options, &n_pages), ==, 0);
  g_assert_cmpuint (n_pages, ==, 1);
}

static PmList *
list_of (guint n_columns, guint n_rows, const char *cell)
{
  PmList *list = g_new0 (PmList, 1);

  list->id = "";
  list->title = g_strdup ("");
  list->columns = g_new0 (PmListColumn, n_columns);
  list->n_columns = n_columns;
  for (guint i = 0; i < n_columns; i++)
    list->columns[i] = (PmListColumn) { g_strdup_printf ("c%u", i), g_strdup_printf ("Head%u", i), PM_CELLS_TEXT };
  list->rows = g_new0 (PmListRow, n_rows);
  list->n_rows = n_rows;
  for (guint r = 0; r < n_rows; r++) {
    list->rows[r].cells = g_new0 (char *, n_columns + 1);
    for (guint i = 0; i < n_columns; i++)
      list->rows[r].cells[i] = g_strdup_printf ("%s %u", cell, r);
  }
  list->notes = g_new0 (char *, 1);
  return list;
}

/* Random tables at random places: nothing over anything, nothing out. */
static void
test_random_tables (void)
{
  g_autoptr (PmType) type = pm_type_new (FALSE);
  guint bad = 0;

  for (guint n = 0; n < 300; n++) {
    g_autoptr (PmFlow) flow = pm_flow_new (type);
    double width = g_test_rand_double_range (150, 700), height = g_test_rand_double_range (200, 700);
    double size = g_test_rand_double_range (8, 10), last;
    g_autoptr (GString) cell = g_string_new (NULL);
    PmRect inside = { 0, 0, width, height };
    g_autoptr (GPtrArray) pages = NULL;

    for (gint32 k = g_test_rand_int_range (1, 7); k > 0; k--)
      g_string_append_printf (cell, "%s%.*s", cell->len > 0 ? " " : "", g_test_rand_int_range (1, 12),
                              "abcdefghijkl");
    pm_flow_heading (flow, 0, "A table");
    pm_flow_paragraph (flow, "Before it.");
    pm_flow_list (flow, list_of (g_test_rand_int_range (1, 12), g_test_rand_int_range (1, 60), cell->str), NULL);
    pm_flow_marked (flow, PM_SEVERITY_STOP, "after it, and kept with the words below", TRUE);
    pm_flow_note (flow, "At the end.");
    pages = pm_flow_pages (flow, width, height / 2, height, size, &last);
    g_assert_cmpuint (pages->len, >=, 1);
    g_assert_cmpfloat (last, <=, height + 0.01);
    for (guint p = 0; p < pages->len; p++) {
      g_autoptr (GPtrArray) problems = g_ptr_array_new_with_free_func (g_free);

      pm_ink_check (pages->pdata[p], type, &inside, problems);
      for (guint k = 0; k < problems->len; k++)
        g_test_message ("%gx%g at %g: %s", width, height, size, (char *) problems->pdata[k]);
      bad += problems->len;
    }
  }
  g_assert_cmpuint (bad, ==, 0);
}

/* The checker sees what is planted. */
static void
test_checker (void)
{
  g_autoptr (PmType) type = pm_type_new (FALSE);
  PmRect inside = { 0, 0, 200, 200 };
  static const struct { double x, y, size; } SECOND[] = { { 15, 14, 9 }, { 180, 100, 9 }, { 10, 100, 7.5 },
                                                           { -4, 100, 9 }, { 10, 195, 9 } };

  for (guint i = 0; i < G_N_ELEMENTS (SECOND); i++) {
    g_autoptr (PmInk) ink = pm_ink_new ();
    g_autoptr (GPtrArray) problems = g_ptr_array_new_with_free_func (g_free);

    pm_ink_text (ink, type, 10, 10, "first words", 9, 0);
    pm_ink_check (ink, type, &inside, problems);
    g_assert_cmpuint (problems->len, ==, 0);
    pm_ink_text (ink, type, SECOND[i].x, SECOND[i].y, "second words", SECOND[i].size, 0);
    pm_ink_check (ink, type, &inside, problems);
    g_assert_cmpuint (problems->len, ==, 1);
  }
}

/* Words that are wrapped are all there, in order, and no line is wider than it may be unless one word is. */
static void
test_wrap (void)
{
  g_autoptr (PmType) type = pm_type_new (FALSE);
  static const char TEXT[] = "U1.1A, X1.11 and Donaudampfschifffahrtsgesellschaftskapitän go to /home/some/where/else";

  for (double width = 30; width < 400; width += 7) {
    g_autoptr (GPtrArray) lines = pm_type_wrap (type, TEXT, 9, FALSE, width);
    g_autoptr (GString) all = g_string_new (NULL), plain = g_string_new (TEXT);

    for (guint i = 0; i < lines->len; i++) {
      g_assert_cmpfloat (pm_type_width (type, lines->pdata[i], 9, FALSE), <=, width + 0.1);
      g_string_append (all, lines->pdata[i]);
    }
    g_string_replace (all, " ", "", 0);
    g_string_replace (plain, " ", "", 0);
    g_assert_cmpstr (all->str, ==, plain->str);
  }
}

static void
test_formats (void)
{
  PmFormat format;

  g_assert_true (pm_format_of_path ("a.pdf", &format) && format == PM_FORMAT_PDF);
  g_assert_true (pm_format_of_path ("/x/a.SVG", &format) && format == PM_FORMAT_SVG);
  g_assert_true (pm_format_of_path ("a.b.png", &format) && format == PM_FORMAT_PNG);
  g_assert_false (pm_format_of_path ("a.txt", &format));
  g_assert_false (pm_format_of_path (".pdf", &format));
  g_assert_false (pm_format_of_path ("pdf", &format));
}

int
main (int argc, char **argv)
{
  int code;

  g_test_init (&argc, &argv, NULL);
  read_subjects ();
  g_test_add_func ("/paper/names", test_names);
  g_test_add_func ("/paper/clean", test_clean);
  g_test_add_func ("/paper/full-strip", test_full_strip);
  g_test_add_func ("/paper/one-page", test_one_page);
  g_test_add_func ("/paper/same-twice", test_same_twice);
  g_test_add_func ("/paper/no-colour", test_no_colour);
  g_test_add_func ("/paper/nothing", test_nothing);
  g_test_add_func ("/flow/random-tables", test_random_tables);
  g_test_add_func ("/ink/checker", test_checker);
  g_test_add_func ("/ink/wrap", test_wrap);
  g_test_add_func ("/export/formats", test_formats);
  code = g_test_run ();
  g_ptr_array_unref (subjects);
  pm_library_free (library);
  return code;
}
