/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables of plain text. Columns are counted as a terminal shows them: a wide character takes two. */
#pragma once
#include <glib.h>

G_BEGIN_DECLS

typedef struct _PmTextTable PmTextTable;

guint        pm_text_columns      (const char *text);
/* Appends text, then blanks up to width columns. */
void         pm_text_pad          (GString *out, const char *text, guint width);

PmTextTable *pm_text_table_new    (guint n_columns);
void         pm_text_table_free   (PmTextTable *table);
/* Cells row by row; the first row is the head. */
void         pm_text_table_add    (PmTextTable *table, const char *cell);
void         pm_text_table_take   (PmTextTable *table, char *cell);
/* Appends the table, each line indented and without blanks at its end. Where it is wider than width its columns are
 * told in blocks, each beginning with the first lead columns again. */
void         pm_text_table_append (const PmTextTable *table, GString *out, guint indent, guint lead, guint width);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmTextTable, pm_text_table_free)
G_END_DECLS
