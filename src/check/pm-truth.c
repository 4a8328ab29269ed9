/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Truth tables of places of a board: every setting, every host state, every level of the side lines that matter. */
#include "config.h"
#include "pm-truth.h"
#include "pm-naming.h"
#include "pm-text-table.h"
#include <glib/gi18n-lib.h>

#define ASKS_AT_ONCE 8   /* as many as a PmSeen holds */

G_DEFINE_QUARK (pm-truth-error-quark, pm_truth_error)

static const char *const level_words[PM_N_LEVELS] = {[PM_LEVEL_LOW] = N_("low"),
                                                     [PM_LEVEL_HIGH] = N_("high"),
                                                     [PM_LEVEL_CLAMPED] = N_("held low"),
                                                     [PM_LEVEL_PULLED_LOW] = N_("pulled low"),
                                                     [PM_LEVEL_PULLED_HIGH] = N_("pulled high"),
                                                     [PM_LEVEL_BETWEEN] = N_("between"),
                                                     [PM_LEVEL_OFF] = N_("off"),
                                                     [PM_LEVEL_CLASH] = N_("clash")};

/* ---- columns */

static gboolean
has_column (const PmTruth *truth, guint32 place)
{
  for (guint i = 0; i < truth->columns->len; i++)
    if (g_array_index (truth->columns, PmTruthColumn, i).drive < 0 &&
        g_array_index (truth->columns, PmTruthColumn, i).place == place)
      return TRUE;
  return FALSE;
}

static void
add_column (PmTruth *truth, char *name, guint32 place, int drive)
{
  PmTruthColumn column = {name, place, drive};
  g_array_append_val (truth->columns, column);
}

/* A select line where it leaves for the drives: behind the board if there is one. */
static void
add_line (PmTruth *truth, guint l, gboolean without)
{
  const PmBoard *board = truth->trial->board;
  g_autofree char *machine = g_strdup_printf ("%s:machine", board->host.lines[l].name);
  guint32 place = without ? PM_NONE : pm_board_find_place (board, machine);
  if (place != PM_NONE && !has_column (truth, place))
    add_column (truth, g_steal_pointer (&machine), place, -1);
  else if (place == PM_NONE && !has_column (truth, board->host.lines[l].place))
    add_column (truth, g_strdup (board->host.lines[l].name), board->host.lines[l].place, -1);
}

static void
add_usual_columns (PmTruth *truth, gboolean without)
{
  const PmBoard *board = truth->trial->board;
  for (guint u = 0; u < board->host.n_units; u++)
    for (guint k = 0; k < board->host.units[u].n_levels; k++)
      add_line (truth, board->host.units[u].levels[k].line, without);
  for (guint d = 0; d < board->n_drives; d++)
    for (guint a = 0; a < board->drives[d].n_answers; a++)
      for (guint w = 0; w < board->drives[d].answers[a].n_whens; w++) {
        guint32 place = board->drives[d].answers[a].whens[w].place;
        if (place != PM_NONE && !has_column (truth, place))
          add_column (truth, pm_board_place_name (board, place), place, -1);
      }
}

static char *
pins_of (const PmBoard *board, const char *ref)
{
  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *instance = &board->instances[i];
    if (!g_str_equal (instance->ref, ref))
      continue;
    if (instance->part->n_pins > 24)
      return g_strdup_printf (_(" %s has the pins %s to %s."), ref, instance->part->pins[0].name,
                              instance->part->pins[instance->part->n_pins - 1].name);
    GString *text = g_string_new (NULL);
    g_string_append_printf (text, _(" %s has"), ref);
    for (guint k = 0; k < instance->part->n_pins; k++)
      g_string_append_printf (text, " %s", instance->part->pins[k].name);
    g_string_append_c (text, '.');
    return g_string_free (text, FALSE);
  }
  return g_strdup ("");
}

static void
no_place (const PmBoard *board, const char *name, GError **error)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *dot = strrchr (name, '.');
  g_autofree char *ref = dot != NULL ? g_strndup (name, dot - name) : g_strdup (name), *pins = pins_of (board, ref);
  for (guint32 place = 0; place < board->n_places; place++)
    g_ptr_array_add (names, pm_board_place_name (board, place));
  for (guint l = 0; l < board->host.n_lines; l++)
    for (guint side = 0; side < 3; side++) {
      static const char *const sides[] = {"chip", "drive", "machine"};
      g_autofree char *text = g_strdup_printf ("%s:%s", board->host.lines[l].name, sides[side]);
      if (pm_board_find_place (board, text) != PM_NONE)
        g_ptr_array_add (names, g_steal_pointer (&text));
    }
  for (guint d = 0; d < board->n_drives; d++)
    g_ptr_array_add (names, g_strdup (board->drives[d].name));
  const char *near = pm_nearest (name, (const char *const *) names->pdata, names->len);
  const char *how = pins[0] == '\0' ? _(" Places are written U1.1Y, SEL0:machine, INSIDE.select, host.U7.11.") : "";
  g_autofree char *mean = near != NULL ? g_strdup_printf (_(" Did you mean %s?"), near) : g_strdup (how);
  g_set_error (error, PM_TRUTH_ERROR, PM_TRUTH_ERROR_NAME, _("there is no place \"%s\".%s%s"), name, pins, mean);
}

static gboolean
add_named_column (PmTruth *truth, const char *name, GError **error)
{
  const PmBoard *board = truth->trial->board;
  guint32 place = pm_board_find_place (board, name);
  if (place != PM_NONE) {
    add_column (truth, g_strdup (name), place, -1);
    return TRUE;
  }
  for (guint d = 0; d < board->n_drives; d++)
    if (g_str_equal (board->drives[d].name, name)) {
      add_column (truth, g_strdup (name), PM_NONE, (int) d);
      return TRUE;
    }
  no_place (board, name, error);
  return FALSE;
}

/* ---- cells */

static void
read_seen (const GArray *seen, const PmTruthColumn *columns, guint n, PmTruthCell *cells)
{
  for (guint i = 0; i < seen->len; i++) {
    const PmSeen *world = &g_array_index (seen, PmSeen, i);
    for (guint c = 0; c < n; c++) {
      guint level = columns[c].drive < 0                     ? world->answers[c]
                    : (world->lamps >> columns[c].drive & 1) ? PM_LEVEL_HIGH
                                                             : PM_LEVEL_LOW;
      cells[c].levels |= (guint16) (1u << level);
      cells[c].restless = cells[c].restless || world->never_settles;
    }
  }
}

/* All columns in one host state with some side lines held. */
static PmTruthCell *
ask (PmTruth *truth, guint spec, guint state, const guint32 *forced, const guint8 *values, guint n_forced)
{
  PmTruthCell *cells = g_new0 (PmTruthCell, MAX (truth->columns->len, 1));
  g_autoptr (GArray) seen = g_array_new (FALSE, FALSE, sizeof (PmSeen));
  for (guint first = 0; first < truth->columns->len; first += ASKS_AT_ONCE) {
    const PmTruthColumn *columns = &g_array_index (truth->columns, PmTruthColumn, first);
    guint n = MIN (truth->columns->len - first, ASKS_AT_ONCE);
    PmAsk asks[ASKS_AT_ONCE];
    for (guint c = 0; c < n; c++) /* a drive's lamp is among the answers anyway */
      asks[c] =
          (PmAsk){PM_ASK_LEVEL, columns[c].drive < 0 ? columns[c].place : truth->trial->t->lamp[columns[c].drive]};
    g_array_set_size (seen, 0);
    gboolean decided =
        pm_survey_ask (truth->trial->survey, spec, state, forced, values, n_forced, FALSE, asks, n, seen);
    pm_seen_keep_shown (seen);
    read_seen (seen, columns, n, cells + first);
    for (guint c = 0; c < n && !decided; c++)
      cells[first + c].not_decided = TRUE;
  }
  return cells;
}

static gboolean
is_certain (const PmTruthCell *cell)
{
  return !cell->not_decided && !cell->restless && (cell->levels & (cell->levels - 1)) == 0;
}

static gboolean
cells_equal (const PmTruthCell *a, const PmTruthCell *b, guint n)
{
  for (guint c = 0; c < n; c++)
    if (a[c].levels != b[c].levels || a[c].restless != b[c].restless || a[c].not_decided != b[c].not_decided)
      return FALSE;
  return TRUE;
}

/* ---- rows */

static gboolean
is_row_state (const PmSurvey *survey, guint s)
{
  PmHostStateKind kind = g_array_index (survey->states, PmHostState, s).kind;
  return kind == PM_STATE_IDLE || kind == PM_STATE_SINGLE;
}

static gboolean
line_matters (PmTruth *truth, guint spec, guint state, guint line)
{
  const PmSurvey *survey = truth->trial->survey;
  guint32 source = pm_survey_line_source (survey, line);
  guint8 low = pm_survey_value_at (FALSE), high = pm_survey_value_at (TRUE);
  g_autofree PmTruthCell *at_low = ask (truth, spec, state, &source, &low, 1),
                         *at_high = ask (truth, spec, state, &source, &high, 1);
  return !cells_equal (at_low, at_high, truth->columns->len);
}

/* A line is asked about only while something is uncertain with all of them free. */
static void
find_lines (PmTruth *truth, PmTruthBlock *block)
{
  const PmSurvey *survey = truth->trial->survey;
  for (guint s = 0; s < survey->states->len; s++) {
    gboolean certain = TRUE;
    if (!is_row_state (survey, s))
      continue;
    g_autofree PmTruthCell *free_cells = ask (truth, block->spec, s, NULL, NULL, 0);
    for (guint c = 0; c < truth->columns->len; c++)
      certain = certain && is_certain (&free_cells[c]);
    for (guint k = 0; k < survey->side_lines->len && !certain && block->n_lines < G_N_ELEMENTS (block->lines); k++) {
      guint line = g_array_index (survey->side_lines, guint, k);
      gboolean known = FALSE;
      for (guint i = 0; i < block->n_lines; i++)
        known = known || block->lines[i] == line;
      if (!known && line_matters (truth, block->spec, s, line))
        block->lines[block->n_lines++] = line;
    }
  }
}

static void
block_free (gpointer data)
{
  PmTruthBlock *block = data;
  for (guint i = 0; i < block->rows->len; i++)
    g_free (g_array_index (block->rows, PmTruthRow, i).cells);
  g_array_unref (block->rows);
  g_free (block);
}

static void
add_block (PmTruth *truth, guint spec)
{
  const PmSurvey *survey = truth->trial->survey;
  PmTruthBlock *block = g_new0 (PmTruthBlock, 1);
  block->spec = spec;
  block->rows = g_array_new (FALSE, FALSE, sizeof (PmTruthRow));
  g_ptr_array_add (truth->blocks, block);
  find_lines (truth, block);
  for (guint s = 0; s < survey->states->len; s++)
    for (guint32 side = 0; side < (1u << block->n_lines) && is_row_state (survey, s); side++) {
      guint32 forced[G_N_ELEMENTS (block->lines)];
      guint8 values[G_N_ELEMENTS (block->lines)];
      for (guint k = 0; k < block->n_lines; k++) {
        forced[k] = pm_survey_line_source (survey, block->lines[k]);
        values[k] = pm_survey_value_at (side >> k & 1);
      }
      PmTruthRow row = {s, side, ask (truth, spec, s, forced, values, block->n_lines)};
      g_array_append_val (block->rows, row);
    }
}

/* ---- settings */

static void
no_setting (const PmTruth *truth, const char *setting, GError **error)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  const PmCases *cases = truth->trial->cases;
  for (guint i = 0; i < cases->specs->len; i++) {
    const PmCaseSpec *spec = g_ptr_array_index (cases->specs, i);
    if (spec->kind == PM_CASE_SETTING || (spec->kind == PM_CASE_WITHOUT_BOARD && !spec->baseline))
      g_ptr_array_add (names, spec->name);
  }
  const char *near = pm_nearest (setting, (const char *const *) names->pdata, names->len);
  g_autoptr (GString) list = g_string_new (NULL);
  for (guint i = 0; i < names->len && i < 20; i++)
    g_string_append_printf (list, "%s%s", i > 0 ? "; " : "", (const char *) g_ptr_array_index (names, i));
  g_autofree char *mean = near != NULL ? g_strdup_printf (_(" Did you mean %s?"), near) : g_strdup ("");
  g_set_error (error, PM_TRUTH_ERROR, PM_TRUTH_ERROR_NAME, _("there is no setting \"%s\". There are: %s.%s"), setting,
               list->str, mean);
}

static gboolean
add_blocks (PmTruth *truth, const char *setting, GError **error)
{
  const PmCases *cases = truth->trial->cases;
  for (guint i = 0; i < cases->specs->len; i++) {
    const PmCaseSpec *spec = g_ptr_array_index (cases->specs, i);
    gboolean is_setting = spec->kind == PM_CASE_SETTING,
             without = spec->kind == PM_CASE_WITHOUT_BOARD && !spec->baseline;
    if (setting == NULL
            ? is_setting
            : (is_setting || without) && (g_str_equal (spec->name, setting) || g_str_equal (spec->title, setting)))
      add_block (truth, i);
  }
  if (truth->blocks->len == 0 && setting != NULL)
    no_setting (truth, setting, error);
  return truth->blocks->len > 0;
}

static void
column_clear (gpointer data)
{
  g_free (((PmTruthColumn *) data)->name);
}

PmTruth *
pm_truth_new (const PmBoard *board, const char *const *names, const char *setting, GError **error)
{
  g_autoptr (PmTruth) truth = g_new0 (PmTruth, 1);
  truth->trial = pm_trial_new (board, NULL, 0, PM_CASES_OF (PM_CASE_SETTING), NULL);
  truth->columns = g_array_new (FALSE, FALSE, sizeof (PmTruthColumn));
  truth->blocks = g_ptr_array_new_with_free_func (block_free);
  g_array_set_clear_func (truth->columns, column_clear);
  for (guint i = 0; names != NULL && names[i] != NULL; i++)
    if (!add_named_column (truth, names[i], error))
      return NULL;
  const PmCaseSpec *without = g_ptr_array_index (truth->trial->cases->specs, 0);
  if (truth->columns->len == 0)
    add_usual_columns (truth, g_strcmp0 (setting, without->name) == 0 || g_strcmp0 (setting, without->title) == 0);
  return add_blocks (truth, setting, error) ? g_steal_pointer (&truth) : NULL;
}

void
pm_truth_free (PmTruth *truth)
{
  if (truth == NULL)
    return;
  g_clear_pointer (&truth->blocks, g_ptr_array_unref);
  g_clear_pointer (&truth->columns, g_array_unref);
  pm_trial_free (truth->trial);
  g_free (truth);
}

/* ---- text */

static char *
cell_text (const PmTruthCell *cell, gboolean lamp)
{
  const guint16 plain = 1u << PM_LEVEL_LOW | 1u << PM_LEVEL_HIGH;
  if (cell->not_decided)
    return g_strdup (_("not decided"));
  if (cell->restless)
    return g_strdup (_("never settles"));
  if (lamp)
    return g_strdup (cell->levels == plain                 ? _("not certain")
                     : cell->levels == 1u << PM_LEVEL_HIGH ? _("answers")
                                                           : "-");
  if (cell->levels == plain)
    return g_strdup (_("either"));
  GString *text = g_string_new (NULL);
  for (guint level = 0; level < PM_N_LEVELS; level++)
    if (cell->levels >> level & 1)
      g_string_append_printf (text, "%s%s", text->len > 0 ? _(" or ") : "", _(level_words[level]));
  return g_string_free (text, FALSE);
}

static const char *
state_name (const PmTruth *truth, guint state)
{
  const PmHostState *host = &g_array_index (truth->trial->survey->states, PmHostState, state);
  return host->kind == PM_STATE_IDLE ? _("nothing") : truth->trial->board->host.units[host->unit].name;
}

static void
append_block (const PmTruth *truth, const PmTruthBlock *block, guint width, GString *out)
{
  const PmLine *lines = truth->trial->board->host.lines;
  guint n = truth->columns->len;
  g_autoptr (PmTextTable) table = pm_text_table_new (1 + block->n_lines + n);
  pm_text_table_add (table, _("turned on"));
  for (guint k = 0; k < block->n_lines; k++)
    pm_text_table_add (table, lines[block->lines[k]].name);
  for (guint c = 0; c < n; c++)
    pm_text_table_add (table, g_array_index (truth->columns, PmTruthColumn, c).name);
  for (guint r = 0; r < block->rows->len; r++) {
    const PmTruthRow *row = &g_array_index (block->rows, PmTruthRow, r);
    pm_text_table_add (table, state_name (truth, row->state));
    for (guint k = 0; k < block->n_lines; k++)
      pm_text_table_add (table, _(level_words[row->side >> k & 1 ? PM_LEVEL_HIGH : PM_LEVEL_LOW]));
    for (guint c = 0; c < n; c++)
      pm_text_table_take (table,
                          cell_text (&row->cells[c], g_array_index (truth->columns, PmTruthColumn, c).drive >= 0));
  }
  pm_text_table_append (table, out, 2, 1 + block->n_lines, width);
}

char *
pm_truth_to_text (const PmTruth *truth, guint width)
{
  const PmBoard *board = truth->trial->board;
  g_autoptr (GString) out = g_string_new (board->title);
  if (board->revision != NULL && board->revision[0] != '\0')
    g_string_append_printf (out, _(" rev %s"), board->revision);
  g_string_append_printf (out, _(" on %s"), pm_name_host (board));
  g_string_append_printf (out, _(", file %s\n"), board->hash);
  for (guint i = 0; i < truth->blocks->len; i++) {
    const PmTruthBlock *block = g_ptr_array_index (truth->blocks, i);
    const PmCaseSpec *spec = g_ptr_array_index (truth->trial->cases->specs, block->spec);
    g_string_append_printf (out, "\n%s\n", spec->title);
    append_block (truth, block, width, out);
  }
  return g_string_free (g_steal_pointer (&out), FALSE);
}
