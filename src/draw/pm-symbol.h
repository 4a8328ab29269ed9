/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Symbols of the wiring diagram: what a section of a chip looks like, and paths from a table, crisp at any scale.
 *
 * The shape of a logic section is decided from its function table, not from its type.  Distinctive shapes as in IEEE
 * Std 91, qualifying symbols as in its rectangular outlines; both from memory, no ratio of the standard is claimed.
 */
#pragma once
#include "pm-part.h"
#include "pm-style.h"

G_BEGIN_DECLS

typedef enum {
  PM_SYMBOL_BOX,            /* rectangle with a qualifying symbol and names */
  PM_SYMBOL_AND, PM_SYMBOL_OR, PM_SYMBOL_XOR, PM_SYMBOL_BUFFER,
  PM_SYMBOL_RESISTOR, PM_SYMBOL_CAPACITOR, PM_SYMBOL_DIODE, PM_SYMBOL_LED,
  PM_SYMBOL_POLE,           /* of a switch */
  PM_SYMBOL_JUMPER,         /* pins and a block */
  PM_SYMBOL_CONNECTOR, PM_SYMBOL_HOST, PM_SYMBOL_DRIVE,
  PM_N_SYMBOLS
} PmSymbolShape;

typedef struct {
  PmSymbolShape shape;
  gboolean      negated;        /* gates: circle at the output */
  gboolean      open_collector; /* output is low or off */
  gboolean      three_state;
  gboolean      contacts;       /* it joins pins, as a contact does */
  const char   *qualifier;      /* "MUX", "X/Y", "1", "" */
} PmSymbolLook;

/* All tables of the part's sections with this name together. */
PmSymbolLook pm_symbol_of_section (const PmPart *part, const char *section);
gboolean     pm_symbol_is_gate    (PmSymbolShape shape);
/* "AND gate", "resistor": translated, borrowed. */
const char  *pm_symbol_words      (PmSymbolLook look);

/* A new path for the shape's outline in a box; nothing for those that are not in the table.  The first part can be
 * filled.  upright: turned by a quarter, its first end up. */
void pm_symbol_path        (PmSymbolShape shape, cairo_t *cr, double x, double y, double width, double height,
                            gboolean upright);
/* How far the outline lies right of the box's left edge at a gate's inputs, of its width. */
double pm_symbol_inset     (PmSymbolShape shape);
/* Small marks of about size; a path each, to be stroked (circle: filled with the ground too). */
void pm_symbol_circle      (cairo_t *cr, double x, double y, double radius);
/* A diamond with a bar below: the output of an open collector. */
void pm_symbol_open        (cairo_t *cr, double x, double y, double size);
/* A triangle on its point: an output that can be off. */
void pm_symbol_three_state (cairo_t *cr, double x, double y, double size);
/* An edge counts; x,y on the outline, to the inside: direction 1 or -1. */
void pm_symbol_dynamic     (cairo_t *cr, double x, double y, double size, int direction);
/* Both ways: arrow heads at both ends of a short level line. */
void pm_symbol_both_ways   (cairo_t *cr, double x, double y, double size);
/* The bar of a supply above x,y, and the mark of 0 V below it. */
void pm_symbol_supply      (cairo_t *cr, double x, double y, double size);
void pm_symbol_zero        (cairo_t *cr, double x, double y, double size);
/* A plug's pin on a level wire: half round around a dot. */
void pm_symbol_plug        (cairo_t *cr, double x, double y, double size);
G_END_DECLS
