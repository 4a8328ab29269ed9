/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which places are one piece of metal, by the file alone: no gate, no level, no case.
 *
 * An array over the board's places in which every place leads to the lowest place of its piece.  Pieces are joined with
 * pm_metal_unite, which keeps that order, so that the same file gives the same pieces (disjoint sets with path halving:
 * Tarjan and van Leeuwen, 1984).
 */
#pragma once
#include "pm-board.h"

G_BEGIN_DECLS

/* Every place a piece of its own.  g_free. */
guint32 *pm_metal_new   (guint32 n_places);
/* The lowest place of a piece. */
guint32  pm_metal_root  (guint32 *metal, guint32 place);
void     pm_metal_unite (guint32 *metal, guint32 a, guint32 b);
/* All places of a join to its first. */
void     pm_metal_unite_join (guint32 *metal, const PmJoin *join);

typedef enum {
  PM_METAL_JOINS   = 1 << 0,    /* the board's own joins and wires, pins straight through */
  PM_METAL_LEADS   = 1 << 1,    /* parts of the board that are plugged into the board */
  PM_METAL_MACHINE = 1 << 2,    /* joins, plugs and rails of machine, drives and cables, with the board in */
} PmMetalOf;
#define PM_METAL_BOARD (PM_METAL_JOINS | PM_METAL_LEADS)
#define PM_METAL_ALL (PM_METAL_BOARD | PM_METAL_MACHINE)

/* Per place the lowest place of its piece.  positions: contacts of switches that are closed ([n_switches]; -1 = none),
 * or NULL for no contacts.  Nothing goes over a cut.  g_free. */
guint32 *pm_metal_of_board (const PmBoard *board, guint which, const int *positions);
G_END_DECLS
