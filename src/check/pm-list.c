/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lists as data, as plain text and as CSV; what is in each kind is told in a file of its own. */
#include "config.h"
#include "pm-list.h"
#include "pm-list-private.h"
#include "pm-report.h"
#include "pm-text-table.h"
#include <glib/gi18n-lib.h>

/* The narrowest that a column of words is broken to in plain text. */
#define NARROWEST 12

static const struct {
  const char *id, *title;
  void (*fill) (PmListBuild *build);
} PM_LISTS[PM_N_LISTS] = {
    [PM_LIST_RESULTS] = {"results", N_("Comparison of results"), pm_list_results},
    [PM_LIST_FINDINGS] = {"findings", N_("Findings"), pm_list_findings},
    [PM_LIST_PINS] = {"pins", N_("Pin table"), pm_list_pins},
    [PM_LIST_WIRES] = {"wires", N_("Wire list"), pm_list_wires},
    [PM_LIST_CABLES] = {"cables", N_("Cable table"), pm_list_cables},
    [PM_LIST_PARTS] = {"parts", N_("Parts list"), pm_list_parts},
    [PM_LIST_ALTERNATES] = {"alternates", N_("Other chips that fit"), pm_list_alternates},
    [PM_LIST_STEPS] = {"steps", N_("Build steps"), pm_list_steps},
    [PM_LIST_CHECKS] = {"checks", N_("Five checks with a meter"), pm_list_checks},
};

const char *
pm_list_id (PmListKind kind)
{
  return PM_LISTS[kind].id;
}

int
pm_list_kind (const char *id)
{
  for (guint i = 0; i < PM_N_LISTS; i++)
    if (g_str_equal (PM_LISTS[i].id, id))
      return (int)i;
  return -1;
}

const char *
pm_list_kind_title (PmListKind kind)
{
  return _(PM_LISTS[kind].title);
}

/* ---- filling */

void
pm_list_add_column (PmListBuild *build, const char *id, const char *title, PmCellsKind kind)
{
  PmListColumn column = {g_strdup (id), g_strdup (title), kind};
  g_array_append_val (build->columns, column);
}

char **
pm_list_add_row (PmListBuild *build, char *id)
{
  PmListRow row = {PM_ROW_PLAIN, g_new0 (char *, build->columns->len + 1), id};
  for (guint c = 0; c < build->columns->len; c++)
    row.cells[c] = g_strdup ("");
  g_array_append_val (build->rows, row);
  return row.cells;
}

void
pm_list_set (char **cells, guint column, char *text)
{
  if (text == NULL)
    return;
  g_free (cells[column]);
  cells[column] = text;
}

void
pm_list_add_line (PmListBuild *build, PmRowKind kind, char *id, char *text)
{
  PmListRow row = {kind, g_new0 (char *, 2), id};
  row.cells[0] = text;
  g_array_append_val (build->rows, row);
}

void
pm_list_add_note (PmListBuild *build, char *text)
{
  g_ptr_array_add (build->notes, text);
}

PmList *
pm_list_new (const PmCheck *check, PmListKind kind, const PmListOptions *options, GCancellable *cancellable)
{
  PmListBuild build = {
      .check = check, .board = check->board, .options = PM_LIST_OPTIONS_USUAL, .cancellable = cancellable};
  if (options != NULL)
    build.options = *options;
  build.options.n_boards = MAX (build.options.n_boards, 1);
  if (build.options.case_index >= check->n_cases)
    build.options.case_index = 0;
  build.nets = pm_metal_of_board (check->board, PM_METAL_BOARD, NULL);
  build.in_machine = pm_metal_of_board (check->board, PM_METAL_BOARD | PM_METAL_MACHINE, NULL);
  build.side_line = pm_list_side_lines (check->board);
  build.columns = g_array_new (FALSE, TRUE, sizeof (PmListColumn));
  build.rows = g_array_new (FALSE, TRUE, sizeof (PmListRow));
  build.notes = g_ptr_array_new ();
  PM_LISTS[kind].fill (&build);
  g_free (build.nets);
  g_free (build.in_machine);
  g_free (build.side_line);
  PmList *list = g_new0 (PmList, 1);
  list->kind = kind;
  list->id = PM_LISTS[kind].id;
  list->title = g_strdup (_(PM_LISTS[kind].title));
  list->about = build.about;
  list->n_columns = build.columns->len;
  list->columns = (PmListColumn *)g_array_free (build.columns, FALSE);
  list->n_rows = build.rows->len;
  list->rows = (PmListRow *)g_array_free (build.rows, FALSE);
  g_ptr_array_add (build.notes, NULL);
  list->notes = (char **)g_ptr_array_free (build.notes, FALSE);
  return list;
}

void
pm_list_free (PmList *list)
{
  if (list == NULL)
    return;
  for (guint r = 0; r < list->n_rows; r++) {
    g_strfreev (list->rows[r].cells);
    g_free (list->rows[r].id);
  }
  for (guint c = 0; c < list->n_columns; c++) {
    g_free (list->columns[c].id);
    g_free (list->columns[c].title);
  }
  g_free (list->rows);
  g_free (list->columns);
  g_strfreev (list->notes);
  g_free (list->title);
  g_free (list->about);
  g_free (list);
}

/* ---- plain text */

static const char *
cell_text (const PmList *list, guint r, guint c)
{
  switch (list->columns[c].kind) {
  case PM_CELLS_TICK:
    return "[ ]";
  case PM_CELLS_BLANK:
    return "........";
  case PM_CELLS_TEXT:
  case PM_CELLS_NUMBER:
  default:
    return list->rows[r].cells[c];
  }
}

static guint
longest_word (const char *text)
{
  g_auto (GStrv) words = g_strsplit_set (text, " \n", -1);
  guint longest = 0;
  for (guint w = 0; words[w] != NULL; w++)
    longest = MAX (longest, pm_text_columns (words[w]));
  return longest;
}

/* widths: of the widest cell; least: of the longest word. */
static void
measure (const PmList *list, guint *widths, guint *least)
{
  for (guint c = 0; c < list->n_columns; c++) {
    widths[c] = pm_text_columns (list->columns[c].title);
    least[c] = longest_word (list->columns[c].title);
    for (guint r = 0; r < list->n_rows; r++) {
      if (list->rows[r].kind != PM_ROW_PLAIN)
        continue;
      widths[c] = MAX (widths[c], pm_text_columns (cell_text (list, r, c)));
      least[c] = MAX (least[c], longest_word (cell_text (list, r, c)));
    }
    if (list->columns[c].kind != PM_CELLS_TEXT)
      least[c] = widths[c];
  }
}

/* Columns no wider than cap, but as wide as their longest word. Returns the width of all. */
static guint
fit (const PmList *list, const guint *widths, const guint *least, guint cap, guint *fitted)
{
  guint all = 0;
  for (guint c = 0; c < list->n_columns; c++) {
    fitted[c] = MAX (MIN (widths[c], cap), least[c]);
    all += fitted[c] + (c > 0 ? 2 : 0);
  }
  return all;
}

/* Cells of columns 0 and first .. last-1, wrapped, side by side.  r: the row, -1 for the head. */
static void
append_cells (const PmList *list, GString *out, int r, const guint *widths, guint first, guint last)
{
  g_autoptr (GPtrArray) wrapped = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);
  guint n_lines = 1;
  for (guint c = 0; c < last; c++) {
    const char *text = r < 0 ? list->columns[c].title : cell_text (list, (guint)r, c);
    g_autofree char *broken = pm_report_wrap (text, 0, widths[c]);
    char **lines = g_strsplit (broken, "\n", -1);
    g_ptr_array_add (wrapped, lines);
    if (c == 0 || c >= first)
      n_lines = MAX (n_lines, g_strv_length (lines));
  }
  for (guint n = 0; n < n_lines; n++) {
    g_autoptr (GString) line = g_string_new (NULL);
    for (guint c = 0; c < last; c++) {
      char **lines = g_ptr_array_index (wrapped, c);
      if (c > 0 && c < first)
        continue;
      const char *text = n < g_strv_length (lines) ? lines[n] : "";
      if (list->columns[c].kind == PM_CELLS_NUMBER)
        for (guint k = pm_text_columns (text); k < widths[c]; k++)
          g_string_append_c (line, ' ');
      pm_text_pad (line, text, list->columns[c].kind == PM_CELLS_NUMBER ? 0 : widths[c]);
      g_string_append (line, "  ");
    }
    while (line->len > 0 && line->str[line->len - 1] == ' ')
      g_string_truncate (line, line->len - 1);
    g_string_append_printf (out, "%s\n", line->str);
  }
}

static void
append_line (GString *out, const PmListRow *row, gboolean first, guint width)
{
  const char *mark = row->kind == PM_ROW_HEADING ? "" : row->kind == PM_ROW_HOLD ? "=== " : "!!! ";
  g_autofree char *marked = g_strconcat (mark, row->cells[0], NULL);
  g_autofree char *wrapped = pm_report_wrap (marked, (guint)strlen (mark), width);
  g_string_append_printf (out, "%s%s\n", row->kind == PM_ROW_HEADING && !first ? "\n" : "", wrapped);
}

static void
append_block (const PmList *list, GString *out, const guint *widths, guint first, guint last, guint width)
{
  append_cells (list, out, -1, widths, first, last);
  for (guint r = 0; r < list->n_rows; r++)
    if (list->rows[r].kind == PM_ROW_PLAIN)
      append_cells (list, out, (int)r, widths, first, last);
    else if (first <= 1 || list->rows[r].kind == PM_ROW_HEADING)
      append_line (out, &list->rows[r], FALSE, width);
}

char *
pm_list_text (const PmList *list, guint width)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autofree guint *natural = g_new0 (guint, list->n_columns + 1), *least = g_new0 (guint, list->n_columns + 1),
                   *widths = g_new0 (guint, list->n_columns + 1);
  g_string_append_printf (out, "%s\n", list->title);
  if (list->about != NULL) {
    g_autofree char *wrapped = pm_report_wrap (list->about, 0, width);
    g_string_append_printf (out, "%s\n", wrapped);
  }
  if (list->n_rows > 0) {
    guint cap = width;
    g_string_append_c (out, '\n');
    measure (list, natural, least);
    while (fit (list, natural, least, cap, widths) > width && cap > NARROWEST)
      cap--;
    for (guint first = MIN (1, list->n_columns - 1), last; first < list->n_columns; first = last) {
      guint at = widths[0];
      for (last = first; last < list->n_columns && (last == first || at + 2 + widths[last] <= width); last++)
        at += 2 + widths[last];
      if (first > 1)
        g_string_append_c (out, '\n');
      append_block (list, out, widths, first, last, width);
    }
  }
  for (guint i = 0; list->notes[i] != NULL; i++) {
    g_autofree char *wrapped = pm_report_wrap (list->notes[i], 0, width);
    g_string_append_printf (out, "%s%s\n", i == 0 ? "\n" : "", wrapped);
  }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

/* ---- CSV */

static void
append_field (GString *out, const char *text, gboolean first)
{
  if (!first)
    g_string_append_c (out, ',');
  if (strpbrk (text, ",\"\r\n") == NULL) {
    g_string_append (out, text);
    return;
  }
  g_string_append_c (out, '"');
  for (const char *c = text; *c != '\0'; c++) {
    if (*c == '"')
      g_string_append_c (out, '"');
    g_string_append_c (out, *c);
  }
  g_string_append_c (out, '"');
}

static const char *const row_kind_ids[] = {"", "", "hold", "caution"};

char *
pm_list_csv (const PmList *list)
{
  g_autoptr (GString) out = g_string_new (NULL);
  gboolean headings = FALSE, others = FALSE;
  const char *heading = "";
  guint words = 0;
  for (guint r = 0; r < list->n_rows; r++) {
    headings |= list->rows[r].kind == PM_ROW_HEADING;
    others |= list->rows[r].kind == PM_ROW_HOLD || list->rows[r].kind == PM_ROW_CAUTION;
  }
  while (words + 1 < list->n_columns && list->columns[words].kind != PM_CELLS_TEXT)
    words++;
  gboolean first = TRUE;
  if (headings) {
    append_field (out, "part-of-list", first);
    first = FALSE;
  }
  if (others) {
    append_field (out, "kind", first);
    first = FALSE;
  }
  for (guint c = 0; c < list->n_columns; c++, first = FALSE)
    append_field (out, list->columns[c].id, first);
  g_string_append (out, "\r\n");
  for (guint r = 0; r < list->n_rows; r++) {
    const PmListRow *row = &list->rows[r];
    if (row->kind == PM_ROW_HEADING) {
      heading = row->cells[0];
      continue;
    }
    first = TRUE;
    if (headings) {
      append_field (out, heading, first);
      first = FALSE;
    }
    if (others) {
      append_field (out, row_kind_ids[row->kind], first);
      first = FALSE;
    }
    for (guint c = 0; c < list->n_columns; c++, first = FALSE)
      append_field (out, row->kind == PM_ROW_PLAIN ? row->cells[c] : c == words ? row->cells[0] : "", first);
    g_string_append (out, "\r\n");
  }
  return g_string_free (g_steal_pointer (&out), FALSE);
}
