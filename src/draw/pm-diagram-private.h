/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the wiring diagram share: symbols with pins, nets, words.
 *
 * Order of work: symbols and pins of everything that could be drawn -> nets by what is joined for good -> what is not
 * needed is dropped -> sizes from the words -> layout -> words at their places.
 */
#pragma once
#include "pm-diagram.h"
#include "pm-layout.h"
#include "pm-symbol.h"

#include <math.h>

G_BEGIN_DECLS

#define PM_DIAGRAM_PITCH 2      /* units between pins of a symbol */
#define PM_DIAGRAM_WIDE 3       /* between pins of the machine and of drives: room for a word on the wire */

typedef struct {
  guint32  place;
  guint32  root;                /* of its net: a place that stands for it */
  PmEdge   edge;
  int      at;
  PmFlow   flow;
  guint    net;                 /* index into nets; PM_LAYOUT_NONE: not wired */
  int      rail;                /* index into board->rails, or -1 */
  char    *name;                /* inside, without the slash; or NULL */
  char    *number;              /* outside; or NULL */
  char    *note;                /* machine: its pull-up, "1k ↑"; or NULL */
  gboolean plugged;             /* number is that of a connector in the wire: "J3.2" */
  gboolean negated, dynamic, both_ways, open_collector, three_state;
  guint32  position;            /* drives: of the jumper, PM_NONE */
} PmDiagramPin;

typedef struct {
  PmSymbolLook look;
  guint        instance;
  guint32      sw, drive;       /* PM_NONE */
  gboolean     in_machine, spare, upright;
  char        *section;         /* "1", "a", or NULL */
  char        *reference;       /* "U1.1" */
  char        *value;           /* "74LS157", "10k"; or NULL */
  char        *title;           /* in its head: machine, drive */
  char        *foot;            /* at its lower edge: whose pins they are; or NULL */
  int          width, height;
  int          left, right, top, bottom;
  PmBand       band;
  guint        group;
  int          rails[2];        /* two-ended: at its first and second end, or -1: drawn at the end itself */
  GArray      *pins;            /* PmDiagramPin */
  gboolean     dropped;
  double       numbers[2];      /* pixels that the numbers at the left and right edge take */
  int          x, y;            /* placed, grid units */
  guint        element;
} PmDiagramSymbol;

typedef struct {
  guint32 root;
  char   *name;                 /* for sentences: never NULL */
  char   *label;                /* on the wire, or NULL */
  guint   element;
} PmDiagramNet;

typedef struct {
  PangoLayout *layout;
  double       x, y;            /* where the layout is drawn */
  PmRect       area;            /* of its ink */
  int          symbol;          /* whose word it is, -1: on a wire */
  gboolean     inside, faint;
  guint32      sw;              /* its text is the position of this switch: layout is the longest; PM_NONE */
} PmDiagramWord;

typedef struct {
  double em, unit;
  double number, name, word;    /* text sizes, of the font */
  double line, outline;         /* widths; line is also the step of small gaps: a pixel that grows with the font */
  double flag_width, flag_height;
} PmDiagramMetrics;

struct _PmDiagram {
  const PmCheck *check;
  const PmBoard *board;
  const PmStyle *style;
  PangoContext  *context;
  PmDiagramMetrics m;
  guint32       *roots;         /* [n_places] */
  gint8         *driven;        /* [n_places], by root: something of the machine or a chip drives it */
  int           *rail_of;       /* [n_places], by root: rail or -1 */
  GPtrArray     *symbols;       /* PmDiagramSymbol, dropped ones taken out */
  GArray        *nets;          /* PmDiagramNet */
  PmLayoutInput  input;
  PmLayout      *layout;
  GArray        *words;         /* PmDiagramWord */
  GArray        *elements;      /* PmDiagramElement */
  int           *element_of;    /* [n_places] */
  char          *rest;
  GHashTable    *widths;        /* of words, by text and size: char * to double * */
};

#define PM_DIAGRAM_AT(array, type, i) (&g_array_index ((array), type, (i)))
#define PM_SYMBOL_AT(diagram, i) ((PmDiagramSymbol *) g_ptr_array_index ((diagram)->symbols, (i)))

/* pm-diagram-model.c: symbols with pins, nets, and what is left out. */
void pm_diagram_model     (PmDiagram *diagram);
/* pm-diagram-part.c: symbols of one instance are appended. */
void pm_diagram_add_host  (PmDiagram *diagram);
void pm_diagram_add_drive (PmDiagram *diagram, guint drive);
void pm_diagram_add_part  (PmDiagram *diagram, guint instance);

/* pm-diagram-words.c */
void   pm_diagram_words   (PmDiagram *diagram);   /* all words, after the layout */

/* pm-diagram-size.c */
void   pm_diagram_measure (PmDiagram *diagram);   /* metrics: unit, sizes */
void   pm_diagram_sizes   (PmDiagram *diagram);   /* sizes of symbols, places of their pins, room for words */
double pm_diagram_text_width (const PmDiagram *diagram, const char *text, double size, gboolean bold);
/* The word over or beside a symbol: "U1.1  74LS157".  g_free. */
char  *pm_diagram_caption (const PmDiagramSymbol *symbol);
/* Its caption stands higher, clear of numbers. */
gboolean pm_diagram_rise  (const PmDiagramSymbol *symbol);
/* Room of marks beside a pin's name inside, in pixels. */
double pm_diagram_marks   (const PmDiagram *diagram, const PmDiagramPin *pin);

/* pm-diagram-sentence.c */
void   pm_diagram_sentences (PmDiagram *diagram); /* elements */

/* Where a pin meets its wire, and where its flag stands, in pixels. */
void   pm_diagram_pin_at  (const PmDiagram *diagram, const PmDiagramSymbol *symbol, const PmDiagramPin *pin, double *x,
                           double *y);
PmRect pm_diagram_flag_area (const PmDiagram *diagram, const PmDiagramSymbol *symbol, const PmDiagramPin *pin);
/* The symbol's outline without stubs and circles. */
PmRect pm_diagram_body    (const PmDiagram *diagram, const PmDiagramSymbol *symbol);
PmRect pm_diagram_lamp    (const PmDiagram *diagram, const PmDiagramSymbol *symbol);
/* Position of a switch in a case: -1 = lead off. */
int    pm_diagram_position (const PmDiagram *diagram, guint32 sw, guint case_index);
G_END_DECLS
