/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The working evaluator against libz3 on random boards. ORACLE_BOARDS and ORACLE_SEED ask for more, or for others. */
#include "oracle.h"
#include "random-board.h"

#define N_BOARDS 3000
#define MAX_ASKS 5

typedef struct {
  guint verdicts[ORACLE_N_VERDICTS];
  guint n_answers, n_several, n_restless;
} Tally;

static guint
setting (const char *name, guint usual)
{
  const char *text = g_getenv (name);

  return text != NULL ? (guint) g_ascii_strtoull (text, NULL, 10) : usual;
}

/* Asks a few things of a board together, as a route does. */
static void
judge (GPtrArray *tables, guint seed, Tally *tally)
{
  g_autoptr (RandomBoard) board = random_board_new (tables, seed);
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed + 1);
  g_autoptr (GString) difference = g_string_new (NULL);
  PmAsk asks[MAX_ASKS];
  guint n_asks = g_rand_int_range (rand, 1, MAX_ASKS + 1), n_answers = 0;
  OracleVerdict verdict;

  for (guint k = 0; k < n_asks; k++)
    asks[k] = g_array_index (board->asks, PmAsk, g_rand_int_range (rand, 0, board->asks->len));
  verdict = oracle_compare (board->circuit, board->state, asks, n_asks, difference, &n_answers, &tally->n_restless);
  tally->verdicts[verdict]++;
  tally->n_answers += n_answers;
  tally->n_several += n_answers > 1;
  if (verdict == ORACLE_DIFFERENT) {
    g_test_message ("board %u differs", seed);
    for (guint k = 0; k < n_asks; k++)
      g_test_message ("ask %u %u", asks[k].kind, asks[k].index);
    oracle_describe (oracle_record_of (board->circuit), board->state, difference);
    g_test_message ("%s", difference->str);
  }
}

static void
test_random_boards (void)
{
  g_autoptr (GPtrArray) tables = random_board_tables ();
  guint n = setting ("ORACLE_BOARDS", N_BOARDS), first = setting ("ORACLE_SEED", 1);
  Tally tally = { 0 };

  for (guint seed = first; seed < first + n; seed++)
    judge (tables, seed, &tally);
  g_test_message ("%u boards: %u the same, %u different, %u not decided, %u too large for the solver; "
                  "%u answers, %u boards with several, %u answers from a loop that never settles",
                  n, tally.verdicts[ORACLE_SAME], tally.verdicts[ORACLE_DIFFERENT], tally.verdicts[ORACLE_NOT_DECIDED],
                  tally.verdicts[ORACLE_TOO_LARGE], tally.n_answers, tally.n_several, tally.n_restless);
  g_assert_cmpuint (tally.verdicts[ORACLE_DIFFERENT], ==, 0);
  if (n >= N_BOARDS) {
    /* Boards that cannot be judged are few, and the odd things happen. */
    g_assert_cmpuint (tally.verdicts[ORACLE_SAME], >=, 2000);
    g_assert_cmpuint (tally.n_several, >=, n / 10);
    g_assert_cmpuint (tally.n_restless, >=, 20);
  }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/oracle/random-boards", test_random_boards);
  return g_test_run ();
}
