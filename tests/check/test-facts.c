/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Published facts, put to whole boards: figures of resistors on a line, function tables of chips, a switch on its way.
 */
#include "check-text.h"
#include "pm-raw.h"

#include <string.h>

#define LOW (1u << PM_LEVEL_LOW)
#define HIGH (1u << PM_LEVEL_HIGH)
#define EITHER (LOW | HIGH)

typedef struct { PmLibrary *library; PmBoard *board; PmTrial *trial; } Bench;

static const char host_head[] =
  "<board xmlns='urn:x-pointsman:1' title='Bench'><host name='bench' title='Bench'>"
  "<part name='U7' is='mini-chip' title='chip'/>"
  "<line name='SEL0' does='select' unit='0' asserted='low' drives='push-pull' family='std' in-reset='high' at='U7.1'/>"
  "<line name='I0' does='first' asserted='low' drives='push-pull' family='std' in-reset='high' at='U7.2'/>"
  "<line name='I1' does='second' asserted='low' drives='push-pull' family='std' in-reset='high' at='U7.3'/>"
  "<line name='I2' does='third' asserted='low' drives='push-pull' family='std' in-reset='high' at='U7.4'/>"
  "<line name='I3' does='fourth' asserted='low' drives='push-pull' family='std' in-reset='high' at='U7.5'/>"
  "<rail name='+5V' volts='5.0 ±5 %' at='U7.14'/><rail name='0V' volts='0' at='U7.7'/></host>";

static char *
cases_path (const char *file)
{
  return g_build_filename (g_getenv ("G_TEST_SRCDIR"), "check", "cases", file, NULL);
}

/* body: what stands in the board beside the host; own files are those of cases/. */
static Bench *
bench_new (const char *head, const char *body)
{
  g_autofree char *path = cases_path ("bench.board.xml"), *text = g_strconcat (head, body, "</board>", NULL);
  g_autoptr (PmFaults) faults = pm_faults_new ();
  Bench *bench = g_new0 (Bench, 1);
  bench->library = pm_library_new (NULL);
  bench->board = pm_board_load_text (path, text, strlen (text), bench->library, faults);
  for (guint i = 0; i < pm_faults_count (faults); i++)
    g_test_message ("%s", pm_faults_get (faults, i)->message);
  g_assert_nonnull (bench->board);
  bench->trial = pm_trial_new (bench->board, NULL, 0, PM_CASES_ALL, NULL);
  return bench;
}

static void
bench_free (Bench *bench)
{
  pm_trial_free (bench->trial);
  pm_board_free (bench->board);
  pm_library_free (bench->library);
  g_free (bench);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Bench, bench_free)

/* Levels (bit per PmLevel) that a place may be at in the first setting with nothing selected; inputs: bit k of levels
 * is line Ik. */
static guint
levels_at (Bench *bench, const char *place, guint n_inputs, guint levels)
{
  guint32 forced[4];
  guint8 values[4];
  guint mask = 0;
  PmSurvey *survey = bench->trial->survey;
  for (guint k = 0; k < n_inputs; k++)
    for (guint l = 0; l < bench->board->host.n_lines; l++)
      if (bench->board->host.lines[l].name[0] == 'I' && bench->board->host.lines[l].name[1] == (char) ('0' + k)) {
        forced[k] = pm_survey_line_source (survey, l);
        values[k] = (guint8) pm_survey_value_at (levels >> k & 1);
      }
  PmAsk ask = {PM_ASK_LEVEL, pm_board_find_place (bench->board, place)};
  g_assert_cmpuint (ask.index, !=, PM_NONE);
  g_autoptr (GArray) out = g_array_new (FALSE, FALSE, sizeof (PmSeen));
  g_assert_true (pm_survey_ask (survey, 1, pm_survey_state (survey, PM_STATE_IDLE, 0), forced, values, n_inputs, FALSE,
                                &ask, 1, out));
  for (guint i = 0; i < out->len; i++)
    mask |= 1u << g_array_index (out, PmSeen, i).answers[0];
  return mask;
}

/* ---- function tables */

/* Select, strobe: National DS006396; NXP 74HC_HCT157 Rev 7 table 3. */
static void
test_157 (void)
{
  static const char *const sections[4][3] = {
      {"1A", "1B", "1Y"}, {"2A", "2B", "2Y"}, {"3A", "3B", "3Y"}, {"4A", "4B", "4Y"}};
  for (guint s = 0; s < 4; s++) {
    g_autofree char *body =
        g_strdup_printf ("<part name='U1' is='74LS157'/><join>U7.2 U1./G</join><join>U7.3 U1.S</join>"
                         "<join>U7.4 U1.%s</join><join>U7.5 U1.%s</join>",
                         sections[s][0], sections[s][1]);
    g_autofree char *y = g_strconcat ("U1.", sections[s][2], NULL);
    g_autoptr (Bench) bench = bench_new (host_head, body);
    for (guint i = 0; i < 16; i++) {
      gboolean strobe = i & 1, select = i >> 1 & 1, a = i >> 2 & 1, b = i >> 3 & 1;
      g_assert_cmpuint (levels_at (bench, y, 4, i), ==, !strobe && (select ? b : a) ? HIGH : LOW);
    }
  }
}

/* /G high: all high; else only output 2B + A is low: published logic-test vectors. */
static void
test_139 (void)
{
  for (guint s = 1; s <= 2; s++) {
    g_autofree char *body = g_strdup_printf (
        "<part name='U1' is='74LS139'/><join>U7.2 U1.%u/G</join><join>U7.3 U1.%uA</join><join>U7.4 U1.%uB</join>", s, s,
        s);
    g_autoptr (Bench) bench = bench_new (host_head, body);
    for (guint i = 0; i < 8; i++)
      for (guint y = 0; y < 4; y++) {
        g_autofree char *place = g_strdup_printf ("U1.%uY%u", s, y);
        g_assert_cmpuint (levels_at (bench, place, 3, i), ==, !(i & 1) && y == i >> 1 ? LOW : HIGH);
      }
  }
}

/* Preset and clear; at rest it remembers, so either level may be met: Fairchild DM74LS74A DS006373. */
static void
test_74 (void)
{
  g_autoptr (Bench) bench =
      bench_new (host_head, "<part name='U1' is='74LS74'/><join>U7.2 U1.1/PRE</join><join>U7.3 U1.1/CLR</join>"
                            "<join>0V U1.1D U1.1CLK U1.2D U1.2CLK</join><join>+5V U1.2/PRE U1.2/CLR</join>");
  static const struct {
    guint in, q, not_q;
  } rows[] = {{2, HIGH, LOW}, {1, LOW, HIGH}, {0, HIGH, HIGH}, {3, EITHER, EITHER}};
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) { /* bit 0 preset, bit 1 clear */
    g_assert_cmpuint (levels_at (bench, "U1.1Q", 2, rows[i].in), ==, rows[i].q);
    g_assert_cmpuint (levels_at (bench, "U1.1/Q", 2, rows[i].in), ==, rows[i].not_q);
  }
}

/* Q and /Q are never alike while it rests: an exclusive-or of both is high in every world. */
static void
test_74_both (void)
{
  g_autoptr (Bench) bench = bench_new (
      host_head, "<part name='U1' is='74LS74'/><part name='U2' is='74LS86'/><join>U1.1Q U2.1A U2.2A "
                 "U2.2B</join><join>U1.1/Q U2.1B</join>"
                 "<join>0V U1.1D U1.1CLK U1.2D U1.2CLK</join><join>+5V U1.1/PRE U1.1/CLR U1.2/PRE U1.2/CLR</join>");
  g_assert_cmpuint (levels_at (bench, "U1.1Q", 0, 0), ==, EITHER);
  g_assert_cmpuint (levels_at (bench, "U2.1Y", 0, 0), ==, HIGH);
  g_assert_cmpuint (levels_at (bench, "U2.2Y", 0, 0), ==, LOW); /* one net of unknown but valid level */
}

/* An exclusive-or with a loose pin is low or high; its table: published logic-test vectors. */
static void
test_86_loose (void)
{
  g_autoptr (Bench) bench =
      bench_new (host_head, "<part name='U1' is='74HC86'/><join>U7.2 U1.1A U1.2A</join><join>U7.3 U1.2B</join>");
  for (guint i = 0; i < 4; i++) {
    g_assert_cmpuint (levels_at (bench, "U1.1Y", 2, i), ==, EITHER);
    g_assert_cmpuint (levels_at (bench, "U1.2Y", 2, i), ==, (i & 1) != (i >> 1) ? HIGH : LOW);
  }
}

/* ---- resistors on a line */

/* TRUE if the output at place is said not to reach a low. */
static gboolean
low_is_told (Bench *bench, const char *place)
{
  for (guint i = 0; i < bench->trial->raws->len; i++) {
    const PmRaw *raw = &g_array_index (bench->trial->raws, PmRaw, i);
    if (raw->kind == PM_FINDING_LOW_NOT_REACHED && raw->place == pm_board_find_place (bench->board, place))
      return TRUE;
  }
  return FALSE;
}

/* A line with resistors to +5 V, pulled low by U1.1Y, read by one LS or standard input. */
static gboolean
too_much_for (const char *chip, const char *receiver, guint n_resistors, const char *ohms)
{
  g_autoptr (GString) body = g_string_new (NULL);
  g_string_append_printf (
      body, "<part name='U1' is='%s'/><part name='U2' is='%s'/><join>U7.2 U1.1A U1.1B</join><join>U1.1Y U2.1A</join>",
      chip, receiver);
  for (guint i = 0; i < n_resistors; i++)
    g_string_append_printf (body, "<part name='R%u' is='resistor %s'/><join>U1.1Y R%u.1</join><join>+5V R%u.2</join>",
                            i, ohms, i, i);
  g_autoptr (Bench) bench = bench_new (host_head, body->str);
  return low_is_told (bench, "U1.1Y");
}

/* Pull-up window of the open-collector sheets (National DM74LS12 TL/F/6351, DM7438 DS006513): Rmin = (VCC(max) - VOL) /
 * (IOL - IIL). 7438 against one standard input 104.5 ohm, against one LS input 101.9; an 8 mA LS output 625. */
static void
test_window (void)
{
  g_assert_false (too_much_for ("7438", "7404", 1, "150"));
  g_assert_false (too_much_for ("7438", "74LS04", 1, "150"));
  g_assert_true (too_much_for ("74LS03", "74LS04", 1, "150"));
  g_assert_true (too_much_for ("7438", "7404", 1, "103"));
  g_assert_true (too_much_for ("7438", "74LS04", 1, "101"));
  g_assert_false (too_much_for ("7438", "7404", 1, "106"));
  g_assert_false (too_much_for ("7438", "74LS04", 1, "103"));
  g_assert_true (too_much_for ("74LS03", "74LS04", 1, "610"));
  g_assert_false (too_much_for ("74LS03", "74LS04", 1, "640"));
}

/* 150 ohm take 30.7 mA, two packs of them 61.3 mA, above 48; 1 k 4.6 mA, two 9.2 mA, above 8 (Ohm's law at 0.4 V). */
static void
test_packs (void)
{
  g_assert_false (too_much_for ("7438", "74LS04", 1, "150"));
  g_assert_true (too_much_for ("7438", "74LS04", 2, "150"));
  g_assert_false (too_much_for ("74LS03", "74LS04", 1, "1k"));
  g_assert_true (too_much_for ("74LS03", "74LS04", 2, "1k"));
}

/* One output on n inputs of inverters, or on the selects of n selectors (is_select). */
static gboolean
too_many_for (const char *driver, const char *receiver, guint n, gboolean is_select)
{
  g_autoptr (GString) body = g_string_new (NULL);
  g_string_append_printf (body, "<part name='U1' is='%s'/><join>U7.2 U1.1A</join>", driver);
  for (guint i = 0; i < n; i++) {
    if (is_select || i % 6 == 0)
      g_string_append_printf (body, "<part name='V%u' is='%s'/>", is_select ? i : i / 6, receiver);
    if (is_select)
      g_string_append_printf (body, "<join>U1.1Y V%u.S</join>", i);
    else
      g_string_append_printf (body, "<join>U1.1Y V%u.%uA</join>", i / 6, i % 6 + 1);
  }
  g_autoptr (Bench) bench = bench_new (host_head, body->str);
  return low_is_told (bench, "U1.1Y");
}

/* How many inputs an output can pull low: unit loads of Motorola (LS output 10/5 of 1.6 mA) and Philips (F 33), the
 * textbook's LS 20 and standard 10; the select of an LS157 is two LS loads (DS006396). */
static void
test_fan_out (void)
{
  static const struct {
    const char *driver, *receiver;
    guint       most;
    gboolean    is_select;
  } rows[] = {{"74LS04", "7404", 5, FALSE},     {"74LS04", "74LS04", 20, FALSE},  {"7404", "7404", 10, FALSE},
              {"74S04", "74S04", 10, FALSE},    {"74F04", "74F04", 33, FALSE},    {"74ALS04", "74ALS04", 80, FALSE},
              {"74LS04", "74LS157", 10, TRUE}};
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_assert_false (too_many_for (rows[i].driver, rows[i].receiver, rows[i].most, rows[i].is_select));
    g_assert_true (too_many_for (rows[i].driver, rows[i].receiver, rows[i].most + 1, rows[i].is_select));
  }
}

/* The lowest high of one family against what another needs: LS to HC fails (2.7 against 3.15 V), LS to HCT, HC to LS do
 * not (limits as in the family files; margins: textbook table 16.1 and a sum). */
static void
test_margins (void)
{
  static const struct {
    const char *driver, *receiver;
    gboolean    fails;
  } rows[] = {{"74LS04", "74LS04", FALSE},  {"7404", "7404", FALSE},     {"74LS04", "74HC04", TRUE},
              {"7404", "74HC04", TRUE},     {"74LS04", "74HCT04", FALSE}, {"74HC04", "74LS04", FALSE},
              {"74HCT04", "74HC04", FALSE}, {"74LS04", "74AC04", TRUE},  {"74LS04", "74ACT04", FALSE}};
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autofree char *body = g_strdup_printf ("<part name='U1' is='%s'/><part name='U2' is='%s'/>"
                                             "<join>U7.2 U1.1A</join><join>U1.1Y U2.1A</join>",
                                             rows[i].driver, rows[i].receiver);
    g_autoptr (Bench) bench = bench_new (host_head, body);
    gboolean told = FALSE;
    for (guint r = 0; r < bench->trial->raws->len; r++) {
      const PmRaw *raw = &g_array_index (bench->trial->raws, PmRaw, r);
      told |= raw->kind == PM_FINDING_HIGH_NOT_ENOUGH && raw->place == pm_board_find_place (bench->board, "U1.1Y");
      told |= raw->kind == PM_FINDING_HIGH_NOT_ENOUGH && raw->place2 == pm_board_find_place (bench->board, "U1.1Y");
    }
    g_assert_cmpint (told, ==, rows[i].fails);
  }
}

/* 220 ohm up and 330 ohm down: 3.0 V behind 132 ohm: a high for TTL and HCT, not for HC (3.15 V). */
static void
test_thevenin (void)
{
  static const struct {
    const char *chip;
    guint levels;
  } rows[] = {{"74LS04", LOW}, {"7404", LOW}, {"74HCT04", LOW}, {"74HC04", EITHER}};
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autofree char *body = g_strdup_printf (
        "<part name='U1' is='7438'/><part name='U2' is='%s'/><part name='R1' is='resistor 220'/><part name='R2' "
        "is='resistor 330'/>"
        "<join>U7.2 U1.1A U1.1B</join><join>U1.1Y U2.1A R1.1 R2.1</join><join>+5V R1.2</join><join>0V R2.2</join>",
        rows[i].chip);
    g_autoptr (Bench) bench = bench_new (host_head, body);
    g_assert_cmpuint (levels_at (bench, "U2.1Y", 1, 0), ==, rows[i].levels); /* the driver lets go */
    g_assert_cmpuint (levels_at (bench, "U2.1Y", 1, 1), ==, HIGH);
    g_assert_false (low_is_told (bench, "U1.1Y")); /* 19.7 mA */
  }
}

/* 10 k to 0 V and one LS input, which gives 0.4 mA: 4 V by this sum, no low (nor a sure high); 330 ohm: 0.13 V, a low.
 * A CMOS input draws nothing: 10 k do (VIL 0.8 V and IIL of Motorola SN74LS00, FAST AND LS TTL DATA 5-2). */
static void
test_pull_down (void)
{
  static const struct {
    const char *chip, *ohms;
    guint       levels;
  } rows[] = {{"74LS04", "10k", EITHER}, {"74LS04", "330", HIGH}, {"74LS04", "1k", HIGH},
              {"74HCT04", "10k", HIGH}, {"74HC04", "10k", HIGH}};
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autofree char *body = g_strdup_printf ("<part name='U1' is='%s'/><part name='R1' is='resistor %s'/>"
                                             "<join>U1.1A R1.1</join><join>0V R1.2</join>",
                                             rows[i].chip, rows[i].ohms);
    g_autoptr (Bench) bench = bench_new (host_head, body);
    g_assert_cmpuint (levels_at (bench, "U1.1Y", 0, 0), ==, rows[i].levels);
  }
}

/* ---- a switch on its way */

/* Contacts that break first: in each state between the ends, two drives on one select only with one pole over and the
 * other back. So of seven states one puts both on SEL0, one both on SEL1. */
static void
test_dpdt (void)
{
  g_autofree char *path = cases_path ("contacts-running-break.board.xml");
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmBoard) board = check_text_load (path, library);
  g_autoptr (PmTrial) trial = pm_trial_new (board, NULL, 0, PM_CASES_ALL, NULL);
  guint moving = 1;
  while (((PmCaseSpec *) g_ptr_array_index (trial->cases->specs, moving))->kind != PM_CASE_MOVING)
    moving++;
  const PmCaseSpec *spec = g_ptr_array_index (trial->cases->specs, moving);
  g_assert_cmpuint (spec->bindings->len, ==, 7);
  guint both[2] = {0, 0};
  for (guint b = 0; b < spec->bindings->len; b++)
    for (guint u = 0; u < 2; u++) {
      guint32 lamps = 0;
      guint s = pm_survey_state (trial->survey, PM_STATE_SINGLE, u);
      g_autoptr (GPtrArray) only = g_ptr_array_new ();
      g_autoptr (GArray) out = g_array_new (FALSE, FALSE, sizeof (PmSeen));
      PmCaseSpec one = *spec;
      g_ptr_array_add (only, g_ptr_array_index (spec->bindings, b));
      one.bindings = only;
      gpointer *slot = &g_ptr_array_index (trial->cases->specs, moving);
      *slot = &one;
      g_assert_true (pm_survey_ask (trial->survey, moving, s, NULL, NULL, 0, FALSE, NULL, 0, out));
      *slot = (gpointer) spec;
      for (guint i = 0; i < out->len; i++)
        lamps |= g_array_index (out, PmSeen, i).lamps;
      both[u] += lamps == 3;
    }
  g_assert_cmpuint (both[0], ==, 1);
  g_assert_cmpuint (both[1], ==, 1);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/facts/157", test_157);
  g_test_add_func ("/facts/139", test_139);
  g_test_add_func ("/facts/74", test_74);
  g_test_add_func ("/facts/74-both", test_74_both);
  g_test_add_func ("/facts/86-loose", test_86_loose);
  g_test_add_func ("/facts/pull-up-window", test_window);
  g_test_add_func ("/facts/packs", test_packs);
  g_test_add_func ("/facts/fan-out", test_fan_out);
  g_test_add_func ("/facts/margins", test_margins);
  g_test_add_func ("/facts/220-330", test_thevenin);
  g_test_add_func ("/facts/pull-down", test_pull_down);
  g_test_add_func ("/facts/dpdt-on-its-way", test_dpdt);
  return g_test_run ();
}
