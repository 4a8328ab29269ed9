/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fuzz target: text as a quantity of every unit, and as a table. */
#include "fuzz.h"

#include "pm-quantity.h"
#include "pm-table.h"

#include <math.h>
#include <string.h>

/* What was read is a number, and written out and read again it is the same one. */
static void
check_quantity (const char *text, PmQuantityUnit unit)
{
  g_autoptr (GError) error = NULL;
  PmQuantity quantity, again;

  if (!pm_quantity_parse (text, unit, &quantity, &error)) {
    g_assert_nonnull (error);
    g_assert_true (g_utf8_validate (error->message, -1, NULL));
    return;
  }
  g_assert_no_error (error);
  g_assert_true (isfinite (quantity.value) && isfinite (quantity.tolerance));
  g_assert_true (quantity.low <= quantity.value && quantity.value <= quantity.high);
  g_autofree char *written = pm_quantity_format (quantity.value, unit);
  pm_quantity_parse (written, unit, &again, &error);
  g_assert_no_error (error);
  if (fabs (again.value - quantity.value) > 1e-9 * fabs (quantity.value))
    g_error ("%s: %.17g is written %s and read as %.17g", text, quantity.value, written, again.value);
}

/* Every combination of a small table comes to an answer, and its tree ends. */
static void
check_table (const PmTable *table)
{
  guint n_inputs = pm_table_n_inputs (table), n_outputs = pm_table_n_outputs (table);

  g_assert_cmpuint (n_inputs, <=, PM_TABLE_MAX_INPUTS);
  for (guint row = 0; row < pm_table_n_rows (table); row++)
    for (guint column = 0; column < n_inputs + n_outputs; column++)
      g_assert_nonnull (pm_table_cell (table, row, column));
  for (guint i = 0; i < n_outputs; i++)
    for (guint32 now = 0; now < 1u << MIN (n_inputs, 8); now++) {
      PmOut out = pm_table_eval (table, i, now, now), leaf;
      g_assert_cmpuint (out, <, PM_N_OUTS);
      if (pm_table_has_edge (table))
        continue;
      guint32 node = 0, low, high;
      guint input, steps = 0;
      while (!pm_table_node (table, i, node, &leaf, &input, &low, &high)) {
        g_assert_cmpuint (input, <, n_inputs);
        g_assert_cmpuint (steps++, <=, n_inputs);
        node = now >> input & 1 ? high : low;
      }
      g_assert_cmpint (leaf, ==, out);
    }
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  static const char *const bits[] = { "q", "r", NULL };
  g_autofree char *text = g_strndup ((const char *) data, size);
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) pm_table_fault_free);

  for (guint unit = 0; unit < PM_N_UNITS; unit++)
    check_quantity (text, unit);
  for (guint with = 0; with < 2; with++) {
    g_ptr_array_set_size (faults, 0);
    g_autoptr (PmTable) table = pm_table_parse (text, with ? bits : NULL, faults);
    g_assert_true ((table != NULL) == (faults->len == 0));
    if (table != NULL)
      check_table (table);
  }
  return 0;
}
