/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The wiring diagram of a board: machine at the left, drives at the right, chips by their sections, switches,
 * resistors and supply by the trade's habit.
 *
 * The geometry belongs to the board and stands still; what is shown on it (switches in a setting, flags at pins, what
 * is pointed at) comes with each drawing.  It judges nothing.  Lengths are in units of the style's font: one grid unit
 * is pm_diagram_unit pixels.  Symbols follow the distinctive shapes of IEEE 91, letters IEEE 315.  Same file, same
 * picture, same bytes.
 */
#pragma once
#include "pm-probe.h"
#include "pm-style.h"

G_BEGIN_DECLS

typedef struct _PmDiagram PmDiagram;

typedef enum { PM_DIAGRAM_SYMBOL, PM_DIAGRAM_NET, PM_N_DIAGRAM_KINDS } PmDiagramKind;

/* One thing to look at: becomes a focusable child, and a row of the text twin. */
typedef struct {
  PmDiagramKind kind;
  guint         index;         /* symbol, or net, counted apart */
  PmRect        area;          /* where to draw a focus ring */
  char         *name;          /* "U1 section 1", "choose", "SEL0" */
  char         *sentence;      /* "U1 section 1, 74LS157 selector: S from choose, 1A from SEL0 of the machine, ..." */
  guint32      *places; guint n_places;   /* every pin it has, or that is on the wire */
  guint        *others; guint n_others;   /* elements joined to it: nets of a symbol, symbols of a net */
} PmDiagramElement;

/* What is shown on it. */
typedef struct {
  guint    case_index;         /* positions of the switches */
  PmProbe *probe;              /* set to case and state by the caller: flags at pins, lamps; or NULL for none */
  int      element;            /* pointed at: it and everything on it stand out; or -1 */
  const guint32 *places; guint n_places;  /* of the chosen finding: marked */
} PmDiagramShow;

/* check and style must outlive it.  Never NULL. */
PmDiagram *pm_diagram_new     (const PmCheck *check, const PmStyle *style, PangoContext *context);
void       pm_diagram_free    (PmDiagram *diagram);
void       pm_diagram_size    (const PmDiagram *diagram, double *width, double *height);
double     pm_diagram_unit    (const PmDiagram *diagram);
/* At 0,0 in cr's user space; does not paint the ground.  Scale cr for zoom. */
void       pm_diagram_draw    (const PmDiagram *diagram, cairo_t *cr, const PmDiagramShow *show);
/* In reading order: symbols left to right and top down, then nets. Borrowed. */
guint                   pm_diagram_n_elements (const PmDiagram *diagram);
const PmDiagramElement *pm_diagram_element    (const PmDiagram *diagram, guint index);
/* Index of the element at x,y, within reach pixels, or -1; symbols before nets. */
int        pm_diagram_at      (const PmDiagram *diagram, double x, double y, double reach);
/* The element whose pin, else whose wire, a place is; -1 if it is not drawn. */
int        pm_diagram_of_place(const PmDiagram *diagram, guint32 place);
/* What a sentence says of a net while a probe is set: "SEL0: low.  U1.1A, X1.11, ..."  g_free. */
char      *pm_diagram_now     (const PmDiagram *diagram, guint element, PmProbe *probe);
/* What is not drawn, in words ("24 more pins go straight through."), or NULL.  Borrowed. */
const char *pm_diagram_rest   (const PmDiagram *diagram);
/* Problems of the finished geometry, words of the drawing included, one a line; empty when clean. For tests. */
char     **pm_diagram_check   (const PmDiagram *diagram);
void       pm_diagram_counts  (const PmDiagram *diagram, guint *crossings, guint *bends);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmDiagram, pm_diagram_free)
G_END_DECLS
