/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fuzz target: text as a board, and whatever loads is checked.  Odd boards get findings, never a crash, and every index
 * of what comes out is in range. */
#include "fuzz.h"

#include "pm-check.h"

#include <string.h>

#define PATH "/nowhere/fuzz.board.xml"

static void
check_cases (const PmCheck *check)
{
  const PmBoard *board = check->board;

  g_assert_cmpuint (check->n_cases, >, check->n_settings);
  g_assert_cmpuint (check->usual, <, check->n_cases);
  for (guint i = 0; i < check->n_cases; i++) {
    const PmCaseResult *result = &check->cases[i];
    g_assert_nonnull (result->name);
    g_assert_nonnull (result->verdict);
    g_assert_cmpuint (result->setting, <, check->n_cases);
    for (guint k = 0; k < board->n_switches; k++)
      g_assert_true (result->positions[k] >= -1 && result->positions[k] < (int) board->switches[k].n_positions);
    for (guint k = 0; k < board->host.n_units * board->n_drives; k++)
      g_assert_cmpuint (result->cells[k].answer, <, PM_N_ANSWERS);
    for (guint k = 0; k < board->n_drives; k++)
      g_assert_cmpuint (result->marks[k], <, PM_N_DRIVE_MARKS);
    for (guint k = 0; k < result->findings->len; k++)
      g_assert_cmpuint (g_array_index (result->findings, guint, k), <, check->n_findings);
    for (guint unit = 0; unit < board->host.n_units; unit++) {
      g_autofree char *text = pm_check_reach_text (check, i, unit);
      g_assert_nonnull (text);
    }
  }
}

static void
check_findings (const PmCheck *check)
{
  guint counts[PM_N_SEVERITIES] = { 0 };

  for (guint i = 0; i < check->n_findings; i++) {
    const PmFinding *finding = &check->findings[i];
    counts[finding->severity]++;
    g_assert_true (g_utf8_validate (finding->title, -1, NULL));
    g_assert_nonnull (finding->identity);
    g_assert_cmpuint (finding->case_index, <, check->n_cases);
    g_assert_true (finding->unit >= -1 && finding->unit < (int) check->board->host.n_units);
    g_assert_true (finding->drive >= -1 && finding->drive < (int) check->board->n_drives);
    for (guint k = 0; k < finding->n_places; k++)
      g_assert_cmpuint (finding->places[k], <, check->board->n_places);
    if (i > 0)
      g_assert_cmpuint (finding->severity, >=, finding[-1].severity);
  }
  for (guint i = 0; i < PM_N_SEVERITIES; i++)
    g_assert_cmpuint (counts[i], ==, check->counts[i]);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  static PmLibrary *library;
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autoptr (GError) error = NULL;

  if (library == NULL)
    library = pm_library_new (NULL);
  g_autoptr (PmBoard) board = pm_board_load_text (PATH, (const char *) data, size, library, faults);
  if (board == NULL)
    return 0;
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (check->verdict, <, PM_N_VERDICTS);
  g_assert_nonnull (check->verdict_text);
  check_cases (check);
  check_findings (check);
  return 0;
}
