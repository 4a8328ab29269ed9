/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The demo boards, for tests. */
#include "boards-test.h"
#include "pm-reach.h"
#include <string.h>

static int
compare (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

char **
boards_test_names (void)
{
  g_autofree char *folder = g_build_filename (g_getenv ("POINTSMAN_DATA"), "boards", NULL);
  GPtrArray *names = g_ptr_array_new ();
  GDir *dir = g_dir_open (folder, 0, NULL);
  const char *name;
  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, ".board.xml"))
      g_ptr_array_add (names, g_strdup (name));
  g_dir_close (dir);
  g_ptr_array_sort (names, compare);
  g_ptr_array_add (names, NULL);
  return (char **) g_ptr_array_free (names, FALSE);
}

PmBoard *
boards_test_load (PmLibrary *library, const char *file)
{
  g_autofree char *path = g_build_filename (g_getenv ("POINTSMAN_DATA"), "boards", file, NULL);
  g_autoptr (PmFaults) faults = pm_faults_new ();
  PmBoard *board = pm_board_load (path, library, faults);
  for (guint i = 0; i < pm_faults_count (faults); i++) {
    g_autofree char *text = pm_fault_to_text (pm_faults_get (faults, i));
    g_test_message ("%s", text);
  }
  g_assert_nonnull (board);
  return board;
}

void
boards_test_each (PmTrial *trial, BoardsTestFunc func, gpointer data)
{
  const PmSurvey *survey = trial->survey;
  for (guint i = 0; i < trial->cases->specs->len; i++) {
    const PmCaseSpec *spec = g_ptr_array_index (trial->cases->specs, i);
    for (guint b = 0; b < spec->bindings->len; b++)
      for (guint s = 0; s < survey->states->len; s++) {
        const PmHostState *host = &g_array_index (survey->states, PmHostState, s);
        g_autoptr (PmCase) state = pm_case_copy (g_ptr_array_index (spec->bindings, b));
        g_autofree char *name =
            g_strdup_printf ("%s, case \"%s\", binding %u, host state %u", trial->board->path, spec->name, b, s);
        pm_survey_set_sources (survey, host, state);
        for (guint k = 0; k < state->n_bits; k++)
          state->bits[k] = 2;
        func (trial, state, b > 0, name, data);
      }
  }
}

static void
add_ask (GArray *asks, guint32 place)
{
  PmAsk ask = {PM_ASK_LEVEL, place};
  for (guint i = 0; i < asks->len; i++)
    if (g_array_index (asks, PmAsk, i).index == place)
      return;
  g_array_append_val (asks, ask);
}

GArray *
boards_test_asks (const PmTrial *trial)
{
  const PmBoard *board = trial->board;
  GArray *asks = g_array_new (FALSE, FALSE, sizeof (PmAsk));
  for (guint d = 0; d < board->n_drives; d++)
    add_ask (asks, trial->t->lamp[d]);
  for (guint u = 0; u < board->host.n_units; u++)
    for (guint k = 0; k < board->host.units[u].n_levels; k++)
      add_ask (asks, board->host.lines[board->host.units[u].levels[k].line].place);
  for (guint g = 0; g < trial->t->gives->len; g++)
    add_ask (asks, g_array_index (trial->t->gives, PmGivesInfo, g).place);
  return asks;
}
