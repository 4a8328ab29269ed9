/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The truth table of a part: every combination of its inputs is evaluated, then rows that do not differ are folded.
 *
 * An input whose table names an edge has four values: low, high, rise, fall.  What a section remembers is an input (as
 * it was before) and not printed as an output: the outputs are those after the step.
 */
#include "config.h"
#include "pm-part-text.h"
#include "pm-truth.h"
#include "pm-text-table.h"
#include <glib/gi18n-lib.h>
#include <string.h>

#define MAX_COLUMNS 20
#define MAX_COMBINATIONS (1u << 18)
#define MAX_TABLES 4

enum { VALUE_LOW, VALUE_HIGH, VALUE_RISE, VALUE_FALL };
static const char *const value_words[] = {"L", "H", "rise", "fall"};
enum { OUT_LOW, OUT_HIGH, OUT_OFF, OUT_OPEN, OUT_JOINED, OUT_EITHER };
static const char *const out_words[] = {"L", "H", "Z", N_("open"), N_("joined"), N_("either")};

/* key: as in PmSection.inputs, a pin or a stored bit. */
typedef struct { guint32 key; const char *name; guint n_values; } Input;
typedef struct { const PmSection *section; guint output; char *name; } Output;

typedef struct {
  const PmPart    *part;
  const PmSection *sections[MAX_TABLES];
  guint            n_sections;
  Input            inputs[MAX_COLUMNS];
  guint            n_inputs, n_combinations;
  GArray          *outputs;      /* Output */
  guint8          *outcomes;     /* [n_combinations * outputs], the first input counts most */
  PmTextTable     *table;
} Fold;

static guint
input_index (const Fold *fold, guint32 key)
{
  guint i = 0;
  while (i < fold->n_inputs && fold->inputs[i].key != key)
    i++;
  return i;
}

static void
add_input (Fold *fold, const PmSection *section, guint column)
{
  guint32 key = section->inputs[column];
  guint i = input_index (fold, key);
  if (i == fold->n_inputs && i == MAX_COLUMNS)
    return;
  if (i == fold->n_inputs)
    fold->inputs[fold->n_inputs++] =
        (Input){key, PM_IS_BIT (key) ? pm_table_input (section->table, column) : fold->part->pins[key].name, 2};
  if (pm_table_edge_inputs (section->table) >> column & 1)
    fold->inputs[i].n_values = 4;
}

static void
add_outputs (Fold *fold, const PmSection *section)
{
  for (guint k = 0; k < pm_table_n_outputs (section->table); k++) {
    Output output = {section, k, NULL};
    const PmPin *pins = fold->part->pins;
    switch (pm_table_kind (section->table, k)) {
    case PM_COLUMN_BIT: continue;
    case PM_COLUMN_JOIN:
      output.name = g_strdup_printf ("%s-%s", pins[section->outputs[k]].name, pins[section->others[k]].name);
      break;
    case PM_COLUMN_PIN:
    default: output.name = g_strdup (pins[section->outputs[k]].name); break;
    }
    g_array_append_val (fold->outputs, output);
  }
}

/* Level of each input before and after the step, as masks over the columns of one table. */
static void
reading (const Fold *fold, const PmSection *section, const guint8 *values, guint32 *now, guint32 *before)
{
  *now = *before = 0;
  for (guint k = 0; k < pm_table_n_inputs (section->table); k++) {
    guint8 value = values[input_index (fold, section->inputs[k])];
    *now |= (guint32) (value == VALUE_HIGH || value == VALUE_RISE) << k;
    *before |= (guint32) (value == VALUE_HIGH || value == VALUE_FALL) << k;
  }
}

/* Where stored bits go; those that may go either way are in *open. */
static void
step_bits (const Fold *fold, guint8 *values, guint32 *open)
{
  guint8 after[MAX_COLUMNS];
  memcpy (after, values, sizeof after);
  for (guint s = 0; s < fold->n_sections; s++) {
    const PmSection *section = fold->sections[s];
    guint32 now, before;
    reading (fold, section, values, &now, &before);
    for (guint k = 0; k < pm_table_n_outputs (section->table); k++) {
      guint i = input_index (fold, PM_BIT (section->outputs[k]));
      if (pm_table_kind (section->table, k) != PM_COLUMN_BIT || i == fold->n_inputs)
        continue;
      PmOut out = pm_table_eval (section->table, k, now, before);
      if (out == PM_OUT_UNSTABLE)
        *open |= 1u << i;
      else if (out != PM_OUT_HOLD)
        after[i] = out == PM_OUT_TOGGLE ? !values[i] : out == PM_OUT_HIGH;
    }
  }
  memcpy (values, after, sizeof after);
}

static guint8
outcome (const Fold *fold, const Output *output, const guint8 *values)
{
  guint32 now, before;
  reading (fold, output->section, values, &now, &before);
  switch (pm_table_eval (output->section->table, output->output, now, before)) {
  case PM_OUT_LOW: return OUT_LOW;
  case PM_OUT_HIGH: return OUT_HIGH;
  case PM_OUT_OFF: return OUT_OFF;
  case PM_OUT_OPEN: return OUT_OPEN;
  case PM_OUT_JOINED: return OUT_JOINED;
  case PM_OUT_HOLD: case PM_OUT_TOGGLE: case PM_OUT_UNSTABLE: case PM_N_OUTS:
  default: return OUT_EITHER;
  }
}

static void
evaluate (Fold *fold, guint combination)
{
  guint8 values[MAX_COLUMNS] = {0};
  guint32 open = 0, n = combination;
  guint8 *out = fold->outcomes + (gsize) combination * fold->outputs->len;
  for (guint i = fold->n_inputs; i-- > 0; n /= fold->inputs[i].n_values)
    values[i] = n % fold->inputs[i].n_values;
  step_bits (fold, values, &open);
  for (guint32 subset = open;; subset = (subset - 1) & open) {
    for (guint i = 0; i < fold->n_inputs; i++)
      if (open >> i & 1)
        values[i] = subset >> i & 1;
    for (guint k = 0; k < fold->outputs->len; k++) {
      guint8 now = outcome (fold, &g_array_index (fold->outputs, Output, k), values);
      out[k] = subset == open || out[k] == now ? now : OUT_EITHER;
    }
    if (subset == 0)
      return;
  }
}

static void
evaluate_all (Fold *fold)
{
  for (guint c = 0; c < fold->n_combinations; c++)
    evaluate (fold, c);
}

/* TRUE if some value of an input alone decides every output, as that of an enable does. */
static gboolean
decides (const Fold *fold, guint input)
{
  gsize n_outputs = fold->outputs->len;
  guint below = 1;
  for (guint i = input + 1; i < fold->n_inputs; i++)
    below *= fold->inputs[i].n_values;
  for (guint v = 0; v < fold->inputs[input].n_values; v++) {
    const guint8 *first = NULL;
    gboolean same = TRUE;
    for (guint c = 0; c < fold->n_combinations && same; c++) {
      const guint8 *out = fold->outcomes + c * n_outputs;
      if (c / below % fold->inputs[input].n_values != v)
        continue;
      first = first != NULL ? first : out;
      same = memcmp (first, out, n_outputs) == 0;
    }
    if (same)
      return TRUE;
  }
  return FALSE;
}

/* Inputs that decide alone stand first: so the table folds best, and data books print it so. */
static void
order_inputs (Fold *fold)
{
  Input ordered[MAX_COLUMNS];
  guint n = 0;
  guint32 first = 0;
  for (guint i = 0; i < fold->n_inputs; i++)
    if (decides (fold, i)) {
      first |= 1u << i;
      ordered[n++] = fold->inputs[i];
    }
  for (guint i = 0; i < fold->n_inputs; i++)
    if (!(first >> i & 1))
      ordered[n++] = fold->inputs[i];
  memcpy (fold->inputs, ordered, n * sizeof *ordered);
}

/* "L", "H", "X"; of four: "rise", "not rise", "L, fall". */
static char *
value_label (guint32 values, guint n_values)
{
  guint n = 0;
  GString *text = g_string_new (NULL);
  for (guint v = 0; v < n_values; v++)
    n += values >> v & 1;
  for (guint v = 0; v < n_values; v++)
    if (n == n_values - 1 && n > 1 && !(values >> v & 1))
      g_string_append_printf (text, _("not %s"), value_words[v]);
    else if ((n < n_values - 1 || n == 1) && (values >> v & 1))
      g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", value_words[v]);
  if (n == n_values)
    g_string_append_c (text, 'X');
  return g_string_free (text, FALSE);
}

/* Rows of inputs column .. n-1 below the labels so far: values under which all that follows is the same share a row. */
static void
fold_rows (Fold *fold, guint column, gsize first, gsize size, char **labels)
{
  gsize n_outputs = fold->outputs->len;
  if (column == fold->n_inputs) {
    for (guint i = 0; i < column; i++)
      pm_text_table_add (fold->table, labels[i]);
    for (guint k = 0; k < n_outputs; k++)
      pm_text_table_take (fold->table, g_strdup_printf ("%s%s", k == 0 ? ": " : "",
                                                        _ (out_words[fold->outcomes[first * n_outputs + k]])));
    return;
  }
  guint n = fold->inputs[column].n_values;
  guint32 done = 0;
  gsize part = size / n;
  for (guint v = 0; v < n; v++) {
    guint32 alike = 0;
    for (guint w = v; w < n && !(done >> v & 1); w++)
      if (memcmp (fold->outcomes + (first + v * part) * n_outputs, fold->outcomes + (first + w * part) * n_outputs,
                  part * n_outputs) == 0)
        alike |= 1u << w;
    if (alike == 0)
      continue;
    done |= alike;
    labels[column] = value_label (alike, n);
    fold_rows (fold, column + 1, first + v * part, part, labels);
    g_free (labels[column]);
  }
}

static void
output_clear (gpointer data)
{
  g_free (((Output *) data)->name);
}

static gboolean
fold_start (Fold *fold, const PmPart *part, const char *section)
{
  *fold = (Fold) {.part = part, .n_combinations = 1, .outputs = g_array_new (FALSE, FALSE, sizeof (Output))};
  g_array_set_clear_func (fold->outputs, output_clear);
  for (guint i = 0; i < part->n_sections && fold->n_sections < MAX_TABLES; i++)
    if (g_str_equal (part->sections[i].name, section))
      fold->sections[fold->n_sections++] = &part->sections[i];
  for (guint s = 0; s < fold->n_sections; s++) {
    for (guint k = 0; k < pm_table_n_inputs (fold->sections[s]->table); k++)
      add_input (fold, fold->sections[s], k);
    add_outputs (fold, fold->sections[s]);
  }
  for (guint i = 0; i < fold->n_inputs && fold->n_combinations <= MAX_COMBINATIONS; i++)
    fold->n_combinations *= fold->inputs[i].n_values;
  return fold->n_inputs < MAX_COLUMNS && fold->n_combinations <= MAX_COMBINATIONS && fold->outputs->len > 0;
}

static void
fold_clear (Fold *fold)
{
  g_array_unref (fold->outputs);
  g_free (fold->outcomes);
  pm_text_table_free (fold->table);
}

static gboolean
append_section (GString *out, const PmPart *part, const char *section, guint width)
{
  Fold fold;
  char *labels[MAX_COLUMNS];
  gboolean fits = fold_start (&fold, part, section);
  if (fits) {
    fold.outcomes = g_malloc0 ((gsize) fold.n_combinations * fold.outputs->len);
    evaluate_all (&fold);
    order_inputs (&fold);
    evaluate_all (&fold);
    fold.table = pm_text_table_new (fold.n_inputs + fold.outputs->len);
    for (guint i = 0; i < fold.n_inputs; i++)
      pm_text_table_add (fold.table, fold.inputs[i].name);
    for (guint k = 0; k < fold.outputs->len; k++)
      pm_text_table_take (fold.table,
                          g_strconcat (k == 0 ? ": " : "", g_array_index (fold.outputs, Output, k).name, NULL));
    fold_rows (&fold, 0, 0, fold.n_combinations, labels);
    pm_text_table_append (fold.table, out, 2, fold.n_inputs, width);
    for (guint i = 0; i < fold.n_inputs; i++)
      if (PM_IS_BIT (fold.inputs[i].key))
        g_string_append_printf (out, _("  %s: what it remembers from before.\n"), fold.inputs[i].name);
  }
  fold_clear (&fold);
  return fits;
}

static char *
section_names (const GPtrArray *names, guint first)
{
  GString *text = g_string_new (NULL);
  for (guint i = first; i < names->len; i++)
    g_string_append_printf (text, "%s%s", i > first ? ", " : "", (const char *) g_ptr_array_index (names, i));
  return g_string_free (text, FALSE);
}

/* Each name once, in order. */
static GPtrArray *
all_sections (const PmPart *part)
{
  GPtrArray *names = g_ptr_array_new ();
  for (guint i = 0; i < part->n_sections; i++)
    if (!g_ptr_array_find_with_equal_func (names, part->sections[i].name, g_str_equal, NULL))
      g_ptr_array_add (names, part->sections[i].name);
  return names;
}

static gboolean
append_all (GString *out, const PmPart *part, const GPtrArray *names, guint width)
{
  g_autoptr (GPtrArray) told = g_ptr_array_new ();
  for (guint i = 0; i < names->len; i++) {
    const char *name = g_ptr_array_index (names, i);
    if (g_ptr_array_find_with_equal_func (told, name, g_str_equal, NULL))
      continue;
    g_autoptr (GPtrArray) alike = pm_part_text_alike (part, name);
    g_autofree char *others = section_names (alike, 1);
    g_ptr_array_extend (told, alike, NULL, NULL);
    if (alike->len > 1)
      g_string_append_printf (out, _("\nSection %s; the same for %s\n"), name, others);
    else
      g_string_append_printf (out, name[0] != '\0' ? _("\nSection %s\n") : "\n", name);
    if (!append_section (out, part, name, width))
      return FALSE;
  }
  return TRUE;
}

char *
pm_truth_of_part (const PmPart *part, const char *section, guint width, GError **error)
{
  g_autoptr (GPtrArray) names = all_sections (part);
  g_autoptr (GString) out = g_string_new (NULL);
  gboolean fits;
  if (names->len == 0) {
    g_set_error (error, PM_TRUTH_ERROR, PM_TRUTH_ERROR_NAME,
                 _("a %s has no function table. See pointsman-cli parts %s"), part->name, part->name);
    return NULL;
  }
  if (section != NULL && !g_ptr_array_find_with_equal_func (names, section, g_str_equal, NULL)) {
    g_autofree char *list = section_names (names, 0);
    const char *format = list[0] != '\0' ? _("a %s has no section \"%s\". It has %s.")
                                         : _("a %s has no section \"%s\": it is one whole.");
    g_set_error (error, PM_TRUTH_ERROR, PM_TRUTH_ERROR_NAME, format, part->name, section, list);
    return NULL;
  }
  g_string_append_printf (out, "%s: %s\n", part->name, part->title);
  if (section != NULL) {
    g_string_append_printf (out, section[0] != '\0' ? _("\nSection %s\n") : "\n", section);
    fits = append_section (out, part, section, width);
  } else {
    fits = append_all (out, part, names, width);
  }
  if (!fits) {
    g_set_error (error, PM_TRUTH_ERROR, PM_TRUTH_ERROR_NAME, _("a %s has too many inputs for a truth table"),
                 part->name);
    return NULL;
  }
  g_string_append_printf (out, _("\n  H high, L low, X either\n"));
  return g_string_free (g_steal_pointer (&out), FALSE);
}
