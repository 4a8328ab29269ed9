/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheets, each told as a flow by its own function; the table of them is PM_SHEETS in pm-paper.c.
 */
#pragma once
#include "pm-flow.h"
#include "pm-paper.h"

G_BEGIN_DECLS

typedef struct {
  const PmCheck        *check;
  const PmPaperOptions *options;
  PmType               *type;
  GArray              **alternates;  /* found when first asked for: two lists have them; owned by the paper */
  PmList              **lists;     /* [PM_N_LISTS], made when first asked for; owned by the paper */
  GHashTable           *plans;     /* plans by case and size, the same */
} PmSheetInput;

/* degree: how much is left out or made smaller so that it fits on one page, 0 nothing.  Transfer full. */
typedef PmFlow *(*PmSheetFunc) (const PmSheetInput *in, guint degree);

/* How many degrees the one page has. */
#define PM_ONE_PAGE_DEGREES 12
/* Height of an A6 slip and width, points. */
#define PM_A6_WIDTH (105 * PM_MM)
#define PM_A6_HEIGHT (148 * PM_MM)

PmFlow *pm_sheet_one_page  (const PmSheetInput *in, guint degree);
PmFlow *pm_sheet_cover     (const PmSheetInput *in, guint degree);
PmFlow *pm_sheet_results   (const PmSheetInput *in, guint degree);
PmFlow *pm_sheet_diagram   (const PmSheetInput *in, guint degree);
PmFlow *pm_sheet_pins      (const PmSheetInput *in, guint degree);
PmFlow *pm_sheet_wires     (const PmSheetInput *in, guint degree);
PmFlow *pm_sheet_cables    (const PmSheetInput *in, guint degree);
PmFlow *pm_sheet_parts     (const PmSheetInput *in, guint degree);
PmFlow *pm_sheet_steps     (const PmSheetInput *in, guint degree);
PmFlow *pm_sheet_checks    (const PmSheetInput *in, guint degree);
PmFlow *pm_sheet_switch    (const PmSheetInput *in, guint degree);
PmFlow *pm_sheet_find_pins (const PmSheetInput *in, guint degree);
PmFlow *pm_sheet_case_note (const PmSheetInput *in, guint degree);
PmFlow *pm_sheet_as_built  (const PmSheetInput *in, guint degree);

/* ---- pieces of several sheets */

/* "Boot swap rev B on Larkspur 40".  g_free. */
char   *pm_sheet_board     (const PmCheck *check);
/* The mark that the verdict has. */
PmSeverity pm_sheet_verdict_mark (const PmCheck *check);
/* Plans of these cases (guint; taken), columns across, each with its name and what it does; then the codes of the
 * lines.  part: of the height that a plan likes, 1 or less. */
void    pm_sheet_plans     (PmFlow *flow, const PmSheetInput *in, GArray *cases, guint columns, double part);
/* For PmSheetInput: plans that are made once. */
GHashTable *pm_sheet_plans_new (void);
/* Without the board, then the first setting of each result. */
GArray *pm_sheet_result_cases (const PmCheck *check);
/* The name a result has in a picture: "inside", "3 settings: inside, middle, far". g_free. */
char   *pm_sheet_case_name (const PmCheck *check, guint case_index);
/* The place for sheets on a page that stands upright or lies; in pm-paper.c. */
void    pm_sheet_room      (const PmPaperOptions *options, gboolean lies, double *width, double *height);
/* Whether the wiring diagram fits better on a page that lies. */
gboolean pm_sheet_diagram_lies (const PmSheetInput *in);
/* How wide it is at its own size. */
double  pm_sheet_diagram_width (const PmSheetInput *in);
/* The diagram, in one part or in several. */
void    pm_sheet_add_diagram (PmFlow *flow, const PmSheetInput *in, double room_width, double room_height,
                              gboolean on_paper);
/* The pins from above and from the solder side, at true size with a bar to measure, or larger; returns the warnings,
 * which live as long as the flow. */
const char *const *pm_sheet_pin_maps (PmFlow *flow, const PmSheetInput *in, gboolean true_size);
/* A copy of a list of the check, to change and give to a flow: lists cost much, and several sheets and tries want the
 * same ones. */
PmList *pm_sheet_list_of   (const PmSheetInput *in, PmListKind kind);
/* An own list: columns end with an id NULL; rows are added with pm_sheet_row, whose cells end with NULL. */
typedef struct { const char *id, *title; PmCellsKind kind; } PmSheetColumn;
PmList *pm_sheet_list      (const PmSheetColumn *columns);
void    pm_sheet_row       (PmList *list, PmRowKind kind, ...) G_GNUC_NULL_TERMINATED;
/* Caution that holds for everybody who opens the case. */
void    pm_sheet_cautions  (PmFlow *flow, gboolean all);
/* Rows of a list, but for the first most plain ones, are dropped; returns how many. */
guint   pm_sheet_cut_rows  (PmList *list, guint most);
/* Whether a switch is one that a hand moves on this board (not a drive's jumper). */
gboolean pm_sheet_is_hand_switch (const PmBoard *board, guint sw);
G_END_DECLS
