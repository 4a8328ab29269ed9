/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the two files of proposals share. */
#pragma once
#include "pm-repair.h"

G_BEGIN_DECLS

#define PM_MOST_PROPOSALS 160

typedef struct {
  const PmTrial *trial;
  const PmRaw *raw;
  GPtrArray *out;
} PmPropose;

/* More than PM_REPAIR_MAX_EDITS are dropped. */
void pm_propose_edit (PmRepair *repair, PmEditKind kind, guint32 a, guint32 b, guint32 c, guint32 d);
/* The join a place stands in, through and cut pins aside; PM_NONE. */
guint32 pm_propose_join_of (const PmBoard *board, guint32 place);
/* The host line whose net holds one of the two ends of a through or cut pin, or PM_NONE. Bound to the first setting. */
guint32 pm_propose_line_of_join (const PmTrial *trial, guint32 join);
/* "pin 11 (SEL0)" of a through or cut pin. g_free. */
char *pm_propose_join_name (const PmTrial *trial, guint32 join);
/* The compound: cut a line that goes straight through, and carry it like one that is cut (pm-carry.c). */
void pm_propose_carry (PmPropose *p);
G_END_DECLS
