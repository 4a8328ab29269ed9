/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A check made by hand: so many selects and drives, cells set one by one.  Drives every mark without any board file. */
#pragma once
#include "pm-check.h"
#include <pango/pangocairo.h>

G_BEGIN_DECLS
typedef struct {
  PmBoard board;
  PmCheck check;
} Fake;

/* Titles: "Larkspur 40"; drives Inside, Outside, Third, ...; one case "without the board", in which select n reaches
 * drive n; then settings that reach nothing.  wanted is not stated. */
Fake *fake_new   (guint n_units, guint n_drives, guint n_settings);
void  fake_free  (Fake *fake);
void  fake_cell  (Fake *fake, guint case_index, guint unit, guint drive, PmAnswer answer, const char *on);
void  fake_mark  (Fake *fake, guint case_index, guint drive, PmDriveMark mark);
void  fake_want  (Fake *fake, guint case_index, guint unit, guint drive);
void  fake_side  (Fake *fake, guint case_index, guint drive, PmSide side, const char *does, const char *text);
void  fake_titles(Fake *fake, const char *host, const char *board, const char *const *drives);
/* A switch with positions of these names, separated by "|"; pairs: 3 pins for two, else two pins a position.  Free
 * with fake_switch_free. */
PmSwitch *fake_switch      (PmLook look, const char *names);
void      fake_switch_free (PmSwitch *sw);
/* A context at 96 dots an inch.  New reference. */
PangoContext *fake_context (void);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Fake, fake_free)
G_END_DECLS
