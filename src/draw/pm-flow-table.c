/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables on paper: how wide each column is, rows as pieces, heads that can stand again.
 *
 * Columns that need little get what they need; wide ones share what is left by the root of what they would like, so
 * that a column of sentences is not starved and a column of pin numbers does not break.  Where even the longest words
 * of all columns do not fit side by side, the columns are told in blocks, each beginning with the first column again.
 */
#include "config.h"
#include "pm-flow-private.h"
#include "pm-mark.h"

#include <math.h>

#define PAD_X 3.0          /* between a column's edge and its words */
#define PAD_Y 2.0
#define PAD_TIGHT 0.9
#define TICK_BOX 8.0
#define BLANK_LEAST 42.0
#define BLANK_LIKES 60.0
#define BLANK_MOST 160.0   /* nobody writes more on a line of a table */
#define WORD_MOST 96.0     /* longer words may be broken */
#define COMFORT 64.0       /* a column of sentences is readable from here on */
#define HEAD_LIKES 72.0    /* titles of columns rather break than be wider */
#define MOVE_MOST 32.0     /* steps in which columns give width to each other */
#define MOVE_LEAST 4.0
#define STRETCH 0.6        /* tables that need more of the width than this take all of it */

typedef struct { guint column; double least, likes, width; } Column;
typedef struct { GArray *columns; double width; } Block;

struct _PmFlowTable {
  PmType       *type;
  const PmList *list;
  double        size, pad;
  GPtrArray    *blocks;     /* Block */
};

static void
block_free (gpointer data)
{
  Block *block = data;

  g_array_unref (block->columns);
  g_free (block);
}

static Column
column_measure (PmType *type, const PmList *list, guint c, double size)
{
  const PmListColumn *column = &list->columns[c];
  Column out = { .column = c };

  out.least = pm_type_least (type, column->title, size, TRUE);
  out.likes = MIN (pm_type_width (type, column->title, size, TRUE), MAX (out.least, HEAD_LIKES));
  if (column->kind == PM_CELLS_BLANK) {
    out.least = MAX (out.least, BLANK_LEAST);
    out.likes = MAX (out.likes, BLANK_LIKES);
  } else if (column->kind == PM_CELLS_TICK) {
    out.least = MAX (out.least, TICK_BOX);
    out.likes = out.least;
  }
  for (guint r = 0; r < list->n_rows; r++) {
    const char *cell;

    if (list->rows[r].kind != PM_ROW_PLAIN)
      continue;
    cell = list->rows[r].cells[c];
    out.least = MAX (out.least, MIN (pm_type_least (type, cell, size, FALSE), WORD_MOST));
    out.likes = MAX (out.likes, pm_type_width (type, cell, size, FALSE));
  }
  out.least += 2 * PAD_X;
  out.likes = MAX (out.likes + 2 * PAD_X, out.least);
  return out;
}

static GArray *
columns_new (PmType *type, const PmList *list, const char *const *wanted, double size)
{
  GArray *columns = g_array_new (FALSE, FALSE, sizeof (Column));

  for (guint w = 0; wanted ? wanted[w] != NULL : w < list->n_columns; w++)
    for (guint c = 0; c < list->n_columns; c++)
      if (wanted ? g_str_equal (wanted[w], list->columns[c].id) : c == w) {
        Column column = column_measure (type, list, c, size);

        g_array_append_val (columns, column);
      }
  return columns;
}

double
pm_flow_table_wants (PmType *type, const PmList *list, const char *const *columns, double size)
{
  g_autoptr (GArray) all = columns_new (type, list, columns, size);
  double wants = 0;

  for (guint i = 0; i < all->len; i++) {
    const Column *column = &g_array_index (all, Column, i);

    wants += MAX (column->least, MIN (column->likes, COMFORT));
  }
  return wants;
}

static double
at_share (GArray *columns, double share, gboolean set)
{
  double sum = 0;

  for (guint i = 0; i < columns->len; i++) {
    Column *column = &g_array_index (columns, Column, i);
    double width = CLAMP (share * sqrt (column->likes), column->least, column->likes);

    if (set)
      column->width = width;
    sum += width;
  }
  return sum;
}

/* Lines that all rows take, each as high as its highest cell; about, for words break where they will. */
static guint
lines_at (const GArray *columns, const double *natural, guint n_rows)
{
  guint sum = 0;

  for (guint r = 0; r < n_rows; r++) {
    guint most = 1;

    for (guint i = 0; i < columns->len; i++) {
      double wide = natural[r * columns->len + i], room = g_array_index (columns, Column, i).width - 2 * PAD_X;

      if (wide > room)
        most = MAX (most, (guint) ceil (wide * 1.12 / room));
    }
    sum += most;
  }
  return sum;
}

/* Moves width from one column to another as long as that saves lines. */
static void
save_lines (PmType *type, const PmList *list, GArray *columns, double size)
{
  g_autofree double *natural = g_new0 (double, list->n_rows * columns->len);
  guint n_rows = 0, best;

  for (guint r = 0; r < list->n_rows; r++) {
    if (list->rows[r].kind != PM_ROW_PLAIN)
      continue;
    for (guint i = 0; i < columns->len; i++)
      natural[n_rows * columns->len + i] =
          pm_type_width (type, list->rows[r].cells[g_array_index (columns, Column, i).column], size, FALSE);
    n_rows++;
  }
  best = lines_at (columns, natural, n_rows);
  for (guint round = 0; round < 4; round++) {
    guint before = best;

    for (double step = MOVE_MOST; step >= MOVE_LEAST; step /= 2)
      for (guint from = 0; from < columns->len; from++)
        for (guint to = 0; to < columns->len; to++) {
          Column *a = &g_array_index (columns, Column, from), *b = &g_array_index (columns, Column, to);
          guint lines;

          if (from == to || a->width - step < a->least || b->width >= b->likes)
            continue;
          a->width -= step;
          b->width += step;
          lines = lines_at (columns, natural, n_rows);
          if (lines < best)
            best = lines;
          else {
            a->width += step;
            b->width -= step;
          }
        }
    if (best == before)
      break;
  }
}

/* Sets the widths of a block whose least widths fit. */
static void
block_share (PmType *type, Block *block, const PmList *list, double width, double size)
{
  GArray *columns = block->columns;
  double likes = at_share (columns, INFINITY, TRUE), extra;
  guint n_blank = 0;

  if (likes > width) {
    double low = 0, high = width;

    for (guint i = 0; i < 40; i++) {
      double middle = (low + high) / 2;

      if (at_share (columns, middle, FALSE) > width)
        high = middle;
      else
        low = middle;
    }
    block->width = at_share (columns, low, TRUE);
    save_lines (type, list, columns, size);
    return;
  }
  block->width = likes;
  for (guint i = 0; i < columns->len; i++)
    n_blank += list->columns[g_array_index (columns, Column, i).column].kind == PM_CELLS_BLANK;
  if (n_blank == 0 && likes < width * STRETCH)
    return;
  extra = n_blank > 0 ? MIN (width - likes, n_blank * (BLANK_MOST - BLANK_LIKES)) : width - likes;
  for (guint i = 0; i < columns->len; i++) {
    Column *column = &g_array_index (columns, Column, i);
    PmCellsKind kind = list->columns[column->column].kind;

    if (n_blank > 0)
      column->width += kind == PM_CELLS_BLANK ? extra / n_blank : 0;
    else
      column->width += extra * column->likes / likes;
  }
  block->width = likes + extra;
}

PmFlowTable *
pm_flow_table_new (PmType *type, const PmList *list, const char *const *columns, double width, double size,
                   gboolean tight)
{
  g_autoptr (GArray) all = columns_new (type, list, columns, size);
  PmFlowTable *table = g_new0 (PmFlowTable, 1);
  Block *block = NULL;
  double used = 0;

  table->type = type;
  table->list = list;
  table->size = size;
  table->pad = tight ? PAD_TIGHT : PAD_Y;
  table->blocks = g_ptr_array_new_with_free_func (block_free);
  for (guint i = 0; i < all->len; i++) {
    Column *column = &g_array_index (all, Column, i);

    if (!block || (used + column->least > width && block->columns->len > 1)) {
      block = g_new0 (Block, 1);
      block->columns = g_array_new (FALSE, FALSE, sizeof (Column));
      used = 0;
      if (i > 0) {
        g_array_append_val (block->columns, g_array_index (all, Column, 0));
        used = g_array_index (all, Column, 0).least;
      }
      g_ptr_array_add (table->blocks, block);
    }
    g_array_append_val (block->columns, *column);
    used += column->least;
  }
  for (guint b = 0; b < table->blocks->len; b++)
    block_share (type, table->blocks->pdata[b], list, width, size);
  return table;
}

void
pm_flow_table_free (PmFlowTable *table)
{
  if (!table)
    return;
  g_ptr_array_unref (table->blocks);
  g_free (table);
}

PmInk *
pm_flow_table_head (PmFlowTable *table, guint b, double *height)
{
  Block *block = table->blocks->pdata[b];
  PmInk *ink = pm_ink_new ();
  double x = 0, line = pm_type_line (table->type, table->size);
  guint most = 1;

  for (guint i = 0; i < block->columns->len; i++) {
    const Column *column = &g_array_index (block->columns, Column, i);
    g_autoptr (GPtrArray) lines = pm_type_wrap (table->type, table->list->columns[column->column].title, table->size,
                                                TRUE, column->width - 2 * PAD_X);

    most = MAX (most, lines->len);
  }
  *height = most * line + 2 * table->pad;
  for (guint i = 0; i < block->columns->len; i++) {
    const Column *column = &g_array_index (block->columns, Column, i);
    const PmListColumn *given = &table->list->columns[column->column];
    double wide = column->width - 2 * PAD_X;
    g_autoptr (GPtrArray) lines = pm_type_wrap (table->type, given->title, table->size, TRUE, wide);

    pm_ink_paragraph (ink, table->type, x + PAD_X, table->pad + (most - lines->len) * line, wide, given->title,
                      table->size, PM_INK_BOLD | (given->kind == PM_CELLS_NUMBER ? PM_INK_RIGHT : 0));
    x += column->width;
  }
  pm_ink_line (ink, 0, *height, block->width, *height, 1, 0);
  return ink;
}

/* A row over the whole width: heading, hold point, caution. */
static PmPiece
spanning_piece (PmFlowTable *table, Block *block, const PmListRow *row)
{
  PmPiece piece = { .ink = pm_ink_new (), .table = table, .keep = row->kind != PM_ROW_HOLD };
  PmType *type = table->type;
  double line = pm_type_line (type, table->size), width = block->width;

  if (row->kind == PM_ROW_HEADING) {
    piece.height = table->pad * 2.5 + table->pad +
                   pm_ink_paragraph (piece.ink, type, PAD_X, table->pad * 2.5, width - 2 * PAD_X, row->cells[0],
                                     table->size, PM_INK_BOLD);
  } else if (row->kind == PM_ROW_HOLD) {
    piece.height = 15 + pm_ink_paragraph (piece.ink, type, 8, 7, width - 16, row->cells[0], table->size, PM_INK_BOLD);
    pm_ink_box (piece.ink, 1, 2.5, width - 2, piece.height - 5, 2, -1, 0);
  } else {
    double mark_width, mark_height, text, down;

    pm_mark_severity_measure (pm_type_style (type), pm_type_context (type), &mark_width, &mark_height);
    down = MAX (0, (mark_height - line) / 2);
    text = pm_ink_paragraph (piece.ink, type, PAD_X + mark_width + 7, 2 + down, width - mark_width - 7 - 2 * PAD_X,
                             row->cells[0], table->size, PM_INK_BOLD);
    pm_ink_mark (piece.ink, type, PAD_X, 2, PM_SEVERITY_CARE);
    piece.height = MAX (text + down, mark_height) + 5;
  }
  pm_ink_line (piece.ink, 0, piece.height, width, piece.height, 0.5, PM_INK_FAINT);
  return piece;
}

static PmPiece
plain_piece (PmFlowTable *table, Block *block, const PmListRow *row)
{
  PmPiece piece = { .ink = pm_ink_new (), .table = table };
  PmType *type = table->type;
  double x = 0, line = pm_type_line (type, table->size), most = line;

  for (guint i = 0; i < block->columns->len; i++) {
    const Column *column = &g_array_index (block->columns, Column, i);
    const PmListColumn *given = &table->list->columns[column->column];
    double wide = column->width - 2 * PAD_X;

    if (given->kind == PM_CELLS_TICK)
      pm_ink_box (piece.ink, x + (column->width - TICK_BOX) / 2, table->pad + (line - TICK_BOX) / 2, TICK_BOX, TICK_BOX,
                  0.8, -1, 0);
    else if (given->kind != PM_CELLS_BLANK || row->cells[column->column][0] != '\0') {
      double height = pm_ink_paragraph (piece.ink, type, x + PAD_X, table->pad, wide, row->cells[column->column],
                                        table->size, given->kind == PM_CELLS_NUMBER ? PM_INK_RIGHT : 0);

      most = MAX (most, height);
    } else
      most = MAX (most, line * 1.25);     /* room for a hand */
    x += column->width;
  }
  piece.height = most + 2 * table->pad;
  x = 0;
  for (guint i = 0; i < block->columns->len; i++) {
    const Column *column = &g_array_index (block->columns, Column, i);

    if (table->list->columns[column->column].kind == PM_CELLS_BLANK)
      pm_ink_box (piece.ink, x, 0, column->width, piece.height, 0.5, -1, PM_INK_FAINT);
    x += column->width;
  }
  pm_ink_line (piece.ink, 0, piece.height, block->width, piece.height, 0.5, PM_INK_FAINT);
  return piece;
}

void
pm_flow_table_pieces (PmFlowTable *table, GArray *pieces)
{
  for (guint b = 0; b < table->blocks->len; b++) {
    Block *block = table->blocks->pdata[b];
    PmPiece head = { .keep = TRUE, .before = b > 0 ? table->size : 4 };

    head.ink = pm_flow_table_head (table, b, &head.height);
    g_array_append_val (pieces, head);
    for (guint r = 0; r < table->list->n_rows; r++) {
      const PmListRow *row = &table->list->rows[r];
      PmPiece piece = row->kind == PM_ROW_PLAIN ? plain_piece (table, block, row) : spanning_piece (table, block, row);

      piece.block = b;
      /* No single row alone at the end of a table or at its beginning. */
      if (r == 0 || r + 2 == table->list->n_rows)
        piece.keep = piece.keep || table->list->n_rows > 3;
      g_array_append_val (pieces, piece);
    }
  }
}
