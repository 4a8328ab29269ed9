/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Documents: every byte kept, edits and their undoing, and saving on disks and in folders that do not want to. */
#include "pm-document.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <sched.h>
#include <signal.h>
#include <string.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#define ROOT "<board xmlns=\"urn:x-pointsman:1\" title=\"T\">"

/* A folder of its own for each case; removed with what is in it. */
typedef struct { char *folder, *path; } Place;

static void
place_make (Place *place, const void *text)
{
  place->folder = g_dir_make_tmp ("pointsman-document-XXXXXX", NULL);
  g_assert_nonnull (place->folder);
  place->path = g_build_filename (place->folder, "a.board.xml", NULL);
  if (text != NULL)
    g_assert_true (g_file_set_contents (place->path, text, -1, NULL));
}

static void
remove_all (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);

  for (const char *name; dir != NULL && (name = g_dir_read_name (dir)) != NULL;) {
    g_autofree char *path = g_build_filename (folder, name, NULL);
    if (g_file_test (path, G_FILE_TEST_IS_DIR) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
      remove_all (path);
    else
      g_unlink (path);
  }
  g_rmdir (folder);
}

static void
place_clear (Place *place)
{
  remove_all (place->folder);
  g_free (place->folder);
  g_free (place->path);
}

static void
assert_file (const char *path, const char *expected)
{
  g_autofree char *text = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  g_assert_cmpmem (text, length, expected, strlen (expected));
}

/* No temporary file is left behind. */
static void
assert_files (const char *folder, guint n)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint found = 0;

  while (g_dir_read_name (dir) != NULL)
    found++;
  g_assert_cmpuint (found, ==, n);
}

static void
assert_text (const PmDocument *document, const char *expected)
{
  gsize length;
  const char *text = pm_document_text (document, &length);

  g_assert_cmpstr (text, ==, expected);
  g_assert_cmpuint (length, ==, strlen (expected));
}

static PmDocument *
open_document (const char *path)
{
  g_autoptr (GError) error = NULL;
  PmDocument *document = pm_document_open (path, &error);

  g_assert_no_error (error);
  g_assert_nonnull (document);
  return document;
}

static void
save (PmDocument *document)
{
  g_autoptr (GError) error = NULL;

  pm_document_save (document, &error);
  g_assert_no_error (error);
  g_assert_false (pm_document_is_changed (document));
}

/* Saving must fail, name the file and say this. */
static void
assert_save_fails (PmDocument *document, const char *path, int code, const char *says)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (pm_document_save (document, &error));
  g_assert_error (error, PM_DOCUMENT_ERROR, code);
  g_test_message ("%s", error->message);
  g_assert_true (g_str_has_prefix (error->message, path));
  g_assert_nonnull (strstr (error->message, says));
  g_assert_true (pm_document_is_changed (document));
}

/* ---- every byte is kept */

/* Every file with that ending below a folder, sorted. */
static void
collect (const char *folder, const char *ending, GPtrArray *paths)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);

  for (const char *name; dir != NULL && (name = g_dir_read_name (dir)) != NULL;) {
    g_autofree char *path = g_build_filename (folder, name, NULL);
    if (g_file_test (path, G_FILE_TEST_IS_DIR))
      collect (path, ending, paths);
    else if (g_str_has_suffix (name, ending))
      g_ptr_array_add (paths, g_steal_pointer (&path));
  }
}

static void
test_round_trip (void)
{
  g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);
  Place place;

  collect (g_getenv ("POINTSMAN_DATA"), ".xml", paths);
  g_assert_cmpuint (paths->len, >=, 90);
  place_make (&place, NULL);
  for (guint i = 0; i < paths->len; i++) {
    g_autofree char *before = NULL;
    gsize length;
    g_assert_true (g_file_get_contents (paths->pdata[i], &before, &length, NULL));
    g_assert_true (g_file_set_contents (place.path, before, length, NULL));
    g_autoptr (PmDocument) document = open_document (place.path);
    assert_text (document, before);
    save (document);
    assert_file (place.path, before);
    /* Forth and back leaves nothing behind either. */
    gboolean board = g_str_has_suffix (paths->pdata[i], ".board.xml");
    g_assert_cmpint (pm_document_append_element (document, "<note>n</note>"), ==, board);
    g_assert_cmpint (pm_document_is_changed (document), ==, board);
    g_assert_cmpint (pm_document_undo (document), ==, board);
    assert_text (document, before);
  }
  place_clear (&place);
}

/* What editors of other makers and other systems leave in a file. */
static const char *const odd_texts[] = {
  "",
  "\n",
  "no XML at all, without a line end",
  "\xEF\xBB\xBF<?xml version=\"1.0\"?>\r\n" ROOT "\r\n</board>\r\n",
  ROOT "\r\n  <!-- mixed -->\n\t<note>\r\n</note>   \n\n\n</board>",
  "<?xml version='1.0'?><!-- first --><?keep this?>" ROOT "<x:y xmlns:x='urn:other' x:z='1'/></board><!-- last -->",
  ROOT "<note><![CDATA[</board>]]> \xC2\xB5 \xE2\x84\xA6 \xF0\x9F\x9A\x82</note></board>\n",
};

static void
test_odd_texts (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (odd_texts); i++) {
    Place place;
    place_make (&place, odd_texts[i]);
    g_autoptr (PmDocument) document = open_document (place.path);
    assert_text (document, odd_texts[i]);
    pm_document_replace (document, 0, 0, "x");
    save (document);
    pm_document_replace (document, 0, 1, "");
    save (document);
    assert_file (place.path, odd_texts[i]);
    place_clear (&place);
  }
}

/* ---- what is not opened */

static void
assert_refused (const char *path, const char *says)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (pm_document_open (path, &error));
  g_assert_error (error, PM_DOCUMENT_ERROR, PM_DOCUMENT_ERROR_READ);
  g_test_message ("%s", error->message);
  g_assert_true (g_str_has_prefix (error->message, path));
  g_assert_nonnull (strstr (error->message, says));
}

static void
test_refused (void)
{
  Place place;

  place_make (&place, NULL);
  assert_refused (place.path, "no such file");
  assert_refused (place.folder, "folder");
  assert_refused ("/dev/zero", "device");
  g_assert_cmpint (mkfifo (place.path, 0600), ==, 0);
  assert_refused (place.path, "pipe");
  g_unlink (place.path);
  g_assert_cmpint (symlink (place.path, place.path), ==, 0);
  assert_refused (place.path, "itself");
  g_unlink (place.path);
  g_assert_true (g_file_set_contents (place.path, "<board>\n<a>\n\xFF</a>", -1, NULL));
  assert_refused (place.path, "a.board.xml:3: this is not UTF-8 text (byte 0xFF)");
  g_assert_true (g_file_set_contents (place.path, "a\0b", 3, NULL));
  assert_refused (place.path, "a.board.xml:1: a zero byte");
  g_assert_cmpint (truncate (place.path, 8 * 1024 * 1024 + 1), ==, 0);
  assert_refused (place.path, "8 MB");
  place_clear (&place);
}

static void
test_largest (void)
{
  Place place;
  gsize most = 8 * 1024 * 1024, length;
  g_autofree char *text = g_malloc (most + 1);

  memset (text, ' ', most);
  text[most] = '\0';
  place_make (&place, text);
  g_autoptr (PmDocument) document = open_document (place.path);
  pm_document_text (document, &length);
  g_assert_cmpuint (length, ==, most);
  pm_document_replace (document, 0, 0, "x");
  assert_save_fails (document, place.path, PM_DOCUMENT_ERROR_WRITE, "8 MB");
  pm_document_replace (document, 1, 1, "");
  save (document);
  place_clear (&place);
}

/* ---- undo */

static void
test_undo (void)
{
  Place place;

  place_make (&place, "one two");
  g_autoptr (PmDocument) document = open_document (place.path);
  g_assert_false (pm_document_undo (document));
  g_assert_false (pm_document_redo (document));
  pm_document_replace (document, 0, 3, "1");
  pm_document_replace (document, 2, 3, "2 \xC2\xB5");
  assert_text (document, "1 2 \xC2\xB5");
  g_assert_true (pm_document_is_changed (document));
  save (document);
  g_assert_true (pm_document_undo (document));
  assert_text (document, "1 two");
  g_assert_true (pm_document_is_changed (document));
  g_assert_true (pm_document_undo (document));
  assert_text (document, "one two");
  g_assert_false (pm_document_undo (document));
  g_assert_true (pm_document_redo (document));
  g_assert_true (pm_document_redo (document));
  g_assert_false (pm_document_redo (document));
  g_assert_false (pm_document_is_changed (document));
  g_assert_true (pm_document_undo (document));
  pm_document_replace (document, 5, 0, "!");
  g_assert_false (pm_document_redo (document));
  assert_text (document, "1 two!");
  /* Edits that cancel out are no change. */
  save (document);
  pm_document_replace (document, 0, 1, "x");
  pm_document_replace (document, 0, 1, "1");
  g_assert_false (pm_document_is_changed (document));
  place_clear (&place);
}

/* Any edits, undone and redone, against a list of whole texts. */
static void
test_undo_random (void)
{
  Place place;
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  guint at = 0;

  place_make (&place, "abc");
  g_autoptr (PmDocument) document = open_document (place.path);
  g_ptr_array_add (texts, g_strdup ("abc"));
  for (guint i = 0; i < 3000; i++) {
    gsize length;
    pm_document_text (document, &length);
    switch (g_rand_int_range (rand, 0, 4)) {
    case 0:
      g_assert_cmpint (pm_document_undo (document), ==, at > 0);
      at -= at > 0;
      break;
    case 1:
      g_assert_cmpint (pm_document_redo (document), ==, at + 1 < texts->len);
      at += at + 1 < texts->len;
      break;
    default: {
      gsize offset = g_rand_int_range (rand, 0, length + 1);
      gsize n = g_rand_int_range (rand, 0, MIN (length - offset, 9) + 1);
      char with[9] = "";
      for (int k = g_rand_int_range (rand, 0, 8); k > 0; k--)
        with[k - 1] = 'a' + k;
      const char *text = pm_document_text (document, NULL);
      g_autofree char *head = g_strndup (text, offset);
      char *then = g_strconcat (head, with, text + offset + n, NULL);
      pm_document_replace (document, offset, n, with);
      g_ptr_array_set_size (texts, ++at);
      g_ptr_array_add (texts, then);
    }
    }
    assert_text (document, texts->pdata[at]);
  }
  place_clear (&place);
}

/* ---- edits of a board */

/* Looks like the end of a board and is none. */
#define DECOY "<!-- </board> -->"
#define DECOYS DECOY ROOT DECOY "<note><![CDATA[</board>]]></note>\n   <a:b xmlns:a='u'/>\n"

/* Text, element, and what must come of it; NULL = refused. */
static const struct { const char *before, *element, *after; } appends[] = {
  { ROOT "\n  <host is=\"h\"/>\n</board>\n", "<join>A B</join>",
    ROOT "\n  <host is=\"h\"/>\n  <join>A B</join>\n</board>\n" },
  { "\xEF\xBB\xBF" ROOT "\r\n\t<host is=\"h\"/>\r\n</board>\r\n", "<join>A B</join>",
    "\xEF\xBB\xBF" ROOT "\r\n\t<host is=\"h\"/>\r\n\t<join>A B</join>\r\n</board>\r\n" },
  { ROOT "</board>", "<join>A B</join>", ROOT "\n  <join>A B</join>\n</board>" },
  { ROOT "<host is=\"h\"/></board  >", "<join>A B</join>", ROOT "<host is=\"h\"/>\n  <join>A B</join>\n</board  >" },
  { "<board xmlns='urn:x-pointsman:1' />\r\n", "<join>A B</join>",
    "<board xmlns='urn:x-pointsman:1'>\r\n  <join>A B</join>\r\n</board>\r\n" },
  { DECOYS " </board>\n" DECOY, " <join>A B</join>\n", DECOYS "   <join>A B</join>\n </board>\n" DECOY },
  { "<p:board xmlns:p=\"urn:x-pointsman:1\">\n</p:board>", "<join>A B</join>",
    "<p:board xmlns:p=\"urn:x-pointsman:1\">\n  <join xmlns=\"urn:x-pointsman:1\">A B</join>\n</p:board>" },
  { ROOT "\r\n    <note/>\r\n</board>", "<part name=\"U1\">\n  <note/>\n</part>",
    ROOT "\r\n    <note/>\r\n    <part name=\"U1\">\r\n      <note/>\r\n    </part>\r\n</board>" },
  { ROOT "\n", "<join>A B</join>", NULL },
  { "", "<join>A B</join>", NULL },
  { "<board>\n</board>", "<join>A B</join>", NULL },
  { "<host xmlns=\"urn:x-pointsman:1\"/>", "<join>A B</join>", NULL },
  { ROOT "</board>", "<join>A B", NULL },
  { ROOT "</board>", "A B", NULL },
  { ROOT "</board>", "", NULL },
  { ROOT "</board>", "<note/><note/>", NULL },
  { ROOT "</board>", "</board><board>", NULL },
  { ROOT "</board>", "<x xmlns=\"urn:other\"/>", NULL },
  { ROOT "</board>", "<note>\xFF</note>", NULL },
  { "<!DOCTYPE board [<!ENTITY a \"</board>\">]>" ROOT "</board>", "<note/>", NULL },
};

static void
test_append (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (appends); i++) {
    Place place;
    place_make (&place, appends[i].before);
    g_autoptr (PmDocument) document = open_document (place.path);
    g_assert_cmpint (pm_document_append_element (document, appends[i].element), ==, appends[i].after != NULL);
    assert_text (document, appends[i].after != NULL ? appends[i].after : appends[i].before);
    g_assert_cmpint (pm_document_undo (document), ==, appends[i].after != NULL);
    assert_text (document, appends[i].before);
    place_clear (&place);
  }
}

#define PARTS_AFTER(root, u1, r1) \
  root "\r\n<!-- <part name=\"U1\"/> -->\n<part name=\"U1\"" u1 "/> <part name=\"R1\"\n  is = \"" r1 "\" />\n</board>"
#define PARTS PARTS_AFTER (ROOT, " is='a'", "b")

static const struct { guint line; const char *element, *name, *value, *after; } settings[] = {
  { 3, "part U1", "is", "74HCT157", PARTS_AFTER (ROOT, " is='74HCT157'", "b") },
  { 3, "part U1", "is", "a", PARTS },
  { 3, "part U1", "is", "\"<&'\t", PARTS_AFTER (ROOT, " is='\"&lt;&amp;&apos;&#9;'", "b") },
  { 3, "part U1", "why", "\"<&'\n", PARTS_AFTER (ROOT, " is='a' why=\"&quot;&lt;&amp;'&#10;\"", "b") },
  { 3, "part R1", "is", "resistor 10k", PARTS_AFTER (ROOT, " is='a'", "resistor 10k") },
  { 1, "board", "revision", "B",
    PARTS_AFTER ("<board xmlns=\"urn:x-pointsman:1\" title=\"T\" revision=\"B\">", " is='a'", "b") },
  { 3, "part", "is", "x", NULL },        /* two of them */
  { 2, "part", "is", "x", NULL },        /* a comment */
  { 4, "part R1", "is", "x", NULL },     /* does not start there */
  { 5, "board", "is", "x", NULL },       /* its end */
  { 3, "part U2", "is", "x", NULL },
  { 3, "par", "is", "x", NULL },
  { 99, "part", "is", "x", NULL },
  { 3, "part U1", "no name", "x", NULL },
  { 3, "part U1", "", "x", NULL },
  { 3, "part U1", "is", "\xFF", NULL },
  { 3, "part U1", "is", "\x01", NULL },  /* no character of XML */
};

static void
test_set_attribute (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (settings); i++) {
    Place place;
    place_make (&place, PARTS);
    g_autoptr (PmDocument) document = open_document (place.path);
    gboolean done = pm_document_set_attribute (document, settings[i].line, settings[i].element, settings[i].name,
                                               settings[i].value);
    g_assert_cmpint (done, ==, settings[i].after != NULL);
    assert_text (document, settings[i].after != NULL ? settings[i].after : PARTS);
    pm_document_undo (document);
    assert_text (document, PARTS);
    place_clear (&place);
  }
}

#define PREFIXED "<p:board xmlns:p=\"urn:x-pointsman:1\" xmlns:q=\"urn:q\">\n<q:part/><p:part q:is=\"1\""

/* Of another namespace, or in a file that says it with a prefix. */
static void
test_set_attribute_prefix (void)
{
  Place place;

  place_make (&place, PREFIXED "/>\n</p:board>");
  g_autoptr (PmDocument) document = open_document (place.path);
  g_assert_true (pm_document_set_attribute (document, 2, "part", "is", "x"));
  assert_text (document, PREFIXED " is=\"x\"/>\n</p:board>");
  place_clear (&place);
}

/* ---- saving */

static void
test_changed (void)
{
  Place place;

  place_make (&place, "one");
  g_autoptr (PmDocument) document = open_document (place.path);
  pm_document_replace (document, 0, 3, "mine");
  /* The same length, perhaps within the same tick of the clock. */
  g_assert_true (g_file_set_contents (place.path, "two", -1, NULL));
  assert_save_fails (document, place.path, PM_DOCUMENT_ERROR_CHANGED, "somebody else");
  assert_file (place.path, "two");
  g_unlink (place.path);
  assert_save_fails (document, place.path, PM_DOCUMENT_ERROR_CHANGED, "no such file");
  assert_files (place.folder, 0);
  /* Put back as it was: nothing has changed. */
  g_assert_true (g_file_set_contents (place.path, "one", -1, NULL));
  save (document);
  assert_file (place.path, "mine");
  assert_files (place.folder, 1);
  place_clear (&place);
}

static void
test_mode (void)
{
  static const mode_t modes[] = { 0600, 0644, 0664, 0755, 0640 };
  Place place;

  place_make (&place, "one");
  g_autoptr (PmDocument) document = open_document (place.path);
  for (guint i = 0; i < G_N_ELEMENTS (modes); i++) {
    struct stat info;
    g_assert_cmpint (chmod (place.path, modes[i]), ==, 0);
    pm_document_replace (document, 0, 0, "x");
    save (document);
    g_assert_cmpint (stat (place.path, &info), ==, 0);
    g_assert_cmpint (info.st_mode & 07777, ==, modes[i]);
  }
  /* A new file gets what the umask leaves. */
  g_autofree char *new = g_build_filename (place.folder, "new", NULL);
  struct stat info;
  mode_t mask = umask (027);
  g_assert_true (pm_file_write_atomic (new, "text", 4, NULL));
  umask (mask);
  g_assert_cmpint (stat (new, &info), ==, 0);
  g_assert_cmpint (info.st_mode & 07777, ==, 0640);
  assert_file (new, "text");
  place_clear (&place);
}

/* The owner is kept where one may give files away. */
static void
test_owner (void)
{
  Place place;
  struct stat info;
  uid_t uid = getuid () == 0 ? 4711 : getuid ();
  gid_t gid = getuid () == 0 ? 4712 : getgid ();

  place_make (&place, "one");
  g_assert_cmpint (chown (place.path, uid, gid), ==, 0);
  g_autoptr (PmDocument) document = open_document (place.path);
  pm_document_replace (document, 0, 0, "x");
  save (document);
  g_assert_cmpint (stat (place.path, &info), ==, 0);
  g_assert_cmpint (info.st_uid, ==, uid);
  g_assert_cmpint (info.st_gid, ==, gid);
  place_clear (&place);
}

static void
test_links (void)
{
  Place place;

  place_make (&place, "one");
  g_autofree char *below = g_build_filename (place.folder, "below", NULL);
  g_autofree char *near = g_build_filename (below, "near.xml", NULL);
  g_autofree char *far = g_build_filename (place.folder, "far.xml", NULL);
  g_autofree char *dangling = g_build_filename (place.folder, "dangling.xml", NULL);
  g_autofree char *missing = g_build_filename (below, "missing", NULL);
  g_assert_cmpint (g_mkdir (below, 0700), ==, 0);
  g_assert_cmpint (symlink ("../a.board.xml", near), ==, 0);
  g_assert_cmpint (symlink (near, far), ==, 0);
  g_autoptr (PmDocument) document = open_document (far);
  pm_document_replace (document, 0, 3, "two");
  save (document);
  g_assert_true (g_file_test (far, G_FILE_TEST_IS_SYMLINK));
  g_assert_true (g_file_test (near, G_FILE_TEST_IS_SYMLINK));
  g_assert_false (g_file_test (place.path, G_FILE_TEST_IS_SYMLINK));
  assert_file (place.path, "two");
  assert_files (below, 1);
  /* A link to what is not there yet: it is made there. */
  g_assert_cmpint (symlink ("below/missing", dangling), ==, 0);
  g_assert_true (pm_file_write_atomic (dangling, "new", 3, NULL));
  g_assert_true (g_file_test (dangling, G_FILE_TEST_IS_SYMLINK));
  assert_file (missing, "new");
  place_clear (&place);
}

/* Writing must fail, name the file and say this. */
static void
assert_write_fails (const char *path, const char *says)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (pm_file_write_atomic (path, "new", 3, &error));
  g_assert_error (error, PM_DOCUMENT_ERROR, PM_DOCUMENT_ERROR_WRITE);
  g_test_message ("%s", error->message);
  g_assert_true (g_str_has_prefix (error->message, path));
  g_assert_nonnull (strstr (error->message, says));
}

/* Places where nobody may write, not even the one who may do everything. */
static void
test_bad_places (void)
{
  Place place;

  place_make (&place, "one");
  g_autofree char *below_file = g_build_filename (place.path, "b.xml", NULL);
  g_autofree char *no_folder = g_build_filename (place.folder, "no", "b.xml", NULL);
  g_autofree char *fifo = g_build_filename (place.folder, "fifo", NULL);
  g_autofree char *loop = g_build_filename (place.folder, "loop", NULL);
  assert_write_fails (below_file, g_strerror (ENOTDIR));
  assert_write_fails (no_folder, g_strerror (ENOENT));
  assert_write_fails (place.folder, "folder");
  g_assert_cmpint (mkfifo (fifo, 0600), ==, 0);
  assert_write_fails (fifo, "pipe");
  g_assert_cmpint (symlink ("loop", loop), ==, 0);
  assert_write_fails (loop, g_strerror (ELOOP));
  assert_write_fails ("/proc/new.xml", "folder");
  assert_file (place.path, "one");
  assert_files (place.folder, 3);
  place_clear (&place);
}

/* Runs a function in a process of its own; TRUE if it came to its end. */
static gboolean
run_apart (void (*function) (const Place *), const Place *place)
{
  int status;
  pid_t child = fork ();

  g_assert_cmpint (child, >=, 0);
  if (child == 0) {
    function (place);
    _exit (0);
  }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  return WIFEXITED (status) && WEXITSTATUS (status) == 0;
}

/* Without the rights of root: a folder without write permission, a file without. */
static void
save_without_rights (const Place *place)
{
  if (getuid () == 0 && (setgid (65534) != 0 || setuid (65534) != 0))
    _exit (1);
  g_autoptr (PmDocument) document = open_document (place->path);
  pm_document_replace (document, 0, 3, "new");
  assert_save_fails (document, place->path, PM_DOCUMENT_ERROR_WRITE, g_strerror (EACCES));
  pm_document_free (g_steal_pointer (&document));
}

static void
test_no_rights (void)
{
  Place place;

  place_make (&place, "one");
  if (getuid () == 0) {
    g_assert_cmpint (chown (place.folder, 65534, 65534), ==, 0);
    g_assert_cmpint (chown (place.path, 65534, 65534), ==, 0);
  }
  g_assert_cmpint (chmod (place.folder, 0555), ==, 0);
  g_assert_true (run_apart (save_without_rights, &place));
  g_assert_cmpint (chmod (place.folder, 0755), ==, 0);
  /* The folder would allow a rename, but a file is made read-only to be left alone. */
  g_assert_cmpint (chmod (place.path, 0444), ==, 0);
  g_assert_true (run_apart (save_without_rights, &place));
  assert_file (place.path, "one");
  assert_files (place.folder, 1);
  place_clear (&place);
}

/* A text that is larger than the room there is. */
static char *
large_text (void)
{
  char *text = g_malloc (200001);

  memset (text, 'x', 200000);
  text[200000] = '\0';
  return text;
}

/* A limit on the size of files makes write fail as a full disk does, in every container. */
static void
save_over_limit (const Place *place)
{
  struct rlimit limit = { 100000, 100000 };
  g_autofree char *text = large_text ();
  g_autoptr (PmDocument) document = open_document (place->path);

  signal (SIGXFSZ, SIG_IGN);
  if (setrlimit (RLIMIT_FSIZE, &limit) != 0)
    _exit (1);
  pm_document_replace (document, 0, 3, text);
  assert_save_fails (document, place->path, PM_DOCUMENT_ERROR_WRITE, g_strerror (EFBIG));
  pm_document_free (g_steal_pointer (&document));
}

/* A real full disk, where one may mount: a file system of 64 kB that only this process sees. */
static void
save_on_full_disk (const Place *place)
{
  g_autofree char *text = large_text ();
  Place inside;

  if (unshare (CLONE_NEWNS) != 0 || mount (NULL, "/", NULL, MS_REC | MS_PRIVATE, NULL) != 0
      || mount ("tmpfs", place->folder, "tmpfs", 0, "size=64k") != 0)
    _exit (0);
  inside.folder = place->folder;
  inside.path = place->path;
  g_assert_true (g_file_set_contents (inside.path, "one", -1, NULL));
  g_autoptr (PmDocument) document = open_document (inside.path);
  pm_document_replace (document, 0, 3, text);
  assert_save_fails (document, inside.path, PM_DOCUMENT_ERROR_WRITE, g_strerror (ENOSPC));
  assert_file (inside.path, "one");
  assert_files (inside.folder, 1);
  /* What is smaller again can be saved. */
  g_assert_true (pm_document_undo (document));
  pm_document_replace (document, 0, 3, "two");
  save (document);
  assert_file (inside.path, "two");
  /* The same disk, now read-only. */
  if (mount (NULL, place->folder, NULL, MS_REMOUNT | MS_RDONLY, NULL) != 0)
    _exit (1);
  pm_document_replace (document, 0, 3, "new");
  assert_save_fails (document, inside.path, PM_DOCUMENT_ERROR_WRITE, g_strerror (EROFS));
  assert_file (inside.path, "two");
  pm_document_free (g_steal_pointer (&document));
}

static void
test_full_disk (void)
{
  Place place;

  place_make (&place, "one");
  g_assert_true (run_apart (save_over_limit, &place));
  assert_file (place.path, "one");
  assert_files (place.folder, 1);
  g_assert_true (run_apart (save_on_full_disk, &place));
  assert_file (place.path, "one");
  assert_files (place.folder, 1);
  place_clear (&place);
}

/* Versions of a file: a number and a filling that goes with it. */
static char *
version_text (guint version)
{
  gsize length = 20000 + version % 7 * 9000;
  char *text = g_malloc (length + 1);

  memset (text, 'a' + version % 26, length);
  text[length] = '\0';
  return text;
}

static void
save_for_ever (const Place *place)
{
  for (guint version = 1;; version++) {
    g_autofree char *text = version_text (version);
    if (!pm_file_write_atomic (place->path, text, strlen (text), NULL))
      _exit (1);
  }
}

/* Killed at any moment, the file is one of the versions, whole. */
static void
test_killed (void)
{
  Place place;
  g_autofree char *first = version_text (0);
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);

  place_make (&place, first);
  for (guint i = 0; i < 60; i++) {
    pid_t child = fork ();
    g_assert_cmpint (child, >=, 0);
    if (child == 0)
      save_for_ever (&place);
    g_usleep (g_rand_int_range (rand, 0, 12000));
    g_assert_cmpint (kill (child, SIGKILL), ==, 0);
    int status;
    g_assert_cmpint (waitpid (child, &status, 0), ==, child);
    g_assert_true (WIFSIGNALED (status));
    g_autofree char *text = NULL;
    gsize length;
    g_assert_true (g_file_get_contents (place.path, &text, &length, NULL));
    gboolean whole = FALSE;
    for (guint version = 0; version < 7 * 26 && !whole; version++) {
      g_autofree char *expected = version_text (version);
      whole = strlen (expected) == length && memcmp (expected, text, length) == 0;
    }
    g_assert_true (whole);
  }
  place_clear (&place);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/document/round-trip", test_round_trip);
  g_test_add_func ("/document/odd-texts", test_odd_texts);
  g_test_add_func ("/document/refused", test_refused);
  g_test_add_func ("/document/largest", test_largest);
  g_test_add_func ("/document/undo", test_undo);
  g_test_add_func ("/document/undo-random", test_undo_random);
  g_test_add_func ("/document/append", test_append);
  g_test_add_func ("/document/set-attribute", test_set_attribute);
  g_test_add_func ("/document/set-attribute-prefix", test_set_attribute_prefix);
  g_test_add_func ("/document/changed", test_changed);
  g_test_add_func ("/document/mode", test_mode);
  g_test_add_func ("/document/owner", test_owner);
  g_test_add_func ("/document/links", test_links);
  g_test_add_func ("/document/bad-places", test_bad_places);
  g_test_add_func ("/document/no-rights", test_no_rights);
  g_test_add_func ("/document/full-disk", test_full_disk);
  g_test_add_func ("/document/killed", test_killed);
  return g_test_run ();
}
