/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One mark beside a text: STOP, CARE, note, a tick, a doubt, or nothing at all (then it takes no room). */
#pragma once
#include "pm-mark.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_MARK_VIEW (pm_mark_view_get_type ())
G_DECLARE_FINAL_TYPE (PmMarkView, pm_mark_view, PM, MARK_VIEW, GtkWidget)

typedef enum {
  PM_SHOWS_NOTHING,
  PM_SHOWS_STOP,
  PM_SHOWS_CARE,
  PM_SHOWS_NOTE,
  PM_SHOWS_TICK,
  PM_SHOWS_DOUBT,
  PM_N_SHOWS
} PmShows;

GtkWidget *pm_mark_view_new       (PmShows shows);
void       pm_mark_view_set_shows (PmMarkView *self, PmShows shows);
PmShows    pm_mark_view_get_shows (PmMarkView *self);
/* How much larger than beside ordinary text; 1 at first. */
void       pm_mark_view_set_size  (PmMarkView *self, double size);
PmShows    pm_shows_severity      (PmSeverity severity);
/* What a case deserves: its worst finding's mark, a tick where it is as wanted, else nothing. */
PmShows    pm_shows_case          (const PmCheck *check, guint case_index);
G_END_DECLS
