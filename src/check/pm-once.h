/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Other places of what is set once: a place works only if it works in every setting of the switches moved by hand. */
#pragma once
#include "pm-raw.h"

G_BEGIN_DECLS
/* "works", or why the place of case i must not be used and in which setting; g_free.  The trial looked at the usual
 * setting; the others are looked at here, up to the first in which it fails.  Not decided when cancelled. */
char *pm_once_text (const PmCheck *check, const PmTrial *trial, guint i, GCancellable *cancellable);
G_END_DECLS
