/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A board with its host and drives, as the files say, every name resolved.
 *
 * Everything that has pins is an INSTANCE.  The pins of all instances are the PLACES, numbered through: pin k of
 * instance i is place instances[i].first_place + k.  So a place has one stable name, "REF.PIN" (host parts
 * "host.REF.PIN", parts inside a drive "DRIVE.REF.PIN"; the drive's own pins "DRIVE.PIN").  Joins, matings, switches
 * and lines speak of places only.
 *
 * Invariants after a successful pm_board_load: every index is in range; no place is in two named joins; unit and line
 * names are unique.
 */
#pragma once
#include "pm-part.h"
#include "pm-library.h"

G_BEGIN_DECLS

typedef enum { PM_OWNER_BOARD, PM_OWNER_HOST, PM_OWNER_DRIVE, PM_OWNER_CABLE } PmOwner;

typedef struct {
  char           *ref;           /* "U1", "host.U7", "INSIDE", "INSIDE.RN1" */
  char           *title;         /* or NULL */
  PmOwner         owner;
  guint           owner_index;   /* which drive or cable */
  const PmPart   *part;
  const PmFamily *family;        /* or NULL */
  char           *is;            /* as written: "74HCT157", "resistor 10k" */
  double          value;         /* ohms, farads; NAN */
  guint32         first_place;
  gboolean        assumed;       /* assumed="yes" */
  PmSpot          spot;
} PmInstance;

/* What joins places for good. */
typedef enum {
  PM_JOIN_JOIN,                  /* <join>: a star, one joint per place to the first */
  PM_JOIN_WIRE,                  /* <wire from to> */
  PM_JOIN_SUPPLY,                /* VCC and GND by themselves, and a rail's name */
  PM_JOIN_THROUGH,               /* an interposer's pin straight through: two places, machine side first */
  PM_JOIN_CUT,                   /* the same, cut: open, but "cut not made" is a case */
  PM_N_JOINS
} PmJoinKind;
typedef struct {
  PmJoinKind kind;
  char      *name;               /* "choose", "+5V", or NULL */
  guint32   *places; guint n_places;
  PmOwner    owner; guint owner_index;
  PmSpot     spot;
  char      *colour, *length, *gauge;  /* wires: as written, or NULL */
} PmJoin;

/* Two connectors that meet, pin by pin. */
typedef enum { PM_MATING_ALWAYS, PM_MATING_WITH_BOARD, PM_MATING_WITHOUT_BOARD } PmMatingWhen;
typedef struct {
  PmMatingWhen when;             /* the chip straight in its socket is WITHOUT_BOARD */
  guint        a, b;             /* instances; a plugs into b */
  PmPair      *pairs; guint n_pairs;   /* places, not pin indices */
  PmPair      *turned; guint n_turned; /* places when plugged in turned round; 0 where it cannot turn */
  gboolean     removable, turns;
  guint32      leaves_out;       /* instance left out when removed, or PM_NONE */
  PmSpot       spot;
} PmMating;

typedef enum { PM_MOVED_BY_HAND, PM_MOVED_ONCE } PmMoved;
typedef enum { PM_CONTACTS_UNKNOWN, PM_CONTACTS_BREAK_FIRST, PM_CONTACTS_MAKE_FIRST } PmContacts;
typedef struct { char *name; char *title; PmPair *pairs; guint n_pairs; /* places */ PmSpot spot; } PmPosition;
typedef struct {
  char       *name;              /* "S1", "INSIDE" for a drive's jumper */
  char       *title;             /* "Start from"; falls back to the name */
  guint       instance;
  PmOwner     owner; guint owner_index;
  PmPosition *positions; guint n_positions;
  guint       usual;             /* the position the file puts it in */
  gboolean    stated;            /* FALSE: set once and the file does not say where */
  gboolean    any;               /* jumper="any": every position is tried like a setting */
  PmMoved     moved;
  PmContacts  contacts;
  PmLook      look;
  gboolean    while_running;
  guint32     mating;            /* the removable mating of its lead, or PM_NONE */
  PmSpot      spot;
} PmSwitch;

typedef enum { PM_SUPPLY_HOST, PM_SUPPLY_BOARD, PM_SUPPLY_DRIVE } PmSupplyOwner;
typedef struct {
  char *name;
  char *title;
  PmSupplyOwner owner;
  guint owner_index;
  PmSpot spot;
} PmSupply; /* switched as one */
typedef struct {
  char    *name;                 /* "+5V" */
  double   volts, tolerance;
  guint    supply;               /* index of PmSupply */
  guint32 *places; guint n_places;
  double   limit, surge;         /* amperes, NAN */
  PmSpot   spot;
} PmRail;

typedef enum {
  PM_LINE_DRIVES_NOTHING,
  PM_LINE_PUSH_PULL,
  PM_LINE_OPEN_COLLECTOR,
  PM_LINE_THREE_STATE,
  PM_LINE_WEAK
} PmLineDrive;
typedef enum { PM_REST_WEAK_HIGH, PM_REST_HIGH, PM_REST_LOW, PM_REST_OFF } PmRest;
typedef struct {
  char           *name, *does;   /* "SEL0"; "select", "motor", "ready", "change", "identity", "reset", "address", ... */
  int             unit;          /* -1 = none */
  gboolean        asserted_low;
  PmLineDrive     drives;
  gboolean        reads;         /* the host listens: reads="TTL" or "CMOS" */
  const PmFamily *family;        /* of the driver or receiver */
  PmRest          in_reset;      gboolean in_reset_stated;
  gboolean        latched_select;/* latched="select" */
  gboolean        at_power_on;   /* reset: asserted at power on */
  gboolean        assumed;
  guint32         place;
  PmSpot          spot;
} PmLine;

typedef struct { guint line; gboolean high; } PmUnitLevel;
typedef struct {
  guint        number;
  char        *name;             /* "SEL0", or "select 2" */
  PmUnitLevel *levels; guint n_levels;   /* every line that says something of this unit */
  char       **needs;            /* NULL-terminated: "ready", "identity"; or NULL */
  PmSpot       spot;
} PmUnit;

/* "never" of a host: units that it does not turn on at the same time, or "idle". */
typedef struct { guint *units; guint n_units; gboolean idle; char *because; PmSpot spot; } PmHostNever;

typedef struct {
  char        *name, *title, *about;
  PmLine      *lines;  guint n_lines;
  PmUnit      *units;  guint n_units;      /* in order of number */
  PmHostNever *nevers; guint n_nevers;
  gboolean always_one; /* no idle state: one unit is always on; idle means unit 0's levels are not special */
  PmSpot       spot;
} PmHost;

typedef struct { guint32 place; gboolean high; } PmWhen;
typedef struct { PmWhen *whens; guint n_whens; PmSpot spot; } PmAnswers;   /* all together */
typedef struct { char *does; guint32 place; gboolean asserted_high; PmSpot spot; } PmNeeds;
typedef enum { PM_AS_OPEN_COLLECTOR, PM_AS_PUSH_PULL, PM_AS_THREE_STATE } PmAs;
typedef enum { PM_WHILE_ANSWERING, PM_WHILE_ALWAYS } PmWhile;
/* gives: while answering (or always) the drive's own state, either value, is on place; otherwise off.
 * held: with PM_WHILE_ALWAYS and holds="low|high" the drive holds that level whether it answers or not. */
typedef struct {
  char *does;
  guint32 place;
  PmAs as;
  PmWhile while_;
  gboolean asserted_high;
  int holds; /* -1, 0, 1 */
  PmSpot spot;
} PmGives;
typedef struct {
  char      *name, *title;
  char      *kind;               /* "drive-34-way" */
  guint      instance;           /* its pins */
  guint32    jumper;             /* index of PmSwitch, or PM_NONE */
  guint      supply;             /* index of PmSupply */
  guint32    into;               /* instance it is plugged into, or PM_NONE */
  PmAnswers *answers; guint n_answers;     /* any of them */
  PmNeeds   *needs;   guint n_needs;
  PmGives *gives;
  guint n_gives;                 /* place PM_NONE: without a pin, e.g. identity on a wire the file does not draw */
  const PmFamily *family;        /* of its receivers */
  gboolean   assumed;
  PmSpot     spot;
} PmDrive;

typedef enum { PM_WANT_NOT_STATED, PM_WANT_DRIVE, PM_WANT_NOTHING, PM_WANT_ANY } PmWant;
typedef struct { PmWant want; guint drive; } PmWantCell;
typedef struct {
  int        *positions;         /* [n_switches] position, or -1 = any */
  guint32     removed;           /* "S1 removed": a switch, or PM_NONE */
  PmWantCell *units;             /* [host.n_units] */
  char      **without;           /* side lines that need not follow; NULL-terminated or NULL */
  char       *text;              /* setting as written */
  PmSpot      spot;
} PmWanted;
typedef struct { int *positions; char *because; PmSpot spot; } PmNever;
typedef struct { char *finding, *at, *why; PmSpot spot; } PmAccept;

typedef struct {
  char        *path;             /* as given */
  char        *title, *revision, *about;
  char *hash; /* 8 hex digits of SHA-256 over the packed form: board, host, drives, parts and families used */
  GPtrArray   *files;            /* char*: every file read, full paths, the board first: what a window watches */
  PmInstance  *instances; guint n_instances;
  guint32      n_places;
  PmJoin      *joins;     guint n_joins;
  PmMating    *matings;   guint n_matings;
  PmSwitch    *switches;  guint n_switches;
  PmSupply    *supplies;  guint n_supplies;
  PmRail      *rails;     guint n_rails;
  PmHost       host;
  PmDrive     *drives;    guint n_drives;
  PmWanted    *wanted;    guint n_wanted;
  PmNever     *nevers;    guint n_nevers;
  PmAccept    *accepts;   guint n_accepts;
  PmLibrary   *library;          /* borrowed: the one it was read with, which must outlive the board */
  gboolean     has_board;        /* it sits somewhere; FALSE: jumpers and cables only */
  guint32      socket, plug;     /* instances X1 and P1 of <sits>, or PM_NONE */
} PmBoard;

/* Reads the board at path and all it names.  Faults are appended, several in one go.  NULL if there was any. Never
 * writes, never waits for a network. */
PmBoard    *pm_board_load      (const char *path, PmLibrary *library, PmFaults *faults);
/* The same from text that is being edited; path is used for names and for looking beside it. */
PmBoard    *pm_board_load_text (const char *path, const char *text, gsize length, PmLibrary *library, PmFaults *faults);
void        pm_board_free      (PmBoard *board);
/* "U1.S", by name where the pin has one. Free with g_free. */
char       *pm_board_place_name(const PmBoard *board, guint32 place);
guint       pm_board_instance_of (const PmBoard *board, guint32 place);
/* TRUE if path is one of the files the board was read from, under whatever name: nothing else may be written there. */
gboolean pm_board_reads (const PmBoard *board, const char *path);
/* PM_NONE if there is none. Names as in files: "U1.S", "host.U7.11", "SEL0:chip". */
guint32     pm_board_find_place(const PmBoard *board, const char *name);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmBoard, pm_board_free)
G_END_DECLS
