/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Between pm-flow.c and pm-flow-table.c: pieces, and tables that make them. */
#pragma once
#include "pm-flow.h"

G_BEGIN_DECLS

typedef struct _PmFlowTable PmFlowTable;

/* What stays together on a page. */
typedef struct {
  PmInk       *ink;
  double       height, before;     /* before: white above, unless it is the first on its page */
  gboolean     keep;               /* on the page of the next one */
  PmFlowTable *table;              /* owned by the pieces' store; its head stands again above, on a new page */
  guint        block;
} PmPiece;

PmFlowTable *pm_flow_table_new     (PmType *type, const PmList *list, const char *const *columns, double width,
                                    double size, gboolean tight);
void         pm_flow_table_free    (PmFlowTable *table);
void         pm_flow_table_pieces  (PmFlowTable *table, GArray *pieces);
/* The head of a block of columns. */
PmInk       *pm_flow_table_head    (PmFlowTable *table, guint block, double *height);
/* Width that all columns of a list like to have. */
double       pm_flow_table_wants   (PmType *type, const PmList *list, const char *const *columns, double size);
G_END_DECLS
