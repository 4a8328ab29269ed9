/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables of plain text: columns as wide as their widest cell, two blanks between. */
#include "pm-text-table.h"

struct _PmTextTable {
  guint      n_columns;
  GPtrArray *cells;    /* char*, row by row */
};

guint
pm_text_columns (const char *text)
{
  guint n = 0;
  for (const char *c = text; *c != '\0'; c = g_utf8_next_char (c)) {
    gunichar u = g_utf8_get_char (c);
    n += g_unichar_iszerowidth (u) ? 0 : g_unichar_iswide (u) ? 2 : 1;
  }
  return n;
}

void
pm_text_pad (GString *out, const char *text, guint width)
{
  g_string_append (out, text);
  for (guint n = pm_text_columns (text); n < width; n++)
    g_string_append_c (out, ' ');
}

PmTextTable *
pm_text_table_new (guint n_columns)
{
  PmTextTable *table = g_new0 (PmTextTable, 1);
  table->n_columns = n_columns;
  table->cells = g_ptr_array_new_with_free_func (g_free);
  return table;
}

void
pm_text_table_free (PmTextTable *table)
{
  if (table == NULL)
    return;
  g_ptr_array_unref (table->cells);
  g_free (table);
}

void
pm_text_table_take (PmTextTable *table, char *cell)
{
  g_ptr_array_add (table->cells, cell);
}

void
pm_text_table_add (PmTextTable *table, const char *cell)
{
  pm_text_table_take (table, g_strdup (cell));
}

static const char *
cell_at (const PmTextTable *table, guint row, guint column)
{
  return g_ptr_array_index (table->cells, row * table->n_columns + column);
}

/* Columns 0 .. lead-1, then first .. last-1. */
static void
append_block (const PmTextTable *table, GString *out, const guint *widths, guint indent, guint lead, guint first,
              guint last)
{
  for (guint r = 0; r < table->cells->len / table->n_columns; r++) {
    g_autoptr (GString) line = g_string_new (NULL);
    for (guint c = 0; c < last; c++)
      if (c < lead || c >= first)
        pm_text_pad (line, cell_at (table, r, c), widths[c] + 2);
    while (line->len > 0 && line->str[line->len - 1] == ' ')
      g_string_truncate (line, line->len - 1);
    g_string_append_printf (out, "%*s%s\n", line->len > 0 ? (int) indent : 0, "", line->str);
  }
}

void
pm_text_table_append (const PmTextTable *table, GString *out, guint indent, guint lead, guint width)
{
  g_autofree guint *widths = g_new0 (guint, table->n_columns + 1);
  guint rows = table->cells->len / table->n_columns, start = indent;
  for (guint c = 0; c < table->n_columns; c++)
    for (guint r = 0; r < rows; r++)
      widths[c] = MAX (widths[c], pm_text_columns (cell_at (table, r, c)));
  for (guint c = 0; c < lead; c++)
    start += widths[c] + 2;
  for (guint first = lead; first < table->n_columns || first == lead;) {
    guint last = first, at = start;
    while (last < table->n_columns && (last == first || at + widths[last] <= width))
      at += widths[last++] + 2;
    if (first > lead)
      g_string_append_c (out, '\n');
    append_block (table, out, widths, indent, lead, first, last);
    if (last == first)
      return;
    first = last;
  }
}
