/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Function tables: reading and checking the printed text, and the decision trees it is compiled to.
 *
 * A row is kept as masks over its input columns.  A column in which some row names an edge has four states (low, high,
 * rising, falling), any other two; whether two rows overlap is then an AND of state sets, column by column, so that contradictions
 * are found row against row and not by trying every combination.  Gaps are found by splitting on one column after the
 * other, and the trees are made by the same splitting; a tree shares equal nodes, so a test that decides nothing drops out. */
#include "config.h"
#include "pm-table.h"
#include <glib/gi18n-lib.h>
#include <string.h>

/* More rows than any printed table; keeps checking row against row cheap. */
#define MAX_ROWS 1024

enum { STATE_LOW = 1, STATE_HIGH = 2, STATE_RISE = 4, STATE_FALL = 8, STATE_ANY = 15 };

/* What an output cell says: out, or with copy the reading of input (turned over with invert). */
typedef struct {
  guint8 out;
  guint8 copy, invert, input;
} Cell;

/* care: columns with H or L, and which of these are H.  Columns in rise and fall are in neither. */
typedef struct {
  guint32 care, high, rise, fall;
  guint   line;
} Row;

/* input is NO_INPUT in a leaf. */
typedef struct {
  guint8  out, input;
  guint32 low, high;
} Node;
#define NO_INPUT 0xff

struct _PmTable {
  gint          refs;
  GPtrArray    *names;      /* inputs, then outputs; owned strings */
  guint         n_inputs, n_outputs;
  PmColumnKind *kinds;      /* [n_outputs] */
  GPtrArray    *texts;      /* cells as printed, row by row; owned strings */
  GArray       *rows;       /* Row */
  GArray       *cells;      /* Cell, n_outputs a row */
  guint32       rises, falls; /* input columns in which some row names that edge */
  guint32       at_once;    /* input columns that a row without an edge looks at and acts on */
  GArray      **trees;      /* [n_outputs] of Node, root first; NULL in a table with edges */
};

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

static void
add_fault (GPtrArray *faults, guint row, char *message)
{
  PmTableFault *fault = g_new (PmTableFault, 1);

  fault->row = row;
  fault->message = message;
  g_ptr_array_add (faults, fault);
}

static Row *
row_at (const PmTable *table, guint row)
{
  return &g_array_index (table->rows, Row, row);
}

static Cell *
cell_at (const PmTable *table, guint row, guint output)
{
  return &g_array_index (table->cells, Cell, row * table->n_outputs + output);
}

static const char *
name_at (const PmTable *table, guint column)
{
  return g_ptr_array_index (table->names, column);
}

static gboolean
find_input (const PmTable *table, const char *name, guint8 *input)
{
  for (guint k = 0; k < table->n_inputs; k++) {
    if (strcmp (name_at (table, k), name) == 0) {
      *input = k;
      return TRUE;
    }
  }
  return FALSE;
}

/* ---- reading ---- */

/* The words of a line, without the colon; *n_before is how many stand before it. FALSE if there is not exactly one colon. */
static GPtrArray *
split_words (const char *line, guint *n_before, gboolean *one_colon)
{
  GPtrArray *words = g_ptr_array_new_with_free_func (g_free);
  guint n_colons = 0;

  *n_before = 0;
  while (*(line += strspn (line, " \t\r")) != '\0') {
    size_t length = strcspn (line, " \t\r");

    if (length == 1 && *line == ':') {
      n_colons++;
      *n_before = words->len;
    } else {
      g_ptr_array_add (words, g_strndup (line, length));
    }
    line += length;
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
    const char *name = name_at (table, k), *dash = strchr (name + 1, '-');

    /* A pin may be read and driven, but twice on one side is a slip. */
    for (guint other = first; other < k; other++) {
      if (strcmp (name_at (table, other), name) == 0) {
        add_fault (faults, 0, g_strdup_printf (_("the column %s stands here twice"), name));
        break;
      }
    }
    if (k >= table->n_inputs && table->kinds[k - table->n_inputs] == PM_COLUMN_JOIN &&
        strlen (dash + 1) == (size_t) (dash - name) && strncmp (name, dash + 1, dash - name) == 0)
      add_fault (faults, 0, g_strdup_printf (_("the column %s joins a pin to itself"), name));
  }
}

static gboolean
read_columns (PmTable *table, const char *line, const char *const *bit_names, GPtrArray *faults)
{
  gboolean one_colon;

  g_ptr_array_unref (table->names);
  table->names = split_words (line, &table->n_inputs, &one_colon);
  if (!one_colon) {
    add_fault (faults, 0, g_strdup (_("the column line needs one colon, between the inputs and the outputs")));
    return FALSE;
  }
  table->n_outputs = table->names->len - table->n_inputs;
  if (table->n_outputs == 0) {
    add_fault (faults, 0, g_strdup (_("there is no output column")));
    return FALSE;
  }
  if (table->n_inputs > PM_TABLE_MAX_INPUTS) {
    add_fault (faults, 0, g_strdup_printf (_("%u input columns, but a table has at most %d"), table->n_inputs,
                                           PM_TABLE_MAX_INPUTS));
    return FALSE;
  }
  table->kinds = g_new (PmColumnKind, table->n_outputs);
  for (guint i = 0; i < table->n_outputs; i++)
    table->kinds[i] = kind_of_column (name_at (table, table->n_inputs + i), bit_names);
  check_column_names (table, faults);
  return TRUE;
}

static void
read_input_cell (PmTable *table, Row *row, guint k, const char *word, GPtrArray *faults)
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
    add_fault (faults, row->line, g_strdup_printf (_("%s says “%s”, but an input is H, L, X, rise or fall"),
                                                   name_at (table, k), word));
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

static Cell
read_output_cell (PmTable *table, guint line, guint i, const char *word, GPtrArray *faults)
{
  Cell cell = { 0 };
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
  add_fault (faults, line, g_strdup_printf (_("%s says “%s”, but %s"), name_at (table, table->n_inputs + i), word,
                                            words_of_kind (kind)));
  return cell;
}

static void
read_row (PmTable *table, const char *text, guint line, GPtrArray *faults)
{
  g_autoptr (GPtrArray) words = NULL;
  gboolean one_colon;
  guint n_before, n_after;
  Row row = { .line = line };

  words = split_words (text, &n_before, &one_colon);
  if (!one_colon) {
    add_fault (faults, line, g_strdup (_("a row needs one colon, between its input and its output cells")));
    return;
  }
  n_after = words->len - n_before;
  if (n_before != table->n_inputs || n_after != table->n_outputs) {
    add_fault (faults, line,
               g_strdup_printf (_("%u : %u cells stand here under %u : %u columns"), n_before, n_after,
                                table->n_inputs, table->n_outputs));
    return;
  }
  for (guint k = 0; k < table->n_inputs; k++)
    read_input_cell (table, &row, k, g_ptr_array_index (words, k), faults);
  for (guint i = 0; i < table->n_outputs; i++) {
    Cell cell = read_output_cell (table, line, i, g_ptr_array_index (words, table->n_inputs + i), faults);

    g_array_append_val (table->cells, cell);
  }
  table->rises |= row.rise;
  table->falls |= row.fall;
  g_array_append_val (table->rows, row);
  for (guint k = 0; k < words->len; k++)
    g_ptr_array_add (table->texts, g_steal_pointer (&words->pdata[k]));
}

/* ---- contradictions ---- */

/* The states of an input column in which a row matches, as a set.  In a column with edges a level means that level
 * and no edge that the table names there. */
static guint
states_of (const PmTable *table, const Row *row, guint k)
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

static guint
out_of (const Cell *cell, guint32 reading)
{
  if (!cell->copy)
    return cell->out;
  return ((reading >> cell->input & 1) ^ cell->invert) != 0 ? PM_OUT_HIGH : PM_OUT_LOW;
}

static void
say_state (GString *text, const char *name, guint states)
{
  const char *word = (states & STATE_HIGH) != 0 ? "H" : (states & STATE_LOW) != 0 ? "L" : states == STATE_RISE ? "rise" : "fall";

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
  const Cell *a = cell_at (table, r, output), *b = cell_at (table, s, output);
  guint32 copied = (a->copy ? 1u << a->input : 0) | (b->copy ? 1u << b->input : 0);
  guint states[PM_TABLE_MAX_INPUTS];

  if (memcmp (a, b, sizeof *a) == 0)
    return NULL;
  for (guint k = 0; k < table->n_inputs; k++) {
    states[k] = states_of (table, row_at (table, r), k) & states_of (table, row_at (table, s), k);
    if (states[k] == 0)
      return NULL;
  }
  /* Every reading of the one or two copied columns: the subsets of their mask, from all to none. */
  for (guint32 reading = copied;; reading = (reading - 1) & copied) {
    guint narrowed[PM_TABLE_MAX_INPUTS];

    memcpy (narrowed, states, sizeof narrowed);
    if (out_of (a, reading) != out_of (b, reading) && narrow (narrowed, copied, reading)) {
      GString *text = g_string_new (NULL);

      for (guint k = 0; k < table->n_inputs; k++) {
        if (narrowed[k] != STATE_ANY)
          say_state (text, name_at (table, k), narrowed[k]);
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
    for (guint r = 0; r < s; r++) {
      for (guint i = 0; i < table->n_outputs; i++) {
        g_autofree char *example = find_contradiction (table, i, r, s);

        if (example == NULL)
          continue;
        if (example[0] == '\0')
          add_fault (faults, row_at (table, s)->line,
                     g_strdup_printf (_("%s is not what row %u says of it"), name_at (table, table->n_inputs + i),
                                      row_at (table, r)->line));
        else
          add_fault (faults, row_at (table, s)->line,
                     g_strdup_printf (_("%s is not what row %u says of it for %s"), name_at (table, table->n_inputs + i),
                                      row_at (table, r)->line, example));
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
  GArray        *nodes;   /* Node, children before parents */
  GHashTable    *shared;  /* packed node -> index + 1 */
} Split;

/* The rows of list that still match, into the next depth's list. */
static guint
keep_matching (const Split *split, const guint16 *list, guint n, guint16 *kept)
{
  guint n_kept = 0;

  for (guint k = 0; k < n; k++) {
    const Row *row = row_at (split->table, list[k]);

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
    if ((row_at (split->table, list[k])->care & ~split->known) == 0)
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
    guint32 open = row_at (split->table, list[k])->care & ~split->known;

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
share_node (Split *split, Node node)
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
  return share_node (split, (Node) { .out = out, .input = NO_INPUT });
}

static guint32
test (Split *split, guint input, guint32 low, guint32 high)
{
  return low == high ? low : share_node (split, (Node) { .input = input, .low = low, .high = high });
}

static guint32
compile_cell (Split *split, const Cell *cell)
{
  if (!cell->copy || (split->known >> cell->input & 1) != 0)
    return leaf (split, out_of (cell, split->value));
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
    return compile_cell (split, cell_at (split->table, covering, split->output));
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
  Node node = g_array_index (nodes, Node, old);
  guint32 at = tree->len;

  if (renumbered[old] != 0)
    return renumbered[old] - 1;
  renumbered[old] = at + 1;
  g_array_append_val (tree, node);
  if (node.input != NO_INPUT) {
    node.low = copy_node (nodes, node.low, renumbered, tree);
    node.high = copy_node (nodes, node.high, renumbered, tree);
    g_array_index (tree, Node, at) = node;
  }
  return at;
}

static GArray *
compile_output (const PmTable *table, guint output, guint16 *lists)
{
  Split split = { .table = table, .output = output, .lists = lists };
  GArray *tree = g_array_new (FALSE, FALSE, sizeof (Node));
  g_autofree guint32 *renumbered = NULL;
  guint32 root;

  split.nodes = g_array_new (FALSE, FALSE, sizeof (Node));
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
      say_state (example, name_at (table, k), (split.value >> k & 1) != 0 ? STATE_HIGH : STATE_LOW);
  }
  if (example->len == 0)
    add_fault (faults, 0, g_strdup (_("the table has no rows")));
  else
    add_fault (faults, 0, g_strdup_printf (_("no row says what happens for %s"), example->str));
}

/* An edge acts on what is stored, and only there can a table leave combinations out. */
static void
check_edges (const PmTable *table, GPtrArray *faults)
{
  for (guint i = 0; i < table->n_outputs; i++) {
    if (table->kinds[i] != PM_COLUMN_BIT)
      add_fault (faults, 0, g_strdup_printf (_("%s is no stored bit, but the table names an edge"),
                                             name_at (table, table->n_inputs + i)));
  }
}

/* Which columns act without an edge: those that a row without one looks at and does more than hold. */
static guint32
columns_at_once (const PmTable *table)
{
  guint32 columns = 0;

  for (guint r = 0; r < table->rows->len; r++) {
    const Row *row = row_at (table, r);

    for (guint i = 0; i < table->n_outputs && (row->rise | row->fall) == 0; i++) {
      const Cell *cell = cell_at (table, r, i);

      if (cell->copy)
        columns |= row->care | 1u << cell->input;
      else if (cell->out != PM_OUT_HOLD)
        columns |= row->care;
    }
  }
  return columns;
}

static void
check_and_compile (PmTable *table, GPtrArray *faults)
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
  table->rows = g_array_new (FALSE, FALSE, sizeof (Row));
  table->cells = g_array_new (FALSE, FALSE, sizeof (Cell));
  lines = g_strsplit (text, "\n", -1);
  for (guint k = 0; lines[k] != NULL; k++) {
    if (lines[k][strspn (lines[k], " \t\r")] == '\0')
      continue;
    if (line > MAX_ROWS) {
      add_fault (faults, line, g_strdup_printf (_("more than %d rows"), MAX_ROWS));
      return NULL;
    }
    if (line > 0)
      read_row (table, lines[k], line, faults);
    else if (!read_columns (table, lines[k], bit_names, faults))
      return NULL;
    line++;
  }
  if (line == 0)
    add_fault (faults, 0, g_strdup (_("the table is empty")));
  if (faults->len == n_faults)
    check_and_compile (table, faults);
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
  return name_at (table, i);
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
  return name_at (table, table->n_inputs + i);
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
    const Row *row = row_at (table, r);
    const Cell *cell = cell_at (table, r, i);
    gboolean edge = (row->rise | row->fall) != 0;
    guint32 reading = edge ? (now & ~data) | (before & data) : now;

    /* A row that holds never has to win: what no other row says is held anyway. */
    if (!cell->copy && cell->out == PM_OUT_HOLD)
      continue;
    if ((row->rise & ~up) != 0 || (row->fall & ~down) != 0)
      continue;
    if ((row->care & (row->high ^ reading)) == 0 && (row->care & (up | down)) == 0)
      return out_of (cell, reading);
  }
  return PM_OUT_HOLD;
}

gboolean
pm_table_node (const PmTable *table, guint i, guint32 node, PmOut *out, guint *input, guint32 *low, guint32 *high)
{
  const Node *n = &g_array_index (table->trees[i], Node, node);

  if (n->input == NO_INPUT) {
    *out = n->out;
    return TRUE;
  }
  *input = n->input;
  *low = n->low;
  *high = n->high;
  return FALSE;
}
