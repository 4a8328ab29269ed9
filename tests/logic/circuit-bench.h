/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bench for small circuits with named places: builds, binds, asks both evaluators and gives the answers as text.
 *
 * A place comes into being when it is first named.  Levels are letters: L H driven, c clamped, l h made by resistors, b
 * between, Z off, X clash.  Answers are those of all worlds, in the order of that list, each once, with blanks between.
 */
#pragma once
#include <string.h>
#include "pm-steps.h"

#define LEVEL_LETTERS "LHclhbZX"

/* Tables that many tests use. */
#define T_NOT "A : Y\nL : H\nH : L"
#define T_BUF "A : Y\nX : A"
#define T_AND "A B : Y\nL X : L\nX L : L\nH H : H"
#define T_NAND "A B : Y\nL X : H\nX L : H\nH H : L"
#define T_XOR "A B : Y\nL X : B\nH X : /B"
#define T_SELECT "S A B : Y\nL X X : A\nH X X : B"
#define T_CHANNEL "E : P-Q\nL : open\nH : joined"
#define T_CHANNEL_LOW "/E : P-Q\nH : open\nL : joined"

/* 74HCT00: MM74HCT00 (Fairchild). LS: DM74LS00 (DS006439); 0.4 mA: SN74LS00 (Motorola). HC at 4.5 V: limits of the data
 * sheets. */
static const PmReceiver HCT = {0.8, 2.0, 0, 0, FALSE};
static const PmReceiver LS = {0.8, 2.0, 0.4e-3, 20e-6, TRUE};

typedef struct {
  PmCircuit *circuit;
  PmCase *state;
  PmBound *bound;
  GHashTable *places, *inputs; /* name -> number + 1 */
  GHashTable *tables;          /* text -> PmTable */
  guint32 rail, ground;        /* rails +5V and 0V, places of these names */
  /* of the last question */
  gboolean never_settles, unjudged, open_high;
  guint n_worlds, n_choices, n_loops;
  PmWorldsResult result;
} Bench;

static inline guint32
bench_place (Bench *bench, const char *name)
{
  guint32 place = GPOINTER_TO_UINT (g_hash_table_lookup (bench->places, name));
  if (place == 0) {
    place = pm_circuit_add_place (bench->circuit) + 1;
    g_hash_table_insert (bench->places, g_strdup (name), GUINT_TO_POINTER (place));
  }
  return place - 1;
}

static inline Bench *
bench_new (void)
{
  Bench *bench = g_new0 (Bench, 1);
  bench->circuit = pm_circuit_new ();
  bench->places = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  bench->inputs = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  bench->tables = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify)pm_table_unref);
  bench->rail = pm_circuit_add_rail (bench->circuit, bench_place (bench, "+5V"), 5);
  bench->ground = pm_circuit_add_rail (bench->circuit, bench_place (bench, "0V"), 0);
  return bench;
}

static inline void
bench_free (Bench *bench)
{
  g_hash_table_unref (bench->places);
  g_hash_table_unref (bench->inputs);
  g_hash_table_unref (bench->tables);
  pm_bound_free (bench->bound);
  pm_case_free (bench->state);
  pm_circuit_free (bench->circuit);
  g_free (bench);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Bench, bench_free)

/* The input at a place of this name; made with the receiver if there is none yet. */
static inline guint32
bench_input (Bench *bench, const char *name, const PmReceiver *receiver)
{
  guint32 input = GPOINTER_TO_UINT (g_hash_table_lookup (bench->inputs, name));
  if (input == 0) {
    input = pm_circuit_add_input (bench->circuit, bench_place (bench, name), receiver) + 1;
    g_hash_table_insert (bench->inputs, g_strdup (name), GUINT_TO_POINTER (input));
  }
  return input - 1;
}

/* Joins the first place to each of the others. Returns the last joint. */
static inline guint32
bench_join (Bench *bench, const char *names, PmJointState state)
{
  g_auto (GStrv) list = g_strsplit (names, " ", -1);
  guint32 joint = PM_NONE;
  for (guint i = 1; list[i] != NULL; i++)
    joint = pm_circuit_add_joint (bench->circuit, bench_place (bench, list[0]), bench_place (bench, list[i]), state);
  return joint;
}

static inline guint32
bench_source (Bench *bench, const char *name, PmSourceValue value)
{
  return pm_circuit_add_source (bench->circuit, bench_place (bench, name), value);
}

static inline void
bench_resistor (Bench *bench, const char *a, const char *b, double ohms)
{
  pm_circuit_add_resistor (bench->circuit, bench_place (bench, a), bench_place (bench, b), ohms);
}

/* A section. inputs: places, or =N for stored bit N; outputs: places, N for a bit column, P-Q for a join column. */
static inline guint32
bench_section (Bench *bench, const char *text, const char *inputs, const char *outputs, const PmReceiver *receiver,
               const char *supply)
{
  static const char *const bits[] = {"q", "r", NULL};
  g_auto (GStrv) in = g_strsplit (inputs, " ", -1), out = g_strsplit (outputs, " ", -1);
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify)pm_table_fault_free);
  guint32 ins[PM_TABLE_MAX_INPUTS], outs[16], others[16];
  PmTable *table = g_hash_table_lookup (bench->tables, text);
  if (table == NULL) {
    table = pm_table_parse (text, bits, faults);
    if (table == NULL)
      g_error ("%s: %s", text, ((PmTableFault *)g_ptr_array_index (faults, 0))->message);
    g_hash_table_insert (bench->tables, g_strdup (text), table);
  }
  for (guint i = 0; i < pm_table_n_inputs (table); i++)
    ins[i] = in[i][0] == '=' ? PM_BIT (atoi (in[i] + 1)) : bench_input (bench, in[i], receiver);
  for (guint i = 0; i < pm_table_n_outputs (table); i++) {
    g_auto (GStrv) ends = g_strsplit (out[i], "~", -1);
    outs[i] = pm_table_kind (table, i) == PM_COLUMN_BIT ? (guint32)atoi (out[i]) : bench_place (bench, ends[0]);
    others[i] = ends[1] != NULL ? bench_place (bench, ends[1]) : PM_NONE;
  }
  return pm_circuit_add_section (bench->circuit, table, ins, outs, others,
                                 supply != NULL ? bench_place (bench, supply) : PM_NONE,
                                 supply != NULL ? bench_place (bench, "0V") : PM_NONE, PM_UNPOWERED_OFF, NULL);
}

static inline guint32
bench_part (Bench *bench, const char *text, const char *inputs, const char *outputs)
{
  return bench_section (bench, text, inputs, outputs, &HCT, NULL);
}

/* Ends building at the first call, and binds the case as it is now. */
static inline void
bench_bind (Bench *bench)
{
  if (bench->state == NULL) {
    pm_circuit_seal (bench->circuit);
    bench->state = pm_case_new (bench->circuit);
    bench->bound = pm_bound_new (bench->circuit);
  }
  pm_bound_set (bench->bound, bench->state);
}

typedef struct {
  Bench *bench;
  const PmAsk *asks;
  guint32 n_asks;
  GPtrArray *answers;
} BenchSeen;

static inline gboolean
bench_see (const PmWorld *world, gpointer data)
{
  BenchSeen *seen = data;
  char *text = g_malloc0 (seen->n_asks + 1);
  for (guint32 i = 0; i < seen->n_asks; i++)
    text[i] = seen->asks[i].kind == PM_ASK_LEVEL ? LEVEL_LETTERS[world->answers[i]] : '0' + world->answers[i];
  if (g_ptr_array_find_with_equal_func (seen->answers, text, g_str_equal, NULL))
    g_free (text);
  else
    g_ptr_array_add (seen->answers, text);
  seen->bench->never_settles |= world->never_settles;
  seen->bench->unjudged |= world->unjudged;
  seen->bench->n_worlds++;
  seen->bench->n_choices = MAX (seen->bench->n_choices, world->n_choices);
  for (guint32 i = 0; i < world->n_choices; i++) {
    seen->bench->open_high |= world->choices[i].open_high;
    seen->bench->n_loops += world->choices[i].kind == PM_CHOICE_LOOP;
  }
  return TRUE;
}

static inline gint
bench_compare (gconstpointer a, gconstpointer b)
{
  const char *x = *(const char *const *)a, *y = *(const char *const *)b;
  for (; *x != '\0'; x++, y++) {
    const char *order = "01" LEVEL_LETTERS;
    if (*x != *y)
      return (gint)(strchr (order, *x) - strchr (order, *y));
  }
  return 0;
}

static inline char *
bench_sorted (Bench *bench, const PmAsk *asks, guint32 n_asks, gboolean slowly)
{
  g_autoptr (GPtrArray) answers = g_ptr_array_new_with_free_func (g_free);
  BenchSeen seen = {bench, asks, n_asks, answers};
  bench->never_settles = bench->unjudged = bench->open_high = FALSE;
  bench->n_worlds = bench->n_choices = bench->n_loops = 0;
  bench->result = (slowly ? pm_worlds_each_slowly : pm_worlds_each) (bench->bound, asks, n_asks, bench_see, &seen);
  g_ptr_array_sort (answers, bench_compare);
  g_ptr_array_add (answers, NULL);
  return g_strjoinv (" ", (char **)answers->pdata);
}

/* What the words name: a place is asked for its level, ?place for what the input there reads. */
static inline char *
bench_ask (Bench *bench, const char *words)
{
  g_auto (GStrv) list = g_strsplit (words, " ", -1);
  PmAsk asks[32];
  guint32 n = 0;
  for (; list[n] != NULL; n++)
    asks[n] = list[n][0] == '?' ? (PmAsk){PM_ASK_READ, bench_input (bench, list[n] + 1, &HCT)}
                                : (PmAsk){PM_ASK_LEVEL, bench_place (bench, list[n])};
  bench_bind (bench);
  g_autofree char *slow = bench_sorted (bench, asks, n, TRUE);
  char *fast = bench_sorted (bench, asks, n, FALSE);
  g_assert_cmpstr (fast, ==, slow);
  return fast;
}

#define bench_expect(bench, words, expected)                                                                           \
  G_STMT_START                                                                                                         \
  {                                                                                                                    \
    g_autofree char *bench_answers = bench_ask (bench, words);                                                         \
    g_assert_cmpstr (bench_answers, ==, expected);                                                                     \
  }                                                                                                                    \
  G_STMT_END
