/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Packed boards: with its host, drives, parts and families inside, a board is the same board, with the same hash. */
#include "board-text.h"

#include <string.h>

static char *
contents (const char *path)
{
  char *text = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  return text;
}

/* The file at a path as one element, without what may stand only at the head of a file. */
static char *
element_of (const char *path)
{
  g_autofree char *text = contents (path);
  gsize skip = g_str_has_prefix (text, "<?xml") ? strcspn (text, ">") + 1 : 0;

  return g_strdup (text + skip);
}

/* The board with every file it uses whose name has that ending (all if NULL) inside, at its end or at its front. */
static char *
pack (const PmBoard *board, const char *ending, gboolean in_front)
{
  g_autofree char *text = contents (board->path);
  g_autoptr (GString) inside = g_string_new (NULL);
  gsize front = strstr (text, "<board") - text, end = g_strrstr (text, "</board>") - text;

  front += strcspn (text + front, ">") + 1;
  for (guint i = 1; i < board->files->len; i++) {
    const char *path = board->files->pdata[i];
    if (ending != NULL && !g_str_has_suffix (path, ending))
      continue;
    g_autofree char *element = element_of (path);
    g_string_append_printf (inside, "%s\n", element);
  }
  g_string_prepend_len (inside, text, in_front ? front : end);
  g_string_append (inside, text + (in_front ? front : end));
  return g_string_free (g_steal_pointer (&inside), FALSE);
}

static void
fail_with (const char *what, const PmFaults *faults)
{
  for (guint i = 0; i < pm_faults_count (faults); i++) {
    g_autofree char *fault = pm_fault_to_text (pm_faults_get (faults, i));
    g_test_message ("%s: %s", what, fault);
  }
  g_assert_cmpuint (pm_faults_count (faults), ==, 0);
}

/* text must be the same board as the one that was loaded from loose files. */
static void
assert_same (const PmBoard *loose, const char *text, PmLibrary *library, guint n_files)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autoptr (PmBoard) packed = pm_board_load_text ("/nowhere/packed.board.xml", text, strlen (text), library, faults);

  fail_with (loose->path, faults);
  g_assert_nonnull (packed);
  g_autofree char *one = board_text (loose), *two = board_text (packed);
  g_assert_cmpstr (one, ==, two);
  g_assert_cmpstr (loose->hash, ==, packed->hash);
  if (n_files > 0)
    g_assert_cmpuint (packed->files->len, ==, n_files);
}

/* A library that finds nothing. */
static PmLibrary *
empty_library (void)
{
  g_autofree char *shipped = g_strdup (g_getenv ("POINTSMAN_DATA"));

  g_setenv ("POINTSMAN_DATA", "/nowhere", TRUE);
  PmLibrary *library = pm_library_new (NULL);
  g_setenv ("POINTSMAN_DATA", shipped, TRUE);
  return library;
}

static void
test_board (gconstpointer path)
{
  static const char *const endings[] = { ".host.xml", ".drive.xml", ".part.xml", ".family.xml" };
  g_autoptr (PmLibrary) library = pm_library_new (NULL), empty = empty_library ();
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autoptr (PmBoard) loose = pm_board_load (path, library, faults);

  fail_with (path, faults);
  g_assert_cmpuint (loose->files->len, >, 3);
  for (guint i = 0; i < G_N_ELEMENTS (endings); i++) {
    g_autofree char *text = pack (loose, endings[i], FALSE);
    assert_same (loose, text, library, 0);
  }
  /* All of it inside: then nothing outside is needed, nor read where it is there. */
  g_autofree char *all = pack (loose, NULL, FALSE), *front = pack (loose, NULL, TRUE);
  assert_same (loose, all, empty, 1);
  assert_same (loose, front, empty, 1);
  assert_same (loose, all, library, 1);
}

/* The hash is of what a board means: not of its comments and blanks, but of each file it uses. */
static void
test_hash (void)
{
  g_autofree char *path = g_build_filename (g_getenv ("POINTSMAN_DATA"), "boards", "swap-by-chip.board.xml", NULL);
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autoptr (PmBoard) board = pm_board_load (path, library, faults);
  g_autofree char *packed = pack (board, NULL, FALSE);
  static const struct { const char *from, *to; gboolean same; } changes[] = {
    { "</board>", "<!-- more --></board>", TRUE },
    { "<join ", "<join   ", TRUE },
    { "\n", "\r\n", TRUE },
    { "title=\"Start from\"", "title=\"Begin with\"", FALSE },
    { "volts=\"5.0 ", "volts=\"5.1 ", FALSE },
    { "high=\"2.0 V\"", "high=\"2.1 V\"", FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (changes); i++) {
    g_autoptr (GString) text = g_string_new (packed);
    g_assert_cmpuint (g_string_replace (text, changes[i].from, changes[i].to, 0), >, 0);
    g_autoptr (PmBoard) other = pm_board_load_text (path, text->str, text->len, library, faults);
    fail_with (changes[i].to, faults);
    if (changes[i].same)
      g_assert_cmpstr (board->hash, ==, other->hash);
    else
      g_assert_cmpstr (board->hash, !=, other->hash);
  }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_autofree char *folder = g_build_filename (g_getenv ("POINTSMAN_DATA"), "boards", NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);

  g_assert_nonnull (dir);
  for (const char *name; (name = g_dir_read_name (dir)) != NULL;)
    if (g_str_has_suffix (name, ".board.xml")) {
      g_autofree char *test = g_strconcat ("/packed/", name, NULL);
      g_test_add_data_func_full (test, g_build_filename (folder, name, NULL), test_board, g_free);
    }
  g_test_add_func ("/packed/hash", test_hash);
  return g_test_run ();
}
