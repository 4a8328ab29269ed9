/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A file as text, kept to the last byte, with edits, undo and atomic saving. */
#pragma once
#include <gio/gio.h>

G_BEGIN_DECLS
#define PM_DOCUMENT_ERROR (pm_document_error_quark ())
GQuark pm_document_error_quark (void);
typedef enum { PM_DOCUMENT_ERROR_READ, PM_DOCUMENT_ERROR_WRITE, PM_DOCUMENT_ERROR_CHANGED } PmDocumentError;

typedef struct _PmDocument PmDocument;
/* UTF-8, at most 8 MB; not a directory, fifo or device. */
PmDocument *pm_document_open     (const char *path, GError **error);
void        pm_document_free     (PmDocument *document);
const char *pm_document_text     (const PmDocument *document, gsize *length);
/* offset and length in bytes, at the bounds of characters; with: UTF-8.  One step of undo.  What had been undone
 * cannot be redone any more. */
void        pm_document_replace  (PmDocument *document, gsize offset, gsize length, const char *with);
/* FALSE if there is nothing to undo, or redo. */
gboolean    pm_document_undo     (PmDocument *document);
gboolean    pm_document_redo     (PmDocument *document);
/* The text is not what was read or last saved; FALSE again when edits cancel out. */
gboolean    pm_document_is_changed (const PmDocument *document);
/* Temporary file in the same folder, fsync, rename; mode kept, symbolic links followed.  A failure leaves the old
 * file whole and names the file and why. PM_DOCUMENT_ERROR_CHANGED if the bytes on disk are not those that were read
 * or last saved, or the file is gone. */
gboolean    pm_document_save     (PmDocument *document, GError **error);
/* The same for any bytes and without asking what was there; a new file gets the mode that the umask leaves. */
gboolean    pm_file_write_atomic (const char *path, const char *text, gsize length, GError **error);

/* Edits of a board file that keep everything else byte for byte. */
/* Inserts a line of XML before the root's end tag, indented like the lines before it. FALSE, and nothing changed, if
 * text is not a board file that can be read, or xml is not one element. */
gboolean    pm_document_append_element (PmDocument *document, const char *xml);
/* Sets (or adds) an attribute of the element that starts on a line.  element: "part", or "part U1" for the one with
 * name="U1" where several start there. FALSE, and nothing changed, if there is no such element, if there are several,
 * or if the text could not be read afterwards. */
gboolean    pm_document_set_attribute  (PmDocument *document, guint line, const char *element, const char *name,
                                        const char *value);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmDocument, pm_document_free)
G_END_DECLS
