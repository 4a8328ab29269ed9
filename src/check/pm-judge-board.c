/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Judgements about the board as a whole, not about one case: through pins, the sense of a control, what the machine
 * asks of drives, what the file leaves open. */
#include "config.h"
#include "pm-judge.h"

/* TRUE if nothing but the two pins of a cut hang on its ends as far as the board goes. */
static gboolean
end_is_bare (const PmTrial *trial, guint32 place, guint32 but)
{
  for (guint j = 0; j < trial->board->n_joins; j++) {
    if (j == but || trial->board->joins[j].kind == PM_JOIN_THROUGH || trial->board->joins[j].kind == PM_JOIN_CUT)
      continue;
    for (guint k = 0; k < trial->board->joins[j].n_places; k++)
      if (trial->board->joins[j].places[k] == place)
        return FALSE;
  }
  for (guint i = 0; i < trial->t->n_edits; i++)
    if (trial->t->edits[i].kind == PM_EDIT_JOIN && (trial->t->edits[i].a == place || trial->t->edits[i].b == place))
      return FALSE;
  for (guint s = 0; s < trial->board->n_switches; s++)
    for (guint c = 0; c < trial->t->contacts[s]->len; c++) {
      PmPair pair = g_array_index (trial->t->contacts[s], PmPair, c);
      if (pair.a == place || pair.b == place)
        return FALSE;
    }
  return TRUE;
}

/* The host line that reaches either end of a through or cut pin with the board in its place; PM_NONE. Bound to a
 * setting. */
static guint32
line_at (const PmTrial *trial, const PmJoin *join)
{
  const PmBound *bound = trial->survey->bound;
  for (guint l = 0; l < trial->board->host.n_lines; l++) {
    guint32 net = pm_bound_net (bound, trial->board->host.lines[l].place);
    if (net == pm_bound_net (bound, join->places[0]) || net == pm_bound_net (bound, join->places[1]))
      return l;
  }
  return PM_NONE;
}

/* A cut pin with a line of the machine on it and nothing else at either end.  A cut with one bare end may be meant: a
 * select that is led nowhere is told by what it reaches. */
void
pm_judge_throughs (PmTrial *trial, GArray *raws)
{
  const PmBoard *board = trial->board;
  pm_survey_bind (trial->survey, 1, 0);
  for (guint c = 0; c < board->n_joins; c++) {
    const PmJoin *join = &board->joins[c];
    if (join->kind != PM_JOIN_CUT || !end_is_bare (trial, join->places[0], c) ||
        !end_is_bare (trial, join->places[1], c))
      continue;
    PmRaw raw = pm_raw_init (PM_FINDING_THROUGH_NOT_CARRIED, PM_SEVERITY_STOP, 1);
    raw.join = c;
    raw.index = line_at (trial, join);
    raw.place = join->places[0];
    raw.place2 = join->places[1];
    if (raw.index != PM_NONE)
      g_array_append_val (raws, raw);
  }
}

/* A switch whose two positions, exchanged, would make every stated setting right. */
void
pm_judge_control (PmTrial *trial, GArray *raws)
{
  const PmBoard *board = trial->board;
  for (guint s = 0; s < board->n_switches; s++) {
    if (!pm_switch_is_by_hand (&board->switches[s]) || board->switches[s].n_positions != 2)
      continue;
    guint stated = 0, wrong = 0, swapped_right = 0;
    for (guint i = 1; i <= trial->cases->n_settings; i++) {
      const PmCaseResult *result = &trial->results[i];
      if (result->wanted == PM_NONE)
        continue;
      stated++;
      wrong += !pm_cells_fit (board, result->cells, &board->wanted[result->wanted]);
      for (guint k = 1; k <= trial->cases->n_settings; k++) {
        gboolean partner = TRUE;
        for (guint q = 0; q < board->n_switches && partner; q++)
          partner = (trial->results[k].positions[q] == result->positions[q]) == (q != s);
        swapped_right += partner && pm_cells_fit (board, trial->results[k].cells, &board->wanted[result->wanted]);
      }
    }
    if (stated < 2 || wrong != stated || swapped_right != stated)
      continue;
    PmRaw raw = pm_raw_init (PM_FINDING_CONTROL_WRONG_WAY, PM_SEVERITY_STOP, 1);
    raw.sw = s;
    g_array_append_val (raws, raw);
  }
}

static gboolean
drive_gives (const PmDrive *drive, const char *does)
{
  for (guint g = 0; g < drive->n_gives; g++)
    if (g_str_equal (drive->gives[g].does, does))
      return TRUE;
  return FALSE;
}

void
pm_judge_needs (PmTrial *trial, GArray *raws)
{
  const PmBoard *board = trial->board;
  for (guint i = 1; i <= trial->cases->n_settings; i++)
    for (guint u = 0; u < board->host.n_units; u++)
      for (guint d = 0; d < board->n_drives; d++) {
        if (trial->results[i].cells[u * board->n_drives + d].answer != PM_ANSWER_YES)
          continue;
        for (guint n = 0; board->host.units[u].needs != NULL && board->host.units[u].needs[n] != NULL; n++) {
          if (drive_gives (&board->drives[d], board->host.units[u].needs[n]))
            continue;
          PmRaw raw = pm_raw_init (PM_FINDING_NOT_SEEN_AS, PM_SEVERITY_CARE, i);
          raw.unit = (int) u;
          raw.drive = (int) d;
          raw.does = g_intern_string (board->host.units[u].needs[n]);
          raw.as_today = board->has_board && trial->results[0].cells[u * board->n_drives + d].answer == PM_ANSWER_YES;
          g_array_append_val (raws, raw);
        }
      }
}

/* What the file leaves open or says to be assumed. */
void
pm_judge_statements (PmTrial *trial, GArray *raws)
{
  const PmBoard *board = trial->board;
  for (guint s = 0; s < board->n_switches; s++) {
    if (board->switches[s].stated || pm_switch_is_by_hand (&board->switches[s]) || board->switches[s].n_positions < 2)
      continue;
    PmRaw raw = pm_raw_init (PM_FINDING_POSITION_NOT_STATED, PM_SEVERITY_CARE, trial->cases->usual);
    raw.sw = s;
    g_array_append_val (raws, raw);
  }
  for (guint l = 0; l < board->host.n_lines; l++) {
    const PmLine *line = &board->host.lines[l];
    gboolean rest =
        !line->in_reset_stated && line->drives != PM_LINE_DRIVES_NOTHING && g_strcmp0 (line->does, "select") == 0;
    if (!line->assumed && !rest)
      continue;
    PmRaw raw = pm_raw_init (PM_FINDING_ASSUMED, PM_SEVERITY_CARE, trial->cases->usual);
    raw.index = l;
    raw.may = !line->assumed;
    raw.does = "line";
    g_array_append_val (raws, raw);
  }
  for (guint i = 0; i < board->n_instances; i++) {
    if (!board->instances[i].assumed)
      continue;
    PmRaw raw = pm_raw_init (PM_FINDING_ASSUMED, PM_SEVERITY_CARE, trial->cases->usual);
    raw.index = i;
    raw.does = "part";
    g_array_append_val (raws, raw);
  }
}
