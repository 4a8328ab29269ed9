/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Placing boxes in layers by signal flow and running wires between them, level and upright, in channels.
 *
 * Pure geometry on an integer grid: no cairo, no names.  A BOX has PORTS on its edges; a NET joins ports.  Boxes are
 * set in layers from left to right by flow, ordered in each layer so that few wires cross, then moved so that wires run
 * straight; wires run in the channels between layers on tracks of their own.  Same input, same result; the order of
 * boxes and nets given decides all ties, so a small change of the input moves little.
 *
 * Methods: layers, dummy boxes and ordering by Sugiyama, Tagawa, Toda (1981) with the transposition of Gansner,
 * Koutsofios, North, Vo (1993) carried on as Matuszewski, Schoenfeld, Molitor (1999) sift; cycles broken as Eades, Lin,
 * Smyth (1993); tracks in channels by the left edge rule of
 * Hashimoto, Stevens (1971).  The .c files name what each uses.
 */
#pragma once
#include <glib.h>

G_BEGIN_DECLS

typedef enum { PM_EDGE_LEFT, PM_EDGE_RIGHT, PM_EDGE_TOP, PM_EDGE_BOTTOM } PmEdge;
typedef enum { PM_FLOW_NONE, PM_FLOW_IN, PM_FLOW_OUT, PM_FLOW_BOTH } PmFlow;

/* at: grid units from the box's top (left and right edges) or left (top and bottom edges).  Ports of a box on one edge
 * are at different places.  A port without a net (PM_LAYOUT_NONE) keeps its place clear of wires. */
typedef struct { PmEdge edge; int at; PmFlow flow; guint net; } PmLayoutPort;
#define PM_LAYOUT_NONE G_MAXUINT

typedef enum {
  PM_BAND_FLOW,       /* where its wires want it */
  PM_BAND_FIRST,      /* at the left: the machine */
  PM_BAND_LAST,       /* at the right: drives */
  PM_BAND_FOOT        /* in rows below everything, in the order given: spare sections, capacitors at the supply */
} PmBand;

/* The size is that of the symbol that wires must keep out of; the space around it for words (reference, value, pin
 * numbers) is kept clear of other boxes and of wires, but for the wires of its own ports, which leave straight through
 * it. */
typedef struct {
  int           width, height;                      /* at least 1 */
  int           left, right, top, bottom;           /* space for words around */
  PmBand        band;
  guint         group;         /* boxes of one group are kept near each other in the order given; PM_LAYOUT_NONE */
  PmLayoutPort *ports; guint n_ports;
} PmLayoutBox;

/* A word to stand on a wire (above a level piece, or beside an upright one): size in grid units, 0 = none. */
typedef struct { int width, height; } PmLayoutNet;

typedef struct {
  PmLayoutBox *boxes; guint n_boxes;
  PmLayoutNet *nets;  guint n_nets;
} PmLayoutInput;

typedef struct { int x, y; } PmLayoutPoint;
/* Level or upright, x1 <= x2, y1 <= y2, not a point. */
typedef struct { int x1, y1, x2, y2; guint net; } PmLayoutSegment;
typedef struct { int x, y, width, height; } PmLayoutArea;

/* Everything lies at 0 or more in x and y. */
typedef struct {
  int              width, height;
  PmLayoutPoint   *boxes;                           /* [n_boxes] upper left corner of the symbol, words not counted */
  PmLayoutSegment *segments; guint n_segments;      /* in order of net; pieces of one net touch only at ends */
  PmLayoutPoint   *joints;   guint n_joints;        /* filled points: where three or more ends of one net meet */
  guint           *joint_nets;                      /* [n_joints] */
  PmLayoutArea    *labels;                          /* [n_nets]; width 0: no room was found, or none wanted */
  guint            n_crossings, n_bends;
  guint            n_layers;
} PmLayout;

/* input is only read.  Never NULL. */
PmLayout *pm_layout_new   (const PmLayoutInput *input);
void      pm_layout_free  (PmLayout *layout);
/* The checker, written apart from the maker and slow: problems, one a line, empty when clean.  Boxes or words that
 * overlap, a wire through a symbol, through words or a label, two nets on one piece or touching, a crossing that is no
 * clean cross, a net that does not join its ports, pieces that join nothing, a joint without three ends or ends without
 * a joint, a bend that can be left out by moving one piece within free space, something out of bounds, counts that are
 * wrong.  NULL-terminated, g_strfreev. */
char    **pm_layout_check (const PmLayoutInput *input, const PmLayout *layout);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmLayout, pm_layout_free)
G_END_DECLS
