/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Function tables as data books print them.
 *
 * A table is text.  The first line names the columns, inputs before the colon and outputs after it;
 * every further line is a row.  Cells are separated by blanks.
 *
 *     /G S A B : Y            E S : Z-Y0 Z-Y1             /PRE /CLR CLK D : q
 *     H  X X X : L            H X : open   open           L    H    X   X : H
 *     L  L L X : L            L L : joined open           L    L    X   X : unstable
 *     L  L H X : H            L H : open   joined         H    H    rise H : H
 *
 * Input cells: H L X rise fall.  Output cells of a pin column: H, L, Z (off), the name of an input column
 * (copy) or that name with a leading slash (inverse).  Output cells of a "P-Q" column (two pins that a row joins):
 * joined, open.
 * Output cells of a stored bit: H, L, an input name or /name, hold, toggle, unstable (reads as printed by
 * the reading table; the stored bit is unknown once the row is left for one that holds).
 *
 * A table that names an edge holds where no row matches and no edge came; in every other table a combination
 * without a row is a fault.  Overlapping rows that disagree are a fault.
 */
#pragma once
#include <glib.h>

G_BEGIN_DECLS

#define PM_TABLE_MAX_INPUTS 16

typedef enum { PM_COLUMN_PIN, PM_COLUMN_BIT, PM_COLUMN_JOIN } PmColumnKind;

/* What a leaf of a compiled output says. */
typedef enum {
  PM_OUT_LOW, PM_OUT_HIGH, PM_OUT_OFF,       /* pin columns; LOW and HIGH also for bits */
  PM_OUT_OPEN, PM_OUT_JOINED,                /* join columns */
  PM_OUT_HOLD, PM_OUT_TOGGLE, PM_OUT_UNSTABLE, /* bit columns */
  PM_N_OUTS
} PmOut;

typedef struct _PmTable PmTable;

/* One fault of a table: which row (0 = the column line, then 1, 2, ... counting non-empty lines) and what. */
typedef struct { guint row; char *message; } PmTableFault;
void pm_table_fault_free (PmTableFault *fault);

/* Reads a table.  bit_names: NULL-terminated names of the part's stored bits, or NULL.  Every fault is
 * appended to faults (GPtrArray of PmTableFault, not NULL).  Returns NULL if there was any. */
PmTable    *pm_table_parse    (const char *text, const char * const *bit_names, GPtrArray *faults);
PmTable    *pm_table_ref      (PmTable *table);
void        pm_table_unref    (PmTable *table);
guint       pm_table_n_inputs (const PmTable *table);
const char *pm_table_input    (const PmTable *table, guint i);
guint       pm_table_n_outputs(const PmTable *table);
const char *pm_table_output   (const PmTable *table, guint i);       /* for joins "P-Q" */
PmColumnKind pm_table_kind    (const PmTable *table, guint i);
gboolean    pm_table_has_edge (const PmTable *table);
/* The rows as printed: cells, for showing a part in full. */
guint       pm_table_n_rows   (const PmTable *table);
const char *pm_table_cell     (const PmTable *table, guint row, guint column); /* inputs then outputs */

/* Mask of the input columns in which some row names an edge. */
guint32     pm_table_edge_inputs (const PmTable *table);

/* Output i for one full reading.  now: bit k is input k (1 = H).  before: the reading before the step, used only by
 * rows with an edge; pass now again where nothing moved.  Such a row takes its data from before, and its edges and the
 * columns that act without an edge (those that a row without one looks at: preset, clear) from now.  What it does with
 * the data as they are now comes out with (before & edges) | (now & ~edges) as before, edges = pm_table_edge_inputs ().
 * In a column with edges, H and L mean that level and none of the edges that the table names there. */
PmOut       pm_table_eval     (const PmTable *table, guint i, guint32 now, guint32 before);

/* Demand-driven evaluation of an edge-free output: a decision tree.  Node 0 is the root.  Returns TRUE and *out at a
 * leaf; otherwise *input is the column to read, and the next node is *low or *high. */
gboolean    pm_table_node     (const PmTable *table, guint i, guint32 node,
                               PmOut *out, guint *input, guint32 *low, guint32 *high);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmTable, pm_table_unref)
G_END_DECLS
