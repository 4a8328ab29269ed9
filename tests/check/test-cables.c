/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The straight and the twisted 34-way cable, conductor by conductor and drive by drive.
 *
 * Source: NAVEDTRA 14100 (Fire Controlman), chapter 10, table 10-7 and the text around it: "To select drive B, the
 * controller would enable pins 12 and 16 ... To select drive A, the controller enables pins 10 and 14. Because of the
 * twist, pin 10 is routed to pin 16 on drive A and pin 14 is routed to pin 12."  Pins at the machine: 10 motor A, 12
 * select B, 14 select A, 16 motor B. */
#include "boards-test.h"
#include "pm-check.h"
#include "pm-truth.h"
#include <string.h>

/* Drive A is Inside, at the end of the cable behind the twist; drive B is Outside, before it. */
static const char *const lines[] = {"MTR0", "SEL1", "SEL0", "MTR1"};    /* of pins 10, 12, 14, 16 at the machine */

/* Which line each of pins 10 12 14 16 of a drive is, as an index into lines. */
typedef struct { const char *file; guint inside[4], outside[4]; } Wiring;
static const Wiring wirings[] = {
  {"twisted-cable.board.xml", {3, 2, 1, 0}, {0, 1, 2, 3}},
  {"straight-cable.board.xml", {0, 1, 2, 3}, {0, 1, 2, 3}},
};

static guint32
place_of (const PmBoard *board, const char *format, guint pin)
{
  g_autofree char *name = g_strdup_printf (format, pin);
  guint32 place = pm_board_find_place (board, name);
  g_assert_cmpuint (place, !=, PM_NONE);
  return place;
}

/* Pin 1 to 34: the twist exchanges 10 and 16, 11 and 15, 12 and 14; every other conductor runs straight. */
static void
test_conductors (gconstpointer data)
{
  const Wiring *wiring = data;
  gboolean twisted = strstr (wiring->file, "twisted") != NULL;
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmBoard) board = boards_test_load (library, wiring->file);
  g_autoptr (PmTrial) trial = pm_trial_new (board, NULL, 0, PM_CASES_OF (PM_CASE_SETTING), NULL);
  PmBound *bound = pm_survey_bind (trial->survey, 1, 0);
  for (guint pin = 1; pin <= 34; pin++) {
    guint met = twisted && pin >= 10 && pin <= 16 ? 26 - pin : pin;
    guint32 inside = pm_bound_net (bound, place_of (board, "INSIDE.%u", pin)),
            outside = pm_bound_net (bound, place_of (board, "OUTSIDE.%u", pin));
    g_assert_cmpuint (inside, ==, pm_bound_net (bound, place_of (board, "host.JD.%u", met)));
    g_assert_cmpuint (outside, ==, pm_bound_net (bound, place_of (board, "host.JD.%u", pin)));
    for (guint other = 10; other <= 16; other += 2)
      if (pin % 2 == 0 && other != met)
        g_assert_cmpuint (inside, !=, pm_bound_net (bound, place_of (board, "host.JD.%u", other)));
  }
}

static gboolean
is_on (const PmTruth *truth, const PmTruthBlock *block, const PmTruthRow *row, const char *line)
{
  const PmBoard *board = truth->trial->board;
  const PmHostState *state = &g_array_index (truth->trial->survey->states, PmHostState, row->state);
  if (state->kind == PM_STATE_SINGLE && g_str_equal (board->host.units[state->unit].name, line))
    return TRUE;
  for (guint k = 0; k < block->n_lines; k++)
    if (g_str_equal (board->host.lines[block->lines[k]].name, line))
      return row->side >> k & 1; /* all four lines of the disk chip are on when high */
  return FALSE;
}

/* Each host state with each level of the motor lines: which of the drive's pins are low, and whether it answers. */
static void
test_levels (gconstpointer data)
{
  static const char *const names[] = {"INSIDE.10", "INSIDE.12", "INSIDE.14", "INSIDE.16", "INSIDE",
                                      "OUTSIDE.10", "OUTSIDE.12", "OUTSIDE.14", "OUTSIDE.16", "OUTSIDE", NULL};
  const Wiring *wiring = data;
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmBoard) board = boards_test_load (library, wiring->file);
  g_autoptr (PmTruth) truth = pm_truth_new (board, names, NULL, NULL);
  g_assert_cmpuint (truth->blocks->len, ==, 1);
  const PmTruthBlock *block = g_ptr_array_index (truth->blocks, 0);
  g_assert_cmpuint (block->n_lines, ==, 2);
  g_assert_cmpuint (block->rows->len, ==, 12); /* nothing, SEL0, SEL1, each with two motor lines */
  for (guint r = 0; r < block->rows->len; r++) {
    const PmTruthRow *row = &g_array_index (block->rows, PmTruthRow, r);
    for (guint drive = 0; drive < 2; drive++) {
      const guint *of = drive == 0 ? wiring->inside : wiring->outside;
      for (guint k = 0; k < 4; k++) {
        gboolean on = is_on (truth, block, row, lines[of[k]]);
        guint level =
            on ? PM_LEVEL_LOW : PM_LEVEL_PULLED_HIGH; /* open collectors; pull-ups on 12 and 16 of both drives */
        if (!on && row->cells[5 * drive + k].levels == 1u << PM_LEVEL_OFF)
          level = PM_LEVEL_OFF;
        g_assert_cmpuint (row->cells[5 * drive + k].levels, ==, 1u << level);
      }
      /* Both drives sit on the second select, pin 12. */
      g_assert_cmpuint (row->cells[5 * drive + 4].levels, ==,
                        1u << (is_on (truth, block, row, lines[of[1]]) ? PM_LEVEL_HIGH : PM_LEVEL_LOW));
    }
  }
}

/* Table 10-7, last step: which drive is selected with its motor on. */
static void
test_cells (void)
{
  static const struct { const char *file; guint unit, drive; PmAnswer answer; } cells[] = {
    {"twisted-cable.board.xml", 0, 0, PM_ANSWER_YES},    {"twisted-cable.board.xml", 0, 1, PM_ANSWER_NEVER},
    {"twisted-cable.board.xml", 1, 0, PM_ANSWER_NEVER},  {"twisted-cable.board.xml", 1, 1, PM_ANSWER_YES},
    {"straight-cable.board.xml", 0, 0, PM_ANSWER_NEVER}, {"straight-cable.board.xml", 0, 1, PM_ANSWER_NEVER},
    {"straight-cable.board.xml", 1, 0, PM_ANSWER_YES},   {"straight-cable.board.xml", 1, 1, PM_ANSWER_YES}};
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  for (guint i = 0; i < G_N_ELEMENTS (cells); i++) {
    g_autoptr (PmBoard) board = boards_test_load (library, cells[i].file);
    g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
    g_assert_cmpstr (board->drives[0].name, ==, "INSIDE");
    g_assert_cmpint (pm_check_cell (check, 1, cells[i].unit, cells[i].drive)->answer, ==, cells[i].answer);
    if (strstr (cells[i].file, "twisted") != NULL) { /* the motor of the drive goes along with its select */
      g_assert_cmpuint (check->cases[1].n_sides, >, 0);
      for (guint k = 0; k < check->cases[1].n_sides; k++)
        g_assert_cmpint (check->cases[1].sides[k].side, ==, PM_SIDE_FOLLOWS);
    }
  }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (wirings); i++) {
    g_autofree char *conductors = g_strdup_printf ("/check/cables/conductors/%s", wirings[i].file);
    g_autofree char *levels = g_strdup_printf ("/check/cables/levels/%s", wirings[i].file);
    g_test_add_data_func (conductors, &wirings[i], test_conductors);
    g_test_add_data_func (levels, &wirings[i], test_levels);
  }
  g_test_add_func ("/check/cables/cells", test_cells);
  return g_test_run ();
}
