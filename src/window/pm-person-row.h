/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One person of a group order: what they get, what they owe, what has been done. */
#pragma once
#include "pm-order.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_PERSON_ROW (pm_person_row_get_type ())
G_DECLARE_FINAL_TYPE (PmPersonRow, pm_person_row, PM, PERSON_ROW, GtkBox)

/* Signals "edited" (field, as "name"): somebody changed it; "remove". */
GtkWidget *pm_person_row_new       (void);
void       pm_person_row_show      (PmPersonRow *self, const PmOrderPerson *person);
/* What stands in it, into a person. */
void       pm_person_row_store     (PmPersonRow *self, PmOrderPerson *person);
void       pm_person_row_set_share (PmPersonRow *self, const PmOrderShare *share);
gboolean   pm_person_row_focus     (PmPersonRow *self);
G_END_DECLS
