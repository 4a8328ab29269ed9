/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables inside: what pm-table.c reads and pm-table-compile.c checks and compiles. */
#pragma once
#include "pm-table.h"

G_BEGIN_DECLS

/* More rows than any printed table; keeps checking row against row cheap. */
#define PM_TABLE_MAX_ROWS 1024

/* What an output cell says: out, or with copy the reading of input (turned over with invert). */
typedef struct {
  guint8 out;
  guint8 copy, invert, input;
} PmTableCell;

/* care: columns with H or L, and which of these are H.  Columns in rise and fall are in neither. */
typedef struct {
  guint32 care, high, rise, fall;
  guint   line;
} PmTableRow;

/* input is PM_TABLE_NO_INPUT in a leaf. */
typedef struct {
  guint8  out, input;
  guint32 low, high;
} PmTableNode;
#define PM_TABLE_NO_INPUT 0xff

struct _PmTable {
  gint          refs;
  GPtrArray    *names;      /* inputs, then outputs; owned strings */
  guint         n_inputs, n_outputs;
  PmColumnKind *kinds;      /* [n_outputs] */
  GPtrArray    *texts;      /* cells as printed, row by row; owned strings */
  GArray       *rows;       /* PmTableRow */
  GArray       *cells;      /* PmTableCell, n_outputs a row */
  guint32       rises, falls; /* input columns in which some row names that edge */
  guint32       at_once;    /* input columns that a row without an edge looks at and acts on */
  GArray      **trees;      /* [n_outputs] of PmTableNode, root first; NULL in a table with edges */
};

static inline PmTableRow *
pm_table_row_at (const PmTable *table, guint row)
{
  return &g_array_index (table->rows, PmTableRow, row);
}

static inline PmTableCell *
pm_table_cell_at (const PmTable *table, guint row, guint output)
{
  return &g_array_index (table->cells, PmTableCell, row * table->n_outputs + output);
}

/* Inputs, then outputs. */
static inline const char *
pm_table_name_at (const PmTable *table, guint column)
{
  return g_ptr_array_index (table->names, column);
}

/* What a cell says for a reading. */
static inline PmOut
pm_table_out_of (const PmTableCell *cell, guint32 reading)
{
  if (!cell->copy)
    return cell->out;
  return ((reading >> cell->input & 1) ^ cell->invert) != 0 ? PM_OUT_HIGH : PM_OUT_LOW;
}

/* Takes message. */
void pm_table_add_fault         (GPtrArray *faults, guint row, char *message);
/* Looks for contradictions and gaps; where there are none, makes the trees (with edges: fills in at_once). */
void pm_table_check_and_compile (PmTable *table, GPtrArray *faults);
G_END_DECLS
