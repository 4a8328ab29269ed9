/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How things are called on the bench: names for sentences. All strings are new: g_free. */
#pragma once
#include "pm-survey.h"

G_BEGIN_DECLS
/* "pin 11 of the port chip", "U1 pin 4 (1Y)", "S1 lug 2". */
char *pm_name_place    (const PmBoard *board, guint32 place);
/* Short: "U1.1Y", "X1.11". */
char *pm_name_pin      (const PmBoard *board, guint32 place);
/* The drive's title, the machine's, a switch's. Borrowed. */
const char *pm_name_drive (const PmBoard *board, guint drive);
const char *pm_name_host  (const PmBoard *board);
const char *pm_name_switch (const PmSwitch *sw);
/* The number printed at the pin: "11". Borrowed. */
const char *pm_name_number (const PmBoard *board, guint32 place);
/* "U2 (memory of the choice)", "the port chip". */
char *pm_name_instance (const PmBoard *board, guint instance);
/* Short where it is the board's own (U1.1Y), in words elsewhere (pin 1 of the drivers). */
char *pm_name_probe    (const PmBoard *board, guint32 place);
/* The board's pin that a lug of a plugged switch meets; the place itself where it is not plugged. */
guint32 pm_name_plugged (const PmBoard *board, guint32 place);
/* What a result hangs on: "the lead of S1", "what U2 remembers", "the open input U1.S". */
char *pm_name_choice   (const PmTranslation *t, const PmChoice *choice);
/* "SEL0 on (low)"; idle: "nothing turned on". */
char *pm_name_state    (const PmBoard *board, const PmHostState *state);
/* What one select reaches by its cells, [n_drives]: "Inside", "Inside + Outside", "nothing". */
char *pm_name_reach    (const PmBoard *board, const PmCell *cells);
/* Where a place is joined: spot of the join or part that says so. */
PmSpot pm_name_spot    (const PmBoard *board, guint32 place);
/* "motor, ready and change" */
char *pm_name_list     (GPtrArray *words);
/* First letter upper case, if it has one. Takes text. */
char *pm_name_capital  (char *text);
G_END_DECLS
