/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The interposer's or connector's pins at true scale: what becomes of each, seen from above or, mirrored, from the
 * solder side.
 *
 * One length unit is a millimetre times the scale given; words are set at the size of the style's font and stand beside
 * the pins, fanned out where the pitch is too narrow for them.  A board that sits nowhere has no map.  What the pins
 * are and do is pm-pins.h's.
 */
#pragma once
#include "pm-pins.h"
#include "pm-style.h"

G_BEGIN_DECLS

typedef struct _PmPinMap PmPinMap;

/* What stands beside a pin: everything; all but where a re-routed one goes; its line only, where there is little room.
 */
typedef enum { PM_MAP_WORDS_ALL, PM_MAP_WORDS_FATES, PM_MAP_WORDS_LINES, PM_N_MAP_WORDS } PmMapWords;

/* NULL if the board sits nowhere.  check must outlive it. */
PmPinMap        *pm_pin_map_new      (const PmCheck *check);
void             pm_pin_map_free     (PmPinMap *map);
const PmPins    *pm_pin_map_pins     (const PmPinMap *map);
/* Usually all. */
void             pm_pin_map_set_words(PmPinMap *map, PmMapWords words);
guint            pm_pin_map_n_pins   (const PmPinMap *map);
const PmPinFact *pm_pin_map_pin      (const PmPinMap *map, guint index);
/* Sentences on what happens when it is put in turned round, and when it is built mirrored; the worst first.
 * NULL-terminated; borrowed. */
const char * const *pm_pin_map_warnings (const PmPinMap *map);
/* User units that the picture takes at this scale, its words and the scale bar in it; the same for every case and both
 * sides.  scale: user units per millimetre (72 / 25.4 on paper for 1:1). */
void             pm_pin_map_measure  (const PmPinMap *map, const PmStyle *style, PangoContext *context, double scale,
                                      double *width, double *height);
/* At 0,0; does not paint the ground.  pointed: pin or -1.  With a scale bar of 50 mm where bar is TRUE. */
void             pm_pin_map_draw     (const PmPinMap *map, cairo_t *cr, const PmStyle *style, PangoContext *context,
                                      double scale, gboolean solder_side, guint case_index, int pointed, gboolean bar);
/* The largest scale from least to most at which the picture is no wider than width, and its height then, both without a
 * scale bar; -1 where it is too wide even at the least. */
double           pm_pin_map_fit      (const PmPinMap *map, const PmStyle *style, PangoContext *context, double width,
                                      double least, double most, double *height);
/* Where the words of each pin are, for focus rings, and the pins' cells: [n_pins] each; either may be NULL. */
void             pm_pin_map_areas    (const PmPinMap *map, const PmStyle *style, PangoContext *context, double scale,
                                      gboolean solder_side, PmRect *words, PmRect *pins);
/* Pin at x,y, or -1. */
int              pm_pin_map_at       (const PmPinMap *map, const PmStyle *style, PangoContext *context, double scale,
                                      gboolean solder_side, double x, double y);
/* Words over words, lines or marks, lines over lines, pins out of place: for tests. */
char           **pm_pin_map_check    (const PmPinMap *map, const PmStyle *style, PangoContext *context, double scale);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmPinMap, pm_pin_map_free)
G_END_DECLS
