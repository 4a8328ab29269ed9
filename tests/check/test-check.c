/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The face of a check: cancelling at any moment, the same twice, settings found by positions, exit codes. */
#include "boards-test.h"
#include "check-text.h"

static PmLibrary *library;

/* Cancels when it has been asked about often enough, as a window would at any moment. */
static gpointer
cancel_later (gpointer data)
{
  GCancellable *cancellable = data;
  g_usleep (GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (cancellable), "wait")));
  g_cancellable_cancel (cancellable);
  return NULL;
}

static void
test_cancel (void)
{
  static const guint waits[] = {0, 100, 300, 1000, 3000, 10000, 30000, 100000};
  g_autoptr (PmBoard) board = boards_test_load (library, "switched-on-one-side-only.board.xml");
  for (guint i = 0; i < G_N_ELEMENTS (waits); i++) {
    g_autoptr (GCancellable) cancellable = g_cancellable_new ();
    g_autoptr (GError) error = NULL;
    g_object_set_data (G_OBJECT (cancellable), "wait", GUINT_TO_POINTER (waits[i]));
    GThread *thread = g_thread_new ("cancel", cancel_later, cancellable);
    g_autoptr (PmCheck) check = pm_check_new (board, cancellable, &error);
    g_thread_join (thread);
    if (check == NULL)
      g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
    else
      g_assert_no_error (error);
  }
  g_autoptr (GCancellable) before = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  g_cancellable_cancel (before);
  g_assert_null (pm_check_new (board, before, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static void
test_twice (void)
{
  g_auto (GStrv) names = boards_test_names ();
  for (guint i = 0; names[i] != NULL; i++) {
    g_autoptr (PmBoard) board = boards_test_load (library, names[i]);
    g_autoptr (PmCheck) a = pm_check_new (board, NULL, NULL), b = pm_check_new (board, NULL, NULL);
    g_autofree char *first = check_text_of (a), *second = check_text_of (b);
    g_assert_cmpstr (first, ==, second);
  }
}

/* Each setting is found by its own positions, and is no other; places of jumpers do not matter to that. */
static void
test_settings (void)
{
  g_auto (GStrv) names = boards_test_names ();
  for (guint i = 0; names[i] != NULL; i++) {
    g_autoptr (PmBoard) board = boards_test_load (library, names[i]);
    g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
    for (guint k = 1; k <= check->n_settings; k++) {
      g_assert_cmpuint (pm_check_find_setting (check, check->cases[k].positions), ==, k);
      g_assert_cmpuint (check->cases[k].setting, ==, k);
    }
    for (guint u = 0; u < board->host.n_units; u++)
      for (guint k = 0; k <= check->n_settings; k++)
        g_assert_false (pm_check_differs (check, k, k, u));
    /* Strict is never milder. */
    g_assert_cmpint (pm_check_exit_code (check, TRUE), >=, pm_check_exit_code (check, FALSE));
    g_assert_cmpint (pm_check_exit_code (check, FALSE), ==,
                     check->verdict == PM_VERDICT_NOT_READY || check->verdict == PM_VERDICT_NO_VERDICT);
  }
}

int
main (int argc, char *argv[])
{
  int status;
  g_test_init (&argc, &argv, NULL);
  library = pm_library_new (NULL);
  g_test_add_func ("/check/cancel", test_cancel);
  g_test_add_func ("/check/twice", test_twice);
  g_test_add_func ("/check/settings", test_settings);
  status = g_test_run ();
  pm_library_free (library);
  return status;
}
