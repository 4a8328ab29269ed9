/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fuzz target: text as a board, with the library that the environment names.  What loads must keep every promise of
 * pm-board.h; what does not must say why. */
#include "fuzz.h"

#include "pm-board.h"

#include <string.h>

/* Where nothing lies beside it. */
#define PATH "/nowhere/fuzz.board.xml"

static void
check_place (const PmBoard *board, guint32 place)
{
  g_assert_cmpuint (place, <, board->n_places);
}

static void
check_place_or_none (const PmBoard *board, guint32 place)
{
  if (place != PM_NONE)
    check_place (board, place);
}

static void
check_instances (const PmBoard *board)
{
  guint32 place = 0;

  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *instance = &board->instances[i];
    g_assert_nonnull (instance->ref);
    g_assert_nonnull (instance->part);
    g_assert_cmpuint (instance->first_place, ==, place);
    place += instance->part->n_pins;
  }
  g_assert_cmpuint (place, ==, board->n_places);
  for (place = 0; place < board->n_places; place++) {
    g_autofree char *name = pm_board_place_name (board, place);
    guint i = pm_board_instance_of (board, place);
    g_assert_nonnull (name);
    g_assert_cmpuint (i, <, board->n_instances);
    g_assert_cmpuint (place - board->instances[i].first_place, <, board->instances[i].part->n_pins);
  }
}

static void
check_joins (const PmBoard *board)
{
  for (guint i = 0; i < board->n_joins; i++) {
    const PmJoin *join = &board->joins[i];
    g_assert_cmpuint (join->kind, <, PM_N_JOINS);
    for (guint k = 0; k < join->n_places; k++)
      check_place (board, join->places[k]);
    if (join->kind == PM_JOIN_THROUGH || join->kind == PM_JOIN_CUT)
      g_assert_cmpuint (join->n_places, ==, 2);
  }
  for (guint i = 0; i < board->n_matings; i++) {
    const PmMating *mating = &board->matings[i];
    g_assert_cmpuint (mating->a, <, board->n_instances);
    g_assert_cmpuint (mating->b, <, board->n_instances);
    for (guint k = 0; k < mating->n_pairs; k++) {
      check_place (board, mating->pairs[k].a);
      check_place (board, mating->pairs[k].b);
    }
    for (guint k = 0; k < mating->n_turned; k++) {
      check_place (board, mating->turned[k].a);
      check_place (board, mating->turned[k].b);
    }
    if (mating->leaves_out != PM_NONE)
      g_assert_cmpuint (mating->leaves_out, <, board->n_instances);
  }
}

static void
check_switches (const PmBoard *board)
{
  for (guint i = 0; i < board->n_switches; i++) {
    const PmSwitch *s = &board->switches[i];
    g_assert_nonnull (s->name);
    g_assert_nonnull (s->title);
    g_assert_cmpuint (s->n_positions, >, 0);
    g_assert_cmpuint (s->usual, <, s->n_positions);
    g_assert_cmpuint (s->instance, <, board->n_instances);
    if (s->mating != PM_NONE)
      g_assert_cmpuint (s->mating, <, board->n_matings);
  }
  for (guint i = 0; i < board->n_rails; i++) {
    g_assert_cmpuint (board->rails[i].supply, <, board->n_supplies);
    for (guint k = 0; k < board->rails[i].n_places; k++)
      check_place (board, board->rails[i].places[k]);
  }
}

static void
check_host (const PmBoard *board)
{
  const PmHost *host = &board->host;

  for (guint i = 0; i < host->n_lines; i++) {
    g_assert_nonnull (host->lines[i].name);
    check_place_or_none (board, host->lines[i].place);
    for (guint k = 0; k < i; k++)
      g_assert_cmpstr (host->lines[i].name, !=, host->lines[k].name);
  }
  for (guint i = 0; i < host->n_units; i++) {
    g_assert_nonnull (host->units[i].name);
    for (guint k = 0; k < host->units[i].n_levels; k++)
      g_assert_cmpuint (host->units[i].levels[k].line, <, host->n_lines);
    for (guint k = 0; k < i; k++) {
      g_assert_cmpstr (host->units[i].name, !=, host->units[k].name);
      g_assert_cmpuint (host->units[i].number, >, host->units[k].number);
    }
  }
  for (guint i = 0; i < host->n_nevers; i++)
    for (guint k = 0; k < host->nevers[i].n_units; k++)
      g_assert_cmpuint (host->nevers[i].units[k], <, host->n_units);
}

static void
check_drives (const PmBoard *board)
{
  for (guint i = 0; i < board->n_drives; i++) {
    const PmDrive *drive = &board->drives[i];
    g_assert_nonnull (drive->name);
    g_assert_cmpuint (drive->instance, <, board->n_instances);
    g_assert_cmpuint (drive->supply, <, board->n_supplies);
    if (drive->jumper != PM_NONE)
      g_assert_cmpuint (drive->jumper, <, board->n_switches);
    if (drive->into != PM_NONE)
      g_assert_cmpuint (drive->into, <, board->n_instances);
    for (guint k = 0; k < drive->n_answers; k++)
      for (guint w = 0; w < drive->answers[k].n_whens; w++)
        check_place (board, drive->answers[k].whens[w].place);
    for (guint k = 0; k < drive->n_needs; k++)
      check_place_or_none (board, drive->needs[k].place);
    for (guint k = 0; k < drive->n_gives; k++)
      check_place_or_none (board, drive->gives[k].place);
  }
}

static void
check_positions (const PmBoard *board, const int *positions)
{
  for (guint i = 0; i < board->n_switches; i++)
    g_assert_true (positions[i] >= -1 && positions[i] < (int) board->switches[i].n_positions);
}

static void
check_settings (const PmBoard *board)
{
  for (guint i = 0; i < board->n_wanted; i++) {
    const PmWanted *wanted = &board->wanted[i];
    check_positions (board, wanted->positions);
    if (wanted->removed != PM_NONE)
      g_assert_cmpuint (wanted->removed, <, board->n_switches);
    for (guint k = 0; k < board->host.n_units; k++)
      if (wanted->units[k].want == PM_WANT_DRIVE)
        g_assert_cmpuint (wanted->units[k].drive, <, board->n_drives);
  }
  for (guint i = 0; i < board->n_nevers; i++)
    check_positions (board, board->nevers[i].positions);
  for (guint i = 0; i < board->n_accepts; i++)
    g_assert_nonnull (board->accepts[i].finding);
}

static void
check_faults (const PmFaults *faults)
{
  g_assert_cmpuint (pm_faults_count (faults), >, 0);
  for (guint i = 0; i < pm_faults_count (faults); i++) {
    g_autofree char *text = pm_fault_to_text (pm_faults_get (faults, i));
    g_assert_true (g_utf8_validate (text, -1, NULL));
    g_assert_cmpuint (strlen (text), >, 0);
  }
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  /* One for all inputs, which is faster, and what one input makes of it must not harm the next. */
  static PmLibrary *library;
  g_autoptr (PmFaults) faults = pm_faults_new ();

  if (library == NULL)
    library = pm_library_new (NULL);
  g_autoptr (PmBoard) board = pm_board_load_text (PATH, (const char *) data, size, library, faults);

  if (board == NULL) {
    check_faults (faults);
    return 0;
  }
  g_assert_cmpuint (pm_faults_count (faults), ==, 0);
  g_assert_nonnull (board->title);
  g_assert_cmpuint (strlen (board->hash), ==, 8);
  check_instances (board);
  check_joins (board);
  check_switches (board);
  check_host (board);
  check_drives (board);
  check_settings (board);
  return 0;
}
