/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random circuits: the working evaluator against the slow one.
 *
 * Source of what is expected: none from outside; the slow evaluator is the rule of pm-worlds.h written down.  Each
 * circuit has gates, selectors, three-state and bilateral sections, latches by chance, resistors, rails on and off,
 * sections without power, unknown joints, free sources and stored bits.  Both must give the same set of answers, for
 * everything at once and for small questions.  How often each hard thing came about is counted, so that the test cannot
 * go empty. */
#include <string.h>
#include "pm-worlds.h"

#define N_CIRCUITS 20000
#define MOST_INPUTS 8
#define MOST_ASKS 64

typedef enum {
  T_NOT,
  T_BUF,
  T_AND,
  T_OR,
  T_NAND,
  T_XOR,
  T_SELECT,
  T_THREE_STATE,
  T_COLLECTOR,
  T_CHANNEL,
  T_CHANGEOVER,
  T_STORED,
  T_TWO,
  N_TABLES
} Kind;

static const struct {
  const char *text;
  guint n_inputs, n_outputs;
  gboolean bit;
} tables[N_TABLES] = {
    [T_NOT] = {"A : Y\nL : H\nH : L", 1, 1},
    [T_BUF] = {"A : Y\nX : A", 1, 1},
    [T_AND] = {"A B : Y\nL X : L\nX L : L\nH H : H", 2, 1},
    [T_OR] = {"A B : Y\nH X : H\nX H : H\nL L : L", 2, 1},
    [T_NAND] = {"A B : Y\nL X : H\nX L : H\nH H : L", 2, 1},
    [T_XOR] = {"A B : Y\nL X : B\nH X : /B", 2, 1},
    [T_SELECT] = {"S A B : Y\nL X X : A\nH X X : B", 3, 1},
    [T_THREE_STATE] = {"/E A : Y\nH X : Z\nL X : A", 2, 1},
    [T_COLLECTOR] = {"A : Y\nL : Z\nH : L", 1, 1},
    [T_CHANNEL] = {"E : P-Q\nL : open\nH : joined", 1, 1},
    [T_CHANGEOVER] = {"E S : Z-P Z-Q\nH X : open open\nL L : joined open\nL H : open joined", 2, 2},
    [T_STORED] = {"q A : Y\nL X : L\nH X : A", 2, 1, TRUE},
    [T_TWO] = {"E A : Y W\nL X : Z L\nH X : A /A", 2, 2},
};

static const PmReceiver receivers[] = {
    {0.8, 2.0, 0.4e-3, 20e-6, TRUE}, /* LS: DM74LS00 DS006439 */
    {0.8, 2.0, 1.6e-3, 40e-6, TRUE}, /* standard TTL: DM7438 DS006513 */
    {1.35, 3.15, 0, 0, FALSE},       /* HC at 4.5 V */
    {0.8, 2.0, 0, 0, FALSE},         /* HCT: MM74HCT00 */
};
static const double ohms[] = {150, 220, 330, 1e3, 4.7e3, 10e3, 47e3};

typedef struct {
  guint64 state;
} Dice;

/* xorshift64*: the same circuits on every machine. */
static guint
roll (Dice *dice, guint n)
{
  dice->state ^= dice->state >> 12;
  dice->state ^= dice->state << 25;
  dice->state ^= dice->state >> 27;
  return (guint)((dice->state * G_GUINT64_CONSTANT (2685821657736338717)) >> 33) % n;
}

#define PICK(dice, array) ((array)[roll (dice, G_N_ELEMENTS (array))])

typedef struct {
  PmCircuit *circuit;
  PmCase *state;
  guint32 n_nets;
} Random;

static PmTable *compiled[N_TABLES];

static void
compile_tables (void)
{
  static const char *const names[] = {"q", NULL};
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify)pm_table_fault_free);
  for (guint i = 0; i < N_TABLES; i++) {
    compiled[i] = pm_table_parse (tables[i].text, tables[i].bit ? names : NULL, faults);
    g_assert_nonnull (compiled[i]);
  }
}

static void
add_part (Random *random, Dice *dice)
{
  static const PmJointState solder[] = {PM_JOINT_CLOSED, PM_JOINT_CLOSED, PM_JOINT_CLOSED, PM_JOINT_CLOSED,
                                        PM_JOINT_CLOSED, PM_JOINT_CLOSED, PM_JOINT_CLOSED, PM_JOINT_CLOSED,
                                        PM_JOINT_OPEN,   PM_JOINT_UNKNOWN};
  PmCircuit *circuit = random->circuit;
  Kind kind = roll (dice, N_TABLES);
  guint32 inputs[3], outputs[2], others[2], supply = PM_NONE, ground = PM_NONE;
  if (pm_circuit_n_inputs (circuit) + tables[kind].n_inputs > MOST_INPUTS)
    return;
  for (guint i = 0; i < tables[kind].n_inputs; i++) {
    if (tables[kind].bit && i == 0) {
      inputs[i] = PM_BIT (pm_circuit_add_bit (circuit));
      continue;
    }
    guint32 place = pm_circuit_add_place (circuit);
    inputs[i] = pm_circuit_add_input (circuit, place, &PICK (dice, receivers));
    pm_circuit_add_joint (circuit, place, roll (dice, random->n_nets), PICK (dice, solder));
  }
  guint32 common = roll (dice, random->n_nets);
  for (guint i = 0; i < tables[kind].n_outputs; i++) {
    outputs[i] = kind == T_CHANGEOVER ? common : roll (dice, random->n_nets);
    others[i] = roll (dice, random->n_nets);
  }
  if (roll (dice, 8) == 0) {
    supply = 0;
    ground = 1;
  }
  pm_circuit_add_section (circuit, compiled[kind], inputs, outputs, others, supply, ground, roll (dice, 2), NULL);
}

/* Places 0 and 1 are +5 V and 0 V, the next are nets. */
static void
make_random (Random *random, Dice *dice)
{
  PmCircuit *circuit = random->circuit = pm_circuit_new ();
  random->n_nets = 5 + roll (dice, 4);
  pm_circuit_add_places (circuit, random->n_nets);
  pm_circuit_add_rail (circuit, 0, 5);
  pm_circuit_add_rail (circuit, 1, 0);
  if (roll (dice, 4) == 0)
    pm_circuit_add_rail (circuit, roll (dice, random->n_nets), 12);
  for (guint n = 1 + roll (dice, 6); n > 0; n--)
    add_part (random, dice);
  for (guint n = roll (dice, 4); n > 0; n--)
    pm_circuit_add_source (circuit, 2 + roll (dice, random->n_nets - 2), roll (dice, PM_SOURCE_CLAMP + 1));
  for (guint n = roll (dice, 5); n > 0; n--)
    pm_circuit_add_resistor (circuit, roll (dice, random->n_nets),
                             roll (dice, 3) == 0 ? roll (dice, random->n_nets) : roll (dice, 2), PICK (dice, ohms));
  for (guint n = roll (dice, 3); n > 0; n--)
    pm_circuit_add_joint (circuit, roll (dice, random->n_nets), roll (dice, random->n_nets), roll (dice, 3));
  pm_circuit_seal (circuit);

  PmCase *state = random->state = pm_case_new (circuit);
  for (guint32 i = 0; i < state->n_rails; i++)
    state->rails[i] = roll (dice, 8) != 0;
  for (guint32 i = 0; i < state->n_sections; i++)
    state->sections[i] = roll (dice, 16) != 0;
  for (guint32 i = 0; i < state->n_bits; i++)
    state->bits[i] = roll (dice, 3);
  for (guint32 i = 0; i < state->n_joints; i++) {
    if (state->joints[i] == PM_JOINT_CONTROLLED && roll (dice, 12) == 0)
      state->joints[i] = roll (dice, 3);
  }
}

static void
free_random (Random *random)
{
  pm_case_free (random->state);
  pm_circuit_free (random->circuit);
}

/* ---- sets of answers ---- */

typedef struct {
  GHashTable *answers; /* of GBytes */
  guint32 n_asks;
  guint n_worlds;
  gboolean never, unjudged, repeated, loop;
} Seen;

static gboolean
see (const PmWorld *world, gpointer data)
{
  Seen *seen = data;
  for (guint32 i = 0; i < world->n_choices; i++)
    seen->loop |= world->choices[i].kind == PM_CHOICE_LOOP;
  seen->never |= world->never_settles;
  seen->unjudged |= world->unjudged;
  seen->n_worlds++;
  g_hash_table_add (seen->answers, g_bytes_new (world->answers, seen->n_asks));
  return TRUE;
}

static Seen
new_seen (guint32 n_asks)
{
  return (Seen){.answers = g_hash_table_new_full (g_bytes_hash, g_bytes_equal, (GDestroyNotify)g_bytes_unref, NULL),
                .n_asks = n_asks};
}

static gboolean
same_sets (GHashTable *a, GHashTable *b)
{
  GHashTableIter iter;
  gpointer key;
  if (g_hash_table_size (a) != g_hash_table_size (b))
    return FALSE;
  g_hash_table_iter_init (&iter, a);
  while (g_hash_table_iter_next (&iter, &key, NULL)) {
    if (!g_hash_table_contains (b, key))
      return FALSE;
  }
  return TRUE;
}

typedef struct {
  guint compared, undecided, never, several, loops, unjudged;
} Counts;

static void
compare (PmBound *bound, const PmAsk *asks, guint32 n_asks, guint number, Counts *counts)
{
  Seen fast = new_seen (n_asks), slow = new_seen (n_asks);
  PmWorldsResult result = pm_worlds_each (bound, asks, n_asks, see, &fast);
  if (result == PM_WORLDS_DONE) {
    g_assert_cmpint (pm_worlds_each_slowly (bound, asks, n_asks, see, &slow), ==, PM_WORLDS_DONE);
    if (!same_sets (fast.answers, slow.answers))
      g_error ("circuit %u, %u asks (first %d %u): %u answers, slowly %u", number, n_asks, asks[0].kind, asks[0].index,
               g_hash_table_size (fast.answers), g_hash_table_size (slow.answers));
    /* What the working one met, the slow one must have met; it also meets what the question could do without. */
    g_assert_true (!fast.never || slow.never);
    g_assert_true (!fast.unjudged || slow.unjudged);
    counts->compared++;
    counts->never += fast.never;
    counts->several += g_hash_table_size (fast.answers) > 1;
    counts->loops += fast.loop;
    counts->unjudged += fast.unjudged;
  } else {
    counts->undecided++;
  }
  g_hash_table_unref (fast.answers);
  g_hash_table_unref (slow.answers);
}

static guint32
ask_all (const Random *random, PmAsk *asks)
{
  guint32 n = 0;
  for (guint32 i = 0; i < pm_circuit_n_inputs (random->circuit); i++)
    asks[n++] = (PmAsk){PM_ASK_READ, i};
  for (guint32 i = 0; i < random->n_nets; i++)
    asks[n++] = (PmAsk){PM_ASK_LEVEL, i};
  for (guint32 i = 0; i < pm_circuit_n_joints (random->circuit) && n < MOST_ASKS; i++)
    asks[n++] = (PmAsk){PM_ASK_JOINT, i};
  return n;
}

static void
test_random (void)
{
  Dice dice = {G_GUINT64_CONSTANT (20261125)};
  Counts counts = {0};
  compile_tables ();
  for (guint number = 0; number < N_CIRCUITS; number++) {
    Random random;
    PmAsk asks[MOST_ASKS];
    make_random (&random, &dice);
    PmBound *bound = pm_bound_new (random.circuit);
    guint32 n = ask_all (&random, asks);
    pm_bound_set (bound, random.state);
    compare (bound, asks, n, number, &counts);
    for (guint k = 0; k < 3; k++)
      compare (bound, &asks[roll (&dice, n)], 1, number, &counts);

    /* Other sources and bits of the same case, then the same bound for a case with other joints. */
    for (guint32 i = 0; i < random.state->n_sources; i++)
      random.state->sources[i] = roll (&dice, PM_SOURCE_CLAMP + 1);
    for (guint32 i = 0; i < random.state->n_bits; i++)
      random.state->bits[i] = roll (&dice, 3);
    pm_bound_set_sources (bound, random.state);
    compare (bound, &asks[roll (&dice, n)], 1, number, &counts);
    for (guint32 i = 0; i < random.state->n_joints; i++)
      random.state->joints[i] = roll (&dice, 4) == 0 ? roll (&dice, 3) : random.state->joints[i];
    pm_bound_set (bound, random.state);
    compare (bound, &asks[roll (&dice, n - 1)], 2, number, &counts);
    pm_bound_free (bound);
    free_random (&random);
  }
  for (guint i = 0; i < N_TABLES; i++)
    pm_table_unref (compiled[i]);
  g_test_message (
      "%u questions compared, %u not decided; %u never settle, %u remember, %u with several answers, %u not judged",
      counts.compared, counts.undecided, counts.never, counts.loops, counts.several, counts.unjudged);
  g_assert_cmpuint (counts.undecided, <, counts.compared / 100);
  g_assert_cmpuint (counts.never, >, 500);
  g_assert_cmpuint (counts.loops, >, 500);
  g_assert_cmpuint (counts.several, >, 5000);
  g_assert_cmpuint (counts.unjudged, >, 500);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/worlds/random", test_random);
  return g_test_run ();
}
