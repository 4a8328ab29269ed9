/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One case as a card: title, verdict, track plan, what it changes, side lines. */
#pragma once
#include "pm-choice.h"
#include "pm-plan-view.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_CARD (pm_card_get_type ())
G_DECLARE_FINAL_TYPE (PmCard, pm_card, PM, CARD, GtkBox)

GtkWidget  *pm_card_new          (PmChoice *choice);
/* The case it shows and the one it is compared with.  title: NULL for the case's own. */
void        pm_card_set_case     (PmCard *self, guint case_index, guint compared, const char *title);
/* The thick frame; it takes no room, so the picture stands still. */
void        pm_card_set_chosen   (PmCard *self, gboolean chosen);
PmPlanView *pm_card_get_plan     (PmCard *self);
/* Cards in one row: titles and verdicts take equal room, so that the pictures stand in line. */
void        pm_card_align        (PmCard *self, GtkSizeGroup *heads, GtkSizeGroup *verdicts);
guint       pm_card_get_case     (PmCard *self);
/* "Outside answers SEL0 (was SEL1)" against any other case. Free with g_free. */
char       *pm_card_changed_text (const PmCheck *check, guint case_index, guint compared);
/* The card is going to be so wide. */
void        pm_card_set_width    (PmCard *self, int width);
G_END_DECLS
