/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the probe finds at pins: a board worked out by hand, and every demo board against what its check says. */
#include "boards-test.h"
#include "pm-finding-kinds.h"
#include "pm-probe.h"

static PmLibrary *library;

static guint
case_named (const PmCheck *check, const char *name)
{
  for (guint i = 0; i < check->n_cases; i++)
    if (g_strcmp0 (check->cases[i].name, name) == 0)
      return i;
  g_error ("no case %s", name);
}

static guint
state_named (const PmProbe *probe, const char *name)
{
  for (guint s = 0; s < pm_probe_n_states (probe); s++)
    if (g_strcmp0 (pm_probe_state_name (probe, s), name) == 0)
      return s;
  g_error ("no state %s", name);
}

/* Selector chip: S low passes A, S high passes B (function table of the 74157: National DS006396).  Section 1 has SEL0
 * at A and SEL1 at B, section 2 the other way round; selects are on when low. */
static void
test_by_hand (void)
{
  static const struct { const char *setting, *state, *place, *mark; } rows[] = {
    {"inside", "nothing", "SEL0:chip", "1"},   {"inside", "SEL0", "SEL0:chip", "0"},
    {"inside", "SEL0", "U1.S", "0"},           {"inside", "SEL0", "U1.1Y", "0"},
    {"inside", "SEL0", "U1.2Y", "1"},          {"inside", "SEL0", "U1.3A", "0"},
    {"inside", "SEL0", "U1.3Y", "0"},          {"inside", "SEL0", "INSIDE.select", "0"},
    {"inside", "SEL0", "OUTSIDE.select", "1"}, {"inside", "SEL0", "U1.VCC", "1"},
    {"outside", "SEL0", "U1.S", "1"},          {"outside", "SEL0", "U1.1Y", "1"},
    {"outside", "SEL0", "U1.2Y", "0"},         {"outside", "SEL0", "J3.1", "0"},
    {"outside", "SEL0", "J3.3", "1"},          {"outside", "SEL1", "U1.1Y", "0"},
    {"outside", "SEL0 and SEL1", "U1.1Y", "0"},
  };
  g_autoptr (PmBoard) board = boards_test_load (library, "swap-by-chip.board.xml");
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  g_autoptr (PmProbe) probe = pm_probe_new (check);
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    guint32 place = pm_board_find_place (board, rows[i].place);
    g_assert_cmpuint (place, !=, PM_NONE);
    pm_probe_set (probe, case_named (check, rows[i].setting), state_named (probe, rows[i].state));
    g_test_message ("%s, %s, %s", rows[i].setting, rows[i].state, rows[i].place);
    g_assert_cmpstr (pm_flag_mark (pm_probe_flag (probe, place)), ==, rows[i].mark);
  }
  pm_probe_set (probe, case_named (check, "outside"), state_named (probe, "SEL0"));
  for (guint d = 0; d < board->n_drives; d++)
    g_assert_cmpint (pm_probe_answers (probe, d), ==, g_str_equal (board->drives[d].name, "OUTSIDE"));
  g_assert_true (pm_probe_state_is_plain (probe, state_named (probe, "SEL1")));
  g_assert_false (pm_probe_state_is_plain (probe, state_named (probe, "SEL0 and SEL1")));
}

static guint
unit_of_state (const PmCheck *check, const PmProbe *probe, guint state)
{
  for (guint u = 0; u < check->board->host.n_units; u++)
    if (g_str_equal (check->board->host.units[u].name, pm_probe_state_name (probe, state)))
      return u;
  return PM_NONE;
}

static gboolean
rails_joined (const PmCheck *check, guint c)
{
  for (guint i = 0; i < check->cases[c].findings->len; i++)
    if (check->findings[g_array_index (check->cases[c].findings, guint, i)].kind == PM_FINDING_RAILS_JOINED)
      return TRUE;
  return FALSE;
}

/* Lamps hold to the cells of the check; clashes stand where the check says that outputs collide.  With the rails joined
 * every level is chance, and nothing else is judged. */
static void
compare (const PmCheck *check, PmProbe *probe, guint c)
{
  const PmBoard *board = check->board;
  for (guint s = 0; s < pm_probe_n_states (probe); s++) {
    guint u = unit_of_state (check, probe, s);
    pm_probe_set (probe, c, s);
    if (u == PM_NONE)
      continue;
    gboolean clash = FALSE;
    for (guint32 place = 0; place < board->n_places; place++)
      clash |= pm_probe_flag (probe, place) == PM_FLAG_CLASH;
    if (clash && !rails_joined (check, c))
      g_assert_true (check->cases[c].collides[u]);
    for (guint d = 0; d < board->n_drives; d++) {
      PmAnswer answer = pm_check_cell (check, c, u, d)->answer;
      if (answer == PM_ANSWER_YES)
        g_assert_cmpint (pm_probe_answers (probe, d), ==, 1);
      if (answer == PM_ANSWER_NEVER)
        g_assert_cmpint (pm_probe_answers (probe, d), ==, 0);
    }
  }
}

static void
test_boards (void)
{
  g_auto (GStrv) names = boards_test_names ();
  for (guint i = 0; names[i] != NULL; i++) {
    g_autoptr (PmBoard) board = boards_test_load (library, names[i]);
    g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
    g_autoptr (PmProbe) probe = pm_probe_new (check);
    for (guint c = 0; c < check->n_cases; c++) {
      g_test_message ("%s, %s", names[i], check->cases[c].name);
      if (check->cases[c].kind <= PM_CASE_SETTING)
        compare (check, probe, c);
      else { /* every flag can be asked in every variation */
        pm_probe_set (probe, c, 0);
        for (guint32 place = 0; place < board->n_places; place += 7)
          g_assert_cmpint (pm_probe_flag (probe, place), <, PM_N_FLAGS);
      }
    }
  }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  library = pm_library_new (NULL);
  g_test_add_func ("/probe/by-hand", test_by_hand);
  g_test_add_func ("/probe/boards", test_boards);
  int result = g_test_run ();
  pm_library_free (library);
  return result;
}
