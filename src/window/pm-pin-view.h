/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pin map on the screen, as large as its width has room for, with one focusable child per pin. */
#pragma once
#include "pm-pin-map.h"
#include "pm-study.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_PIN_VIEW (pm_pin_view_get_type ())
G_DECLARE_FINAL_TYPE (PmPinView, pm_pin_view, PM, PIN_VIEW, GtkWidget)

/* Signal "chosen": another pin is looked at (by focus, click or choice). */
/* study may be NULL, or its board sit nowhere: nothing is drawn. */
void            pm_pin_view_set_study   (PmPinView *self, PmStudy *study);
/* Which case is told, and from which side. */
void            pm_pin_view_show        (PmPinView *self, guint case_index, gboolean solder_side);
/* NULL where there is none.  Borrowed. */
const PmPinMap *pm_pin_view_get_map     (PmPinView *self);
/* The pin that is looked at, or -1. */
int             pm_pin_view_get_chosen  (PmPinView *self);
void            pm_pin_view_set_chosen  (PmPinView *self, int pin);
/* Puts the focus on the pin that is looked at.  FALSE without a map. */
gboolean        pm_pin_view_focus_chosen(PmPinView *self);
G_END_DECLS
