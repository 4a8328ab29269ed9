/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The demo boards, for tests: every file of data/boards, loaded. */
#pragma once
#include "pm-raw.h"

G_BEGIN_DECLS
/* File names in data/boards, sorted; g_strfreev. */
char   **boards_test_names (void);
/* Fails the test with the faults if the file cannot be read. */
PmBoard *boards_test_load  (PmLibrary *library, const char *file);

/* Every case (each of its bindings) in every host state, pairs of units, reset and host off too; stored bits unknown.
 * name is for messages. again: not the first binding of its case; a rotary switch on its way has hundreds, and the
 * lamps tell enough of them. */
typedef void (*BoardsTestFunc) (const PmTrial *trial, const PmCase *state, gboolean again, const char *name,
                                gpointer data);
void     boards_test_each  (PmTrial *trial, BoardsTestFunc func, gpointer data);
/* What is asked of a board: every drive's lamp, then what every place of a select line and of a line that a drive gives
 * is at. GArray of PmAsk. */
GArray  *boards_test_asks  (const PmTrial *trial);
G_END_DECLS
