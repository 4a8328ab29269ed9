/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lists that people build by: wires, pins, cables, parts, steps, checks, results.
 *
 * A list is a head and rows of words, made from a PmCheck and then only read: the command line prints it as text or
 * CSV, sheets set it as a table, the window shows it.  Titles and cells are translated; the id of a list or column is
 * stable and never translated: it names files, CSV heads and ticks that are remembered.
 */
#pragma once
#include "pm-check.h"

G_BEGIN_DECLS

typedef enum {
  PM_CELLS_TEXT,
  PM_CELLS_NUMBER,        /* to the right */
  PM_CELLS_TICK,          /* an empty box to tick; its cells are "" */
  PM_CELLS_BLANK          /* left free, to be filled in by hand; its cells are "" */
} PmCellsKind;
typedef struct { char *id; char *title; PmCellsKind kind; } PmListColumn;

typedef enum {
  PM_ROW_PLAIN,
  PM_ROW_HEADING,         /* cells[0] only, over the whole width: rows below belong to it */
  PM_ROW_HOLD,            /* a hold point, cells[0] only: "Stop: do the five checks before any chip goes in" */
  PM_ROW_CAUTION          /* cells[0] only: said before the row it belongs to */
} PmRowKind;
typedef struct {
  PmRowKind kind;
  char    **cells;        /* [n_columns], none NULL; for the other kinds one */
  char     *id;           /* what a tick on it is remembered by: stable over edits elsewhere in the file; or NULL */
} PmListRow;

/* The kinds, in the order in which they are printed; the table PM_LISTS in pm-list.c. */
typedef enum {
  PM_LIST_RESULTS,        /* settings, what each select reaches, side lines, verdict; first: without the board */
  PM_LIST_FINDINGS,
  PM_LIST_PINS,           /* every pin of the interposer or connector */
  PM_LIST_WIRES,          /* from - to */
  PM_LIST_CABLES,
  PM_LIST_PARTS,
  PM_LIST_ALTERNATES,     /* families and pin-compatible parts tried in each place */
  PM_LIST_STEPS,          /* how to build it, with hold points */
  PM_LIST_CHECKS,         /* the five checks with a meter */
  PM_N_LISTS
} PmListKind;

typedef struct {
  PmListKind    kind;
  const char   *id;       /* "wires" */
  char         *title;    /* "Wire list" */
  char         *about;    /* a sentence or two before it, or NULL */
  PmListColumn *columns; guint n_columns;
  PmListRow    *rows;    guint n_rows;
  char        **notes;    /* at its foot; NULL-terminated; never NULL */
} PmList;

typedef struct {
  guint n_boards;         /* parts: how many boards; at least 1 */
  guint spares;           /* parts: per cent more of small parts, at least one each where not 0 */
  guint case_index;       /* the setting marked, or 0 for all */
  const GArray *alternates;  /* of pm_alternates_find, where several lists of a check are made; NULL = find them */
} PmListOptions;
#define PM_LIST_OPTIONS_USUAL { 1, 0, 0, NULL }

/* options may be NULL.  Never NULL; a list that has nothing to say has no rows and says why in its notes.
 * PM_LIST_ALTERNATES checks the board again for each candidate: some 10 to 100 ms; cancellable may be NULL, and a
 * cancelled list has the rows that were done. */
PmList     *pm_list_new   (const PmCheck *check, PmListKind kind, const PmListOptions *options,
                           GCancellable *cancellable);
void        pm_list_free  (PmList *list);
/* Borrowed: "wires"; and the kind of an id, or -1. */
const char *pm_list_id    (PmListKind kind);
int         pm_list_kind  (const char *id);
const char *pm_list_kind_title (PmListKind kind);
/* Title, about, table, notes; tables wider than width are told in blocks.  g_free. */
char       *pm_list_text  (const PmList *list, guint width);
/* RFC 4180 (Shafranovich, 2005): CRLF, quotes where needed, UTF-8, first line the column ids.  Headings become a
 * first column "part-of-list" only where there are any; where there are hold points or cautions, a column "kind" says
 * "hold" or "caution" and their words stand in the first column of words.  Numbers with a point, whatever the locale.
 * g_free. */
char       *pm_list_csv   (const PmList *list);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmList, pm_list_free)
G_END_DECLS
