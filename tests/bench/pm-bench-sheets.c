/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long the sheets of a board take, against as many empty pages with one line of text.
 *
 * Both go through cairo into a PDF of the same page sizes and are written to the same folder.  Processor time; medians;
 * in turn. The check is made before, for the window and the command line have it already; the lists are not, and how
 * much of it they take is told. */
#include "pm-export.h"
#include "pm-paper.h"
#include "pm-document.h"
#include <cairo-pdf.h>
#include <glib/gstdio.h>
#include <string.h>
#include <time.h>

static double
now_us (void)
{
  struct timespec time;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &time);
  return time.tv_sec * 1e6 + time.tv_nsec / 1e3;
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

static double
median (GArray *times)
{
  g_array_sort (times, compare_doubles);
  return g_array_index (times, double, times->len / 2);
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

static cairo_status_t
to_memory (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* As many pages, of the same sizes, one line on each. */
static double
write_empty (const PmPaper *paper, const char *path)
{
  double start = now_us (), width, height;
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface;
  cairo_t *cr;
  PangoLayout *layout;
  PangoFontDescription *font = pango_font_description_from_string ("sans 10");

  pm_paper_page_size (paper, 0, &width, &height);
  surface = cairo_pdf_surface_create_for_stream (to_memory, bytes, width, height);
  cr = cairo_create (surface);
  layout = pango_cairo_create_layout (cr);
  pango_layout_set_font_description (layout, font);
  for (guint i = 0; i < pm_paper_n_pages (paper); i++) {
    g_autofree char *text = g_strdup_printf ("This page, the one with the number %u, is empty.", i + 1);

    pm_paper_page_size (paper, i, &width, &height);
    cairo_pdf_surface_set_size (surface, width, height);
    pango_layout_set_text (layout, text, -1);
    cairo_move_to (cr, 72, 72);
    pango_cairo_show_layout (cr, layout);
    cairo_show_page (cr);
  }
  g_object_unref (layout);
  pango_font_description_free (font);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);
  if (!pm_file_write_atomic (path, (const char *) bytes->data, bytes->len, NULL))
    g_error ("%s: cannot be written", path);
  return now_us () - start;
}

static void
measure (const PmCheck *check, const char *name, const char *path, guint rounds)
{
  PmPaperOptions options = { .sheets = pm_paper_set_sheets (PM_SET_EVERYTHING), .lists = PM_LIST_OPTIONS_USUAL };
  g_autoptr (GArray) whole = g_array_new (FALSE, FALSE, sizeof (double)),
                     lists = g_array_new (FALSE, FALSE, sizeof (double)),
                     writing = g_array_new (FALSE, FALSE, sizeof (double)),
                     empty = g_array_new (FALSE, FALSE, sizeof (double));
  guint n_pages = 0;

  for (guint i = 0; i < rounds; i++) {
    double start = now_us (), us, between;
    g_autoptr (PmPaper) paper = pm_paper_new (check, &options);

    between = now_us ();
    if (!pm_export_paper (paper, path, name, NULL))
      g_error ("%s: cannot be written", path);
    us = now_us () - start;
    g_array_append_val (whole, us);
    us = now_us () - between;
    g_array_append_val (writing, us);
    us = write_empty (paper, path);
    g_array_append_val (empty, us);
    n_pages = pm_paper_n_pages (paper);
    start = now_us ();
    for (guint kind = 0; kind < PM_N_LISTS; kind++)
      pm_list_free (pm_list_new (check, kind, NULL, NULL));
    us = now_us () - start;
    g_array_append_val (lists, us);
  }
  double all = median (whole), page = median (empty);
  g_print ("  %-32s %5u %9.0f %9.0f %9.0f %9.0f %7.1f %7.1f\n", name, n_pages, all, median (lists), median (writing),
           page, all / page, median (writing) / page);
}

int
main (int argc, char **argv)
{
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *folder = NULL, *path = NULL;
  g_autoptr (GDir) dir = NULL;
  const char *entry;

  if (argc != 2 || !(dir = g_dir_open (argv[1], 0, NULL))) {
    g_printerr ("usage: pm-bench-sheets FOLDER_OF_BOARDS\n");
    return 2;
  }
  while ((entry = g_dir_read_name (dir)))
    if (g_str_has_suffix (entry, ".board.xml"))
      g_ptr_array_add (names, g_strdup (entry));
  g_ptr_array_sort (names, compare_names);
  folder = g_dir_make_tmp ("pm-bench-XXXXXX", NULL);
  path = g_build_filename (folder, "sheets.pdf", NULL);
  g_print ("every sheet to PDF, against as many empty pages with one line of text\n");
  g_print ("  %-32s %5s %9s %9s %9s %9s %7s %7s\n", "board", "pages", "us", "lists us", "write us", "empty us", "ratio",
           "writing");
  for (guint i = 0; i < names->len; i++) {
    g_autoptr (PmFaults) faults = pm_faults_new ();
    g_autofree char *file = g_build_filename (argv[1], names->pdata[i], NULL);
    g_autofree char *name = g_strndup (names->pdata[i], strlen (names->pdata[i]) - strlen (".board.xml"));
    g_autoptr (PmBoard) board = pm_board_load (file, library, faults);
    g_autoptr (PmCheck) check = board ? pm_check_new (board, NULL, NULL) : NULL;

    if (check)
      measure (check, name, path, 7);
  }
  g_unlink (path);
  g_rmdir (folder);
  return 0;
}
