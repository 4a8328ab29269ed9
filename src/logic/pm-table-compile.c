/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Function tables: checking what was read, and the decision trees it is compiled to.
 *
 * A column in which some row names an edge has four states (low, high, rising, falling), any other two; whether two
 * rows overlap is then an AND of state sets, column by column, so that contradictions are found row against row and not
 * by trying every combination.  Gaps are found by splitting on one column after the other, and the trees are made by
 * the same splitting; a tree shares equal nodes, so a test that decides nothing drops out. */
#include "config.h"
#include "pm-table-private.h"
#include <glib/gi18n-lib.h>
#include <string.h>

enum { STATE_LOW = 1, STATE_HIGH = 2, STATE_RISE = 4, STATE_FALL = 8, STATE_ANY = 15 };

/* ---- contradictions ---- */

/* The states of an input column in which a row matches, as a set.  In a column with edges a level means that level
 * and no edge that the table names there. */
static guint
states_of (const PmTable *table, const PmTableRow *row, guint k)
{
  guint32 bit = 1u << k;

  if ((row->rise & bit) != 0)
    return STATE_RISE;
  if ((row->fall & bit) != 0)
    return STATE_FALL;
  if ((row->care & bit) == 0)
    return STATE_ANY;
  if ((row->high & bit) != 0)
    return (table->rises & bit) != 0 ? STATE_HIGH : STATE_HIGH | STATE_RISE;
  return (table->falls & bit) != 0 ? STATE_LOW : STATE_LOW | STATE_FALL;
}

static void
say_state (GString *text, const char *name, guint states)
{
  const char *edge = (states & STATE_RISE) != 0 ? "rise" : "fall";
  const char *word = (states & STATE_HIGH) != 0 ? "H" : (states & STATE_LOW) != 0 ? "L" : edge;

  g_string_append_printf (text, "%s%s=%s", text->len > 0 ? " " : "", name, word);
}

/* Narrows states by a reading of the columns in mask; FALSE if nothing is left. */
static gboolean
narrow (guint *states, guint32 mask, guint32 reading)
{
  for (guint k = 0; mask != 0; k++, mask >>= 1) {
    if ((mask & 1) == 0)
      continue;
    states[k] &= (reading >> k & 1) != 0 ? STATE_HIGH | STATE_RISE : STATE_LOW | STATE_FALL;
    if (states[k] == 0)
      return FALSE;
  }
  return TRUE;
}

/* A combination that both rows match and for which they say something else of an output, or NULL. */
static char *
find_contradiction (const PmTable *table, guint output, guint r, guint s)
{
  const PmTableCell *a = pm_table_cell_at (table, r, output), *b = pm_table_cell_at (table, s, output);
  guint32 copied = (a->copy ? 1u << a->input : 0) | (b->copy ? 1u << b->input : 0);
  guint states[PM_TABLE_MAX_INPUTS];

  if (memcmp (a, b, sizeof *a) == 0)
    return NULL;
  for (guint k = 0; k < table->n_inputs; k++) {
    states[k] = states_of (table, pm_table_row_at (table, r), k) & states_of (table, pm_table_row_at (table, s), k);
    if (states[k] == 0)
      return NULL;
  }
  /* Every reading of the one or two copied columns: the subsets of their mask, from all to none. */
  for (guint32 reading = copied;; reading = (reading - 1) & copied) {
    guint narrowed[PM_TABLE_MAX_INPUTS];

    memcpy (narrowed, states, sizeof narrowed);
    if (pm_table_out_of (a, reading) != pm_table_out_of (b, reading) && narrow (narrowed, copied, reading)) {
      GString *text = g_string_new (NULL);

      for (guint k = 0; k < table->n_inputs; k++) {
        if (narrowed[k] != STATE_ANY)
          say_state (text, pm_table_name_at (table, k), narrowed[k]);
      }
      return g_string_free (text, FALSE);
    }
    if (reading == 0)
      return NULL;
  }
}

static void
check_contradictions (const PmTable *table, GPtrArray *faults)
{
  for (guint s = 1; s < table->rows->len; s++) {
    guint line = pm_table_row_at (table, s)->line;

    for (guint r = 0; r < s; r++) {
      guint other = pm_table_row_at (table, r)->line;

      for (guint i = 0; i < table->n_outputs; i++) {
        g_autofree char *example = find_contradiction (table, i, r, s);
        const char *name = pm_table_name_at (table, table->n_inputs + i);

        if (example == NULL)
          continue;
        if (example[0] == '\0')
          pm_table_add_fault (faults, line, g_strdup_printf (_("%s is not what row %u says of it"), name, other));
        else
          pm_table_add_fault (faults, line,
                              g_strdup_printf (_("%s is not what row %u says of it for %s"), name, other, example));
        break;
      }
    }
  }
}

/* ---- splitting: gaps and trees ---- */

/* One output being compiled, or output G_MAXUINT while looking for gaps.  known, value: columns already decided.
 * lists: room for a list of rows per depth. */
typedef struct {
  const PmTable *table;
  guint          output;
  guint32        known, value;
  guint16       *lists;
  GArray        *nodes;   /* PmTableNode, children before parents */
  GHashTable    *shared;  /* packed node -> index + 1 */
} Split;

/* The rows of list that still match, into the next depth's list. */
static guint
keep_matching (const Split *split, const guint16 *list, guint n, guint16 *kept)
{
  guint n_kept = 0;

  for (guint k = 0; k < n; k++) {
    const PmTableRow *row = pm_table_row_at (split->table, list[k]);

    if ((row->care & split->known & (row->high ^ split->value)) == 0)
      kept[n_kept++] = list[k];
  }
  return n_kept;
}

/* A row that matches whatever the undecided columns read, or G_MAXUINT. */
static guint
covering_row (const Split *split, const guint16 *list, guint n)
{
  for (guint k = 0; k < n; k++) {
    if ((pm_table_row_at (split->table, list[k])->care & ~split->known) == 0)
      return list[k];
  }
  return G_MAXUINT;
}

/* The undecided column that most rows look at; the rows are some, and none of them covers. */
static guint
busiest_column (const Split *split, const guint16 *list, guint n)
{
  guint counts[PM_TABLE_MAX_INPUTS] = { 0 }, best = 0;

  for (guint k = 0; k < n; k++) {
    guint32 open = pm_table_row_at (split->table, list[k])->care & ~split->known;

    for (; open != 0; open &= open - 1)
      counts[g_bit_nth_lsf (open, -1)]++;
  }
  for (guint k = 1; k < split->table->n_inputs; k++) {
    if (counts[k] > counts[best])
      best = k;
  }
  return best;
}

static void
decide (Split *split, guint column, gboolean high)
{
  split->known |= 1u << column;
  split->value = high ? split->value | 1u << column : split->value & ~(1u << column);
}

/* TRUE with the combination left in known and value if some combination has no row. */
static gboolean
find_gap (Split *split, const guint16 *list, guint n)
{
  guint16 *kept = split->lists + (gsize) (1 + (guint) __builtin_popcount (split->known)) * split->table->rows->len;
  guint column;

  if (n == 0)
    return TRUE;
  if (covering_row (split, list, n) != G_MAXUINT)
    return FALSE;
  column = busiest_column (split, list, n);
  for (guint high = 0; high < 2; high++) {
    decide (split, column, high);
    if (find_gap (split, kept, keep_matching (split, list, n, kept)))
      return TRUE;
  }
  split->known &= ~(1u << column);
  return FALSE;
}

static guint32
share_node (Split *split, PmTableNode node)
{
  guint64 key = (guint64) node.out << 56 | (guint64) node.input << 48 | (guint64) node.low << 24 | node.high;
  gpointer found = g_hash_table_lookup (split->shared, &key);

  if (found != NULL)
    return GPOINTER_TO_UINT (found) - 1;
  g_array_append_val (split->nodes, node);
  g_hash_table_insert (split->shared, g_memdup2 (&key, sizeof key), GUINT_TO_POINTER (split->nodes->len));
  return split->nodes->len - 1;
}

static guint32
leaf (Split *split, guint out)
{
  return share_node (split, (PmTableNode) { .out = out, .input = PM_TABLE_NO_INPUT });
}

static guint32
test (Split *split, guint input, guint32 low, guint32 high)
{
  return low == high ? low : share_node (split, (PmTableNode) { .input = input, .low = low, .high = high });
}

static guint32
compile_cell (Split *split, const PmTableCell *cell)
{
  if (!cell->copy || (split->known >> cell->input & 1) != 0)
    return leaf (split, pm_table_out_of (cell, split->value));
  return test (split, cell->input, leaf (split, cell->invert ? PM_OUT_HIGH : PM_OUT_LOW),
               leaf (split, cell->invert ? PM_OUT_LOW : PM_OUT_HIGH));
}

static guint32
compile (Split *split, const guint16 *list, guint n)
{
  guint16 *kept = split->lists + (gsize) (1 + (guint) __builtin_popcount (split->known)) * split->table->rows->len;
  guint covering = covering_row (split, list, n);
  guint column;
  guint32 halves[2];

  /* Rows do not contradict each other, so a row that covers what is left speaks for all. */
  if (covering != G_MAXUINT)
    return compile_cell (split, pm_table_cell_at (split->table, covering, split->output));
  column = busiest_column (split, list, n);
  for (guint high = 0; high < 2; high++) {
    decide (split, column, high);
    halves[high] = compile (split, kept, keep_matching (split, list, n, kept));
  }
  split->known &= ~(1u << column);
  return test (split, column, halves[0], halves[1]);
}

/* Copies the nodes below old to the end of tree, parents first. renumbered: index in tree + 1, 0 = not yet copied. */
static guint32
copy_node (const GArray *nodes, guint32 old, guint32 *renumbered, GArray *tree)
{
  PmTableNode node = g_array_index (nodes, PmTableNode, old);
  guint32 at = tree->len;

  if (renumbered[old] != 0)
    return renumbered[old] - 1;
  renumbered[old] = at + 1;
  g_array_append_val (tree, node);
  if (node.input != PM_TABLE_NO_INPUT) {
    node.low = copy_node (nodes, node.low, renumbered, tree);
    node.high = copy_node (nodes, node.high, renumbered, tree);
    g_array_index (tree, PmTableNode, at) = node;
  }
  return at;
}

static GArray *
compile_output (const PmTable *table, guint output, guint16 *lists)
{
  Split split = { .table = table, .output = output, .lists = lists };
  GArray *tree = g_array_new (FALSE, FALSE, sizeof (PmTableNode));
  g_autofree guint32 *renumbered = NULL;
  guint32 root;

  split.nodes = g_array_new (FALSE, FALSE, sizeof (PmTableNode));
  split.shared = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  root = compile (&split, lists, table->rows->len);
  renumbered = g_new0 (guint32, split.nodes->len);
  copy_node (split.nodes, root, renumbered, tree);
  g_array_unref (split.nodes);
  g_hash_table_unref (split.shared);
  return tree;
}

static void
check_gaps (const PmTable *table, guint16 *lists, GPtrArray *faults)
{
  Split split = { .table = table, .output = G_MAXUINT, .lists = lists };
  g_autoptr (GString) example = g_string_new (NULL);

  if (!find_gap (&split, lists, table->rows->len))
    return;
  for (guint k = 0; k < table->n_inputs; k++) {
    if ((split.known >> k & 1) != 0)
      say_state (example, pm_table_name_at (table, k), (split.value >> k & 1) != 0 ? STATE_HIGH : STATE_LOW);
  }
  if (example->len == 0)
    pm_table_add_fault (faults, 0, g_strdup (_("the table has no rows")));
  else
    pm_table_add_fault (faults, 0, g_strdup_printf (_("no row says what happens for %s"), example->str));
}

/* An edge acts on what is stored, and only there can a table leave combinations out. */
static void
check_edges (const PmTable *table, GPtrArray *faults)
{
  for (guint i = 0; i < table->n_outputs; i++) {
    if (table->kinds[i] != PM_COLUMN_BIT)
      pm_table_add_fault (faults, 0, g_strdup_printf (_("%s is no stored bit, but the table names an edge"),
                                             pm_table_name_at (table, table->n_inputs + i)));
  }
}

/* Which columns act without an edge: those that a row without one looks at and does more than hold. */
static guint32
columns_at_once (const PmTable *table)
{
  guint32 columns = 0;

  for (guint r = 0; r < table->rows->len; r++) {
    const PmTableRow *row = pm_table_row_at (table, r);

    for (guint i = 0; i < table->n_outputs && (row->rise | row->fall) == 0; i++) {
      const PmTableCell *cell = pm_table_cell_at (table, r, i);

      if (cell->copy)
        columns |= row->care | 1u << cell->input;
      else if (cell->out != PM_OUT_HOLD)
        columns |= row->care;
    }
  }
  return columns;
}

void
pm_table_check_and_compile (PmTable *table, GPtrArray *faults)
{
  guint n_rows = table->rows->len;
  guint n_faults = faults->len;
  g_autofree guint16 *lists = g_new (guint16, MAX (n_rows, 1) * (PM_TABLE_MAX_INPUTS + 2));

  for (guint r = 0; r < n_rows; r++)
    lists[r] = r;
  check_contradictions (table, faults);
  if (pm_table_has_edge (table)) {
    check_edges (table, faults);
    table->at_once = columns_at_once (table);
    return;
  }
  check_gaps (table, lists, faults);
  if (faults->len > n_faults)
    return;
  table->trees = g_new0 (GArray *, table->n_outputs);
  for (guint i = 0; i < table->n_outputs; i++)
    table->trees[i] = compile_output (table, i, lists);
}
