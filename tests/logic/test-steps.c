/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps of stored bits.
 *
 * Sources: the tables of the D flip-flop are those of DM74LS74A (Fairchild DS006373); what a step does follows from the
 * rule at the head of pm-steps.h; the counting sequences are arithmetic. */
#include "circuit-bench.h"

#define T_FLIP_FLOP                                                                                                    \
  "/PRE /CLR CLK D : q\nL H X X : H\nH L X X : L\nL L X X : unstable\nH H rise H : H\nH H rise L : L\nH H L X : hold"
#define T_FLIP_FLOP_OUT "/PRE /CLR q : Q /Q\nL H X : H L\nH L X : L H\nL L X : H H\nH H X : q /q"
#define T_LATCH "E D : q\nH X : D\nL X : hold"
#define T_BIT_OUT "q : Q /Q\nX : q /q"

typedef struct {
  gboolean race, restless, decided;
  PmRace what;
} Marks;

/* The states that can follow, as "bits" or "bits/unstable", in order. */
static char *
states_text (GArray *states)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint32 unstable = 0; unstable < 4; unstable++) {
    for (guint32 bits = 0; bits < 4; bits++) {
      for (guint i = 0; i < states->len; i++) {
        PmState state = g_array_index (states, PmState, i);
        if (state.bits == bits && state.unstable == unstable)
          g_string_append_printf (text, "%s%u%s", text->len > 0 ? " " : "", bits,
                                  unstable == 0   ? ""
                                  : unstable == 1 ? "/1"
                                                  : "/2");
      }
    }
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
step_text (Bench *b, const PmCase *old, PmState from, const PmCase *new, Marks *marks)
{
  g_autoptr (GArray) out = g_array_new (FALSE, FALSE, sizeof (PmState));
  *marks = (Marks){FALSE, FALSE, FALSE, {PM_NONE, PM_NONE}};
  g_autoptr (GArray) races = g_array_new (FALSE, FALSE, sizeof (PmRace));
  marks->decided = pm_step (b->bound, old, from, new, out, races, &marks->restless);
  marks->race = races->len > 0;
  if (marks->race)
    marks->what = g_array_index (races, PmRace, 0);
  return states_text (out);
}

#define expect_step(b, old, from, new, expected, is_race)                                                              \
  G_STMT_START                                                                                                         \
  {                                                                                                                    \
    Marks step_marks;                                                                                                  \
    g_autofree char *step_states = step_text (b, old, from, new, &step_marks);                                         \
    g_assert_cmpstr (step_states, ==, expected);                                                                       \
    g_assert_true (step_marks.decided);                                                                                \
    g_assert_cmpint (step_marks.race, ==, is_race);                                                                    \
    g_assert_false (step_marks.restless);                                                                              \
  }                                                                                                                    \
  G_STMT_END

/* One flip-flop with sources on all four inputs: numbers 0 /PRE, 1 /CLR, 2 CLK, 3 D. */
static Bench *
flip_flop_new (void)
{
  Bench *b = bench_new ();
  pm_circuit_add_bit (b->circuit);
  bench_source (b, "pre", PM_SOURCE_HIGH);
  bench_source (b, "clr", PM_SOURCE_HIGH);
  bench_source (b, "clk", PM_SOURCE_LOW);
  bench_source (b, "d", PM_SOURCE_LOW);
  bench_part (b, T_FLIP_FLOP, "pre clr clk d", "0");
  bench_part (b, T_FLIP_FLOP_OUT, "pre clr =0", "q /q");
  bench_bind (b);
  return b;
}

static PmCase *
changed (const PmCase *from, guint32 source, PmSourceValue value)
{
  PmCase *state = pm_case_copy (from);
  state->sources[source] = value;
  return state;
}

static void
test_edge (void)
{
  g_autoptr (Bench) b = flip_flop_new ();
  for (guint d = 0; d < 2; d++) {
    b->state->sources[3] = d ? PM_SOURCE_HIGH : PM_SOURCE_LOW;
    g_autoptr (PmCase) high = changed (b->state, 2, PM_SOURCE_HIGH);
    for (guint q = 0; q < 2; q++) {
      expect_step (b, b->state, ((PmState){q, 0}), high, d ? "1" : "0", FALSE); /* the rise takes D */
      expect_step (b, high, ((PmState){q, 0}), b->state, q ? "1" : "0", FALSE); /* the fall does nothing */
    }
    g_autoptr (PmCase) other = changed (high, 3, d ? PM_SOURCE_LOW : PM_SOURCE_HIGH);
    expect_step (b, high, ((PmState){d, 0}), other, d ? "1" : "0", FALSE); /* nor D alone */
  }
}

static void
test_race (void)
{
  g_autoptr (Bench) b = flip_flop_new ();
  g_autoptr (PmCase) both = changed (b->state, 2, PM_SOURCE_HIGH);
  both->sources[3] = PM_SOURCE_HIGH;
  expect_step (b, b->state, ((PmState){0, 0}), both, "0 1", TRUE);
  Marks marks;
  g_autofree char *text = step_text (b, b->state, (PmState){0, 0}, both, &marks);
  g_assert_cmpuint (marks.what.data, ==, 3);
  g_assert_cmpuint (marks.what.edge, ==, 2);
  both->sources[1] = PM_SOURCE_LOW; /* cleared at the same time: nothing to race for */
  expect_step (b, b->state, ((PmState){1, 0}), both, "0", FALSE);
}

static void
test_preset_and_clear (void)
{
  g_autoptr (Bench) b = flip_flop_new ();
  g_autoptr (PmCase) preset = changed (b->state, 0, PM_SOURCE_LOW), clear = changed (b->state, 1, PM_SOURCE_LOW);
  g_autoptr (PmCase) both = changed (preset, 1, PM_SOURCE_LOW);
  expect_step (b, b->state, ((PmState){0, 0}), preset, "1", FALSE);
  expect_step (b, b->state, ((PmState){1, 0}), clear, "0", FALSE);
  expect_step (b, b->state, ((PmState){1, 0}), both, "1/1", FALSE);
  expect_step (b, both, ((PmState){1, 1}), clear, "0", FALSE);      /* left for a row that says */
  expect_step (b, both, ((PmState){1, 1}), b->state, "0 1", FALSE); /* left for one that holds: not known */
  b->state->sources[0] = b->state->sources[1] = PM_SOURCE_LOW;
  b->state->bits[0] = 1;
  bench_expect (b, "q /q", "HH"); /* reads as printed meanwhile */
}

/* A free source drives the data: both values, each by its own choice, and no race as it does not move. */
static void
test_choice_stays (void)
{
  g_autoptr (Bench) b = flip_flop_new ();
  b->state->sources[3] = PM_SOURCE_FREE;
  g_autoptr (PmCase) high = changed (b->state, 2, PM_SOURCE_HIGH);
  expect_step (b, b->state, ((PmState){0, 0}), high, "0 1", FALSE);

  /* An open clock makes no edges by itself. */
  b->state->sources[2] = PM_SOURCE_OFF;
  b->state->sources[3] = PM_SOURCE_LOW;
  g_autoptr (PmCase) data = changed (b->state, 3, PM_SOURCE_HIGH);
  expect_step (b, b->state, ((PmState){0, 0}), data, "0", FALSE);
}

/* /Q tied to D: divides by two. With a second stage clocked by /Q of the first it counts up through 0 1 2 3. */
static void
test_ripple (void)
{
  g_autoptr (Bench) b = bench_new ();
  pm_circuit_add_bit (b->circuit);
  pm_circuit_add_bit (b->circuit);
  bench_source (b, "clk", PM_SOURCE_LOW);
  bench_part (b, "CLK D : q\nrise H : H\nrise L : L", "clk d1", "0");
  bench_part (b, T_BIT_OUT, "=0", "q1 n1");
  bench_part (b, "CLK D : r\nrise H : H\nrise L : L", "c2 d2", "1");
  bench_part (b, "r : Q /Q\nX : r /r", "=1", "q2 n2");
  bench_join (b, "n1 d1 c2", PM_JOINT_CLOSED);
  bench_join (b, "n2 d2", PM_JOINT_CLOSED);
  bench_bind (b);
  g_autoptr (PmCase) high = changed (b->state, 0, PM_SOURCE_HIGH);
  static const char *const next[] = {"1", "2", "3", "0"};
  for (guint32 count = 0; count < 4; count++) {
    const char number[] = {'0' + count, '\0'};
    expect_step (b, b->state, ((PmState){count, 0}), high, next[count], FALSE);
    expect_step (b, high, ((PmState){count, 0}), b->state, number, FALSE);
  }
}

static void
test_toggle (void)
{
  g_autoptr (Bench) b = bench_new ();
  pm_circuit_add_bit (b->circuit);
  bench_source (b, "clk", PM_SOURCE_HIGH);
  bench_part (b, "CLK T : q\nfall H : toggle\nfall L : hold", "clk t", "0");
  bench_resistor (b, "t", "+5V", 1e3);
  bench_bind (b);
  g_autoptr (PmCase) low = changed (b->state, 0, PM_SOURCE_LOW);
  expect_step (b, b->state, ((PmState){0, 0}), low, "1", FALSE);
  expect_step (b, b->state, ((PmState){1, 0}), low, "0", FALSE);
  expect_step (b, low, ((PmState){1, 0}), b->state, "1", FALSE);
}

/* A transparent latch fed with its own inverse: never settles, and may be either. */
static void
test_restless (void)
{
  g_autoptr (Bench) b = bench_new ();
  pm_circuit_add_bit (b->circuit);
  bench_source (b, "e", PM_SOURCE_LOW);
  bench_part (b, T_LATCH, "e d", "0");
  bench_part (b, T_BIT_OUT, "=0", "q n");
  bench_join (b, "n d", PM_JOINT_CLOSED);
  bench_bind (b);
  g_autoptr (PmCase) open = changed (b->state, 0, PM_SOURCE_HIGH);
  Marks marks;
  g_autofree char *text = step_text (b, b->state, (PmState){0, 0}, open, &marks);
  g_assert_cmpstr (text, ==, "0 1");
  g_assert_true (marks.restless && marks.decided && !marks.race);
  expect_step (b, open, ((PmState){1, 0}), b->state, "1", FALSE);
}

/* A gate latch whose set goes away keeps what it was set to, although it could rest both ways. */
static void
test_gate_loop_keeps (void)
{
  g_autoptr (Bench) b = bench_new ();
  pm_circuit_add_bit (b->circuit);
  bench_source (b, "a", PM_SOURCE_LOW);
  bench_source (b, "c", PM_SOURCE_HIGH);
  bench_source (b, "e", PM_SOURCE_HIGH);
  bench_part (b, T_NAND, "a b", "q");
  bench_part (b, T_NAND, "c d", "n");
  bench_join (b, "q d x", PM_JOINT_CLOSED);
  bench_join (b, "n b", PM_JOINT_CLOSED);
  bench_part (b, T_LATCH, "e x", "0");
  bench_bind (b);
  g_autoptr (PmCase) held = changed (b->state, 0, PM_SOURCE_HIGH);
  expect_step (b, b->state, ((PmState){1, 0}), held, "1", FALSE);
  /* Reset and set exchanged: now it was low. */
  b->state->sources[0] = PM_SOURCE_HIGH;
  b->state->sources[1] = PM_SOURCE_LOW;
  expect_step (b, b->state, ((PmState){0, 0}), held, "0", FALSE);
  /* From a latch that may be either, either. */
  g_autoptr (PmCase) again = pm_case_copy (held);
  expect_step (b, held, ((PmState){0, 0}), again, "0 1", FALSE);
}

/* A step may be a switch: closing the clock to a high is an edge. */
static void
test_switch (void)
{
  g_autoptr (Bench) b = bench_new ();
  pm_circuit_add_bit (b->circuit);
  guint32 joint = bench_join (b, "clk +5V", PM_JOINT_OPEN);
  bench_resistor (b, "clk", "0V", 1e3);
  bench_resistor (b, "d", "+5V", 1e3);
  bench_part (b, "CLK D : q\nrise X : D", "clk d", "0");
  bench_bind (b);
  g_autoptr (PmCase) closed = pm_case_copy (b->state);
  closed->joints[joint] = PM_JOINT_CLOSED;
  expect_step (b, b->state, ((PmState){0, 0}), closed, "1", FALSE);
  g_assert_cmpuint (pm_bound_net (b->bound, bench_place (b, "clk")), ==, 0); /* left bound to the new case */
}

static void
test_rest (void)
{
  g_autoptr (Bench) b = flip_flop_new ();
  static const struct {
    PmSourceValue pre, clr;
    PmState from;
    const char *rests;
  } rows[] = {
      {PM_SOURCE_HIGH, PM_SOURCE_LOW, {1, 0}, "0"},  {PM_SOURCE_LOW, PM_SOURCE_HIGH, {0, 0}, "1"},
      {PM_SOURCE_HIGH, PM_SOURCE_HIGH, {0, 0}, "0"}, {PM_SOURCE_HIGH, PM_SOURCE_HIGH, {1, 0}, "1"},
      {PM_SOURCE_LOW, PM_SOURCE_LOW, {0, 0}, "0/1"},
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autoptr (GArray) out = g_array_new (FALSE, FALSE, sizeof (PmState));
    gboolean restless = FALSE;
    b->state->sources[0] = rows[i].pre;
    b->state->sources[1] = rows[i].clr;
    g_assert_true (pm_rest (b->bound, b->state, rows[i].from, out, &restless));
    g_autofree char *text = states_text (out);
    g_assert_cmpstr (text, ==, rows[i].rests);
    g_assert_false (restless);
  }
}

/* No edge while resting, even where one bit clocks the next. */
static void
test_rest_has_no_edges (void)
{
  g_autoptr (Bench) b = bench_new ();
  pm_circuit_add_bit (b->circuit);
  pm_circuit_add_bit (b->circuit);
  bench_source (b, "e", PM_SOURCE_HIGH);
  bench_source (b, "d", PM_SOURCE_HIGH);
  bench_part (b, T_LATCH, "e d", "0");
  bench_part (b, T_BIT_OUT, "=0", "q n");
  bench_part (b, "CLK : r\nrise : H", "q", "1");
  bench_bind (b);
  g_autoptr (GArray) out = g_array_new (FALSE, FALSE, sizeof (PmState));
  gboolean restless = FALSE;
  g_assert_true (pm_rest (b->bound, b->state, (PmState){0, 0}, out, &restless));
  g_autofree char *text = states_text (out);
  g_assert_cmpstr (text, ==, "1");
  g_autoptr (PmCase) low = changed (b->state, 0, PM_SOURCE_LOW);
  expect_step (b, low, ((PmState){0, 0}), b->state, "3", FALSE); /* in a step it is one */
}

static void
test_too_many_bits (void)
{
  g_autoptr (Bench) b = bench_new ();
  for (guint i = 0; i <= PM_STEPS_MAX_BITS; i++)
    pm_circuit_add_bit (b->circuit);
  bench_bind (b);
  g_autoptr (GArray) out = g_array_new (FALSE, FALSE, sizeof (PmState));
  gboolean restless = FALSE;
  g_assert_false (pm_rest (b->bound, b->state, (PmState){0, 0}, out, &restless));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/steps/edge", test_edge);
  g_test_add_func ("/steps/race", test_race);
  g_test_add_func ("/steps/preset-and-clear", test_preset_and_clear);
  g_test_add_func ("/steps/choice-stays", test_choice_stays);
  g_test_add_func ("/steps/ripple", test_ripple);
  g_test_add_func ("/steps/toggle", test_toggle);
  g_test_add_func ("/steps/restless", test_restless);
  g_test_add_func ("/steps/gate-loop-keeps", test_gate_loop_keeps);
  g_test_add_func ("/steps/switch", test_switch);
  g_test_add_func ("/steps/rest", test_rest);
  g_test_add_func ("/steps/rest-has-no-edges", test_rest_has_no_edges);
  g_test_add_func ("/steps/too-many-bits", test_too_many_bits);
  return g_test_run ();
}
