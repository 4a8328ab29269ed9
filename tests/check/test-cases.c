/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small boards with exactly what must be found about them.
 *
 * cases/NAME.board.xml says in its <about> what must come out and why; cases/NAME.expected is that as text
 * (check-text.h). test-cases --generate [NAME...]   writes the expected files anew: read what changed before you store
 * it test-cases --show NAME...         prints what comes out
 */
#include "check-text.h"

#include <stdio.h>
#include <string.h>

static PmLibrary *library;

static char *
folder (void)
{
  const char *source = g_getenv ("G_TEST_SRCDIR");
  return g_build_filename (source != NULL ? source : "tests", "check", "cases", NULL);
}

static char *
path_of (const char *name, const char *ending)
{
  g_autofree char *in = folder (), *file = g_strconcat (name, ending, NULL);
  return g_build_filename (in, file, NULL);
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *) a, *(char *const *) b);
}

/* Names of all boards, sorted. */
static GPtrArray *
names (void)
{
  GPtrArray *all = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *in = folder ();
  g_autoptr (GDir) dir = g_dir_open (in, 0, NULL);
  for (const char *file; dir != NULL && (file = g_dir_read_name (dir)) != NULL;)
    if (g_str_has_suffix (file, ".board.xml"))
      g_ptr_array_add (all, g_strndup (file, strlen (file) - strlen (".board.xml")));
  g_ptr_array_sort (all, compare_names);
  return all;
}

static char *
found (const char *name)
{
  g_autofree char *path = path_of (name, ".board.xml");
  g_autoptr (PmBoard) board = check_text_load (path, library);
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  return check_text_of (check);
}

/* The first line that differs, of both, for the message. */
static void
tell_difference (const char *now, const char *expected)
{
  g_auto (GStrv) a = g_strsplit (now, "\n", -1), b = g_strsplit (expected, "\n", -1);
  guint i = 0;
  while (a[i] != NULL && b[i] != NULL && g_str_equal (a[i], b[i]))
    i++;
  g_test_message ("line %u is       %s", i + 1, a[i] != NULL ? a[i] : "(end)");
  g_test_message ("line %u should be %s", i + 1, b[i] != NULL ? b[i] : "(end)");
}

static void
test_case (gconstpointer data)
{
  const char *name = data;
  g_autofree char *now = found (name), *path = path_of (name, ".expected"), *expected = NULL;
  if (!g_file_get_contents (path, &expected, NULL, NULL)) {
    g_test_message ("no %s", path);
    g_test_fail ();
    return;
  }
  if (g_str_equal (now, expected))
    return;
  tell_difference (now, expected);
  g_test_fail ();
}

/* Every kind of finding stands in some expected file, so that none is without a board of its own, and in the list that
 * people read. */
static void
test_every_kind (void)
{
  static const char *const kinds[] = {
      "rails-joined",      "supply-on-signal",  "outputs-collide",       "control-wrong-way",   "through-not-carried",
      "data-moves-with-clock",
      "start-unknown",     "never-settles",     "open-cmos-input",       "select-floats",       "open-bipolar-input",
      "two-drives-answer", "answers-when-idle", "one-drive-two-selects", "reaches-nothing",     "not-as-wanted",
      "shared-line-held",  "side-line-stays",   "answers-in-reset",      "answers-machine-off", "not-seen-as",
      "low-not-reached",   "high-not-enough",   "unused-input-open",     "position-not-stated", "assumed",
      "power-on-reset",    "as-today",          "acts-at-next-reset",    "both-selects-on"};
  g_autoptr (GPtrArray) all = names ();
  g_autofree char *in = folder (), *list = g_build_filename (in, "../../../docs/findings.md", NULL), *docs = NULL;
  g_assert_true (g_file_get_contents (list, &docs, NULL, NULL));
  for (guint k = 0; k < G_N_ELEMENTS (kinds); k++) {
    g_autofree char *row = g_strdup_printf ("\n| `%s` | ", kinds[k]);
    g_assert_nonnull (strstr (docs, row));
    gboolean told = FALSE;
    g_autofree char *stop = g_strdup_printf ("\nSTOP %s ", kinds[k]), *care = g_strdup_printf ("\nCARE %s ", kinds[k]),
                    *note = g_strdup_printf ("\nnote %s ", kinds[k]);
    for (guint i = 0; i < all->len && !told; i++) {
      g_autofree char *path = path_of (g_ptr_array_index (all, i), ".expected"), *text = NULL;
      told = g_file_get_contents (path, &text, NULL, NULL) &&
             (strstr (text, stop) != NULL || strstr (text, care) != NULL || strstr (text, note) != NULL);
    }
    if (!told) {
      g_test_message ("no board for %s", kinds[k]);
      g_test_fail ();
    }
  }
}

static int
write_or_show (int argc, char **argv, gboolean generate)
{
  g_autoptr (GPtrArray) all = names ();
  for (guint i = 0; i < all->len; i++) {
    const char *name = g_ptr_array_index (all, i);
    if (argc > 2 && !g_strv_contains ((const char *const *) argv + 2, name))
      continue;
    g_autofree char *text = found (name), *path = path_of (name, ".expected");
    if (!generate)
      printf ("======== %s\n%s", name, text);
    else if (!g_file_set_contents (path, text, -1, NULL))
      return 1;
  }
  return 0;
}

int
main (int argc, char **argv)
{
  int status;
  library = pm_library_new (NULL);
  if (argc > 1 && (g_str_equal (argv[1], "--generate") || g_str_equal (argv[1], "--show")))
    status = write_or_show (argc, argv, g_str_equal (argv[1], "--generate"));
  else {
    g_test_init (&argc, &argv, NULL);
    g_autoptr (GPtrArray) all = names ();
    for (guint i = 0; i < all->len; i++) {
      g_autofree char *path = g_strconcat ("/cases/", (char *) g_ptr_array_index (all, i), NULL);
      g_test_add_data_func (path, g_ptr_array_index (all, i), test_case);
    }
    g_test_add_func ("/cases/every-kind", test_every_kind);
    status = g_test_run ();
  }
  pm_library_free (library);
  return status;
}
