/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The working evaluator and the slow one that is believed by reading, on every case and host state of every demo board.
 */
#include "boards-test.h"

typedef struct { guint n_asks; GHashTable *told; } Told;
typedef struct { GArray *asks; guint same, passed; } Tally;

static gboolean
keep (const PmWorld *world, gpointer data)
{
  Told *told = data;
  g_autoptr (GByteArray) row = g_byte_array_new ();
  guint8 restless = world->never_settles;
  g_byte_array_append (row, world->answers, told->n_asks);
  g_byte_array_append (row, &restless, 1);
  g_hash_table_add (told->told, g_byte_array_free_to_bytes (g_steal_pointer (&row)));
  return TRUE;
}

static gboolean
same (GHashTable *a, GHashTable *b)
{
  GHashTableIter iter;
  gpointer row;
  if (g_hash_table_size (a) != g_hash_table_size (b))
    return FALSE;
  g_hash_table_iter_init (&iter, a);
  while (g_hash_table_iter_next (&iter, &row, NULL))
    if (!g_hash_table_contains (b, row))
      return FALSE;
  return TRUE;
}

/* One answer at a time: the slow one looks at every reading of all pins that the question hangs on. */
static void
compare (const PmTrial *trial, const PmCase *state, gboolean again, const char *name, gpointer data)
{
  Tally *tally = data;
  g_autoptr (PmBound) bound = pm_bound_new (trial->t->circuit);
  pm_bound_set (bound, state);
  for (guint i = 0; i < (again ? trial->board->n_drives : tally->asks->len); i++) {
    const PmAsk *ask = &g_array_index (tally->asks, PmAsk, i);
    g_autoptr (GHashTable) working =
        g_hash_table_new_full (g_bytes_hash, g_bytes_equal, (GDestroyNotify)g_bytes_unref, NULL);
    g_autoptr (GHashTable) slow =
        g_hash_table_new_full (g_bytes_hash, g_bytes_equal, (GDestroyNotify)g_bytes_unref, NULL);
    Told of_working = {1, working}, of_slow = {1, slow};
    if (pm_worlds_each (bound, ask, 1, keep, &of_working) != PM_WORLDS_DONE ||
        pm_worlds_each_slowly (bound, ask, 1, keep, &of_slow) != PM_WORLDS_DONE) {
      tally->passed++;
      continue;
    }
    if (!same (working, slow))
      g_test_message ("%s, place %u: %u answers, slowly %u", name, ask->index, g_hash_table_size (working),
                      g_hash_table_size (slow));
    g_assert_true (same (working, slow));
    tally->same++;
  }
}

static void
test_board (gconstpointer data)
{
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmBoard) board = boards_test_load (library, data);
  g_autoptr (PmTrial) trial = pm_trial_new (board, NULL, 0, PM_CASES_ALL, NULL);
  g_autoptr (GArray) asks = boards_test_asks (trial);
  Tally tally = {asks, 0, 0};
  boards_test_each (trial, compare, &tally);
  g_test_message ("%u questions the same, %u with too many pins for the slow one", tally.same, tally.passed);
  g_assert_cmpuint (tally.same, >, 10 * tally.passed);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_auto (GStrv) names = boards_test_names ();
  for (guint i = 0; names[i] != NULL; i++) {
    g_autofree char *path = g_strdup_printf ("/check/slow/%s", names[i]);
    g_test_add_data_func (path, names[i], test_board);
  }
  return g_test_run ();
}
