/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An entry for a price, with or without breaks; why it cannot be read stands below it, and what was typed is kept. */
#pragma once
#include "pm-prices.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_PRICE_ENTRY (pm_price_entry_get_type ())
G_DECLARE_FINAL_TYPE (PmPriceEntry, pm_price_entry, PM, PRICE_ENTRY, GtkBox)

/* Signal "given": a price that could be read was typed, another than before. */
/* label: what it is the price of, for screen readers.  breaks: whether there may be any. */
GtkWidget    *pm_price_entry_new        (const char *label, gboolean breaks);
/* NULL or empty: none. */
void          pm_price_entry_set_breaks (PmPriceEntry *self, const GArray *breaks);
const GArray *pm_price_entry_get_breaks (PmPriceEntry *self);
/* The same for an entry without breaks; 0 stands empty. */
void          pm_price_entry_set_amount (PmPriceEntry *self, gint64 hundredths);
gint64        pm_price_entry_get_amount (PmPriceEntry *self);
GtkWidget    *pm_price_entry_get_entry  (PmPriceEntry *self);
G_END_DECLS
