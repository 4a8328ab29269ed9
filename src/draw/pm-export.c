/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawings into files.  Everything is drawn into memory first, then written whole. */
#include "config.h"
#include "pm-export.h"
#include "pm-document.h"
#include "pm-paper-private.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DPI 150.0

G_DEFINE_QUARK (pm-export-error-quark, pm_export_error)

gboolean
pm_format_of_path (const char *path, PmFormat *format)
{
  static const char *const ENDINGS[PM_N_FORMATS] = { ".pdf", ".svg", ".png" };

  for (guint i = 0; i < PM_N_FORMATS; i++) {
    gsize n = strlen (path), m = strlen (ENDINGS[i]);

    if (n > m && g_ascii_strcasecmp (path + n - m, ENDINGS[i]) == 0) {
      *format = i;
      return TRUE;
    }
  }
  return FALSE;
}

static cairo_status_t
to_memory (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* A PNG has no size on paper without this chunk: pixels a metre, 150 dpi (PNG specification, 11.3.5.3). It follows the
 * signature and IHDR, which are always 33 bytes. */
static void
add_resolution (GByteArray *png)
{
  guint32 per_metre = (guint32) round (DPI / 0.0254), crc = 0xffffffff;
  guint8 chunk[21] = { 0, 0, 0, 9, 'p', 'H', 'Y', 's' };
  g_autofree guint8 *rest = NULL;
  gsize n;

  if (png->len < 33)
    return;
  for (guint i = 0; i < 4; i++)
    chunk[8 + i] = chunk[12 + i] = per_metre >> (24 - 8 * i) & 255;
  chunk[16] = 1;
  for (guint i = 4; i < 17; i++) {
    crc ^= chunk[i];
    for (guint k = 0; k < 8; k++)
      crc = crc & 1 ? crc >> 1 ^ 0xedb88320 : crc >> 1;
  }
  crc ^= 0xffffffff;
  for (guint i = 0; i < 4; i++)
    chunk[17 + i] = crc >> (24 - 8 * i) & 255;
  n = png->len - 33;
  rest = g_memdup2 (png->data + 33, n);
  g_byte_array_set_size (png, 33);
  g_byte_array_append (png, chunk, sizeof chunk);
  g_byte_array_append (png, rest, n);
}

static gboolean
write_out (const char *path, GByteArray *bytes, cairo_status_t status, GError **error)
{
  if (status != CAIRO_STATUS_SUCCESS) {
    g_set_error (error, PM_EXPORT_ERROR, PM_EXPORT_ERROR_WRITE, _("%s: cannot be drawn: %s"), path,
                 cairo_status_to_string (status));
    return FALSE;
  }
  return pm_file_write_atomic (path, (const char *) bytes->data, bytes->len, error);
}

/* The file's own date, so that the same file gives the same bytes; SOURCE_DATE_EPOCH where a packager sets it. */
static char *
date_of (const char *path)
{
  const char *epoch = g_getenv ("SOURCE_DATE_EPOCH");
  GStatBuf info;
  gint64 seconds = epoch ? g_ascii_strtoll (epoch, NULL, 10) : path && g_stat (path, &info) == 0 ? info.st_mtime : 0;
  g_autoptr (GDateTime) time = g_date_time_new_from_unix_utc (seconds);

  return time ? g_date_time_format (time, "%Y-%m-%dT%H:%M:%SZ") : g_strdup ("1970-01-01T00:00:00Z");
}

static void
set_metadata (cairo_surface_t *surface, const char *title, const char *author, const char *subject, const char *path)
{
  g_autofree char *date = date_of (path);

  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, title);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_AUTHOR, author);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_SUBJECT, subject);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Pointsman " PM_VERSION);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, date);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_MOD_DATE, date);
}

static gboolean
export_pdf (const PmPaper *paper, const char *path, const char *title, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  const PmBoard *board = pm_paper_check_of (paper)->board;
  const PmPaperOptions *options = pm_paper_options (paper);
  g_autofree char *subject = g_strdup_printf (_("%s, file %s"), pm_paper_check_of (paper)->verdict_text, board->hash);
  double width, height;
  cairo_surface_t *surface;
  cairo_status_t status;
  cairo_t *cr;

  pm_paper_page_size (paper, 0, &width, &height);
  surface = cairo_pdf_surface_create_for_stream (to_memory, bytes, width, height);
  set_metadata (surface, title, options->creator && options->creator[0] ? options->creator : "Pointsman", subject,
                board->path);
  cr = cairo_create (surface);
  for (guint i = 0; i < pm_paper_n_pages (paper); i++) {
    g_autofree char *link = g_strdup_printf ("page=%u pos=[0 0]", i + 1);

    pm_paper_page_size (paper, i, &width, &height);
    cairo_pdf_surface_set_size (surface, width, height);
    cairo_pdf_surface_add_outline (surface, CAIRO_PDF_OUTLINE_ROOT, pm_paper_page_title (paper, i), link, 0);
    pm_paper_draw (paper, i, cr);
    cairo_show_page (cr);
  }
  status = cairo_status (cr);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  return write_out (path, bytes, status, error);
}

/* ---- one picture a file */

typedef struct { const PmPaper *paper; guint page; } OnePage;

static void
draw_page (cairo_t *cr, gpointer data)
{
  OnePage *page = data;

  pm_paper_draw (page->paper, page->page, cr);
}

/* scale: pixels to a unit, for PNG. unit: what width and height are in, for SVG. */
static gboolean
write_picture (const char *path, PmFormat format, double width, double height, double scale, cairo_svg_unit_t unit,
               const char *title, PmDrawFunc draw, gpointer data, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface;
  cairo_status_t status;
  cairo_t *cr;

  if (format == PM_FORMAT_PDF) {
    surface = cairo_pdf_surface_create_for_stream (to_memory, bytes, width, height);
    set_metadata (surface, title, "Pointsman", title, NULL);
  } else if (format == PM_FORMAT_SVG) {
    surface = cairo_svg_surface_create_for_stream (to_memory, bytes, width, height);
    cairo_svg_surface_set_document_unit (surface, unit);
  } else
    surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) round (width * scale),
                                          (int) round (height * scale));
  cr = cairo_create (surface);
  if (format == PM_FORMAT_PNG)
    cairo_scale (cr, scale, scale);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_set_source_rgb (cr, 0, 0, 0);
  draw (cr, data);
  status = cairo_status (cr);
  cairo_destroy (cr);
  if (format == PM_FORMAT_PNG && status == CAIRO_STATUS_SUCCESS) {
    status = cairo_surface_write_to_png_stream (surface, to_memory, bytes);
    if (scale != 1)
      add_resolution (bytes);
  }
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  return write_out (path, bytes, status, error);
}

static gboolean
wrong_format (const char *path, GError **error)
{
  g_set_error (error, PM_EXPORT_ERROR, PM_EXPORT_ERROR_FORMAT, _("%s: must end with .pdf, .svg or .png"), path);
  return FALSE;
}

gboolean
pm_export_paper (const PmPaper *paper, const char *path, const char *title, GError **error)
{
  PmFormat format;

  if (!pm_format_of_path (path, &format))
    return wrong_format (path, error);
  if (pm_board_reads (pm_paper_check_of (paper)->board, path)) {
    g_set_error (error, PM_EXPORT_ERROR, PM_EXPORT_ERROR_WRITE,
                 _("%s: the board is read from this file; it is left as it is. Choose another name"), path);
    return FALSE;
  }
  if (format == PM_FORMAT_PDF)
    return export_pdf (paper, path, title, error);
  for (guint i = 0; i < pm_paper_n_pages (paper); i++) {
    OnePage page = { paper, i };
    const char *ending = strrchr (path, '.');
    g_autofree char *own = pm_paper_n_pages (paper) == 1
                               ? g_strdup (path)
                               : g_strdup_printf ("%.*s-%u%s", (int) (ending - path), path, i + 1, ending);
    double width, height;

    pm_paper_page_size (paper, i, &width, &height);
    if (!write_picture (own, format, width, height, DPI / 72, CAIRO_SVG_UNIT_PT, title, draw_page, &page, error))
      return FALSE;
  }
  return TRUE;
}

gboolean
pm_export_picture (const char *path, double width, double height, const char *title, PmDrawFunc draw, gpointer data,
                   GError **error)
{
  PmFormat format;

  if (!pm_format_of_path (path, &format))
    return wrong_format (path, error);
  return write_picture (path, format, width, height, 1, CAIRO_SVG_UNIT_PX, title, draw, data, error);
}
