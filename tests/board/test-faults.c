/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Faulty files and their exact messages: every faults/NAME.board.xml, and faults/FOLDER/NAME.board.xml, has
 * NAME.expected beside it.
 * --generate writes those anew.  Files that are too big or too strange for a tree are made here.
 */
#include "pm-board.h"

#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static gboolean generate;

/* The messages of a board, one a line; the data folder is called DATA. */
static char *
messages_of (const char *path, gboolean *loaded)
{
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autoptr (PmBoard) board = pm_board_load (path, library, faults);
  g_autoptr (GString) text = g_string_new (NULL);

  *loaded = board != NULL;
  g_assert_cmpint (board == NULL, ==, pm_faults_count (faults) > 0);
  for (guint i = 0; i < pm_faults_count (faults); i++) {
    g_autofree char *line = pm_fault_to_text (pm_faults_get (faults, i));
    g_string_append_printf (text, "%s\n", line);
  }
  g_string_replace (text, g_getenv ("POINTSMAN_DATA"), "DATA", 0);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
test_file (gconstpointer data)
{
  const char *path = data;
  g_autofree char *folder = g_path_get_dirname (path), *name = g_path_get_basename (path), *expected = NULL;
  g_autofree char *stem = g_strndup (path, strlen (path) - strlen (".board.xml")),
                  *beside = g_strconcat (stem, ".expected", NULL);
  gboolean loaded;

  g_assert_cmpint (g_chdir (folder), ==, 0);
  g_autofree char *messages = messages_of (name, &loaded);
  g_assert_false (loaded);
  g_assert_nonnull (strchr (messages, '\n'));
  if (generate) {
    g_assert_true (g_file_set_contents (beside, messages, -1, NULL));
    return;
  }
  g_assert_true (g_file_get_contents (beside, &expected, NULL, NULL));
  g_assert_cmpstr (messages, ==, expected);
}

static void
add_folder (const char *folder, const char *prefix, gboolean nested)
{
  g_autoptr (GDir) items = g_dir_open (folder, 0, NULL);
  const char *name;

  g_assert_nonnull (items);
  while ((name = g_dir_read_name (items)) != NULL) {
    g_autofree char *path = g_build_filename (folder, name, NULL), *test = g_strdup_printf ("%s/%s", prefix, name);
    if (g_str_has_suffix (name, ".board.xml"))
      g_test_add_data_func_full (test, g_steal_pointer (&path), test_file, g_free);
    else if (!nested && g_file_test (path, G_FILE_TEST_IS_DIR))
      add_folder (path, test, TRUE);
  }
}

/* Loads the file at path and compares what is said of it, the path left out. */
static void
assert_message (const char *path, const char *message)
{
  gboolean loaded;
  g_autofree char *got = messages_of (path, &loaded), *wanted = g_strdup_printf ("%s%s\n", path, message);

  g_assert_false (loaded);
  g_assert_cmpstr (got, ==, wanted);
}

static char *
in_temporary (const char *name)
{
  static char *folder;

  if (folder == NULL)
    folder = g_dir_make_tmp ("pointsman-faults-XXXXXX", NULL);
  g_assert_nonnull (folder);
  return g_build_filename (folder, name, NULL);
}

static char *
write_temporary (const char *name, const char *text, gssize length)
{
  char *path = in_temporary (name);

  g_assert_true (g_file_set_contents (path, text, length, NULL));
  return path;
}

static void
test_folder (void)
{
  g_autofree char *path = in_temporary ("folder.board.xml");

  g_assert_cmpint (g_mkdir (path, 0700), ==, 0);
  assert_message (path, ": this is a folder. Name a file in it.");
  g_rmdir (path);
}

static void
test_fifo (void)
{
  g_autofree char *path = in_temporary ("fifo.board.xml");

  g_assert_cmpint (mkfifo (path, 0600), ==, 0);
  assert_message (path, ": this is no file but a device or a pipe. Name a file.");
  g_unlink (path);
  assert_message ("/dev/zero", ": this is no file but a device or a pipe. Name a file.");
}

static void
test_missing (void)
{
  g_autofree char *path = in_temporary ("gone.board.xml"), *link = in_temporary ("loop.board.xml"), *under = NULL;

  assert_message (path, ": there is no such file. Look at the name and the folder.");
  under = g_build_filename ("/dev/null", "x.board.xml", NULL);
  assert_message (under, ": there is no such file. Look at the name and the folder.");
  g_assert_cmpint (symlink (link, link), ==, 0);
  assert_message (link, ": the link leads to itself. Name the file itself.");
  g_unlink (link);
}

/* Whoever may read everything asks as somebody who may not. */
static void
test_no_permission (void)
{
  g_autofree char *path = write_temporary ("locked.board.xml", "x", 1);
  gboolean root = geteuid () == 0;

  g_chmod (path, 0);
  if (root)
    g_assert_cmpint (seteuid (65534), ==, 0);
  assert_message (path, ": no permission to read it. Let its owner allow it: chmod a+r.");
  if (root)
    g_assert_cmpint (seteuid (0), ==, 0);
  g_unlink (path);
}

/* 100 MB, most of it a hole: refused before anything is read. */
static void
test_huge (void)
{
  g_autofree char *path = write_temporary ("huge.board.xml", "<board", 6);

  g_assert_cmpint (truncate (path, 100 * 1024 * 1024), ==, 0);
  assert_message (path, ": larger than 8 MB. A board needs a few kB: is it the right file?");
  g_unlink (path);
}

static void
test_deep (void)
{
  g_autoptr (GString) text = g_string_new ("<board xmlns=\"urn:x-pointsman:1\">\n");
  g_autofree char *path = NULL;

  for (guint i = 0; i < 10000; i++)
    g_string_append (text, "<note>\n");
  for (guint i = 0; i < 10000; i++)
    g_string_append (text, "</note>\n");
  g_string_append (text, "</board>\n");
  path = write_temporary ("deep.board.xml", text->str, text->len);
  assert_message (path, ":65: elements stand more than 64 deep in each other. A file of Pointsman needs 5.");
  g_unlink (path);
}

static void
test_deep_foreign (void)
{
  g_autoptr (GString) text = g_string_new ("<board xmlns=\"urn:x-pointsman:1\" xmlns:x=\"urn:x\">\n");
  g_autofree char *path = NULL;

  for (guint i = 0; i < 10000; i++)
    g_string_append (text, "<x:a>\n");
  path = write_temporary ("deep-foreign.board.xml", text->str, text->len);
  assert_message (path, ":65: elements stand more than 64 deep in each other. A file of Pointsman needs 5.");
  g_unlink (path);
}

static void
test_many (void)
{
  g_autoptr (GString) text = g_string_new ("<board xmlns=\"urn:x-pointsman:1\">\n");
  g_autofree char *path = NULL;

  for (guint i = 0; i < 60000; i++)
    g_string_append (text, "<note/>\n");
  g_string_append (text, "</board>\n");
  path = write_temporary ("many.board.xml", text->str, text->len);
  assert_message (path, ":50001: more than 50000 elements. Make the file smaller, or cut it into several.");
  g_unlink (path);
}

/* More than 65,535 lines are read, and told with true numbers. */
static void
test_long (void)
{
  g_autoptr (GString) text =
      g_string_new ("<board xmlns=\"urn:x-pointsman:1\" title=\"Long\">\n<host is=\"larkspur-40\"/>\n<!--");
  g_autofree char *path = NULL, *bad = NULL, *got = NULL;
  gboolean loaded;

  for (guint i = 0; i < 70000; i++)
    g_string_append (text, "\n");
  g_string_append (text, "-->\n<part name=\"R1\"\n  is=\"resistor 1k\"/>\n");
  gsize good = text->len;
  g_string_append (text, "<join>R1.1 SEL0</join>\n</board>\n");
  path = write_temporary ("long.board.xml", text->str, text->len);
  got = messages_of (path, &loaded);
  g_assert_cmpstr (got, ==, "");
  g_assert_true (loaded);
  g_string_truncate (text, good);
  g_string_append (text, "<join>\n\nR1.3 SEL0</join>\n<part name=\"R1\"\n\n\n is=\"resistor 1k\"/>\n</board>\n");
  bad = write_temporary ("long-bad.board.xml", text->str, text->len);
  g_autofree char *twice = g_strdup_printf ("%s:70004 and 70009: the name R1 is given twice. Rename one.\n", bad);
  g_autofree char *pin = g_strdup_printf ("%s:70006: R1 has no pin \"3\". A resistor 1k has 1 2.\n", bad);
  g_autofree char *wanted = g_strconcat (twice, pin, NULL);
  g_free (got);
  got = messages_of (bad, &loaded);
  g_assert_cmpstr (got, ==, wanted);
  g_unlink (path);
  g_unlink (bad);
}

/* Limits and spoilt bytes must never crash: every file of the corpus cut short at every length, and with a byte
 * changed. */
static void
test_spoilt (void)
{
  g_autofree char *path = g_build_filename (g_getenv ("POINTSMAN_DATA"), "boards", "swap-by-chip.board.xml", NULL),
                  *text = NULL;
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  gsize length;

  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  for (gsize n = 0; n < length; n += 7) {
    g_autoptr (PmFaults) faults = pm_faults_new ();
    g_autoptr (PmBoard) board = pm_board_load_text (path, text, n, library, faults);
    g_assert_true (board == NULL || pm_faults_count (faults) == 0);
  }
  for (guint turn = 0; turn < 400; turn++) {
    g_autoptr (PmFaults) faults = pm_faults_new ();
    g_autofree char *copy = g_memdup2 (text, length);
    for (guint i = 0; i < 1 + turn % 3; i++)
      copy[g_rand_int_range (rand, 300, length)] = "<>\"=/ .:019azS&-+\n"[g_rand_int_range (rand, 0, 18)];
    g_autoptr (PmBoard) board = pm_board_load_text (path, copy, length, library, faults);
    g_assert_true ((board == NULL) == (pm_faults_count (faults) > 0));
  }
}

/* A board is refused while another file is broken, and read again when that has been mended. */
static void
test_mended (void)
{
  g_autofree char *board_path = write_temporary (
      "mended.board.xml",
      "<board xmlns=\"urn:x-pointsman:1\"><host is=\"larkspur-40\"/><part name=\"U1\" is=\"mine\"/></board>", -1);
  g_autofree char *part_path =
      write_temporary ("mine.part.xml", "<part xmlns=\"urn:x-pointsman:1\" name=\"mine\"><pins/></part>", -1);
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmFaults) first = pm_faults_new (), second = pm_faults_new (), third = pm_faults_new ();

  g_assert_null (pm_board_load (board_path, library, first));
  g_assert_cmpuint (pm_faults_count (first), ==, 1);
  g_free (write_temporary ("mine.part.xml", "<part xmlns=\"urn:x-pointsman:1\" name=\"mine\"><pins>1 2 3</pins></part>",
                           -1));
  g_autoptr (PmBoard) board = pm_board_load (board_path, library, second);
  g_assert_nonnull (board);
  g_assert_cmpuint (board->instances[0].part->n_pins, ==, 3);
  g_free (write_temporary ("mine.part.xml",
                           "<part xmlns=\"urn:x-pointsman:1\" name=\"mine\"><pins>1 2 3 4</pins></part>", -1));
  g_autoptr (PmBoard) later = pm_board_load (board_path, library, third);
  g_assert_cmpuint (later->instances[0].part->n_pins, ==, 4);
  g_assert_cmpuint (board->instances[0].part->n_pins, ==, 3);
  g_assert_cmpstr (board->hash, !=, later->hash);
  g_unlink (board_path);
  g_unlink (part_path);
}

int
main (int argc, char **argv)
{
  g_autofree char *data = g_canonicalize_filename (g_getenv ("POINTSMAN_DATA"), NULL);

  /* Messages name the folders that were looked in. */
  g_setenv ("POINTSMAN_DATA", data, TRUE);
  g_setenv ("XDG_DATA_HOME", "/nowhere/home", TRUE);
  g_setenv ("XDG_DATA_DIRS", "/nowhere/share", TRUE);
  for (int i = 1; i < argc; i++)
    generate = generate || strcmp (argv[i], "--generate") == 0;
  if (generate)
    argc = 1;
  g_test_init (&argc, &argv, NULL);
  g_autofree char *folder = g_test_build_filename (G_TEST_DIST, "board", "faults", NULL);
  g_autofree char *full = g_canonicalize_filename (folder, NULL);
  add_folder (full, "/faults", FALSE);
  g_test_add_func ("/special/folder", test_folder);
  g_test_add_func ("/special/fifo", test_fifo);
  g_test_add_func ("/special/missing", test_missing);
  g_test_add_func ("/special/no-permission", test_no_permission);
  g_test_add_func ("/special/huge", test_huge);
  g_test_add_func ("/special/deep", test_deep);
  g_test_add_func ("/special/deep-foreign", test_deep_foreign);
  g_test_add_func ("/special/many", test_many);
  g_test_add_func ("/special/long", test_long);
  g_test_add_func ("/special/spoilt", test_spoilt);
  g_test_add_func ("/special/mended", test_mended);
  return g_test_run ();
}
