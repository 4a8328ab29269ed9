/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The working evaluator and the solver, question by question. */
#include "oracle.h"

typedef struct {
  guint32     n_asks;
  GHashTable *told; /* GBytes -> 1, or 2 if in one of its worlds a loop never settles */
} Told;

static gboolean
keep_world (const PmWorld *world, gpointer data)
{
  Told *told = data;
  GBytes *tuple = g_bytes_new (world->answers, told->n_asks);
  guint before = GPOINTER_TO_UINT (g_hash_table_lookup (told->told, tuple));

  g_hash_table_insert (told->told, tuple, GUINT_TO_POINTER (MAX (before, world->never_settles ? 2u : 1u)));
  return TRUE;
}

static void
say_tuple (GString *text, const char *what, GBytes *tuple)
{
  gsize n;
  const guint8 *values = g_bytes_get_data (tuple, &n);

  g_string_append_printf (text, "%s:", what);
  for (gsize k = 0; k < n; k++)
    g_string_append_printf (text, " %u", values[k]);
  g_string_append_c (text, '\n');
}

OracleVerdict
oracle_compare (const PmCircuit *circuit, const PmCase *state, const PmAsk *asks, guint32 n_asks, GString *difference,
                guint *n_answers, guint *n_restless)
{
  g_autoptr (PmBound) bound = pm_bound_new (circuit);
  g_autoptr (GHashTable) told = NULL;
  g_autoptr (GHashTable) restless = g_hash_table_new (g_bytes_hash, g_bytes_equal);
  g_autoptr (OracleAnswers) answers = NULL;
  Told data = { .n_asks = n_asks };
  gsize length = difference->len;
  GHashTableIter iter;
  gpointer tuple, value;

  data.told = told = g_hash_table_new_full (g_bytes_hash, g_bytes_equal, (GDestroyNotify) g_bytes_unref, NULL);
  pm_bound_set (bound, state);
  if (pm_worlds_each (bound, asks, n_asks, keep_world, &data) == PM_WORLDS_NOT_DECIDED)
    return ORACLE_NOT_DECIDED;
  answers = oracle_ask (oracle_record_of (circuit), state, asks, n_asks);
  if (answers->too_large)
    return ORACLE_TOO_LARGE;
  for (guint k = 0; k < answers->restless->len; k++)
    g_hash_table_add (restless, answers->restless->pdata[k]);
  g_hash_table_iter_init (&iter, told);
  while (g_hash_table_iter_next (&iter, &tuple, &value)) {
    if (GPOINTER_TO_UINT (value) != 2)
      continue;
    if (!g_hash_table_contains (restless, tuple))
      say_tuple (difference, "said never to settle, and always settles", tuple);
    if (n_restless != NULL)
      ++*n_restless;
  }
  for (guint k = 0; k < answers->answers->len; k++) {
    if (!g_hash_table_remove (told, answers->answers->pdata[k]))
      say_tuple (difference, "a world, but not told", answers->answers->pdata[k]);
  }
  g_hash_table_iter_init (&iter, told);
  while (g_hash_table_iter_next (&iter, &tuple, &value))
    say_tuple (difference, "told, but no world", tuple);
  if (n_answers != NULL)
    *n_answers += answers->answers->len;
  return difference->len > length ? ORACLE_DIFFERENT : ORACLE_SAME;
}
