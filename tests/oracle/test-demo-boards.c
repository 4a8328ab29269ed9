/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The working evaluator against libz3 on every case and host state of every demo board. ORACLE_BOARD names one of them.
 */
#include "boards-test.h"
#include "oracle.h"

typedef struct {
  GArray *asks;
  guint   verdicts[ORACLE_N_VERDICTS];
  guint   n_answers, n_restless;
} Tally;

/* All lamps together, as a route is judged; then every line by itself. */
static void
compare (const PmTrial *trial, const PmCase *state, gboolean again, const char *name, gpointer data)
{
  Tally *tally = data;
  guint n_lamps = trial->board->n_drives;
  for (guint first = 0; first < (again ? n_lamps : tally->asks->len);) {
    guint n = first < n_lamps ? n_lamps : 1;
    g_autoptr (GString) difference = g_string_new (NULL);
    OracleVerdict verdict = oracle_compare (trial->t->circuit, state, &g_array_index (tally->asks, PmAsk, first), n,
                                            difference, &tally->n_answers, &tally->n_restless);
    tally->verdicts[verdict]++;
    if (verdict == ORACLE_DIFFERENT)
      g_test_message ("%s, from question %u: %s", name, first, difference->str);
    first += n;
  }
}

static void
test_board (gconstpointer data)
{
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmBoard) board = boards_test_load (library, data);
  g_autoptr (PmTrial) trial = pm_trial_new (board, NULL, 0, PM_CASES_ALL, NULL);
  g_autoptr (GArray) asks = boards_test_asks (trial);
  Tally tally = {.asks = asks};
  boards_test_each (trial, compare, &tally);
  g_test_message ("%u questions the same, %u different, %u not decided, %u too large for the solver; %u answers, %u of "
                  "them never settle",
                  tally.verdicts[ORACLE_SAME], tally.verdicts[ORACLE_DIFFERENT], tally.verdicts[ORACLE_NOT_DECIDED],
                  tally.verdicts[ORACLE_TOO_LARGE], tally.n_answers, tally.n_restless);
  g_assert_cmpuint (tally.verdicts[ORACLE_DIFFERENT], ==, 0);
  g_assert_cmpuint (tally.verdicts[ORACLE_SAME], >, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_auto (GStrv) names = boards_test_names ();
  for (guint i = 0; names[i] != NULL; i++) {
    g_autofree char *path = g_strdup_printf ("/oracle/demo-boards/%s", names[i]);
    if (g_getenv ("ORACLE_BOARD") == NULL || g_str_equal (g_getenv ("ORACLE_BOARD"), names[i]))
      g_test_add_data_func (path, names[i], test_board);
  }
  return g_test_run ();
}
