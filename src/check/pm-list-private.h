/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the lists are made with: a list being filled, and which pins are one piece of metal. */
#pragma once
#include "pm-list.h"
#include "pm-metal.h"

G_BEGIN_DECLS

typedef struct {
  const PmCheck *check;
  const PmBoard *board;
  PmListOptions  options;
  GCancellable  *cancellable;   /* or NULL */
  guint32       *nets;          /* of the board, out of the machine: no contacts */
  guint32       *in_machine;    /* the same with the board in the machine */
  guint32       *side_line;     /* per place of socket and plug: the machine's line that passes there, or PM_NONE */
  char          *about;         /* becomes the list's */
  GArray        *columns, *rows;
  GPtrArray     *notes;
} PmListBuild;

/* Columns before rows. title is translated. */
void   pm_list_add_column  (PmListBuild *build, const char *id, const char *title, PmCellsKind kind);
/* A row of empty cells, to be filled by pm_list_set. Takes id (or NULL). Valid until the next row. */
char **pm_list_add_row     (PmListBuild *build, char *id);
/* Takes text; NULL is "". */
void   pm_list_set         (char **cells, guint column, char *text);
/* A heading, hold point or caution. Takes id and text. */
void   pm_list_add_line    (PmListBuild *build, PmRowKind kind, char *id, char *text);
/* Takes text. */
void   pm_list_add_note    (PmListBuild *build, char *text);

/* One function per kind, each in a file of its own. */
void   pm_list_results     (PmListBuild *build);
void   pm_list_findings    (PmListBuild *build);
void   pm_list_pins        (PmListBuild *build);
void   pm_list_wires       (PmListBuild *build);
void   pm_list_cables      (PmListBuild *build);
void   pm_list_parts       (PmListBuild *build);
void   pm_list_alternates  (PmListBuild *build);
void   pm_list_steps       (PmListBuild *build);
void   pm_list_checks      (PmListBuild *build);

/* ---- pm-list-nets.c: what a piece of metal is called, and ohms between two */

/* Ohms between two places through the board's own resistors, 0 on one piece of metal, INFINITY where there is no way.
 * Chips out, power off. */
double   pm_list_ohms      (const PmBoard *board, const guint32 *nets, guint32 a, guint32 b);
/* "10 kΩ", "150 Ω": three figures; ohms above 0.  g_free. */
char    *pm_list_ohms_text (double ohms);
/* The rail whose metal a place is on, with the board in the machine; PM_NONE. */
guint32  pm_list_rail      (const PmListBuild *build, guint32 place);
/* The line that stands at a place with the board in the machine, through metal only; PM_NONE. */
guint32  pm_list_line      (const PmListBuild *build, guint32 place);
/* Per place of socket and plug the line that passes there, else PM_NONE. g_free. */
guint32 *pm_list_side_lines (const PmBoard *board);
/* The join that carries a pin of socket and plug through, or is cut there; PM_NONE. */
guint32  pm_list_passing   (const PmBoard *board, guint32 place);
/* What a piece of metal is called: "SEL0, chip side", "choose", "+5V", "U1.1Y"; "" where there is no name. g_free. */
char    *pm_list_signal    (const PmListBuild *build, guint32 place);
/* "SEL0, chip side" or NULL: only for the socket's and plug's own pins. g_free. */
char    *pm_list_side      (const PmListBuild *build, guint32 place);
/* What drives use a place for, with the board in the machine: "motor", "DS0" (a place of a select jumper), "DS0 /
 * motor" where they differ. NULL where none does. given: a drive drives it. g_free. */
char    *pm_list_use       (const PmListBuild *build, guint32 place, gboolean *given);
/* Parts a builder holds in hand: the board's own and its cables. */
gboolean pm_list_is_built  (const PmBoard *board, guint instance);
/* "X1.11", "U1.2 (1A)", "U7.20 (port chip)", "pin 10 of Inside": by the number printed at the pin. g_free. */
char    *pm_list_pin       (const PmBoard *board, guint32 place);
/* By number only, stable: "U1.2". g_free. */
char    *pm_list_number    (const PmBoard *board, guint32 place);

/* ---- pm-list-pins.c */
/* Pins beside a pin on its part, nearest first, as pin indices: two in a row of a package, and the one across on a
 * two-row connector. GArray of guint32. */
GArray  *pm_pin_neighbours (const PmPart *part, guint pin);

/* ---- pm-list-wires.c */
/* One wire to solder: between two places of a join; the join it comes from. */
typedef struct { guint32 from, to, join; } PmWire;
/* All wires of the board, the ends in an order in which they can be soldered: those of one piece of metal stand
 * together, first the <wire> elements. GArray of PmWire. */
GArray  *pm_list_wires_of  (const PmBoard *board);
/* An end of a cable: what is plugged there and, per conductor, the pin index at that end, or PM_NONE. */
typedef struct { guint at, line; guint32 *pins; } PmListEnd;
/* Ends in the order of the file, along the cable, with the board in. GArray of PmListEnd, which clears its elements. */
GArray  *pm_list_ends_of   (const PmBoard *board, guint cable);
/* "RD" for "red", "RDBU" for "blue-red", "GNYE"; as written where it is no colour of IEC 60757. g_free. */
char    *pm_wire_colour    (const char *written);

/* ---- pm-list-checks.c */
/* Where 0 V is touched: at the plug, else at a part of the board, at a drive, in the machine; PM_NONE. */
guint32  pm_list_ground    (const PmListBuild *build);
G_END_DECLS
