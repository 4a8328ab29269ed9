/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Function tables: reading the printed text.  A row is kept as masks over its input columns, a cell of an output as
 * what it says or whose reading it copies. */
#include "config.h"
#include "pm-table.h"
#include "pm-table-private.h"
#include <glib/gi18n-lib.h>
#include <string.h>

static const struct {
  const char *word;
  guint8      out;
  guint8      kinds; /* bit mask of the PmColumnKinds that may say it */
} out_words[] = {
  { "L", PM_OUT_LOW, 1 << PM_COLUMN_PIN | 1 << PM_COLUMN_BIT },
  { "H", PM_OUT_HIGH, 1 << PM_COLUMN_PIN | 1 << PM_COLUMN_BIT },
  { "Z", PM_OUT_OFF, 1 << PM_COLUMN_PIN },
  { "open", PM_OUT_OPEN, 1 << PM_COLUMN_JOIN },
  { "joined", PM_OUT_JOINED, 1 << PM_COLUMN_JOIN },
  { "hold", PM_OUT_HOLD, 1 << PM_COLUMN_BIT },
  { "toggle", PM_OUT_TOGGLE, 1 << PM_COLUMN_BIT },
  { "unstable", PM_OUT_UNSTABLE, 1 << PM_COLUMN_BIT },
};

void
pm_table_fault_free (PmTableFault *fault)
{
  if (fault == NULL)
    return;
  g_free (fault->message);
  g_free (fault);
}

void
pm_table_add_fault (GPtrArray *faults, guint row, char *message)
{
  PmTableFault *fault = g_new (PmTableFault, 1);

  fault->row = row;
  fault->message = message;
  g_ptr_array_add (faults, fault);
}

static gboolean
find_input (const PmTable *table, const char *name, guint8 *input)
{
  for (guint k = 0; k < table->n_inputs; k++) {
    if (strcmp (pm_table_name_at (table, k), name) == 0) {
      *input = k;
      return TRUE;
    }
  }
  return FALSE;
}

/* ---- reading ---- */

/* The words of a line, without the colon; *n_before is how many stand before it. */
static GPtrArray *
split_words (const char *line, guint *n_before, gboolean *one_colon)
{
  GPtrArray *words = g_ptr_array_new_with_free_func (g_free);
  guint n_colons = 0;

  *n_before = 0;
  while (*(line += strspn (line, " \t\r")) != '\0') {
    size_t length = strcspn (line, " \t\r:");

    if (length == 0) {
      n_colons++;
      *n_before = words->len;
      line++;
    } else {
      g_ptr_array_add (words, g_strndup (line, length));
      line += length;
    }
  }
  *one_colon = n_colons == 1;
  return words;
}

static PmColumnKind
kind_of_column (const char *name, const char *const *bit_names)
{
  const char *dash;

  if (bit_names != NULL && g_strv_contains (bit_names, name))
    return PM_COLUMN_BIT;
  dash = strchr (name + 1, '-');
  return dash != NULL && dash[1] != '\0' ? PM_COLUMN_JOIN : PM_COLUMN_PIN;
}

static void
check_column_names (const PmTable *table, GPtrArray *faults)
{
  for (guint k = 0; k < table->names->len; k++) {
    guint first = k < table->n_inputs ? 0 : table->n_inputs;
    const char *name = pm_table_name_at (table, k), *dash = strchr (name + 1, '-');

    /* A pin may be read and driven, but twice on one side is a slip. */
    for (guint other = first; other < k; other++) {
      if (strcmp (pm_table_name_at (table, other), name) == 0) {
        pm_table_add_fault (faults, 0, g_strdup_printf (_("the column %s stands here twice"), name));
        break;
      }
    }
    if (k >= table->n_inputs && table->kinds[k - table->n_inputs] == PM_COLUMN_JOIN &&
        strlen (dash + 1) == (size_t) (dash - name) && strncmp (name, dash + 1, dash - name) == 0)
      pm_table_add_fault (faults, 0, g_strdup_printf (_("the column %s joins a pin to itself"), name));
  }
}

static gboolean
read_columns (PmTable *table, const char *line, const char *const *bit_names, GPtrArray *faults)
{
  gboolean one_colon;

  g_ptr_array_unref (table->names);
  table->names = split_words (line, &table->n_inputs, &one_colon);
  if (!one_colon) {
    pm_table_add_fault (faults, 0, g_strdup (_("the column line needs one colon, between the inputs and the outputs")));
    return FALSE;
  }
  table->n_outputs = table->names->len - table->n_inputs;
  if (table->n_outputs == 0) {
    pm_table_add_fault (faults, 0, g_strdup (_("there is no output column")));
    return FALSE;
  }
  if (table->n_inputs > PM_TABLE_MAX_INPUTS) {
    pm_table_add_fault (faults, 0, g_strdup_printf (_("%u input columns, but a table has at most %d"), table->n_inputs,
                                           PM_TABLE_MAX_INPUTS));
    return FALSE;
  }
  table->kinds = g_new (PmColumnKind, table->n_outputs);
  for (guint i = 0; i < table->n_outputs; i++)
    table->kinds[i] = kind_of_column (pm_table_name_at (table, table->n_inputs + i), bit_names);
  check_column_names (table, faults);
  return TRUE;
}

static void
read_input_cell (PmTable *table, PmTableRow *row, guint k, const char *word, GPtrArray *faults)
{
  guint32 bit = 1u << k;

  if (strcmp (word, "H") == 0) {
    row->care |= bit;
    row->high |= bit;
  } else if (strcmp (word, "L") == 0) {
    row->care |= bit;
  } else if (strcmp (word, "rise") == 0) {
    row->rise |= bit;
  } else if (strcmp (word, "fall") == 0) {
    row->fall |= bit;
  } else if (strcmp (word, "X") != 0) {
    pm_table_add_fault (faults, row->line,
                        g_strdup_printf (_("%s says “%s”, but an input is H, L, X, rise or fall"),
                                         pm_table_name_at (table, k), word));
  }
}

static const char *
words_of_kind (PmColumnKind kind)
{
  switch (kind) {
  case PM_COLUMN_BIT:
    return _("a stored bit is H, L, hold, toggle, unstable, or an input column or /input column");
  case PM_COLUMN_JOIN:
    return _("a pair of pins is joined or open");
  case PM_COLUMN_PIN:
  default:
    return _("an output is H, L, Z, or an input column or /input column");
  }
}

static PmTableCell
read_output_cell (PmTable *table, guint line, guint i, const char *word, GPtrArray *faults)
{
  PmTableCell cell = { 0 };
  PmColumnKind kind = table->kinds[i];

  for (guint k = 0; k < G_N_ELEMENTS (out_words); k++) {
    if ((out_words[k].kinds & 1 << kind) != 0 && strcmp (out_words[k].word, word) == 0) {
      cell.out = out_words[k].out;
      return cell;
    }
  }
  /* "/CLR" is the column of that name if there is one, and only then the inverse of CLR. */
  if (kind != PM_COLUMN_JOIN) {
    if (find_input (table, word, &cell.input)) {
      cell.copy = TRUE;
      return cell;
    }
    if (word[0] == '/' && find_input (table, word + 1, &cell.input)) {
      cell.copy = cell.invert = TRUE;
      return cell;
    }
  }
  pm_table_add_fault (faults, line,
                      g_strdup_printf (_("%s says “%s”, but %s"), pm_table_name_at (table, table->n_inputs + i), word,
                                       words_of_kind (kind)));
  return cell;
}

static void
read_row (PmTable *table, const char *text, guint line, GPtrArray *faults)
{
  g_autoptr (GPtrArray) words = NULL;
  gboolean one_colon;
  guint n_before, n_after;
  PmTableRow row = { .line = line };

  words = split_words (text, &n_before, &one_colon);
  if (!one_colon) {
    pm_table_add_fault (faults, line, g_strdup (_("a row needs one colon, between its input and its output cells")));
    return;
  }
  n_after = words->len - n_before;
  if (n_before != table->n_inputs || n_after != table->n_outputs) {
    pm_table_add_fault (faults, line,
               g_strdup_printf (_("%u : %u cells stand here under %u : %u columns"), n_before, n_after,
                                table->n_inputs, table->n_outputs));
    return;
  }
  for (guint k = 0; k < table->n_inputs; k++)
    read_input_cell (table, &row, k, g_ptr_array_index (words, k), faults);
  for (guint i = 0; i < table->n_outputs; i++) {
    PmTableCell cell = read_output_cell (table, line, i, g_ptr_array_index (words, table->n_inputs + i), faults);

    g_array_append_val (table->cells, cell);
  }
  table->rises |= row.rise;
  table->falls |= row.fall;
  g_array_append_val (table->rows, row);
  for (guint k = 0; k < words->len; k++)
    g_ptr_array_add (table->texts, g_steal_pointer (&words->pdata[k]));
}

/* ---- public ---- */

PmTable *
pm_table_parse (const char *text, const char *const *bit_names, GPtrArray *faults)
{
  g_autoptr (PmTable) table = NULL;
  g_auto (GStrv) lines = NULL;
  guint n_faults, line = 0;

  g_return_val_if_fail (text != NULL, NULL);
  g_return_val_if_fail (faults != NULL, NULL);

  n_faults = faults->len;
  table = g_new0 (PmTable, 1);
  table->refs = 1;
  table->names = g_ptr_array_new_with_free_func (g_free);
  table->texts = g_ptr_array_new_with_free_func (g_free);
  table->rows = g_array_new (FALSE, FALSE, sizeof (PmTableRow));
  table->cells = g_array_new (FALSE, FALSE, sizeof (PmTableCell));
  lines = g_strsplit (text, "\n", -1);
  for (guint k = 0; lines[k] != NULL; k++) {
    if (lines[k][strspn (lines[k], " \t\r")] == '\0')
      continue;
    if (line > PM_TABLE_MAX_ROWS) {
      pm_table_add_fault (faults, line, g_strdup_printf (_("more than %d rows"), PM_TABLE_MAX_ROWS));
      return NULL;
    }
    if (line > 0)
      read_row (table, lines[k], line, faults);
    else if (!read_columns (table, lines[k], bit_names, faults))
      return NULL;
    line++;
  }
  if (line == 0)
    pm_table_add_fault (faults, 0, g_strdup (_("the table is empty")));
  if (faults->len == n_faults)
    pm_table_check_and_compile (table, faults);
  return faults->len == n_faults ? g_steal_pointer (&table) : NULL;
}

PmTable *
pm_table_ref (PmTable *table)
{
  g_atomic_int_inc (&table->refs);
  return table;
}

void
pm_table_unref (PmTable *table)
{
  if (table == NULL || !g_atomic_int_dec_and_test (&table->refs))
    return;
  for (guint i = 0; table->trees != NULL && i < table->n_outputs; i++)
    g_array_unref (table->trees[i]);
  g_free (table->trees);
  g_ptr_array_unref (table->names);
  g_ptr_array_unref (table->texts);
  g_array_unref (table->rows);
  g_array_unref (table->cells);
  g_free (table->kinds);
  g_free (table);
}

guint
pm_table_n_inputs (const PmTable *table)
{
  return table->n_inputs;
}

const char *
pm_table_input (const PmTable *table, guint i)
{
  g_return_val_if_fail (i < table->n_inputs, NULL);
  return pm_table_name_at (table, i);
}

guint
pm_table_n_outputs (const PmTable *table)
{
  return table->n_outputs;
}

const char *
pm_table_output (const PmTable *table, guint i)
{
  g_return_val_if_fail (i < table->n_outputs, NULL);
  return pm_table_name_at (table, table->n_inputs + i);
}

PmColumnKind
pm_table_kind (const PmTable *table, guint i)
{
  g_return_val_if_fail (i < table->n_outputs, PM_COLUMN_PIN);
  return table->kinds[i];
}

gboolean
pm_table_has_edge (const PmTable *table)
{
  return (table->rises | table->falls) != 0;
}

guint32
pm_table_edge_inputs (const PmTable *table)
{
  return table->rises | table->falls;
}

guint
pm_table_n_rows (const PmTable *table)
{
  return table->rows->len;
}

const char *
pm_table_cell (const PmTable *table, guint row, guint column)
{
  g_return_val_if_fail (row < table->rows->len && column < table->names->len, NULL);
  return g_ptr_array_index (table->texts, row * table->names->len + column);
}

PmOut
pm_table_eval (const PmTable *table, guint i, guint32 now, guint32 before)
{
  guint32 up = now & ~before & table->rises, down = before & ~now & table->falls;
  guint32 data = ~(table->rises | table->falls | table->at_once);

  for (guint r = 0; r < table->rows->len; r++) {
    const PmTableRow *row = pm_table_row_at (table, r);
    const PmTableCell *cell = pm_table_cell_at (table, r, i);
    gboolean edge = (row->rise | row->fall) != 0;
    guint32 reading = edge ? (now & ~data) | (before & data) : now;

    /* A row that holds never has to win: what no other row says is held anyway. */
    if (!cell->copy && cell->out == PM_OUT_HOLD)
      continue;
    if ((row->rise & ~up) != 0 || (row->fall & ~down) != 0)
      continue;
    if ((row->care & (row->high ^ reading)) == 0 && (row->care & (up | down)) == 0)
      return pm_table_out_of (cell, reading);
  }
  return PM_OUT_HOLD;
}

gboolean
pm_table_node (const PmTable *table, guint i, guint32 node, PmOut *out, guint *input, guint32 *low, guint32 *high)
{
  const PmTableNode *n = &g_array_index (table->trees[i], PmTableNode, node);

  if (n->input == PM_TABLE_NO_INPUT) {
    *out = n->out;
    return TRUE;
  }
  *input = n->input;
  *low = n->low;
  *high = n->high;
  return FALSE;
}
