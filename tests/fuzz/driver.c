/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs a fuzz target over every file of the folders named on the command line, as TAP.
 * Each file is also given cut short at some places, as a file is that was not copied to its end. */
#include "fuzz.h"

#include <glib.h>
#include <string.h>

#define N_CUTS 6

/* In memory of just that size, so that a sanitizer sees a byte too far. */
static void
run_exactly (const char *bytes, gsize length)
{
  uint8_t *copy = g_memdup2 (bytes, length);

  LLVMFuzzerTestOneInput (copy != NULL ? copy : (const uint8_t *) "", length);
  g_free (copy);
}

static void
test_file (gconstpointer path)
{
  g_autofree char *bytes = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  for (guint cut = 1; cut < N_CUTS; cut++)
    run_exactly (bytes, length * cut / N_CUTS);
  run_exactly (bytes, length);
}

static int
compare_paths (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

int
main (int argc, char **argv)
{
  g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);

  g_test_init (&argc, &argv, NULL);
  for (int i = 1; i < argc; i++) {
    g_autoptr (GDir) dir = g_dir_open (argv[i], 0, NULL);
    g_assert_nonnull (dir);
    for (const char *name; (name = g_dir_read_name (dir)) != NULL;)
      g_ptr_array_add (paths, g_build_filename (argv[i], name, NULL));
  }
  g_assert_cmpuint (paths->len, >, 0);
  g_ptr_array_sort (paths, compare_paths);
  for (guint i = 0; i < paths->len; i++) {
    g_autofree char *name = g_path_get_basename (paths->pdata[i]);
    g_autofree char *test = g_strconcat ("/fuzz/", name, NULL);
    g_test_add_data_func (test, paths->pdata[i], test_file);
  }
  return g_test_run ();
}
