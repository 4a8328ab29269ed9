/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prices, in a person's own data and never in a board file.
 *
 * Money is counted in hundredths of whatever money it is: nothing here converts.  A price has breaks: so much each
 * from so many on.
 */
#pragma once
#include <gio/gio.h>

G_BEGIN_DECLS
#define PM_PRICES_ERROR (pm_prices_error_quark ())
GQuark pm_prices_error_quark (void);
typedef enum { PM_PRICES_ERROR_WORDS, PM_PRICES_ERROR_READ } PmPricesError;

/* "0.85", "0,85", "12": at most two digits behind the point, 0 to 10 million.  FALSE leaves *hundredths as it was. */
gboolean  pm_money_parse (const char *text, gint64 *hundredths);
/* "0.85", with the locale's decimal sign.  g_free. */
char     *pm_money_text  (gint64 hundredths);
/* The same with a point, for files and CSV.  g_free. */
char     *pm_money_plain (gint64 hundredths);
/* part of whole: what the i-th of n equal parts is, so that all parts add up to the amount.  n at least 1, i < n. */
gint64    pm_money_share (gint64 amount, guint n, guint i);

/* From so many on, each costs. */
typedef struct { guint from; gint64 each; } PmBreak;
/* "0.85; 10: 0.70; 100: 0.55" to breaks in order of number, the first from 1; "" gives none.  NULL and an error that
 * says what is wrong. */
GArray   *pm_breaks_parse (const char *text, GError **error);
char     *pm_breaks_text  (const GArray *breaks);
/* Each, for a number; -1 where there are no breaks. */
gint64    pm_breaks_each  (const GArray *breaks, guint number);

typedef struct _PmPrices PmPrices;
/* A file that is not there is an empty list of prices. */
PmPrices     *pm_prices_load (const char *path, GError **error);
gboolean      pm_prices_save (const PmPrices *prices, const char *path, GError **error);
void          pm_prices_free (PmPrices *prices);
/* NULL where it has no price.  Borrowed. */
const GArray *pm_prices_get  (const PmPrices *prices, const char *item);
/* breaks: copied; NULL or empty takes the price away. */
void          pm_prices_set  (PmPrices *prices, const char *item, const GArray *breaks);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmPrices, pm_prices_free)
G_END_DECLS
