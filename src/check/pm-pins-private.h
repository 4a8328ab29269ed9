/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files about pins share.  For pm-pins*.c only. */
#pragma once
#include "pm-pins.h"

G_BEGIN_DECLS
/* Places of the pins, and whether they can be turned. */
void  pm_pins_lay   (PmPins *pins, const PmPart *part);
/* "12 (SEL1)", "10 (not used)", "7".  g_free. */
char *pm_pins_name  (const PmPins *pins, guint pin);
/* Fills turned, mirrored and the warnings.  rails: [n_pins] index of the machine's rail at a pin, or PM_NONE. */
void  pm_pins_warn  (PmPins *pins, const guint32 *rails);
G_END_DECLS
