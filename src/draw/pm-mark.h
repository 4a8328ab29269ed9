/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small marks that stand in pictures, lists and on paper: STOP, CARE, note, tick, cross, lamps, ends of lines.
 *
 * All are drawn in ink on the style's ground, told by shape; none by colour.  Sizes in pixels, positions are centres
 * unless said otherwise.
 */
#pragma once
#include "pm-check.h"
#include "pm-style.h"

G_BEGIN_DECLS

typedef enum { PM_LAMP_EMPTY, PM_LAMP_FULL, PM_LAMP_HALF, PM_LAMP_HATCHED, PM_N_LAMPS } PmLamp;

/* STOP: black octagon, CARE: framed word, note: plain word.  All three are equally wide and high, so that lists stand
 * straight. */
void   pm_mark_severity_measure (const PmStyle *style, PangoContext *context, double *width, double *height);
/* x,y: upper left corner. */
void   pm_mark_severity_draw    (PmSeverity severity, const PmStyle *style, PangoContext *context, cairo_t *cr,
                                 double x, double y);
/* Translated: "STOP", "CARE", "note". */
const char *pm_mark_severity_word (PmSeverity severity);

/* size: width of the mark. */
void   pm_mark_tick_draw  (const PmStyle *style, cairo_t *cr, double x, double y, double size);
void   pm_mark_cross_draw (const PmStyle *style, cairo_t *cr, double x, double y, double size);
/* A question mark in a circle: not certain, not judged. */
void   pm_mark_doubt_draw (const PmStyle *style, PangoContext *context, cairo_t *cr, double x, double y, double size);
void   pm_mark_lamp_draw  (PmLamp lamp, const PmStyle *style, cairo_t *cr, double x, double y, double radius);
PmLamp pm_mark_lamp       (PmDriveMark mark);
/* Translated, for text twins and keys: "full: some select reaches it". */
const char *pm_mark_lamp_words (PmLamp lamp);
/* The end mark of a unit's line in its colour; size: its width. */
void   pm_mark_end_draw   (guint unit, const PmStyle *style, cairo_t *cr, double x, double y, double size);
/* A piece of a unit's line from x,y to the right, with its end marks when wanted: for tables and keys. */
void   pm_mark_line_draw  (guint unit, const PmStyle *style, PangoContext *context, cairo_t *cr, double x, double y,
                           double length, gboolean ends);
G_END_DECLS
