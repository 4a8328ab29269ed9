/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random circuits that look like small boards between a machine and its drives: select lines, selectors, switches,
 * pulls, latches, drives; with all that can be wrong with them. */
#pragma once
#include "pm-worlds.h"

G_BEGIN_DECLS

typedef struct {
  PmCircuit *circuit;
  PmCase    *state;
  GArray    *asks;   /* PmAsk: everything worth asking */
} RandomBoard;

/* Tables of the parts, read once. */
GPtrArray   *random_board_tables (void);
RandomBoard *random_board_new    (GPtrArray *tables, guint32 seed);
void         random_board_free   (RandomBoard *board);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (RandomBoard, random_board_free)
G_END_DECLS
