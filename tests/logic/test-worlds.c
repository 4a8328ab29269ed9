/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Worlds of small circuits whose answers are known beforehand.
 *
 * Every question is asked of both evaluators (circuit-bench.h).  Sources of what is expected stand beside the figures;
 * where none stands, it follows from the rule at the head of pm-worlds.h. */
#include "circuit-bench.h"

static void
test_select (void)
{
  for (guint value = 0; value < 2; value++) {
    g_autoptr (Bench) b = bench_new ();
    bench_source (b, "d", value ? PM_SOURCE_HIGH : PM_SOURCE_LOW);
    bench_join (b, "d A B", PM_JOINT_CLOSED);
    bench_part (b, T_SELECT, "S A B", "y");
    bench_expect (b, "y", value ? "H" : "L"); /* both data alike, select loose */
  }
  g_autoptr (Bench) b = bench_new ();
  bench_source (b, "A", PM_SOURCE_LOW);
  bench_source (b, "B", PM_SOURCE_HIGH);
  bench_part (b, T_SELECT, "S A B", "y");
  bench_expect (b, "y", "L H"); /* data differ */
}

/* A selector with a known select never reads the other data input: no choice is made for it. */
static void
test_reads_its_cone (void)
{
  g_autoptr (Bench) b = bench_new ();
  bench_source (b, "S", PM_SOURCE_LOW);
  bench_source (b, "A", PM_SOURCE_HIGH);
  bench_part (b, T_SELECT, "S A B", "y");
  bench_expect (b, "y", "H");
  g_assert_cmpuint (b->n_choices, ==, 0);
  g_assert_cmpuint (b->n_worlds, ==, 1);
}

static void
test_tied (void)
{
  g_autoptr (Bench) loose = bench_new ();
  bench_join (loose, "w x1 x2", PM_JOINT_CLOSED);
  bench_part (loose, T_XOR, "x1 x2", "y");
  bench_expect (loose, "y", "L H"); /* each pin reads for itself */

  g_autoptr (Bench) driven = bench_new ();
  bench_part (driven, T_BUF, "a", "w");
  bench_join (driven, "w x1 x2", PM_JOINT_CLOSED);
  bench_part (driven, T_XOR, "x1 x2", "y");
  bench_expect (driven, "y", "L"); /* not known which, but the same */
}

static void
test_rings (void)
{
  for (guint n = 1; n <= 3; n++) {
    g_autoptr (Bench) b = bench_new ();
    for (guint k = 0; k < n; k++) {
      g_autofree char *in = g_strdup_printf ("i%u", k), *out = g_strdup_printf ("q%u", k);
      g_autofree char *joined = g_strdup_printf ("q%u i%u", k, (k + 1) % n);
      bench_part (b, T_NOT, in, out);
      bench_join (b, joined, PM_JOINT_CLOSED);
    }
    bench_expect (b, "q0", "L H");
    g_assert_cmpint (b->never_settles, ==, n != 2);
    g_assert_cmpuint (b->n_loops, ==, n == 2 ? 2 : 0); /* two inverters remember: one choice in each of two worlds */
    g_assert_cmpuint (pm_bound_n_loops (b->bound), ==, 1);
  }
}

static void
test_latch (void)
{
  /* /S /R, then what Q can be; from the table of a NAND latch */
  static const struct {
    PmSourceValue s, r;
    const char *q;
  } rows[] = {
      {PM_SOURCE_HIGH, PM_SOURCE_HIGH, "L H"},
      {PM_SOURCE_LOW, PM_SOURCE_HIGH, "H"},
      {PM_SOURCE_HIGH, PM_SOURCE_LOW, "L"},
      {PM_SOURCE_LOW, PM_SOURCE_LOW, "H"},
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autoptr (Bench) b = bench_new ();
    bench_source (b, "a", rows[i].s);
    bench_source (b, "e", rows[i].r);
    bench_part (b, T_NAND, "a b", "q");
    bench_part (b, T_NAND, "d e", "n");
    bench_join (b, "q d", PM_JOINT_CLOSED);
    bench_join (b, "n b", PM_JOINT_CLOSED);
    bench_expect (b, "q", rows[i].q);
    g_assert_false (b->never_settles);
  }
}

static void
test_gated_ring (void)
{
  g_autoptr (Bench) b = bench_new ();
  guint32 enable = bench_source (b, "a", PM_SOURCE_LOW);
  bench_part (b, T_NAND, "a b", "q");
  bench_join (b, "q b", PM_JOINT_CLOSED);
  bench_expect (b, "q", "H");
  g_assert_false (b->never_settles);
  b->state->sources[enable] = PM_SOURCE_HIGH;
  bench_expect (b, "q", "L H");
  g_assert_true (b->never_settles);
}

static void
test_bilateral (void)
{
  g_autoptr (Bench) b = bench_new ();
  guint32 control = bench_source (b, "E", PM_SOURCE_LOW);
  bench_source (b, "a", PM_SOURCE_HIGH);
  bench_part (b, T_CHANNEL, "E", "a~b");
  bench_expect (b, "b", "Z");
  b->state->sources[control] = PM_SOURCE_HIGH;
  bench_expect (b, "b", "H");
  b->state->sources[control] = PM_SOURCE_OFF;
  bench_expect (b, "b", "H Z");
  b->state->joints[0] = PM_JOINT_OPEN; /* forced, whatever the control */
  bench_expect (b, "b", "Z");
  b->state->joints[0] = PM_JOINT_CLOSED;
  bench_expect (b, "b", "H");

  g_autoptr (Bench) holds = bench_new ();
  bench_source (holds, "a", PM_SOURCE_HIGH);
  bench_part (holds, T_CHANNEL, "E", "a~b");
  bench_join (holds, "b E", PM_JOINT_CLOSED);
  bench_resistor (holds, "b", "0V", 10e3);
  bench_expect (holds, "b", "H l"); /* controlled by its own far side: remembers */
  g_assert_false (holds->never_settles);

  g_autoptr (Bench) never = bench_new ();
  bench_source (never, "a", PM_SOURCE_HIGH);
  bench_part (never, T_CHANNEL_LOW, "E", "a~b");
  bench_join (never, "b E", PM_JOINT_CLOSED);
  bench_resistor (never, "b", "0V", 10e3);
  g_free (bench_ask (never, "b"));
  g_assert_true (never->never_settles);
}

static void
test_channels (void)
{
  g_autoptr (Bench) dead = bench_new ();
  bench_part (dead, T_CHANNEL, "E", "a~b");
  bench_resistor (dead, "E", "+5V", 10e3);
  bench_join (dead, "b x", PM_JOINT_CLOSED);
  bench_expect (dead, "b ?x", "Z0 Z1"); /* a dead net behind a closed channel does not hold its level */

  g_autoptr (Bench) twice = bench_new ();
  bench_source (twice, "a", PM_SOURCE_HIGH);
  bench_part (twice, T_CHANNEL, "E", "a~b");
  bench_part (twice, T_CHANNEL, "E", "a~b");
  bench_resistor (twice, "E", "+5V", 10e3);
  bench_expect (twice, "b", "H"); /* no clash with itself through two channels */
}

/* One pole of a changeover: 0 at the old throw, 1 at the new one, 2 open, 3 both. */
static void
set_pole (Bench *b, guint32 old_joint, guint place)
{
  b->state->joints[old_joint] = place == 0 || place == 3 ? PM_JOINT_CLOSED : PM_JOINT_OPEN;
  b->state->joints[old_joint + 1] = place == 1 || place == 3 ? PM_JOINT_CLOSED : PM_JOINT_OPEN;
}

/* A two-pole changeover exchanges two selects. On its way, two drives answer one select without the outputs colliding
 * exactly where one pole is over and the other back (or one back and the other over). */
static void
test_changeover (void)
{
  for (guint poles = 0; poles < 16; poles++) {
    gboolean two = FALSE;
    for (guint select = 0; select < 2; select++) {
      g_autoptr (Bench) b = bench_new ();
      bench_source (b, "H0", select == 0 ? PM_SOURCE_LOW : PM_SOURCE_HIGH);
      bench_source (b, "H1", select == 1 ? PM_SOURCE_LOW : PM_SOURCE_HIGH);
      bench_join (b, "m0 H0 H1", PM_JOINT_OPEN);
      bench_join (b, "m1 H1 H0", PM_JOINT_OPEN);
      bench_join (b, "m0 I", PM_JOINT_CLOSED);
      bench_join (b, "m1 O", PM_JOINT_CLOSED);
      bench_resistor (b, "m0", "+5V", 1e3);
      bench_resistor (b, "m1", "+5V", 1e3);
      bench_input (b, "I", &LS);
      bench_input (b, "O", &LS);
      bench_bind (b);
      set_pole (b, 0, poles / 4);
      set_pole (b, 2, poles % 4);
      g_autofree char *answers = bench_ask (b, "?I ?O H0 H1");
      two |= strstr (answers, "00") == answers && strchr (answers, 'X') == NULL;
    }
    g_assert_cmpint (two, ==, poles == 1 || poles == 4);
  }
}

static void
test_dead_supply (void)
{
  for (guint pull = 0; pull < 2; pull++) {
    g_autoptr (Bench) b = bench_new ();
    guint32 rail = pm_circuit_add_rail (b->circuit, bench_place (b, "board"), 5);
    bench_source (b, "A", PM_SOURCE_HIGH);
    bench_resistor (b, "S", "board", 1e3);
    guint32 section = bench_section (b, T_SELECT, "S A B", "y", &LS, "board");
    bench_join (b, "y D", PM_JOINT_CLOSED);
    bench_input (b, "D", &LS);
    if (pull)
      bench_resistor (b, "D", "+5V", 1e3); /* by the drive's own supply */
    bench_bind (b);
    g_assert_true (pm_bound_powered (b->bound, section));
    b->state->rails[rail] = FALSE;
    bench_expect (b, "?S", "0"); /* the pull-up to a dead rail pulls down */
    bench_expect (b, "?D", pull ? "1" : "0 1");
    g_assert_false (pm_bound_powered (b->bound, section));
  }
}

/* An output without power that clamps: below a driver, above a resistor. */
static void
test_clamp (void)
{
  g_autoptr (Bench) b = bench_new ();
  guint32 source = bench_source (b, "y", PM_SOURCE_CLAMP);
  guint32 driver = bench_source (b, "y", PM_SOURCE_OFF);
  bench_resistor (b, "y", "+5V", 1e3);
  bench_join (b, "y x", PM_JOINT_CLOSED);
  bench_input (b, "x", &HCT);
  bench_expect (b, "y ?x", "c0");
  b->state->sources[driver] = PM_SOURCE_HIGH;
  bench_expect (b, "y ?x", "H1");
  b->state->sources[source] = PM_SOURCE_OFF;
  b->state->sources[driver] = PM_SOURCE_OFF;
  bench_expect (b, "y ?x", "h1");
}

static void
test_rails (void)
{
  g_autoptr (Bench) b = bench_new ();
  guint32 joint = bench_join (b, "x +5V", PM_JOINT_CLOSED);
  guint32 other = bench_join (b, "x 0V", PM_JOINT_OPEN);
  bench_input (b, "x", &HCT);
  bench_expect (b, "x ?x", "H1");
  g_assert_cmpuint (pm_bound_rails (b->bound, bench_place (b, "x")), ==, 1);
  b->state->rails[b->rail] = FALSE;
  bench_expect (b, "x ?x", "c0"); /* its other loads pull a dead rail down */
  b->state->rails[b->rail] = TRUE;
  b->state->joints[other] = PM_JOINT_CLOSED;
  bench_expect (b, "x ?x", "X0 X1"); /* rails joined */
  g_assert_cmpuint (pm_bound_rails (b->bound, bench_place (b, "x")), ==, 3);
  g_assert_cmpuint (pm_bound_net (b->bound, bench_place (b, "x")), ==, 0);
  b->state->joints[joint] = PM_JOINT_OPEN;
  b->state->rails[b->ground] = FALSE; /* a ground is never off */
  bench_expect (b, "x ?x", "L0");
}

static void
test_open_input (void)
{
  g_autoptr (Bench) b = bench_new ();
  bench_source (b, "A", PM_SOURCE_LOW);
  bench_source (b, "B", PM_SOURCE_HIGH);
  bench_section (b, T_SELECT, "S A B", "y", &LS, NULL);
  bench_expect (b, "?S y", "0L 1H"); /* read 1 is the world shown */
  g_assert_true (b->open_high);

  g_autoptr (Bench) loose = bench_new ();
  bench_part (loose, T_BUF, "a", "y");
  bench_expect (loose, "y", "L H");
  g_assert_false (loose->open_high); /* CMOS */
}

/* A flip-flop with an unknown start chooses which of two drives answers: exactly one, never both. */
static void
test_unknown_bit (void)
{
  g_autoptr (Bench) b = bench_new ();
  guint32 bit = pm_circuit_add_bit (b->circuit);
  bench_part (b, "q : Y\nX : q", "=0", "Q");
  bench_source (b, "h0", PM_SOURCE_LOW);
  bench_source (b, "h1", PM_SOURCE_HIGH);
  bench_join (b, "h0 A1 B2", PM_JOINT_CLOSED);
  bench_join (b, "h1 B1 A2", PM_JOINT_CLOSED);
  bench_join (b, "Q S1 S2", PM_JOINT_CLOSED);
  bench_part (b, T_SELECT, "S1 A1 B1", "y1");
  bench_part (b, T_SELECT, "S2 A2 B2", "y2");
  bench_expect (b, "y1 y2", "LH HL");
  g_assert_cmpuint (b->n_choices, ==, 1);
  b->state->bits[bit] = 0;
  bench_expect (b, "y1 y2", "LH");
}

static void
test_unknown_joint (void)
{
  g_autoptr (Bench) b = bench_new ();
  guint32 joint = bench_join (b, "a b", PM_JOINT_UNKNOWN);
  bench_source (b, "a", PM_SOURCE_LOW);
  bench_resistor (b, "b", "+5V", 1e3);
  bench_expect (b, "a b", "LL Lh");
  PmAsk ask = {PM_ASK_JOINT, joint};
  g_autofree char *answers = bench_sorted (b, &ask, 1, FALSE);
  g_assert_cmpstr (answers, ==, "0 1");
}

/* IEEE Std 1076-2008, std_logic_1164 package body, resolution_table, read 2008-04-10 source revision 1220: rows X 0 1 Z
 * L H. X is a clash of two drivers, L and H are resistors to 0 V and 5 V. L with H is the divider and not in the table.
 */
static void
test_resolution (void)
{
  static const char values[] = "X01ZLH", levels[] = "XLHZlh";
  static const char *const table[] = {"XXXXXX", "X0X000", "XX1111", "X01ZLH", "X01LL?", "X01H?H"};
  for (guint i = 0; i < 36; i++) {
    const char pair[] = {values[i / 6], values[i % 6]};
    char expected = table[i / 6][i % 6];
    g_autoptr (Bench) b = bench_new ();
    bench_place (b, "w");
    for (guint k = 0; k < 2; k++) {
      if (pair[k] == '0' || pair[k] == 'X')
        bench_source (b, "w", PM_SOURCE_LOW);
      if (pair[k] == '1' || pair[k] == 'X')
        bench_source (b, "w", PM_SOURCE_HIGH);
      if (pair[k] == 'L' || pair[k] == 'H')
        bench_resistor (b, "w", pair[k] == 'L' ? "0V" : "+5V", 10e3);
    }
    const char wanted[] = {expected == '?' ? 'h' : levels[strchr (values, expected) - values], '\0'};
    bench_expect (b, "w", wanted); /* two equal resistors: 2.5 V, above 2.0 */
  }
}

/* Reading of a receiver on a net with two resistors, and the net's Thevenin source. */
static void
test_resistors (void)
{
  static const PmReceiver hc45 = {1.35, 3.15, 0, 0, FALSE}, hc5 = {1.5, 3.5, 0, 0, FALSE};
  static const PmReceiver ttl = {0.8, 2.0, 1.6e-3, 40e-6, TRUE};
  static const struct {
    double up, down, dead; /* to +5 V, to 0 V, to a supply that is off; 0: none */
    const PmReceiver *receiver;
    double volts, ohms;
    const char *level, *reads;
  } rows[] = {
      /* Calculated from 5 V and the resistors. A dead 150 ohm terminator against a live 1 kohm: 5 * 150/1150 = 0.652 V
       */
      {1e3, 0, 150, &HCT, 0.652, 130.4, "l", "0"},
      {1e3, 0, 150, &LS, 0.652, 130.4, "l", "0"},
      /* 10 kohm down with one LS input, 0.4 mA at a low (SN74LS00, Motorola): 4 V, not low, and nothing makes it high
       */
      {0, 10e3, 0, &LS, 0, 10e3, "b", "0 1"},
      {0, 10e3, 0, &HCT, 0, 10e3, "l", "0"},
      {0, 1e3, 0, &LS, 0, 1e3, "l", "0"},
      /* 220/330 ohm: 3.0 V behind 132 ohm. High for TTL and HCT; not for HC, VIH 3.15 V at 4.5 V (textbook), 3.5 V at 5
         V (0.7 VCC) */
      {220, 330, 0, &ttl, 3.0, 132, "h", "1"},
      {220, 330, 0, &LS, 3.0, 132, "h", "1"},
      {220, 330, 0, &HCT, 3.0, 132, "h", "1"},
      {220, 330, 0, &hc45, 3.0, 132, "h", "0 1"},
      {220, 330, 0, &hc5, 3.0, 132, "h", "0 1"},
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autoptr (Bench) b = bench_new ();
    double volts, ohms;
    guint32 dead = pm_circuit_add_rail (b->circuit, bench_place (b, "dead"), 5);
    bench_input (b, "x", rows[i].receiver);
    if (rows[i].up > 0)
      bench_resistor (b, "x", "+5V", rows[i].up);
    if (rows[i].down > 0)
      bench_resistor (b, "x", "0V", rows[i].down);
    if (rows[i].dead > 0)
      bench_resistor (b, "x", "dead", rows[i].dead);
    bench_bind (b);
    b->state->rails[dead] = FALSE;
    bench_expect (b, "x", rows[i].level);
    bench_expect (b, "?x", rows[i].reads);
    g_assert_cmpint (b->open_high, ==, rows[i].receiver->open_high && rows[i].reads[1] != '\0');
    g_assert_true (pm_bound_thevenin (b->bound, bench_place (b, "x"), &volts, &ohms));
    g_assert_cmpfloat_with_epsilon (volts, rows[i].volts, 0.001);
    g_assert_cmpfloat_with_epsilon (ohms, rows[i].ohms, 0.1);
  }
}

static void
test_weak (void)
{
  g_autoptr (Bench) b = bench_new ();
  guint32 source = bench_source (b, "x", PM_SOURCE_WEAK_HIGH);
  bench_input (b, "x", &LS);
  bench_expect (b, "x ?x", "h1");
  b->state->sources[source] = PM_SOURCE_WEAK_LOW;
  bench_expect (b, "?x", "0 1"); /* 10 kohm does not hold an LS input low */
}

static void
test_unjudged (void)
{
  g_autoptr (Bench) b = bench_new ();
  guint32 source = bench_source (b, "a", PM_SOURCE_LOW);
  bench_resistor (b, "a", "x", 33);
  bench_input (b, "x", &HCT);
  bench_expect (b, "?x", "0 1"); /* a resistor in series is passed by, and said to be */
  g_assert_true (b->unjudged);
  bench_expect (b, "a", "L");
  g_assert_false (b->unjudged);
  b->state->sources[source] = PM_SOURCE_OFF;
  bench_expect (b, "a", "Z");
  g_assert_true (b->unjudged);
}

/* c17 of the ISCAS-85 set: 10 = NAND (1, 3), 11 = NAND (3, 6), 16 = NAND (2, 11), 19 = NAND (11, 7), 22 = NAND (10,
 * 16), 23 = NAND (16, 19), as several independent public copies have it. The rows, input order 1 2 3 6 7, are
 * calculated. */
static Bench *
c17_new (void)
{
  static const char *const gates[][3] = {{"1 3", "10"},  {"3 6", "11"},   {"2 11", "16"},
                                         {"11 7", "19"}, {"10 16", "22"}, {"16 19", "23"}};
  Bench *b = bench_new ();
  for (guint i = 0; i < 5; i++)
    bench_source (b, (const char *[]){"1", "2", "3", "6", "7"}[i], PM_SOURCE_FREE);
  for (guint i = 0; i < G_N_ELEMENTS (gates); i++)
    bench_part (b, T_NAND, gates[i][0], gates[i][1]);
  return b;
}

static void
test_c17 (void)
{
  static const char rows_22[] =
      "01000 01001 01010 01011 01100 01101 10100 10101 10110 10111 11000 11001 11010 11011 11100 11101 11110 11111";
  static const char rows_23[] =
      "00001 00011 00101 01000 01001 01010 01011 01100 01101 10001 10011 10101 11000 11001 11010 11011 11100 11101";
  g_autoptr (Bench) b = c17_new ();
  g_autofree char *answers = bench_ask (b, "1 2 3 6 7 22 23");
  g_assert_cmpuint (b->n_worlds, ==, 32);
  g_auto (GStrv) list = g_strsplit (answers, " ", -1);
  g_autoptr (GString) high_22 = g_string_new (NULL), high_23 = g_string_new (NULL);
  for (guint i = 0; list[i] != NULL; i++) {
    for (guint k = 0; k < 5; k++)
      list[i][k] = list[i][k] == 'H' ? '1' : '0';
    if (list[i][5] == 'H')
      g_string_append_printf (high_22, "%s%.5s", high_22->len > 0 ? " " : "", list[i]);
    if (list[i][6] == 'H')
      g_string_append_printf (high_23, "%s%.5s", high_23->len > 0 ? " " : "", list[i]);
  }
  g_assert_cmpstr (high_22->str, ==, rows_22);
  g_assert_cmpstr (high_23->str, ==, rows_23);
  g_assert_cmpuint (pm_bound_n_loops (b->bound), ==, 0);
}

/* A chain of XORs over n free sources. */
static Bench *
chain_new (guint n)
{
  Bench *b = bench_new ();
  bench_source (b, "p0", PM_SOURCE_LOW);
  for (guint i = 0; i < n; i++) {
    g_autofree char *source = g_strdup_printf ("s%u", i), *inputs = g_strdup_printf ("p%u s%u", i, i),
                    *output = g_strdup_printf ("p%u", i + 1);
    bench_source (b, source, PM_SOURCE_FREE);
    bench_part (b, T_XOR, inputs, output);
  }
  return b;
}

static gboolean
count_odd (const PmWorld *world, gpointer data)
{
  guint *counts = data;
  counts[world->answers[0] == PM_LEVEL_HIGH]++;
  return TRUE;
}

static gboolean
stop_at_third (const PmWorld *world, gpointer data)
{
  guint *counts = data;
  return ++counts[0] < 3;
}

static void
test_limits (void)
{
  g_autoptr (Bench) most = chain_new (16), over = chain_new (17);
  guint counts[2] = {0, 0}, stopped[2] = {0, 0};
  PmAsk ask = {PM_ASK_LEVEL, bench_place (most, "p16")};
  bench_bind (most);
  g_assert_cmpint (pm_worlds_each (most->bound, &ask, 1, count_odd, counts), ==, PM_WORLDS_DONE);
  g_assert_cmpuint (counts[0], ==, 32768);
  g_assert_cmpuint (counts[1], ==, 32768);
  g_assert_cmpint (pm_worlds_each (most->bound, &ask, 1, stop_at_third, stopped), ==, PM_WORLDS_STOPPED);
  g_assert_cmpuint (stopped[0], ==, 3);

  ask.index = bench_place (over, "p17");
  bench_bind (over);
  g_assert_cmpint (pm_worlds_each (over->bound, &ask, 1, count_odd, counts), ==, PM_WORLDS_NOT_DECIDED);
  ask.index = bench_place (over, "p16");
  g_assert_cmpint (pm_worlds_each (over->bound, &ask, 1, count_odd, counts), ==, PM_WORLDS_DONE);
}

/* Two transceivers across one bus: statically a loop, and with the direction known it is none. */
static void
test_transceivers (void)
{
  static const char two_way[] = "/E D A B : A' B'\nH X X X : Z Z\nL L X X : B Z\nL H X X : Z A";
  g_autoptr (Bench) b = bench_new ();
  guint32 from = bench_source (b, "D", PM_SOURCE_HIGH), to;
  bench_source (b, "/E", PM_SOURCE_LOW);
  guint32 left = bench_source (b, "A", PM_SOURCE_FREE);
  to = bench_source (b, "B", PM_SOURCE_OFF);
  bench_part (b, two_way, "/E D A B", "A B");
  bench_expect (b, "A B", "LL HH");
  g_assert_false (b->never_settles);
  b->state->sources[from] = PM_SOURCE_LOW;
  b->state->sources[left] = PM_SOURCE_OFF;
  b->state->sources[to] = PM_SOURCE_HIGH;
  bench_expect (b, "A B", "HH");
}

/* Left out, a section neither drives nor loads. */
static void
test_left_out (void)
{
  g_autoptr (Bench) b = bench_new ();
  bench_source (b, "a", PM_SOURCE_HIGH);
  guint32 section = bench_section (b, T_NOT, "a", "y", &LS, NULL);
  bench_expect (b, "y", "L");
  b->state->sections[section] = FALSE;
  bench_expect (b, "y", "Z");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/worlds/select", test_select);
  g_test_add_func ("/worlds/reads-its-cone", test_reads_its_cone);
  g_test_add_func ("/worlds/tied", test_tied);
  g_test_add_func ("/worlds/rings", test_rings);
  g_test_add_func ("/worlds/latch", test_latch);
  g_test_add_func ("/worlds/gated-ring", test_gated_ring);
  g_test_add_func ("/worlds/bilateral", test_bilateral);
  g_test_add_func ("/worlds/channels", test_channels);
  g_test_add_func ("/worlds/changeover", test_changeover);
  g_test_add_func ("/worlds/dead-supply", test_dead_supply);
  g_test_add_func ("/worlds/clamp", test_clamp);
  g_test_add_func ("/worlds/rails", test_rails);
  g_test_add_func ("/worlds/open-input", test_open_input);
  g_test_add_func ("/worlds/unknown-bit", test_unknown_bit);
  g_test_add_func ("/worlds/unknown-joint", test_unknown_joint);
  g_test_add_func ("/worlds/resolution", test_resolution);
  g_test_add_func ("/worlds/resistors", test_resistors);
  g_test_add_func ("/worlds/weak", test_weak);
  g_test_add_func ("/worlds/unjudged", test_unjudged);
  g_test_add_func ("/worlds/c17", test_c17);
  g_test_add_func ("/worlds/limits", test_limits);
  g_test_add_func ("/worlds/transceivers", test_transceivers);
  g_test_add_func ("/worlds/left-out", test_left_out);
  return g_test_run ();
}
