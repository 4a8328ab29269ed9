/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A group order: several people have boards of one kind made and share what it costs.
 *
 * Names of people and prices stand in a person's own data, never in a board file.  Money in hundredths.  Every sum is
 * exact: what people pay adds up to what it costs.
 */
#pragma once
#include "pm-list.h"
#include "pm-prices.h"

G_BEGIN_DECLS

/* What a person gets: the bare board, the board and its parts in a bag, or the board soldered and tried. */
typedef enum { PM_ORDER_BARE, PM_ORDER_PARTS, PM_ORDER_BUILT, PM_N_ORDER_KINDS } PmOrderKind;

typedef struct {
  char       *name;
  guint       n_boards;
  PmOrderKind kind;
  char       *setup;       /* which machine and drives it is for, in their words */
  gint64      postage;
  gboolean    paid, sent;
} PmOrderPerson;

/* Paid once for all: "tool charge", "customs". */
typedef struct { char *name; gint64 amount; } PmOrderCost;

typedef struct {
  GPtrArray *people;       /* PmOrderPerson */
  GPtrArray *costs;        /* PmOrderCost: shared by all boards alike */
  GArray    *board;        /* PmBreak: what a bare board costs, by how many are ordered in all */
  gint64     work;         /* for soldering one board */
} PmOrder;

/* What one person owes. */
typedef struct { gint64 boards, parts, work, shared, postage, all; } PmOrderShare;
typedef struct {
  guint         n_boards, n_with_parts, n_built;
  PmOrderShare *of;        /* [people->len] */
  PmOrderShare  sum;
  gint64        paid;      /* of sum.all, by those who have paid */
  GPtrArray    *unpriced;  /* char*: items of the parts list without a price, which are not in the sums */
  gboolean      board_unpriced;
} PmOrderTotals;

PmOrder       *pm_order_new         (void);
void           pm_order_free        (PmOrder *order);
/* A file that is not there is an empty order. */
PmOrder       *pm_order_load        (const char *path, GError **error);
gboolean       pm_order_save        (const PmOrder *order, const char *path, GError **error);
/* Appends and returns it; borrowed. */
PmOrderPerson *pm_order_add_person  (PmOrder *order, const char *name);
PmOrderCost   *pm_order_add_cost    (PmOrder *order, const char *name, gint64 amount);
/* "bare board", "board and parts", "built", translated; and as files have it: "bare", "parts", "built". */
const char    *pm_order_kind_words  (PmOrderKind kind);
const char    *pm_order_kind_id     (PmOrderKind kind);

/* What a parts list's row is priced by: "74LS157", "resistor, 10 kΩ".  g_free. */
char          *pm_order_item        (const PmList *parts, guint row);
/* parts: the parts list for one board.  spares: per cent more of each part, one at least where not 0; those who get
 * parts share them. */
PmOrderTotals *pm_order_totals      (const PmOrder *order, const PmList *parts, const PmPrices *prices, guint spares);
void           pm_order_totals_free (PmOrderTotals *totals);
/* The order as a list: a row per person, a row with the sums.  For CSV money has a point, else the locale's sign. */
PmList        *pm_order_list        (const PmOrder *order, const PmOrderTotals *totals, gboolean plain);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmOrder, pm_order_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmOrderTotals, pm_order_totals_free)
G_END_DECLS
