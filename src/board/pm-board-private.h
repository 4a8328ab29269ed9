/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A board while it is put together from its files.  For the readers of this folder only.
 *
 * Order of work: all instances first (so that every place has its number), then rails, joins and matings of host,
 * drives and cables, then where the board sits, then the board's own joins, then lines, switches and what is
 * wanted.  Nets are kept while this goes on, for everything but the board's own joins: they tell where a line of the
 * host passes.
 */
#pragma once
#include "pm-board.h"
#include "pm-library-private.h"

G_BEGIN_DECLS

/* What pm_board_load hands out, with what only this folder sees. */
typedef struct {
  PmBoard     board;       /* first */
  GHashTable *own;         /* parts and families defined inside the board file */
  GPtrArray  *own_parts;   /* PmPart: of drives, cables, rails */
  GHashTable *sides;       /* "SEL0:chip" -> place + 1 */
} PmBoardFull;

/* Names are looked up from inside one file: of the board, the host, or one drive. */
typedef struct {
  const char  *prefix;     /* "", "host.", "INSIDE." */
  PmOwner      owner;
  guint        owner_index;
  guint32      self;       /* a drive's own instance, whose pins need no part; else PM_NONE */
  const PmXml *root;
} PmContext;

/* An instance with the element that made it. */
typedef struct {
  PmInstance   instance;
  const PmXml *element;
  guint        n_outer;    /* pins that meet others when plugged; a drive has inner ones beside */
} PmRaw;

typedef struct { const PmXml *element; const PmXml *kind; guint32 instance; char *prefix; } PmRawDrive;
/* One end of a cable: which conductor each pin of the connector meets, PM_NONE for none. */
typedef struct { const PmXml *element; guint32 at; guint32 *conductors; guint n_pins; } PmCableEnd;
typedef struct { const PmXml *element; guint32 instance; PmCableEnd *ends; guint n_ends; } PmRawCable;

typedef struct {
  PmBoardFull *full;
  PmBoard     *board;      /* &full->board */
  PmScope      scope;
  PmFaults    *faults;
  const PmXml *root;       /* of the board */
  const PmXml *host;       /* definition, or NULL */
  const PmXml *setup;      /* or NULL */
  const PmXml *sits;       /* or NULL */
  PmContext    board_context, host_context;
  PmContext    setup_context; /* as the board's, with the lists of the setup */

  GArray      *raws;       /* PmRaw, in the order of the board's instances */
  GArray      *joins, *matings, *switches, *supplies, *rails;  /* as in PmBoard */
  GArray      *raw_drives; /* PmRawDrive */
  GArray      *raw_cables; /* PmRawCable */
  GHashTable  *refs;       /* ref -> instance + 1 */
  GHashTable  *spots;      /* place name of a host ("internal") -> instance + 1 */
  GHashTable  *broken;     /* refs whose part was not found: silent from then on */
  gboolean     lost_switch; /* one of the broken ones has positions */
  GHashTable  *told;       /* names already told to be missing */

  GHashTable  *join_names; /* root of a file -> (name -> join element) */
  GHashTable  *join_places; /* prefix and name -> place */
  GArray      *nets;       /* guint32 per place: union-find */
  GArray      *named;      /* guint32 per place: named join + 1 */
  GArray      *stamps;     /* guint32 per place: the last list it was met in */
  guint32      stamp;
  GByteArray  *mentioned;  /* per place: the files join it */
  guint32      sits_first; /* raw index of X1; P1 follows; PM_NONE without */
  guint32     *machine;    /* per pin of X1: the place on the machine's side that P1's pin meets, or PM_NONE */
  guint        n_machine;
  gboolean     in_cable;   /* the sides are machine and drive */
} PmBuild;

/* pm-board-read.c */
void        pm_build_instances  (PmBuild *build);
/* Appends one while joins are resolved: a rail without a pin. */
guint32     pm_build_add_raw    (PmBuild *build, const char *ref, const PmPart *part, PmOwner owner, guint owner_index,
                                 PmSpot spot);
const PmRaw *pm_build_raw       (const PmBuild *build, guint32 instance);
PmPart     *pm_build_new_part   (PmBuild *build, const char *name, PmPartType type, guint n_pins);
gboolean    pm_is_name          (const char *name);

/* pm-pins.c */
/* Instance of a name seen from a context; PM_NONE if there is none (*broken tells that its fault is told already). */
guint32     pm_build_find       (PmBuild *build, const PmContext *context, const char *ref, gboolean *broken,
                                 const char **also);
/* Appends the places of one word; FALSE after a fault (or where its part is broken).  *net: it named a rail or join. */
gboolean    pm_build_word       (PmBuild *build, const PmContext *context, const char *word, PmSpot spot,
                                 GArray *places, const char **net);
/* A word that must be one place; PM_NONE after a fault. */
guint32     pm_build_place      (PmBuild *build, const PmContext *context, const char *word, PmSpot spot);
/* Numbers of pins (from 1) of "10..16 20 odd"; names as the instance has them; FALSE after a fault. Appends pin
 * indices. */
gboolean    pm_build_pins       (PmBuild *build, guint32 instance, const char *spec, PmSpot spot, GArray *pins);
char       *pm_part_pins_text   (const PmPart *part);
char       *pm_build_place_name (const PmBuild *build, guint32 place);
/* Instance that something is plugged into; PM_NONE after a fault.  *end: number of the cable's end, from 1, or 0. */
guint32     pm_build_into       (PmBuild *build, const PmContext *context, const char *word, PmSpot spot, guint *end);

/* pm-board-resolve.c */
void        pm_build_grow       (PmBuild *build);
guint32     pm_net_of           (PmBuild *build, guint32 place);
void        pm_net_unite        (PmBuild *build, guint32 a, guint32 b);
void        pm_build_add_join   (PmBuild *build, PmJoinKind kind, const char *name, const guint32 *places, guint n,
                                 const PmContext *context, PmSpot spot);
void        pm_build_joins      (PmBuild *build, const PmContext *context);
void        pm_build_supplies   (PmBuild *build);
/* Index of the mating, or PM_NONE after a fault. pairs are taken over. */
guint32     pm_build_mate       (PmBuild *build, guint32 a, guint32 b, PmPair *pairs, guint n_pairs,
                                 const PmXml *element, PmMatingWhen when);
/* Pin by pin. */
guint32     pm_build_mate_all   (PmBuild *build, guint32 a, guint32 b, const PmXml *element, PmMatingWhen when);
void        pm_build_plugs      (PmBuild *build, const PmContext *context);

/* pm-rails.c */
void        pm_build_rails      (PmBuild *build);
/* Place of a rail seen from a context; PM_NONE if there is none of that name. */
guint32     pm_build_rail       (PmBuild *build, const PmContext *context, const char *name, const char **full_name);
char       *pm_build_rail_names (PmBuild *build, const PmContext *context);

/* pm-sits.c */
void        pm_build_sits       (PmBuild *build);
/* Pin of X1 and P1 at which a place's net passes, PM_NONE if none; *more is set if there are several. */
guint32     pm_build_passes     (PmBuild *build, guint32 place, gboolean *more);

/* pm-cable.c */
guint       pm_cable_size       (PmBuild *build, const PmXml *cable, guint first_pins);
void        pm_build_cables     (PmBuild *build);

/* pm-host.c, pm-drive.c */
void        pm_build_lines      (PmBuild *build);
guint32     pm_host_line        (const PmHost *host, const char *name);
void        pm_build_drives     (PmBuild *build);
PmPart     *pm_drive_part       (PmBuild *build, const PmXml *kind, const char *name, guint *n_outer);
/* Faults inside a kind of drive are told once: for a second drive of a kind build->faults is replaced by a list to be
 * thrown away, which is returned. */
PmFaults   *pm_drive_silence    (PmBuild *build, guint index);
void        pm_check_plugged    (PmBuild *build);
PmContext   pm_drive_context    (const PmBuild *build, guint drive);

/* pm-switch.c */
void        pm_build_switches   (PmBuild *build);

/* pm-settings.c */
void        pm_build_settings   (PmBuild *build);
G_END_DECLS
