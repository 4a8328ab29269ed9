/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fuzz target: edits of any text as a board.  An edit is made whole or not at all, touches one stretch of bytes, and is
 * undone to the last byte. */
#include "fuzz.h"

#include "pm-document.h"
#include "pm-xml.h"

#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

/* A document of the bytes, from a file in memory; NULL if they are no text. */
static PmDocument *
open_bytes (const uint8_t *data, size_t size)
{
  int fd = memfd_create ("fuzz", MFD_CLOEXEC);
  g_autofree char *path = g_strdup_printf ("/proc/self/fd/%d", fd);
  g_autoptr (GError) error = NULL;

  g_assert_true (fd >= 0 && write (fd, data, size) == (gssize) size);
  PmDocument *document = pm_document_open (path, &error);
  g_assert_true ((document != NULL) == (error == NULL));
  close (fd);
  return document;
}

static gboolean
can_be_read (const PmDocument *document, const char *root)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  gsize length;
  const char *text = pm_document_text (document, &length);
  g_autoptr (PmXmlFile) file = pm_xml_parse ("fuzz", text, length, root, faults);

  return file != NULL;
}

/* done: what the edit said.  taken: how many bytes of the old text it may have taken out. */
static void
check_edit (PmDocument *document, const uint8_t *data, size_t size, gboolean done, gsize taken)
{
  gsize length, front = 0, back = 0;
  const char *text = pm_document_text (document, &length);

  if (!done) {
    g_assert_cmpmem (text, length, data, size);
    g_assert_false (pm_document_undo (document));
    return;
  }
  while (front < MIN (size, length) && data[front] == (uint8_t) text[front])
    front++;
  while (back < MIN (size, length) - front && data[size - 1 - back] == (uint8_t) text[length - 1 - back])
    back++;
  g_assert_cmpuint (front + back + taken, >=, size);
  if (pm_document_undo (document)) {
    text = pm_document_text (document, &length);
    g_assert_cmpmem (text, length, data, size);
    g_assert_true (pm_document_redo (document));
    g_assert_true (pm_document_undo (document));
  }
  g_assert_false (pm_document_undo (document));
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  static const char *const elements[] = { "board", "part", "join", "part U1", "host", "drive" };
  g_autoptr (PmDocument) document = open_bytes (data, size);

  if (document == NULL)
    return 0;
  gboolean board = can_be_read (document, "board");
  gboolean done = pm_document_append_element (document, "<note>n</note>");
  g_assert_cmpint (done, ==, board);
  if (done)
    g_assert_true (can_be_read (document, "board"));
  check_edit (document, data, size, done, 0x100);
  for (guint line = 1; line <= 12; line++)
    for (guint i = 0; i < G_N_ELEMENTS (elements); i++) {
      done = pm_document_set_attribute (document, line, elements[i], i % 2 ? "is" : "new", "<\"'&\n>");
      if (done && board)
        g_assert_true (can_be_read (document, "board"));
      check_edit (document, data, size, done, size);
    }
  return 0;
}
