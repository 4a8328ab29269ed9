/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A switch as the switch it is, with the names of its positions: bat toggle from the front, slide, rotary knob, jumper
 * block on its pins.
 *
 * Geometry for one size and position, drawing, and which position lies under a point.  No GTK: the caller handles
 * keys, focus and clicks.
 */
#pragma once
#include "pm-board.h"
#include "pm-style.h"

G_BEGIN_DECLS

typedef struct _PmSwitchPicture PmSwitchPicture;

/* position: index into sw->positions, or -1: its lead is off, no position is marked.  sw and style must outlive the
 * picture.  Never NULL. */
PmSwitchPicture *pm_switch_picture_new     (const PmSwitch *sw, int position, double width, double height,
                                            const PmStyle *style,
                                            PangoContext *context);
void             pm_switch_picture_free    (PmSwitchPicture *picture);
/* Any pointer may be NULL. */
void             pm_switch_picture_measure (const PmSwitch *sw, const PmStyle *style, PangoContext *context,
                                            double *minimum_width,
                                            double *minimum_height, double *natural_width, double *natural_height);
/* Draws at 0,0; does not paint the ground. */
void             pm_switch_picture_draw    (const PmSwitchPicture *picture, cairo_t *cr);
/* The position whose name or place lies at x,y, or -1. */
int              pm_switch_picture_at      (const PmSwitchPicture *picture, double x, double y);
/* Where a position answers to a click; at least 24 px high where there is room.  Borrowed. */
const PmRect    *pm_switch_picture_area    (const PmSwitchPicture *picture, guint position);
/* Where the focus ring of a position goes: around its name and its sign, off the switch itself. */
PmRect           pm_switch_picture_ring    (const PmSwitchPicture *picture, guint position);
/* "Start from: outside, second of 2 positions." */
char            *pm_switch_picture_sentence(const PmSwitchPicture *picture);
/* As pm_plan_check. */
char           **pm_switch_picture_check   (const PmSwitchPicture *picture);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmSwitchPicture, pm_switch_picture_free)
G_END_DECLS
