/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the pin map share: its geometry for one style, scale, side and case.  For pm-pin-map*.c only. */
#pragma once
#include "pm-pin-map.h"

G_BEGIN_DECLS

struct _PmPinMap {
  PmPins    *pins;           /* owned */
  PmMapWords words;
};

typedef struct { double x, y; } PmMapPoint;

/* A pin as it is drawn: a level piece out of the pin, a slanting one, a level one before its words. */
typedef struct {
  PmMapPoint at;             /* centre of the pin */
  int        side;           /* where its words stand: -1 left, 1 right */
  PmMapPoint leader[4];
  PmRect     row;            /* all its words */
} PmMapSpot;

typedef struct {
  PangoLayout *layout;       /* owned */
  PmRect       area;
  int          pin;          /* or -1 */
  gboolean     faint;
} PmMapWord;

typedef struct {
  double     width, height;
  double     em, scale, thin, row_height;
  PmRect     body;           /* outline of chip or connector */
  gboolean   solder_side;
  PmMapSpot *spots;          /* [n_pins] */
  GArray    *words;          /* PmMapWord */
  double     bar_x, bar_y;   /* left end of the scale bar */
} PmMapLayout;

/* Radius of the largest mark of a pin, and half of its cell, in millimetres. */
#define PM_MAP_MARK 1.05
#define PM_MAP_BAR_MM 50

PmMapLayout *pm_map_layout_new  (const PmPinMap *map, const PmStyle *style, PangoContext *context, double scale,
                                 gboolean solder_side, guint case_index, gboolean bar);
void         pm_map_layout_free (PmMapLayout *layout);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmMapLayout, pm_map_layout_free)
G_END_DECLS
