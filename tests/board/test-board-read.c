/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What boards come to when they are read: places, joins, matings, switches, wanted; pin lists, cables, names, hash. */
#include "pm-board.h"

#include <math.h>
#include <string.h>

#define HEAD "<board xmlns=\"urn:x-pointsman:1\" title=\"T\">\n<host is=\"larkspur-40\"/>\n"
#define TAIL "</board>\n"
#define TOGGLE                                                                                                         \
  "<part name=\"S1\" is=\"toggle-spdt\"><position name=\"inside\" closes=\"2-1\"/><position name=\"outside\" "         \
  "closes=\"2-3\"/></part>\n"

static PmLibrary *library;

static PmBoard *
load (const char *text)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  PmBoard *board = pm_board_load_text ("test.board.xml", text, strlen (text), library, faults);

  for (guint i = 0; i < pm_faults_count (faults); i++) {
    g_autofree char *line = pm_fault_to_text (pm_faults_get (faults, i));
    g_test_message ("%s", line);
  }
  g_assert_nonnull (board);
  return board;
}

static PmBoard *
load_demo (const char *name)
{
  g_autofree char *file = g_strconcat (name, ".board.xml", NULL),
                  *path = g_build_filename (g_getenv ("POINTSMAN_DATA"), "boards", file, NULL);
  g_autoptr (PmFaults) faults = pm_faults_new ();
  PmBoard *board = pm_board_load (path, library, faults);

  g_assert_nonnull (board);
  return board;
}

static guint32
place (const PmBoard *board, const char *name)
{
  guint32 found = pm_board_find_place (board, name);

  if (found == PM_NONE)
    g_error ("no place %s", name);
  return found;
}

static guint
instance (const PmBoard *board, const char *ref)
{
  for (guint i = 0; i < board->n_instances; i++)
    if (g_str_equal (board->instances[i].ref, ref))
      return i;
  g_error ("no instance %s", ref);
}

/* "kind name: place place", as one text. */
static char *
join_text (const PmBoard *board, const PmJoin *join)
{
  static const char *const kinds[] = { "join", "wire", "supply", "through", "cut" };
  GString *text = g_string_new (kinds[join->kind]);

  if (join->name != NULL)
    g_string_append_printf (text, " %s", join->name);
  g_string_append_c (text, ':');
  for (guint i = 0; i < join->n_places; i++) {
    g_autofree char *name = pm_board_place_name (board, join->places[i]);
    g_string_append_printf (text, " %s", name);
  }
  return g_string_free (text, FALSE);
}

static guint
count_joins (const PmBoard *board, const char *wanted)
{
  guint n = 0;

  for (guint i = 0; i < board->n_joins; i++) {
    g_autofree char *text = join_text (board, &board->joins[i]);
    n += g_str_equal (text, wanted);
  }
  return n;
}

static void
assert_join (const PmBoard *board, const char *wanted)
{
  if (count_joins (board, wanted) == 1)
    return;
  for (guint i = 0; i < board->n_joins; i++) {
    g_autofree char *text = join_text (board, &board->joins[i]);
    g_test_message ("%s", text);
  }
  g_error ("not exactly one join: %s", wanted);
}

static const PmMating *
mating (const PmBoard *board, const char *a, const char *b, PmMatingWhen when)
{
  for (guint i = 0; i < board->n_matings; i++)
    if (g_str_equal (board->instances[board->matings[i].a].ref, a) &&
        g_str_equal (board->instances[board->matings[i].b].ref, b) && board->matings[i].when == when)
      return &board->matings[i];
  g_error ("%s is not plugged into %s", a, b);
}

static guint32
met_by (const PmPair *pairs, guint n, guint32 a)
{
  for (guint i = 0; i < n; i++)
    if (pairs[i].a == a)
      return pairs[i].b;
  return PM_NONE;
}

static void
assert_meets (const PmBoard *board, const PmMating *pairs, const char *a, const char *b)
{
  guint32 other = met_by (pairs->pairs, pairs->n_pairs, place (board, a));

  if (b == NULL)
    g_assert_cmpuint (other, ==, PM_NONE);
  else
    g_assert_cmpuint (other, ==, place (board, b));
}

static void
test_swap_instances (void)
{
  static const char *const order[] = { "U1",        "R1",       "C1",         "J3",         "S1",
                                       "X1",        "P1",       "host.U7",    "host.XU7",   "host.JI",
                                       "host.JE",   "host.RN1", "host.RN2",   "INSIDE",     "INSIDE.R1",
                                       "INSIDE.R2", "OUTSIDE",  "OUTSIDE.R1", "OUTSIDE.R2", "OUTSIDE.+5V" };
  g_autoptr (PmBoard) board = load_demo ("swap-by-chip");
  guint32 next = 0;

  g_assert_cmpuint (board->n_instances, ==, G_N_ELEMENTS (order));
  for (guint i = 0; i < board->n_instances; i++) {
    g_assert_cmpstr (board->instances[i].ref, ==, order[i]);
    g_assert_cmpuint (board->instances[i].first_place, ==, next);
    next += board->instances[i].part->n_pins;
  }
  g_assert_cmpuint (board->n_places, ==, next);
  g_assert_true (board->has_board);
  g_assert_cmpuint (board->socket, ==, 5);
  g_assert_cmpuint (board->plug, ==, 6);
  g_assert_cmpfloat (board->instances[1].value, ==, 10e3);
  g_assert_cmpfloat (board->instances[2].value, ==, 100e-9);
  g_assert_true (isnan (board->instances[0].value));
  g_assert_cmpint (board->instances[0].owner, ==, PM_OWNER_BOARD);
  g_assert_cmpint (board->instances[7].owner, ==, PM_OWNER_HOST);
  g_assert_cmpint (board->instances[17].owner, ==, PM_OWNER_DRIVE);
  g_assert_cmpuint (board->instances[17].owner_index, ==, 1);
}

/* Every place has one name, and the name leads back to it. */
static void
test_names (void)
{
  static const char *const boards[] = { "swap-by-chip",       "always-one",  "three-drive-rotary",
                                        "four-selects-coded", "motor-stays", "sixteen-settings" };

  for (guint b = 0; b < G_N_ELEMENTS (boards); b++) {
    g_autoptr (PmBoard) board = load_demo (boards[b]);
    for (guint32 i = 0; i < board->n_places; i++) {
      g_autofree char *name = pm_board_place_name (board, i);
      g_assert_cmpuint (pm_board_find_place (board, name), ==, i);
      const PmInstance *owner = &board->instances[pm_board_instance_of (board, i)];
      g_assert_true (i - owner->first_place < owner->part->n_pins);
    }
  }
  g_autoptr (PmBoard) board = load_demo ("swap-by-chip");
  g_assert_cmpuint (place (board, "SEL0:chip"), ==, place (board, "X1.11"));
  g_assert_cmpuint (place (board, "SEL1:machine"), ==, place (board, "P1.12"));
  g_assert_cmpuint (place (board, "U7.11"), ==, place (board, "host.U7.11"));
  g_assert_cmpuint (place (board, "U1.2"), ==, place (board, "U1.1A"));
  g_assert_cmpuint (pm_board_find_place (board, "R2.1"), ==, PM_NONE); /* both drives have one */
  g_assert_cmpuint (pm_board_find_place (board, "U1.17"), ==, PM_NONE);
  g_assert_cmpuint (pm_board_find_place (board, "SEL0:drive"), ==, PM_NONE);
  g_assert_cmpuint (pm_board_find_place (board, ""), ==, PM_NONE);
}

static void
test_swap_joins (void)
{
  g_autoptr (PmBoard) board = load_demo ("swap-by-chip");
  guint through = 0, cut = 0;

  assert_join (board, "join: X1.11 U1.1A U1.2B");
  assert_join (board, "join: U1.1Y P1.11");
  assert_join (board, "join choose: J3.2 U1.S R1.1");
  assert_join (board, "supply +5V: P1.20 R1.2 C1.1");
  assert_join (board, "supply 0V: P1.1 J3.1 C1.2 U1./G U1.3A U1.3B U1.4A U1.4B");
  assert_join (board, "supply +5V: P1.20 U1.VCC");
  assert_join (board, "supply 0V: P1.1 U1.GND");
  assert_join (board, "supply +5V: host.XU7.20 host.RN1.2 host.RN2.2");
  assert_join (board, "supply +5V: host.XU7.20 INSIDE.R1.2 INSIDE.R2.2");
  assert_join (board, "supply OUTSIDE +5V: OUTSIDE.+5V OUTSIDE.R1.2 OUTSIDE.R2.2");
  assert_join (board, "cut: P1.11 X1.11");
  assert_join (board, "cut: P1.12 X1.12");
  assert_join (board, "through: P1.14 X1.14");
  for (guint i = 0; i < board->n_joins; i++) {
    through += board->joins[i].kind == PM_JOIN_THROUGH;
    cut += board->joins[i].kind == PM_JOIN_CUT;
  }
  g_assert_cmpuint (through, ==, 38);
  g_assert_cmpuint (cut, ==, 2);
}

static void
test_swap_matings (void)
{
  g_autoptr (PmBoard) board = load_demo ("swap-by-chip");
  const PmMating *lead = mating (board, "S1", "J3", PM_MATING_ALWAYS);

  assert_meets (board, mating (board, "host.U7", "host.XU7", PM_MATING_WITHOUT_BOARD), "U7.11", "XU7.11");
  assert_meets (board, mating (board, "host.U7", "X1", PM_MATING_WITH_BOARD), "U7.40", "X1.40");
  assert_meets (board, mating (board, "P1", "host.XU7", PM_MATING_WITH_BOARD), "P1.1", "XU7.1");
  assert_meets (board, mating (board, "INSIDE", "host.JI", PM_MATING_ALWAYS), "INSIDE.10", "JI.10");
  g_assert_cmpuint (mating (board, "OUTSIDE", "host.JE", PM_MATING_ALWAYS)->n_pairs, ==, 34);
  g_assert_true (lead->removable);
  g_assert_true (lead->turns);
  g_assert_cmpuint (lead->leaves_out, ==, instance (board, "S1"));
  g_assert_cmpuint (lead->n_turned, ==, 3);
  g_assert_cmpuint (met_by (lead->turned, 3, place (board, "S1.1")), ==, place (board, "J3.3"));
  g_assert_cmpuint (met_by (lead->turned, 3, place (board, "S1.2")), ==, place (board, "J3.2"));
}

static void
test_swap_rest (void)
{
  g_autoptr (PmBoard) board = load_demo ("swap-by-chip");
  const PmHost *host = &board->host;

  g_assert_cmpstr (host->title, ==, "Larkspur 40");
  g_assert_cmpuint (host->n_units, ==, 2);
  g_assert_cmpstr (host->units[1].name, ==, "SEL1");
  g_assert_cmpuint (host->units[1].n_levels, ==, 1);
  g_assert_false (host->units[1].levels[0].high);
  g_assert_cmpuint (host->lines[0].place, ==, place (board, "U7.11"));
  g_assert_true (host->lines[0].asserted_low);
  g_assert_cmpint (host->lines[0].drives, ==, PM_LINE_PUSH_PULL);
  g_assert_true (host->lines[3].reads);
  g_assert_cmpuint (board->n_supplies, ==, 2);
  g_assert_cmpuint (board->n_rails, ==, 3);
  g_assert_cmpfloat (board->rails[0].volts, ==, 5);
  g_assert_cmpfloat (fabs (board->rails[0].tolerance - 0.05), <, 1e-12);
  g_assert_cmpfloat (board->rails[0].limit, ==, 0.5);
  g_assert_cmpuint (board->n_switches, ==, 3);
  g_assert_cmpstr (board->switches[0].title, ==, "Start from");
  g_assert_cmpint (board->switches[0].moved, ==, PM_MOVED_BY_HAND);
  g_assert_true (board->switches[0].stated);
  g_assert_cmpuint (board->switches[0].positions[1].pairs[0].b, ==, place (board, "S1.3"));
  g_assert_cmpint (board->switches[1].moved, ==, PM_MOVED_ONCE);
  g_assert_cmpint (board->switches[1].look, ==, PM_LOOK_JUMPER);
  g_assert_cmpuint (board->switches[1].positions[1].pairs[0].a, ==, place (board, "INSIDE.12"));
  g_assert_cmpuint (board->n_drives, ==, 2);
  g_assert_cmpuint (board->drives[1].jumper, ==, 2);
  g_assert_cmpuint (board->drives[1].supply, ==, 1);
  g_assert_cmpuint (board->drives[0].into, ==, instance (board, "host.JI"));
  g_assert_cmpuint (board->drives[0].answers[0].whens[0].place, ==, place (board, "INSIDE.select"));
  g_assert_cmpuint (board->n_wanted, ==, 3);
  g_assert_cmpuint (board->wanted[2].removed, ==, 0);
  g_assert_cmpint (board->wanted[2].positions[0], ==, -1);
  g_assert_cmpint (board->wanted[2].units[0].want, ==, PM_WANT_DRIVE);
  g_assert_cmpuint (board->wanted[2].units[0].drive, ==, 1);
}

static void
test_pin_lists (void)
{
  g_autoptr (PmBoard) board = load (
      HEAD
      "<part name=\"J1\" is=\"header 2x4\"/><part name=\"J2\" is=\"header 1x6\"/><part name=\"U1\" is=\"74LS157\"/>\n"
      "<join>J1.2..4 J2.1</join>\n"
      "<join>J1.odd,J2.2</join>\n"
      "<join>J1.even J2.3</join>\n"
      "<join name=\"all\">J2.all</join>\n"
      "<join>U1.1 U1.1Y</join>\n"
      "<join>J1.8..7 all</join>\n"
      "<join>-5V J1.1</join>\n"
      "<rail name=\"-5V\" volts=\"-5 V\"/>\n"
      "<join>JI.10 host.JE.12 INSIDE.R1.2 INSIDE.select</join>\n"
      "<wire from=\"U1.3\" to=\"J2.6\" colour=\"red\"/>\n"
      "<drive name=\"INSIDE\" is=\"drive-34-way\" into=\"internal\" jumper=\"first\"/>\n" TAIL);

  assert_join (board, "join: J1.2 J1.3 J1.4 J2.1");
  assert_join (board, "join: J1.1 J1.3 J1.5 J1.7 J2.2");
  assert_join (board, "join: J1.2 J1.4 J1.6 J1.8 J2.3");
  assert_join (board, "join all: J2.1 J2.2 J2.3 J2.4 J2.5 J2.6");
  assert_join (board, "join: U1.S U1.1Y");     /* all digits = number, not a name */
  assert_join (board, "join: J1.8 J1.7 J2.1"); /* backwards; a join's name is its first place */
  assert_join (board, "supply -5V: -5V J1.1"); /* a rail without a pin has a place of its own */
  assert_join (board, "join: host.JI.10 host.JE.12 INSIDE.R1.2 INSIDE.select");
  assert_join (board, "wire: U1.1B J2.6");
  assert_join (board, "supply +5V: host.XU7.20 U1.VCC"); /* it sits nowhere: the host's rail itself */
  g_assert_false (board->has_board);
  g_assert_cmpint (board->supplies[1].owner, ==, PM_SUPPLY_BOARD);
}

#define DRIVE(name, rest) "<drive name=\"" name "\" is=\"drive-34-way-second\" " rest "/>\n"

static void
test_cables (void)
{
  g_autoptr (PmBoard) board = load (HEAD "<cable name=\"W1\"><end at=\"internal\"/><end at=\"A\"/><end at=\"B\" "
                                         "crossed=\"10..16\"/><end at=\"C\" turned=\"yes\"/>"
                                         "<end at=\"D\" shifted=\"2\"/><end at=\"E\" shifted=\"-1\"/></cable>\n"
                                         "<cable name=\"W2\"><end at=\"external\" map=\"1..34-1..34\"/><end at=\"J2\" "
                                         "map=\"1-10 2-12 3..9-20..26\"/></cable>\n"
                                         "<part name=\"J2\" is=\"d-type-25\"/>\n" DRIVE ("A", "") DRIVE ("B", "")
                                             DRIVE ("C", "") DRIVE ("D", "") DRIVE ("E", "") TAIL);
  const PmMating *b = mating (board, "B", "W1", PM_MATING_ALWAYS), *d = mating (board, "D", "W1", PM_MATING_ALWAYS);
  const PmMating *w = mating (board, "W1", "host.JI", PM_MATING_ALWAYS),
                 *j = mating (board, "W2", "J2", PM_MATING_ALWAYS);
  /* The twist: 10<->16, 11<->15, 12<->14, 13 in place; classiccmp 1998, Wikipedia "Floppy disk drive interface". */
  static const char *const twist[][2] = { { "B.9", "W1.9" },   { "B.10", "W1.16" }, { "B.11", "W1.15" },
                                          { "B.12", "W1.14" }, { "B.13", "W1.13" }, { "B.14", "W1.12" },
                                          { "B.15", "W1.11" }, { "B.16", "W1.10" }, { "B.17", "W1.17" } };

  g_assert_cmpuint (board->instances[instance (board, "W1")].part->n_pins, ==, 34);
  assert_meets (board, w, "W1.10", "JI.10");
  assert_meets (board, mating (board, "A", "W1", PM_MATING_ALWAYS), "A.34", "W1.34");
  for (guint i = 0; i < G_N_ELEMENTS (twist); i++)
    assert_meets (board, b, twist[i][0], twist[i][1]);
  assert_meets (board, mating (board, "C", "W1", PM_MATING_ALWAYS), "C.1", "W1.34");
  assert_meets (board, mating (board, "C", "W1", PM_MATING_ALWAYS), "C.34", "W1.1");
  assert_meets (board, d, "D.10", "W1.12");
  assert_meets (board, d, "D.33", NULL);
  g_assert_cmpuint (d->n_pairs, ==, 32);
  assert_meets (board, mating (board, "E", "W1", PM_MATING_ALWAYS), "E.2", "W1.1");
  assert_meets (board, j, "W2.10", "J2.1");
  assert_meets (board, j, "W2.12", "J2.2");
  assert_meets (board, j, "W2.26", "J2.9");
  g_assert_cmpuint (j->n_pairs, ==, 9);
  g_assert_cmpuint (board->drives[1].into, ==, instance (board, "W1"));
}

/* Drive, machine and board in one cable: the cable's end moves onto the board. */
static void
test_sits_in_cable (void)
{
  g_autoptr (PmBoard) board = load_demo ("always-one");

  g_assert_cmpuint (mating (board, "W1", "host.JD", PM_MATING_WITHOUT_BOARD)->n_pairs, ==, 34);
  assert_meets (board, mating (board, "W1", "X1", PM_MATING_WITH_BOARD), "W1.10", "X1.10");
  assert_meets (board, mating (board, "P1", "host.JD", PM_MATING_WITH_BOARD), "P1.34", "JD.34");
  assert_join (board, "cut: P1.10 X1.10");
  assert_join (board, "through: P1.16 X1.16");
  g_assert_cmpuint (place (board, "RDY:drive"), ==, place (board, "X1.34"));
  g_assert_cmpuint (place (board, "RDY:machine"), ==, place (board, "P1.34"));
  /* The connector does not carry +5 V: the machine's rail itself; it carries 0 V on its odd pins. */
  assert_join (board, "supply +5V: host.U7.20 U1.VCC");
  assert_join (board, "supply 0V: P1.1 U1.GND");
}

static void
test_sits_at_drive (void)
{
  g_autoptr (PmBoard) board = load (
      HEAD
      "<sits into=\"B\" cuts=\"10\" socket=\"JB\" plug=\"JA\"/>\n"
      "<cable name=\"W1\"><end at=\"internal\"/><end at=\"A\"/><end at=\"B\" crossed=\"10..16\"/></cable>\n" DRIVE (
          "A", "") DRIVE ("B", "") TAIL);

  assert_meets (board, mating (board, "B", "W1", PM_MATING_WITHOUT_BOARD), "B.10", "W1.16");
  assert_meets (board, mating (board, "B", "JB", PM_MATING_WITH_BOARD), "B.10", "JB.10");
  assert_meets (board, mating (board, "JA", "W1", PM_MATING_WITH_BOARD), "JA.10", "W1.16");
  g_assert_cmpuint (mating (board, "A", "W1", PM_MATING_ALWAYS)->n_pairs, ==, 34);
  /* MTR is on conductor 16, which is pin 10 behind the twist. */
  g_assert_cmpuint (place (board, "MTR:machine"), ==, place (board, "JA.10"));
  assert_join (board, "cut: JA.10 JB.10");
}

/* A chip put in turned round: pin 1 of 16 where pin 9 was; so supply and ground change places (pins 7 and 14 of a
 * DIP-14: common practice, no source). */
static void
test_turned (void)
{
  g_autoptr (PmBoard) board =
      load (HEAD "<part name=\"U1\" is=\"74LS00\" into=\"X2\" turns=\"yes\"/><part name=\"X2\" is=\"socket-dip-14\"/>\n"
                 "<part name=\"J1\" is=\"header 2x3\"/><part name=\"J2\" is=\"header 2x3\" into=\"J1\"/>\n"
                 "<part name=\"J3\" is=\"box-header-10\"/><part name=\"J4\" is=\"box-header-10\" into=\"J3\"/>\n"
                 "<join>X2.14 +5V</join>\n" TAIL);
  const PmMating *chip = mating (board, "U1", "X2", PM_MATING_ALWAYS),
                 *rows = mating (board, "J2", "J1", PM_MATING_ALWAYS);

  g_assert_cmpuint (met_by (chip->turned, chip->n_turned, place (board, "U1.14")), ==, place (board, "X2.7"));
  g_assert_cmpuint (met_by (chip->turned, chip->n_turned, place (board, "U1.1")), ==, place (board, "X2.8"));
  g_assert_cmpuint (met_by (rows->turned, rows->n_turned, place (board, "J2.1")), ==, place (board, "J1.6"));
  g_assert_false (mating (board, "J4", "J3", PM_MATING_ALWAYS)->turns);
  /* VCC has its supply through the socket that the file joins; GND is not joined and gets 0 V by itself. */
  assert_join (board, "supply 0V: host.XU7.1 U1.GND");
  g_assert_cmpuint (count_joins (board, "supply +5V: host.XU7.20 U1.VCC"), ==, 0);
}

static void
test_switches (void)
{
  g_autoptr (PmBoard) board = load (
      HEAD "<part name=\"S1\" is=\"toggle-dpdt-middle\" usual=\"up\"><position name=\"up\" closes=\"2-3\"/><position "
           "name=\"down\" closes=\"1-2\"/></part>\n"
           "<part name=\"S2\" is=\"rotary 2x6\" moved=\"once\" contacts=\"make-first\" while=\"running\"><position "
           "name=\"b\" closes=\"A-A2\"/>"
           "<position name=\"a\" closes=\"A-A1 B-B1\"/></part>\n"
           "<part name=\"JP1\" is=\"jumper\"/><part name=\"JP2\" is=\"jumper\" usual=\"any\"/>\n"
           "<drive name=\"A\" is=\"drive-34-way\" into=\"internal\" jumper=\"DS1\"/><drive name=\"B\" "
           "is=\"drive-34-way\" into=\"external\"/>"
           "<drive name=\"C\" is=\"drive-34-way\" into=\"external\" jumper=\"any\"/>" DRIVE ("D", "into=\"external\"")
               TAIL);
  const PmSwitch *s = board->switches;

  g_assert_cmpuint (board->n_switches, ==, 7);
  /* A middle position that the file leaves out is still there, in its place along the lever, from the side the file
   * began. */
  g_assert_cmpuint (s[0].n_positions, ==, 3);
  g_assert_cmpstr (s[0].positions[0].name, ==, "up");
  g_assert_cmpstr (s[0].positions[1].name, ==, "middle");
  g_assert_cmpstr (s[0].positions[2].name, ==, "down");
  g_assert_cmpuint (s[0].positions[0].n_pairs, ==, 2); /* the other pole moves along */
  g_assert_cmpuint (s[0].usual, ==, 0);
  /* A rotary has only the positions that are named, in the order of its throws from the side the file began. */
  g_assert_cmpuint (s[1].n_positions, ==, 2);
  g_assert_cmpstr (s[1].positions[0].name, ==, "b");
  g_assert_cmpuint (s[1].positions[0].n_pairs, ==, 2);
  g_assert_cmpint (s[1].moved, ==, PM_MOVED_ONCE);
  g_assert_cmpint (s[1].look, ==, PM_LOOK_ROTARY);
  g_assert_cmpint (s[1].contacts, ==, PM_CONTACTS_MAKE_FIRST);
  g_assert_true (s[1].while_running);
  g_assert_false (s[1].stated);
  g_assert_cmpint (s[2].moved, ==, PM_MOVED_ONCE);
  g_assert_false (s[2].stated);
  g_assert_true (s[3].any);
  /* Drives: by what is printed; not stated; any; without a jumper. */
  g_assert_cmpuint (s[4].usual, ==, 1);
  g_assert_true (s[4].stated);
  g_assert_false (s[5].stated);
  g_assert_cmpuint (s[5].usual, ==, 0);
  g_assert_true (s[6].any);
  g_assert_cmpuint (board->drives[3].jumper, ==, PM_NONE);
}

static void
test_wanted (void)
{
  g_autoptr (PmBoard) board =
      load (HEAD TOGGLE "<part name=\"JP1\" is=\"jumper\" usual=\"on\"/>\n" DRIVE ("A", "into=\"internal\"") DRIVE (
          "B", "into=\"external\"") "<wanted>SEL1=any</wanted>\n"
                                    "<wanted setting=\"inside\">SEL0=A 1=none</wanted>\n"
                                    "<wanted setting=\"S1=outside, on\" like=\"inside\" without=\"motor "
                                    "change\">SEL1=B</wanted>\n"
                                    "<never setting=\"outside off\" because=\"it does not fit\"/>\n"
                                    "<accept finding=\"position-not-stated\" at=\"JP1.1\" why=\"soldered\"/>\n" TAIL);
  const PmWanted *w = board->wanted;

  g_assert_cmpuint (board->n_wanted, ==, 3);
  g_assert_cmpint (w[0].positions[0], ==, -1);
  g_assert_cmpint (w[0].units[0].want, ==, PM_WANT_NOT_STATED);
  g_assert_cmpint (w[0].units[1].want, ==, PM_WANT_ANY);
  g_assert_cmpint (w[1].positions[0], ==, 0);
  g_assert_cmpint (w[1].units[1].want, ==, PM_WANT_NOTHING);
  g_assert_cmpint (w[2].positions[0], ==, 1);
  g_assert_cmpint (w[2].positions[1], ==, 1);
  g_assert_cmpuint (w[2].units[0].drive, ==, 0);
  g_assert_cmpint (w[2].units[1].want, ==, PM_WANT_DRIVE);
  g_assert_cmpuint (w[2].units[1].drive, ==, 1);
  g_assert_cmpstr (w[2].without[1], ==, "change");
  g_assert_cmpuint (board->n_nevers, ==, 1);
  g_assert_cmpint (board->nevers[0].positions[1], ==, 0);
  g_assert_cmpstr (board->accepts[0].why, ==, "soldered");
}

static void
test_hosts (void)
{
  g_autoptr (PmBoard) coded = load_demo ("four-selects-coded"), latched = load_demo ("sixteen-settings"),
                      one = load_demo ("always-one");
  g_autoptr (PmBoard) row = load_demo ("three-drive-rotary"), twisted = load_demo ("motor-stays");

  g_assert_cmpuint (coded->host.n_units, ==, 4);
  g_assert_cmpstr (coded->host.units[2].name, ==, "select 2");
  g_assert_cmpuint (coded->host.units[2].n_levels, ==, 3);
  g_assert_true (coded->host.units[2].levels[1].high);
  g_assert_true (latched->host.lines[2].latched_select);
  g_assert_cmpint (latched->host.lines[0].in_reset, ==, PM_REST_LOW);
  g_assert_true (latched->host.lines[0].in_reset_stated);
  g_assert_true (one->host.always_one);
  g_assert_cmpstr (one->host.units[0].name, ==, "SEL0");
  g_assert_cmpstr (row->host.units[1].needs[0], ==, "ready");
  g_assert_cmpstr (row->host.units[1].needs[1], ==, "identity");
  g_assert_null (row->host.units[0].needs);
  /* A motor line of a unit is no select. */
  g_assert_cmpuint (twisted->host.n_units, ==, 2);
  g_assert_cmpint (twisted->host.lines[2].unit, ==, 0);
  g_assert_cmpuint (twisted->host.units[0].n_levels, ==, 1);
}

/* Definitions inside a board come before files, and a packed board is the same board. */
static void
test_packed (void)
{
  static const char *const own[] = { "hosts/larkspur-40.host.xml", "parts/74157.part.xml", "families/HCT.family.xml",
                                     "drives/drive-34-way-second.drive.xml", "parts/header.part.xml" };
  const char *body =
      "<part name=\"U1\" is=\"74HCT157\"/><part name=\"J1\" is=\"header 1x3\"/><join>U1.1Y J1.2</join>\n" DRIVE (
          "A", "into=\"internal\"");
  g_autofree char *loose = g_strconcat (HEAD, body, TAIL, NULL),
                  *spaced = g_strconcat (HEAD "<!-- remark -->\n\n", body, TAIL, NULL);
  g_autofree char *changed = g_strconcat (HEAD, body, "<join>U1.2Y J1.3</join>", TAIL, NULL);
  GString *packed = g_string_new (HEAD);

  g_string_append (packed, body);
  for (guint i = 0; i < G_N_ELEMENTS (own); i++) {
    g_autofree char *path = g_build_filename (g_getenv ("POINTSMAN_DATA"), own[i], NULL), *text = NULL;
    g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
    g_string_append (packed, strstr (text, "<?xml") == text ? strchr (text, '\n') : text);
  }
  g_string_append (packed, TAIL);
  g_autoptr (PmBoard) a = load (loose), b = load (spaced), c = load (packed->str), d = load (changed);
  g_assert_cmpuint (strlen (a->hash), ==, 8);
  g_assert_cmpstr (a->hash, ==, b->hash);
  g_assert_cmpstr (a->hash, ==, c->hash);
  g_assert_cmpstr (a->hash, !=, d->hash);
  g_assert_cmpuint (a->n_places, ==, c->n_places);
  g_assert_cmpuint (c->files->len, <, a->files->len);
  g_assert_true (g_str_has_suffix (g_ptr_array_index (a->files, 0), "/test.board.xml"));
  g_string_free (packed, TRUE);
}

static void
test_setup (void)
{
  g_autoptr (PmBoard) board = load ("<board xmlns=\"urn:x-pointsman:1\"><setup is=\"larkspur-40-two-drives\"/>" TOGGLE
                                    "<join>S1.2 JI.10</join></board>");

  g_assert_cmpstr (board->host.name, ==, "larkspur-40");
  g_assert_cmpuint (board->n_drives, ==, 2);
  g_assert_cmpuint (board->drives[1].supply, ==, 1);
}

/* Foreign elements and attributes are passed by. */
static void
test_foreign (void)
{
  g_autoptr (PmBoard) board = load ("<p:board xmlns:p=\"urn:x-pointsman:1\" xmlns:x=\"urn:x\" xmlns=\"urn:y\" "
                                    "x:at=\"1\"><x:deep><p:part name=\"U1\"/></x:deep><part/>"
                                    "<p:host is=\"larkspur-40\" xml:lang=\"en\"/><![CDATA[ ]]></p:board>");

  g_assert_cmpuint (board->n_drives, ==, 0);
  g_assert_cmpstr (board->instances[0].ref, ==, "host.U7");
}

static void
test_types (void)
{
  static const struct {
    const char *is, *part, *family;
    guint pins;
  } types[] = {
    { "74HCT157", "74157", "HCT", 16 },
    { "SN74LS157N", "74157", "LS", 16 },
    { "74157", "74157", "std", 16 },
    { "DM7400", "7400", "std", 14 },
    { "74ls00", "7400", "LS", 14 },
    { "CD4053BE", "4053", "4000B", 16 },
    { "4066", "4066", "4000B", 14 },
    { "MC14053BCP", "4053", "4000B", 16 },
    { "74HC4053", "4053", "HC", 16 },
    { "SN74CBT3257PW", "3257", "CBT", 16 },
    { "7474", "7474", "std", 14 },
    { "HEF4066UBP", "4066", "4000B", 14 },
    { "header 2x17", "header 2x17", NULL, 34 },
    { "socket-dip-40", "socket-dip-40", NULL, 40 },
    { "rotary 4x6", "rotary 4x6", NULL, 28 },
    { "network 8x1k", "network", NULL, 9 },
    { "network 4x220 isolated", "network", NULL, 8 },
    { "resistor 4k7", "resistor", NULL, 2 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (types); i++) {
    g_autoptr (PmFaults) faults = pm_faults_new ();
    const PmFamily *family = NULL;
    double value = NAN;
    const PmPart *part = pm_library_part (library, NULL, types[i].is, &family, &value, (PmSpot){ "x", 0, 0 }, faults);
    g_assert_nonnull (part);
    g_assert_cmpstr (part->name, ==, types[i].part);
    g_assert_cmpstr (family != NULL ? family->name : NULL, ==, types[i].family);
    g_assert_cmpuint (part->n_pins, ==, types[i].pins);
    if (g_str_equal (types[i].part, "network"))
      g_assert_cmpfloat (value, ==, types[i].pins == 9 ? 1000 : 220);
  }
}

/* Two loads of an LS157's select, one of an HCT157's; 7438 sinks what its sheet says and not what the family does
 * (Fairchild DS006513). */
static void
test_limits (void)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  const PmFamily *ls = NULL, *driver = NULL,
                 *std = pm_library_family (library, NULL, "std", (PmSpot){ "x", 0, 0 }, faults);
  const PmPart *a = pm_library_part (library, NULL, "74LS157", &ls, NULL, (PmSpot){ "x", 0, 0 }, faults);
  const PmPart *b = pm_library_part (library, NULL, "74HCT157", NULL, NULL, (PmSpot){ "x", 0, 0 }, faults);
  const PmPart *c = pm_library_part (library, NULL, "7438", &driver, NULL, (PmSpot){ "x", 0, 0 }, faults);

  g_assert_cmpuint (a->pins[pm_part_pin (a, "S")].loads, ==, 2);
  g_assert_cmpuint (b->pins[pm_part_pin (b, "S")].loads, ==, 1);
  g_assert_true (ls->bipolar);
  g_assert_cmpfloat (std->iol, ==, 16e-3);
  g_assert_cmpfloat (driver->iol, ==, 48e-3);
  g_assert_cmpfloat (driver->receiver.iil, ==, std->receiver.iil);
  g_assert_cmpint (c->pins[pm_part_pin (c, "1Y")].role, ==, PM_PIN_OUTPUT);
  g_assert_cmpint (c->pins[pm_part_pin (c, "VCC")].role, ==, PM_PIN_SUPPLY);
}

static void
test_faults (void)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  static const char *const names[] = { "inside", "outside", "middle" };
  const char *a = g_intern_string ("a"), *b = g_intern_string ("b");
  static const char *const types[] = { "74HCT175", "74HCT51", "74HCT157" };
  static const char *const wanted[] = { "a:2: second", "a:7 and 9: third", "b: first", "b:1: fourth" };

  pm_faults_add (faults, (PmSpot){ a, 7, 9 }, "%s", "third");
  pm_faults_add (faults, (PmSpot){ b, 1, 0 }, "fourth");
  pm_faults_add (faults, (PmSpot){ a, 2, 0 }, "second");
  pm_faults_add (faults, (PmSpot){ b, 0, 0 }, "first");
  pm_faults_sort (faults);
  for (guint i = 0; i < G_N_ELEMENTS (wanted); i++) {
    g_autofree char *text = pm_fault_to_text (pm_faults_get (faults, i));
    g_assert_cmpstr (text, ==, wanted[i]);
  }
  for (guint i = 0; i < 1000; i++)
    pm_faults_add (faults, (PmSpot){ a, 5, 0 }, "more");
  g_assert_cmpuint (pm_faults_count (faults), ==, PM_FAULTS_MAX);
  g_assert_cmpuint (pm_faults_found (faults), ==, 1004);
  g_assert_cmpstr (pm_nearest ("outsde", names, 3), ==, "outside");
  g_assert_cmpstr (pm_nearest ("INSIDE", names, 3), ==, "inside");
  g_assert_cmpstr (pm_nearest ("insdie", names, 3), ==, "inside");
  g_assert_null (pm_nearest ("elsewhere", names, 3));
  g_assert_cmpstr (pm_nearest ("74HCT571", types, 3), ==, "74HCT157"); /* one digit moved */
  g_assert_null (pm_nearest ("", names, 3));
  g_assert_null (pm_nearest ("x", names, 0));
}

static void
test_find (void)
{
  g_autofree char *looked = NULL, *none = NULL;
  g_autofree char *path = pm_library_find (library, "/tmp", "larkspur-40", "host", &looked);
  g_auto (GStrv) families = pm_library_list (library, "family");

  g_assert_true (g_str_has_suffix (path, "/hosts/larkspur-40.host.xml"));
  g_assert_null (looked);
  g_assert_null (pm_library_find (library, "/tmp", "../hosts/larkspur-40", "host", &none));
  g_assert_nonnull (strstr (none, "/tmp"));
  g_assert_true (g_strv_contains ((const char *const *)families, "HCT"));
  for (guint i = 1; families[i] != NULL; i++)
    g_assert_cmpstr (families[i - 1], <, families[i]);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  library = pm_library_new (NULL);
  g_test_add_func ("/swap/instances", test_swap_instances);
  g_test_add_func ("/swap/joins", test_swap_joins);
  g_test_add_func ("/swap/matings", test_swap_matings);
  g_test_add_func ("/swap/rest", test_swap_rest);
  g_test_add_func ("/names", test_names);
  g_test_add_func ("/pin-lists", test_pin_lists);
  g_test_add_func ("/cables", test_cables);
  g_test_add_func ("/sits/in-cable", test_sits_in_cable);
  g_test_add_func ("/sits/at-drive", test_sits_at_drive);
  g_test_add_func ("/turned", test_turned);
  g_test_add_func ("/switches", test_switches);
  g_test_add_func ("/wanted", test_wanted);
  g_test_add_func ("/hosts", test_hosts);
  g_test_add_func ("/packed", test_packed);
  g_test_add_func ("/setup", test_setup);
  g_test_add_func ("/foreign", test_foreign);
  g_test_add_func ("/library/types", test_types);
  g_test_add_func ("/library/limits", test_limits);
  g_test_add_func ("/library/find", test_find);
  g_test_add_func ("/faults", test_faults);
  int result = g_test_run ();
  pm_library_free (library);
  return result;
}
