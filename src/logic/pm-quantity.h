/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities: text with a unit, as people write them.
 *
 * Reads 4k7, 4.7 kΩ, 4,7k, 4700, 4R7, 100n, 0.1 µF, 500 mA, 5.0 ±5 %, 0.8 V, 4.5..5.5 V, 1 m (metre).  Refuses what is
 * ambiguous (1,000: one or a thousand?  "10 M" is mega, but a lone "10 m" for ohms or farads is not plain) with the
 * choices in the message. */
#pragma once
#include <glib.h>

G_BEGIN_DECLS
#define PM_QUANTITY_ERROR (pm_quantity_error_quark ())
GQuark pm_quantity_error_quark (void);
typedef enum {
  PM_QUANTITY_ERROR_SYNTAX,
  PM_QUANTITY_ERROR_UNIT,
  PM_QUANTITY_ERROR_AMBIGUOUS,
  PM_QUANTITY_ERROR_RANGE
} PmQuantityError;

typedef enum {
  PM_UNIT_NONE,
  PM_UNIT_OHM,
  PM_UNIT_FARAD,
  PM_UNIT_VOLT,
  PM_UNIT_AMPERE,
  PM_UNIT_SECOND,
  PM_UNIT_METRE,
  PM_UNIT_HENRY,
  PM_UNIT_WATT,
  PM_N_UNITS
} PmQuantityUnit;
/* tolerance: relative, 0.05 for ±5 %, 0 where none was written.  low and high: for a range 4.5..5.5 V; else value less
 * and plus tolerance. */
typedef struct { double value, tolerance, low, high; PmQuantityUnit unit; } PmQuantity;

/* Reads text as a quantity of the unit wanted (a bare number is taken as that unit). */
gboolean pm_quantity_parse  (const char *text, PmQuantityUnit wanted, PmQuantity *out, GError **error);
/* Shortest exact text in engineering form, with point and unit: "4.7 kΩ". */
char    *pm_quantity_format (double value, PmQuantityUnit unit);
G_END_DECLS
