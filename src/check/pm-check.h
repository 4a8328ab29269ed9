/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything that is found out about a board: its cases, what each select reaches in each, findings, verdict.
 *
 * One PmCheck is made from one PmBoard, in one go, and is read-only afterwards.  The window, the pictures and the
 * command line read it and never judge.  All texts are translated, ready to show, and owned by the PmCheck. Index
 * order: cases[0] is always "without the board"; then every setting, then the variations (grouped by their setting),
 * then positions of set-once switches.
 */
#pragma once
#include "pm-board.h"
#include <gio/gio.h>

G_BEGIN_DECLS

/* Whether a drive answers a select in a case. */
typedef enum {
  PM_ANSWER_NEVER,
  PM_ANSWER_YES,          /* in all of the unit's states, with the side lines the drive needs */
  PM_ANSWER_MAY,          /* not certain: hangs on a named choice */
  PM_ANSWER_DEPENDS,      /* on other lines, which are named */
  PM_ANSWER_NOT_DECIDED,  /* more than 16 unknown bits */
  PM_N_ANSWERS
} PmAnswer;
typedef struct {
  PmAnswer answer;
  char    *on;            /* DEPENDS: "SEL0 without SEL1"; MAY: "S1 lead", the choice it hangs on; else NULL */
  char    *only;          /* DEPENDS: "with SEL1 off"; else NULL */
} PmCell;

/* What a drive's lamp and gate show in a case. */
typedef enum {
  PM_DRIVE_REACHED,       /* lamp full */
  PM_DRIVE_UNREACHED,     /* lamp empty: no select reaches it, its select is at rest */
  PM_DRIVE_HELD,          /* lamp empty, closed gate: its select is held so that it can never answer */
  PM_DRIVE_FLOATS,        /* lamp half, two open ends: nothing holds its select */
  PM_DRIVE_NOT_CERTAIN,   /* lamp half */
  PM_DRIVE_ALWAYS,        /* answers with nothing turned on */
  PM_DRIVE_NO_POWER,      /* hatched */
  PM_N_DRIVE_MARKS
} PmDriveMark;

typedef enum {
  PM_SIDE_FOLLOWS,
  PM_SIDE_STAYS,
  PM_SIDE_HELD,
  PM_SIDE_NOT_CERTAIN,
  PM_SIDE_NOT_JUDGED,
  PM_N_SIDES
} PmSide;
typedef struct {
  char  *does;            /* "motor" */
  guint  drive, unit;     /* the drive, and the unit it answers through */
  PmSide side;
  char  *text;            /* "motor goes along", "change stays with SEL1" */
} PmSideLine;

typedef enum {
  PM_CASE_WITHOUT_BOARD, PM_CASE_SETTING,
  PM_CASE_MOVING, PM_CASE_REMOVED, PM_CASE_TURNED, PM_CASE_SUPPLY_OFF, PM_CASE_RESET, PM_CASE_HOST_OFF, /* variations */
  PM_CASE_ONCE,           /* a set-once switch in another position */
  PM_N_CASE_KINDS
} PmCaseKind;

typedef enum { PM_FIT_NOT_STATED, PM_FIT_AS_WANTED, PM_FIT_NOT_AS_WANTED, PM_FIT_NOT_DECIDED } PmFit;

typedef struct {
  PmCaseKind   kind;
  char *name; /* "inside", "outside, two" (only by-hand switches, titles left out where one switch); variations: "S1
                 unplugged", "Outside without power" */
  char        *title;     /* "Start from: inside"; for variations as name */
  int         *positions; /* [n_switches]; -1 where none (lead off) */
  guint        setting;   /* case index of the setting it belongs to; itself for settings; 0 for without the board */
  PmCell      *cells;     /* [n_units * n_drives], unit major */
  gboolean    *collides;  /* [n_units]: outputs collide when this unit is on */
  PmDriveMark *marks;     /* [n_drives] */
  PmSideLine  *sides; guint n_sides;
  guint32      wanted;    /* index into board->wanted, or PM_NONE */
  PmFit        fit;
  GArray      *findings;  /* guint, findings that arise in this case, worst first */
  guint        result;    /* settings: index of the result they belong to */
  char        *caption;   /* under the switch or chip: "move only with the power off", "acts as outside"; or NULL */
  char        *verdict;   /* one line: "as wanted", "two drives answer SEL0; SEL1 reaches nothing" */
  char        *changed;   /* against without the board: "nothing", "Outside answers SEL0 (was SEL1)" */
  char        *side_text; /* "Motor, ready and change go along.", "Motor stays with SEL1." */
} PmCaseResult;

/* Settings that do the same. */
typedef struct {
  GArray *settings; /* guint case indices */
  char *name;       /* "A" */
  char *text;       /* "8 settings" */
} PmResult;

typedef enum { PM_SEVERITY_STOP, PM_SEVERITY_CARE, PM_SEVERITY_NOTE, PM_N_SEVERITIES } PmSeverity;

/* The table of kinds is PM_FINDINGS in pm-finding-kinds.h: id, severity, title. */
typedef struct {
  guint       kind;       /* PmFindingKind */
  const char *id;         /* "two-drives-answer" */
  PmSeverity  severity;
  char       *title;      /* "Two drives answer SEL0" */
  char       *short_text; /* for verdict and cards: "two drives answer SEL0 in outside" */
  char       *where;      /* list second line: "outside · pin 11" */
  char       *when, *what, *because, *matters, *to_do, *measure, *follows;  /* rows; NULL where empty */
  gboolean    tried;      /* to_do was tried and helps: the row is called To do, else What to look at */
  char      **followers;  /* one line per folded finding; NULL-terminated */
  guint       case_index; /* the case it is shown in */
  int         unit;       /* or -1 */
  int         drive;      /* or -1 */
  guint32    *places; guint n_places;      /* sorted */
  PmSpot     *spots;  guint n_spots;       /* lines in files, the likeliest first */
  char       *accepted;   /* why it was accepted; then it is a note */
  char       *identity;   /* kind + sorted places: stable over edits */
} PmFinding;

typedef enum {
  PM_VERDICT_NOT_READY,
  PM_VERDICT_NO_VERDICT,
  PM_VERDICT_READY_IF,
  PM_VERDICT_ROUTES_RIGHT,
  PM_VERDICT_READY,
  PM_N_VERDICTS
} PmVerdict;

typedef struct {
  const PmBoard *board;   /* borrowed: must outlive the check */
  PmCaseResult  *cases;   guint n_cases;
  guint          n_settings;            /* cases[1 .. n_settings] */
  guint          usual;                 /* case index of the setting the file puts the switches in */
  PmResult      *results; guint n_results;
  PmFinding     *findings; guint n_findings;   /* stop, care, note; then by followers */
  guint          counts[PM_N_SEVERITIES];
  PmVerdict      verdict;
  char          *verdict_text;          /* "Not ready: two drives answer SEL0 in outside" */
  char          *tried_text;            /* "Tried: 2 settings and 9 variations, each with …: 33 cases, all of them." */
  char          *not_checked_text;      /* "Not checked: currents, margins, time, build errors." */
  char          *what_to_do;            /* the action behind the button, or NULL */
  guint          n_runs;                /* cases x host states really run */
  gboolean       not_decided;           /* something was */
  char         **assumed;               /* assumed elements by name; NULL-terminated */
} PmCheck;

/* Runs everything. cancellable may be NULL; NULL and G_IO_ERROR_CANCELLED when cancelled. No other error. */
PmCheck    *pm_check_new          (const PmBoard *board, GCancellable *cancellable, GError **error);
void        pm_check_free         (PmCheck *check);

/* Every drive that answers a unit in a case, as people say it: "Inside", "Inside + Outside", "nothing", "Outside, not
 * certain", "Outside if SEL0 without SEL1". g_free. */
char       *pm_check_reach_text   (const PmCheck *check, guint case_index, guint unit);
const PmCell *pm_check_cell       (const PmCheck *check, guint case_index, guint unit, guint drive);
/* Case of a setting with these positions ([n_switches], by-hand switches only matter); PM_NONE if none. */
guint       pm_check_find_setting (const PmCheck *check, const int *positions);
/* Case of the setting with this name or title; PM_NONE if none. */
guint       pm_check_find_named   (const PmCheck *check, const char *name);
/* TRUE if a unit reaches something else than in the other case. */
gboolean    pm_check_differs      (const PmCheck *check, guint case_a, guint case_b, guint unit);
/* Exit code of the command line: 0 or 1. */
int         pm_check_exit_code    (const PmCheck *check, gboolean strict);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmCheck, pm_check_free)
G_END_DECLS
