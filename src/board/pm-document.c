/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The text of a file with its edits, and writing that never leaves half a file.
 *
 * Each edit remembers the bytes it took out and the bytes it put in, so undo and redo are the same step in two
 * directions.  Whether the file on disk is still the one that was read is decided by its bytes, not by times or
 * numbers: a copy put back is no change, and a change within one tick of the clock is one. */
#include "config.h"
#include "pm-document.h"
#include "pm-xml.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* As many as the kernel follows. */
#define MAX_LINKS 40

typedef struct {
  gsize offset;
  char *before, *after; /* what stood there, and what stands there now */
} Edit;

struct _PmDocument {
  char    *path;
  GString *text;
  GString *saved;  /* what is on disk as far as we know */
  GArray  *edits;  /* Edit, oldest first */
  guint    n_done; /* the first so many of them are in the text; the others can be redone */
};

G_DEFINE_QUARK (pm-document-error-quark, pm_document_error)

static void
edit_clear (gpointer data)
{
  Edit *edit = data;

  g_free (edit->before);
  g_free (edit->after);
}

/* The first fault, as the text of an error. */
static void
set_error_from_faults (GError **error, PmDocumentError code, PmFaults *faults)
{
  g_autofree char *text = pm_fault_to_text (pm_faults_get (faults, 0));

  g_set_error_literal (error, PM_DOCUMENT_ERROR, code, text);
}

/* The same checks as for every file that is read, so that nothing is opened for editing that could not be read as a
 * board for that reason. */
static gboolean
check_text (const char *shown, const char *text, gsize length, PmFaults *faults)
{
  PmSpot spot = { g_intern_string (shown), 1, 0 };
  const char *end;

  if (g_utf8_validate_len (text, length, &end))
    return TRUE;
  for (const char *at = text; at < end; at++)
    spot.line += *at == '\n';
  if (*end == '\0')
    pm_faults_add (faults, spot, _("a zero byte: this is not a text file. Is it the right file?"));
  else
    pm_faults_add (faults, spot, _("this is not UTF-8 text (byte 0x%02X). Save the file as UTF-8"), (guchar) *end);
  return FALSE;
}

PmDocument *
pm_document_open (const char *path, GError **error)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autofree char *shown = g_filename_display_name (path);
  gsize length = 0;
  g_autofree char *bytes = pm_xml_read_bytes (path, shown, &length, faults);

  if (bytes == NULL || !check_text (shown, bytes, length, faults)) {
    set_error_from_faults (error, PM_DOCUMENT_ERROR_READ, faults);
    return NULL;
  }
  PmDocument *document = g_new0 (PmDocument, 1);
  document->path = g_strdup (path);
  document->text = g_string_new_len (bytes, length);
  document->saved = g_string_new_len (bytes, length);
  document->edits = g_array_new (FALSE, FALSE, sizeof (Edit));
  g_array_set_clear_func (document->edits, edit_clear);
  return document;
}

void
pm_document_free (PmDocument *document)
{
  if (document == NULL)
    return;
  g_free (document->path);
  g_string_free (document->text, TRUE);
  g_string_free (document->saved, TRUE);
  g_array_unref (document->edits);
  g_free (document);
}

const char *
pm_document_text (const PmDocument *document, gsize *length)
{
  if (length != NULL)
    *length = document->text->len;
  return document->text->str;
}

/* TRUE if no character is cut at that offset. */
static gboolean
is_between_characters (const GString *text, gsize offset)
{
  return offset == text->len || ((guchar) text->str[offset] & 0xC0) != 0x80;
}

static void
put (GString *text, gsize offset, const char *out, const char *in)
{
  g_string_erase (text, offset, strlen (out));
  g_string_insert (text, offset, in);
}

void
pm_document_replace (PmDocument *document, gsize offset, gsize length, const char *with)
{
  GString *text = document->text;

  g_return_if_fail (offset <= text->len && length <= text->len - offset);
  g_return_if_fail (is_between_characters (text, offset) && is_between_characters (text, offset + length));
  g_return_if_fail (g_utf8_validate (with, -1, NULL));
  Edit edit = { offset, g_strndup (text->str + offset, length), g_strdup (with) };
  g_array_set_size (document->edits, document->n_done);
  g_array_append_val (document->edits, edit);
  document->n_done++;
  put (text, offset, edit.before, edit.after);
}

gboolean
pm_document_undo (PmDocument *document)
{
  if (document->n_done == 0)
    return FALSE;
  const Edit *edit = &g_array_index (document->edits, Edit, --document->n_done);
  put (document->text, edit->offset, edit->after, edit->before);
  return TRUE;
}

gboolean
pm_document_redo (PmDocument *document)
{
  if (document->n_done == document->edits->len)
    return FALSE;
  const Edit *edit = &g_array_index (document->edits, Edit, document->n_done++);
  put (document->text, edit->offset, edit->before, edit->after);
  return TRUE;
}

gboolean
pm_document_is_changed (const PmDocument *document)
{
  return !g_string_equal (document->text, document->saved);
}

static gboolean G_GNUC_PRINTF (4, 5)
refuse (GError **error, PmDocumentError code, const char *path, const char *format, ...)
{
  g_autofree char *shown = g_filename_display_name (path);
  va_list args;

  va_start (args, format);
  g_autofree char *why = g_strdup_vprintf (format, args);
  va_end (args);
  /* Translators: a file, and why it could not be written */
  g_set_error (error, PM_DOCUMENT_ERROR, code, _("%s: not saved: %s"), shown, why);
  return FALSE;
}

static gboolean
refuse_errno (GError **error, const char *path, int number)
{
  return refuse (error, PM_DOCUMENT_ERROR_WRITE, path, "%s", g_strerror (number));
}

/* The file that path leads to, through symbolic links; it need not be there.  NULL with errno set if the links never
 * end. */
static char *
follow_links (const char *path)
{
  g_autofree char *at = g_strdup (path);

  for (guint i = 0; i < MAX_LINKS; i++) {
    struct stat info;
    if (lstat (at, &info) < 0 || !S_ISLNK (info.st_mode))
      return g_steal_pointer (&at);
    g_autofree char *to = g_file_read_link (at, NULL);
    if (to == NULL)
      return g_steal_pointer (&at);
    g_autofree char *folder = g_path_get_dirname (at);
    g_free (at);
    at = g_path_is_absolute (to) ? g_strdup (to) : g_build_filename (folder, to, NULL);
  }
  errno = ELOOP;
  return NULL;
}

static gboolean
write_all (int fd, const char *text, gsize length)
{
  while (length > 0) {
    gssize n = write (fd, text, length);
    if (n < 0 && errno == EINTR)
      continue;
    if (n < 0)
      return FALSE;
    text += n;
    length -= n;
  }
  return TRUE;
}

/* Owner and mode of the file that is about to be replaced.  Who may not give files away keeps the mode all the same,
 * but then what the old group was allowed must not pass to another group. */
static gboolean
copy_mode (int fd, const struct stat *old)
{
  struct stat new;
  mode_t mode = old->st_mode & 07777;

  if (fstat (fd, &new) < 0)
    return FALSE;
  if ((new.st_uid != old->st_uid || new.st_gid != old->st_gid) && fchown (fd, old->st_uid, old->st_gid) < 0
      && fchown (fd, -1, old->st_gid) < 0)
    mode = (mode & ~(mode_t) 06070) | ((mode & 07) << 3);
  return fchmod (fd, mode) == 0;
}

/* A name that has just been put in place is safe once the folder is on disk too.  The file is whole either way, so a
 * file system that does not know this is no failure. */
static void
sync_folder (const char *folder)
{
  int fd = open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);

  if (fd >= 0) {
    fsync (fd);
    close (fd);
  }
}

/* TRUE if the file holds these bytes. */
static gboolean
check_unchanged (const char *path, const GString *expected, GError **error)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  gsize length = 0;
  g_autofree char *now = pm_xml_read_bytes (path, "", &length, faults);

  if (now == NULL)
    return refuse (error, PM_DOCUMENT_ERROR_CHANGED, path, _("the file is not the one that was read: %s"),
                   pm_faults_get (faults, 0)->message);
  if (length != expected->len || memcmp (now, expected->str, length) != 0)
    return refuse (error, PM_DOCUMENT_ERROR_CHANGED, path,
                   _("somebody else has changed the file since it was read. Read it again first"));
  return TRUE;
}

/* expected: what the file must still hold just before it is replaced, or NULL = anything, or no file at all. */
static gboolean
write_atomic (const char *path, const char *text, gsize length, const GString *expected, GError **error)
{
  struct stat old;
  g_autofree char *target = follow_links (path);

  if (target == NULL)
    return refuse_errno (error, path, errno);
  gboolean exists = stat (target, &old) == 0;
  if (!exists && errno != ENOENT)
    return refuse_errno (error, path, errno);
  if (exists && !S_ISREG (old.st_mode))
    return refuse (error, PM_DOCUMENT_ERROR_WRITE, path, _("there is a folder, a device or a pipe of that name"));
  /* A rename asks only for permission to write to the folder, but a file is made read-only to be left alone. */
  if (exists && faccessat (AT_FDCWD, target, W_OK, AT_EACCESS) < 0)
    return refuse_errno (error, path, errno);
  if (expected != NULL && !check_unchanged (path, expected, error))
    return FALSE;

  g_autofree char *folder = g_path_get_dirname (target);
  g_autofree char *temporary = g_build_filename (folder, ".pointsman-XXXXXX", NULL);
  int fd = g_mkstemp_full (temporary, O_WRONLY | O_CLOEXEC, exists ? 0600 : 0666);
  if (fd < 0)
    return refuse (error, PM_DOCUMENT_ERROR_WRITE, path, _("nothing can be written to its folder: %s"),
                   g_strerror (errno));
  gboolean ok = write_all (fd, text, length) && (!exists || copy_mode (fd, &old)) && fsync (fd) == 0;
  int number = errno;
  if (close (fd) < 0 && ok) {
    number = errno;
    ok = FALSE;
  }
  if (!ok)
    refuse_errno (error, path, number);
  /* Once more, since writing to a slow disk takes its time. */
  ok = ok && (expected == NULL || check_unchanged (path, expected, error));
  if (ok && rename (temporary, target) < 0)
    ok = refuse_errno (error, path, errno);
  if (!ok)
    unlink (temporary);
  else
    sync_folder (folder);
  return ok;
}

gboolean
pm_file_write_atomic (const char *path, const char *text, gsize length, GError **error)
{
  return write_atomic (path, text, length, NULL, error);
}

gboolean
pm_document_save (PmDocument *document, GError **error)
{
  GString *text = document->text;

  if (text->len > PM_XML_MAX_BYTES)
    return refuse (error, PM_DOCUMENT_ERROR_WRITE, document->path, _("larger than 8 MB; it could not be read again"));
  if (!write_atomic (document->path, text->str, text->len, document->saved, error))
    return FALSE;
  g_string_truncate (document->saved, 0);
  g_string_append_len (document->saved, text->str, text->len);
  return TRUE;
}
