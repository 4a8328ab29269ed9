/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Routes page as text: every result, then what was also tried in each setting. */
#pragma once
#include "pm-choice.h"
#include <pango/pango.h>

G_BEGIN_DECLS
/* context: any widget's; only for the sentences of the plans.  Free with g_free; "" without a board. */
char *pm_routes_text (PmChoice *choice, PangoContext *context);
/* Jumpers and cables alone: without the board is the same thing, and with one setting there is nothing to compare. */
gboolean pm_routes_are_alone (const PmCheck *check);
G_END_DECLS
