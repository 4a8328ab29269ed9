/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Preferred numbers for resistors and capacitors: IEC 60063, series E6, E12, E24. */
#pragma once
#include <glib.h>

G_BEGIN_DECLS
/* The two figures of the nth value of E24, 10 to 91; n below 24.  E12 is every other of these, E6 every fourth. */
guint    pm_preferred_figures (guint n);
/* value: above 0.  TRUE if it is a value of E24 in any decade. */
gboolean pm_preferred_is      (double value);
/* The values of E24 next below and next above, equal to value if it is one. */
void     pm_preferred_near    (double value, double *below, double *above);
G_END_DECLS
