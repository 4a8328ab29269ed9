/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheets and pictures into files: PDF, SVG, PNG.
 *
 * Each file is written whole or not at all: to a temporary file beside it, then renamed (pm_file_write_atomic). An
 * error names the file and why and leaves what was there.  No display is needed.
 */
#pragma once
#include <gio/gio.h>
#include "pm-paper.h"

G_BEGIN_DECLS
#define PM_EXPORT_ERROR (pm_export_error_quark ())
GQuark pm_export_error_quark (void);
typedef enum { PM_EXPORT_ERROR_WRITE, PM_EXPORT_ERROR_FORMAT } PmExportError;
typedef enum { PM_FORMAT_PDF, PM_FORMAT_SVG, PM_FORMAT_PNG, PM_N_FORMATS } PmFormat;

/* By the ending of the path; FALSE if it is none of .pdf .svg .png. */
gboolean pm_format_of_path (const char *path, PmFormat *format);

/* PDF: all pages in one file, searchable, fonts embedded, title, author and subject set, an outline of the sheets.
 * SVG, PNG (150 dpi): one file a page; with more than one page "-1", "-2" ... before the ending. */
gboolean pm_export_paper   (const PmPaper *paper, const char *path, const char *title, GError **error);

/* One picture of a size in pixels (points for PDF); draw paints on a white ground that is there already. */
typedef void (*PmDrawFunc) (cairo_t *cr, gpointer data);
gboolean pm_export_picture (const char *path, double width, double height, const char *title, PmDrawFunc draw,
                            gpointer data, GError **error);
G_END_DECLS
